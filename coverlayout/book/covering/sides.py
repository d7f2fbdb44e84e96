"""The side of a quarter or half case: another print over the rest of a board."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from coverlayout.book.covering.laid_flat import FlatFace, FlatPiece, clockwise, closed_mark, line_mark
from coverlayout.book.covering.partly import PartlyCovered
from coverlayout.book.pieces import Mark, head_mark
from coverlayout.book.turn_ins import mitre_cut
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box, Region

__all__ = ["side_of_front"]


def side_of_front(plan: PartlyCovered) -> FlatPiece:
    """The front's side: a full rectangle, also where a half case's corners are left free, for it is trimmed there."""
    turn_ins, edge_mm, end_mm = plan.book.turn_ins, plan.side_edge_mm, plan.fore_edge_mm
    board = plan.box(edge_mm, end_mm)
    cloth = plan.box(edge_mm, end_mm + turn_ins.fore_edge_mm, turn_ins.head_mm, turn_ins.tail_mm)
    rims = (plan.seen_beyond_mm(turn_in) for turn_in in (turn_ins.fore_edge_mm, turn_ins.head_mm, turn_ins.tail_mm))
    side_mm, head_mm, tail_mm = rims
    seen = plan.box(edge_mm, end_mm + side_mm, head_mm, tail_mm)
    return FlatPiece(
        id="side-front",
        name="front side",
        kind="side",
        outline_mm=cloth.ring(),
        anchor_mm=board.middle,
        faces=(FlatFace("front", _free_of_corners(plan, board)),),
        marks=tuple(_side_marks(plan, board)),
        board=board,
        seen_mm=_free_of_corners(plan, seen),
        turns=plan.book.side_turns,
        source=plan.book.side_source,
    )


def _free_of_corners(plan: PartlyCovered, box: Box) -> Ring:
    """The box without what is trimmed off over the corners."""
    if not plan.corners:
        return box.ring()
    left = Region.of(box.ring())
    for corner in plan.corners:
        left = left.minus(Region.of(corner.beyond(corner.seen_leg_mm, corner.side_mm, corner.end_mm)))
    return clockwise(left.parts()[0][0])


def _side_marks(plan: PartlyCovered, board: Box) -> Iterator[Mark]:
    """Board, folds, the liner's edge, mitres or the lines to trim to, the lap over the spine's cloth, edge and head."""
    edge_mm = plan.side_edge_mm
    yield closed_mark("board", board)
    yield _around(plan, "turn-in", plan.figures.board_thickness_mm)
    if plan.hidden_from_mm is not None:
        yield _around(plan, "liner", plan.hidden_from_mm)
    yield from _corner_marks(plan)
    yield line_mark("lap", (plan.strip_edge_mm, 0.0), (plan.strip_edge_mm, plan.height_mm))
    yield line_mark("spine edge", (edge_mm, 0.0), (edge_mm, plan.height_mm))
    yield head_mark(board)


def _around(plan: PartlyCovered, kind: Literal["turn-in", "liner"], by_mm: float) -> Mark:
    """A line along head, fore-edge and tail, so far beyond the board, but not beyond the cloth."""
    turn_ins = plan.book.turn_ins
    side_mm, head_mm, tail_mm = (min(by_mm, at) for at in (turn_ins.fore_edge_mm, turn_ins.head_mm, turn_ins.tail_mm))
    top_left, *others = plan.box(plan.side_edge_mm, plan.fore_edge_mm + side_mm, head_mm, tail_mm).ring()
    return line_mark(kind, top_left, *others)


def _corner_marks(plan: PartlyCovered) -> Iterator[Mark]:
    """The mitres of a quarter case; of a half case the lines the side is trimmed to, over the slanting edges."""
    turn_ins, end_mm = plan.book.turn_ins, plan.fore_edge_mm
    for corner in plan.corners:
        # Where the corner is large the line leaves the side at its spine edge.
        out_mm = max(-corner.seen_leg_mm - corner.end_mm, plan.side_edge_mm - end_mm)
        _, low = corner.line(corner.seen_leg_mm, corner.side_mm, corner.end_mm)
        yield line_mark("lap", corner.at(out_mm, -corner.seen_leg_mm - out_mm), low)
    if plan.corners:
        return
    for at_mm, down, turn_in_mm in ((0.0, -1, turn_ins.head_mm), (plan.height_mm, 1, turn_ins.tail_mm)):
        cut = mitre_cut(turn_ins.fore_edge_mm, turn_in_mm, plan.figures.mitre_mm)
        if cut is not None:
            yield line_mark("mitre", *((end_mm + out_mm, at_mm + down * along_mm) for out_mm, along_mm in cut))
