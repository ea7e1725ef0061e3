"""Where the photos are taken: bench tops, the light of the room, and what holds the parts."""

import math

import bpy
import cv2
import numpy as np

import materials
import meshes
import noise
import nodes
from noise import blend, ramp

BENCH_SIZE = (480, 420)  # mm covered by one bench texture, which then repeats
BENCH_RES = 9  # px per mm


def bench(kind, seed):
    """Lay the bench top ("wood" or "mat") at Z = 0. Colour and height are baked with numpy:
    noise nodes under a bump are evaluated three times a sample and doubled the render time."""
    rng = np.random.default_rng(seed)
    colour, height, rough = (_planks if kind == "wood" else _mat)(rng)
    s = nodes.Shader("bench")
    tint = s.node("TexImage", {"Vector": s.coordinates("UV")}, image=nodes.colour_image("bench colour", colour))
    grey = nodes.colour_image("bench height", height)
    grey.colorspace_settings.name = "Non-Color"
    relief = s.node("TexImage", {"Vector": s.coordinates("UV")}, image=grey)
    normal = s.bump(relief.outputs[0], strength=0.8, distance=0.30)
    shader = s.principled(Base_Color=tint.outputs[0], Roughness=rough, Specular=0.35, Normal=normal)
    material = s.finish(shader, tint.outputs[0], normal)
    turn = math.radians(rng.uniform(-9, 9))
    c, q, half = math.cos(turn), math.sin(turn), 900
    corners = [(-half, -half, 0), (half, -half, 0), (half, half, 0), (-half, half, 0)]
    uv = [((c * x + q * y) / BENCH_SIZE[0] + 0.5, (c * y - q * x) / BENCH_SIZE[1] + 0.5) for x, y, _ in corners]
    meshes.add("bench", corners, [(0, 1, 2, 3)], material, uv=uv, smooth_angle=0)


def _shape():
    return BENCH_SIZE[1] * BENCH_RES, BENCH_SIZE[0] * BENCH_RES


