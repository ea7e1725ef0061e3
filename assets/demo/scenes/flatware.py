"""Flat things laid beside the part: a steel rule, a white card, a hand-written slip."""

import cv2
import numpy as np

import materials
import meshes
import noise

RES = 20  # texture px per mm


class Rule:
    """A steel rule, engraved in millimetres, its top face at height z of the placement.

    Its own frame: origin at the zero end and the graduated edge, x along it."""

    THICKNESS, MARGIN = 0.9, 6.0

    def __init__(self, length, placement, z, seed, width=19.0):
        self.length, self.width, self.z = length, width, z
        self._placement = np.asarray(placement)
        w, x0, x1 = width, -self.MARGIN, length + self.MARGIN
        face = materials.printed("rule", _rule_picture(length, self.MARGIN, w, seed), rough=0.33, metallic=0.85)
        top = [(x0, 0, z), (x1, 0, z), (x1, w, z), (x0, w, z)]
        uv = [(0, 0), (1, 0), (1, 1), (0, 1)]
        meshes.add("rule", top, [(0, 1, 2, 3)], face, placement, uv, smooth_angle=0)
        side = materials.plain("rule side", (0.4, 0.4, 0.39), 0.35, 1.0)
        vertices = top + [(x, y, z - self.THICKNESS) for x, y, _ in top]
        walls = [(i, i + 4, (i + 1) % 4 + 4, (i + 1) % 4) for i in range(4)]
        meshes.add("rule side", vertices, walls, side, placement, smooth_angle=0)

    def graduation(self, millimetres):
        """World place of a graduation, in the middle of its engraved line."""
        return self.places([(x, 2.0) for x in np.atleast_1d(millimetres)])

    def places(self, at):
        """World places of (x, y) on its top face."""
        x, y = np.asarray(at, float).T
        return (self._placement @ np.stack([x, y, np.full_like(x, self.z), np.ones_like(x)]))[:3].T

    def corners(self):
        x0, x1 = -self.MARGIN, self.length + self.MARGIN
        local = np.array([(x, y, self.z, 1) for x in (x0, x1) for y in (0, self.width)]).T
        return (self._placement @ local)[:3].T


