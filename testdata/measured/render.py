"""Render the bench photo on which measuring is checked, with its truth beside it.

    blender -b -noaudio -P render.py [-- --preview]

A blank card with rounded corners is the reference. A plate lies flush with its face, with
a dark patch that runs over the edge of a light working face; a block carries a patch
higher up; a roller carries one round its side. What they measure is known from the scene,
where they are seen from the camera: nothing is taken from the picture. The modules are
those of the demo's scenes; assets/demo/scenes/README.md tells what they need."""

import json
import math
import os
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "..", "assets", "demo", "scenes"))

import development  # noqa: E402  must come first: it tells OpenCV to read EXR
import bpy  # noqa: E402
import cv2  # noqa: E402
import numpy as np  # noqa: E402

import materials  # noqa: E402
import meshes  # noqa: E402
import placing  # noqa: E402
import workshop  # noqa: E402
from blobs import Blob  # noqa: E402
from camera import SENSOR, Camera  # noqa: E402

SIZE, FOCAL, TILT, SEED, SAMPLES = (1600, 1200), 35, 30.0, 1901, 15
RES = 25  # texture px per mm
FLUSH = 0.3  # height of card and plate above the bench
CARD, ROUND = (60.0, 40.0), 4.0
PLATE, FACE = (56.0, 40.0), (6.0, 6.0, 34.0, 34.0)  # the face is x0, y0, x1, y1 on the plate
BLOCK, RISE = (44.0, 34.0), 12.0  # how much higher than the card the block is
ROLLER, LENGTH = 30.0, 62.0
LIGHT, DARK = 0.50, 0.03


def card(place):
    """A card of this size whose corners are quarters of a circle, and its four corners if
    they were sharp."""
    w, h = CARD
    rim = []
    for x, y, start in ((w - ROUND, h - ROUND, 0), (ROUND, h - ROUND, 90), (ROUND, ROUND, 180), (w - ROUND, ROUND, 270)):
        for a in np.radians(np.linspace(start, start + 90, 24)):
            rim.append((x + ROUND * math.cos(a), y + ROUND * math.sin(a), FLUSH))
    vertices = [(w / 2, h / 2, FLUSH)] + rim
    faces = [(0, 1 + i, 1 + (i + 1) % len(rim)) for i in range(len(rim))]
    meshes.add("card", vertices, faces, materials.plain("card", (0.75, 0.74, 0.71), 0.7), place, smooth_angle=0)
    return placing.to_world(place, [(0, 0, FLUSH), (w, 0, FLUSH), (w, h, FLUSH), (0, h, FLUSH)])


def picture(size, patch, face=None):
    """Colours of a printed top: a patch on a grey ground, a face lighter than it. Rows run
    from the far edge."""
    rows, columns = round(size[1] * RES), round(size[0] * RES)
    tone = np.full((rows, columns), 0.22 if face else LIGHT, np.float32)

    def fill(corners, value):
        at = np.asarray(corners) * [RES, -RES] + [-0.5, rows - 0.5]
        cv2.fillPoly(tone, [np.int32(np.round(at * 256))], value, cv2.LINE_AA, 8)

    if face:
        x0, y0, x1, y1 = face
        fill([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], LIGHT)
    fill(patch, DARK)
    return np.repeat(tone[..., None], 3, 2)


def top(name, size, z, patch, place, face=None):
    """A printed rectangle at a height, on a box of dark steel."""
    w, h = size
    printed = materials.printed(name, picture(size, patch, face), rough=0.8)
    meshes.add(name, [(0, 0, z), (w, 0, z), (w, h, z), (0, h, z)], [(0, 1, 2, 3)], printed, place,
               [(0, 0), (1, 0), (1, 1), (0, 1)], smooth_angle=0)  # fmt: skip
    meshes.add_box(name + " below", (0, 0, 0), (w, h, z - 0.02), materials.plain(name + " side", (0.12,) * 3, 0.6),
                   placement=place)  # fmt: skip
    return lambda at: placing.to_world(place, np.column_stack([at, np.full(len(at), z)]))


def roller(patch, place):
    """A roller that lies on the bench along X, its side unrolled into the picture: x along
    it, y round it from the bottom."""
    radius, round_ = ROLLER / 2, math.pi * ROLLER
    angles = np.radians(np.linspace(0, 360, 181))

    def at(x, y):
        a = np.asarray(y) / radius
        return np.column_stack([x, radius * np.sin(a) * -1, radius - radius * np.cos(a)])

    vertices = np.concatenate([at(np.full(181, x), angles * radius) for x in (0, LENGTH)])
    faces = [(i, i + 1, 181 + i + 1, 181 + i) for i in range(180)]
    uv = [(x, i / 180) for x in (0, 1) for i in range(181)]
    side = materials.printed("roller", picture((LENGTH, round_), patch), rough=0.8)
    meshes.add("roller", vertices, faces, side, place, uv, smooth_angle=0)
    ends = [(0, 0, radius), (LENGTH, 0, radius)]
    caps = [(362, i + 1, i) for i in range(180)] + [(363, 181 + i, 181 + i + 1) for i in range(180)]
    meshes.add("roller ends", np.concatenate([vertices, ends]), caps, materials.plain("ends", (0.12,) * 3, 0.6), place,
               smooth_angle=0)  # fmt: skip
    return lambda on: placing.to_world(place, at(on[:, 0], on[:, 1]))


