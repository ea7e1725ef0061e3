"""A thin layer over Blender's shader nodes, so that a material reads as a formula."""

import bpy
import numpy as np


class Shader:
    """Builds one material. Values may be numbers, colours or sockets of other nodes."""

    def __init__(self, name):
        self.material = bpy.data.materials.new(name)
        self.material.use_nodes = True
        self._tree = self.material.node_tree
        self._tree.nodes.clear()
        self._output = self._tree.nodes.new("ShaderNodeOutputMaterial")

    def node(self, kind, inputs=None, **attributes):
        node = self._tree.nodes.new("ShaderNode" + kind)
        for key, value in attributes.items():
            setattr(node, key, value)
        for key, value in (inputs or {}).items():
            self._feed(node.inputs[key], value)
        return node

    def _feed(self, socket, value):
        if isinstance(value, bpy.types.NodeSocket):
            self._tree.links.new(value, socket)
        elif socket.type == "RGBA" and len(value) == 3:
            socket.default_value = (*value, 1)
        else:
            socket.default_value = value

    def math(self, operation, a, b=0.0):
        return self.node("Math", {0: a, 1: b}, operation=operation).outputs[0]

    def add(self, a, b):
        return self.math("ADD", a, b)

    def times(self, a, b):
        return self.math("MULTIPLY", a, b)

    def mix(self, amount, colour, other):
        return self.node("MixRGB", {"Fac": amount, "Color1": colour, "Color2": other}).outputs[0]

    def mix_value(self, amount, a, b):
        return self.node("Mix", {0: amount, 2: a, 3: b}, data_type="FLOAT").outputs[0]

    def ramp(self, value, low, high, at_low=0.0, at_high=1.0):
        inputs = {"Value": value, "From Min": low, "From Max": high, "To Min": at_low, "To Max": at_high}
        return self.node("MapRange", inputs).outputs[0]

    def noise(self, vector, scale, detail=4, roughness=0.55, distortion=0.0):
        inputs = {"Vector": vector, "Scale": scale, "Detail": detail, "Roughness": roughness, "Distortion": distortion}
        return self.node("TexNoise", inputs).outputs["Fac"]

    def noise_along(self, value, scale, detail=4, roughness=0.75):
        """Noise of one variable: rings round a turned part."""
        inputs = {"W": value, "Scale": scale, "Detail": detail, "Roughness": roughness}
        return self.node("TexNoise", inputs, noise_dimensions="1D").outputs["Fac"]

    def mapping(self, vector, scale=(1, 1, 1), location=(0, 0, 0), rotation=(0, 0, 0)):
        inputs = {"Vector": vector, "Scale": scale, "Location": location, "Rotation": rotation}
        return self.node("Mapping", inputs).outputs[0]

    def coordinates(self, which="Object"):
        return self.node("TexCoord").outputs[which]

    def texture(self, image, interpolation="Linear"):
        inputs = {"Vector": self.coordinates("UV")}
        return self.node("TexImage", inputs, image=image, interpolation=interpolation, extension="EXTEND")

    def bump(self, height, strength=1.0, distance=1.0):
        return self.node("Bump", {"Strength": strength, "Distance": distance, "Height": height}).outputs[0]

    def principled(self, **inputs):
        named = {key.replace("_", " "): value for key, value in inputs.items()}
        return self.node("BsdfPrincipled", named).outputs[0]

    def finish(self, shader, albedo, normal=None):
        """Connect the surface and write albedo and normal as extra layers for the denoiser.
        Cycles' own albedo pass jumps where roughness crosses 0.27, which shows as speckle."""
        self._tree.links.new(shader, self._output.inputs["Surface"])
        layer = self.node("OutputAOV", {0: albedo})
        layer.name = "albedo"
        normal = normal or self.node("NewGeometry").outputs["Normal"]
        half = (0.5, 0.5, 0.5)
        shifted = self.node("VectorMath", {0: normal, 1: half, 2: half}, operation="MULTIPLY_ADD").outputs[0]
        layer = self.node("OutputAOV", {0: shifted})
        layer.name = "normal"
        return self.material


def data_image(name, values):
    """A float image from (rows, columns, 3 or 4) values; row 0 is v = 0, the bottom."""
    values = np.asarray(values, np.float32)
    rows, columns, depth = values.shape
    rgba = np.ones((rows, columns, 4), np.float32)
    rgba[..., :depth] = values
    image = bpy.data.images.new(name, columns, rows, alpha=depth == 4, float_buffer=True)
    image.colorspace_settings.name = "Non-Color"
    image.alpha_mode = "CHANNEL_PACKED"
    image.pixels.foreach_set(rgba.ravel())
    image.update()
    image.pack()
    return image


def colour_image(name, linear):
    """An 8-bit sRGB image from linear colours, rows from the top: a quarter of the memory."""
    linear = np.asarray(linear, np.float32)[::-1].clip(0, 1)
    if linear.ndim == 2:
        linear = np.repeat(linear[..., None], 3, 2)
    rows, columns = linear.shape[:2]
    rgba = np.ones((rows, columns, 4), np.float32)
    rgba[..., :3] = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-6) ** (1 / 2.4) - 0.055)
    image = bpy.data.images.new(name, columns, rows, alpha=False)
    image.colorspace_settings.name = "sRGB"
    image.pixels.foreach_set(rgba.ravel())
    image.update()
    image.pack()
    return image
