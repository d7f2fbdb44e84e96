"""Lay pieces on cloth: the order of work, from cheap proofs over a first layout to the room to spare, proved.

Nothing is answered that the judge has not passed, and no "does not fit" without a proof.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from coverlayout.layout.answer import Answer
from coverlayout.layout.laying.deciding import decide
from coverlayout.layout.laying.desk import Desk, nobody
from coverlayout.layout.laying.first import decided, first_layout, worked_out
from coverlayout.layout.laying.objectives import show_largest_left, show_shortest
from coverlayout.layout.laying.room import make_room
from coverlayout.layout.laying.showing import set_upright, tidy_up
from coverlayout.layout.laying.wished import answer_with_wishes, needs_more_than_one_answer
from coverlayout.layout.question import Question, Watch, never
from coverlayout.layout.search.effort import Effort

__all__ = ["first_layout", "lay"]


def lay(question: Question, watch: Watch = never, found: Callable[[Answer], None] | None = None) -> Answer:
    """Where the pieces lie, or why they cannot: the verdict with its proof, room to spare in mm, and notes.

    `watch` is asked every few milliseconds and may stop the search; `found` gets the first layout and each roomier one.
    The same question gives the same answer unless `seconds` or the watch cut it short, which the answer then says.
    A question without pieces fits. Anything may be asked: where the search proves nothing the verdict is `not found`.
    """

    def work(asked: Question, watch: Watch) -> Answer:
        return worked_out(Desk(asked, Effort(asked.steps, asked.seconds, watch), found or nobody), _lay)

    if needs_more_than_one_answer(question):
        return answer_with_wishes(question, watch, decided, work)
    return work(question, watch)


def _lay(desk: Desk) -> None:
    """All the work, the most telling first."""
    decide(desk)
    if desk.roomiest is None or not desk.question.pieces:
        return
    if desk.question.cloths_if_smaller:
        _try_smaller(desk)
    make_room(desk)
    if desk.question.objective == "least length":
        show_shortest(desk)
    elif desk.question.objective == "largest leftover":
        show_largest_left(desk)
    else:
        tidy_up(desk)
        set_upright(desk)


def _try_smaller(desk: Desk) -> None:
    """Whether the job also fits when the cloth comes out smaller by its doubt."""
    trial = Desk(replace(desk.question, cloths=desk.question.cloths_if_smaller, cloths_if_smaller=()), desk.effort)
    decide(trial)
    if trial.roomiest is not None:
        desk.lost_if_smaller = None
    elif trial.proof is not None and desk.all_ways:
        desk.lost_if_smaller = "proved"
