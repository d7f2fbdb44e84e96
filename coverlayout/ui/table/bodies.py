"""The pieces on the bench as guides and alignments see them."""

from __future__ import annotations

from collections.abc import Iterable

from coverlayout.layout.guiding.body import Body
from coverlayout.layout.question import Placed
from coverlayout.ui.table.bench import WAITING, Bench

__all__ = ["bodies_of", "body_at"]


def bodies_of(bench: Bench, piece_ids: Iterable[str]) -> tuple[Body, ...]:
    """These pieces where they lie now, in the order given; those that are not on the bench are left out."""
    found = (bench.find(piece_id) for piece_id in piece_ids)
    return tuple(body_at(bench, lying.placed) for lying in found if lying is not None)


def body_at(bench: Bench, placed: Placed) -> Body:
    """A piece of the bench as it would lie there. KeyError for a piece that is not on the bench."""
    lying = bench.find(placed.piece)
    if lying is None:
        raise KeyError(placed.piece)
    piece = lying.piece
    up_deg = 0.0 if placed.cloth == WAITING else bench.sheet(placed.cloth).up_deg((placed.x_mm, placed.y_mm))
    return Body(placed, lying.label, piece.outline_mm, piece.anchor_mm, piece.board, lying.turns_deg, up_deg)
