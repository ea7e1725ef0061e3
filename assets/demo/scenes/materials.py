"""The materials of the bench: worn steel with its damage, bronze, cast metal, wood, paper.

Steel is what makes or breaks these pictures. It carries the lay of its machining (in bump,
roughness and a little in colour, as only colour survives the denoiser), handling scratches,
tea-coloured stains, and, as found, a patchy film of black oil."""

from dataclasses import dataclass

import numpy as np

import nodes

# Directions of machining marks.
TURNED, FACED, GROUND, CAST = "turned about X", "faced across X", "ground along X", "as cast"

FOUND, CLEANED = "found", "cleaned"


@dataclass(frozen=True)
class Finish:
    """Colour and the range of roughness of clean metal."""

    colour: tuple = (0.56, 0.55, 0.53)
    rough: tuple = (0.20, 0.36)
    stained: float = 0.45  # strength of the tea-coloured stains


@dataclass(frozen=True)
class PitLook:
    """Colour of pit floors; metallic near 1 is bright torn metal, near 0 is oxide."""

    colour: tuple = (0.030, 0.020, 0.014)
    metallic: float = 0.05
    halo: float = 0.5


STEEL = Finish()
HARDENED = Finish(rough=(0.14, 0.26), stained=0.30)
GEAR_STEEL = Finish(rough=(0.24, 0.38))
BRONZE = Finish(colour=(0.70, 0.50, 0.25), rough=(0.24, 0.38), stained=0.35)
CAST_ALLOY = Finish(colour=(0.52, 0.52, 0.51), rough=(0.42, 0.58), stained=0.5)

RUST_PITS = PitLook()
TORN_METAL = PitLook(colour=(0.055, 0.046, 0.038), metallic=0.32, halo=0.35)
DENTS = PitLook(colour=(0.16, 0.09, 0.05), metallic=0.60, halo=0.3)


def metal(name, seed, stage, lay, finish=STEEL, damage=None, pit_look=RUST_PITS):
    """One metal surface. The seed fixes stains and marks, so that the same part looks the
    same in every photo of it; damage is a DamageMap whose coordinates the mesh carries."""
    s = nodes.Shader(name)
    rng = np.random.default_rng(seed)
    place = s.coordinates()
    shifted = s.mapping(place, location=tuple(rng.uniform(-500, 500, 3)))
    marks, height = _machining(s, place, shifted, lay, float(rng.uniform(0, 900)))
    coarse, fine = s.noise(shifted, 0.035, 3, 0.6, 0.5), s.noise(shifted, 0.5, 3, 0.65)

    rough = s.ramp(s.add(s.times(coarse, 0.6), s.times(fine, 0.4)), 0.35, 0.65, *finish.rough)
    rough = s.add(rough, s.times(s.math("SUBTRACT", marks, 0.5), 0.18))
    stain = s.ramp(s.noise(shifted, 0.06, 4, 0.62, 1.2), 0.52, 0.72)
    strength = finish.stained if stage == CLEANED else 0.9
    tea = tuple(0.6 * c for c in (finish.colour[0], finish.colour[1] * 0.77, finish.colour[2] * 0.54))
    colour = s.mix(s.times(stain, strength), finish.colour, tea)
    colour = s.mix(s.times(_scratches(s, shifted), 0.25), colour, tuple(min(1, 1.36 * c) for c in finish.colour))
    colour = s.mix(s.ramp(marks, 0.36, 0.66, 0.34, 0), colour, tuple(0.54 * c for c in finish.colour))
    if stage == FOUND:
        colour = s.mix(s.ramp(coarse, 0.3, 0.65, 0.35, 0.85), colour, (0.10, 0.075, 0.055))
        rough = s.add(rough, 0.08)
    metallic = 1.0
    if damage is not None:
        colour, rough, metallic, height = _damaged(s, shifted, damage, pit_look, colour, rough, height)

    normal = s.bump(height)
    extra = {}
    if lay == TURNED:
        tangent = s.node("Tangent", direction_type="RADIAL", axis="X").outputs[0]
        extra = dict(Anisotropic=0.55, Tangent=tangent)
    # What a rag leaves behind is a thin coat of oil, here and there.
    coat = s.ramp(s.noise(shifted, 0.05, 2, 0.6, 0.6), 0.52, 0.64, 0, 0.8 if stage == CLEANED else 0)
    oiled = s.mix(s.times(coat, 0.22), colour, (0.3, 0.2, 0.08))
    shader = s.principled(
        Base_Color=oiled, Metallic=metallic, Roughness=s.math("MAXIMUM", rough, 0.08), Normal=normal,
        Clearcoat=coat, Clearcoat_Roughness=0.06, **extra,
    )  # fmt: skip
    if stage == FOUND:
        return _under_oil(s, shifted, shader, colour, fine, height)
    return s.finish(shader, oiled, normal)


