"""A measure between two places: its length, how far across and along, and how it leans."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coverlayout.geometry.frames import Point, turn
from coverlayout.geometry.tolerance import EXACT_MM

__all__ = ["Measure", "measured", "square_deg"]


@dataclass(frozen=True)
class Measure:
    """A straight measure as it is seen; `across_mm` and `along_mm` are never below 0.

    `lean_deg` is the direction of the line counted clockwise from straight across, above -90 up to 90: a line has no
    first end. `corner_mm` is where the way across from the start meets the way along to the end.
    """

    start_mm: Point
    end_mm: Point
    length_mm: float
    across_mm: float
    along_mm: float
    lean_deg: float
    corner_mm: Point


def measured(start_mm: Point, end_mm: Point, across_deg: float = 0.0) -> Measure:
    """The measure between two places; `across_deg` is the direction that counts as straight across.

    Two equal places give a measure of 0 that leans by 0.

    >>> found = measured((10.0, 10.0), (40.0, 50.0))
    >>> found.length_mm, found.across_mm, found.along_mm, round(found.lean_deg, 2), found.corner_mm
    (50.0, 30.0, 40.0, 53.13, (40.0, 10.0))
    """
    way = end_mm[0] - start_mm[0], end_mm[1] - start_mm[1]
    across, along = turn(-across_deg).vector(way)
    corner = turn(across_deg).vector((across, 0.0))
    return Measure(
        start_mm,
        end_mm,
        math.hypot(*way),
        abs(across),
        abs(along),
        _lean(across, along),
        (start_mm[0] + corner[0], start_mm[1] + corner[1]),
    )


def _lean(across_mm: float, along_mm: float) -> float:
    """The direction of a line that has no first end."""
    if math.hypot(across_mm, along_mm) <= EXACT_MM:
        return 0.0
    lean = math.degrees(math.atan2(along_mm, across_mm))
    if lean <= -90.0:
        return lean + 180.0
    return lean - 180.0 if lean > 90.0 else lean


def square_deg(start_mm: Point, end_mm: Point) -> float:
    """The direction square to a line, that counts as across it, while along is the line's own; -90 up to 90.

    >>> square_deg((0.0, 0.0), (0.0, 200.0)), square_deg((0.0, 0.0), (200.0, 0.0))
    (0.0, 90.0)
    """
    square = math.degrees(math.atan2(end_mm[1] - start_mm[1], end_mm[0] - start_mm[0])) - 90.0
    return square - 180.0 * round(square / 180.0) if abs(square) != 90.0 else 90.0
