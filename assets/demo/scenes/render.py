"""Render one photo of the demo, or only work out its entry in the index.

    blender -b -noaudio -P render.py -- NAME [--preview DIR] [--index-only]

NAME is one of shots.SHOTS. The photo goes to ../photos, its entry to ../photos.json."""

import argparse
import json
import os
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, HERE)

import development  # noqa: E402  must come first: it tells OpenCV to read EXR
import bpy  # noqa: E402

import exif  # noqa: E402
import marks  # noqa: E402
import orientation  # noqa: E402
import workshop  # noqa: E402
from camera import Camera  # noqa: E402
from shots import SHOTS  # noqa: E402

SAMPLES, MAX_BYTES = 15, 640_000
PREVIEW_SIZE, PREVIEW_SAMPLES = (640, 480), 6


def main():
    options = _options()
    shot = SHOTS[options.name]
    size, samples = (PREVIEW_SIZE, PREVIEW_SAMPLES) if options.preview else (shot.size, SAMPLES)
    folder = options.preview or os.path.join(HERE, "..", "photos")
    os.makedirs(folder, exist_ok=True)
    index = os.path.join(options.preview or os.path.join(HERE, ".."), "photos.json")
    path = os.path.join(folder, shot.name + ".jpg")
    started = time.time()

    upright = size[::-1] if orientation.is_portrait(shot.orientation) else size
    white, stage, camera = _set_up(shot, upright)
    _record(index, _entry(shot, stage, camera, size))
    if not options.index_only:
        with tempfile.TemporaryDirectory() as scratch:
            image = development.denoise(development.render(upright, samples, scratch))
        face = None if stage.face is None else camera.project(stage.face)
        picture = development.finish(development.expose(image, white, shot.stops, face), shot.seed)
        development.save_jpeg(orientation.store(picture, shot.orientation), path, MAX_BYTES)
        exif.write(path, shot, size)
    print("DONE %s in %.0f s" % (shot.name, time.time() - started))


def _options():
    parser = argparse.ArgumentParser(prog="render.py")
    parser.add_argument("name", choices=sorted(SHOTS))
    parser.add_argument("--preview", metavar="DIR", help="a small, noisy picture and its own index into DIR")
    parser.add_argument("--index-only", action="store_true", help="do not render: only the entry in the index")
    return parser.parse_args(sys.argv[sys.argv.index("--") + 1 :])


def _set_up(shot, size):
    bpy.ops.wm.read_factory_settings(use_empty=True)
    bpy.context.scene.render.engine = "CYCLES"
    workshop.bench(shot.bench, shot.seed)
    white = workshop.light(shot.seed + 31, shot.light, shot.windows)
    stage = shot.scene(shot)
    camera = Camera(size, shot.focal, shot.tilt, roll=shot.roll, aperture_mm=shot.aperture_mm)
    camera.fit(stage.frame, stage.fill)
    camera.focus(stage.focus)
    bpy.context.view_layer.update()
    return white, stage, camera


def _entry(shot, stage, camera, stored_size):
    def stored(pixels):
        return orientation.stored_hundredths(pixels, camera.size, shot.orientation)

    entry = {
        "file": "photos/%s.jpg" % shot.name,
        "core": shot.core,
        "place": shot.place,
        "surface": shot.surface,
        "stage": shot.stage,
        "orientation": shot.orientation,
        "width": stored_size[0],
        "height": stored_size[1],
        "marks": [],
    }
    for damage, blobs in stage.damage.items() if shot.marked else ():
        seen = marks.seen(camera, stage.surface, stage.placement, blobs)
        corners = marks.outline(camera, seen)
        if corners is not None:
            entry["marks"].append({"damage": damage, "outline": stored(corners)})
    if shot.marked and stage.working is not None:
        entry["face"] = stored(marks.around(camera, stage.working))
    edges = marks.rule_edges(camera, stage.rule)
    if edges:
        points, length, width = edges
        entry["rule_edges"] = {"points": stored(points), "mm": [length, width]}
    reference = marks.scale_reference(camera, stage.rule)
    if reference:
        points, length = reference
        entry["scale_reference"] = {"points": stored(points), "mm": length}
    return entry


def _record(index, entry):
    """Put the entry into the index in the order of SHOTS, in place of an older one."""
    entries = {}
    if os.path.exists(index):
        with open(index, encoding="utf-8") as file:
            entries = {e["file"]: e for e in json.load(file)}
    entries[entry["file"]] = entry
    order = ["photos/%s.jpg" % name for name in SHOTS]
    listed = [entries[name] for name in order if name in entries]
    with open(index, "w", encoding="utf-8") as file:
        file.write("[\n" + ",\n".join(json.dumps(e) for e in listed) + "\n]\n")


main()
