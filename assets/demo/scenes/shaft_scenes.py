"""Scenes of shafts: whole in two vee blocks, the synchroniser cone, the needle bore.

Each scene of this and its sister files is a function of a shots.Shot that builds the part
on the bench with a rule beside it and returns a staging.Stage."""

import math

import numpy as np

import flatware
import materials
import meshes
import parts
import placing
import staging
import workshop
from blobs import Blob, scatter
from damage_map import DamageMap, PitStyle
from materials import TURNED


def _cone_damage(shot, surface, px_per_mm):
    """Rust pits gathered round v = 0, where the part is rolled to face the camera."""
    rng = np.random.default_rng(shot.part_seed)
    half = surface.circumference / 2
    damage = DamageMap(0, -half, surface.slant, 2 * half, px_per_mm, shot.part_seed)
    if "rust-pits" not in shot.damage:
        return damage, {}
    bounds = (0.6, surface.slant - 0.6, -14, 12)
    centres = [(surface.slant * 0.40, -5.5), (surface.slant * 0.62, 1.5), (surface.slant * 0.5, 5.0)]
    pits = scatter(rng, 27, bounds, (0.45, 2.5), centres, spread=(2.3, 3.0))
    for pit in pits:
        damage.add_pit(pit, PitStyle())
    return damage, {"rust-pits": pits}


def _add_cone(shot, surface, placement, px_per_mm, quad):
    damage, listed = _cone_damage(shot, surface, px_per_mm)
    # The cone is ground finer than the shaft: it must grip an oily ring.
    finish = materials.Finish(rough=(0.16, 0.28))
    steel = materials.metal("cone", shot.part_seed + 3, shot.stage, TURNED, finish, damage)
    half = surface.circumference / 2
    u = np.linspace(0, surface.slant, int(surface.slant / quad))
    v = np.linspace(-half, half, int(2 * half / quad))
    meshes.add_surface("cone", surface, u, v, damage, steel, placement)
    return listed


def input_shaft(shot):
    """The whole shaft in two vee blocks."""
    design = shot.design
    height = design.gear.tip_radius + 5
    group = placing.turn_z(shot.yaw)
    base = group @ placing.shift(-design.length / 2, 0, height)
    cone = design.cone_surface()
    place = placing.rolled_to_face(cone, cone.slant / 2, 0, base, placing.towards_camera(shot.tilt))
    parts.build_input_shaft(design, place, shot.part_seed, shot.stage, without=("cone",))
    listed = _add_cone(shot, cone, place, 22, 0.11)
    blocks = group @ placing.shift(-design.length / 2, 0, 0)
    workshop.v_block(66, 12, design.seat_radius, height, blocks, shot.seed)
    workshop.v_block(186, 12, design.nose_radius, height, blocks, shot.seed + 1)
    return _shaft_stage(shot, group, place, design.length, design.gear.tip_radius, cone, listed)


def _shaft_stage(shot, group, place, length, reach, cone=None, listed=None):
    """Rule in front of a long part, slip before or beside it, depending on how it lies."""
    rule = flatware.Rule(150, group @ placing.flat(*shot.rule_at, shot.rule_turn), 0.95, shot.seed)
    note = staging.note(shot, *shot.note_at, shot.note_turn, width=80)
    ends = [(x, reach * c, reach * s) for x in (0, 46) for c, s in ((1, 0), (-1, 0), (0, 1), (0, -1))]
    ends += [(length, 12 * c, 12 * s) for c, s in ((1, 0), (-1, 0))]
    body = placing.to_world(place, ends)
    face = None if cone is None else staging.patch(cone, place, 0, cone.slant, -20, 20)
    return staging.Stage(
        frame=np.concatenate([body, rule.corners(), note]), rule=rule, face=face, surface=cone, placement=place,
        focus=placing.to_world(place, [(length * 0.4, 0, 0)])[0], damage=listed or {},
    )  # fmt: skip


