"""Changed projects put to the layout one after another, with few steps each, around the pieces that are pinned."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

from coverlayout.document.cutting.rest import staying_in, with_staying
from coverlayout.document.project import Project
from coverlayout.document.questions import USUAL_STEPS, placed_now, planned_pieces, question_for
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.layout.answer import Answer
from coverlayout.layout.falling.prints import Falling, falling_prints, with_origin
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.question import Question, Watch, never

__all__ = ["Ended", "Trying", "answer_around_pins"]

# A change may take this many steps to be tried, and again to be measured: there are some forty tries for one book.
_STEPS_A_TRY = 4_000
_STEPS_A_MEASURE = 1_000
# What is offered is laid in earnest, since its room is told: a few of them at most.
_STEPS_OF_AN_OFFER = 40_000
# After this many tries that ran out of their steps, each further one gets a part of them only: a hard job would else
# take half a minute.
_HARD_TRIES, _HARD_PART = 10, 8
# So many places across and along one repeat are asked first where it is not known where the print falls.
_PLACES = 6


class Ended(Exception):
    """Time is up, or the watch said stop: no more changes are tried."""


def answer_around_pins(
    project: Project, ask: Callable[[Question], Answer], *, steps: int = USUAL_STEPS, seconds: float | None = None
) -> Answer:
    """The answer with every pinned piece staying where it lies; they stand among its places and count for its room.

    Without pinned pieces it is the engine's answer as it is. BadInput as `question_for` says.
    """
    pinned = frozenset(project.layout.pinned)
    question = question_for(project, staying=pinned, steps=steps, seconds=seconds)
    answer = ask(question)
    stay = tuple(placed for placed in placed_now(project) if placed.piece in pinned)
    answer = with_staying(answer, staying_in(project, pinned), project.rules.spare_wish_mm)
    return replace(answer, placed=(*answer.placed, *stay)) if answer.placed or not question.pieces else answer


class Trying:
    """Asks the engine about one changed project after another; a no counts as one whether it is proved or not."""

    def __init__(self, watch: Watch = never, seconds: float | None = None) -> None:
        """All tries together may take `seconds` (None: no limit); `watch` hears of `share_done` and may stop them."""
        self.share_done = 0.0
        self._watch = watch
        self._ends = None if seconds is None else time.monotonic() + seconds
        self._stopped = False
        self._ran_out = 0

    def fits(self, project: Project) -> bool:
        """Whether a layout is found. A project that cannot be made does not fit. Raises Ended."""
        return _is_yes(self._first(project))

    def answer(self, project: Project) -> Answer | None:
        """The layout with its room, as well as few steps tell; None when none is found. Raises Ended."""
        first = self._first(project)
        if first is None or not _is_yes(first):
            return None
        roomy = self._ask(project, lay, _STEPS_OF_AN_OFFER)
        return roomy if roomy is not None and _is_yes(roomy) else first

    def largest(self, made: Callable[[int], Project], least: int, below: int) -> int | None:
        """The largest of the numbers from `least` up to, but not including, `below` whose project fits, by halving.

        None when not even the least that can be made does. What can be made with one number is taken to be so with
        every larger one, and what fits to fit with every smaller one.
        """
        least = _least_made(made, least, below)
        if least >= below or not self.fits(made(least)):
            return None
        fits, fails = least, below
        while fails - fits > 1:
            middle = (fits + fails) // 2
            if self.fits(made(middle)):
                fits = middle
            else:
                fails = middle
        return fits

    def decide(self, question: Question) -> Answer:
        """Whether a question can be laid, by very few steps: for measures that ask dozens of times. Raises Ended."""
        answer = first_layout(replace(question, steps=_STEPS_A_MEASURE, seconds=self._seconds_left()), self._look)
        if answer.cut_short and not _is_yes(answer):
            raise Ended
        return answer

    def _first(self, project: Project) -> Answer | None:
        answer = self._ask(project, _first_wherever)
        if answer is not None and answer.verdict == "not found":
            if answer.cut_short:
                raise Ended
            self._ran_out += 1
        return answer

    def _ask(
        self, project: Project, ask: Callable[[Question, Watch], Answer], most: int = _STEPS_A_TRY
    ) -> Answer | None:
        seconds = self._seconds_left()
        steps = most if self._ran_out < _HARD_TRIES else most // _HARD_PART
        try:
            return answer_around_pins(project, lambda question: ask(question, self._look), steps=steps, seconds=seconds)
        except BadInput:
            return None

    def _seconds_left(self) -> float | None:
        """What is left of the time, None for no limit. Raises Ended when there is none left, or the watch says stop."""
        seconds = None if self._ends is None else self._ends - time.monotonic()
        if self._look(0.0) or (seconds is not None and seconds <= 0):
            raise Ended
        return seconds

    def _look(self, part: float) -> bool:
        del part
        self._stopped = self._stopped or self._watch(self.share_done)
        return self._stopped


def _least_made(made: Callable[[int], Project], least: int, below: int) -> int:
    """The least number from `least` up whose pieces can be made, by halving; that of `below` can, or none is tried."""
    if least >= below or _can_be(made(least)):
        return least
    fails, can = least, below
    while can - fails > 1:
        middle = (fails + can) // 2
        fails, can = (fails, middle) if _can_be(made(middle)) else (middle, can)
    return can


def _can_be(project: Project) -> bool:
    try:
        planned_pieces(project)
    except BadInput:
        return False
    return True


def _first_wherever(question: Question, watch: Watch) -> Answer:
    """The first layout; where it must hold wherever the print falls, a no for one place of the print is a no for all.

    So some places are asked first: that ends most tries before the search through all places, which takes long.
    """
    falling = falling_prints(question)
    if len(falling) == 1:
        for shift_mm in _some_shifts_mm(question, falling[0]):
            answer = first_layout(with_origin(question, falling[0], shift_mm), watch)
            if not _is_yes(answer):
                return answer
    return first_layout(question, watch)


def _some_shifts_mm(question: Question, falling: Falling) -> list[Point]:
    """Places of the print spread over one repeat, as shifts on the cloth; none where it repeats one way only."""
    grounds = (ground for cloth in question.cloths for ground in cloth.grounds if falling.holds(cloth.id, ground))
    lattice = next((ground.lattice_mm for ground in grounds if ground.lattice_mm is not None), None)
    if lattice is None or lattice.b_mm is None:
        return []
    (ax, ay), (bx, by) = lattice.a_mm, lattice.b_mm
    parts = [(k / _PLACES, j / _PLACES) for k in range(_PLACES) for j in range(_PLACES)]
    return [(s * ax + t * bx, s * ay + t * by) for s, t in parts]


def _is_yes(answer: Answer | None) -> bool:
    return answer is not None and answer.verdict in ("fits", "fits, tight")
