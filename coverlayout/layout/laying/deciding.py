"""Whether everything can be laid at all: a first layout, or the proof that there is none, the cheapest ways first."""

from __future__ import annotations

from coverlayout.layout.answer import Proof
from coverlayout.layout.filling.held_filling import fill_held
from coverlayout.layout.laying.desk import Desk, Layout
from coverlayout.layout.proofs.bounds import refuted
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.search.filling import fill, placed_of
from coverlayout.layout.search.outlines import fill_outlines

__all__ = ["decide", "filled", "filled_with"]

# Shares of the steps: for a first layout in a few orders, for the slices, for all ways of few pieces, and for a lot of
# orders when these leave it open.
_FIRST, _SLICES, _EXACT, _LONG = 0.1, 0.1, 0.5, 0.6
# Random orders tried before the exhaustive search takes over, and where there is none.
_FEW_ORDERS, _MANY_ORDERS = 12, 20_000
# The same for outlines of any shape, which take longer.
_FEW_OUTLINES, _MANY_OUTLINES = 0, 200


def decide(desk: Desk) -> None:
    """Find a layout, or a proof that there is none; neither when the steps do not suffice."""
    if not desk.question.pieces:
        desk.offer(())
        return
    desk.proof = refuted(desk.question, desk.job)
    if desk.is_open:
        with desk.part(_FIRST):
            desk.offer(filled(desk, orders=_FEW_ORDERS, outlines=None))
    if desk.is_open and desk.job is not None:
        with desk.part(_SLICES):
            desk.proof = too_long_in_slices(desk.job, desk.effort)
    if desk.is_open and desk.exact is not None:
        _search_all_ways(desk)
    if desk.is_open:
        with desk.part(_LONG):
            desk.offer(filled(desk, orders=_MANY_ORDERS, outlines=_MANY_OUTLINES))


def filled(desk: Desk, room_mm: float = 0.0, *, orders: int, outlines: int | None) -> Layout | None:
    """A layout with `room_mm` from one of so many orders; outlines of any shape with orders of their own, None: not."""
    placed: Layout | None = None
    if desk.job is not None:
        seats = fill(desk.job, desk.effort, room_mm, orders=orders)
        placed = None if seats is None else placed_of(desk.job, seats)
    elif desk.held is not None:
        placed = fill_held(desk.held, desk.effort, room_mm, orders=orders)
    if placed is None and outlines is not None and (desk.job is None or not desk.job.exact):
        placed = fill_outlines(desk.question, desk.effort, room_mm, orders=outlines)
    return placed


def filled_with(desk: Desk, room_mm: float) -> Layout | None:
    """A layout with at least `room_mm`, looked for in a few orders."""
    return filled(desk, room_mm, orders=_FEW_ORDERS, outlines=_FEW_OUTLINES)


def _search_all_ways(desk: Desk) -> None:
    assert desk.exact is not None, "asked only when there are few pieces"
    with desk.part(_EXACT):
        decided = desk.exact.decide(desk.effort)
        if decided.says == "no":
            desk.proof = Proof("exhaustive", (("pieces", float(len(desk.question.pieces))),))
        elif decided.says == "yes":
            desk.offer(decided.placed)