def _machining(s, place, shifted, lay, offset):
    """(marks 0..1, bump height in mm) of the tool or the mould."""
    x, y, z = s.node("SeparateXYZ", {0: place}).outputs
    if lay == TURNED:
        marks = s.noise_along(s.add(x, offset), 2.6)
        return marks, s.times(marks, 0.0024)
    if lay == FACED:
        radius = s.math("SQRT", s.add(s.times(y, y), s.times(z, z)))
        marks = s.noise_along(s.add(radius, offset), 2.6)
        return marks, s.times(marks, 0.0024)
    if lay == GROUND:
        marks = s.noise(s.mapping(shifted, scale=(0.05, 5, 5)), 1.0, 3, 0.7)
        return marks, s.times(marks, 0.0022)
    marks = s.noise(shifted, 0.9, 5, 0.65)
    return marks, s.times(marks, 0.22)


def _scratches(s, shifted):
    one = s.mapping(shifted, scale=(0.06, 1.6, 1.6), rotation=(0.3, 0.5, 0.7))
    other = s.mapping(shifted, scale=(2.2, 0.05, 0.9), rotation=(1.1, 0.2, -0.4))
    return s.math("MAXIMUM", s.ramp(s.noise(one, 1.0, 0), 0.80, 0.84), s.ramp(s.noise(other, 1.0, 0), 0.81, 0.85))


def _damaged(s, shifted, damage, look, colour, rough, height):
    image = nodes.data_image("damage", damage.channels())
    texture = s.texture(image, "Cubic").outputs
    pit, halo, film = s.node("SeparateColor", {0: texture["Color"]}).outputs
    groove = texture["Alpha"]
    grain = s.noise(shifted, 3.0, 3, 0.7)
    colour = s.mix(s.times(halo, look.halo), colour, (0.24, 0.16, 0.10))
    rough = s.add(rough, s.times(halo, 0.15))

    oxide = look.metallic < 0.3
    floor = s.mix(s.ramp(grain, 0.42, 0.62), look.colour, tuple(2.2 * c for c in look.colour))
    rust = s.ramp(s.noise(shifted, 0.9, 2, 0.6), 0.58, 0.68)
    floor = s.mix(s.times(rust, 0.5 if oxide else 0.15), floor, (0.10, 0.043, 0.018))
    colour = s.mix(pit, colour, floor)
    rough = s.mix_value(pit, rough, 0.62 if oxide else 0.42)
    metallic = s.mix_value(pit, 1.0, look.metallic)

    colour = s.mix(s.times(film, 0.95), colour, (0.032, 0.018, 0.009))
    rough = s.mix_value(film, rough, 0.40)
    metallic = s.times(metallic, s.mix_value(film, 1.0, 0.12))

    # A score is bright where the metal is freshly torn and dark where dirt lies in it.
    torn = s.mix(s.ramp(grain, 0.4, 0.6), (0.07, 0.06, 0.05), (0.30, 0.28, 0.25))
    colour = s.mix(s.times(groove, 0.85), colour, torn)
    rough = s.add(rough, s.times(groove, 0.12))

    height = s.times(height, s.math("SUBTRACT", 1.0, pit))
    height = s.add(height, s.times(s.times(grain, pit), 0.03))
    height = s.math("SUBTRACT", height, s.times(groove, 0.05))
    return colour, rough, metallic, height


