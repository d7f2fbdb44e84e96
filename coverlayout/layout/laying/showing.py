"""Which layout is shown: the roomiest where room is short, else a tidy one with few pieces turned."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.filling.held_filling import held_fillings
from coverlayout.layout.laying.deciding import filled_with
from coverlayout.layout.laying.desk import Desk, Layout
from coverlayout.layout.laying.room import make_room
from coverlayout.layout.question import PieceAsked
from coverlayout.layout.ranking.tidy import untidiness
from coverlayout.layout.ranking.upright import fewer_turned, turned
from coverlayout.layout.search.filling import fillings, placed_of

__all__ = ["many_layouts", "set_upright", "tidy_up"]

# The tidiest layout may give this much of the best room away.
_GIVEN_AWAY_MM = 1.0
# Shares of the steps: for tidy layouts, and for one with fewer pieces turned.
_TIDIER, _UPRIGHT = 0.05, 0.5
# Each try for fewer turns takes at most this part of what is left.
_A_TRY = 2
_ORDERS = 12


def tidy_up(desk: Desk) -> None:
    """Show the tidiest layout within a millimetre of the best room and not below the wish, with the fewest turned.

    When the best room is below the wish, the roomiest layout stays shown.
    """
    wish_mm = desk.question.spare_wish_mm
    if desk.shown is None or desk.room_mm() < wish_mm - SAME_LENGTH_MM:
        return
    room_mm = max(wish_mm, desk.room_mm() - _GIVEN_AWAY_MM)
    gathered: list[Layout] = []
    with desk.part(_TIDIER):
        gathered.extend(many_layouts(desk, room_mm))
    most = turned(desk.judge, desk.shown[0])
    ranked = [(turned(desk.judge, layout), untidiness(desk.judge, layout), layout) for layout in gathered]
    for turns, _, layout in sorted(ranked, key=lambda one: one[:2]):
        if turns > most or desk.show(layout, room_mm):
            return


def many_layouts(desk: Desk, room_mm: float, orders: int = _ORDERS) -> Iterator[Layout]:
    """Layouts with `room_mm`, from some orders of filling and then from the search for all ways."""
    if desk.job is not None:
        job = desk.job
        yield from (placed_of(job, seats) for seats in fillings(job, desk.effort, room_mm, orders))
    elif desk.held is not None:
        yield from held_fillings(desk.held, desk.effort, room_mm, orders)
    if desk.exact is not None:
        yield from desk.exact.every(desk.effort, room_mm)


def set_upright(desk: Desk) -> None:
    """Show a layout with as few pieces turned as can be found, among those that have enough room."""
    assert desk.shown is not None, "asked only when there is a layout"
    room_mm = min(desk.question.spare_wish_mm, desk.room_mm())
    with desk.part(_UPRIGHT):
        for placed in fewer_turned(desk.judge, desk.shown[0], room_mm, _upright_layout(desk, room_mm)):
            # One of them may have more room than was known: none with less is shown after it, below the wish.
            desk.show(placed, min(desk.question.spare_wish_mm, desk.room_mm()))


def _upright_layout(desk: Desk, room_mm: float) -> Callable[[tuple[PieceAsked, ...]], Layout | None]:
    """The search for a layout of pieces that allow fewer turns, with at least `room_mm`."""

    def layout_of(pieces: tuple[PieceAsked, ...]) -> Layout | None:
        trial = Desk(replace(desk.question, pieces=pieces, cloths_if_smaller=()), desk.effort)
        with desk.effort.part(desk.effort.left // _A_TRY):
            _find_with(trial, room_mm)
        return None if trial.shown is None else trial.shown[0]

    return layout_of


def _find_with(desk: Desk, room_mm: float) -> None:
    """Find a layout with at least `room_mm`, then the one to show; nothing is proved."""
    if not desk.offer(filled_with(desk, room_mm)) and desk.exact is not None:
        desk.offer(desk.exact.decide(desk.effort, room_mm).placed or None)
    if desk.roomiest is not None:
        make_room(desk)
        tidy_up(desk)
