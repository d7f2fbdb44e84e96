"""Many rectangles on one sheet: beams over skylines, narrow ones first, from the top and from the left."""

from __future__ import annotations

import itertools

from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import Filled
from coverlayout.layout.search.sheets import RectangularJob
from coverlayout.layout.strips.beam import Promise, search_beam
from coverlayout.layout.strips.kinds import kinds_of

__all__ = ["PROMISES", "WIDTHS", "lay_in_strip"]

# Strips kept at each piece, round after round; numbers found by trial on layouts without waste.
WIDTHS = (8, 60, 500, 2_000, 6_000)
# What is thought promising: few parts and exact fits where nothing may be lost; little lost where something may.
PROMISES = (
    Promise(part_price=4.0, exact_price=2.0, loss_price=1.0),
    Promise(part_price=100.0, exact_price=2.0, loss_price=3.0),
)


def lay_in_strip(job: RectangularJob, sheet: int, effort: Effort, *, room_mm: float = 0.0) -> Filled | None:
    """Seats for all items of the job on this sheet, or None when none are found or something is in the way there.

    Pieces keep `room_mm` from the edges and, or the gap where that is more, from each other along an axis. The same job
    gives the same layout. OutOfSteps or CutShort from the effort; it ends by itself when the widest beams are through.
    """
    if job.sheets[sheet].blocks:
        return None
    both = [kinds_of(job, sheet, room_mm, lengthwise=lengthwise) for lengthwise in (False, True)]
    ways = [kinds for kinds in both if kinds is not None and kinds.area <= kinds.strip_width * kinds.strip_length]
    for keep, promise, kinds in itertools.product(WIDTHS, PROMISES, ways):
        spots = search_beam(kinds, kinds.strip_length, keep, promise, effort)
        if spots is not None:
            return kinds.filled(job, sheet, spots)
    return None
