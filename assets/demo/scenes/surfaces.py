"""Functional surfaces as functions of (u, v): a cone or bore, a tooth flank, a flat face.

`points` gives places in the part's frame (axis X) for arrays u and v in mm; `normals`
points out of the metal. Marks and meshes both come from here, so they always agree."""

import math

import numpy as np


class Surface:
    inward = False

    def points(self, u, v):
        raise NotImplementedError

    def normals(self, u, v):
        """By central differences, which serves a helical flank as well as a cylinder."""
        e = 1e-3
        du = self.points(u + e, v) - self.points(u - e, v)
        dv = self.points(u, v + e) - self.points(u, v - e)
        n = np.cross(dv, du) if self.inward else np.cross(du, dv)
        return n / np.linalg.norm(n, axis=1, keepdims=True)


class Cone(Surface):
    """Round surface from (x0, r0) to (x1, r1): u along the slant, v round it (arc at the
    mean radius, 0 at angle 0). With r0 = r1 a journal; inward makes it a bore."""

    def __init__(self, x0, r0, x1, r1, inward=False):
        self.x0, self.r0, self.inward = x0, r0, inward
        self.slant = math.hypot(x1 - x0, r1 - r0)
        self.cos, self.sin = (x1 - x0) / self.slant, (r1 - r0) / self.slant
        self.mean_radius = (r0 + r1) / 2
        self.circumference = 2 * math.pi * self.mean_radius

    def points(self, u, v):
        angle = v / self.mean_radius
        r = self.r0 + u * self.sin
        return np.stack([self.x0 + u * self.cos, r * np.cos(angle), r * np.sin(angle)], -1)

    def normals(self, u, v):
        return -super().normals(u, v)


class Flank(Surface):
    """Right flank of tooth 0 of a gear whose width begins at x0: u is the involute's arc
    length from the form radius, v the way along X from x0."""

    def __init__(self, gear, x0, width, chamfer):
        self.gear, self.x0 = gear, x0
        self.low, self.high = chamfer, width - chamfer
        rb = gear.base_radius
        self._start = (gear.form_radius**2 - rb**2) / (2 * rb)
        self.length = (gear.flank_tip_radius**2 - rb**2) / (2 * rb) - self._start
        self.pitch_line = (gear.pitch_radius**2 - rb**2) / (2 * rb) - self._start

    def points(self, u, v):
        rb = self.gear.base_radius
        r = np.sqrt(rb * rb + 2 * rb * (np.maximum(u + self._start, 0)))
        angle = -self.gear.half_tooth(r) + self.gear.twist * v
        return np.stack([self.x0 + v, r * np.cos(angle), r * np.sin(angle)], -1)


class Disc(Surface):
    """Flat face at x, looking along +X: u is Y and v is Z of the part."""

    def __init__(self, x):
        self.x = x

    def points(self, u, v):
        return np.stack([np.full_like(u, self.x), u, v], -1)
