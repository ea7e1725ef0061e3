"""Where a part lies: 4 x 4 matrices from the part's frame (axis X) to the bench (Z up)."""

import math

import numpy as np


def shift(x, y, z):
    m = np.eye(4)
    m[:3, 3] = x, y, z
    return m


def turn_z(degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    m = np.eye(4)
    m[:2, :2] = [[c, -s], [s, c]]
    return m


def roll_x(degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    m = np.eye(4)
    m[1:3, 1:3] = [[c, -s], [s, c]]
    return m


# A part stood on end: its axis points up, or down.
AXIS_UP = np.array([[0, 1, 0, 0], [0, 0, 1, 0], [1, 0, 0, 0], [0, 0, 0, 1.0]])
AXIS_DOWN = np.array([[0, 1, 0, 0], [0, 0, -1, 0], [-1, 0, 0, 0], [0, 0, 0, 1.0]])


def flat(x, y, degrees=0.0):
    """For things that lie on the bench: their corner at (x, y), turned."""
    return shift(x, y, 0) @ turn_z(degrees)


def towards_camera(tilt, azimuth=-90.0):
    """Unit vector from the bench to a camera that looks down at this tilt from the vertical."""
    t, a = math.radians(tilt), math.radians(azimuth)
    return np.array([math.sin(t) * math.cos(a), math.sin(t) * math.sin(a), math.cos(t)])


def rolled_to_face(surface, u, v, placement, direction):
    """placement with the part rolled about its axis until (u, v) of the surface faces direction."""
    normal = surface.normals(np.array([float(u)]), np.array([float(v)]))[0]
    rolls = np.arange(0, 360, 0.5)
    facing = [(placement @ roll_x(r))[:3, :3] @ normal @ direction for r in rolls]
    return placement @ roll_x(rolls[int(np.argmax(facing))])


def to_world(placement, points):
    return np.atleast_2d(points) @ placement[:3, :3].T + placement[:3, 3]
