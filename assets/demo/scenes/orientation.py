"""EXIF orientation: how a picture is stored when the phone was held another way."""

import numpy as np

UPRIGHT, UPSIDE_DOWN, TURN_RIGHT, TURN_LEFT = 1, 3, 6, 8


def is_portrait(orientation):
    """Whether the picture as looked at stands upright while its file lies."""
    return orientation in (TURN_RIGHT, TURN_LEFT)


def store(picture, orientation):
    """Turn an upright picture into the pixels of the file."""
    turns = {UPRIGHT: 0, UPSIDE_DOWN: 2, TURN_RIGHT: 1, TURN_LEFT: -1}[orientation]
    return np.ascontiguousarray(np.rot90(picture, turns))


def stored_hundredths(pixels, upright_size, orientation):
    """Upright px (whole = pixel centre) -> whole hundredths of a stored pixel, where (0, 0)
    is the outer corner of the file's first pixel."""
    width, height = upright_size
    x, y = np.asarray(pixels, float).T + 0.5  # from pixel centres to the outer corner
    x, y = {
        UPRIGHT: (x, y),
        UPSIDE_DOWN: (width - x, height - y),
        TURN_RIGHT: (y, width - x),
        TURN_LEFT: (height - y, x),
    }[orientation]
    return np.round(np.stack([x, y], 1) * 100).astype(int).tolist()
