"""One cell of a lattice as a unit square: where its points lie, where in the picture their colours are found."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.picture.colours import Rgb

__all__ = ["Floats", "between", "into_picture", "middles_mm", "two_vectors"]

Floats = npt.NDArray[np.float64]


def two_vectors(lattice: Lattice) -> tuple[Point, Point]:
    """The two shortest vectors, turning clockwise from the first to the second; stripes get a square of their step."""
    short = lattice.reduced()
    a_mm, b_mm = short.a_mm, short.b_mm
    if b_mm is None:
        return a_mm, (-a_mm[1], a_mm[0])
    return (a_mm, b_mm) if a_mm[0] * b_mm[1] > a_mm[1] * b_mm[0] else (b_mm, a_mm)


def middles_mm(to_print: Affine, columns: int, rows: int) -> tuple[Floats, Floats]:
    """Print frame x and y of the middle of every pixel."""
    across, down = np.meshgrid(np.arange(columns) + 0.5, np.arange(rows) + 0.5)
    return (
        to_print.xx * across + to_print.xy * down + to_print.dx,
        to_print.yx * across + to_print.yy * down + to_print.dy,
    )


def into_picture(lattice: Lattice, tile_mm: Point, x_mm: Floats, y_mm: Floats) -> tuple[Floats, Floats]:
    """Where in the picture each point's colour is found: the place one lattice step or none away, nearest its middle.

    Points that no step brings into the picture (it is smaller than the cell) wrap round its edges.
    """
    middle_x, middle_y = tile_mm[0] / 2, tile_mm[1] / 2
    a_mm, b_mm = lattice.reduced().a_mm, lattice.reduced().b_mm
    x, y = x_mm - middle_x, y_mm - middle_y
    if b_mm is None:
        step = (x * a_mm[0] + y * a_mm[1]) / (a_mm[0] ** 2 + a_mm[1] ** 2)
        step -= np.round(step)
        return (step * a_mm[0] + middle_x) % tile_mm[0], (step * a_mm[1] + middle_y) % tile_mm[1]
    det = a_mm[0] * b_mm[1] - a_mm[1] * b_mm[0]
    i = np.round((x * b_mm[1] - y * b_mm[0]) / det)
    k = np.round((a_mm[0] * y - a_mm[1] * x) / det)
    x, y = x - i * a_mm[0] - k * b_mm[0], y - i * a_mm[1] - k * b_mm[1]
    x, y = _nearest_inside(x, y, (a_mm, b_mm), tile_mm)
    return _wrapped(x + middle_x, tile_mm[0]), _wrapped(y + middle_y, tile_mm[1])


def _wrapped(place_mm: Floats, side_mm: float) -> Floats:
    """Places beyond the picture taken round its edges; those on an edge, dust aside, stay there."""
    inside = (place_mm > -EXACT_MM) & (place_mm < side_mm + EXACT_MM)
    return np.where(inside, np.clip(place_mm, 0, side_mm), place_mm % side_mm)


def _nearest_inside(x: Floats, y: Floats, vectors: tuple[Point, Point], tile_mm: Point) -> tuple[Floats, Floats]:
    """Of each point and its neighbours in the lattice, the one deepest in a picture about (0, 0)."""
    best_x, best_y = x, y
    least = np.maximum(np.abs(x) / tile_mm[0], np.abs(y) / tile_mm[1])
    for i in (-2, -1, 0, 1, 2):
        for k in (-2, -1, 0, 1, 2):
            near_x = x + i * vectors[0][0] + k * vectors[1][0]
            near_y = y + i * vectors[0][1] + k * vectors[1][1]
            depth = np.maximum(np.abs(near_x) / tile_mm[0], np.abs(near_y) / tile_mm[1])
            better = depth < least - 1e-12
            best_x, best_y = np.where(better, near_x, best_x), np.where(better, near_y, best_y)
            least = np.where(better, depth, least)
    return best_x, best_y


def between(rgb: Rgb, column: Floats, row: Floats) -> Rgb:
    """Colours at places given in pixels, mixed from the four nearest, the picture's last pixels held at its edge."""
    height_px, width_px = rgb.shape[:2]
    column, row = np.clip(column - 0.5, 0, width_px - 1), np.clip(row - 0.5, 0, height_px - 1)
    left, top = np.floor(column).astype(np.intp), np.floor(row).astype(np.intp)
    right, bottom = np.minimum(left + 1, width_px - 1), np.minimum(top + 1, height_px - 1)
    across, down = (column - left)[..., None].astype(np.float32), (row - top)[..., None].astype(np.float32)
    above = rgb[top, left] * (1 - across) + rgb[top, right] * across
    below = rgb[bottom, left] * (1 - across) + rgb[bottom, right] * across
    mixed: Rgb = np.round(above * (1 - down) + below * down).astype(np.uint8)
    return mixed
