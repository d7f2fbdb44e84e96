"""The shortest layout of many rectangles in a strip: beams at ever shorter lengths, between the bound and the best."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import Filled
from coverlayout.layout.search.sheets import RectangularJob
from coverlayout.layout.strips.beam import search_beam
from coverlayout.layout.strips.kinds import Kinds, Spot, kinds_of
from coverlayout.layout.strips.strip import PROMISES, WIDTHS

__all__ = ["shorten"]

# Beams wider than this are too dear for every way of looking at every length.
_WIDE = 500
# A round of halving ends when what is between is no more than this part of the length.
_FINE = 1 / 500
# Where a length is no whole number of units it is rounded up, unless it is above one by no more than this.
_DUST = 1e-6


def shorten(
    job: RectangularJob,
    effort: Effort,
    taken: Callable[[Filled], object],
    *,
    bound_mm: float,
    rounds: int = len(WIDTHS),
) -> None:
    """Hand over ever shorter layouts on the job's first sheet, until `bound_mm` from its upper edge is reached.

    So many `rounds` are made, each with wider beams than the one before. None are handed over when something is in the
    way, an item may not lie there or none are found. OutOfSteps or CutShort from the effort.
    """
    if job.sheets[0].blocks:
        return
    both = [kinds_of(job, 0, 0.0, lengthwise=lengthwise) for lengthwise in (False, True)]
    ways = [kinds for kinds in both if kinds is not None]
    if ways:
        _Shortening(ways, bound_mm, effort, lambda kinds, spots: taken(kinds.filled(job, 0, spots))).run(rounds)


class _Shortening:
    """One search. Lengths are in units, with what must stay between two pieces: `best` found, `bound` to be reached."""

    def __init__(
        self,
        ways: Sequence[Kinds],
        bound_mm: float,
        effort: Effort,
        taken: Callable[[Kinds, tuple[Spot, ...]], object],
    ) -> None:
        self._ways, self._effort, self._taken = ways, effort, taken
        self._bound = math.ceil((bound_mm + ways[0].apart_mm) / ways[0].unit_mm - _DUST)
        self._best = ways[0].strip_length + 1

    def run(self, rounds: int) -> None:
        """Round after round: the bound itself, then lengths between it and the best by halving."""
        for keep in WIDTHS[:rounds]:
            if keep == WIDTHS[0] and not self._has(self._best - 1, keep):
                return
            if self._best <= self._bound or self._has(self._bound, keep):
                return
            failed = self._bound
            while self._best - failed > max(1, self._best * _FINE):
                middle = (failed + self._best) // 2
                if not self._has(middle, keep):
                    failed = middle

    def _has(self, length: int, keep: int) -> bool:
        """Look for a layout of this length at most; True when one is found."""
        looks = [(kinds, promise) for promise in PROMISES for kinds in self._ways]
        for kinds, promise in looks if keep <= _WIDE or length == self._bound else looks[:1]:
            strip = _as_long(kinds, length)
            spots = search_beam(strip, strip.strip_length, keep, promise, self._effort)
            if spots is not None:
                self._best = min(self._best, _length(kinds, spots))
                self._taken(kinds, spots)
                return True
        return False


def _as_long(kinds: Kinds, length: int) -> Kinds:
    """The strip for a length of the sheet: filled from its left end, that is how wide it is."""
    return replace(kinds, strip_width=length) if kinds.lengthwise else replace(kinds, strip_length=length)


def _length(kinds: Kinds, spots: tuple[Spot, ...]) -> int:
    if kinds.lengthwise:
        return max(spot.left + int(kinds.width[spot.way]) for spot in spots)
    return max(spot.top + int(kinds.height[spot.way]) for spot in spots)
