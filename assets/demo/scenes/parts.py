"""The parts of the TW4: their dimensions, and how each is put together from shapes.

A builder adds the meshes of one part and leaves out the functional surface that a photo
is about; that one is added densely, with its damage, by the scene."""

from dataclasses import dataclass

import numpy as np
from mathutils import Vector
from mathutils.geometry import tessellate_polygon

import materials
import meshes
import placing
import shapes
from materials import FACED, GROUND, TURNED
from shapes import Gear
from surfaces import Cone


@dataclass(frozen=True)
class InputShaft:
    """Axis X, the gear end with the synchroniser cone and the needle bore at x = 0, the
    pilot nose at the far end. All in mm."""

    nose_radius: float
    seat_radius: float
    spline_radius: float
    gear: Gear
    bore_radius: float = 13.0
    bore_depth: float = 27.0
    cone: tuple = (1.2, 24.2, 13.6, 25.9)  # x0, r0, x1, r1
    length: float = 206.0

    def cone_surface(self):
        return Cone(*self.cone)

    def bore_surface(self):
        return Cone(1.2, self.bore_radius, self.bore_depth, self.bore_radius, inward=True)


TW4_B = InputShaft(nose_radius=9.2, seat_radius=19.0, spline_radius=12.5, gear=Gear(2.5, 26, helix=20))
TW4_C = InputShaft(nose_radius=12.6, seat_radius=23.0, spline_radius=16.0, gear=Gear(2.75, 26, helix=20), length=212.0)

DOGS = Gear(1.75, 33, pressure_angle=28, addendum=0.7, dedendum=0.8, flank_points=5, root_points=3)


def _spline(outer_radius, teeth=20):
    module = 2 * outer_radius / (teeth + 1)
    return Gear(module, teeth, pressure_angle=30, addendum=0.5, dedendum=0.6, flank_points=5, root_points=3)


def build_input_shaft(design, placement, seed, stage, without=()):
    """without: any of "cone", "bore"."""
    turned = materials.metal("turned", seed, stage, TURNED)
    toothed = materials.metal("toothed", seed + 1, stage, TURNED, materials.GEAR_STEEL)

    def turn(name, chain, segments=320):
        meshes.add(name, *shapes.lathe(chain, segments), turned, placement, smooth_angle=28)

    x0, r0, x1, r1 = design.cone
    bore, depth, seat = design.bore_radius, design.bore_depth, design.seat_radius
    turn("bore bottom", [(depth + 4, 0.01), (depth, bore)])
    turn("bore mouth", [(1.2, bore), (0, bore + 1.2), (0, r0 - 1.4), (x0, r0)])
    if "bore" not in without:
        turn("bore", [(depth, bore), (1.2, bore)])
    if "cone" not in without:
        turn("cone", [(x0, r0), (x1, r1)], 360)
    turn("cone relief", [(x1, r1), (x1 + 0.5, r1 - 0.5), (x1 + 0.6, 23), (15.6, 23)])
    toothed_to = 46.0
    meshes.add("dogs", *shapes.extrude(DOGS, 15.2, 19.8, 15, rings=3, chamfer=1.0), toothed, placement)
    meshes.add("gear", *shapes.extrude(design.gear, 22, toothed_to, 15, rings=24, chamfer=0.7), toothed, placement)
    end = design.length
    spline = design.spline_radius
    steps = [
        (toothed_to, 50, seat + 4.5),
        (50, 51.5, seat - 0.4),
        (51.5, 61, seat),
        (61, 63, seat - 1.3),  # snap ring groove
        (63, 70, seat),
        (70, 74, spline + 4),
        (74, 118, spline + 2.2),
        (118, 122, spline - 1.6),
        (122, 172, spline - 1.0),
        (172, 178, min(spline - 2, design.nose_radius + 1.5)),
        (178, end, design.nose_radius),
    ]
    turn("neck", [(19.8, 22.5), (22, 22.5)])
    centre_hole = [(end, 2.2), (end - 2.5, 0.01)]
    turn("shank", [(toothed_to, 15)] + shapes.stepped(steps, 0.8) + centre_hole)
    profile = shapes.extrude(_spline(spline), 122.5, 171, spline - 3, rings=3, chamfer=1.2)
    meshes.add("spline", *profile, toothed, placement)


