"""How far a print may move under a layout: what moves with it keeps clear of all that stays."""

from __future__ import annotations

from collections.abc import Iterable

from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box, bounds, is_rectangle
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Breach
from coverlayout.layout.falling.patches import Window
from coverlayout.layout.falling.prints import grown
from coverlayout.layout.placing import ClothReady, Laid
from coverlayout.layout.question import Placed, Question
from coverlayout.layout.rules import Judge

__all__ = ["holds_in", "window_of"]

# Windows reach this much further, well within what a layout may be off, so that no dust is left between them.
_FURTHER_MM = 0.3 * SAME_LENGTH_MM


def holds_in(here: Question, placed: tuple[Placed, ...], moving: frozenset[str], reach_mm: Point) -> bool:
    """Whether a layout holds for every shift of the print up to `reach_mm` either way, as the judge sees it.

    Valid as it lies, and nothing in the way of what moves as far as it moves; what moves is left aside among itself.
    """
    report = Judge(here).report(placed)
    if report.breaches or report.waiting:
        return False
    swept = Judge(grown(here, moving, reach_mm)).report(placed)
    return all(_among(breach, moving) for breach in swept.breaches)


def _among(breach: Breach, moving: frozenset[str]) -> bool:
    return breach.rule in ("overlap", "gap") and len(breach.pieces) == 2 and moving.issuperset(breach.pieces)


def window_of(here: Question, placed: Iterable[Placed], moving: frozenset[str], at_mm: Point) -> Window:
    """Shifts around `at_mm`, where the print is now, that a valid layout bears, by the boxes of what lies there.

    Each thing that stays bars one direction, the one where there is most room left. Of slanted ground or where boxes
    overlap nothing is promised: the window is then the one shift, and more may be true.
    """
    pieces = {piece.id: piece for piece in here.pieces}
    cloths = {cloth.id: ClothReady(cloth) for cloth in here.cloths}
    laid = [Laid(pieces[one.piece], one, cloths[one.cloth]) for one in placed]
    room = _Room()
    for mover in (one for one in laid if one.piece.id in moving):
        box = _box(mover.shape.rings)
        ground = mover.ground
        parts = () if ground is None else ground.ground.usable.parts()
        if len(parts) != 1 or parts[0][1] or not is_rectangle(parts[0][0]):
            return Window(at_mm, at_mm)
        room.within(box, bounds(parts[0][0]))
        stay = [one for one in laid if one.piece.id not in moving and one.cloth is mover.cloth]
        for other in (*mover.cloth.fixed, *stay):
            room.clear_of(box, _box(other.shape.rings), here.gap_mm)
        for keep_out, shape in mover.cloth.keep_outs:
            part = _box(mover.seen.rings) if keep_out.seen_only else box
            room.clear_of(part, _box(shape.rings), here.gap_mm if keep_out.spoiled else 0.0)
    (x, y), (left, right, up, down) = at_mm, room.sides()
    return Window((x - left, y - up), (x + right, y + down))


def _box(rings: Iterable[Ring]) -> Box:
    return bounds(point for ring in rings for point in ring)


class _Room:
    """How far everything that moves may still go left, right, up and down."""

    def __init__(self) -> None:
        self._left = self._right = self._up = self._down = float("inf")

    def within(self, box: Box, ground: Box) -> None:
        """Stay within an upright ground."""
        self._left = min(self._left, box.left_mm - ground.left_mm)
        self._right = min(self._right, ground.right_mm - box.right_mm)
        self._up = min(self._up, box.top_mm - ground.top_mm)
        self._down = min(self._down, ground.bottom_mm - box.bottom_mm)

    def clear_of(self, box: Box, other: Box, gap_mm: float) -> None:
        """Keep clear of what stays, on the side where most room is left."""
        rooms = (
            (box.left_mm - other.right_mm - gap_mm, "_left"),
            (other.left_mm - box.right_mm - gap_mm, "_right"),
            (box.top_mm - other.bottom_mm - gap_mm, "_up"),
            (other.top_mm - box.bottom_mm - gap_mm, "_down"),
        )
        room_mm, side = max(rooms)
        setattr(self, side, min(getattr(self, side), room_mm))

    def sides(self) -> tuple[float, float, float, float]:
        """Left, right, up and down, a hair further than there is room, and nothing below 0."""
        rooms = (self._left, self._right, self._up, self._down)
        left, right, up, down = (max(room + _FURTHER_MM, 0.0) for room in rooms)
        return left, right, up, down
