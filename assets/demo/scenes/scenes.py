"""The scenes: a part on the bench with a rule beside it, and the damage that it carries.

Each scene is a function of a shots.Shot and returns a Stage, which says what the camera
must take in, what it is about, and where the damage is."""

import math
from dataclasses import dataclass, field

import numpy as np

import flatware
import materials
import meshes
import parts
import placing
import shapes
import workshop
from blobs import Blob, ring_sector, scatter
from damage_map import DamageMap, PitStyle
from materials import FACED, GROUND, TURNED
from surfaces import Disc, Flank


@dataclass
class Stage:
    """What a scene built. frame: world points to take in; face: boundary of the surface the
    photo is about (world, may be None); focus: world point; damage: {kind: blobs} on
    surface, which lies at placement."""

    frame: np.ndarray
    rule: flatware.Rule
    focus: np.ndarray
    fill: float = 0.90
    face: np.ndarray = None
    surface: object = None
    placement: np.ndarray = None
    damage: dict = field(default_factory=dict)


def _patch(surface, placement, u0, u1, v0, v1, n=30):
    """World points along the edge of a rectangle of the surface."""
    t = np.linspace(0, 1, n)
    one = np.ones(n)
    u = np.concatenate([u0 + (u1 - u0) * t, u1 * one, u1 + (u0 - u1) * t, u0 * one])
    v = np.concatenate([v0 * one, v0 + (v1 - v0) * t, v1 * one, v1 + (v0 - v1) * t])
    return placing.to_world(placement, surface.points(u, v))


def _note(shot, x, y, turn, width=92.0, z=0.0):
    """The slip of the part's tray; returns its corners for the frame."""
    place = placing.flat(x, y, turn)
    flatware.slip(shot.label, place, z, shot.part_seed + 7, width=width, height=width / 3)
    return placing.to_world(place, [(a, b, z) for a in (0, width) for b in (0, width / 3)])


def _card(shot, x, y, turn, z=0.0):
    place = placing.flat(x, y, turn)
    flatware.white_card(place, z, shot.seed)
    return placing.to_world(place, [(a, b, z) for a in (0, 50) for b in (0, 50)])


