"""Asks the port for the job's verdict whenever the job changes, and keeps the last answer, marked when it is old."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, Signal

from coverlayout.document.cutting.rest import Staying, StillHad, rest_asked, staying_in, told, with_staying
from coverlayout.document.edits.placements import accept
from coverlayout.document.project import Project
from coverlayout.document.questions import ladder_for, question_for
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, CoverlayoutError
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Placed, Question
from coverlayout.ui.port import Heard, Kind, Port
from coverlayout.ui.throttle import Throttle

__all__ = ["Asking"]

# A row of quick edits is one question; after this much quiet it is asked.
_QUIET_MS = 250
# A search that is not done by then says the best it knows.
_SECONDS = 20.0


class Asking(QObject):
    """The job's answer (`answer`, `ladder`) and whether it is of before. `changed` tells that there is something new.

    Pinned pieces stay in every question. `lay_out` places everything else once the answer is there, as one edit;
    `nothing_to_lay` carries one without places. `lay_rest` places what waits (or what is named) while all else stays;
    `rest_told` carries its StillHad and what to say of it, pieces named by their ids.
    """

    changed = Signal()
    nothing_to_lay = Signal(object)
    rest_told = Signal(object, str)

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
        # What is to be laid while the rest stays (None: all that waits), and where things lay when that was asked.
        self._rest: tuple[tuple[str, ...] | None, tuple[Placed, ...]] | None = None
        self._whole_answer = False
        self._staying = Staying()
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
            self._look_at_rest(project)
            return
        self._question = question
        self._staying = _pinned_in(project)
        self.laying, self._rest, self._whole_answer = False, None, False
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
        self._rest = None
        if self.answer is not None and not self.answer_old and not self._still_laying():
            self._place(self.answer)
            return
        self.laying = True
        if not self.searching or self._kind == "rest":
            self._ask()
        self._soon.flush()
        self.changed.emit()

    def lay_rest(self, pieces: tuple[str, ...] | None = None) -> None:
        """Place what waits, or only these pieces, while everything else stays where it lies."""
        if self._begun:
            self._soon.cancel()
            self._ask_rest(pieces)

    def cancel(self) -> None:
        """Give the search up; what was known stays known."""
        self.laying = False
        self.searching = False
        self._rest = None
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

    def _ask_rest(self, pieces: tuple[str, ...] | None) -> None:
        project = self._session.project
        try:
            asked = rest_asked(project, pieces, seconds=_SECONDS)
        except BadInput as fault:
            self._say(project.preferences.length_style.said(fault.remark), True)
            return
        self._rest = pieces, project.layout.placements
        self.laying = self.searching = True
        self._kind, self.share = "rest", 0.0
        self._number = self._port.ask("rest", asked)
        self.changed.emit()

    def _look_at_rest(self, project: Project) -> None:
        """The same job, but pieces were moved: what is being laid beside them is asked for anew."""
        if self._rest is not None and self._rest[1] != project.layout.placements:
            self._ask_rest(self._rest[0])

    def _heard(self, heard: Heard) -> None:
        if heard.number != self._number:
            return
        self.share = heard.share
        if heard.state == "trouble" and heard.trouble is not None:
            self.searching = self.laying = False
            self._rest = None
            self._say(self._session.project.preferences.length_style.said(heard.trouble), True)
        elif heard.kind == "lay" and heard.answer is not None:
            self._heard_answer(heard)
        elif heard.kind == "ladder" and heard.state == "done":
            self.ladder, self.ladder_old, self.searching = heard.answer, False, False
        elif heard.kind == "rest" and heard.state == "done":
            self._heard_rest(heard.answer)
        self.changed.emit()

    def _heard_answer(self, heard: Heard) -> None:
        wish_mm = self._session.project.rules.spare_wish_mm
        self.answer, self.answer_old = with_staying(heard.answer, self._staying, wish_mm), False
        if heard.state != "done":
            return
        self._whole_answer = True
        if self.laying:
            self.laying = False
            self._place(self.answer)
        self._ask_ladder()

    def _heard_rest(self, had: StillHad) -> None:
        """Lay what was found, then go on with what the job as a whole still asks."""
        self._rest, self.laying = None, False
        self._take_over(had.answer)
        self.rest_told.emit(had, told(had, self._session.project.preferences.length_style.said))
        if not self._whole_answer:
            self._ask()
        elif self.ladder is None or self.ladder_old:
            self._ask_ladder()
        else:
            self.searching = False

    def _place(self, answer: Answer) -> None:
        if not answer.placed:
            self.nothing_to_lay.emit(answer)
            return
        self._take_over(answer)

    def _take_over(self, answer: Answer) -> None:
        try:
            self._session.do(accept(answer.placed))
        except CoverlayoutError as fault:
            self._say(self._session.project.preferences.length_style.said(fault.remark), True)


def _question_of(project: Project) -> Question | None:
    """The job's question, None while there is nothing to lay or nothing to lay it on."""
    try:
        question = question_for(project, staying=project.layout.pinned, seconds=_SECONDS)
    except CoverlayoutError:
        return None
    return question if question.pieces and question.cloths else None


def _pinned_in(project: Project) -> Staying:
    """The pinned pieces as they lie; none while the job cannot be made."""
    try:
        return staying_in(project, project.layout.pinned)
    except CoverlayoutError:
        return Staying()
