"""What the maker wants most of a layout: room to spare, the least length, or the largest piece left over."""

from __future__ import annotations

from collections.abc import Callable

from coverlayout.layout.laying.desk import Desk, Layout
from coverlayout.layout.laying.showing import many_layouts
from coverlayout.layout.ranking.tidy import boxes_by_sheet, largest_left_mm2, untidiness
from coverlayout.layout.ranking.upright import turned
from coverlayout.layout.rules import Judge

__all__ = ["show_largest_left"]

# A share of the steps.
_LEFT = 0.3
_ORDERS = 60


def show_largest_left(desk: Desk) -> None:
    """Show the layout that leaves the largest rectangle of those found with the wished room, few pieces turned."""
    room_mm = _kept_mm(desk)
    gathered: list[Layout] = []
    with desk.part(_LEFT):
        gathered.extend(many_layouts(desk, room_mm, _ORDERS))
    rank = _by_left(desk.judge)
    for layout in sorted(gathered, key=rank):
        if desk.shown is not None and rank(layout) >= rank(desk.shown[0]):
            return
        if desk.show(layout, room_mm):
            return


def _kept_mm(desk: Desk) -> float:
    """The room that is kept: what the maker wants, or all there is."""
    return min(desk.question.spare_wish_mm, desk.room_mm())


def _by_left(judge: Judge) -> Callable[[Layout], tuple[float, ...]]:
    def rank(layout: Layout) -> tuple[float, ...]:
        left = max((largest_left_mm2(*one) for one in boxes_by_sheet(judge, layout).items()), default=0.0)
        return (-left, *turned(judge, layout), *untidiness(judge, layout))

    return rank