def _under_oil(s, shifted, bare, colour, fine, height):
    """Black oil, in places wet and in places baked on, over bare metal."""
    blotches = s.noise(shifted, 0.045, 4, 0.62, 0.8)
    cover = s.ramp(s.add(s.times(blotches, 0.75), s.times(fine, 0.25)), 0.36, 0.60, 0.30, 0.96)
    gloss = s.ramp(s.noise(shifted, 0.07, 3, 0.5), 0.42, 0.58, 0.16, 0.52)
    dark = s.mix(s.ramp(fine, 0.4, 0.65), (0.009, 0.0065, 0.005), (0.030, 0.021, 0.013))
    normal = s.bump(s.add(s.times(fine, 0.05), s.times(height, 0.5)), strength=0.5)
    film = s.principled(Base_Color=dark, Roughness=gloss, Specular=0.55, Normal=normal)
    mixed = s.node("MixShader", {0: cover, 1: bare, 2: film}).outputs[0]
    return s.finish(mixed, s.mix(cover, colour, (0.05, 0.05, 0.05)), normal)


def gasket_face(name, seed):
    """A joint face as found: machined cast alloy with torn paper gasket and oil on it."""
    s = nodes.Shader(name)
    rng = np.random.default_rng(seed)
    shifted = s.mapping(s.coordinates(), location=tuple(rng.uniform(-500, 500, 3)))
    milled = s.noise(s.mapping(shifted, scale=(0.06, 3, 3)), 1.0, 3, 0.7)
    torn = s.add(s.times(s.noise(shifted, 0.055, 5, 0.62, 0.9), 0.8), s.times(s.noise(shifted, 0.7, 3, 0.7), 0.2))
    paper = s.ramp(torn, 0.515, 0.535)
    fibre = s.noise(shifted, 1.6, 4, 0.75)
    bare = s.mix(s.ramp(milled, 0.36, 0.66, 0.4, 0), (0.60, 0.60, 0.59), (0.36, 0.36, 0.35))
    oil = s.ramp(s.noise(shifted, 0.04, 4, 0.6, 0.8), 0.45, 0.62, 0.15, 0.85)
    bare = s.mix(oil, bare, (0.10, 0.075, 0.05))
    sheet = s.mix(s.ramp(fibre, 0.35, 0.65), (0.075, 0.060, 0.040), (0.20, 0.165, 0.11))
    colour = s.mix(paper, bare, sheet)
    height = s.add(s.times(paper, s.add(0.18, s.times(fibre, 0.09))), s.times(milled, 0.003))
    normal = s.bump(height)
    shader = s.principled(
        Base_Color=colour, Metallic=s.mix_value(paper, 0.9, 0.0), Normal=normal,
        Roughness=s.mix_value(paper, s.ramp(oil, 0.15, 0.85, 0.34, 0.22), 0.72),
    )  # fmt: skip
    return s.finish(shader, colour, normal)


def plain(name, colour, rough=0.5, metallic=0.0):
    s = nodes.Shader(name)
    return s.finish(s.principled(Base_Color=colour, Roughness=rough, Metallic=metallic, Specular=0.4), colour)


def printed(name, linear_colours, rough=0.55, metallic=0.0):
    """A picture on a flat thing: paper, or an engraved rule."""
    s = nodes.Shader(name)
    colour = s.texture(nodes.colour_image(name, linear_colours)).outputs["Color"]
    return s.finish(s.principled(Base_Color=colour, Roughness=rough, Metallic=metallic, Specular=0.35), colour)


def sawn_wood(name, seed):
    """A block of soft wood, sawn along X and handled with oily hands."""
    s = nodes.Shader(name)
    rng = np.random.default_rng(seed)
    shifted = s.mapping(s.coordinates(), location=tuple(rng.uniform(-500, 500, 3)))
    rings = s.noise(s.mapping(shifted, scale=(0.012, 0.5, 0.5)), 1.0, 3, 0.6, 0.6)
    fibre = s.noise(s.mapping(shifted, scale=(0.05, 3.5, 3.5)), 1.0, 3, 0.7)
    colour = s.mix(s.ramp(rings, 0.35, 0.65), (0.50, 0.34, 0.19), (0.36, 0.215, 0.10))
    colour = s.mix(s.ramp(fibre, 0.35, 0.7, 0, 0.35), colour, (0.22, 0.12, 0.055))
    colour = s.mix(s.ramp(s.noise(shifted, 0.05, 5, 0.65), 0.54, 0.72, 0, 0.7), colour, (0.07, 0.045, 0.03))
    normal = s.bump(s.times(fibre, 0.08))
    return s.finish(s.principled(Base_Color=colour, Roughness=0.6, Specular=0.3, Normal=normal), colour, normal)