@dataclass(frozen=True)
class Cluster:
    """A layshaft: gears in one piece with the shaft, as (x0, x1, gear)."""

    gears: tuple
    steps: tuple


LAYSHAFT = Cluster(
    gears=(
        (0, 26, Gear(2.75, 34)),
        (34, 56, Gear(2.75, 27)),
        (66, 92, Gear(3.5, 17)),
        (-64, -42, Gear(2.5, 23)),
    ),
    steps=((-96, -70, 12), (-70, -64, 16), (-42, 0, 19), (26, 34, 21), (56, 66, 18), (92, 98, 16), (98, 124, 12)),
)


def build_cluster(design, placement, seed, stage, open_flank_of=None):
    """open_flank_of: index of the gear whose tooth 0 gets a dense flank."""
    turned = materials.metal("turned", seed, stage, TURNED)
    toothed = materials.metal("toothed", seed + 1, stage, GROUND, materials.GEAR_STEEL)
    for k, (x0, x1, gear) in enumerate(design.gears):
        solid = shapes.extrude(gear, x0, x1, 10, rings=12, chamfer=0.7, omit_flank=k == open_flank_of)
        meshes.add("gear %d" % k, *solid, toothed, placement)
    for step in design.steps:
        chain = [(step[0], 0.01)] + shapes.stepped([step], 0.7) + [(step[1], 0.01)]
        meshes.add("step", *shapes.lathe(chain, 240), turned, placement, smooth_angle=28)


THIRD_GEAR = Gear(3.25, 24)
THIRD_GEAR_WIDTH = 24.0


def build_third_gear(placement, seed, stage):
    """The loose third gear, its tooth 0 without the right flank; x from 0 to its width."""
    turned = materials.metal("turned", seed, stage, TURNED)
    toothed = materials.metal("toothed", seed + 1, stage, GROUND, materials.GEAR_STEEL)
    faced = materials.metal("faced", seed + 2, stage, FACED)
    gear, w, bore = THIRD_GEAR, THIRD_GEAR_WIDTH, 19.0
    meshes.add("gear", *shapes.extrude(gear, 0, w, 31, rings=12, chamfer=0.7, omit_flank=True), toothed, placement)
    web = [(w, 31), (w, 29.5), (w - 3, 28.5), (w - 3, 25.5), (w + 1, 24.5), (w + 1, bore + 1), (w, bore)]
    meshes.add("web", *shapes.lathe(web, 240), faced, placement, smooth_angle=25)
    meshes.add("bore", *shapes.lathe([(w, bore), (-15.2, bore)], 240), turned, placement)
    hub = [(-15.2, bore), (-16, bore + 1), (-16, 25.6), (-15, 26.6)]
    hub += [(-3.4, 28.2), (-3, 27.6), (-3, 26), (0, 26), (0, 31)]
    meshes.add("cone", *shapes.lathe(hub, 240), turned, placement, smooth_angle=25)
    dogs = Gear(1.75, 34, pressure_angle=28, addendum=0.7, dedendum=0.8, flank_points=5, root_points=3)
    meshes.add("dogs", *shapes.extrude(dogs, -3.0, 0.2, 25, rings=3, chamfer=0.9), toothed, placement)


def build_main_shaft(placement, seed, stage):
    turned = materials.metal("turned", seed, stage, TURNED)
    toothed = materials.metal("toothed", seed + 1, stage, TURNED, materials.GEAR_STEEL)
    steps = [
        (0, 24, 8.6),
        (24, 27, 11.0),
        (27, 52, 13.2),
        (52, 88, 16.6),
        (88, 90, 15.6),
        (90, 112, 17.4),
        (112, 117, 24.5),
        (117, 150, 19.4),
        (150, 152, 18.2),
        (152, 172, 19.0),
        (172, 196, 15.6),
        (196, 234, 13.4),
        (234, 258, 10.5),
    ]
    chain = [(2.5, 0.01), (0, 2.0)] + shapes.stepped(steps, 0.8) + [(258, 2.2), (255.5, 0.01)]
    meshes.add("shaft", *shapes.lathe(chain, 320), turned, placement, smooth_angle=28)
    for x0, x1, radius, teeth in ((27.5, 51, 15.2, 24), (90.5, 111, 19.8, 30), (196.5, 233, 15.4, 24)):
        solid = shapes.extrude(_spline(radius, teeth), x0, x1, radius - 4, rings=3, chamfer=0.9)
        meshes.add("spline", *solid, toothed, placement)


