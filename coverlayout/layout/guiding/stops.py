"""Stops along one direction: places where an edge or a middle of what is carried may come to lie, nearest first."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Mapping
from typing import Literal, NamedTuple

from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SNAP_MM
from coverlayout.layout.guiding.guide import RANK, GuideKind, Line, said

__all__ = ["Catch", "Extent", "Part", "Stop", "Stops", "lines_of", "named"]

Part = Literal["low", "high", "middle", "anchor", "board low", "board high"]
"""What of the carried pieces comes to a stop: edges and middle of their box, anchor and board of the gripped one."""


class Extent(NamedTuple):
    """What is carried in one direction: where each of its parts lies, and what it takes up in the other direction."""

    parts: Mapping[Part, float]
    other_low_mm: float
    other_high_mm: float

    @property
    def length_mm(self) -> float:
        """The side of its box in this direction."""
        return self.parts["high"] - self.parts["low"]


class Stop(NamedTuple):
    """A stop at a place in one direction; `low_mm` to `high_mm` is what it belongs to in the other direction.

    `beside`: it counts only beside that stretch. `length_mm` is the gap or room it keeps. `most_mm`: nothing longer
    comes to stop here. `pair_mm` are the facing edges of the two pieces whose gap it is about.
    """

    at_mm: float
    kind: GuideKind
    low_mm: float
    high_mm: float
    names: tuple[str, ...] = ()
    length_mm: float | None = None
    beside: bool = False
    most_mm: float = math.inf
    pair_mm: tuple[float, float] | None = None

    def serves(self, extent: Extent) -> bool:
        """True when it counts for what is carried there."""
        if self.beside and (
            extent.other_low_mm > self.high_mm - SAME_LENGTH_MM or extent.other_high_mm < self.low_mm + SAME_LENGTH_MM
        ):
            return False
        return extent.length_mm <= self.most_mm

    def away_mm(self, extent: Extent) -> float:
        """How far off it is in the other direction, 0 beside it."""
        return max(self.low_mm - extent.other_high_mm, extent.other_low_mm - self.high_mm, 0.0)


class Catch(NamedTuple):
    """The stop that caught, the part it caught, and how far the carried pieces go to it."""

    by_mm: float
    part: Part
    stop: Stop


class Stops:
    """All stops in one direction, sorted once; looking for the nearest costs a few steps."""

    def __init__(self, stops: Iterable[tuple[Part, Stop]]) -> None:
        """Sort them by the part they catch."""
        by_part: dict[Part, list[Stop]] = {}
        for part, stop in stops:
            by_part.setdefault(part, []).append(stop)
        self._stops = {part: sorted(each, key=lambda stop: stop.at_mm) for part, each in by_part.items()}
        self._at_mm = {part: [stop.at_mm for stop in each] for part, each in self._stops.items()}

    def nearest(self, extent: Extent, reach_mm: float, allowed: Callable[[float], bool]) -> Catch | None:
        """The nearest stop within reach that the carried pieces are `allowed` to go to; None when there is none.

        Of stops that ask for the same place, the first by rank, then the nearest in the other direction.

        >>> rail = Stops([("low", Stop(10.0, "edge", 0.0, 50.0)), ("high", Stop(31.0, "level", 0.0, 50.0, ("Label",)))])
        >>> extent = Extent({"low": 11.5, "high": 31.5, "middle": 21.5}, 0.0, 9.0)
        >>> caught = rail.nearest(extent, 3.0, lambda by_mm: True)
        >>> caught.by_mm, caught.part
        (-0.5, 'high')
        """
        best: Catch | None = None
        for part, at_mm in extent.parts.items():
            places = self._at_mm.get(part)
            if places is not None:
                stops = self._stops[part]
                bound_mm = (reach_mm if best is None else abs(best.by_mm)) + SNAP_MM
                near = stops[bisect_left(places, at_mm - bound_mm) : bisect_right(places, at_mm + bound_mm)]
                for stop in sorted(near, key=lambda stop: abs(stop.at_mm - at_mm)) if len(near) > 1 else near:
                    best = _better(best, Catch(stop.at_mm - at_mm, part, stop), extent, allowed)
        return best

    def beyond(self, extent: Extent, ahead: int, allowed: Callable[[float], bool]) -> Catch | None:
        """The next stop further on (`ahead` 1) or before (-1), however far, that may be gone to; None after the last.

        >>> rail = Stops([("low", Stop(10.0, "edge", 0.0, 50.0)), ("low", Stop(40.0, "level", 0.0, 50.0, ("Label",)))])
        >>> ahead = rail.beyond(Extent({"low": 11.5, "high": 31.5}, 0.0, 9.0), 1, lambda by_mm: True)
        >>> ahead.by_mm
        28.5
        """
        best: Catch | None = None
        for part, at_mm in extent.parts.items():
            stops = self._stops.get(part, [])
            for stop in stops if ahead > 0 else reversed(stops):
                catch = Catch(stop.at_mm - at_mm, part, stop)
                if catch.by_mm * ahead > SNAP_MM:
                    best = _better(best, catch, extent, allowed)
                    if best is not None and abs(catch.by_mm) > abs(best.by_mm) + SNAP_MM:
                        break
        return best


def _better(best: Catch | None, new: Catch, extent: Extent, allowed: Callable[[float], bool]) -> Catch | None:
    """The one that asks for less; of two that ask for the same the one that comes first."""
    if best is not None and abs(new.by_mm) > abs(best.by_mm) + SNAP_MM:
        return best
    if not new.stop.serves(extent):
        return best
    if best is not None and abs(new.by_mm - best.by_mm) <= SNAP_MM:
        return new if _order(new.stop, extent) < _order(best.stop, extent) else best
    nearer = best is None or abs(new.by_mm) < abs(best.by_mm) - SNAP_MM
    return new if nearer and allowed(new.by_mm) else best


def _order(stop: Stop, extent: Extent) -> tuple[int, float]:
    return RANK[stop.kind], stop.away_mm(extent)


def named(catch: Catch, extent: Extent) -> Remark:
    """What a stop that caught is called; half-way between two pieces, by the gap that is left on both sides."""
    stop = catch.stop
    if stop.kind == "between":
        return said(stop.kind, stop.names, (stop.most_mm - extent.length_mm) / 2)
    return said(stop.kind, stop.names, stop.length_mm)


def lines_of(catch: Catch, extent: Extent) -> tuple[Line, ...]:
    """The lines to draw for a stop that caught, the direction first: (along it, across it).

    A common line runs over both that it joins; a gap is drawn by its two edges, equal gaps by a stroke in each.
    """
    stop = catch.stop
    low_mm, high_mm = min(stop.low_mm, extent.other_low_mm), max(stop.high_mm, extent.other_high_mm)
    kept_mm = (stop.length_mm or 0.0) * (-1.0 if catch.part == "low" else 1.0)
    if stop.pair_mm is None:
        places = (stop.at_mm, stop.at_mm + kept_mm) if kept_mm else (stop.at_mm,)
        return tuple(((at_mm, low_mm), (at_mm, high_mm)) for at_mm in places)
    across_mm = (max(stop.low_mm, extent.other_low_mm) + min(stop.high_mm, extent.other_high_mm)) / 2
    first, last = stop.pair_mm
    if stop.kind == "between":
        strokes = ((first, extent.parts["low"]), (extent.parts["high"], last))
    else:
        strokes = ((first, last), (min(stop.at_mm, stop.at_mm + kept_mm), max(stop.at_mm, stop.at_mm + kept_mm)))
    return tuple(((start, across_mm), (end, across_mm)) for start, end in strokes)
