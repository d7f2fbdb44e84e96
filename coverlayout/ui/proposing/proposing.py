"""Laying out: asks for layouts, proposes them one after the other, and takes the one the maker wants."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import QObject, QTimer, Signal

from coverlayout.document.asking.narrowing import narrowed
from coverlayout.document.cutting.rest import StillHad, rest_asked, told
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, CoverlayoutError, Remark
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import AnotherAsked, Question
from coverlayout.ui.port import Heard
from coverlayout.ui.proposing.panel_lines import PanelCut, PanelLines
from coverlayout.ui.proposing.walk import Proposed, Walk
from coverlayout.ui.verdict.asking import MOST_SECONDS, Asking

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["Proposing"]

# While a search goes on the best layout so far is shown, a new one no oftener than this: to be seen, not to flicker.
_SO_FAR_MS = 700


class Proposing(QObject):
    """Proposes layouts on one canvas. `walk` holds those to choose from, None while there is no proposal.

    `search` names the search under way: for a layout of `all` that is not pinned, of the `rest` (what waits, or what is
    named), or for `another` one. The project stays as it is until `take`, which is one edit. `nothing_found` carries an
    answer without places, `rest_told` what was had of the rest and the words for it, pieces named by their ids.
    `note` is said before the verdict of the layout that is shown.
    """

    changed = Signal()
    nothing_found = Signal(object)
    rest_told = Signal(object, str)

    def __init__(self, session: Session, asking: Asking, canvas: Canvas, say: Callable[[str, bool], None]) -> None:
        super().__init__(canvas)
        self._session, self._asking, self._canvas, self._say = session, asking, canvas, say
        self.walk: Walk | None = None
        self.search: Literal["", "all", "rest", "another"] = ""
        self.note = ""
        # What the proposal answers, and which pieces of the rest were named (None: all that waits).
        self._question: Question | None = None
        self._named: tuple[str, ...] | None = None
        self._found: list[Answer] = []
        self._taking = False
        self._so_far = QTimer(self, interval=_SO_FAR_MS)
        self._so_far.timeout.connect(self._show_so_far)
        asking.changed.connect(self._hear_of_job)
        canvas.proposal_touched.connect(lambda: self.leave("proposal-touched"))
        canvas.work.changed.connect(self._look_at_task)
        self._lines = PanelLines(canvas)

    # What the maker asks for

    def lay_out(self) -> None:
        """Propose how everything that is not pinned could lie, at once when that is known, else when it comes."""
        asking = self._asking
        if asking.question is None:
            return
        self._give_up()
        self._question = asking.question
        if asking.whole or (asking.answer is not None and not asking.answer_old and not asking.searching):
            self._propose_job()
            return
        self._begin("all")
        asking.hurry()

    def lay_rest(self, pieces: tuple[str, ...] | None = None) -> None:
        """Propose how what waits, or only these pieces, could lie while everything else stays where it is."""
        project = self._session.project
        try:
            asked = rest_asked(project, pieces, seconds=MOST_SECONDS)
        except BadInput as fault:
            self._say(project.preferences.length_style.said(fault.remark), True)
            return
        self._give_up()
        self._question, self._named = asked.question, pieces
        self._begin("rest")
        self._asking.ask_now("rest", asked, self._hear_of_rest)

    def another(self) -> None:
        """Look for a layout unlike all of the walk."""
        walk, question = self.walk, self._question
        if walk is None or question is None or self.search:
            return
        self.note = ""
        asked = AnotherAsked(narrowed(question, [placed.piece for placed in walk.shown.placed]), walk.seen)
        self.search = "another"
        self._asking.ask_now("another", asked, self._hear_of_another)
        self.changed.emit()

    def propose(self, answer: Answer, edit: Edit, note: str = "", *, cut: PanelCut | None = None) -> None:
        """Propose what an edit makes of the project, with the places of an answer; `note` is said of it.

        `cut`: the edit cuts a cloth into panels; the answer's places are on the whole cloth.
        """
        self._give_up()
        self._question = None
        self._show(Walk((Proposed(answer, edit=edit, cut=cut),)), note)

    @property
    def can_differ(self) -> bool:
        """True when another layout can be asked for: the proposal changes nothing but where pieces lie."""
        return self._question is not None

    def step(self, by: int) -> None:
        """Show the next layout of the walk (-1: the one before)."""
        if self.walk is not None and self.walk.count > 1:
            self._show(self.walk.stepped(by))

    def take(self) -> None:
        """Lay the pieces as proposed: one edit."""
        if self.walk is None or self.search == "all":
            return
        edit = self.walk.shown.taking
        self._give_up(paint=False)
        self._taking = True
        try:
            # The canvas goes from the proposal straight to what is laid: the old places are not painted in between.
            self._session.do(edit)
        except CoverlayoutError as fault:
            self._say(self._session.project.preferences.length_style.said(fault.remark), True)
        finally:
            self._taking = False
            self._paint()

    def stop(self) -> None:
        """End the search; the best layout found so far becomes the proposal."""
        found = self._found_so_far()
        if self.search == "another":
            self.escape()
        elif self.search and found:
            self._give_up()
            self._show(Walk.along(found[-1], found[:-1], "so far"))

    def escape(self) -> None:
        """Give up the search under way; without one, the proposal. Nothing changes."""
        if self.search == "another":
            self.search = ""
            self._asking.cancel()
            self.changed.emit()
        else:
            self.leave()

    def leave(self, because: str = "") -> None:
        """Put the proposal away and end the search; `because` is the code of what is said of it."""
        if self.walk is None and not self.search:
            return
        self._give_up()
        if because:
            self._say(Remark(because).text(), False)

    def end(self) -> None:
        """The window closes: nothing is searched or proposed any more."""
        self._give_up()

    @property
    def under_way(self) -> bool:
        """True while something is searched or proposed."""
        return bool(self.search) or self.walk is not None

    @property
    def length_mm(self) -> float | None:
        """How far down its cloth the lowest piece of the proposal reaches; None with several cloths or no proposal."""
        bench = self._canvas.shown.proposal
        if bench is None or len(bench.sheets) != 1:
            return None
        (sheet,) = bench.sheets
        lowest = (bench.outlines[lying.piece.id][1].bottom_mm for lying in bench.on(sheet.id))
        return max((bottom_mm - sheet.box.top_mm for bottom_mm in lowest), default=None)

    @property
    def share(self) -> float:
        """How far the search is, 0 to 1."""
        return self._asking.share

    # Following the project and what is heard

    def look_at(self, old: Project, new: Project) -> None:
        """The project changed: another job or another layout ends the proposal; the rest is asked for anew."""
        if not self.under_way or self._taking or _is_same_table(old, new):
            if self.under_way and old is not new:
                self._paint()
                self.changed.emit()
            return
        if self.search and self._asking.laying and self.search != "another":
            self._go_on_searching()
            return
        proposed = self.walk is not None and not self.search
        self._give_up()
        if proposed:
            self._say(Remark("proposal-outdated").text(), False)

    def _go_on_searching(self) -> None:
        """Pieces were moved by hand meanwhile: what was found so far is put away, and what stays is asked anew."""
        if self.walk is not None:
            self.walk = None
            self._paint()
        if self.search == "rest":
            # The new question takes the older one's place in the same warm process.
            self._rest_from_search()
            self.lay_rest(self._named)

    def _look_at_task(self) -> None:
        if self._canvas.work.task is not None and self.under_way:
            self.leave()

    def _hear_of_job(self) -> None:
        """The job's answer is there, or is no longer looked for."""
        if self.search != "all":
            self._tell_progress()
        elif self._asking.whole:
            self._propose_job()
        elif not self._asking.hurried:
            self._give_up()
        else:
            self._tell_progress()

    def _tell_progress(self) -> None:
        if self.search:
            self.changed.emit()

    def _propose_job(self) -> None:
        answer = self._asking.answer
        assert answer is not None, "asked only when there is one"
        found = self._asking.found
        self._rest_from_search()
        if answer.placed:
            self._show(Walk.along(answer, found))
        else:
            self._give_up()
            self.nothing_found.emit(answer)

    def _hear_of_rest(self, heard: Heard) -> None:
        if heard.state == "found":
            self._found.append(heard.answer)
        elif heard.state == "trouble":
            self._give_up()
        elif heard.state == "done":
            self._propose_rest(heard.answer)
        self._tell_progress()

    def _propose_rest(self, had: StillHad) -> None:
        words = told(had, self._session.project.preferences.length_style.said)
        whole = [] if had.missing else self._found
        self._rest_from_search()
        if had.answer.placed:
            self._show(Walk.along(had.answer, whole))
        else:
            self._give_up()
        self.rest_told.emit(had, words)

    def _hear_of_another(self, heard: Heard) -> None:
        if heard.state not in ("done", "trouble"):
            self._tell_progress()
            return
        self.search = ""
        if self.walk is not None and heard.state == "done" and heard.answer.placed:
            count = self.walk.count
            walk = self.walk.with_another(heard.answer)
            self._show(walk, "" if walk.count > count else Remark("proposal-no-other").text())
        else:
            self.note = Remark("proposal-no-other").text() if heard.state == "done" else ""
            self.changed.emit()

    # What is shown

    def _begin(self, search: Literal["all", "rest"]) -> None:
        self.search, self._found = search, []
        self._so_far.start()
        self.changed.emit()

    def _rest_from_search(self) -> None:
        self.search = ""
        self._so_far.stop()

    def _found_so_far(self) -> list[Answer]:
        return list(self._asking.found) if self.search == "all" else self._found

    def _show_so_far(self) -> None:
        """The best yet, while the search goes on."""
        found = self._found_so_far()
        if found and (self.walk is None or self.walk.shown.answer is not found[-1]):
            self._show(Walk.along(found[-1], found[:-1], "so far"))

    def _show(self, walk: Walk, note: str = "") -> None:
        self.walk, self.note = walk, note
        self._paint()
        self.changed.emit()

    def _paint(self) -> None:
        """Show on the canvas how the pieces would lie."""
        shown = self._canvas.shown
        self._lines.show(None if self.walk is None else self.walk.shown.cut)
        if self.walk is None:
            if shown.proposal is not None:
                self._canvas.showing(partial(shown.propose, None))
            return
        proposed = self.walk.shown
        after = proposed.seen.change(self._session.project)
        self._canvas.leave_gesture()
        self._canvas.showing(partial(shown.propose, after, tuple(each.piece for each in proposed.placed)))

    def _give_up(self, *, paint: bool = True) -> None:
        """No search, no proposal."""
        searched, self.search = self.search, ""
        self._so_far.stop()
        if searched and self._asking.laying:
            self._asking.cancel()
        if self.walk is not None or searched:
            self.walk, self.note = None, ""
            if paint:
                self._paint()
            self.changed.emit()


def _is_same_table(old: Project, new: Project) -> bool:
    """True when the two differ in no more than how they are shown, what they are called and what cuts cost."""
    return old == replace(new, preferences=old.preferences, name=old.name, prices=old.prices)
