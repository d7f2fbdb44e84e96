"""The measures of a cover laid flat: joints and spine above it, squares and turn-ins beside it, what is cut below."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.book.measures import CASES
from coverlayout.book.picturing.sketch import Sketch
from coverlayout.book.pieces import PieceKind
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Plan", "measure_plan"]


@dataclass(frozen=True)
class Plan:
    """What a flat plan is drawn from, as a book that opens left lies: boards from the back to the front, all the cloth."""

    sketch: Sketch
    boards: tuple[Box, ...]
    cloth: Box

    @property
    def front(self) -> Box:
        """The front board: farthest to the right."""
        return self.boards[-1]

    @property
    def back(self) -> Box:
        """The back board: farthest to the left."""
        return self.boards[0]

    @property
    def page(self) -> Box | None:
        """A page as it lies behind the front board; in a case it is laid flush with the board's fore-edge."""
        figures, structure = self.sketch.figures, self.sketch.book.structure
        if figures.page_mm is None or structure == "slipcase":
            return None
        width, height = figures.page_mm
        right = self.front.right_mm - (0.0 if structure in CASES else figures.square_mm)
        return Box(right - width, self.front.top_mm + figures.square_mm, width, height)


def measure_plan(plan: Plan, cloth: tuple[tuple[PieceKind, Box], ...]) -> None:
    """Put every measure down that the cover has; `cloth` are the boxes of its pieces."""
    structure = plan.sketch.book.structure
    plan.sketch.word("front", plan.front.middle)
    if len(plan.boards) > 1:
        plan.sketch.word("back", plan.back.middle)
    if structure in CASES:
        _measure_joints(plan)
    if plan.sketch.figures.spine_on_board_mm > 0:
        _measure_partly(plan)
    if structure == "side-sewn":
        _measure_hinge(plan)
    _measure_page(plan)
    _measure_turn_ins(plan)
    _measure_cut(plan, cloth)


def _across(plan: Plan, name: str, from_mm: float, to_mm: float, length_mm: float) -> None:
    """A measure above the cover."""
    top = plan.front.top_mm
    plan.sketch.measure(name, ((from_mm, top), (to_mm, top)), length_mm, "above")


def _measure_joints(plan: Plan) -> None:
    figures, front = plan.sketch.figures, plan.front
    over = figures.gap_mm - 2 * figures.joint_mm
    _across(plan, "joint", front.left_mm - figures.joint_mm, front.left_mm, figures.joint_mm)
    _across(plan, "spine", -over / 2, over / 2, over)


def _measure_partly(plan: Plan) -> None:
    """How far the cloth of the spine and the corners reach, and how far the sides lie over them."""
    figures, front = plan.sketch.figures, plan.front
    reach = front.left_mm + figures.spine_on_board_mm
    _across(plan, "spine on board", front.left_mm, reach, figures.spine_on_board_mm)
    low = front.bottom_mm
    plan.sketch.measure("lap", ((reach - figures.lap_mm, low), (reach, low)), figures.lap_mm, "below")
    if figures.corner_leg_mm > 0:
        x, top = front.right_mm, front.top_mm
        plan.sketch.measure("corner leg", ((x, top), (x, top + figures.corner_leg_mm)), figures.corner_leg_mm, "right")


def _measure_hinge(plan: Plan) -> None:
    figures, front = plan.sketch.figures, plan.front
    strip = front.left_mm + figures.hinge_mm
    _across(plan, "hinge", front.left_mm, strip, figures.hinge_mm)
    _across(plan, "joint", strip, strip + figures.joint_mm, figures.joint_mm)


def _measure_page(plan: Plan) -> None:
    """The squares at head and tail, and in a case what the board is narrower than the page."""
    page, figures, front = plan.page, plan.sketch.figures, plan.front
    if page is None:
        return
    square = ((front.right_mm, front.top_mm), (page.right_mm, page.top_mm))
    plan.sketch.measure("square", square, figures.square_mm, "right")
    tail_mm = figures.tail_square_mm
    if abs(tail_mm - figures.square_mm) > SAME_LENGTH_MM:
        tail = ((front.right_mm, front.bottom_mm), (page.right_mm, page.bottom_mm))
        plan.sketch.measure("tail square", tail, tail_mm, "right")
    if plan.sketch.book.structure in CASES:
        _across(plan, "setback", page.left_mm, front.left_mm, figures.setback_mm)


def _measure_turn_ins(plan: Plan) -> None:
    """One turn-in where all are alike, else each by its edge; and the mitre at a corner."""
    turn_ins, front, cloth, sketch = plan.sketch.book.turn_ins, plan.front, plan.cloth, plan.sketch
    at_fore_edge = ((front.right_mm, front.bottom_mm), (cloth.right_mm, cloth.bottom_mm))
    sketch.measure("turn-in", at_fore_edge, turn_ins.fore_edge_mm, "below")
    ends: tuple[tuple[str, float, Point, Point], ...] = (
        ("turn-in at the head", turn_ins.head_mm, (front.right_mm, cloth.top_mm), (front.right_mm, front.top_mm)),
        ("turn-in at the tail", turn_ins.tail_mm, (front.right_mm, front.bottom_mm), (front.right_mm, cloth.bottom_mm)),
    )
    for name, length_mm, start, end in ends:
        if abs(length_mm - turn_ins.fore_edge_mm) > SAME_LENGTH_MM:
            sketch.measure(name, (start, end), length_mm, "right")


def _measure_cut(plan: Plan, cloth: tuple[tuple[PieceKind, Box], ...]) -> None:
    """How large the piece is cut: the cover, or the first of several."""
    box = cloth[0][1]
    low, left = box.bottom_mm, box.left_mm
    plan.sketch.measure("cut width", ((left, low), (box.right_mm, low)), box.width_mm, "below")
    plan.sketch.measure("cut height", ((left, box.top_mm), (left, low)), box.height_mm, "left")
