"""Frames and the maps between them. Mirroring and turning exist in this file only.

Cloth frame: print side up, origin at the top-left of the cloth's bounding box, x right, y down, mm. A positive turn is
clockwise as you look at the print side. Piece frame: the piece from its print side, head up, origin at the top-left of
its cut outline. Back view: the cloth turned over left to right, x' = width - x.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from coverlayout.geometry.tolerance import EXACT_MM, SAME_TURN_DEG

__all__ = [
    "IDENTITY",
    "Affine",
    "Point",
    "Ring",
    "cloth_to_back",
    "lean_deg",
    "piece_to_cloth",
    "same_turn",
    "scale",
    "shift",
    "signed_deg",
    "turn",
    "turns_apart_deg",
]

Point = tuple[float, float]
Ring = tuple[Point, ...]


@dataclass(frozen=True)
class Affine:
    """The map x' = xx x + xy y + dx, y' = yx x + yy y + dy between two frames.

    >>> turn(90).then(shift(10, 0)).at((3.0, 1.0))
    (9.0, 3.0)
    """

    xx: float = 1.0
    xy: float = 0.0
    yx: float = 0.0
    yy: float = 1.0
    dx: float = 0.0
    dy: float = 0.0

    def at(self, point: Point) -> Point:
        """The point's place in the other frame."""
        x, y = point
        return self.xx * x + self.xy * y + self.dx, self.yx * x + self.yy * y + self.dy

    def vector(self, vector: Point) -> Point:
        """A difference of two points in the other frame: turned and stretched, not shifted."""
        x, y = vector
        return self.xx * x + self.xy * y, self.yx * x + self.yy * y

    def ring(self, points: Iterable[Point]) -> Ring:
        """Every point of an outline in the other frame."""
        return tuple(self.at(point) for point in points)

    def then(self, after: Affine) -> Affine:
        """This map first, `after` second."""
        return Affine(
            after.xx * self.xx + after.xy * self.yx,
            after.xx * self.xy + after.xy * self.yy,
            after.yx * self.xx + after.yy * self.yx,
            after.yx * self.xy + after.yy * self.yy,
            after.xx * self.dx + after.xy * self.dy + after.dx,
            after.yx * self.dx + after.yy * self.dy + after.dy,
        )

    @property
    def determinant(self) -> float:
        """Signed change of area; below 0 the map mirrors."""
        return self.xx * self.yy - self.xy * self.yx

    def inverse(self) -> Affine:
        """The map back. ZeroDivisionError for a map that flattens the plane."""
        det = self.determinant
        xx, xy, yx, yy = self.yy / det, -self.xy / det, -self.yx / det, self.xx / det
        return Affine(xx, xy, yx, yy, -(xx * self.dx + xy * self.dy), -(yx * self.dx + yy * self.dy))


IDENTITY = Affine()


def shift(x_mm: float, y_mm: float) -> Affine:
    """The map that moves everything by (x_mm, y_mm)."""
    return Affine(dx=x_mm, dy=y_mm)


def scale(across: float, along: float | None = None) -> Affine:
    """The map that stretches x by `across` and y by `along` (factors; one figure counts for both)."""
    return Affine(xx=across, yy=across if along is None else along)


def turn(turn_deg: float) -> Affine:
    """The map that turns clockwise about the origin, y pointing down; exact for quarter turns.

    >>> turn(90).at((1.0, 0.0))
    (0.0, 1.0)
    """
    quarter = round(turn_deg / 90.0)
    if abs(turn_deg - 90.0 * quarter) < EXACT_MM:
        cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[quarter % 4]
    else:
        cos, sin = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    return Affine(cos, -sin, sin, cos)


def piece_to_cloth(anchor_mm: Point, at_mm: Point, turn_deg: float) -> Affine:
    """Piece frame to cloth frame: the piece's `anchor_mm` comes to lie at `at_mm`, turned clockwise by `turn_deg`.

    >>> piece_to_cloth((10.0, 5.0), (100.0, 50.0), 90).at((12.0, 5.0))
    (100.0, 52.0)
    """
    return shift(-anchor_mm[0], -anchor_mm[1]).then(turn(turn_deg)).then(shift(*at_mm))


def cloth_to_back(width_mm: float) -> Affine:
    """Cloth frame to the back view of a cloth `width_mm` wide, and back again: x' = width - x.

    >>> cloth_to_back(304.8).at((10.0, 20.0))
    (294.8, 20.0)
    """
    return Affine(xx=-1.0, dx=width_mm)


def same_turn(first_deg: float, second_deg: float, within_deg: float) -> bool:
    """True when two turns differ by no more than `within_deg`, full turns aside."""
    return turns_apart_deg(first_deg, second_deg) <= within_deg


def turns_apart_deg(first_deg: float, second_deg: float) -> float:
    """How far two turns are apart, 0 to 180, full turns aside.

    >>> turns_apart_deg(350.0, 20.0)
    30.0
    """
    return abs((first_deg - second_deg + 180.0) % 360.0 - 180.0)


def signed_deg(turn_deg: float) -> float:
    """The same turn above -180 up to 180: clockwise above 0, the other way round below.

    >>> signed_deg(359.0), signed_deg(180.0), signed_deg(-180.0)
    (-1.0, 180.0, 180.0)
    """
    return 180.0 - (180.0 - turn_deg) % 360.0


def lean_deg(turn_deg: float) -> float:
    """How far a turn is off the nearest quarter turn, at most 45 either way; 0 within the tolerance of turns.

    >>> lean_deg(93.0), lean_deg(358.0), lean_deg(270.0)
    (3.0, -2.0, 0.0)
    """
    off_deg = turn_deg - 90.0 * round(turn_deg / 90.0)
    return 0.0 if abs(off_deg) <= SAME_TURN_DEG else off_deg
