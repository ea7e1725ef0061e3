"""Solids of revolution and toothed extrusions as vertices and quads. The part's axis is X, units mm."""

import math
from dataclasses import dataclass

import numpy as np


def involute(angle):
    return math.tan(angle) - angle


@dataclass(frozen=True)
class Gear:
    """An involute gear, also used for splines and engagement teeth."""

    module: float
    teeth: int
    pressure_angle: float = 20.0
    helix: float = 0.0  # degrees
    addendum: float = 1.0  # in modules
    dedendum: float = 1.25
    flank_points: int = 14
    root_points: int = 5

    @property
    def pitch_radius(self):
        return self.module * self.teeth / 2

    @property
    def base_radius(self):
        return self.pitch_radius * math.cos(math.radians(self.pressure_angle))

    @property
    def tip_radius(self):
        return self.pitch_radius + self.addendum * self.module

    @property
    def root_radius(self):
        return self.pitch_radius - self.dedendum * self.module

    @property
    def form_radius(self):
        """Where the fillet ends and the involute begins."""
        lowest = self.base_radius * 1.001 if self.base_radius > self.root_radius else 0
        return max(self.root_radius + 0.30 * self.module, lowest)

    @property
    def flank_tip_radius(self):
        """Where the involute ends and the tip chamfer begins."""
        return self.tip_radius - 0.06 * self.module

    @property
    def twist(self):
        """Radians of helix per mm of width."""
        return math.tan(math.radians(self.helix)) / self.pitch_radius

    def half_tooth(self, radius):
        """Half the angular thickness of a tooth; constant below the base circle. Works on arrays."""
        alpha = math.radians(self.pressure_angle)
        a = np.arccos(np.clip(self.base_radius / np.maximum(radius, self.base_radius), -1, 1))
        backlash = 0.02 * self.module / self.pitch_radius
        return math.pi / (2 * self.teeth) - backlash + involute(alpha) - (np.tan(a) - a)

    def profile(self):
        """Closed (n, 2) polygon of (radius, angle); tooth 0 is centred on angle 0 and
        its points are root fillet, right flank, tip, left flank, fillet."""
        r0, rf, ra = self.form_radius, self.root_radius, self.tip_radius
        radii = np.linspace(r0, self.flank_tip_radius, self.flank_points)
        halves = self.half_tooth(radii)
        tip = max(halves[-1] - 0.06 * self.module / ra, halves[-1] * 0.4)
        gap = math.pi / self.teeth - halves[0]
        quarter = np.linspace(0, 1, self.root_points) * math.pi / 2
        fillet = [(rf + (r0 - rf) * (1 - math.cos(a)), -halves[0] - gap * (1 - math.sin(a)) * 0.98) for a in quarter]
        right = [(r, -h) for r, h in zip(radii, halves)]
        land = [(ra, s * tip) for s in np.linspace(-1, 1, 4)]
        left = [(r, -angle) for r, angle in reversed(fillet + right)]
        tooth = np.array(fillet + right + land + left)
        turns = np.arange(self.teeth) * 2 * math.pi / self.teeth
        return np.concatenate([tooth + [0, turn] for turn in turns])


def extrude(gear, x0, x1, inner_radius, rings=12, chamfer=0.5, omit_flank=False):
    """A toothed ring from x0 to x1 with end faces down to inner_radius. omit_flank leaves
    the right flank of tooth 0 open, for a dense surface to be set in its place."""
    profile = gear.profile()
    n = len(profile)
    xs = np.concatenate([[x0], np.linspace(x0 + chamfer, x1 - chamfer, rings), [x1]])
    last = len(xs) - 1
    vertices = []
    for i, x in enumerate(xs):
        r = profile[:, 0] - (chamfer if i in (0, last) else 0)
        t = profile[:, 1] + gear.twist * (x - x0)
        vertices.append(np.stack([np.full(n, x), r * np.cos(t), r * np.sin(t)], 1))
    a = np.arange(n)
    b = (a + 1) % n
    on_flank = (a >= gear.root_points) & (a < gear.root_points + gear.flank_points - 1)
    faces = []
    for i in range(last):
        keep = ~on_flank if omit_flank and 0 < i < last - 1 else np.ones(n, bool)
        quad = np.stack([i * n + a, i * n + b, (i + 1) * n + b, (i + 1) * n + a], 1)
        faces.append(quad[keep])
    for i, x in ((0, x0), (last, x1)):
        base = sum(len(v) for v in vertices)
        t = profile[:, 1] + gear.twist * (x - x0)
        vertices.append(np.stack([np.full(n, x), inner_radius * np.cos(t), inner_radius * np.sin(t)], 1))
        quad = np.stack([base + a, base + b, i * n + b, i * n + a], 1)
        faces.append(quad if i == 0 else quad[:, ::-1])
    return np.concatenate(vertices), np.concatenate(faces)


def lathe(profile, segments=256):
    """Revolve a chain of (x, radius) points about X."""
    p = np.asarray(profile, float)
    t = np.linspace(0, 2 * np.pi, segments, endpoint=False)
    vertices = np.stack(
        [np.repeat(p[:, 0], segments), np.outer(p[:, 1], np.cos(t)).ravel(), np.outer(p[:, 1], np.sin(t)).ravel()], 1
    )
    return vertices, grid_faces(len(p), segments, closed=True)


def sector(profile, start, stop, segments=24):
    """Revolve a closed profile from angle start to stop (radians) and close both ends.
    The profile has four corners, so that the ends are quads."""
    p = np.asarray(list(profile) + [profile[0]], float)
    t = np.linspace(start, stop, segments)
    vertices = np.stack(
        [np.repeat(p[:, 0], segments), np.outer(p[:, 1], np.cos(t)).ravel(), np.outer(p[:, 1], np.sin(t)).ravel()], 1
    )
    ends = [[k * segments + e for k in range(4)] for e in (0, segments - 1)]
    return vertices, np.concatenate([grid_faces(5, segments), [ends[0], ends[1][::-1]]])


def grid_faces(rows, columns, closed=False):
    """Quads of a rows x columns grid; closed joins the last column to the first."""
    i = np.arange(rows - 1)[:, None]
    j = np.arange(columns if closed else columns - 1)[None, :]
    k = (j + 1) % columns
    return np.stack([i * columns + j, (i + 1) * columns + j, (i + 1) * columns + k, i * columns + k], -1).reshape(-1, 4)


def stepped(steps, chamfer=0.6):
    """Chain of (x, radius) for steps [(x0, x1, radius)], outer shoulders chamfered.
    A shaft with sharp shoulders looks like a computer drawing."""
    chain = []
    for k, (x0, x1, radius) in enumerate(steps):
        before = steps[k - 1][2] if k else 0
        after = steps[k + 1][2] if k + 1 < len(steps) else 0
        chain += [(x0, radius - chamfer), (x0 + chamfer, radius)] if radius > before + 0.2 else [(x0, radius)]
        chain += [(x1 - chamfer, radius), (x1, radius - chamfer)] if radius > after + 0.2 else [(x1, radius)]
    return chain
