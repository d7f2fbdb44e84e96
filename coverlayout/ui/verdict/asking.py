"""Asks the port for the job's verdict whenever the job changes, and keeps the last answer, marked when it is old."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal

from coverlayout.document.edits.placements import accept
from coverlayout.document.project import Project
from coverlayout.document.questions import ladder_for, question_for
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Question
from coverlayout.ui.port import Heard, Kind, Port
from coverlayout.ui.throttle import Throttle

__all__ = ["Asking"]

# A row of quick edits is one question; after this much quiet it is asked.
_QUIET_MS = 250
# A search that is not done by then says the best it knows.
_SECONDS = 20.0


class Asking(QObject):
    """The job's answer (`answer`, `ladder`) and whether it is of before. `changed` tells that there is something new.

    `lay_out` places everything once the answer is there, as one edit; `nothing_to_lay` carries one without places.
    """

    changed = Signal()
    nothing_to_lay = Signal(object)

    def __init__(self, session: Session, port: Port, say: Callable[[str, bool], None], parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._port = port
        self._say = say
        self._question: Question | None = None
        self._number = 0
        self._begun = False
        self.answer: Answer | None = None
        self.ladder: Any = None
        self.answer_old = self.ladder_old = False
        self.searching = False
        self._kind: Kind = "lay"
        self.share = 0.0
        self.laying = False
        self._soon = Throttle(self._ask, _QUIET_MS, at_once=False, parent=self)
        port.heard.connect(self._heard)

    def begin(self) -> None:
        """Start to work: called once the window has been painted."""
        self._begun = True
        self._port.start()
        self.look_at(self._session.project)

    def end(self) -> None:
        """The window closes: nothing more is asked or heard."""
        self._begun = False
        self._soon.cancel()
        self._number = 0
        self._port.heard.disconnect(self._heard)
        if self.searching:
            self._port.cancel()

    def look_at(self, project: Project) -> None:
        """The project is this one now; asks soon when that makes it another job."""
        if not self._begun:
            return
        question = _question_of(project)
        if question == self._question:
            return
        self._question = question
        self.laying = False
        self.answer_old = self.answer is not None
        self.ladder_old = self.ladder is not None
        was_searching, self.searching = self.searching, question is not None
        self.share = 0.0
        # Nothing is heard of an older question; the next one takes its place in the same warm process.
        self._number = 0
        if question is None:
            if was_searching:
                self._port.cancel()
            self.answer = self.ladder = None
            self.answer_old = self.ladder_old = False
        else:
            self._soon()
        self.changed.emit()

    def lay_out(self) -> None:
        """Place every piece as the answer has it, at once when it is known, else when it comes."""
        if self._question is None:
            return
        if self.answer is not None and not self.answer_old and not self._still_laying():
            self._place(self.answer)
            return
        self.laying = True
        if not self.searching:
            self._ask()
        self._soon.flush()
        self.changed.emit()

    def cancel(self) -> None:
        """Give the search up; what was known stays known."""
        self.laying = False
        self.searching = False
        self._soon.cancel()
        self._number = 0
        self._port.cancel()
        self.changed.emit()

    def _still_laying(self) -> bool:
        return self.searching and self._kind == "lay"

    def _ask(self) -> None:
        if self._question is not None:
            self.searching = True
            self._kind = "lay"
            self._number = self._port.ask("lay", self._question)
            self.changed.emit()

    def _ask_ladder(self) -> None:
        try:
            cuts = ladder_for(self._session.project)
        except CoverlayoutError:
            cuts = ()
        if not cuts:
            self.searching = False
            self.ladder = None
            return
        self._kind = "ladder"
        self.share = 0.0
        self._number = self._port.ask("ladder", cuts)

    def _heard(self, heard: Heard) -> None:
        if heard.number != self._number:
            return
        self.share = heard.share
        if heard.state == "trouble" and heard.trouble is not None:
            self.searching = self.laying = False
            self._say(self._session.project.preferences.length_style.said(heard.trouble), True)
        elif heard.kind == "lay" and heard.answer is not None:
            self._heard_answer(heard)
        elif heard.kind == "ladder" and heard.state == "done":
            self.ladder, self.ladder_old, self.searching = heard.answer, False, False
        self.changed.emit()

    def _heard_answer(self, heard: Heard) -> None:
        self.answer, self.answer_old = heard.answer, False
        if heard.state != "done":
            return
        if self.laying:
            self.laying = False
            self._place(heard.answer)
        self._ask_ladder()

    def _place(self, answer: Answer) -> None:
        if not answer.placed:
            self.nothing_to_lay.emit(answer)
            return
        try:
            self._session.do(accept(answer.placed))
        except CoverlayoutError as fault:
            self._say(self._session.project.preferences.length_style.said(fault.remark), True)


def _question_of(project: Project) -> Question | None:
    """The job's question, None while there is nothing to lay or nothing to lay it on."""
    try:
        question = question_for(project, seconds=_SECONDS)
    except CoverlayoutError:
        return None
    return question if question.pieces and question.cloths else None