def silhouettes(camera, place):
    """Two places on the photo in the middle between the roller's two silhouettes."""
    radius = ROLLER / 2
    lens = np.linalg.inv(place) @ np.append(camera.place, 1)
    y, z = lens[1], lens[2] - radius
    off, half = math.atan2(z, y), math.acos(radius / math.hypot(y, z))
    middles = []
    for x in (8.0, LENGTH - 8.0):
        ends = [(x, radius * math.cos(off + s * half), radius + radius * math.sin(off + s * half)) for s in (-1, 1)]
        middles.append(camera.project(placing.to_world(place, ends)).mean(0))
    return np.array(middles)


def area_of(at):
    x, y = np.asarray(at).T
    return 0.5 * abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))


def measures(at):
    gaps = np.linalg.norm(at[:, None] - at[None], axis=2)
    return {
        "area": area_of(at),
        "perimeter": float(np.linalg.norm(at - np.roll(at, -1, 0), axis=1).sum()),
        "chord": float(gaps.max()),
    }


def within(at, x0, y0, x1, y1):
    """The part of a polygon inside a rectangle (Sutherland and Hodgman)."""
    for axis, bound, sign in ((0, x0, 1), (0, x1, -1), (1, y0, 1), (1, y1, -1)):
        kept = []
        for p, q in zip(at, np.roll(at, -1, 0)):
            dp, dq = sign * (p[axis] - bound), sign * (q[axis] - bound)
            if dp >= 0:
                kept.append(p)
            if dp * dq < 0:
                kept.append(p + (q - p) * dp / (dp - dq))
        at = np.array(kept)
    return at


def main():
    preview = "--preview" in sys.argv
    size = (640, 480) if preview else SIZE
    bpy.ops.wm.read_factory_settings(use_empty=True)
    bpy.context.scene.render.engine = "CYCLES"
    workshop.bench("mat", SEED)
    white = workshop.light(SEED + 31, "both", 60.0)
    rng = np.random.default_rng(SEED)
    patches = {
        "flush": Blob(30, 21, 17, rng, rough=0.10).outline(),
        "raised": Blob(22, 17, 16, rng, rough=0.10).outline(),
        "round": Blob(31, math.pi * ROLLER * 0.39, 17, rng, rough=0.10).outline(),
    }
    corners = card(placing.flat(-64, -50, 4))
    on_plate = top("plate", PLATE, FLUSH, patches["flush"], placing.flat(8, -52, -3), FACE)
    on_block = top("block", BLOCK, FLUSH + RISE, patches["raised"], placing.flat(22, 10, 6))
    lies = placing.flat(-62, 32, 2)
    on_roller = roller(patches["round"], lies)

    camera = Camera(size, FOCAL, TILT, roll=0.05, aperture_mm=0.4)
    around = [(x, y, 0) for x in (-66, 68) for y in (-56, 50)]
    camera.fit(around, 0.92)
    camera.focus([0, 0, 5])
    bpy.context.view_layer.update()

    def seen(points):
        return [[round(float(v) + 0.5, 3) for v in p] for p in camera.project(points)]

    x0, y0, x1, y1 = FACE
    face = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    truth = {
        "width": size[0],
        "height": size[1],
        "focal": FOCAL / SENSOR * max(size),
        "lens": float(camera.place[2] - FLUSH),
        "card": {"width": CARD[0], "height": CARD[1], "corners": seen(corners)},
        "face": {"outline": seen(on_plate(face)), "area": area_of(face),
                 "damaged": area_of(within(patches["flush"], *FACE))},
        "roller": {"diameter": ROLLER, "axis": ROLLER / 2 - FLUSH,
                   "middle": [[round(float(v) + 0.5, 3) for v in p] for p in silhouettes(camera, lies)]},
        "rise": RISE,
        "patches": {},
    }  # fmt: skip
    for (name, at), place in zip(patches.items(), (on_plate, on_block, on_roller)):
        truth["patches"][name] = measures(at) | {"outline": seen(place(at))}
    out = "/tmp/measured-preview" if preview else HERE
    os.makedirs(out, exist_ok=True)
    with open(os.path.join(out, "bench.json"), "w", encoding="utf-8") as file:
        json.dump(truth, file)
        file.write("\n")
    with tempfile.TemporaryDirectory() as scratch:
        image = development.denoise(development.render(size, 6 if preview else SAMPLES, scratch))
    photo = development.finish(development.expose(image, white, 0.0), SEED)
    development.save_jpeg(photo, os.path.join(out, "bench.jpg"), 420_000)
    if preview:
        for shape in [truth["card"]["corners"], truth["face"]["outline"]] + [p["outline"] for p in truth["patches"].values()]:
            cv2.polylines(photo, [np.int32(np.round((np.array(shape) - 0.5) * 16))], True, (0, 0, 255), 1, cv2.LINE_AA, 4)
        middle = (np.int32((np.array(truth["roller"]["middle"]) - 0.5) * 16))
        cv2.line(photo, tuple(map(int, middle[0])), tuple(map(int, middle[1])), (0, 255, 0), 1, cv2.LINE_AA, 4)
        cv2.imwrite(os.path.join(out, "over.png"), photo)


main()