def _rule_picture(length, margin, width, seed):
    """Linear colours of the rule's top, rows from the far edge to the graduated one."""
    rows, columns = int(width * RES), int((length + 2 * margin) * RES)
    steel = 0.50 + 0.035 * noise.fractal((rows, columns), (0.15 * RES, 30 * RES), seed, 3, 0.7)
    ink = np.zeros((rows, columns), np.float32)

    def line(x, from_edge, long, thick=0.16):
        c0, c1 = round((margin + x - thick / 2) * RES), round((margin + x + thick / 2) * RES)
        r1, r0 = rows - round(from_edge * RES), rows - round((from_edge + long) * RES)
        ink[r0:r1, c0:c1] = 1

    for mm in range(length + 1):
        line(mm, 0, 8.0 if mm % 10 == 0 else 6.2 if mm % 5 == 0 else 4.4)
        if mm % 10 == 0 and mm:
            text = str(mm)
            size, thick = 2.5 * RES / 22, round(0.22 * RES)
            (w, h), _ = cv2.getTextSize(text, cv2.FONT_HERSHEY_SIMPLEX, size, thick)
            # Numbers stand to the left of their line, as on most rules.
            x = (margin + mm) * RES - w - 0.4 * RES
            y = rows - round(8.7 * RES) + h
            cv2.putText(ink, text, (round(x), round(y)), cv2.FONT_HERSHEY_SIMPLEX, size, 1.0, thick, cv2.LINE_AA)
    for half_mm in range(2 * length + 1):  # half millimetres along the far edge
        x = half_mm / 2
        line(x, width - (4.6 if half_mm % 10 == 0 else 3.4 if half_mm % 2 == 0 else 2.3), 9, 0.12)
    centre = (round((margin + length + margin - 3.4) * RES), rows // 2)
    cv2.circle(ink, centre, round(2.2 * RES), 1.0, -1, cv2.LINE_AA)  # the hole it hangs by
    wear = np.clip(0.93 + 0.25 * noise.fractal((rows, columns), 6 * RES, seed + 1, 4, 0.6), 0.55, 1)
    grime = noise.ramp(noise.fractal((rows, columns), 14 * RES, seed + 2, 5, 0.6), 0.1, 0.7) * 0.4
    ink = cv2.GaussianBlur(ink, (0, 0), 0.7) * wear
    colour = np.repeat(steel[..., None], 3, 2) * np.float32([1, 0.99, 0.97])
    colour = noise.blend(colour, [0.26, 0.20, 0.14], grime)
    return noise.blend(colour, [0.02, 0.02, 0.02], ink)


def white_card(placement, z, seed, side=50.0):
    """A blank white card, a size reference and a neutral for the eye."""
    _paper("card", side, side, placement, z, np.zeros((round(side * 10), round(side * 10)), np.float32), seed, curl=0.0)


def slip(text, placement, z, seed, width=92.0, height=30.0):
    """A paper slip for the tray, written on with a marker."""
    res = 14
    _paper("slip", width, height, placement, z, _handwriting(text, width, height, res, seed), seed, curl=1.6)


def _paper(name, width, height, placement, z, ink, seed, curl):
    rows, columns = ink.shape
    smudge = np.clip((noise.fractal((rows, columns), rows / 2, seed, 5, 0.55) - 0.25) * 0.9, 0, 0.14)
    colour = 0.78 * np.float32([1, 0.985, 0.955]) * (1 - smudge[..., None] * np.float32([0.5, 0.6, 0.75]))
    colour = noise.blend(colour, [0.02, 0.022, 0.045], ink)
    material = materials.printed(name, colour, rough=0.6)
    n = 24
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(0, width, n), np.linspace(0, height, n), indexing="ij"))
    lift = curl * ((x / width - 0.45) ** 2 * 1.6 + 0.25 * (x / width) * (y / height) ** 2)
    points = np.stack([x, y, z + 0.25 + lift], 1)
    i, j = (a.ravel() for a in np.meshgrid(np.arange(n - 1), np.arange(n - 1), indexing="ij"))
    faces = np.stack([i * n + j, (i + 1) * n + j, (i + 1) * n + j + 1, i * n + j + 1], 1)
    meshes.add(name, points, faces, material, placement, np.stack([x / width, y / height], 1), smooth_angle=0)


def _handwriting(text, width, height, res, seed):
    """Ink 0..1. A stroke font, each letter a little off, then the whole line bent: no font
    file is needed, and it reads as block letters written in a hurry."""
    rng = np.random.default_rng(seed)
    rows, columns = round(height * res), round(width * res)
    ink = np.zeros((rows, columns), np.float32)
    font, thick = cv2.FONT_HERSHEY_SIMPLEX, round(0.95 * res)
    unit = cv2.getTextSize(text, font, 1.0, thick)[0][0]
    size = min(0.90 * columns / unit, 0.52 * rows / 21)
    x, base = 0.07 * columns, 0.64 * rows
    for letter in text:
        scale = size * rng.uniform(0.92, 1.08)
        y = base + rng.normal() * 0.012 * rows - 0.0006 * (x - columns / 2) * res / 14
        cv2.putText(ink, letter, (round(x), round(y)), font, scale, 1.0, thick, cv2.LINE_AA)
        x += cv2.getTextSize(letter, font, size, 1)[0][0] * rng.uniform(0.90, 0.99)
    yy, xx = np.mgrid[0:rows, 0:columns].astype(np.float32)
    dx = noise.fractal((rows, columns), 5 * res, seed + 1, 3, 0.5) * 0.55 * res
    dy = noise.fractal((rows, columns), 6 * res, seed + 2, 3, 0.5) * 0.65 * res
    slant = 0.14 * (yy - rows / 2)
    bent = cv2.remap(ink, xx + dx + slant, yy + dy, cv2.INTER_LINEAR)
    dry = np.clip(0.96 + 0.3 * noise.fractal((rows, columns), 1.2 * res, seed + 3, 3, 0.7), 0.6, 1)
    return cv2.GaussianBlur(bent, (0, 0), 0.9) * dry
