"""Layouts of any outlines on any grounds: crooked swatches, polygons, slanted flaws, locks and links."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.filling.held_filling import held_fillings
from coverlayout.layout.filling.held_job import held_job
from coverlayout.layout.filling.outline_filling import outline_fillings
from coverlayout.layout.filling.outline_job import OutlineJob
from coverlayout.layout.question import PieceAsked, Placed, Question
from coverlayout.layout.search.effort import Effort

__all__ = ["fill_outlines", "outline_layouts"]

# Angles tried for a piece that may lie at any: a few in a few orders, then many.
_FEW_ANGLES, _MANY_ANGLES = 8, 40
_FEW_ORDERS = 12


def fill_outlines(
    question: Question, effort: Effort, room_mm: float = 0.0, *, orders: int
) -> tuple[Placed, ...] | None:
    """Places for all pieces, `room_mm` apart and from the edges, or None when no order tried leads to a layout.

    `orders`: how many random ones after the sorted ones. The same question gives the same layout. OutOfSteps when the
    effort is spent before.
    """
    return next(outline_layouts(question, effort, room_mm, orders), None)


def outline_layouts(question: Question, effort: Effort, room_mm: float, orders: int) -> Iterator[tuple[Placed, ...]]:
    """Every layout found: of the pieces' boxes where these fit already, then of the outlines themselves."""
    if _too_much(question):
        return
    boxes = held_job(replace(question, pieces=tuple(_boxed(piece) for piece in question.pieces)), effort.look)
    if boxes is not None:
        yield from held_fillings(boxes, effort, room_mm, 0)
    free = any(piece.turns_deg is None for piece in question.pieces)
    few = OutlineJob(question, effort, room_mm, angles=_FEW_ANGLES)
    yield from outline_fillings(few, effort, min(orders, _FEW_ORDERS) if free else orders)
    if free:
        yield from outline_fillings(OutlineJob(question, effort, room_mm, angles=_MANY_ANGLES), effort, orders)


def _too_much(question: Question) -> bool:
    """True when the pieces have more area than all grounds, overlaps and touching within the tolerance aside."""
    have_mm2 = sum(ground.usable.area_mm2 for cloth in question.cloths for ground in cloth.grounds)
    known: dict[Ring, tuple[float, float]] = {}
    need_mm2 = 0.0
    for piece in question.pieces:
        if piece.outline_mm not in known:
            region = Region.of(piece.outline_mm)
            known[piece.outline_mm] = region.area_mm2, region.shape.length
        area_mm2, around_mm = known[piece.outline_mm]
        need_mm2 += area_mm2 - around_mm * SAME_LENGTH_MM
    return need_mm2 > have_mm2


def _boxed(piece: PieceAsked) -> PieceAsked:
    """The piece as its upright box, whole quarters turned where it may lie at any angle."""
    turns_deg = (0.0, 90.0) if piece.turns_deg is None else piece.turns_deg
    return replace(piece, outline_mm=bounds(piece.outline_mm).ring(), turns_deg=turns_deg)
