"""A print as one picture that repeats as a plain rectangular grid: what every canvas and paper fills with."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Affine, Point
from coverlayout.motif.cell import Floats, between, into_picture, middles_mm, two_vectors
from coverlayout.motif.picture.colours import Rgb
from coverlayout.motif.pixels import halved
from coverlayout.motif.prints import Print

__all__ = ["DrawnTile", "colour_at", "drawn_tile", "plain_tile"]

# Wide tiles beyond this are drawn from a halved picture: 40 megapixels are 120 MB.
_MOST_PX = 40_000_000
_LONGEST_CELL_PX = 4096
_PLAIN_CELL_PX = 96
_PLAIN_GROUND = (244, 240, 232)
_PLAIN_MARK = (188, 178, 160)
# Points tried inside one pixel of the plain mark, each way, so that its edge is smooth.
_FINE = 4


@dataclass(frozen=True, eq=False)
class DrawnTile:
    """Pixels (height, width, 3) and their map to the print's frame in mm.

    Repeated as a plain rectangular grid of its own width and height under `to_print`, the picture gives the whole
    print. Pixel (column, row) covers the square from (column, row) to (column + 1, row + 1) of the map's input.
    """

    rgb: Rgb
    to_print: Affine


def drawn_tile(a_print: Print, rgb: Rgb) -> DrawnTile:
    """The print as one repeating picture, from its own picture `rgb` (any size; it covers `tile_mm` of the print).

    Straight: the picture itself; drops: n columns side by side, each rolled down by a further n-th; brick: two rows;
    mirrored: the picture and its three reflections; vectors: one cell of the lattice, resampled; one vector (plain
    stripes): the step across, drawn out along the stripes. A drop by less than whole pixels is blended between two
    rows. Raises BadInput for a picture without a printed size.
    """
    tile_mm = _size_mm(a_print)
    parts = {"drop": a_print.drop_parts, "straight": 1, "vectors": 1, "mirrored": 4}.get(a_print.layout, 2)
    while rgb.shape[0] * rgb.shape[1] * parts > _MOST_PX:
        rgb = halved(rgb)
    if a_print.layout == "vectors":
        return _cell(a_print, rgb)
    to_print = Affine(xx=tile_mm[0] / rgb.shape[1], yy=tile_mm[1] / rgb.shape[0])
    return DrawnTile(np.ascontiguousarray(_repeating(a_print, rgb, parts)), to_print)


def _size_mm(a_print: Print) -> Point:
    if a_print.tile_mm is None:
        raise BadInput("picture-no-size", name=a_print.name)
    return a_print.tile_mm


def _repeating(a_print: Print, rgb: Rgb, parts: int) -> Rgb:
    """The picture and its shifted or mirrored copies as one rectangle."""
    if a_print.layout in ("half-drop", "drop"):
        return np.concatenate([_rolled(rgb, column / parts, 0) for column in range(parts)], axis=1)
    if a_print.layout == "brick":
        return np.concatenate([_rolled(rgb, row / 2, 1) for row in range(2)], axis=0)
    if a_print.layout == "mirrored":
        pair = np.concatenate([rgb, rgb[:, ::-1]], axis=1)
        return np.concatenate([pair, pair[::-1]], axis=0)
    return rgb


def _rolled(rgb: Rgb, share: float, axis: int) -> Rgb:
    """The picture moved on by a share of its length, round the end, between two rows blended where need be."""
    steps = share * rgb.shape[axis]
    whole = math.floor(steps + 1e-9)
    rest = steps - whole
    rolled = np.roll(rgb, whole, axis)
    if rest < 1e-6:
        return rolled
    blend = rolled * np.float32(1 - rest) + np.roll(rolled, 1, axis) * np.float32(rest)
    return np.round(blend).astype(np.uint8)


def _cell(a_print: Print, rgb: Rgb) -> DrawnTile:
    """One cell of a print given by vectors, as the unit square of its two shortest vectors."""
    tile_mm = _size_mm(a_print)
    per_mm = math.sqrt(rgb.shape[0] * rgb.shape[1] / (tile_mm[0] * tile_mm[1]))
    a_mm, b_mm = two_vectors(a_print.lattice)
    columns, rows = (min(_LONGEST_CELL_PX, max(1, round(math.hypot(*vector) * per_mm))) for vector in (a_mm, b_mm))
    to_print = Affine(a_mm[0] / columns, b_mm[0] / rows, a_mm[1] / columns, b_mm[1] / rows)
    x_mm, y_mm = middles_mm(to_print, columns, rows)
    x_mm, y_mm = into_picture(a_print.lattice, tile_mm, x_mm, y_mm)
    return DrawnTile(between(rgb, x_mm / tile_mm[0] * rgb.shape[1], y_mm / tile_mm[1] * rgb.shape[0]), to_print)


def plain_tile(a_print: Print) -> DrawnTile:
    """A stand-in for a print without a picture: a light ground with one small mark a cell.

    The mark shows which ways the print may stand: a wedge pointing up (one-way), a lozenge (two-way), a dot (any way);
    plain stripes show a band across each step.
    """
    a_mm, b_mm = two_vectors(a_print.lattice)
    side = _PLAIN_CELL_PX * _FINE
    to_print = Affine(a_mm[0] / side, b_mm[0] / side, a_mm[1] / side, b_mm[1] / side)
    x_mm, y_mm = middles_mm(to_print, side, side)
    if a_print.lattice.b_mm is None:
        inside = np.abs((np.arange(side) + 0.5) / side - 0.5)[np.newaxis, :].repeat(side, 0) < 0.08
    else:
        middle_x, middle_y = (a_mm[0] + b_mm[0]) / 2, (a_mm[1] + b_mm[1]) / 2
        # Half the cell's least height keeps the mark inside it, however the cell leans.
        size_mm = 0.16 * a_print.lattice.cell_area_mm2 / max(math.hypot(*a_mm), math.hypot(*b_mm))
        inside = _mark(a_print, (x_mm - middle_x) / size_mm, (y_mm - middle_y) / size_mm)
    shown = inside.reshape(_PLAIN_CELL_PX, _FINE, _PLAIN_CELL_PX, _FINE).mean((1, 3))[..., None]
    rgb = np.round(np.array(_PLAIN_GROUND) * (1 - shown) + np.array(_PLAIN_MARK) * shown).astype(np.uint8)
    pixel = Affine(to_print.xx * _FINE, to_print.xy * _FINE, to_print.yx * _FINE, to_print.yy * _FINE)
    return DrawnTile(rgb, pixel)


def _mark(a_print: Print, x: Floats, y: Floats) -> npt.NDArray[np.bool_]:
    """Inside of the mark that fits into a circle of radius 1; y points down."""
    if a_print.up == "one-way":
        return (np.abs(y) < 0.8) & (np.abs(x) < (y + 0.8) * 0.375)
    if a_print.up == "two-way":
        return np.abs(x) / 0.6 + np.abs(y) < 1
    return x * x + y * y < 0.5


def colour_at(a_print: Print, rgb: Rgb, point_mm: Point) -> tuple[int, int, int]:
    """The print's colour at a point of its own frame, by the layout's own rule; the nearest pixel of the picture.

    Point by point and without any tile: the reference that drawings are held against. Raises BadInput for a picture
    without a printed size.
    """
    x_mm, y_mm = _place_in_picture(a_print, point_mm)
    width_mm, height_mm = _size_mm(a_print)
    height_px, width_px = rgb.shape[:2]
    column = min(width_px - 1, int(x_mm / width_mm * width_px))
    row = min(height_px - 1, int(y_mm / height_mm * height_px))
    red, green, blue = (int(level) for level in rgb[row, column])
    return red, green, blue


def _place_in_picture(a_print: Print, point_mm: Point) -> Point:
    """Where in the picture, from its top-left corner in mm, the point's colour is found."""
    (x, y), (width_mm, height_mm) = point_mm, _size_mm(a_print)
    column, row = math.floor(x / width_mm), math.floor(y / height_mm)
    if a_print.layout in ("half-drop", "drop"):
        parts = 2 if a_print.layout == "half-drop" else a_print.drop_parts
        return x % width_mm, (y - column * height_mm / parts) % height_mm
    if a_print.layout == "brick":
        return (x - row * width_mm / 2) % width_mm, y % height_mm
    if a_print.layout == "mirrored":
        across, down = x % width_mm, y % height_mm
        return (width_mm - across if column % 2 else across), (height_mm - down if row % 2 else down)
    if a_print.layout == "vectors":
        place_x, place_y = into_picture(a_print.lattice, (width_mm, height_mm), np.array(x), np.array(y))
        return float(place_x), float(place_y)
    return x % width_mm, y % height_mm
