"""Asks the port for the job's verdict whenever the job changes, and keeps the last answer, marked when it is old."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QObject, Signal

from coverlayout.document.changing.change import FittingChange
from coverlayout.document.cutting.rest import Staying, staying_in, with_staying
from coverlayout.document.project import Price, Project
from coverlayout.document.questions import ladder_for, question_for
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Question
from coverlayout.ui.port import Heard, Kind, Port
from coverlayout.ui.throttle import Throttle

__all__ = ["MOST_SECONDS", "Asking"]

# A row of quick edits is one question; after this much quiet it is asked.
_QUIET_MS = 250
MOST_SECONDS = 20.0
"""A search that is not done by then says the best it knows."""
# So many layouts found on the way to an answer are kept, the newest of them.
_KEPT_ON_THE_WAY = 12


@dataclass(frozen=True)
class _Now:
    """A question that the maker asked just now, and who hears what is found, and tells what trouble there is."""

    kind: Kind
    hear: Callable[[Heard], None]
    tells_trouble: bool = False


class Asking(QObject):
    """The job's answer (`answer`, `ladder`, `fitting`) and whether it is of before. `changed`: there is something new.

    Pinned pieces stay in every question. While nothing else is wanted the job's own questions are asked one after the
    other: how to lay it, which cuts hold it and, where the answer is no, what would make it fit. `hurry` asks the first
    of them at once; `ask_now` puts another question in their place, and they go on after it.
    """

    changed = Signal()

    def __init__(self, session: Session, port: Port, say: Callable[[str, bool], None], parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self._port = port
        self._say = say
        self.question: Question | None = None
        """The job's question, None while there is nothing to lay or nothing to lay it on."""
        self._job: Question | None = None
        self._number = 0
        self._begun = False
        self.answer: Answer | None = None
        self.found: tuple[Answer, ...] = ()
        """Layouts of this job found on the way to its answer, the newest last."""
        self.ladder: Any = None
        self.fitting: tuple[FittingChange, ...] | None = None
        """What would make the job fit, the best first; None while that is not known or not asked."""
        self.fitting_for = session.project
        """The project that `fitting` was found for."""
        self.answer_old = self.ladder_old = False
        self.searching = False
        self.kind: Kind = "lay"
        self.share = 0.0
        self.hurried = False
        """The maker waits for the job's answer."""
        self._now: _Now | None = None
        self._left: list[Kind] = []
        self._staying = Staying()
        self._prices: tuple[Price, ...] = ()
        self._soon = Throttle(self._go_on, _QUIET_MS, at_once=False, parent=self)
        port.heard.connect(self._heard)

    @property
    def laying(self) -> bool:
        """True while the maker waits for something asked."""
        return self.hurried or self._now is not None

    @property
    def whole(self) -> bool:
        """True when the job's answer is there and its search is over."""
        return self.answer is not None and not self.answer_old and "lay" not in self._left

    def begin(self) -> None:
        """Start to work: called once the window has been painted."""
        self._begun = True
        self._port.start()
        self.look_at(self._session.project)

    def end(self) -> None:
        """The window closes: nothing more is asked or heard."""
        self._begun = self.hurried = False
        self._now = None
        self._soon.cancel()
        self._number = 0
        self._port.heard.disconnect(self._heard)
        if self.searching:
            self._port.cancel()

    def look_at(self, project: Project) -> None:
        """The project is this one now; asks soon when that makes it another job."""
        if not self._begun:
            return
        job = _job_of(project)
        prices, self._prices = self._prices, project.prices
        if job != self._job:
            self._begin_anew(project, job)
        elif prices != project.prices and self.ladder is not None:
            self.ladder_old = True
            self._left = [*(kind for kind in self._left if kind != "ladder"), "ladder"]
            if not self.laying:
                self._soon()
            self.changed.emit()

    def _begin_anew(self, project: Project, job: Question | None) -> None:
        """Another job: what is known is of before. Without a cloth only the cuts to buy are looked at."""
        self._job = job
        self.question = job if job is not None and job.cloths else None
        self._staying = _pinned_in(project)
        self.hurried, self._now, self.found, self.fitting = False, None, (), None
        self._left = ["lay", "ladder", "changes"] if self.question is not None else ["ladder"]
        if self.question is None:
            self.answer = None
        self.answer_old = self.answer is not None
        self.ladder_old = self.ladder is not None
        was_searching, self.searching = self.searching, job is not None
        self.share = 0.0
        # Nothing is heard of an older question; the next one takes its place in the same warm process.
        self._number = 0
        if job is None:
            if was_searching:
                self._port.cancel()
            self.ladder, self.ladder_old = None, False
        else:
            self._soon()
        self.changed.emit()

    def hurry(self) -> None:
        """The maker waits for the job's answer: it is asked now."""
        if self.question is None or self.whole:
            return
        self.hurried = True
        if not self.searching or self.kind != "lay" or self._number == 0:
            self._now = None
            self._soon.cancel()
            self._left.sort(key=lambda kind: kind != "lay")
            self._go_on()
        self.changed.emit()

    def ask_now(self, kind: Kind, asked: object, hear: Callable[[Heard], None], *, tells_trouble: bool = False) -> None:
        """Ask this in place of the job's questions, which go on after it. `hear` gets all that is heard of it.

        `tells_trouble`: it tells the maker itself of trouble with what was asked.
        """
        if not self._begun:
            return
        self._soon.cancel()
        self.hurried, self._now = False, _Now(kind, hear, tells_trouble)
        self._ask(kind, asked)

    def cancel(self) -> None:
        """Give up what is asked: nothing more is heard of it. What was known stays known.

        What the maker waited for only put off the job's own questions: they go on, the cuts before the lay given up.
        """
        waited, self._now = self.laying, None
        if self.hurried:
            self._left.sort(key=lambda kind: kind != "ladder")
        self.hurried = self.searching = False
        self._soon.cancel()
        self._number = 0
        self._port.cancel()
        if waited:
            self._go_on()
        self.changed.emit()

    def _ask(self, kind: Kind, asked: object) -> None:
        self.searching, self.kind, self.share = True, kind, 0.0
        self._number = self._port.ask(kind, asked)
        self.changed.emit()

    def _go_on(self) -> None:
        """Ask what is still to be known of the job, or rest."""
        if not self._begun:
            return
        while self._left:
            asked = self._asked_of(self._left[0])
            if asked is not None:
                self._ask(self._left[0], asked)
                return
            if self._left.pop(0) == "ladder":
                self.ladder, self.ladder_old = None, False
        self.searching = False

    def _asked_of(self, kind: Kind) -> object | None:
        """What is asked of the job, None when there is no use in asking that."""
        if kind == "lay":
            return self.question
        if kind == "ladder":
            try:
                return ladder_for(self._session.project) or None
            except CoverlayoutError:
                return None
        if self.answer is None or self.answer.verdict != "does not fit":
            return None
        self.fitting_for = self._session.project
        return self.fitting_for

    def _heard(self, heard: Heard) -> None:
        if heard.number != self._number:
            return
        self.share = heard.share
        over = heard.state in ("done", "trouble")
        if heard.trouble is not None and not (self._now is not None and self._now.tells_trouble):
            self._say(self._session.project.preferences.length_style.said(heard.trouble), True)
        if (now := self._now) is not None:
            self._now = None if over else now
            if over:
                self._number, self.searching = 0, False
            now.hear(heard)
            # Whoever heard it may have asked something else meanwhile.
            if over and self._now is None and not self.searching:
                self._go_on()
        elif heard.trouble is not None:
            self.searching = self.hurried = False
        elif heard.answer is not None:
            self._heard_of_job(heard)
        self.changed.emit()

    def _heard_of_job(self, heard: Heard) -> None:
        if heard.kind == "lay":
            wish_mm = self._session.project.rules.spare_wish_mm
            self.answer, self.answer_old = with_staying(heard.answer, self._staying, wish_mm), False
            if self.answer.placed and heard.state == "found":
                self.found = (*self.found, self.answer)[-_KEPT_ON_THE_WAY:]
        elif heard.kind == "ladder" and heard.state == "done":
            self.ladder, self.ladder_old = heard.answer, False
        elif heard.kind == "changes":
            self.fitting = tuple(heard.answer)
        if heard.state == "done":
            self._left.remove(heard.kind)
            self.hurried = False
            self._go_on()


def _job_of(project: Project) -> Question | None:
    """The question of how to lay the project's pieces, on no cloths where there are none; None without pieces."""
    try:
        question = question_for(project, staying=project.layout.pinned, seconds=MOST_SECONDS)
    except CoverlayoutError:
        return None
    return question if question.pieces else None


def _pinned_in(project: Project) -> Staying:
    """The pinned pieces as they lie; none while the job cannot be made."""
    try:
        return staying_in(project, project.layout.pinned)
    except CoverlayoutError:
        return Staying()
