#!/bin/sh
# Render every photo of the demo, one after the other, at low priority; or only those named.
# usage: ./render_all.sh [NAME...]
set -eu
cd "$(dirname "$0")"
PYTHONDONTWRITEBYTECODE=1
export PYTHONDONTWRITEBYTECODE
[ $# -gt 0 ] || set -- $(python3 -c 'import json; [print(e["file"][7:-4]) for e in json.load(open("../photos.json"))]')
for name in "$@"; do
    nice -n 19 blender -b -noaudio --python-exit-code 1 -P render.py -- "$name" | grep DONE
done
