"""Closed, wobbly outlines on a surface: pits, dents, spalled patches, stains.

Everything is in millimetres of the surface's own (u, v) coordinates, so that an
outline stays the same however the part is turned or photographed."""

import math

import numpy as np


class Blob:
    """A star-shaped outline with the area of a circle of diameter `size`."""

    def __init__(self, u, v, size, rng, rough=0.08, aspect=1.0, rotation=0.0, lobes=7, depth=None):
        self.u, self.v, self.size, self.depth = u, v, size, depth
        angle = np.linspace(0, 2 * np.pi, 360, endpoint=False)
        radius = np.ones_like(angle)
        for k in range(2, lobes + 1):
            radius += rough * rng.normal() / k**0.9 * np.cos(k * angle + rng.uniform(0, 2 * np.pi))
        radius = np.maximum(radius, 0.45)
        du = radius * np.cos(angle) * math.sqrt(aspect)
        dv = radius * np.sin(angle) / math.sqrt(aspect)
        c, s = math.cos(rotation), math.sin(rotation)
        du, dv = c * du - s * dv, s * du + c * dv
        area = 0.5 * abs(np.sum(du * np.roll(dv, -1) - np.roll(du, -1) * dv))
        scale = size / 2 * math.sqrt(math.pi / area)
        self._du, self._dv = du * scale, dv * scale
        self.reach = float(np.hypot(self._du, self._dv).max())
        # A polar table answers "how far out is this point" without any polygon test.
        polar = np.arctan2(self._dv, self._du)
        order = np.argsort(polar)
        self._polar, self._radius = polar[order], np.hypot(self._du, self._dv)[order]

    def outline(self, corners=72):
        """(corners, 2) points on the rim."""
        i = np.linspace(0, len(self._du), corners, endpoint=False).astype(int)
        return np.stack([self._du[i] + self.u, self._dv[i] + self.v], 1)

    def distance(self, u, v):
        """How far out (u, v) lies: 0 in the middle, 1 on the rim; and the rim's
        radius in that direction in mm."""
        du, dv = u - self.u, v - self.v
        rim = np.interp(np.arctan2(dv, du), self._polar, self._radius, period=2 * np.pi)
        return np.hypot(du, dv) / rim, rim


def scatter(rng, count, bounds, sizes, centres, spread, gap=0.3, rough=0.15, avoid=None):
    """Pits that do not overlap, most of them gathered round `centres`.

    bounds (u0, u1, v0, v1) keeps them on the surface; sizes (smallest, largest) are
    drawn log-uniformly, as small pits are the commoner; avoid(u, v, reach) -> bool."""
    u0, u1, v0, v1 = bounds
    pits = []
    for _ in range(count * 400):
        if len(pits) == count:
            break
        size = math.exp(rng.uniform(math.log(sizes[0]), math.log(sizes[1])))
        cu, cv = centres[rng.integers(len(centres))]
        u, v = cu + rng.normal() * spread[0], cv + rng.normal() * spread[1]
        pit = Blob(u, v, size, rng, rough=rough, aspect=math.exp(rng.normal() * 0.2), rotation=rng.uniform(0, math.pi))
        inside = u0 + pit.reach < u < u1 - pit.reach and v0 + pit.reach < v < v1 - pit.reach
        if not inside or (avoid and avoid(u, v, pit.reach)):
            continue
        if any(math.hypot(u - o.u, v - o.v) < pit.reach + o.reach + gap for o in pits):
            continue
        pits.append(pit)
    return pits


class Region:
    """A damaged area given by its corners, where no single outline is sunk into the metal:
    a band of scores, for instance."""

    def __init__(self, corners):
        self._corners = np.asarray(corners, float)

    def outline(self, corners=72):
        """The corners as they are; the number asked for is of no use to a polygon."""
        return self._corners


def ring_sector(inner, outer, start, stop, corners=24):
    """Region of a flat ring between two radii and two angles (radians)."""
    t = np.linspace(start, stop, corners)
    out = np.stack([outer * np.cos(t), outer * np.sin(t)], 1)
    back = np.stack([inner * np.cos(t[::-1]), inner * np.sin(t[::-1])], 1)
    return Region(np.concatenate([out, back]))
