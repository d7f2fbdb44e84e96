"""What can still be had: lay all that is asked for, and where that finds no place, as much of it as can be.

Whole books come first, then single pieces. That something cannot be done is only said with a proof; else it is told
what room was found for.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

from coverlayout.document.asking.narrowing import narrowed
from coverlayout.document.cutting.rest import RestAsked, StillHad
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.question import Question, Watch, never
from coverlayout.layout.search.sheets import like

__all__ = ["still_had"]

# Of its steps a question gives this share to each try with fewer pieces.
_PART_OF_STEPS = 20
# And this much to the try in which what stays uncut moves too.
_MOVED_PART_OF_STEPS = 4
# How far the bar is when everything together was tried, and again when the tries with fewer pieces are done; and when
# what was found has its room.
_WHOLE_SHARE = 0.4
_ROOM_DONE = 0.9


def still_had(asked: RestAsked, watch: Watch = never, found: Callable[[Answer], None] | None = None) -> StillHad:
    """Lay everything asked for; where that finds no place, whole books one after another, then single pieces.

    Each step is a question to the engine, and keeps what the steps before it had. Last it is asked whether all would
    fit if what stays uncut moved too. The same question gives the same answer, unless its seconds or the watch cut it
    short. `found` gets each layout of everything asked for as it is found.
    """
    search = _Greedy(asked, watch)
    whole = lay(replace(asked.question, seconds=search.seconds_left()), search.watch(0.0, _WHOLE_SHARE), found)
    if whole.placed or not asked.question.pieces:
        books = tuple(book.name for book in asked.books)
        beyond = {piece for book in asked.books for piece in book.pieces}
        single = tuple(piece.id for piece in asked.question.pieces if piece.id not in beyond)
        return StillHad(whole, whole, books, single, cut_short=whole.cut_short, staying=asked.staying)
    return search.as_much_as_can_be(whole)


class _Greedy:
    """Adds what it can to what there is already; what was refused once is not asked again beside more."""

    def __init__(self, asked: RestAsked, watch: Watch) -> None:
        self._asked, self._watch = asked, watch
        self._ends = None if asked.question.seconds is None else time.monotonic() + asked.question.seconds
        self._steps = max(asked.question.steps // _PART_OF_STEPS, 1)
        self._had: list[str] = []
        self._refused: set[object] = set()
        self._best: Answer | None = None
        self._cut_short = False
        # A piece is asked for by what it is like, whatever it is called.
        self._like = {piece.id: like(piece) for piece in asked.question.pieces}
        self._wished = {lock.piece for lock in asked.question.locks}
        self._wished |= {piece for link in asked.question.links for piece in link.pieces}

    def seconds_left(self) -> float | None:
        """What is left of the time, at least a moment; None: no limit."""
        return None if self._ends is None else max(self._ends - time.monotonic(), 0.001)

    def watch(self, done_share: float, share: float) -> Watch:
        """The watch of one question that is `share` of all the work, after `done_share` of it."""
        return lambda part: self._watch(done_share + share * part)

    def as_much_as_can_be(self, whole: Answer) -> StillHad:
        """Whole books, then pieces, then the room between them."""
        books: list[str] = []
        singles: list[str] = []
        units = [*((book.name, book.pieces) for book in self._asked.books)]
        units += [("", (piece.id,)) for piece in self._asked.question.pieces]
        for number, (name, pieces) in enumerate(units):
            fresh = tuple(piece for piece in pieces if piece not in self._had)
            if not fresh or not self._adds(fresh, _WHOLE_SHARE * (1 + number / len(units))):
                continue
            self._had += fresh
            (books if name else singles).extend([name] if name else fresh)
        answer = self._with_room() or whole
        moved, loose = self._if_moved()
        missing = tuple(piece.id for piece in self._asked.question.pieces if piece.id not in self._had)
        cut_short = self._cut_short or whole.cut_short
        staying = self._asked.staying
        return StillHad(
            answer, whole, tuple(books), tuple(singles), missing, cut_short, staying, loose=loose, moved=moved
        )

    def _if_moved(self) -> tuple[Answer | None, int]:
        """Whether all can be had when what stays uncut may move, and how many pieces those are."""
        question = self._asked.moved
        if question is None or self._cut_short:
            return None, 0
        steps = question.steps // _MOVED_PART_OF_STEPS
        asked = replace(question, steps=max(steps, 1), seconds=self.seconds_left())
        answer = first_layout(asked, self.watch(_ROOM_DONE, 1 - _ROOM_DONE))
        loose = len(question.pieces) - len(self._asked.question.pieces)
        return (None if answer.cut_short else answer), loose

    def _adds(self, pieces: tuple[str, ...], done_share: float) -> bool:
        """Whether these find a place beside what is had."""
        key = tuple(piece if piece in self._wished else self._like[piece] for piece in pieces)
        if self._cut_short or key in self._refused:
            return False
        question = replace(self._narrowed([*self._had, *pieces]), steps=self._steps)
        answer = first_layout(question, self.watch(done_share, 0.0))
        self._cut_short = answer.cut_short
        if not answer.placed:
            self._refused.add(key)
            return False
        self._best = answer
        return True

    def _with_room(self) -> Answer | None:
        """The pieces had once more, as well apart as can be; the layout known when that finds none."""
        if self._best is None or self._cut_short:
            return self._best
        roomy = lay(self._narrowed(self._had), self.watch(2 * _WHOLE_SHARE, _ROOM_DONE - 2 * _WHOLE_SHARE))
        return roomy if roomy.placed else self._best

    def _narrowed(self, pieces: list[str]) -> Question:
        return replace(narrowed(self._asked.question, pieces), seconds=self.seconds_left())
