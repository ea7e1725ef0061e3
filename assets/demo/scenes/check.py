"""Check ../photos.json against the photos and draw every outline over the stored pixels.

    /usr/bin/python3 check.py OUT_DIR

Prints one line a photo and exits 1 when something is wrong. Look at the pictures in OUT_DIR."""

import json
import os
import subprocess
import sys

import cv2
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
DEMO = os.path.join(HERE, "..")
MAX_TOTAL = 10_500_000
CORNERS = range(6, 25)


def main():
    out = sys.argv[1]
    os.makedirs(out, exist_ok=True)
    with open(os.path.join(DEMO, "photos.json"), encoding="utf-8") as file:
        entries = json.load(file)
    wrong, total = [], 0
    for entry in entries:
        path = os.path.join(DEMO, entry["file"])
        total += os.path.getsize(path)
        picture = cv2.imread(path, cv2.IMREAD_COLOR | cv2.IMREAD_IGNORE_ORIENTATION)
        tags = _tags(path)
        wrong += ["%s: %s" % (entry["file"], problem) for problem in _problems(entry, picture, tags)]
        cv2.imwrite(os.path.join(out, os.path.basename(path)), _drawn(picture, entry))
        taken = tags["DateTimeOriginal"] + tags.get("OffsetTimeOriginal", " (no zone)")
        print("%-34s %4d kB  %dx%d  orientation %d  %s  %s" % (
            os.path.basename(path), os.path.getsize(path) / 1000, entry["width"], entry["height"], entry["orientation"],
            taken, ", ".join("%s (%d)" % (m["damage"], len(m["outline"])) for m in entry["marks"]) or "-",
        ))  # fmt: skip
    if total > MAX_TOTAL:
        wrong.append("the photos take %d bytes, more than %d" % (total, MAX_TOTAL))
    print("%d photos, %.2f MB" % (len(entries), total / 1e6))
    for problem in wrong:
        print("WRONG", problem)
    sys.exit(bool(wrong))


def _tags(path):
    return json.loads(subprocess.check_output(["exiftool", "-json", "-n", path]))[0]


def _problems(entry, picture, tags):
    size = (entry["width"], entry["height"])
    if picture.shape[1::-1] != size:
        yield "the file is %dx%d, the index says %dx%d" % (*picture.shape[1::-1], *size)
    if tags["Orientation"] != entry["orientation"]:
        yield "orientation %s in the file, %s in the index" % (tags["Orientation"], entry["orientation"])
    limit = np.array(size) * 100
    for mark in entry["marks"]:
        outline = np.array(mark["outline"])
        if len(outline) not in CORNERS:
            yield "an outline of %d corners" % len(outline)
        if (outline < 0).any() or (outline > limit).any():
            yield "an outline leaves the picture"
    if "scale_reference" not in entry:
        yield "no scale reference"


def _drawn(picture, entry):
    """Everything of the index in bright lines; hundredths of a pixel from the outer corner."""
    picture = picture.copy()

    def fixed_point(points):  # what OpenCV's drawing with 4 fractional bits wants
        return np.int32(np.round((np.array(points) / 100 - 0.5) * 16))

    for mark in entry["marks"]:
        cv2.polylines(picture, [fixed_point(mark["outline"])], True, (0, 255, 0), 2, cv2.LINE_AA, 4)
    if "scale_reference" in entry:
        a, b = fixed_point(entry["scale_reference"]["points"])
        for end in (a, b):
            cv2.circle(picture, tuple(int(c) for c in end), 12 * 16, (255, 0, 255), 2, cv2.LINE_AA, 4)
    return picture


main()