def build_blocking_ring(placement, seed, stage):
    """Bronze: inner cone with a thread to cut the oil, three slots for the keys, and the
    blocking teeth. x = 0 is the side with the teeth."""
    bronze = materials.metal("bronze", seed, stage, TURNED, materials.BRONZE)
    toothed = materials.metal("bronze teeth", seed + 1, stage, GROUND, materials.BRONZE)
    height, r_big, r_small = 10.5, 26.6, 25.2
    turns = np.arange(0, 19)
    thread = []
    for k in turns:
        x = 0.6 + k * 0.52
        r = r_big + (r_small - r_big) * x / height
        thread += [(x, r), (x + 0.30, r), (x + 0.38, r + 0.28), (x + 0.46, r + 0.28)]
    inside = [(0, r_big + 0.6)] + thread + [(height, r_small + 0.5)]
    meshes.add("inner cone", *shapes.lathe(inside, 400), bronze, placement, smooth_angle=20)
    teeth = Gear(1.75, 33, pressure_angle=28, addendum=0.7, dedendum=0.8, flank_points=5, root_points=3)
    meshes.add("teeth", *shapes.extrude(teeth, 0, 4.2, 27, rings=3, chamfer=1.0), toothed, placement)
    body = [(4.0, 28.6), (5.4, 28.6), (5.4, 27.0), (height, 26.5), (height, r_small + 0.5)]
    meshes.add("shoulder", *shapes.lathe(body, 300), bronze, placement)
    slot = np.radians(11)
    for k in range(3):
        start, stop = k * 2 * np.pi / 3 + slot, (k + 1) * 2 * np.pi / 3 - slot
        collar = [(5.2, 26.3), (height - 0.05, 26.0), (height - 0.05, 28.2), (5.2, 28.4)]
        meshes.add("collar", *shapes.sector(collar, start, stop, 60), bronze, placement, smooth_angle=25)


COVER_SIZE = (186.0, 118.0)


def build_top_cover(placement, seed, stage):
    """A cast cover lying on its back: a flat flange with bolt holes round an opening, in it
    three selector rails. Returns the height of the joint face."""
    height, flange = 34.0, 19.0
    length, depth = COVER_SIZE
    outer = _rounded(length, depth, 15)
    inner = _rounded(length - 2 * flange, depth - 2 * flange, 9)
    across, along = depth / 2 - flange / 2, length / 2 - flange / 2
    bolts = [(x, s * across) for s in (-1, 1) for x in (-along, -along / 3, along / 3, along)]
    bolts += [(-along, 0), (along, 0)]
    holes = [np.array(_circle(x, y, 4.4)) for x, y in bolts]

    joint = materials.gasket_face("joint face", seed)
    cast = materials.metal("casting", seed + 1, stage, materials.CAST, materials.CAST_ALLOY)
    loops = [outer, inner] + holes
    corners, triangles = _flat_with_holes(loops)
    meshes.add("joint face", _at(corners, height), triangles, joint, placement, smooth_angle=0)
    for name, loop, bottom, spread in [("outside", outer, 0.0, 0.93), ("inside", inner, 5.0, 0.95)] + [
        ("bolt hole", hole, height - 20, 1.0) for hole in holes
    ]:
        n = len(loop)
        middle = loop.mean(0)
        lower = middle + (loop - middle) * spread
        walls = [(i, (i + 1) % n, (i + 1) % n + n, i + n) for i in range(n)]
        both = np.concatenate([_at(loop, height), _at(lower, bottom)])
        meshes.add(name, both, walls, cast, placement, smooth_angle=40)
    x, y = length / 2 - flange + 2, depth / 2 - flange + 2
    meshes.add_box("cover floor", (-x, -y, 2), (x, y, 5), cast, placement=placement)
    rail = materials.metal("rail", seed + 2, stage, TURNED)
    for y in (-22, 0, 22):
        at = placement @ placing.shift(-x, y, height - 17)
        rod = [(0, 0.01), (0, 6.5), (2 * x, 6.5), (2 * x, 0.01)]
        meshes.add("rail", *shapes.lathe(rod, 64), rail, at, smooth_angle=30)
        for start in (18 + y, 84 + y):
            end = start + 16
            boss = [(start, 6.4), (start, 10.5), (start + 1, 11.5), (end - 1, 11.5), (end, 10.5), (end, 6.4)]
            meshes.add("fork boss", *shapes.lathe(boss, 64), cast, at, smooth_angle=25)
    return height