def cone_close(shot):
    """The cone from close by, a rule on a block level with its crest."""
    design = shot.design
    height = design.gear.tip_radius + 5
    base = placing.turn_z(shot.yaw) @ placing.shift(-8, 0, height)
    cone = design.cone_surface()
    place = placing.rolled_to_face(cone, cone.slant / 2, 0, base, placing.towards_camera(shot.tilt))
    parts.build_input_shaft(design, place, shot.part_seed, shot.stage, without=("cone",))
    listed = _add_cone(shot, cone, place, 28, 0.07)
    blocks = placing.turn_z(shot.yaw) @ placing.shift(-8, 0, 0)
    workshop.v_block(66, 12, design.seat_radius, height, blocks, shot.seed)
    crest = height + cone.mean_radius
    front = -design.gear.tip_radius - 5
    workshop.wood_block((-60, front - 24, 0), (70, front, crest - 0.95), placing.turn_z(shot.yaw * 0.6), shot.seed + 2)
    rule = flatware.Rule(100, placing.flat(-42, front - 15, shot.yaw * 0.6 + 1.2), crest, shot.seed, width=13)
    face = staging.patch(cone, place, 0, cone.slant, -18, 18)
    return staging.Stage(
        frame=np.concatenate([staging.patch(cone, place, -3, cone.slant + 18, -20, 32), rule.graduation([24, 72])]),
        rule=rule, face=face, surface=cone, placement=place, damage=listed,
        focus=placing.to_world(place, cone.points(np.array([cone.slant / 2]), np.array([0.0])))[0],
    )  # fmt: skip


def main_shaft(shot):
    height = 30
    group = placing.turn_z(shot.yaw)
    place = group @ placing.shift(-129, 0, height) @ placing.roll_x(35)
    parts.build_main_shaft(place, shot.part_seed, shot.stage)
    blocks = group @ placing.shift(-129, 0, 0)
    workshop.v_block(64, 12, 16.6, height, blocks, shot.seed)
    workshop.v_block(184, 12, 15.6, height, blocks, shot.seed + 1)
    return _shaft_stage(shot, group, place, 258, 20)


def bore_close(shot):
    """The shaft stood on end, looking into the needle bore: dents at the pitch of the needles."""
    design = shot.design
    rng = np.random.default_rng(shot.part_seed)
    bore = design.bore_surface()
    base = placing.shift(0, 0, 46) @ placing.AXIS_DOWN
    towards = placing.towards_camera(90)  # the far wall, as seen through the mouth
    place = placing.rolled_to_face(bore, bore.slant / 2, 0, base, towards)
    parts.build_input_shaft(design, place, shot.part_seed, shot.stage, without=("bore",))

    needles, half = 18, bore.circumference / 2
    damage = DamageMap(0, -half, bore.slant, 2 * half, 30, shot.part_seed)
    style = PitStyle(halo=0.10, edge_mm=0.12, raised=0.25, floor_noise=0.12, flat_floor=0.8)
    dents = []
    for k in range(-3, 4):
        loaded = math.exp(-((k / 2.2) ** 2))  # the needles under load dig in deepest
        long, wide = 9.5 + 3.5 * loaded + rng.normal() * 0.4, 0.75 + 0.75 * loaded
        dent = Blob(
            8.6 + rng.normal() * 0.25, k * bore.circumference / needles, math.sqrt(long * wide), rng,
            rough=0.02, aspect=long / wide, lobes=6, depth=0.03 + 0.07 * loaded,
        )  # fmt: skip
        damage.add_pit(dent, style)
        dents.append(dent)
    steel = materials.metal("bore", shot.part_seed + 3, shot.stage, TURNED, materials.HARDENED, damage, materials.DENTS)
    u = np.linspace(0, bore.slant, int(bore.slant / 0.07))
    v = np.linspace(-half, half, int(2 * half / 0.07))
    meshes.add_surface("bore", bore, u, v, damage, steel, place)

    # The rule lies across the end face itself, so it is in the plane of the bore's mouth.
    rule = flatware.Rule(100, placing.flat(-52, -29.5, shot.yaw), 46.95, shot.seed, width=13)
    t = np.linspace(0, 2 * np.pi, 40)
    mouth = np.stack([28 * np.cos(t), 28 * np.sin(t), np.full(40, 46.0)], 1)
    return staging.Stage(
        frame=np.concatenate([mouth, rule.graduation([20, 84])]), rule=rule, surface=bore, placement=place,
        face=staging.patch(bore, place, 0, bore.slant * 0.7, -14, 14), damage={"brinelling": dents},
        focus=placing.to_world(place, bore.points(np.array([7.0]), np.array([0.0])))[0],
    )  # fmt: skip
