"""First layouts of rectangles of which some are held to a repeat: locked, sharing a phase, or running on.

A held piece is tried at the places of its repeat in what is left of a sheet, any other in the corners of that; of
linked pieces the first lies free and the others follow it.
"""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.filling.held_job import HeldJob
from coverlayout.layout.question import Ground, Placed
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import (
    Filled,
    Rank,
    Seat,
    Spaces,
    Span,
    best_seat,
    orders_of,
    placed_of,
    too_much,
)
from coverlayout.layout.search.repeats import points_in_box
from coverlayout.layout.search.sheets import Item, Pose

__all__ = ["fill_held", "held_fillings"]

# Of the places of a repeat in a span only those near its corners are looked at where there are more.
_MOST_PLACES = 64

_Lies = dict[str, tuple[Placed, Ground]]


def fill_held(job: HeldJob, effort: Effort, room_mm: float = 0.0, *, orders: int) -> tuple[Placed, ...] | None:
    """Places for all pieces, `room_mm` apart and from the edges, or None when no order tried leads to a layout.

    `orders`: how many random ones after the sorted ones. The same job gives the same layout. OutOfSteps when the
    effort is spent before.
    """
    return next(held_fillings(job, effort, room_mm, orders), None)


def held_fillings(job: HeldJob, effort: Effort, room_mm: float, orders: int) -> Iterator[tuple[Placed, ...]]:
    """Every layout that one of the orders leads to, the sorted orders first."""
    if too_much(job.job):
        return
    for order, rank in orders_of(job.job, orders):
        filled = _Try(job, room_mm, effort).fill(_partners_together(job, order), rank)
        if filled is not None:
            yield placed_of(job.job, filled)


def _partners_together(job: HeldJob, order: list[int]) -> list[int]:
    """Locked pieces first, then each linked one with its partners right after it."""
    locked = [k for k in order if job.job.items[k].id in job.holds.locks]
    turn_of = {k: number for number, k in enumerate(order)}
    together: dict[int, None] = {}
    for k in (*locked, *order):
        if k not in together:
            together.update(dict.fromkeys((k, *sorted(job.groups[k], key=turn_of.__getitem__))))
    return list(together)


class _Try:
    """One try: what is left of the sheets, and what lies where."""

    def __init__(self, job: HeldJob, room_mm: float, effort: Effort) -> None:
        self._held, self._job, self._effort = job, job.job, effort
        apart_mm = max(self._job.gap_mm, room_mm)
        self._spaces = [Spaces(sheet, room_mm, apart_mm) for sheet in self._job.sheets]
        self._lies: _Lies = dict(job.lying)

    def fill(self, order: list[int], rank: Rank) -> Filled | None:
        """A seat for every item in this order, or None."""
        seats: dict[int, Seat] = {}
        for k in order:
            self._effort.spend(1 + sum(len(space.free) for space in self._spaces) // 8)
            seat = self._seat(k, rank)
            if seat is None:
                return None
            seats[k] = seat
            self._take(k, seat)
        return tuple(seats[k] for k in range(len(self._job.items)))

    def _take(self, k: int, seat: Seat) -> None:
        box = (seat.left_mm, seat.top_mm, seat.left_mm + seat.pose.width_mm, seat.top_mm + seat.pose.height_mm)
        cloth_id = self._job.sheets[seat.sheet].cloth_id
        for sheet, space in zip(self._job.sheets, self._spaces, strict=True):
            if sheet.cloth_id == cloth_id:
                space.take(box)
        if k in self._held.held:
            anchor = seat.left_mm + seat.pose.anchor_mm[0], seat.top_mm + seat.pose.anchor_mm[1]
            item = self._job.items[k]
            placed = Placed(item.id, cloth_id, *anchor, seat.pose.turn_deg)
            self._lies[item.id] = placed, self._held.grounds[seat.sheet]

    def _seat(self, k: int, rank: Rank) -> Seat | None:
        if k not in self._held.held:
            return best_seat(self._job.items[k], self._spaces, rank)
        item, piece = self._job.items[k], self._held.question.pieces[k]
        for number, space in enumerate(self._spaces):
            best: tuple[tuple[float, ...], Seat] | None = None
            for pose in item.poses[number]:
                ground = self._held.grounds[number]
                held = self._held.holds.anchors(piece, ground, pose.turn_deg, self._lies)
                if held is None:
                    continue
                self._effort.spend(1)
                found = (
                    _best_in_repeat(space, pose, ground, held[0], rank) if held else _best_free(space, item, pose, rank)
                )
                if found is not None and (best is None or found[0] < best[0]):
                    best = found[0], Seat(number, pose, *found[1])
            if best is not None:
                return best[1]
        return None


_Found = tuple[tuple[float, ...], Point]


def _best_free(space: Spaces, item: Item, pose: Pose, rank: Rank) -> _Found | None:
    seat = best_seat(Item(item.id, ((pose,),)), [space], rank)
    if seat is None:
        return None
    box = seat.left_mm, seat.top_mm, seat.left_mm + pose.width_mm, seat.top_mm + pose.height_mm
    return rank(box, pose), (seat.left_mm, seat.top_mm)


def _best_in_repeat(space: Spaces, pose: Pose, ground: Ground, held: Point, rank: Rank) -> _Found | None:
    """The best place of the repeat at which the piece lies within one of the free spans, the most promising first."""
    assert ground.lattice_mm is not None, "an anchor is only held where there is a repeat"
    start = held[0] - pose.anchor_mm[0], held[1] - pose.anchor_mm[1]
    best: _Found | None = None
    for least, span in sorted((rank(span, pose), span) for span in space.free if _fits(span, pose)):
        if best is not None and least > best[0]:
            break
        across, along = max(span[2] - span[0] - pose.width_mm, 0.0), max(span[3] - span[1] - pose.height_mm, 0.0)
        points = points_in_box(ground.lattice_mm, start, Box(span[0], span[1], across, along), _MOST_PLACES)
        for x, y in points.tolist():
            # As if it lay in the corner of a smaller span.
            score = rank((x, y, span[2], span[3]), pose)
            if (best is None or score < best[0]) and space.is_seen_clear(x, y, pose):
                best = score, (x, y)
    return best


def _fits(span: Span, pose: Pose) -> bool:
    across = pose.width_mm <= span[2] - span[0] + EXACT_MM
    return across and pose.height_mm <= span[3] - span[1] + EXACT_MM
