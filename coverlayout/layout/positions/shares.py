"""Small jobs on several sheets: every way to share the pieces out, and each sheet then searched by itself.

Pieces on two sheets of one cloth may still be in each other's way across the border: so what is found is a proposal
for the judge, while a share that a single sheet refuses is refused.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from coverlayout.geometry.tolerance import NO_LOOSER_MM
from coverlayout.layout.positions.choices import MOST_PIECES, every_layout, is_small
from coverlayout.layout.positions.relations import Found
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import Filled, Seat
from coverlayout.layout.search.sheets import Item, RectangularJob

__all__ = ["Shares"]

# More ways to share out are not begun.
_MOST_SHARES = 500
# The sheet of every item, in the order of the job.
_Share = tuple[int, ...]


class _Enough(Exception):
    """One layout of a sheet is enough."""


@dataclass(frozen=True)
class Shares:
    """All ways to share a small job out; empty when some piece may come from no sheet."""

    job: RectangularJob
    all: tuple[_Share, ...]

    @classmethod
    def of(cls, job: RectangularJob) -> Shares | None:
        """None when the job is too large to look at every share.

        >>> Shares.of(RectangularJob((), (), 0.0)).all
        ((),)
        """
        groups: dict[object, list[int]] = {}
        for number, item in enumerate(job.items):
            groups.setdefault(item.shape_key(), []).append(number)
        members = list(groups.values())
        sheets = [[n for n, poses in enumerate(job.items[group[0]].poses) if poses] for group in members]
        ways = math.prod(math.comb(len(on) + len(g) - 1, len(g)) for on, g in zip(sheets, members, strict=True) if on)
        if len(job.items) > MOST_PIECES or ways > _MOST_SHARES or not all(map(is_small, job.sheets)):
            return None
        order = [number for group in members for number in group]
        picks = [itertools.combinations_with_replacement(on, len(g)) for on, g in zip(sheets, members, strict=True)]
        shares = []
        for choice in itertools.product(*picks):
            sheet_of = dict(zip(order, itertools.chain.from_iterable(choice), strict=True))
            shares.append(tuple(sheet_of[number] for number in range(len(order))))
        return cls(job, tuple(shares))

    def layouts(self, effort: Effort) -> Iterator[Filled]:
        """A layout for every share that no sheet refuses, everything a little looser, as a no must be proved.

        OutOfSteps or CutShort from the effort.
        """
        known: dict[tuple[int, ...], Found | None] = {}
        for share in self.all:
            seats: dict[int, Seat] = {}
            for sheet in sorted(set(share)):
                items = tuple(number for number, on in enumerate(share) if on == sheet)
                key = (sheet, *items)
                if key not in known:
                    known[key] = _one_layout(replace(self.job, items=self._only(items)), sheet, effort)
                layout = known[key]
                if layout is None:
                    break
                lies = zip(items, layout.poses, layout.places, strict=True)
                seats |= {number: Seat(sheet, pose, *place) for number, pose, place in lies}
            else:
                yield tuple(seats[number] for number in range(len(share)))

    def _only(self, items: tuple[int, ...]) -> tuple[Item, ...]:
        return tuple(self.job.items[number] for number in items)


def _one_layout(job: RectangularJob, sheet: int, effort: Effort) -> Found | None:
    """The first layout of these items on the sheet that is found, None when there is none.

    A layout without the slack is looked for first: it needs no tolerance of the judge.
    """
    found: list[Found] = []

    def enough(layout: Found) -> None:
        found.append(layout)
        raise _Enough

    for slack_mm in (0.0, NO_LOOSER_MM):
        try:
            every_layout(job, sheet, effort, -slack_mm, enough, slack_mm=slack_mm)
        except _Enough:
            return found[0]
    return None
