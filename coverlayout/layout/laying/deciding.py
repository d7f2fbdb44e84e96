"""Whether everything can be laid at all: a first layout, or the proof that there is none, the cheapest ways first."""

from __future__ import annotations

from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Proof
from coverlayout.layout.filling.held_filling import fill_held
from coverlayout.layout.laying.desk import Desk, Layout
from coverlayout.layout.proofs.bounds import refuted
from coverlayout.layout.proofs.relaxing import relaxed
from coverlayout.layout.proofs.slices import too_long_in_slices
from coverlayout.layout.search.crowds import fill_crowd
from coverlayout.layout.search.filling import fill, placed_of
from coverlayout.layout.search.outlines import fill_outlines
from coverlayout.layout.search.sheets import Item, RectangularJob
from coverlayout.layout.strips.strip import lay_in_strip
from coverlayout.layout.wishes.origins import origin_matters

__all__ = ["FEW", "decide", "filled", "filled_with", "stripped"]

# Shares of the steps: for a first layout in a few orders, for the slices, for all ways of few pieces, and for a lot of
# orders when these leave it open.
_FIRST, _SLICES, _STRIP, _EXACT, _LONG = 0.1, 0.25, 0.3, 0.6, 0.6
# Random orders tried before the exhaustive search takes over, and where there is none.
_FEW_ORDERS, _MANY_ORDERS = 12, 20_000
# The same for outlines of any shape, which take longer.
_FEW_OUTLINES, _MANY_OUTLINES = 0, 200
# Up to so many pieces all ways are soon searched; with more, dense rows are tried first.
FEW = 8
# With more held pieces than this, places are gone through once before any order is tried.
_CROWD = 60


def decide(desk: Desk) -> None:
    """Find a layout, or a proof that there is none; neither when the steps do not suffice."""
    if not desk.question.pieces:
        desk.offer(())
        return
    desk.proof = refuted(desk.question, desk.job, desk.effort.look)
    if desk.is_open:
        with desk.part(_FIRST):
            desk.offer(filled(desk, orders=_FEW_ORDERS, outlines=None))
    if desk.is_open:
        with desk.part(_SLICES):
            desk.proof = too_long_in_slices(desk.job or relaxed(desk.question), desk.effort)
    many = len(desk.question.pieces) > FEW
    if desk.is_open and many:
        with desk.part(_STRIP):
            desk.offer(stripped(desk))
    if desk.is_open and desk.exact is not None:
        _search_all_ways(desk)
    # Where a must hangs on how the print falls no order of filling helps: that is asked for each way it falls.
    if desk.is_open and not origin_matters(desk.question):
        with desk.part(_LONG):
            desk.offer(filled(desk, orders=_MANY_ORDERS, outlines=_MANY_OUTLINES))


def filled(desk: Desk, room_mm: float = 0.0, *, orders: int, outlines: int | None) -> Layout | None:
    """A layout with `room_mm` from one of so many orders; outlines of any shape with orders of their own, None: not."""
    placed: Layout | None = None
    if desk.job is not None:
        seats = fill(desk.job, desk.effort, room_mm, orders=orders)
        placed = None if seats is None else placed_of(desk.job, seats)
    elif desk.held is not None:
        if len(desk.question.pieces) > _CROWD:
            placed = fill_crowd(desk.held, desk.effort, room_mm)
        placed = placed or fill_held(desk.held, desk.effort, room_mm, orders=orders)
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


def stripped(desk: Desk, room_mm: float = 0.0) -> Layout | None:
    """A layout with `room_mm` in dense rows, where all pieces are rectangles that find room on one sheet only."""
    job = desk.job
    if job is None:
        return None
    used = {number for item in job.items for number in range(len(job.sheets)) if _fits_on(job, item, number)}
    seats = lay_in_strip(job, used.pop(), desk.effort, room_mm=room_mm) if len(used) == 1 else None
    return None if seats is None else placed_of(job, seats)


def _fits_on(job: RectangularJob, item: Item, number: int) -> bool:
    """True when a piece may come from a sheet and is no larger than it."""
    width_mm, height_mm = (
        side + SAME_LENGTH_MM for side in (job.sheets[number].box.width_mm, job.sheets[number].box.height_mm)
    )
    return any(pose.width_mm <= width_mm and pose.height_mm <= height_mm for pose in item.poses[number])