def _at(flat_points, z):
    return np.column_stack([flat_points, np.full(len(flat_points), z)])


def _circle(x, y, radius, n=40):
    t = np.linspace(0, 2 * np.pi, n, endpoint=False)
    return np.stack([x + radius * np.cos(t), y + radius * np.sin(t)], 1)


def _rounded(length, depth, radius, n=10):
    """Corners of a rectangle with rounded corners, anticlockwise."""
    t = np.linspace(0, np.pi / 2, n)
    x, y = length / 2 - radius, depth / 2 - radius
    corners = [
        np.stack([cx + radius * np.cos(t + a), cy + radius * np.sin(t + a)], 1)
        for cx, cy, a in ((x, y, 0), (-x, y, np.pi / 2), (-x, -y, np.pi), (x, -y, 1.5 * np.pi))
    ]
    return np.concatenate(corners)


def _flat_with_holes(loops):
    """(points, triangles) of a flat face: the first loop is its rim, the others are holes."""
    points = np.concatenate(loops)
    triangles = np.array(tessellate_polygon([[Vector((*p, 0)) for p in loop] for loop in loops]))
    a, b, c = (points[triangles[:, k]] for k in range(3))
    turn = np.cross(b - a, c - a)
    triangles[turn < 0] = triangles[turn < 0][:, ::-1]
    return points, triangles[np.abs(turn) > 1e-9]


SLEEVE_HEIGHT, HUB_HEIGHT = 24.0, 19.0


def build_sleeve(placement, seed, stage):
    """The shift sleeve: inner splines, a groove round it for the fork. x from 0 up."""
    turned = materials.metal("sleeve", seed, stage, TURNED, materials.GEAR_STEEL)
    faced = materials.metal("sleeve faces", seed + 1, stage, FACED, materials.GEAR_STEEL)
    # A spline's hole: the same profile, its end faces reaching outwards.
    meshes.add("sleeve splines", *shapes.extrude(DOGS, 0, SLEEVE_HEIGHT, 37, rings=3, chamfer=-0.8), faced, placement)
    h, rim, floor = SLEEVE_HEIGHT, 39.5, 35.5
    low = h / 2 - 4.2  # lower edge of the groove
    chain = [(0, 37), (0, rim - 1), (1, rim)]
    chain += [(low - 0.8, rim), (low, rim - 0.8), (low, floor + 0.8), (low + 0.8, floor)]
    chain += [(h - x, r) for x, r in reversed(chain)]
    meshes.add("sleeve", *shapes.lathe(chain, 360), turned, placement, smooth_angle=25)


def build_hub(placement, seed, stage):
    """The hub that the sleeve slides on: splines outside and inside, a thin web between."""
    toothed = materials.metal("hub teeth", seed, stage, TURNED, materials.GEAR_STEEL)
    faced = materials.metal("hub faces", seed + 1, stage, FACED)
    h, inside = HUB_HEIGHT, _spline(16.0, 24)
    outside = Gear(1.72, 33, pressure_angle=28, addendum=0.65, dedendum=0.8, flank_points=5, root_points=3)
    meshes.add("outer splines", *shapes.extrude(outside, 0, h, 24.5, rings=3, chamfer=0.8), toothed, placement)
    meshes.add("inner splines", *shapes.extrude(inside, 0, h, 19.5, rings=3, chamfer=-0.7), toothed, placement)
    for x, inwards in ((h, -1), (0, 1)):
        web = [(x, 19.4), (x, 20.4), (x + inwards * 0.8, 21.2), (x + inwards * 4.5, 21.6)]
        web += [(x + inwards * 4.5, 23.6), (x + inwards * 0.6, 24.2), (x, 24.6)]
        meshes.add("web", *shapes.lathe(web, 300), faced, placement, smooth_angle=25)
