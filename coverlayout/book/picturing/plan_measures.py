"""The measures of a cover laid flat: joints and spine above it, squares and turn-ins beside it, what is cut below."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coverlayout.book.picturing.sketch import Sketch
from coverlayout.book.pieces import PieceKind
from coverlayout.book.rules.belonging import CASES
from coverlayout.book.turn_ins import turned_edges
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Plan", "measure_plan"]


@dataclass(frozen=True)
class Plan:
    """What a flat plan is drawn from, as a book that opens left lies: front, back, the box of every piece."""

    sketch: Sketch
    front: Box
    back: Box
    pieces: tuple[tuple[PieceKind, Box], ...]

    @property
    def cloth(self) -> Box:
        """Around all that is cut to cover the boards."""
        return bounds([corner for kind, box in self.pieces if kind != "label" for corner in box.ring()])

    @property
    def page(self) -> Box | None:
        """A page as it lies behind the front board; in a case it is laid flush with the board's fore-edge."""
        figures, structure = self.sketch.figures, self.sketch.book.structure
        if figures.page_mm is None or structure == "slipcase":
            return None
        width, height = figures.page_mm
        right = self.front.right_mm - (0.0 if structure in CASES else figures.square_mm)
        return Box(right - width, self.front.top_mm + figures.square_mm, width, height)


def measure_plan(plan: Plan) -> None:
    """Put every measure down that the cover has."""
    structure = plan.sketch.book.structure
    if structure == "slipcase":
        _measure_slipcase(plan)
        return
    _name_sides(plan)
    _measure_squares(plan)
    _measure_turn_ins(plan)
    partly = plan.sketch.figures.spine_on_board_mm > 0
    if partly:
        _measure_partly(plan)
    elif structure in CASES:
        _measure_joints(plan)
    if structure == "side-sewn":
        _measure_hinge(plan)
    _measure_cut(plan)
    if structure in CASES and plan.page is not None:
        # Laid flush with the fore-edge, a page sticks out at the spine by what the board is narrower.
        _across(plan, "setback", plan.page.left_mm, plan.front.left_mm, plan.sketch.figures.setback_mm)
    _measure_mitre(plan)


def _name_sides(plan: Plan) -> None:
    """Front and back by name, beside the cloth of the spine where that reaches onto them, and beside a hinge."""
    figures = plan.sketch.figures
    reach_mm = figures.spine_on_board_mm + (figures.hinge_mm + figures.joint_mm if figures.hinge_mm > 0 else 0.0)
    front, back = plan.front, plan.back
    width = front.width_mm - reach_mm
    free = _clear_of_label(plan)
    plan.sketch.word("front", Box(front.left_mm + reach_mm, free.top_mm, width, free.height_mm))
    plan.sketch.word("back", Box(back.left_mm, back.top_mm, width, back.height_mm))


def _clear_of_label(plan: Plan) -> Box:
    """The front, or the larger part of it above or below the label."""
    front = plan.front
    label = next((box for kind, box in plan.pieces if kind == "label"), None)
    if label is None:
        return front
    above, below = label.top_mm - front.top_mm, front.bottom_mm - label.bottom_mm
    if above > below:
        return Box(front.left_mm, front.top_mm, front.width_mm, above)
    return Box(front.left_mm, label.bottom_mm, front.width_mm, below)


def _across(plan: Plan, name: str, from_mm: float, to_mm: float, length_mm: float) -> None:
    """A measure above the cover."""
    top = plan.front.top_mm
    plan.sketch.measure(name, ((from_mm, top), (to_mm, top)), length_mm, "above")


def _measure_joints(plan: Plan) -> None:
    figures, front = plan.sketch.figures, plan.front
    over = figures.over_spine_mm
    _across(plan, "joint", front.left_mm - figures.joint_mm, front.left_mm, figures.joint_mm)
    _across(plan, "spine", -over / 2, over / 2, over)


def _measure_partly(plan: Plan) -> None:
    """How far the cloth of the spine and the corners reach onto the boards."""
    figures, front = plan.sketch.figures, plan.front
    _across(plan, "spine on board", front.left_mm, front.left_mm + figures.spine_on_board_mm, figures.spine_on_board_mm)
    if figures.corner_leg_mm > 0:
        x, top = plan.back.left_mm, plan.back.top_mm
        plan.sketch.measure("corner leg", ((x, top), (x, top + figures.corner_leg_mm)), figures.corner_leg_mm, "left")


def _measure_hinge(plan: Plan) -> None:
    figures, front = plan.sketch.figures, plan.front
    strip = front.left_mm + figures.hinge_mm
    _across(plan, "hinge", front.left_mm, strip, figures.hinge_mm)
    _across(plan, "joint", strip, strip + figures.joint_mm, figures.joint_mm)


def _measure_squares(plan: Plan) -> None:
    """The squares at head and tail."""
    page, figures, front = plan.page, plan.sketch.figures, plan.front
    if page is None:
        return
    square = ((front.right_mm, front.top_mm), (page.right_mm, page.top_mm))
    plan.sketch.measure("square", square, figures.square_mm, "right")
    tail_mm = figures.tail_square_mm
    if abs(tail_mm - figures.square_mm) > SAME_LENGTH_MM:
        tail = ((front.right_mm, front.bottom_mm), (page.right_mm, page.bottom_mm))
        plan.sketch.measure("tail square", tail, tail_mm, "right")


