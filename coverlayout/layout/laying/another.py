"""A layout that differs on purpose from those already seen."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from coverlayout.geometry.frames import same_turn
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Answer, Report
from coverlayout.layout.laying.desk import Desk, Layout
from coverlayout.layout.laying.first import decided, first_layout
from coverlayout.layout.laying.showing import many_layouts
from coverlayout.layout.laying.wished import needs_more_than_one_answer, standing_question
from coverlayout.layout.question import AnotherAsked, Placed, Question, Watch, never
from coverlayout.layout.ranking.upright import turned
from coverlayout.layout.rules import Judge
from coverlayout.layout.search.effort import CutShort, Effort
from coverlayout.layout.search.sheets import like

__all__ = ["another", "unlike"]

# A piece that lies this near to where an equal one lay before lies there still (mm).
_SAME_PLACE_MM = 5.0
# Layouts looked at before the most unlike of them is taken, and the share of the steps for each room asked for.
_ENOUGH, _SHARE = 24, 0.1
_ORDERS = 200
# Where no more are to be had with the room there was, less and less of it is asked for.
_LESS_AND_LESS = (1.0, 0.75, 0.5, 0.25, 0.0)


def another(asked: AnotherAsked, watch: Watch = never) -> Answer:
    """A layout unlike those seen, with the wished room where there is one; `not found` when none turns up.

    Of those with enough room the most unlike is taken, then the one with the fewest pieces turned. Nothing is said
    about the most room there is: its room is that of the layout. The same seen give the same answer.
    """
    question: Question | None = replace(asked.question, cloths_if_smaller=())
    if needs_more_than_one_answer(asked.question):
        question = standing_question(asked.question, watch, decided)
    if question is None:
        return replace(first_layout(asked.question, watch), verdict="not found", proved=False, proof=None, placed=())
    desk = Desk(question, Effort(question.steps, question.seconds, watch))
    cut_short = False
    try:
        _look(desk, asked.seen)
    except CutShort:
        cut_short = True
    return desk.answer(cut_short)


def unlike(judge: Judge, layout: Layout, seen: Layout) -> int:
    """How many pieces lie where no equal piece lay, or otherwise turned; pieces alike in all but name are equal."""
    kinds = {piece.id: like(piece) for piece in judge.question.pieces}
    left = list(seen)
    moved = 0
    for placed in layout:
        same = next((one for one in left if kinds.get(one.piece) == kinds[placed.piece] and _stays(placed, one)), None)
        if same is None:
            moved += 1
        else:
            left.remove(same)
    return moved


def _stays(one: Placed, other: Placed) -> bool:
    near = math.dist((one.x_mm, one.y_mm), (other.x_mm, other.y_mm)) <= _SAME_PLACE_MM
    return near and one.cloth == other.cloth and same_turn(one.turn_deg, other.turn_deg, SAME_TURN_DEG)


def _look(desk: Desk, seen: Iterable[Layout]) -> None:
    """Show the best of the layouts found, first of those with as much room as was had before."""
    known = [layout for layout in seen if layout]
    rooms = [desk.judge.report(layout).clearance_mm or 0.0 for layout in known]
    wish_mm = min(desk.question.spare_wish_mm, max(rooms, default=desk.question.spare_wish_mm))
    for room_mm in dict.fromkeys(share * wish_mm for share in _LESS_AND_LESS):
        found: list[tuple[Layout, Report]] = []
        with desk.part(_SHARE):
            found.extend(_different(desk, known, room_mm))
        if found:
            desk.roomiest = desk.shown = max(found, key=lambda one: _worth(desk.judge, one[0], known))
            return


def _different(desk: Desk, seen: list[Layout], room_mm: float) -> Iterator[tuple[Layout, Report]]:
    """The first layouts with so much room that the judge passes and that are unlike all seen."""
    count = 0
    for layout in many_layouts(desk, room_mm, _ORDERS):
        report = desk.judge.report(layout)
        enough = (report.clearance_mm or 0.0) >= room_mm - SAME_LENGTH_MM
        if (
            enough
            and not report.breaches
            and not report.waiting
            and all(unlike(desk.judge, layout, one) for one in seen)
        ):
            yield layout, report
            count += 1
        if count >= _ENOUGH:
            return


def _worth(judge: Judge, layout: Layout, seen: list[Layout]) -> tuple[int, int, int]:
    across, half = turned(judge, layout)
    return min((unlike(judge, layout, one) for one in seen), default=0), -across, -half
