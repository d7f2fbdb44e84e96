"""Lines of drawn books: arcs, rounded corners, waves; and places drawn closer together where nothing happens."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["Shortened", "arc", "rounded", "shortened", "wave"]

_ARC_PARTS = 24


@dataclass(frozen=True)
class Shortened:
    """A map from real to drawn mm: true to scale but for the stretches that were shortened.

    `knots` are (real, drawn), rising. `breaks` are the drawn middles of the shortened stretches.
    """

    knots: tuple[tuple[float, float], ...]
    breaks: tuple[float, ...]

    def at(self, real_mm: float) -> float:
        """Where a place is drawn; beyond both ends it is true to scale.

        >>> shortened((0.0, 10.0, 110.0), 30.0).at(60.0)
        25.0
        """
        first, last = self.knots[0], self.knots[-1]
        if real_mm <= first[0]:
            return first[1] + real_mm - first[0]
        if real_mm >= last[0]:
            return last[1] + real_mm - last[0]
        index = bisect_right([real for real, _drawn in self.knots], real_mm)
        (from_real, from_drawn), (to_real, to_drawn) = self.knots[index - 1], self.knots[index]
        return from_drawn + (real_mm - from_real) * (to_drawn - from_drawn) / (to_real - from_real)


def shortened(places: Iterable[float], most_mm: float) -> Shortened:
    """The map in which no stretch between two neighbouring places is drawn longer than `most_mm`.

    The first place is drawn where it is. ValueError for no places.

    >>> shortened((0.0, 10.0, 110.0), 30.0)
    Shortened(knots=((0.0, 0.0), (10.0, 10.0), (110.0, 40.0)), breaks=(25.0,))
    """
    ordered: list[float] = []
    for place in sorted(places):
        if not ordered or place > ordered[-1] + SNAP_MM:
            ordered.append(place)
    if not ordered:
        raise ValueError("nothing to draw")
    knots, breaks = [(ordered[0], ordered[0])], []
    for from_mm, to_mm in pairwise(ordered):
        drawn = knots[-1][1]
        if to_mm - from_mm > most_mm:
            breaks.append(drawn + most_mm / 2)
        knots.append((to_mm, drawn + min(to_mm - from_mm, most_mm)))
    return Shortened(tuple(knots), tuple(breaks))


def rounded(points: Ring, radius_mm: float) -> Ring:
    """A line with its corners rounded; a corner between short sides is rounded as far as they reach.

    Each corner is a curve of second degree that leaves and meets the sides `radius_mm` before and behind it.

    >>> line = rounded(((0.0, 0.0), (10.0, 0.0), (10.0, 10.0)), 2.0)
    >>> line[0], line[1], line[-2], line[-1]
    ((0.0, 0.0), (8.0, 0.0), (10.0, 2.0), (10.0, 10.0))
    """
    plain = [points[0], *(to for at, to in pairwise(points) if math.dist(at, to) > SNAP_MM)]
    made = [plain[0]]
    for before, corner, behind in zip(plain, plain[1:], plain[2:], strict=False):
        start = _towards(corner, before, min(radius_mm, math.dist(corner, before) / 2))
        end = _towards(corner, behind, min(radius_mm, math.dist(corner, behind) / 2))
        made += [_on_curve(start, corner, end, part / 6) for part in range(7)]
    return (*made, plain[-1])


def _towards(at: Point, to: Point, by_mm: float) -> Point:
    part = by_mm / math.dist(at, to)
    return at[0] + (to[0] - at[0]) * part, at[1] + (to[1] - at[1]) * part


def _on_curve(start: Point, pull: Point, end: Point, part: float) -> Point:
    first, both, last = (1 - part) ** 2, 2 * part * (1 - part), part**2
    return (
        first * start[0] + both * pull[0] + last * end[0],
        first * start[1] + both * pull[1] + last * end[1],
    )


def arc(height_mm: float, rise_mm: float, out_mm: float = 0.0) -> Ring:
    """The arc from (0, 0) to (0, height) that stands out `rise_mm` to the left, `out_mm` farther out all along.

    A straight line, moved out, when nothing rises. Circle through the chord's ends and the height of the round.

    >>> [(round(x) + 0, round(y) + 0) for x, y in arc(20.0, 10.0)[::12]]
    [(0, 0), (-10, 10), (0, 20)]
    """
    if rise_mm <= 0:
        return (-out_mm, 0.0), (-out_mm, height_mm)
    radius_mm = (height_mm**2 / 4 + rise_mm**2) / (2 * rise_mm)
    middle = (radius_mm - rise_mm, height_mm / 2)
    half = 2 * math.atan2(2 * rise_mm, height_mm)
    turns = (half - 2 * half * part / _ARC_PARTS for part in range(_ARC_PARTS + 1))
    reach_mm = radius_mm + out_mm
    return tuple((middle[0] - reach_mm * math.cos(at), middle[1] - reach_mm * math.sin(at)) for at in turns)


def wave(x_mm: float, top_mm: float, bottom_mm: float, swing_mm: float) -> Ring:
    """A wavy line from top to bottom, about as many waves as it is long: where something is drawn shortened."""
    count = max(round((bottom_mm - top_mm) / (7 * swing_mm)), 1)
    parts = 12 * count
    return tuple(
        (
            x_mm + swing_mm * math.sin(2 * math.pi * count * part / parts),
            top_mm + (bottom_mm - top_mm) * part / parts,
        )
        for part in range(parts + 1)
    )
