"""A first layout at once: pieces put one after another into what is left of the sheets, in many orders.

What is left of a sheet is kept as all its largest empty rectangles, which may overlap each other. Pieces keep `room_mm`
from the edges and from neighbours, and the gap, along at least one axis: a little more than the rule asks at corners.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM
from coverlayout.layout.question import Placed
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.sheets import Item, Pose, RectangularJob, Sheet

__all__ = [
    "Filled",
    "Rank",
    "Score",
    "Seat",
    "Spaces",
    "Span",
    "best_seat",
    "fill",
    "fillings",
    "meet",
    "orders_of",
    "placed_of",
    "too_much",
]

Span = tuple[float, float, float, float]  # left, top, right, bottom
Score = tuple[float, ...]
Rank = Callable[[Span, Pose], Score]

_SEED = 20240229


@dataclass(frozen=True)
class Seat:
    """Where a piece lies: the number of its sheet, its pose, and the top left of its box in the cloth frame."""

    sheet: int
    pose: Pose
    left_mm: float
    top_mm: float


Filled = tuple[Seat, ...]


def fill(job: RectangularJob, effort: Effort, room_mm: float = 0.0, *, orders: int) -> Filled | None:
    """Seats for all items in their order, or None when no order tried leads to a layout.

    The same job gives the same layout. Ends after `orders` random orders; OutOfSteps when the effort is spent before.
    """
    return next(fillings(job, effort, room_mm, orders), None)


def fillings(job: RectangularJob, effort: Effort, room_mm: float, orders: int) -> Iterator[Filled]:
    """Every layout that one of the orders leads to: the sorted orders first, then `orders` random ones."""
    if too_much(job):
        return
    for order, score in orders_of(job, orders):
        seats = _fill_in_order(job, order, score, room_mm, effort)
        if seats is not None:
            yield seats


def too_much(job: RectangularJob) -> bool:
    """True when the items have more area than all sheets, or one has no pose: no order needs to be tried."""
    have_mm2 = sum(sheet.box.width_mm * sheet.box.height_mm for sheet in job.sheets)
    need_mm2 = sum(area_mm2 or math.inf for area_mm2 in _sizes(job.items, _area))
    return need_mm2 > have_mm2 + len(job.items) * SAME_LENGTH_MM


def placed_of(job: RectangularJob, filled: Filled) -> tuple[Placed, ...]:
    """The seats as placements: the anchor of every piece in the frame of its cloth."""
    return tuple(
        Placed(
            item.id,
            job.sheets[seat.sheet].cloth_id,
            seat.left_mm + seat.pose.anchor_mm[0],
            seat.top_mm + seat.pose.anchor_mm[1],
            seat.pose.turn_deg,
        )
        for item, seat in zip(job.items, filled, strict=True)
    )


def orders_of(job: RectangularJob, random_orders: int) -> Iterator[tuple[list[int], Rank]]:
    """The items in many orders, each with how the places are ranked: sorted by size first, then shaken at random."""
    ranks = (_topmost, _leftmost, _snuggest)
    by_area: list[int] = []
    for key in (_area, _height, _width, _longest):
        sizes = _sizes(job.items, key)
        # mypy infers no type for a lambda with a default; the default keeps what this round of the loop has.
        ranked = sorted(range(len(sizes)), key=lambda k, sizes=sizes: (-sizes[k], k))  # type: ignore[misc]
        by_area = by_area or ranked
        yield from ((ranked, rank) for rank in ranks)
    rng = random.Random(_SEED)
    for number in range(random_orders):
        yield _shaken(by_area, rng, number), ranks[number % 3]


def _sizes(items: Sequence[Item], key: Callable[[Item], float]) -> list[float]:
    """The size of every item, worked out once for those that share their poses."""
    known: dict[int, float] = {}
    for item in items:
        if id(item.poses) not in known:
            known[id(item.poses)] = key(item)
    return [known[id(item.poses)] for item in items]


def _height(item: Item) -> float:
    return min((pose.height_mm for poses in item.poses for pose in poses), default=0.0)


def _width(item: Item) -> float:
    return min((pose.width_mm for poses in item.poses for pose in poses), default=0.0)


def _area(item: Item) -> float:
    return max((pose.width_mm * pose.height_mm for poses in item.poses for pose in poses), default=0.0)


def _longest(item: Item) -> float:
    return max((max(pose.width_mm, pose.height_mm) for poses in item.poses for pose in poses), default=0.0)


def _shaken(ranked: list[int], rng: random.Random, number: int) -> list[int]:
    """The ranked order with a few pieces moved; later orders are shaken more."""
    tried = list(ranked)
    for _ in range(1 + number % 5):
        tried.insert(rng.randrange(len(tried)), tried.pop(rng.randrange(len(tried))))
    return tried


def _topmost(span: Span, pose: Pose) -> Score:
    return span[1] + pose.height_mm, span[0]


def _leftmost(span: Span, pose: Pose) -> Score:
    return span[0] + pose.width_mm, span[1]


def _snuggest(span: Span, pose: Pose) -> Score:
    """What is left beside the piece on its tighter side, then on the other."""
    across, along = span[2] - span[0] - pose.width_mm, span[3] - span[1] - pose.height_mm
    return min(across, along), max(across, along), span[1], span[0]


def _fill_in_order(
    job: RectangularJob,
    order: Sequence[int],
    score: Rank,
    room_mm: float,
    effort: Effort,
) -> Filled | None:
    apart = max(job.gap_mm, room_mm)
    spaces = [Spaces(sheet, room_mm, apart) for sheet in job.sheets]
    seats: dict[int, Seat] = {}
    for k in order:
        effort.spend(1 + sum(len(space.free) for space in spaces) // 8)
        seat = best_seat(job.items[k], spaces, score)
        if seat is None:
            return None
        seats[k] = seat
        box = (seat.left_mm, seat.top_mm, seat.left_mm + seat.pose.width_mm, seat.top_mm + seat.pose.height_mm)
        for sheet, space in zip(job.sheets, spaces, strict=True):
            if sheet.cloth_id == job.sheets[seat.sheet].cloth_id:
                space.take(box)
    return tuple(seats[k] for k in range(len(job.items)))


def best_seat(item: Item, spaces: list[Spaces], score: Rank) -> Seat | None:
    """The best seat on the first sheet that has one: a sheet begun is filled before the next."""
    for number, space in enumerate(spaces):
        best: tuple[Score, float, float, Pose] | None = None
        for pose in item.poses[number]:
            for span in space.free:
                if pose.width_mm > span[2] - span[0] + EXACT_MM or pose.height_mm > span[3] - span[1] + EXACT_MM:
                    continue
                rank = score(span, pose)
                if best is not None and rank >= best[0]:
                    continue
                if space.is_seen_clear(span[0], span[1], pose):
                    best = (rank, span[0], span[1], pose)
                    continue
                for left, top in space.beside_seen(span, pose):
                    rank = score((left, top, span[2], span[3]), pose)
                    if best is None or rank < best[0]:
                        best = (rank, left, top, pose)
        if best is not None:
            return Seat(number, best[3], best[1], best[2])
    return None


class Spaces:
    """The largest empty rectangles of one sheet."""

    def __init__(self, sheet: Sheet, room_mm: float, apart_mm: float) -> None:
        """Start with the sheet less `room_mm` at its edges and less its blocks, neighbours `apart_mm` away."""
        box = sheet.box
        self.free: list[Span] = [
            (box.left_mm + room_mm, box.top_mm + room_mm, box.right_mm - room_mm, box.bottom_mm - room_mm)
        ]
        self._apart = apart_mm
        self._seen_only: list[Span] = []
        for block in sheet.blocks:
            span = (block.box.left_mm, block.box.top_mm, block.box.right_mm, block.box.bottom_mm)
            if block.seen_only and not block.neighbour:
                self._seen_only.append(span)
            else:
                self.take(span, apart_mm if block.neighbour else room_mm if block.edge else 0.0)

    def is_seen_clear(self, left_mm: float, top_mm: float, pose: Pose) -> bool:
        """True when the seen part of a piece with its box there keeps clear of what only it must."""
        if not self._seen_only:
            return True
        left, top = left_mm + pose.seen.left_mm, top_mm + pose.seen.top_mm
        right, bottom = left + pose.seen.width_mm, top + pose.seen.height_mm
        return not any(meet((left, top, right, bottom), flaw) for flaw in self._seen_only)

    def beside_seen(self, span: Span, pose: Pose) -> Iterator[tuple[float, float]]:
        """Left tops in a span at which the seen part just touches what only it must keep clear of."""
        last_left, last_top = span[2] - pose.width_mm, span[3] - pose.height_mm
        lefts, tops = {span[0], last_left}, {span[1], last_top}
        for flaw in self._seen_only:
            lefts |= {flaw[2] - pose.seen.left_mm, flaw[0] - pose.seen.right_mm}
            tops |= {flaw[3] - pose.seen.top_mm, flaw[1] - pose.seen.bottom_mm}
        for top in sorted(top for top in tops if span[1] <= top <= last_top):
            for left in sorted(left for left in lefts if span[0] <= left <= last_left):
                if self.is_seen_clear(left, top, pose):
                    yield left, top

    def take(self, span: Span, apart_mm: float | None = None) -> None:
        """Take a rectangle, and what must stay empty around it, out of what is free."""
        apart = self._apart if apart_mm is None else apart_mm
        left, top, right, bottom = span[0] - apart, span[1] - apart, span[2] + apart, span[3] + apart
        kept: list[Span] = []
        fresh: list[Span] = []
        for free in self.free:
            if not meet(free, (left, top, right, bottom)):
                kept.append(free)
                continue
            if left > free[0] + EXACT_MM:
                fresh.append((free[0], free[1], left, free[3]))
            if right < free[2] - EXACT_MM:
                fresh.append((right, free[1], free[2], free[3]))
            if top > free[1] + EXACT_MM:
                fresh.append((free[0], free[1], free[2], top))
            if bottom < free[3] - EXACT_MM:
                fresh.append((free[0], bottom, free[2], free[3]))
        self.free = kept + _largest(fresh, kept)


def meet(one: Span, other: Span) -> bool:
    """True when two spans share more than an edge."""
    return (
        one[0] < other[2] - EXACT_MM
        and other[0] < one[2] - EXACT_MM
        and one[1] < other[3] - EXACT_MM
        and other[1] < one[3] - EXACT_MM
    )


def _largest(fresh: list[Span], kept: list[Span]) -> list[Span]:
    """The fresh rectangles that lie in no other one."""
    fresh = sorted(set(fresh), key=lambda s: (s[0] - s[2]) * (s[3] - s[1]))
    largest: list[Span] = []
    for span in fresh:
        left, top, right, bottom = span
        for other in (*kept, *largest):
            if other[0] <= left and other[1] <= top and other[2] >= right and other[3] >= bottom:
                break
        else:
            largest.append(span)
    return largest
