"""A slipcase laid flat: the measures of its wrap and walls, and which way is up on each, since the wrap lies across."""

from __future__ import annotations

import math
from collections.abc import Iterable

from coverlayout.book.picturing.sketch import Plan
from coverlayout.book.pieces import Piece
from coverlayout.geometry.frames import Affine
from coverlayout.geometry.shapes import Box

__all__ = ["draw_heads", "measure_slipcase"]

# The sign of the head, as a share of all cloth laid out, and of the edge it stands on.
_HEAD, _HEAD_ON_EDGE = 0.02, 1 / 3


def draw_heads(plan: Plan, laid: Iterable[tuple[Piece, Affine]]) -> None:
    """Which way is up on each piece: a wedge that points at its head, for pieces of which some lie across."""
    cloth = plan.cloth
    for piece, to in laid:
        (x, y), (x_below, y_below) = to.at((0.0, 0.0)), to.at((0.0, 1.0))
        down = (x_below - x, y_below - y)
        for mark in (each for each in piece.marks if each.kind == "head"):
            start, end = to.ring(mark.points_mm)
            size_mm = min(_HEAD * max(cloth.width_mm, cloth.height_mm), _HEAD_ON_EDGE * math.dist(start, end))
            tip = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            foot = (tip[0] + 1.5 * size_mm * down[0], tip[1] + 1.5 * size_mm * down[1])
            wings = ((foot[0] - k * size_mm * down[1], foot[1] + k * size_mm * down[0]) for k in (-1, 1))
            plan.sketch.area("head", (tip, *wings), piece.id)


def measure_slipcase(plan: Plan) -> None:
    """The wrap as it is cut, and what of it comes over onto the walls; what is turned in at the mouth."""
    book, sketch = plan.sketch.book, plan.sketch
    wrap = next(box for kind, box in plan.pieces if kind == "cover")
    walls = sorted((box for kind, box in plan.pieces if kind == "side"), key=lambda box: box.left_mm)
    for name, wall in zip(("back", "front"), walls, strict=False):
        sketch.word(name, wall)
    low, left = wrap.bottom_mm, wrap.left_mm
    # Beside walls the wrap lies across: its own height runs from side to side.
    along, beside = ("cut height", "cut width") if walls else ("cut width", "cut height")
    sketch.measure(along, ((left, low), (wrap.right_mm, low)), wrap.width_mm, "below")
    sketch.measure(beside, ((left, wrap.top_mm), (left, low)), wrap.height_mm, "left")
    if book.slipcase_of == "one scored board":
        room_mm, turned_mm, wall = sketch.figures.clearance_mm, book.turn_ins.fore_edge_mm, plan.front
        ends = ((wall.left_mm, wall.bottom_mm - room_mm), (wall.left_mm, wall.bottom_mm))
        sketch.measure("clearance", ends, room_mm, "left")
        sketch.measure("turn-in", ((left, low), (left + turned_mm, low)), turned_mm, "below")
        return
    _measure_walls(plan, wrap, walls[-1] if walls else None)


def _measure_walls(plan: Plan, wrap: Box, front: Box | None) -> None:
    """What of a wrap comes over onto the walls, and how far their cover stays short of their edges.

    Without cloth on the walls the wrap alone, upright, shows both.
    """
    book, sketch = plan.sketch.book, plan.sketch
    turned_mm, lap_mm, inset_mm = book.turn_ins.fore_edge_mm, book.turn_ins.head_mm, book.liner_inset_mm
    right, top, low = wrap.right_mm, wrap.top_mm, wrap.bottom_mm
    if front is None:
        sketch.measure("turn-in", ((right - lap_mm, low), (right, low)), lap_mm, "below")
        sketch.measure("turn-in at the mouth", ((right, top), (right, top + turned_mm)), turned_mm, "right")
        sketch.measure("inset", ((right - lap_mm, top), (right - lap_mm + inset_mm, top)), inset_mm, "above")
        return
    sketch.measure("turn-in", ((right, low - lap_mm), (right, low)), lap_mm, "right")
    mouth = ((front.left_mm, front.top_mm), (front.left_mm + turned_mm, front.top_mm))
    sketch.measure("turn-in at the mouth", mouth, turned_mm, "above")
    short = ((front.right_mm, front.top_mm), (front.right_mm + inset_mm, front.top_mm))
    sketch.measure("inset", short, inset_mm, "above")
