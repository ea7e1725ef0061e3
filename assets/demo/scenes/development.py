"""Render the scene and develop it into what a phone would have made of it."""

import os

os.environ["OPENCV_IO_ENABLE_OPENEXR"] = "1"  # read by cv2 when it is first imported

import bpy
import cv2
import numpy as np

LAYERS = ("Image", "albedo", "normal")


def render(size, samples, folder):
    """Render into folder and return {layer: (rows, columns, 3) linear BGR}."""
    scene = bpy.context.scene
    settings, cycles = scene.render, scene.cycles
    settings.resolution_x, settings.resolution_y = size
    settings.resolution_percentage = 100
    settings.threads_mode, settings.threads = "FIXED", 2
    cycles.samples, cycles.use_adaptive_sampling = samples, True
    cycles.adaptive_threshold, cycles.adaptive_min_samples = 0.03, samples
    cycles.max_bounces, cycles.diffuse_bounces, cycles.glossy_bounces = 4, 2, 3
    cycles.transmission_bounces = 0
    cycles.sample_clamp_direct, cycles.sample_clamp_indirect, cycles.blur_glossy = 20, 3, 0.5
    cycles.caustics_reflective = cycles.caustics_refractive = False
    cycles.use_denoising, cycles.filter_width = False, 1.3  # Debian's Blender has no denoiser
    view = scene.view_layers[0]
    for name in LAYERS[1:]:
        layer = view.aovs.add()
        layer.name, layer.type = name, "COLOR"
    scene.use_nodes = True
    tree = scene.node_tree
    tree.nodes.clear()
    source = tree.nodes.new("CompositorNodeRLayers")
    target = tree.nodes.new("CompositorNodeOutputFile")
    target.base_path = folder
    target.format.file_format, target.format.color_depth = "OPEN_EXR", "16"
    target.file_slots.clear()
    for name in LAYERS:
        target.file_slots.new(name)
        tree.links.new(source.outputs[name], target.inputs[-1])
    bpy.ops.render.render(write_still=False)
    found = {}
    for name in LAYERS:
        path = os.path.join(folder, "%s%04d.exr" % (name, scene.frame_current))
        found[name] = cv2.imread(path, cv2.IMREAD_UNCHANGED)[..., :3].astype(np.float32)
    return found


def denoise(layers, radius=5, strength=0.010):
    """Filter the light that falls on things, not their colour: divide by the albedo, smooth
    guided by normals and albedo, then once more by the result so that reflections keep edges."""
    image = np.nan_to_num(layers["Image"], nan=0, posinf=50)
    median = cv2.medianBlur(image, 3)
    image = np.where(image > median * 4 + 0.5, median, image)  # fireflies
    albedo = np.maximum(np.nan_to_num(layers["albedo"]), 0.04)
    light = np.log(image / albedo + 0.02)

    def guided(guide, source, r, eps):
        pieces = (cv2.ximgproc.guidedFilter(guide, np.ascontiguousarray(source[..., c]), r, eps) for c in range(3))
        return np.stack(list(pieces), -1)

    by_normal = guided(cv2.GaussianBlur(np.nan_to_num(layers["normal"]), (0, 0), 0.6), light, radius, strength * 0.03)
    by_albedo = guided(np.log(cv2.GaussianBlur(albedo, (0, 0), 0.6)), light, radius, strength * 0.8)
    smooth = guided(0.6 * by_normal + 0.4 * by_albedo, light, 2, 0.012)
    kept_grain = 0.12
    return (np.exp((1 - kept_grain) * smooth + kept_grain * light) - 0.02).clip(0) * albedo


def expose(image, white, stops, face=None):
    """Scale so that a white card would come out light grey, and balance for its colour as
    imperfectly as a phone does. A bright face (polygon in px) is metered down."""
    white = np.float32(white)[::-1]  # RGB to BGR
    image = image * (0.62 / float(white.mean()) * 2**stops)
    cast = white / white.mean()
    image = image / (cast * 0.75 + 0.25)
    if face is not None:
        mask = np.zeros(image.shape[:2], np.uint8)
        cv2.fillPoly(mask, [np.int32(np.round(face))], 1)
        seen = image.mean(2)[mask > 0]
        if len(seen):
            image = image * float(np.clip(1.0 / max(np.percentile(seen, 85), 1e-3), 0.45, 1.0))
    return image


def finish(image, seed):
    """Lens and phone: vignette, veiling glare, sensor noise, tone curve, noise reduction,
    sharpening, grain. Returns 8-bit BGR. Nothing here moves a pixel."""
    rng = np.random.default_rng(seed)
    rows, columns = image.shape[:2]
    image = image * np.float32([1 + rng.normal() * 0.025, 1.0, 1 - rng.normal() * 0.03])
    y, x = np.mgrid[0:rows, 0:columns].astype(np.float32)
    off_axis = ((x - columns / 2) ** 2 + (y - rows / 2) ** 2) / ((columns**2 + rows**2) / 4)
    image = image * (1 - 0.16 * off_axis)[..., None]
    glare = cv2.GaussianBlur(np.minimum(image, 6), (0, 0), columns / 90)
    image = image * 0.985 + glare * 0.015
    shot = 0.0075
    deviation = np.sqrt(np.clip(image, 0, 4) * shot**2 * 4 + (shot * 0.35) ** 2)
    image = np.clip(image + rng.normal(size=image.shape).astype(np.float32) * deviation, 0, None)
    knee = 0.62
    image = np.where(image > knee, knee + (1 - knee) * (1 - np.exp(-(image - knee) / (1 - knee) / 1.15)), image)
    tone = np.where(image <= 0.0031308, 12.92 * image, 1.055 * np.power(np.maximum(image, 1e-6), 1 / 2.4) - 0.055)
    tone = np.clip(tone + 0.06 * (tone - 0.5) * (1 - np.abs(2 * tone - 1)), 0, 1)
    picture = (tone * 255 + rng.uniform(-0.5, 0.5, tone.shape)).clip(0, 255).astype(np.uint8)
    picture = cv2.fastNlMeansDenoisingColored(picture, None, 2.0, 5, 5, 11).astype(np.float32)
    picture += 0.55 * (picture - cv2.GaussianBlur(picture, (0, 0), 1.1))
    grain = cv2.GaussianBlur(rng.normal(size=(rows, columns)).astype(np.float32), (0, 0), 0.7)
    return (picture + 2.0 * grain[..., None]).clip(0, 255).astype(np.uint8)


def save_jpeg(picture, path, max_bytes):
    """Write at the best quality that keeps the file under max_bytes."""
    for quality in range(91, 69, -2):
        cv2.imwrite(path, picture, [cv2.IMWRITE_JPEG_QUALITY, quality])
        if os.path.getsize(path) <= max_bytes:
            return
