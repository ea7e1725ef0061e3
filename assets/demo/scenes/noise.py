"""Fractal value noise on a pixel grid: the raw material of stains, grain and dirt."""

import cv2
import numpy as np


def fractal(shape, cell, seed, octaves=4, gain=0.5):
    """Noise of about -1..1. cell is the size in pixels of the coarsest blotches,
    one number or (rows, columns) for noise that is drawn out in one direction."""
    rng = np.random.default_rng(seed)
    height, width = shape
    cell_y, cell_x = (cell, cell) if np.isscalar(cell) else cell
    total = np.zeros(shape, np.float32)
    amplitude, weight = 1.0, 0.0
    for _ in range(octaves):
        grid = (max(2, int(height / cell_y) + 2), max(2, int(width / cell_x) + 2))
        coarse = rng.uniform(-1, 1, grid).astype(np.float32)
        total += amplitude * cv2.resize(coarse, (width, height), interpolation=cv2.INTER_CUBIC)
        weight += amplitude
        amplitude *= gain
        cell_y, cell_x = max(1, cell_y / 2), max(1, cell_x / 2)
    return total / weight


def ramp(values, low, high):
    """Linear 0..1 between low and high, clipped."""
    return np.clip((values - low) / (high - low), 0, 1)


def blend(colour, other, amount):
    """Mix a colour map towards one colour; amount is a map of 0..1."""
    return colour * (1 - amount[..., None]) + np.float32(other) * amount[..., None]
