"""Long plain stretches drawn shorter, so that what matters at their ends can be drawn large."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from coverlayout.geometry.tolerance import SNAP_MM

__all__ = ["Shortened", "shortened"]


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
