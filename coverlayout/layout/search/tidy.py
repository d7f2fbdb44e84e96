"""Which of several layouts is the tidiest to cut: few cut lines, straight through, the offcut in one piece."""

from __future__ import annotations

from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.positions.choices import every_layout, filled_of, only_sheet
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import Filled, Seat, Spaces, fillings
from coverlayout.layout.search.sheets import RectangularJob

__all__ = ["tidiest_first", "untidiness"]

# Random orders of filling among which a tidy one may be.
_ORDERS = 12

_Span = tuple[float, float, float, float]


def tidiest_first(job: RectangularJob, effort: Effort, room_mm: float, steps: int) -> list[Filled]:
    """Layouts with at least `room_mm` that can be found in so many steps, the tidiest first."""
    gathered: list[Filled] = []
    sheet = only_sheet(job)
    with effort.part(steps):
        gathered.extend(fillings(job, effort, room_mm, _ORDERS))
        if sheet is not None:
            every_layout(
                job, sheet, effort, room_mm, lambda layout: gathered.append(filled_of(layout, sheet)), rising=False
            )
    return sorted(gathered, key=lambda filled: untidiness(job, filled))


def untidiness(job: RectangularJob, filled: Filled) -> tuple[float, ...]:
    """The less the tidier, by turns: cut lines, how small the largest offcut is, how far the pieces reach.

    Cut lines that do not run straight through count twice; the offcut's area in mm2 is negative; reach is the sum of
    the distances from the sheet's left and top edges, mm.
    """
    lines = offcut = reach = 0.0
    for number, sheet in enumerate(job.sheets):
        boxes = [_span(seat) for seat in filled if seat.sheet == number]
        if not boxes:
            continue
        edges = (sheet.box.left_mm, sheet.box.right_mm), (sheet.box.top_mm, sheet.box.bottom_mm)
        lines += sum(_lines(boxes, axis, edges[axis]) for axis in (0, 1))
        spaces = Spaces(sheet, 0.0, 0.0)
        for box in boxes:
            spaces.take(box)
        offcut += max(((s[2] - s[0]) * (s[3] - s[1]) for s in spaces.free), default=0.0)
        reach += sum(box[0] - sheet.box.left_mm + box[1] - sheet.box.top_mm for box in boxes)
    return lines, -offcut, reach


def _span(seat: Seat) -> _Span:
    return seat.left_mm, seat.top_mm, seat.left_mm + seat.pose.width_mm, seat.top_mm + seat.pose.height_mm


def _lines(boxes: list[_Span], axis: int, edges: tuple[float, float]) -> int:
    """Cut lines across one axis, those that would run through a piece counted twice; the cloth's own edges are none."""
    places: list[float] = []
    for place in sorted(place for box in boxes for place in (box[axis], box[axis + 2])):
        at_edge = min(abs(place - edges[0]), abs(place - edges[1])) <= SAME_LENGTH_MM
        if not at_edge and (not places or place - places[-1] > SAME_LENGTH_MM):
            places.append(place)
    through = sum(not any(b[axis] + SAME_LENGTH_MM < p < b[axis + 2] - SAME_LENGTH_MM for b in boxes) for p in places)
    return 2 * len(places) - through
