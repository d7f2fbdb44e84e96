"""The press our sample prints are drawn on: shapes in mm, repeated over a lattice, smooth edges, exact resolution."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw

__all__ = ["PX_PER_MM", "Tile", "curve", "disc", "mixed", "petal", "placed", "stroke"]

Points = npt.NDArray[np.float64]

# 12 dots a millimetre (304.8 dpi) is a whole number of dots per metre, so a PNG can say it exactly.
PX_PER_MM = 12
# Drawn this much larger, then averaged down: smooth edges without fringes.
_FINE = 4


class Tile:
    """One repeat of a print: every shape is drawn at all its places in the lattice, so the tile has no seam."""

    def __init__(self, size_mm: tuple[float, float], ground: str, drop_mm: tuple[float, float] = (0.0, 0.0)) -> None:
        """A tile of whole pixels; `drop_mm` lowers each next column (x) and shifts each next row (y) by so much."""
        self.size_mm = size_mm
        self._vectors = np.array([[size_mm[0], drop_mm[0]], [drop_mm[1], size_mm[1]]])
        self._scale = PX_PER_MM * _FINE
        self._image = Image.new("RGB", (round(size_mm[0] * self._scale), round(size_mm[1] * self._scale)), ground)
        self._draw = ImageDraw.Draw(self._image)

    def fill(self, points_mm: Points, colour: str) -> None:
        """Fill a closed outline wherever the lattice brings it into the tile."""
        low, high = points_mm.min(axis=0), points_mm.max(axis=0)
        for across in range(-3, 4):
            for along in range(-4, 5):
                step = across * self._vectors[0] + along * self._vectors[1]
                if (low + step < self.size_mm).all() and (high + step > 0).all():
                    corners = (points_mm + step) * self._scale - 0.5
                    self._draw.polygon([(x, y) for x, y in corners], fill=colour)

    def save(self, path: Path) -> None:
        """Write the tile as a PNG of few colours that states its resolution."""
        picture = self._image.reduce(_FINE).quantize(
            colors=192, method=Image.Quantize.MEDIANCUT, dither=Image.Dither.NONE
        )
        picture.save(path, optimize=True, dpi=(PX_PER_MM * 25.4, PX_PER_MM * 25.4))


def curve(points: list[tuple[float, float]], *, closed: bool = True, steps: int = 14) -> Points:
    """A smooth line through the points (Catmull and Rom's spline), as many short straight pieces."""
    given = np.array(points, dtype=float)
    if closed:
        knots = np.concatenate([given[-1:], given, given[:2]])
    else:
        knots = np.concatenate([2 * given[:1] - given[1:2], given, 2 * given[-1:] - given[-2:-1]])
    t = np.arange(steps)[:, None] / steps
    pieces = []
    for before, start, end, after in zip(knots, knots[1:], knots[2:], knots[3:], strict=False):
        bend = 2 * start + (end - before) * t
        bend = bend + (2 * before - 5 * start + 4 * end - after) * t**2 + (3 * start - before - 3 * end + after) * t**3
        pieces.append(bend / 2)
    line = np.concatenate(pieces)
    return line if closed else np.concatenate([line, given[-1:]])


def stroke(line: Points, start_mm: float, middle_mm: float, end_mm: float) -> Points:
    """The outline of a brush drawn along a line, its width running from start over middle to end."""
    along = np.linspace(0, 1, len(line))
    even = start_mm + (end_mm - start_mm) * along
    width = (even + (middle_mm - (start_mm + end_mm) / 2) * np.sin(np.pi * along))[:, None] / 2
    ahead = np.gradient(line, axis=0)
    aside = np.stack([-ahead[:, 1], ahead[:, 0]], axis=1) / np.maximum(np.hypot(*ahead.T), 1e-9)[:, None]
    first, last = _cap(line[0], -ahead[0], start_mm / 2), _cap(line[-1], ahead[-1], end_mm / 2)
    return np.concatenate([line + aside * width, last, (line - aside * width)[::-1], first])


def _cap(at: Points, outward: Points, radius_mm: float) -> Points:
    """Half a circle from one side of the brush round its end to the other."""
    middle = math.atan2(outward[1], outward[0])
    angles = middle + np.linspace(math.pi / 2, -math.pi / 2, 9)
    return at + radius_mm * np.stack([np.cos(angles), np.sin(angles)], axis=1)


def disc(at: tuple[float, float], radius_mm: float, flat: float = 1.0) -> Points:
    """A circle, or an ellipse `flat` times as high as wide."""
    angles = np.linspace(0, 2 * math.pi, 40 + 8 * math.ceil(radius_mm), endpoint=False)
    return np.array(at) + radius_mm * np.stack([np.cos(angles), flat * np.sin(angles)], axis=1)


def petal(length_mm: float, width_mm: float, belly: float = 0.55) -> Points:
    """A pointed leaf standing on (0, 0) and reaching up, widest at the share `belly` of its length."""
    share = np.linspace(0, 1, 40)
    half = width_mm / 2 * np.sin(np.pi * share ** (math.log(0.5) / math.log(belly)))
    left = np.stack([-half, -length_mm * share], axis=1)
    return np.concatenate([left, np.stack([half, -length_mm * share], axis=1)[::-1]])


def placed(
    points: Points,
    at: tuple[float, float] = (0.0, 0.0),
    turn_deg: float = 0.0,
    size: float = 1.0,
    *,
    flip: bool = False,
) -> Points:
    """A shape drawn about (0, 0), made larger, flipped left to right, turned clockwise and put at its place."""
    cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    shape = points * size * np.array([-1.0 if flip else 1.0, 1.0])
    turned = np.stack([shape[:, 0] * cos - shape[:, 1] * sin, shape[:, 0] * sin + shape[:, 1] * cos], axis=1)
    return turned + np.array(at)


def mixed(first: str, second: str, share: float) -> str:
    """A colour between two, `share` of the way from the first."""
    pairs = zip(bytes.fromhex(first[1:]), bytes.fromhex(second[1:]), strict=True)
    return "#" + bytes(round(a + (b - a) * share) for a, b in pairs).hex()
