"""The camera: a phone held over the bench, without lens distortion, so that places in the
scene can be told to the pixel."""

import math

import bpy
import numpy as np
from mathutils import Matrix, Vector

SENSOR = 36.0  # mm; focal lengths are 35 mm equivalents


class Camera:
    """Pixels are [x right, y down] in the upright picture, a whole number is a pixel's centre."""

    def __init__(self, size, focal, tilt, azimuth=-90.0, roll=0.0, aperture_mm=1.1):
        self.size, self.focal = size, focal
        self._tilt, self._azimuth, self._roll = (math.radians(a) for a in (tilt, azimuth, roll))
        data = bpy.data.cameras.new("camera")
        data.sensor_width, data.sensor_fit, data.lens = SENSOR, "AUTO", focal
        data.clip_start, data.clip_end = 1, 5000
        data.dof.use_dof, data.dof.aperture_blades = True, 0
        # Lens in mm and scene in mm: this f-number gives an opening of aperture_mm.
        data.dof.aperture_fstop = focal * 1e-3 / aperture_mm
        self._object = bpy.data.objects.new("camera", data)
        bpy.context.collection.objects.link(self._object)
        bpy.context.scene.camera = self._object
        self._pixels = focal / SENSOR * max(size)

    def aim(self, target, distance):
        """Stand at this distance from the target, on the camera's tilt and azimuth."""
        t, a = self._tilt, self._azimuth
        offset = Vector((math.sin(t) * math.cos(a), math.sin(t) * math.sin(a), math.cos(t)))
        target = Vector(target)
        turn = (-offset).to_track_quat("-Z", "Y").to_matrix() @ Matrix.Rotation(self._roll, 3, "Z")
        self.place = np.array(target + offset * distance)
        self._object.matrix_world = Matrix.Translation(Vector(self.place)) @ turn.to_4x4()
        self._rotation = np.diag([1, -1, -1]) @ np.array(turn).T
        self._object.data.dof.focus_distance = distance

    def focus(self, point):
        self._object.data.dof.focus_distance = float(self._depth(np.atleast_2d(point))[0])

    def _depth(self, points):
        return ((points - self.place) @ self._rotation.T)[:, 2]

    def project(self, points):
        """(n, 3) world mm -> (n, 2) px."""
        q = (np.atleast_2d(np.asarray(points, float)) - self.place) @ self._rotation.T
        centre = (np.array(self.size) - 1) / 2
        return q[:, :2] / q[:, 2:] * self._pixels + centre

    def fit(self, points, fill):
        """Move until the points fill this share of the picture and stand in its middle."""
        points = np.asarray(points, float)
        target = points.mean(0)
        distance = float(np.ptp(points, axis=0).max()) * self.focal / SENSOR + 50
        size = np.array(self.size)
        for _ in range(12):
            self.aim(target, distance)
            seen = self.project(points)
            low, high = seen.min(0), seen.max(0)
            off = np.append(((low + high) / 2 - (size - 1) / 2) / self._pixels, 1.0)
            ray = self._rotation.T @ off
            hit = self.place + ray * ((target[2] - self.place[2]) / ray[2])
            target = target + 0.9 * (hit - target)
            distance *= float(max((high - low) / (size * fill))) ** 0.9

    def in_frame(self, points, margin=8):
        q = self.project(points)
        return ((q > margin) & (q < np.array(self.size) - 1 - margin)).all(1)

    def visible(self, points, tolerance=0.15):
        """Which points are in the frame with nothing before them."""
        graph = bpy.context.evaluated_depsgraph_get()
        seen = self.in_frame(points, margin=0)
        for i, point in enumerate(np.atleast_2d(points)):
            ray = Vector(point - self.place)
            hit, where, *_ = bpy.context.scene.ray_cast(graph, Vector(self.place), ray.normalized())
            seen[i] &= not hit or (where - Vector(self.place)).length > ray.length - tolerance
        return seen
