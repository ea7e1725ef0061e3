"""Scenes of parts that lie flat on the bench: washer, blocking ring, cover, hub and sleeve."""

import math

import numpy as np

import flatware
import materials
import meshes
import parts
import placing
import shapes
import staging
from blobs import ring_sector
from damage_map import DamageMap
from materials import FACED, TURNED
from surfaces import Disc


WASHER = (21.0, 36.0, 4.0)  # inner and outer radius, thickness


def _washer_damage(seed, outer):
    """Six oil grooves, which are no damage, and a sector of scores; also the scored region."""
    rng = np.random.default_rng(seed)
    damage = DamageMap(-outer, -outer, 2 * outer, 2 * outer, 28, seed)
    u, v = damage.coordinates()
    radius, angle = np.hypot(u, v), np.arctan2(v, u)
    for k in range(6):
        off = radius * np.sin(angle - k * math.pi / 3 - 0.3)
        across = (np.abs(np.angle(np.exp(1j * (angle - k * math.pi / 3 - 0.3)))) < 0.5) & (np.abs(off) < 1.6)
        damage.film[across] = 0.55  # dirt stays in them
        damage.height[across] -= 0.7 * np.clip((1.6 - np.abs(off[across])) / 0.4, 0, 1)
    start, stop = math.radians(205), math.radians(322)
    for _ in range(64):
        r, wide = rng.uniform(26.3, 31.8), rng.uniform(0.04, 0.17)
        a0 = rng.uniform(start, stop - 0.5)
        a1 = min(stop, a0 + rng.uniform(0.3, 1.4))
        along = np.mod(angle, 2 * math.pi)
        wander = r + 0.08 * np.sin(3 * along + rng.uniform(0, 6))
        ends = np.clip(np.minimum(along - a0, a1 - along) / 0.12, 0, 1)
        line = np.exp(-(((radius - wander) / wide) ** 2)) * ends * rng.uniform(0.55, 1.0)
        np.maximum(damage.groove, line.astype(np.float32), out=damage.groove)
    return damage, ring_sector(26.2, 31.9, start + 0.06, stop - 0.08)


def thrust_washer(shot):
    """The ring lies flat, its running face up, six oil grooves across it, scored on one side."""
    inner, outer, thick = WASHER
    place = placing.turn_z(shot.yaw) @ placing.AXIS_UP
    face = Disc(thick)
    damage, scored = _washer_damage(shot.part_seed, outer)
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
    note = staging.note(shot, -42, outer + 12, shot.note_turn, width=84)
    t = np.linspace(0, 2 * np.pi, 60)
    rim_points = np.stack([outer * np.cos(t), outer * np.sin(t), np.full(60, thick)], 1)
    return staging.Stage(
        frame=np.concatenate([rim_points, rule.corners(), note]), rule=rule, face=rim_points, surface=face,
        placement=place, focus=np.array([0, -inner, thick]), damage={"scoring": [scored]},
    )  # fmt: skip


def blocking_ring(shot):
    """The bronze ring lying on its teeth: thread of the cone, slots for the keys."""
    place = placing.turn_z(shot.yaw) @ placing.AXIS_UP
    parts.build_blocking_ring(place, shot.part_seed, shot.stage)
    rule = flatware.Rule(100, placing.flat(-46, -60, shot.rule_turn), 0.95, shot.seed)
    card = staging.card(shot, 42, -26, shot.note_turn)
    t = np.linspace(0, 2 * np.pi, 60)
    rim = np.stack([31 * np.cos(t), 31 * np.sin(t), np.full(60, 10.5)], 1)
    frame = np.concatenate([rim, rule.corners(), card])
    return staging.Stage(frame=frame, rule=rule, face=rim, focus=np.array([0, -27, 10.0]))


def top_cover(shot):
    """The cover lying on its back, joint face up, as it came off: torn gasket, oil, selector rails."""
    place = placing.turn_z(shot.yaw)
    height = parts.build_top_cover(place, shot.part_seed, shot.stage)
    rule = flatware.Rule(150, placing.flat(-96, -98, shot.rule_turn), 0.95, shot.seed)
    note = staging.note(shot, 68, -97, shot.note_turn, width=62)
    x, y = parts.COVER_SIZE[0] / 2, parts.COVER_SIZE[1] / 2
    corners = placing.to_world(place, [(x, y, height), (-x, y, height), (-x, -y, height), (x, -y, height)])
    return staging.Stage(
        frame=np.concatenate([corners, rule.corners(), note]), rule=rule, face=corners,
        focus=placing.to_world(place, [(0, -y, height)])[0],
    )  # fmt: skip


def hub_and_sleeve(shot):
    """The sleeve with its hub beside it, both lying flat."""
    sleeve = placing.shift(-46, 0, 0) @ placing.turn_z(shot.yaw) @ placing.AXIS_UP
    hub = placing.shift(38, -4, 0) @ placing.turn_z(-shot.yaw) @ placing.AXIS_UP
    parts.build_sleeve(sleeve, shot.part_seed, shot.stage)
    parts.build_hub(hub, shot.part_seed + 4, shot.stage)
    rule = flatware.Rule(150, placing.flat(-82, -76, shot.rule_turn), 0.95, shot.seed)
    note = staging.note(shot, 0, 40, shot.note_turn, width=84)
    t = np.linspace(0, 2 * np.pi, 40)
    rim = np.stack([np.full(40, parts.SLEEVE_HEIGHT), 40 * np.cos(t), 40 * np.sin(t)], 1)
    seen = placing.to_world(sleeve, rim)
    return staging.Stage(
        frame=np.concatenate([seen, placing.to_world(hub, rim * [0.8, 0.8, 0.8]), rule.corners(), note]), rule=rule,
        face=seen, focus=np.array([-46, -36, parts.SLEEVE_HEIGHT]),
    )  # fmt: skip
