"""Scenes of tooth flanks from close by, a rule on a block level with the pitch line."""

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
from materials import GROUND
from surfaces import Flank


def _flank_stage(shot, flank, place, damage, listed, look):
    width = flank.high - flank.low
    steel = materials.metal("flank", shot.part_seed + 3, shot.stage, GROUND, materials.HARDENED, damage, look)
    u = np.linspace(0, flank.length, int(flank.length / 0.035))
    v = np.linspace(flank.low, flank.high, int(width / 0.04))
    meshes.add_surface("flank", flank, u, v, damage, steel, place)
    middle = flank.points(np.array([flank.pitch_line]), np.array([(flank.low + flank.high) / 2]))
    pitch = placing.to_world(place, middle)[0]
    tip = placing.to_world(place, flank.points(np.array([flank.length]), np.array([flank.low])))[0]
    front = tip[1] - 4
    turn = shot.yaw * 0.5
    workshop.wood_block((-70, front - 24, 0), (75, front, pitch[2] - 0.95), placing.turn_z(turn), shot.seed + 2)
    rule = flatware.Rule(100, placing.flat(pitch[0] - 46, front - 15, turn + 1), pitch[2], shot.seed, width=13)
    around = staging.patch(flank, place, 0, flank.length, flank.low - 7, flank.high + 7)
    whole = staging.patch(flank, place, 0, flank.length, flank.low, flank.high)
    above = around + [0, 12, 0]
    return staging.Stage(
        frame=np.concatenate([around, above, rule.graduation([28, 64])]), rule=rule, surface=flank, placement=place,
        face=whole, working=whole, damage=listed, focus=pitch,
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
        damage.add_stain(stain, 1.0)
    return _flank_stage(shot, flank, place, damage, {"water-stain": stains}, materials.RUST_PITS)
