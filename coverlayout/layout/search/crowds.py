"""First layouts of hundreds or thousands of rectangles held to a repeat: place after place, each looked at once.

What is left of a sheet falls into thousands of pieces here, so it is not kept; what is in the way is, square by square.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.filling.held_job import HeldJob
from coverlayout.layout.question import Placed
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import Seat, placed_of, too_much
from coverlayout.layout.search.repeats import points_in_box
from coverlayout.layout.search.sheets import Pose, Sheet
from coverlayout.motif.lattice import Lattice

__all__ = ["fill_crowd"]

# Places of one kind on one sheet; of finer repeats only those near the corners are looked at.
_MOST_PLACES = 200_000
# Places looked at for one step.
_PLACES_A_STEP = 8

_Span = tuple[float, float, float, float]  # left, top, right, bottom


def fill_crowd(job: HeldJob, effort: Effort, room_mm: float = 0.0) -> tuple[Placed, ...] | None:
    """Places for all pieces, or None: locked ones first, then the largest; each kind from place to place, row by row.

    Pieces that are free lie on rows and columns as wide as they are. None where a link speaks of a piece, too. The same
    job gives the same layout. OutOfSteps or CutShort from the effort.
    """
    if job.holds.links or too_much(job.job):
        return None
    return _Crowd(job, effort, room_mm).fill()


class _Crowd:
    def __init__(self, job: HeldJob, effort: Effort, room_mm: float) -> None:
        self._held, self._job, self._effort, self._room_mm = job, job.job, effort, room_mm
        self._apart_mm = max(self._job.gap_mm, room_mm)
        sides = [max(p.width_mm, p.height_mm) for item in self._job.items for own in item.poses for p in own]
        self._taken = {sheet.cloth_id: _Squares(max(sides, default=1.0)) for sheet in self._job.sheets}
        self._blocked = [self._blocks(sheet, max(sides, default=1.0)) for sheet in self._job.sheets]
        self._places: dict[object, Iterator[Seat]] = {}

    def _blocks(self, sheet: Sheet, side_mm: float) -> _Squares:
        """What is in the way on a sheet, with the distance to keep from it; what only what is seen must, all does."""
        blocked = _Squares(side_mm)
        for block in sheet.blocks:
            apart = self._apart_mm if block.neighbour else self._room_mm if block.edge else 0.0
            box = block.box
            blocked.add((box.left_mm - apart, box.top_mm - apart, box.right_mm + apart, box.bottom_mm + apart))
        return blocked

    def fill(self) -> tuple[Placed, ...] | None:
        items = self._job.items
        area = [max((p.width_mm * p.height_mm for own in item.poses for p in own), default=0.0) for item in items]
        order = sorted(range(len(items)), key=lambda k: (k not in self._held.held, -area[k], k))
        seats: dict[int, Seat] = {}
        for k in order:
            self._effort.spend(1)
            seat = next(self._places_of(k), None)
            if seat is None:
                return None
            seats[k] = seat
            span = _span(seat.left_mm, seat.top_mm, seat.pose, self._apart_mm)
            self._taken[self._job.sheets[seat.sheet].cloth_id].add(span)
        return placed_of(self._job, tuple(seats[k] for k in range(len(items))))

    def _places_of(self, k: int) -> Iterator[Seat]:
        """The places still clear for pieces of this kind: one that was taken once stays so."""
        item, locks = self._job.items[k], self._held.holds.locks.get(self._job.items[k].id, ())
        key = item.poses, tuple((lock.point_mm, lock.place_mm) for lock in locks)
        if key not in self._places:
            self._places[key] = self._clear_places(k)
        return self._places[key]

    def _clear_places(self, k: int) -> Iterator[Seat]:
        looked_at = 0
        for number, own in enumerate(self._job.items[k].poses):
            taken, blocked = self._taken[self._job.sheets[number].cloth_id], self._blocked[number]
            for pose in own:
                for x, y in self._all_places(k, number, pose):
                    looked_at += 1
                    if looked_at % _PLACES_A_STEP == 0:
                        self._effort.spend(1)
                    span = _span(x, y, pose, 0.0)
                    if not taken.meets(span) and not blocked.meets(span):
                        yield Seat(number, pose, x, y)

    def _all_places(self, k: int, number: int, pose: Pose) -> list[tuple[float, float]]:
        """Where the top left of the piece may lie on a sheet, row by row."""
        sheet, ground, room = self._job.sheets[number].box, self._held.grounds[number], self._room_mm
        free = sheet.width_mm - 2 * room - pose.width_mm, sheet.height_mm - 2 * room - pose.height_mm
        if min(free) < -EXACT_MM:
            return []
        box = Box(sheet.left_mm + room, sheet.top_mm + room, max(free[0], 0.0), max(free[1], 0.0))
        lattice, start = ground.lattice_mm, (box.left_mm, box.top_mm)
        held = self._held.holds.anchors(self._held.question.pieces[k], ground, pose.turn_deg, {})
        if held is None:
            return []
        if held:
            start = held[0][0] - pose.anchor_mm[0], held[0][1] - pose.anchor_mm[1]
        else:
            lattice = Lattice((pose.width_mm + self._apart_mm, 0.0), (0.0, pose.height_mm + self._apart_mm))
        assert lattice is not None, "an anchor is only held where there is a repeat"
        points = [(float(x), float(y)) for x, y in points_in_box(lattice, start, box, _MOST_PLACES)]
        return sorted(points, key=lambda at: (at[1], at[0]))


def _span(x_mm: float, y_mm: float, pose: Pose, more_mm: float) -> _Span:
    """A piece with more all round."""
    return x_mm - more_mm, y_mm - more_mm, x_mm + pose.width_mm + more_mm, y_mm + pose.height_mm + more_mm


class _Squares:
    """Boxes by the squares that they reach into."""

    def __init__(self, side_mm: float) -> None:
        self._side_mm = side_mm
        self._boxes: dict[tuple[int, int], list[_Span]] = {}

    def _reached(self, span: _Span) -> Iterator[tuple[int, int]]:
        left, top, right, bottom = (math.floor(edge / self._side_mm) for edge in span)
        return ((i, k) for i in range(left, right + 1) for k in range(top, bottom + 1))

    def add(self, span: _Span) -> None:
        """Put a box in the way."""
        for square in self._reached(span):
            self._boxes.setdefault(square, []).append(span)

    def meets(self, span: _Span) -> bool:
        """Whether some box overlaps this one by more than what is nothing."""
        left, top, right, bottom = span[0] + EXACT_MM, span[1] + EXACT_MM, span[2] - EXACT_MM, span[3] - EXACT_MM
        return any(
            left < box[2] and box[0] < right and top < box[3] and box[1] < bottom
            for square in self._reached(span)
            for box in self._boxes.get(square, ())
        )
