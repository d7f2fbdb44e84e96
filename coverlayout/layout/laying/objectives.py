"""What the maker wants most of a layout: room to spare, the least length, or the largest piece left over."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.layout.laying.desk import Desk, Layout
from coverlayout.layout.laying.showing import many_layouts
from coverlayout.layout.question import with_room
from coverlayout.layout.ranking.tidy import boxes_by_sheet, largest_left_mm2, untidiness
from coverlayout.layout.ranking.upright import turned
from coverlayout.layout.rules import Judge
from coverlayout.layout.strips.least_length import least_length

__all__ = ["show_largest_left", "show_shortest"]

# Shares of the steps.
_SHORTEST, _LEFT = 0.3, 0.3
_ORDERS = 60


def show_shortest(desk: Desk) -> None:
    """Show the layout of least length that keeps the wished room, where it is to be had; on one cloth only."""
    assert desk.shown is not None, "asked only when there is a layout"
    used = {placed.cloth for placed in desk.shown[0]}
    if len(used) != 1 or len(desk.question.cloths) != 1:
        return
    room_mm = _kept_mm(desk)
    asked = replace(with_room(desk.question, room_mm), steps=int(desk.question.steps * _SHORTEST))
    found = least_length(asked, desk.effort.asks_to_stop)
    desk.effort.look()
    if found.placed:
        desk.show(found.placed, room_mm)


def show_largest_left(desk: Desk) -> None:
    """Show the layout that leaves the largest rectangle of those found with the wished room, few pieces turned."""
    assert desk.shown is not None, "asked only when there is a layout"
    room_mm = _kept_mm(desk)
    gathered: list[Layout] = []
    with desk.part(_LEFT):
        gathered.extend(many_layouts(desk, room_mm, _ORDERS))
    ranked = sorted(((_by_left(desk.judge, layout), layout) for layout in gathered), key=lambda one: one[0])
    least = _by_left(desk.judge, desk.shown[0])
    for rank, layout in ranked:
        if rank >= least or desk.show(layout, room_mm):
            return


def _kept_mm(desk: Desk) -> float:
    """The room that is kept: what the maker wants, or all there is."""
    return min(desk.question.spare_wish_mm, desk.room_mm())


def _by_left(judge: Judge, layout: Layout) -> tuple[float, ...]:
    """The less the better: a large rectangle left, then few pieces turned, then tidy."""
    left = max((largest_left_mm2(*one) for one in boxes_by_sheet(judge, layout).items()), default=0.0)
    return (-left, *turned(judge, layout), *untidiness(judge, layout))
