"""What every scene has in common: the stage that it returns, and what lies beside the part."""

from dataclasses import dataclass, field

import numpy as np

import flatware
import placing


@dataclass
class Stage:
    """What a scene built. frame: world points to take in; face: boundary of the surface the
    photo is about (world, may be None); working: that of its working face, where all of it
    is seen; focus: world point; damage: {kind: blobs} on surface, which lies at placement."""

    frame: np.ndarray
    rule: flatware.Rule
    focus: np.ndarray
    fill: float = 0.90
    face: np.ndarray = None
    working: np.ndarray = None
    surface: object = None
    placement: np.ndarray = None
    damage: dict = field(default_factory=dict)


def patch(surface, placement, u0, u1, v0, v1, n=30):
    """World points along the edge of a rectangle of the surface."""
    t = np.linspace(0, 1, n)
    one = np.ones(n)
    u = np.concatenate([u0 + (u1 - u0) * t, u1 * one, u1 + (u0 - u1) * t, u0 * one])
    v = np.concatenate([v0 * one, v0 + (v1 - v0) * t, v1 * one, v1 + (v0 - v1) * t])
    return placing.to_world(placement, surface.points(u, v))


def note(shot, x, y, turn, width=92.0, z=0.0):
    """The slip of the part's tray; returns its corners for the frame."""
    place = placing.flat(x, y, turn)
    flatware.slip(shot.label, place, z, shot.part_seed + 7, width=width, height=width / 3)
    return placing.to_world(place, [(a, b, z) for a in (0, width) for b in (0, width / 3)])


def card(shot, x, y, turn, z=0.0):
    place = placing.flat(x, y, turn)
    flatware.white_card(place, z, shot.seed)
    return placing.to_world(place, [(a, b, z) for a in (0, 50) for b in (0, 50)])
