"""The other side of the worker: a process that answers one question at a time. It never loads Qt."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import Any

from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.layout.question import Watch
from coverlayout.ui.port import Heard, Kind

__all__ = ["AnswerQuestion", "Asked", "Ready", "Started", "answer_question", "serve"]

AnswerQuestion = Callable[[Kind, Any, Watch, Callable[[Any], None]], Any]

# Often enough for a moving bar, seldom enough to cost nothing.
_PROGRESS_EVERY_S = 0.05
# What would make a job fit is tried for at most this long.
_CHANGES_S = 20.0
# What a busy search gets to notice that the window is gone.
_LAST_WORDS_S = 0.5


@dataclass(frozen=True)
class Asked:
    """A question on its way to the process."""

    number: int
    kind: Kind
    asked: Any


@dataclass(frozen=True)
class Ready:
    """The process is warm: everything is loaded."""


@dataclass(frozen=True)
class Started:
    """The process works on this question now; whatever it did before is dropped."""

    number: int


def answer_question(kind: Kind, asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    """The answer of the engine to a question of a kind: of which type, ui.port.Heard says."""
    return _ANSWERS[kind](asked, watch, found)


# Each loads what it needs itself, so that only the process pays for it.


def _lay(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.layout.lay import lay  # noqa: PLC0415  see above

    return lay(asked, watch, found)


def _ladder(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.layout.ladder import climb  # noqa: PLC0415  see above

    del found
    return climb(asked, watch)


def _rest(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.cutting.still_had import still_had  # noqa: PLC0415  see above

    return still_had(asked, watch, found)


def _another(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.layout.laying.another import another  # noqa: PLC0415  see above

    del found
    return another(asked, watch)


def _changes(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.changing.changing import what_would_fit  # noqa: PLC0415  see above

    return what_would_fit(asked, watch, seconds=_CHANGES_S, found=found)


def _count(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.sizing.count import CountAsked, count_books  # noqa: PLC0415  see above

    del found
    return count_books(CountAsked(asked), watch)


def _largest(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.sizing.largest import LargestAsked, largest_board  # noqa: PLC0415  see above

    del found
    return largest_board(LargestAsked(asked), watch)


def _length(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.sizing.length import LengthAsked, least_length_off_bolt  # noqa: PLC0415  see above

    del found
    return least_length_off_bolt(LengthAsked(asked), watch)


def _scale(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.sizing.scale import ScaleAsked, print_scales  # noqa: PLC0415  see above

    del found
    return print_scales(ScaleAsked(asked), watch)


def _stock(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.stocking.sheets import all_on_stock, items_of  # noqa: PLC0415  see above

    del found
    return all_on_stock(asked, items_of(asked), watch)


def _panels(asked: Any, watch: Watch, found: Callable[[Any], None]) -> Any:
    from coverlayout.document.paneling.panels import PanelsAsked, panels_for  # noqa: PLC0415  see above

    del found
    return panels_for(PanelsAsked(*asked), watch)


_ANSWERS: dict[Kind, Callable[[Any, Watch, Callable[[Any], None]], Any]] = {
    "lay": _lay,
    "ladder": _ladder,
    "rest": _rest,
    "another": _another,
    "changes": _changes,
    "count": _count,
    "largest": _largest,
    "length": _length,
    "scale": _scale,
    "stock": _stock,
    "panels": _panels,
}


def _warm() -> None:
    """Load what answering needs before the first question comes."""
    import coverlayout.document.changing.changing  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.cutting.still_had  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.paneling.panels  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.sizing.count  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.sizing.largest  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.sizing.length  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.sizing.scale  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.document.stocking.sheets  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.layout.ladder  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.layout.lay  # noqa: PLC0415  loaded here so that only the process pays for it
    import coverlayout.layout.laying.another  # noqa: F401, PLC0415  loaded for its effect


class _Inbox:
    """Keeps the newest question. Its thread reads the pipe all the time, so a gone window is noticed at once."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._changed = threading.Condition()
        self._newest: Asked | None = None
        self._ended = False
        threading.Thread(target=self._read, name="inbox", daemon=True).start()

    def _read(self) -> None:
        while True:
            try:
                asked = self._connection.recv()
            except (EOFError, OSError):
                break
            with self._changed:
                self._newest = asked
                self._changed.notify()
        with self._changed:
            self._ended = True
            self._changed.notify()
        time.sleep(_LAST_WORDS_S)
        os._exit(0)  # The window is gone and the search did not look up: nobody is left to tell.

    @property
    def newer(self) -> bool:
        """True when the present question is worth no more work."""
        return self._newest is not None or self._ended

    def next(self) -> Asked | None:
        """Wait for a question; None when the window is gone."""
        with self._changed:
            self._changed.wait_for(lambda: self.newer)
            if self._ended:
                return None
            asked, self._newest = self._newest, None
            return asked


class _Desk:
    """Works on one question and tells how it goes."""

    def __init__(self, connection: Connection, inbox: _Inbox, answer: AnswerQuestion) -> None:
        self._connection = connection
        self._inbox = inbox
        self._answer = answer
        self._told_s = 0.0

    def work(self, asked: Asked) -> None:
        """Answer, unless a newer question comes first."""
        self._connection.send(Started(asked.number))

        def watch(share_done: float) -> bool:
            now_s = time.monotonic()
            if now_s - self._told_s >= _PROGRESS_EVERY_S:
                self._told_s = now_s
                self._tell(Heard(asked.number, asked.kind, "progress", share_done))
            return self._inbox.newer

        def found(answer: Any) -> None:
            self._tell(Heard(asked.number, asked.kind, "found", answer=answer))

        try:
            answer = self._answer(asked.kind, asked.asked, watch, found)
        except CoverlayoutError as fault:
            trouble = Remark(fault.code, tuple(fault.figures.items()))
            self._tell(Heard(asked.number, asked.kind, "trouble", trouble=trouble))
        except Exception as fault:  # noqa: BLE001  the window must hear of it and stay whole
            trouble = Remark.of("search-fault", kind=type(fault).__name__)
            self._tell(Heard(asked.number, asked.kind, "trouble", trouble=trouble))
        else:
            self._tell(Heard(asked.number, asked.kind, "done", 1.0, answer))

    def _tell(self, heard: Heard) -> None:
        if not self._inbox.newer:
            self._connection.send(heard)


def serve(connection: Connection, answer: AnswerQuestion) -> None:
    """Answer questions from the pipe until the window is gone. The whole life of the process."""
    if hasattr(os, "nice"):
        os.nice(5)  # The hand on the mouse goes first.
    inbox = _Inbox(connection)
    try:
        if answer is answer_question:
            _warm()
        connection.send(Ready())
        desk = _Desk(connection, inbox, answer)
        while (asked := inbox.next()) is not None:
            desk.work(asked)
    except (BrokenPipeError, ConnectionResetError):
        return  # The window went while it was being told something.
