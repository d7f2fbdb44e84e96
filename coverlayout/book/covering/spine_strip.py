"""The cloth over the spine of a quarter or half case, both joints and part of each board."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, closed_mark, line_mark
from coverlayout.book.covering.partly import PartlyCovered
from coverlayout.book.pieces import Mark, head_mark
from coverlayout.geometry.frames import Ring

__all__ = ["spine_strip"]


def spine_strip(plan: PartlyCovered) -> FlatPiece:
    """The cloth over the spine, both joints and part of each board; anchored in the middle of the spine."""
    turn_ins, edge_mm = plan.book.turn_ins, plan.strip_edge_mm
    shown_mm, gap_mm = plan.side_edge_mm, plan.gap_edge_mm
    seen = plan.box(-shown_mm, shown_mm)
    faces = (("front", gap_mm, shown_mm), ("spine", -gap_mm, gap_mm), ("back", -shown_mm, -gap_mm))
    return FlatPiece(
        id="spine",
        name="spine cloth",
        kind="spine piece",
        outline_mm=plan.box(-edge_mm, edge_mm, turn_ins.head_mm, turn_ins.tail_mm).ring(),
        anchor_mm=seen.middle,
        faces=tuple(FlatFace(name, plan.box(low, high).ring()) for name, low, high in faces),
        marks=tuple(_strip_marks(plan)),
        board=seen,
        seen_mm=_seen_of_strip(plan),
        turns=plan.book.cover_turns,
        source=plan.book.cover_source,
    )


def _strip_marks(plan: PartlyCovered) -> Iterator[Mark]:
    """Boards and spine piece, folds, the liners' edges, the joints, and the lines the sides are laid to."""
    edge_mm, gap_mm, spine_mm = plan.strip_edge_mm, plan.gap_edge_mm, plan.figures.spine_mm
    yield closed_mark("board", plan.box(gap_mm, edge_mm))
    if spine_mm is not None:
        yield closed_mark("board", plan.box(-spine_mm / 2, spine_mm / 2))
    yield closed_mark("board", plan.box(-edge_mm, -gap_mm))
    yield from plan.across("turn-in", -edge_mm, edge_mm, plan.figures.board_thickness_mm)
    if plan.hidden_from_mm is not None:
        for low, high in ((-edge_mm, -gap_mm), (gap_mm, edge_mm)):
            yield from plan.across("liner", low, high, plan.hidden_from_mm)
    for at in (-gap_mm, gap_mm):
        yield line_mark("joint", (at, 0.0), (at, plan.height_mm))
    for at in (-plan.side_edge_mm, plan.side_edge_mm):
        yield line_mark("lap", (at, 0.0), (at, plan.height_mm))
    yield head_mark(plan.box(-edge_mm, edge_mm))


def _seen_of_strip(plan: PartlyCovered) -> Ring:
    """All but what lies under the sides' laps and, on the boards, under the liners; between the boards all of it."""
    turn_ins, shown_mm, gap_mm = plan.book.turn_ins, plan.side_edge_mm, plan.gap_edge_mm
    head, tail = -turn_ins.head_mm, plan.height_mm + turn_ins.tail_mm
    rim_head = -plan.seen_beyond_mm(turn_ins.head_mm)
    rim_tail = plan.height_mm + plan.seen_beyond_mm(turn_ins.tail_mm)
    upper = ((-shown_mm, rim_head), (-gap_mm, rim_head), (-gap_mm, head))
    lower = ((-gap_mm, tail), (-gap_mm, rim_tail), (-shown_mm, rim_tail))
    right = tuple((-x, y) for x, y in (*reversed(upper), *reversed(lower)))
    ring = (*upper, *right, *lower)
    return tuple(point for k, point in enumerate(ring) if point != ring[k - 1])