def _measure_turn_ins(plan: Plan) -> None:
    """One turn-in where all are alike, else each by its edge; a flap in place of it."""
    book, front, cloth, sketch = plan.sketch.book, plan.front, plan.cloth, plan.sketch
    low, turn_ins = front.bottom_mm, book.turn_ins
    at_fore_edge = ((front.right_mm, low), (cloth.right_mm, low))
    if book.structure == "limp-wrap" and book.turned_in_flap_mm > 0:
        sketch.measure("turned-in flap", at_fore_edge, book.turned_in_flap_mm, "below")
    else:
        sketch.measure("turn-in", at_fore_edge, turn_ins.fore_edge_mm, "below")
    if book.structure == "limp-wrap" and book.fore_edge_flap_mm > 0:
        end = plan.back.left_mm - sketch.figures.thickness_mm
        sketch.measure("flap", ((end - book.fore_edge_flap_mm, low), (end, low)), book.fore_edge_flap_mm, "below")
    if "spine" in turned_edges(book.structure) and abs(turn_ins.spine_mm - turn_ins.fore_edge_mm) > SAME_LENGTH_MM:
        at_spine = ((front.left_mm - turn_ins.spine_mm, low), (front.left_mm, low))
        sketch.measure("turn-in at the spine", at_spine, turn_ins.spine_mm, "below")
    x = front.right_mm
    ends: tuple[tuple[str, float, float, float], ...] = (
        ("turn-in at the head", turn_ins.head_mm, cloth.top_mm, front.top_mm),
        ("turn-in at the tail", turn_ins.tail_mm, low, cloth.bottom_mm),
    )
    for name, length_mm, top, bottom in ends:
        if abs(length_mm - turn_ins.fore_edge_mm) > SAME_LENGTH_MM:
            sketch.measure(name, ((x, top), (x, bottom)), length_mm, "right")


def _measure_mitre(plan: Plan) -> None:
    """From the corner of the back board, or of a soft wrap, straight to the cut of the mitre; none beside a flap."""
    book, figures, back = plan.sketch.book, plan.sketch.figures, plan.back
    is_limp, left_mm = book.structure == "limp-wrap", back.left_mm
    if is_limp and book.fore_edge_flap_mm > 0:
        left_mm -= figures.thickness_mm + book.fore_edge_flap_mm
    elif is_limp and book.turned_in_flap_mm > 0:
        return
    mitre_mm = figures.mitre_mm
    out_mm = mitre_mm / math.sqrt(2)
    corner = (left_mm, back.bottom_mm)
    plan.sketch.measure("mitre", ((corner[0] - out_mm, corner[1] + out_mm), corner), mitre_mm, "below")


def _measure_cut(plan: Plan) -> None:
    """How large the piece is cut: the cover; of two alike the front's; else the strip over the spine."""
    boxes = [box for kind, box in plan.pieces if kind in ("cover", "spine piece")]
    box = max(boxes, key=lambda each: each.left_mm)
    low, left = plan.cloth.bottom_mm, plan.cloth.left_mm
    plan.sketch.measure("cut width", ((box.left_mm, low), (box.right_mm, low)), box.width_mm, "below")
    plan.sketch.measure("cut height", ((left, box.top_mm), (left, box.bottom_mm)), box.height_mm, "left")


def _measure_slipcase(plan: Plan) -> None:
    """The wrap as it is cut, and what of it comes over onto the walls; what is turned in at the mouth."""
    book, sketch = plan.sketch.book, plan.sketch
    wrap = next(box for kind, box in plan.pieces if kind == "cover")
    walls = sorted((box for kind, box in plan.pieces if kind == "side"), key=lambda box: box.left_mm)
    for name, wall in zip(("back", "front"), walls, strict=False):
        sketch.word(name, wall)
    low, left = wrap.bottom_mm, wrap.left_mm
    sketch.measure("cut width", ((left, low), (wrap.right_mm, low)), wrap.width_mm, "below")
    sketch.measure("cut height", ((left, wrap.top_mm), (left, low)), wrap.height_mm, "left")
    turned_mm, lap_mm, inset_mm = book.turn_ins.fore_edge_mm, book.turn_ins.head_mm, book.liner_inset_mm
    if not walls:
        room_mm, wall = sketch.figures.clearance_mm, plan.front
        ends = ((wall.left_mm, wall.bottom_mm - room_mm), (wall.left_mm, wall.bottom_mm))
        sketch.measure("clearance", ends, room_mm, "left")
        sketch.measure("turn-in", ((wrap.left_mm, low), (wrap.left_mm + turned_mm, low)), turned_mm, "below")
    else:
        front, right = walls[-1], wrap.right_mm
        sketch.measure("turn-in", ((right, wrap.bottom_mm - lap_mm), (right, wrap.bottom_mm)), lap_mm, "right")
        top = front.top_mm
        mouth = ((front.left_mm, top), (front.left_mm + turned_mm, top))
        sketch.measure("turn-in at the mouth", mouth, turned_mm, "above")
        sketch.measure("inset", ((front.right_mm, top), (front.right_mm + inset_mm, top)), inset_mm, "above")