# ---------------------------------------------------------------- synchroniser cone


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
    steel = materials.metal("cone", shot.part_seed + 3, shot.stage, TURNED, materials.Finish(rough=(0.16, 0.28)), damage)
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
    note = _note(shot, *shot.note_at, shot.note_turn, width=80)
    ends = [(x, reach * c, reach * s) for x in (0, 46) for c, s in ((1, 0), (-1, 0), (0, 1), (0, -1))]
    ends += [(length, 12 * c, 12 * s) for c, s in ((1, 0), (-1, 0))]
    body = placing.to_world(place, ends)
    face = None if cone is None else _patch(cone, place, 0, cone.slant, -20, 20)
    return Stage(
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
    face = _patch(cone, place, 0, cone.slant, -18, 18)
    return Stage(
        frame=np.concatenate([_patch(cone, place, -3, cone.slant + 18, -20, 32), rule.graduation([24, 72])]),
        rule=rule, face=face, surface=cone, placement=place, damage=listed,
        focus=placing.to_world(place, cone.points(np.array([cone.slant / 2]), np.array([0.0])))[0],
    )  # fmt: skip


# ---------------------------------------------------------------- needle bore


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
    return Stage(
        frame=np.concatenate([mouth, rule.graduation([20, 84])]), rule=rule, surface=bore, placement=place,
        face=_patch(bore, place, 0, bore.slant * 0.7, -14, 14), damage={"brinelling": dents},
        focus=placing.to_world(place, bore.points(np.array([7.0]), np.array([0.0])))[0],
    )  # fmt: skip


# ---------------------------------------------------------------- tooth flanks


def _flank_stage(shot, flank, place, damage, listed, look):
    width = flank.high - flank.low
    steel = materials.metal("flank", shot.part_seed + 3, shot.stage, GROUND, materials.HARDENED, damage, look)
    u = np.linspace(0, flank.length, int(flank.length / 0.035))
    v = np.linspace(flank.low, flank.high, int(width / 0.04))
    meshes.add_surface("flank", flank, u, v, damage, steel, place)
    pitch = placing.to_world(place, flank.points(np.array([flank.pitch_line]), np.array([(flank.low + flank.high) / 2])))[0]
    tip = placing.to_world(place, flank.points(np.array([flank.length]), np.array([flank.low])))[0]
    front = tip[1] - 4
    workshop.wood_block((-70, front - 24, 0), (75, front, pitch[2] - 0.95), placing.turn_z(shot.yaw * 0.5), shot.seed + 2)
    rule = flatware.Rule(100, placing.flat(pitch[0] - 46, front - 15, shot.yaw * 0.5 + 1), pitch[2], shot.seed, width=13)
    around = _patch(flank, place, 0, flank.length, flank.low - 7, flank.high + 7)
    above = around + [0, 12, 0]
    return Stage(
        frame=np.concatenate([around, above, rule.graduation([28, 64])]), rule=rule, surface=flank, placement=place,
        face=_patch(flank, place, 0, flank.length, flank.low, flank.high), damage=listed, focus=pitch,
    )  # fmt: skip


def _flank_place(shot, flank, x, height, lean):
    """The gear on its side with the flank nearly level, so that it mirrors the ceiling;
    lean is how many degrees it is turned to the camera."""
    middle = (flank.low + flank.high) / 2
    base = placing.turn_z(shot.yaw) @ placing.shift(x, 0, height)
    return placing.rolled_to_face(flank, flank.pitch_line, middle, base, placing.towards_camera(lean))


def third_gear_flank(shot):
    """A fatigued patch at and below the pitch line, smaller pits round it."""
    gear, width = parts.THIRD_GEAR, parts.THIRD_GEAR_WIDTH
    flank = Flank(gear, 0, width, 0.7)
    place = _flank_place(shot, flank, -width / 2, gear.tip_radius, lean=10)
    parts.build_third_gear(place, shot.part_seed, shot.stage)
    rng = np.random.default_rng(shot.part_seed)
    patch = Blob(
        flank.pitch_line - 0.3, width * 0.56, 4.3, rng, rough=0.20, aspect=0.5, lobes=13, depth=0.30
    )  # fmt: skip
    small = scatter(
        rng, 16, (0.5, flank.length - 0.5, 2, width - 2), (0.25, 0.85),
        [(flank.pitch_line - 0.4, width * 0.36), (flank.pitch_line, width * 0.74)], (0.7, 1.9), gap=0.12,
        avoid=lambda u, v, reach: patch.distance(u, v)[0] < 1 + (reach + 0.2) / 1.2,
    )  # fmt: skip
    damage = DamageMap(0, flank.low, flank.length, flank.high - flank.low, 45, shot.part_seed)
    style = PitStyle(depth=0.2, halo=0.12, floor_noise=0.55, flat_floor=0.35)
    for pit in [patch] + small:
        damage.add_pit(pit, style)
    return _flank_stage(shot, flank, place, damage, {"fatigue-pits": [patch] + small}, materials.TORN_METAL)


def layshaft_flank(shot):
    """A water stain on a sound flank of the layshaft's largest gear: dark, but no metal gone."""
    which = 0
    x0, x1, gear = parts.LAYSHAFT.gears[which]
    flank = Flank(gear, x0, x1 - x0, 0.7)
    height = parts.LAYSHAFT.gears[0][2].tip_radius + 3
    place = _flank_place(shot, flank, -(x0 + x1) / 2, height, lean=22)
    parts.build_cluster(parts.LAYSHAFT, place, shot.part_seed, shot.stage, open_flank_of=which)
    rng = np.random.default_rng(shot.part_seed)
    damage = DamageMap(0, flank.low, flank.length, flank.high - flank.low, 45, shot.part_seed)
    stains = [
        Blob(flank.length * 0.62, 9.0, 4.0, rng, rough=0.22, aspect=0.42, lobes=9),
        Blob(flank.length * 0.70, 14.6, 2.4, rng, rough=0.2, aspect=0.6, lobes=9),
    ]
    for stain in stains:
        damage.add_stain(stain, 0.85)
    return _flank_stage(shot, flank, place, damage, {"water-stain": stains}, materials.RUST_PITS)


# ---------------------------------------------------------------- main shaft, rings, cover


def main_shaft(shot):
    height = 30
    group = placing.turn_z(shot.yaw)
    place = group @ placing.shift(-129, 0, height) @ placing.roll_x(35)
    parts.build_main_shaft(place, shot.part_seed, shot.stage)
    blocks = group @ placing.shift(-129, 0, 0)
    workshop.v_block(64, 12, 16.6, height, blocks, shot.seed)
    workshop.v_block(184, 12, 15.6, height, blocks, shot.seed + 1)
    return _shaft_stage(shot, group, place, 258, 20)


def thrust_washer(shot):
    """The ring lies flat, its running face up, six oil grooves across it, scored on one side."""
    inner, outer, thick = 21.0, 36.0, 4.0
    rng = np.random.default_rng(shot.part_seed)
    place = placing.turn_z(shot.yaw) @ placing.AXIS_UP
    face = Disc(thick)
    damage = DamageMap(-outer, -outer, 2 * outer, 2 * outer, 28, shot.part_seed)
    u, v = damage.coordinates()
    radius, angle = np.hypot(u, v), np.arctan2(v, u)
    for k in range(6):
        off = radius * np.sin(angle - k * math.pi / 3 - 0.3)
        across = (np.abs(np.angle(np.exp(1j * (angle - k * math.pi / 3 - 0.3)))) < 0.5) & (np.abs(off) < 1.6)
        damage.film[across] = 0.55  # dirt stays in them
        damage.height[across] -= 0.7 * np.clip((1.6 - np.abs(off[across])) / 0.4, 0, 1)
    start, stop = math.radians(205), math.radians(322)
    for _ in range(40):
        r, wide = rng.uniform(26.3, 31.8), rng.uniform(0.04, 0.17)
        a0 = rng.uniform(start, stop - 0.5)
        a1 = min(stop, a0 + rng.uniform(0.3, 1.4))
        along = np.mod(angle, 2 * math.pi)
        wander = r + 0.08 * np.sin(3 * along + rng.uniform(0, 6))
        ends = np.clip(np.minimum(along - a0, a1 - along) / 0.12, 0, 1)
        line = np.exp(-(((radius - wander) / wide) ** 2)) * ends * rng.uniform(0.4, 1.0)
        np.maximum(damage.groove, line.astype(np.float32), out=damage.groove)
    finish = materials.Finish(rough=(0.20, 0.32))
    running = materials.metal("running face", shot.part_seed, shot.stage, FACED, finish, damage)
    side = materials.metal("side", shot.part_seed + 1, shot.stage, TURNED)
    edge = 0.6
    radii = np.arange(inner + edge, outer - edge + 0.001, 0.1)
    angles = np.linspace(0, 2 * np.pi, int(2 * np.pi * outer / 0.1), endpoint=False)
    meshes.add_ring_face("running face", face, radii, angles, damage, running, place)
    rim = radii[-1]
    outside = [(thick, rim), (thick - edge, outer), (edge, outer), (0, outer - edge), (0, inner + edge)]
    inside = [(0, inner + edge), (edge, inner), (thick - edge, inner), (thick, inner + edge)]
    for chain in (outside, inside):
        meshes.add("washer", *shapes.lathe(chain, 360), side, place, smooth_angle=25)
    rule = flatware.Rule(100, placing.flat(-50, -outer - 34, shot.rule_turn), 0.95, shot.seed)
    note = _note(shot, -42, outer + 12, shot.note_turn, width=84)
    t = np.linspace(0, 2 * np.pi, 60)
    rim_points = np.stack([outer * np.cos(t), outer * np.sin(t), np.full(60, thick)], 1)
    return Stage(
        frame=np.concatenate([rim_points, rule.corners(), note]), rule=rule, face=rim_points, surface=face,
        placement=place, focus=np.array([0, -inner, thick]), damage={"scoring": [ring_sector(25.9, 32.2, start, stop)]},
    )  # fmt: skip


def blocking_ring(shot):
    """The bronze ring lying on its teeth: thread of the cone, slots for the keys."""
    place = placing.turn_z(shot.yaw) @ placing.AXIS_UP
    parts.build_blocking_ring(place, shot.part_seed, shot.stage)
    rule = flatware.Rule(100, placing.flat(-46, -60, shot.rule_turn), 0.95, shot.seed)
    card = _card(shot, 42, -26, shot.note_turn)
    t = np.linspace(0, 2 * np.pi, 60)
    rim = np.stack([31 * np.cos(t), 31 * np.sin(t), np.full(60, 10.5)], 1)
    return Stage(frame=np.concatenate([rim, rule.corners(), card]), rule=rule, face=rim, focus=np.array([0, -27, 10.0]))


def top_cover(shot):
    """The cover lying on its back, joint face up, as it came off: torn gasket, oil, selector rails."""
    place = placing.turn_z(shot.yaw)
    height = parts.build_top_cover(place, shot.part_seed, shot.stage)
    rule = flatware.Rule(150, placing.flat(-96, -98, shot.rule_turn), 0.95, shot.seed)
    note = _note(shot, 68, -97, shot.note_turn, width=62)
    x, y = parts.COVER_SIZE[0] / 2, parts.COVER_SIZE[1] / 2
    corners = placing.to_world(place, [(x, y, height), (-x, y, height), (-x, -y, height), (x, -y, height)])
    return Stage(
        frame=np.concatenate([corners, rule.corners(), note]), rule=rule, face=corners,
        focus=placing.to_world(place, [(0, -y, height)])[0],
    )  # fmt: skip
