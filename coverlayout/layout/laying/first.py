"""Whether pieces can be laid at all, and no more: the one decision that all larger questions ask again and again."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from coverlayout.layout.answer import Answer
from coverlayout.layout.laying.deciding import decide
from coverlayout.layout.laying.desk import Desk
from coverlayout.layout.laying.wished import answer_with_wishes, without_preferences
from coverlayout.layout.question import Question, Watch, never
from coverlayout.layout.search.effort import CutShort, Effort
from coverlayout.layout.wishes.origins import origin_matters
from coverlayout.layout.wishes.turned_copies import turned_copies_possible

__all__ = ["decided", "first_layout", "worked_out"]


def first_layout(question: Question, watch: Watch = never) -> Answer:
    """Whether the pieces can be laid at all: the first layout found, or the proof that there is none; no more.

    Its room is that of this layout, unproved; cloth smaller by its doubt is not tried, and wishes that are no musts are
    not looked at.
    """
    if origin_matters(question) or turned_copies_possible(question):
        asked = without_preferences(replace(question, cloths_if_smaller=()))
        return answer_with_wishes(asked, watch, decided, decided)
    return decided(question, watch)


def decided(question: Question, watch: Watch) -> Answer:
    """A first layout of a question whose prints are known to lie where they do, with linked pieces turned the same."""
    asked = replace(question, cloths_if_smaller=())
    return worked_out(Desk(asked, Effort(asked.steps, asked.seconds, watch)), decide)


def worked_out(desk: Desk, work: Callable[[Desk], None]) -> Answer:
    """The answer after the work, which may end at any time by the clock or the watch."""
    cut_short = False
    try:
        work(desk)
    except CutShort:
        cut_short = True
    return desk.answer(cut_short)
