"""The measures of a cover laid flat: joints and spine above it, squares and turn-ins beside it, what is cut below."""

from __future__ import annotations

import math

from coverlayout.book.picturing.sketch import Plan
from coverlayout.book.picturing.slipcase_plan import measure_slipcase
from coverlayout.book.rules.belonging import CASES
from coverlayout.book.turn_ins import turned_edges
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["measure_plan"]


def measure_plan(plan: Plan) -> None:
    """Put every measure down that the cover has."""
    structure = plan.sketch.book.structure
    if structure == "slipcase":
        measure_slipcase(plan)
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
    if structure in CASES:
        _measure_fore_edge(plan)
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


def _measure_fore_edge(plan: Plan) -> None:
    """How far the board of a case stands out past the page, and what it is narrower.

    The page, moved out as far as the board, would begin so far before it.
    """
    figures, front, page = plan.sketch.figures, plan.front, plan.page
    if page is None or figures.fore_edge_square_mm is None:
        return
    low, stands_out_mm = page.bottom_mm, figures.fore_edge_square_mm
    ends = ((page.right_mm, low), (front.right_mm, low))
    plan.sketch.measure("fore-edge square", ends, stands_out_mm, "below")
    _across(plan, "setback", front.left_mm - figures.setback_mm, front.left_mm, figures.setback_mm)


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