def _coarse_noise(rng, cell_mm, octaves, gain):
    """Large blotches need no full resolution."""
    rows, columns = _shape()
    small = noise.fractal((rows // 2, columns // 2), cell_mm * BENCH_RES / 2, int(rng.integers(1 << 30)), octaves, gain)
    return cv2.resize(small, (columns, rows))


def _planks(rng):
    rows, columns = _shape()
    res = BENCH_RES

    def grain(shape, across, along, octaves, gain):
        return noise.fractal(shape, (across * res, along * res), int(rng.integers(1 << 30)), octaves, gain)

    plank_px = rng.uniform(95, 140) * res
    position = np.arange(rows) + rng.uniform(0, plank_px)
    plank, into_plank = (position // plank_px).astype(int), (position % plank_px) / res
    colour = np.zeros((rows, columns, 3), np.float32)
    height = np.zeros((rows, columns), np.float32)
    tone = rng.uniform(0.8, 1.05)
    for k in np.unique(plank):
        chosen = np.where(plank == k)[0]
        shape = (len(chosen), columns)
        # Growth rings: soft early wood fades into a dark late-wood line.
        phase = (chosen / res)[:, None] * rng.uniform(0.10, 0.20)
        phase = phase + grain(shape, 24, 260, 3, 0.5) * rng.uniform(1.2, 2.6)
        phase = phase - np.floor(phase)
        ring = np.clip(phase / 0.78, 0, 1) ** 2.2 * (1 - ramp(phase, 0.80, 1.0))
        fibre = grain(shape, 0.55, 26, 3, 0.7)
        pore = ramp(grain(shape, 0.30, 7, 2, 0.6), 0.42, 0.62)
        bright = rng.uniform(0.82, 1.12) * tone
        wood = np.broadcast_to(np.float32([0.50, 0.335, 0.185]) * bright, (*shape, 3))
        wood = blend(wood, np.float32([0.30, 0.165, 0.075]) * bright, ring * 0.62)
        wood = blend(wood, np.float32([0.20, 0.115, 0.055]) * bright, ramp(fibre, -0.1, 0.7) * 0.38)
        colour[chosen] = blend(wood, [0.085, 0.047, 0.024], pore * 0.42)
        height[chosen] = 0.62 + 0.16 * fibre - 0.20 * pore - 0.05 * ring
    seam = np.abs(into_plank - 0.6) < 0.55
    colour[seam] *= 0.13
    height[seam] = 0
    dirt = _coarse_noise(rng, 40, 6, 0.62)
    spots = _coarse_noise(rng, 9, 3, 0.5) + 0.25 * dirt
    colour = blend(colour, [0.085, 0.060, 0.042], ramp(dirt, 0.0, 0.75) * 0.60)
    colour = blend(colour, [0.040, 0.028, 0.018], ramp(spots, 0.60, 0.74) * 0.50)
    return colour, height.clip(0, 1), 0.56


def _mat(rng):
    """A grey rubber bench mat with oil spots and lint."""
    rows, columns = _shape()
    res = BENCH_RES
    grain = noise.fractal((rows, columns), 0.45 * res, int(rng.integers(1 << 30)), 3, 0.75)
    grey = rng.uniform(0.10, 0.16)
    tint = np.float32([1, rng.uniform(1.0, 1.04), rng.uniform(1.0, 1.08)])
    colour = (grey * (1 + 0.32 * grain))[..., None] * tint
    dirt = _coarse_noise(rng, 40, 6, 0.62)
    colour = blend(colour, [grey * 0.35, grey * 0.32, grey * 0.28], ramp(dirt, 0.08, 0.7) * 0.55)
    smear = _coarse_noise(rng, 30, 5, 0.6)
    colour = blend(colour, [grey * 2.0, grey * 1.95, grey * 1.9], ramp(smear, 0.1, 0.7) * 0.20)
    spots = _coarse_noise(rng, 9, 3, 0.5) + 0.25 * dirt
    colour = blend(colour, [grey * 0.2, grey * 0.18, grey * 0.16], ramp(spots, 0.58, 0.72) * 0.5)
    colour = blend(colour, [0.5, 0.48, 0.45], _lint(rng, rows, columns) * 0.5)
    return colour.clip(0, 1), (0.5 + 0.3 * grain).clip(0, 1), 0.80


def _lint(rng, rows, columns):
    lint = np.zeros((rows, columns), np.float32)
    for _ in range(180):
        x, y = rng.uniform(0, columns), rng.uniform(0, rows)
        heading = rng.uniform(0, 2 * math.pi)
        line = [(x, y)]
        for _ in range(int(rng.integers(2, 7))):
            heading += rng.normal() * 0.5
            x, y = x + math.cos(heading) * BENCH_RES * 0.45, y + math.sin(heading) * BENCH_RES * 0.45
            line.append((x, y))
        points = np.int32(np.array(line) * 8)
        cv2.polylines(lint, [points], False, float(rng.uniform(0.3, 0.9)), 1, cv2.LINE_AA, 3)
    return lint


def light(seed, key, windows):
    """Light the scene by a picture of a workshop all round it and return what a white card on
    the bench would reflect (linear RGB), to expose by. key: "window", "tubes" or "both"; windows is the
    azimuth in degrees in which the windows stand (90 is behind the bench).

    There are no lamps: a picture gives less noise, and steel needs bright and dark things
    to reflect."""
    sky = _room(seed, key, windows)
    scene = bpy.context.scene
    scene.world = bpy.data.worlds.new("workshop")
    scene.world.use_nodes = True
    tree = scene.world.node_tree
    node = tree.nodes.new("ShaderNodeTexEnvironment")
    node.image = nodes.data_image("room", sky[::-1])
    tree.links.new(node.outputs[0], tree.nodes["Background"].inputs[0])
    scene.world.cycles.sampling_method = "MANUAL"
    scene.world.cycles.sample_map_resolution = 1024
    rows = sky.shape[0]
    elevation = (0.5 - (np.arange(rows) + 0.5) / rows) * math.pi
    weight = np.clip(np.sin(elevation), 0, None) * np.cos(elevation)
    return 0.8 * (sky.mean(1) * weight[:, None]).sum(0) / weight.sum()


def _room(seed, key, windows, columns=1024, rows=512):
    rng = np.random.default_rng(seed)
    up = np.linspace(1, -1, rows)[:, None]
    base = np.where(up > 0.55, 0.50, np.where(up > -0.05, 0.26, 0.07)).astype(np.float32)
    room = np.repeat(base[..., None], columns, 1) * np.float32([1, 0.96, 0.9])

    def row(elevation):
        return int((0.5 - elevation / 180) * rows)

    def panel(azimuth, width, low, high, colour):
        span = np.arange(int((azimuth - width / 2) * columns), int((azimuth + width / 2) * columns)) % columns
        room[row(high) : row(low), span] = colour

    room[: row(66)] = (2.0, 1.94, 1.84)  # a white ceiling over the bench: what level steel mirrors
    for _ in range(60):  # shelves and clutter along the walls
        x, y = rng.integers(0, columns), row(rng.uniform(-25, 35))
        colour = rng.uniform(0.02, 0.45) * np.array([1, rng.uniform(0.8, 1), rng.uniform(0.65, 1.05)])
        room[y : y + rng.integers(5, 40), x : x + rng.integers(8, 70)] = colour
    for _ in range(8):  # door frames and pipes
        x = rng.integers(0, columns)
        room[row(40) : row(-5), x : x + rng.integers(5, 40)] *= rng.uniform(0.15, 0.5)
    start = 0.5 - windows / 360 - 0.055  # Blender's map runs clockwise, +X in its middle
    if key in ("window", "both"):
        for pane in range(3):
            panel(start + pane * 0.055, 0.048, 12, 52, (8.5, 9.4, 10.5))
    if key in ("tubes", "both"):
        for tube in range(2):
            panel(start + 0.45 + tube * 0.16, 0.11, 62, 70, (26, 25, 22))
    panel(start + 0.62, 0.10, 38, 58, np.array([9.0, 8.6, 7.8]) * rng.uniform(0.5, 1.2))  # bench lamp
    panel(start + 0.3, 0.09, 25, 60, (1.8, 1.7, 1.5))  # a bright patch of wall
    return cv2.GaussianBlur(room, (0, 0), 2.2)


def v_block(x, width, radius, axis_height, placement, seed):
    """A vee block that carries a journal of this radius at this height above the bench."""
    finish = materials.Finish((0.2,) * 3, (0.35, 0.5))
    material = materials.metal("vee block", seed, materials.CLEANED, materials.GROUND, finish)
    bottom = axis_height - radius * math.sqrt(2)
    half = radius * 0.9 + 8
    top = min(axis_height - 2, bottom + half - 7)
    open_at = top - bottom
    section = [(-half, 0), (half, 0), (half, top), (open_at, top), (0, bottom), (-open_at, top), (-half, top)]
    n = len(section)
    vertices = [(x + side, y, z) for side in (-width / 2, width / 2) for y, z in section]
    walls = [(i, (i + 1) % n, n + (i + 1) % n, n + i) for i in range(n)]
    meshes.add("vee walls", vertices, walls, material, placement, smooth_angle=20)
    ends = [(0, 1, 4), (1, 2, 3), (1, 3, 4), (0, 4, 5), (0, 5, 6)]
    other = [tuple(n + i for i in reversed(corner)) for corner in ends]
    meshes.add("vee ends", vertices, ends + other, material, placement, smooth_angle=0)


def wood_block(low, high, placement, seed):
    return meshes.add_box("wood block", low, high, materials.sawn_wood("block", seed), bevel=0.8, placement=placement)
