"""EXIF data as a phone writes it, through exiftool; the pixels are not touched."""

import subprocess


def write(path, shot, size):
    """size is (width, height) of the stored pixels."""
    time = shot.taken.replace("-", ":")
    tags = {
        "Make": "Example",
        "Model": "Bench Cam",
        "Orientation": shot.orientation,
        "DateTimeOriginal": time,
        "CreateDate": time,
        "ModifyDate": time,
        "SubSecTimeOriginal": "%03d" % (shot.seed * 37 % 1000),
        "FNumber": 1.9,
        "ExposureTime": 1 / (50 + shot.seed * 13 % 90),
        "ISO": 64 + shot.seed * 37 % 300,
        "FocalLength": 6.8,
        "FocalLengthIn35mmFormat": shot.focal,
        "DigitalZoomRatio": round(shot.focal / 26, 2),
        "EXIF:Flash": 16,  # without the group exiftool writes XMP, which such a phone does not
        "MeteringMode": 5,
        "WhiteBalance": 0,
        "ColorSpace": 1,
        "ExifImageWidth": size[0],
        "ExifImageHeight": size[1],
        "Software": "rendered scene",
    }
    if shot.zone:
        tags.update(OffsetTime=shot.zone, OffsetTimeOriginal=shot.zone, OffsetTimeDigitized=shot.zone)
    arguments = ["-%s=%s" % item for item in tags.items()]
    subprocess.run(["exiftool", "-q", "-overwrite_original", "-n", *arguments, path], check=True)
