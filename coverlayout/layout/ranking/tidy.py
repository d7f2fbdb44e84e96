"""Which of several layouts is the tidiest to cut: few cut lines, straight through, the offcut in one piece."""

from __future__ import annotations

from collections.abc import Iterable

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.placing import Laid
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.filling import Spaces
from coverlayout.layout.search.sheets import Block, Sheet

__all__ = ["Untidiness", "boxes_by_sheet", "largest_left_mm2", "untidiness"]

Untidiness = tuple[float, float, float]
_Span = tuple[float, float, float, float]


def untidiness(judge: Judge, layout: Iterable[Placed]) -> Untidiness:
    """The less the tidier, by turns: cut lines, how small the largest offcut is, how far the pieces reach.

    Cut lines that do not run straight through count twice; the offcut's area in mm2 is negative; reach is the sum of
    the distances from the left and top edges of the grounds, mm. Slanted pieces count as the box around them.
    """
    lines = offcut = reach = 0.0
    for sheet, boxes in boxes_by_sheet(judge, layout).items():
        edges = (sheet.box.left_mm, sheet.box.right_mm), (sheet.box.top_mm, sheet.box.bottom_mm)
        lines += sum(_lines(boxes, axis, edges[axis]) for axis in (0, 1))
        offcut += largest_left_mm2(sheet, boxes)
        reach += sum(box[0] - sheet.box.left_mm + box[1] - sheet.box.top_mm for box in boxes)
    return lines, -offcut, reach


def boxes_by_sheet(judge: Judge, layout: Iterable[Placed]) -> dict[Sheet, list[_Span]]:
    """The boxes of the pieces (left, top, right, bottom, mm) by the ground they lie on with what is in the way."""
    found: dict[Sheet, list[_Span]] = {}
    known: dict[int, Sheet] = {}
    for placed in layout:
        laid = judge.laid(placed, ())
        ground = laid.nearest_ground if isinstance(laid, Laid) else None
        if isinstance(laid, Laid) and ground is not None:
            sheet = known.setdefault(id(ground), _sheet(laid, ground.ground.id, ground.ground.usable.bounds))
            found.setdefault(sheet, []).append(_span(laid.to_cloth.ring(laid.piece.outline_mm)))
    return found


def largest_left_mm2(sheet: Sheet, boxes: Iterable[_Span]) -> float:
    """The area of the largest empty rectangle beside the boxes on a sheet."""
    spaces = Spaces(sheet, 0.0, 0.0)
    for box in boxes:
        spaces.take(box)
    return max(((right - left) * (bottom - top) for left, top, right, bottom in spaces.free), default=0.0)


def _sheet(laid: Laid, ground_id: str, box: Box) -> Sheet:
    cloth = laid.cloth
    blocks = [Block(keep_out.region.bounds, keep_out.spoiled) for keep_out, _ in cloth.keep_outs]
    blocks += [Block(bounds(fixed.to_cloth.ring(fixed.piece.outline_mm)), neighbour=True) for fixed in cloth.fixed]
    return Sheet(cloth.cloth.id, ground_id, box, tuple(blocks))


def _span(outline: Ring) -> _Span:
    box = bounds(outline)
    return box.left_mm, box.top_mm, box.right_mm, box.bottom_mm


def _lines(boxes: list[_Span], axis: int, edges: tuple[float, float]) -> int:
    """Cut lines across one axis, those that would run through a piece counted twice; the cloth's own edges are none."""
    places: list[float] = []
    for place in sorted(place for box in boxes for place in (box[axis], box[axis + 2])):
        at_edge = min(abs(place - edges[0]), abs(place - edges[1])) <= SAME_LENGTH_MM
        if not at_edge and (not places or place - places[-1] > SAME_LENGTH_MM):
            places.append(place)
    through = sum(not any(b[axis] + SAME_LENGTH_MM < p < b[axis + 2] - SAME_LENGTH_MM for b in boxes) for p in places)
    return 2 * len(places) - through
