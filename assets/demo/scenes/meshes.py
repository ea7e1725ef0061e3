"""Numpy arrays -> Blender mesh objects. One Blender unit is one millimetre."""

import math

import bpy
import numpy as np
from mathutils import Matrix

import shapes


def add(name, vertices, faces, material, placement=None, uv=None, smooth_angle=30):
    """Add a mesh of faces that all have the same number of corners. Edges sharper than
    smooth_angle degrees stay sharp; 0 smooths everything (dense, displaced surfaces)."""
    vertices = np.asarray(vertices, np.float32)
    faces = np.asarray(faces, np.int32)
    count, corners = faces.shape
    mesh = bpy.data.meshes.new(name)
    # foreach_set is the only way that is quick enough for half a million quads.
    mesh.vertices.add(len(vertices))
    mesh.vertices.foreach_set("co", vertices.ravel())
    mesh.loops.add(count * corners)
    mesh.loops.foreach_set("vertex_index", faces.ravel())
    mesh.polygons.add(count)
    mesh.polygons.foreach_set("loop_start", np.arange(0, count * corners, corners, dtype=np.int32))
    mesh.polygons.foreach_set("loop_total", np.full(count, corners, np.int32))
    mesh.polygons.foreach_set("use_smooth", np.ones(count, bool))
    if uv is not None:
        layer = mesh.uv_layers.new(name="UVMap")
        layer.data.foreach_set("uv", np.asarray(uv, np.float32)[faces.ravel()].ravel())
    mesh.update(calc_edges=True)
    mesh.validate()
    if smooth_angle:
        mesh.use_auto_smooth = True
        mesh.auto_smooth_angle = math.radians(smooth_angle)
    mesh.materials.append(material)
    thing = bpy.data.objects.new(name, mesh)
    bpy.context.collection.objects.link(thing)
    if placement is not None:
        thing.matrix_world = Matrix(placement)
    return thing


def add_box(name, low, high, material, bevel=0.0, placement=None):
    """A box between two corners, its edges rounded by bevel."""
    vertices = [(x, y, z) for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])]
    faces = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    thing = add(name, vertices, faces, material, placement)
    if bevel:
        modifier = thing.modifiers.new("bevel", "BEVEL")
        modifier.width, modifier.segments = bevel, 3
    return thing


def add_surface(name, surface, u, v, damage, material, placement):
    """A dense grid over a surface, pushed in where the damage map says so."""
    uu, vv = (a.ravel() for a in np.meshgrid(u, v, indexing="ij"))
    return _displaced(name, surface, uu, vv, shapes.grid_faces(len(u), len(v)), damage, material, placement)


def add_ring_face(name, surface, radii, angles, damage, material, placement):
    """Like add_surface for a flat ring: the grid is polar, the damage map is not."""
    r, t = (a.ravel() for a in np.meshgrid(radii, angles, indexing="ij"))
    faces = shapes.grid_faces(len(radii), len(angles), closed=True)
    return _displaced(name, surface, r * np.cos(t), r * np.sin(t), faces, damage, material, placement)


def _displaced(name, surface, u, v, faces, damage, material, placement):
    points = surface.points(u, v) + surface.normals(u, v) * damage.heights_at(u, v)[:, None]
    corners = points[faces[len(faces) // 2]]
    facing = np.cross(corners[1] - corners[0], corners[2] - corners[1])
    middle = faces[len(faces) // 2][0]
    if facing @ surface.normals(u[middle : middle + 1], v[middle : middle + 1])[0] < 0:
        faces = faces[:, ::-1]
    return add(name, points, faces, material, placement, damage.texture_coordinates(u, v), smooth_angle=0)
