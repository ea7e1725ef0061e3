"""Damage as maps over a surface: how deep the metal is eaten and what colour it took."""

from dataclasses import dataclass

import cv2
import numpy as np

import noise


@dataclass(frozen=True)
class PitStyle:
    """How a pit's walls and floor look. depth is a share of the pit's size."""

    depth: float = 0.22
    halo: float = 0.25  # reach of the stain round the pit, as a share of its size
    edge_mm: float = 0.035  # softness of the rim
    raised: float = 0.0  # lip of metal pushed up round it, as a share of the depth
    floor_noise: float = 0.25
    flat_floor: float = 0.6


class DamageMap:
    """Maps over the rectangle (u0, v0) .. (u0+width, v0+height) of a surface, in mm.

    height is in mm, negative where metal is gone; pit, halo, film and groove are 0..1:
    pit floor, stain round a pit, dark film on sound metal, scratch or score."""

    def __init__(self, u0, v0, width, height, px_per_mm, seed):
        self.u0, self.v0, self.width, self.span = u0, v0, width, height
        self.px_per_mm = px_per_mm
        shape = (int(round(height * px_per_mm)), int(round(width * px_per_mm)))
        self.height, self.pit, self.halo, self.film, self.groove = (np.zeros(shape, np.float32) for _ in range(5))
        self._rng = np.random.default_rng(seed)

    def coordinates(self):
        """u and v of every pixel."""
        rows, columns = self.height.shape
        return np.meshgrid(
            self.u0 + (np.arange(columns) + 0.5) / self.px_per_mm, self.v0 + (np.arange(rows) + 0.5) / self.px_per_mm
        )

    def _window(self, blob, margin):
        rows, columns = self.height.shape
        k = self.px_per_mm
        c0, c1 = int((blob.u - margin - self.u0) * k), int((blob.u + margin - self.u0) * k) + 1
        r0, r1 = int((blob.v - margin - self.v0) * k), int((blob.v + margin - self.v0) * k) + 1
        c0, c1, r0, r1 = max(0, c0), min(columns, c1), max(0, r0), min(rows, r1)
        u, v = np.meshgrid(self.u0 + (np.arange(c0, c1) + 0.5) / k, self.v0 + (np.arange(r0, r1) + 0.5) / k)
        return (slice(r0, r1), slice(c0, c1)), u, v

    def add_pit(self, blob, style):
        """Sink one pit into the maps."""
        rng = self._rng
        window, u, v = self._window(blob, blob.reach * 2.2 + 0.3)
        if u.size == 0:
            return
        rho, rim = blob.distance(u, v)
        beyond = (rho - 1) * rim  # mm outside the rim, negative inside
        depth = blob.depth or min(style.depth * blob.size, 0.45) * rng.uniform(0.55, 1.2)
        grain = noise.fractal(u.shape, max(2, 0.25 * blob.size * self.px_per_mm), int(rng.integers(1 << 30)), 4, 0.6)
        profile = np.clip(np.clip(1 - rho**2, 0, 1) / style.flat_floor, 0, 1) ** 0.7
        sunk = -depth * profile * (1 + style.floor_noise * grain)
        if style.raised:
            sunk += style.raised * depth * np.exp(-(((beyond - 0.12) / 0.15) ** 2)) * (rho > 1)
        self.height[window] += sunk
        tone = rng.uniform(0.82, 1.0) if blob.size < 3.2 else 1.0
        np.maximum(self.pit[window], np.clip(0.5 - beyond / style.edge_mm, 0, 1) * tone, out=self.pit[window])
        fade = np.exp(-np.clip(beyond, 0, None) / max(0.15, style.halo * blob.size))
        halo = np.clip(fade * rng.uniform(0.2, 0.9) * (1 + 0.5 * grain), 0, 1)
        np.maximum(self.halo[window], halo, out=self.halo[window])

    def add_stain(self, blob, strength=1.0):
        """A dark film that took no metal: patchy, with a tide mark along its rim."""
        window, u, v = self._window(blob, blob.reach * 1.4)
        rho, rim = blob.distance(u, v)
        grain = noise.fractal(u.shape, 1.1 * self.px_per_mm, int(self._rng.integers(1 << 30)), 5, 0.65)
        body = np.clip((1 - rho) * rim / 0.45 + 0.3 * grain, 0, 1) * (0.80 + 0.45 * grain)
        tide = np.exp(-((((rho - 0.97) * rim) / 0.18) ** 2)) * 0.55
        np.maximum(self.film[window], np.clip(np.maximum(body, tide) * strength, 0, 1), out=self.film[window])

    def heights_at(self, u, v):
        """Height in mm at points of the surface."""
        x = ((u - self.u0) * self.px_per_mm - 0.5).astype(np.float32)
        y = ((v - self.v0) * self.px_per_mm - 0.5).astype(np.float32)
        # cv2.remap refuses rows of more than 32767 points, hence the pieces.
        piece = 30000
        return np.concatenate(
            [
                cv2.remap(
                    self.height,
                    x[None, i : i + piece],
                    y[None, i : i + piece],
                    cv2.INTER_LINEAR,
                    borderMode=cv2.BORDER_REPLICATE,
                )[0]
                for i in range(0, len(x), piece)
            ]
        )

    def texture_coordinates(self, u, v):
        return np.stack([(u - self.u0) / self.width, (v - self.v0) / self.span], 1)

    def channels(self):
        """(rows, columns, 4) for one packed texture: pit, halo, film, groove."""
        return np.stack([self.pit, self.halo, self.film, self.groove], -1)
