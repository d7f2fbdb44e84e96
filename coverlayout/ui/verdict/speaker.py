"""Keeps the verdict bar current: the check of what lies on the cloth, and the job's last answer beside it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from coverlayout.document.asking.matching import parts_apart
from coverlayout.document.measuring.changed import what_changed
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.exporting.names import names_of
from coverlayout.layout.answer import Report
from coverlayout.layout.rules import Live
from coverlayout.ui.verdict.asking import Asking
from coverlayout.ui.verdict.bar import VerdictBar
from coverlayout.ui.verdict.judged import Judged
from coverlayout.ui.verdict.rungs import chips_of, least_words
from coverlayout.ui.verdict.words import Said, first_step, named, said, spare_words

__all__ = ["Speaker"]


class Speaker(QObject):
    """Tells the bar what to show after an edit, during a drag, and when an answer comes. `spoke`: it was told."""

    spoke = Signal()

    def __init__(self, session: Session, asking: Asking, bar: VerdictBar, judged: Judged) -> None:
        super().__init__(bar)
        self._session = session
        self.asking = asking
        self._bar = bar
        self._judged = judged
        self._live: Live | None = None
        self._moved: tuple[str, ...] = ()
        self._names: dict[str, str] = {}
        self._quarters = self._heads_down = 0
        self._apart = ""
        # What the last change in a cloth's size did, until something else is changed.
        self._size_changed: tuple[Remark, ...] = ()
        asking.changed.connect(self.speak)

    def follow(self, live: Live | None, moved: tuple[str, ...] = ()) -> None:
        """During a drag of the `moved` pieces: only the check changes. None: the drag is over."""
        self._live, self._moved = live, moved or self._moved
        if live is None:
            self.speak()
        else:
            self._say_check(live)

    @property
    def said(self) -> Said:
        """What the bar says at present."""
        return self._bar.spoken.said

    @property
    def bar_top_px(self) -> int:
        """Where the bar begins in its window."""
        return self._bar.y()

    @property
    def names(self) -> dict[str, str]:
        """What the pieces are called, by id."""
        return self._names

    def look_at(self, old: Project, project: Project) -> None:
        """The project changed; pieces that lie elsewhere than before are those in hand."""
        self._live = None
        if (moved := _moved(old, project)) or old.layout_id != project.layout_id:
            self._moved = moved
        try:
            self._names = names_of(planned_pieces(project))
        except CoverlayoutError:
            self._names = {}
        self._quarters = self._judged.quarters(project)
        self._heads_down = self._judged.heads_down(project)
        self._apart = parts_apart(project)
        # Another project that was opened in this one's place is no change in size.
        opened = self._session.undo_name is None and self._session.redo_name is None
        self._size_changed = () if opened else what_changed(old, project)
        self.speak()

    def speak(self) -> None:
        """Show everything as it is now."""
        project, style = self._session.project, self._session.project.preferences.length_style
        judged: Report | Live | None = self._live or self._judged.report(project)
        first = first_step(project)
        if first is not None or judged is None:
            trouble = Said("Cannot be made", "cross", "no", self._judged.trouble(project))
            self._bar.spoken.say(first or trouble)
            self._bar.used.show_figure("–")
        else:
            self._say_check(judged)
        spare, kind = spare_words(self.asking.answer, style)
        self._bar.room.show_figure(spare, kind, old=self.asking.answer_old)
        least, note = least_words(self.asking.ladder)
        waiting = self.asking.searching and self.asking.ladder is None
        self._bar.least.show_figure("…" if waiting else least, note, old=self.asking.ladder_old)
        self._bar.spoken.show_offer(offered=self._rest_waits(judged, project))
        self._bar.show_chips(chips_of(self.asking.ladder, style, old=self.asking.ladder_old))
        self.spoke.emit()

    def _rest_waits(self, judged: Report | Live | None, project: Project) -> bool:
        """True when some pieces wait while others lie, cut or not, so that the rest can be laid beside them."""
        if judged is None or not judged.waiting or self.asking.laying:
            return False
        return len(judged.waiting) < len(self._names) or bool(project.cut_pieces)

    def _say_check(self, judged: Report | Live) -> None:
        style = self._session.project.preferences.length_style
        answer = None if self.asking.answer_old else self.asking.answer
        words = said(
            judged,
            answer,
            searching=self.asking.searching,
            names=self._names,
            style=style,
            quarters=self._quarters,
            heads_down=self._heads_down,
            apart=self._apart,
            moved=self._moved,
            spoiled={fact.piece for fact in self._session.project.cut_pieces if fact.state == "spoiled"},
        )
        if self._size_changed and self._live is None:
            words = replace(words, sentence=self._what_changed())
        self._bar.spoken.say(words)
        self._bar.used.show_figure(f"{judged.used_percent:.0f} %")

    def _what_changed(self) -> str:
        """What became of the layout with the new size, the pieces called by their names."""
        style = self._session.project.preferences.length_style
        words = "; ".join(named(style.said(remark), self._names) for remark in self._size_changed)
        return words[:1].upper() + words[1:]


def _moved(old: Project, new: Project) -> tuple[str, ...]:
    """The pieces that lie elsewhere than before, or lie there now and did not before."""
    if old.layout is new.layout:
        return ()
    before = set(old.layout.placements)
    return tuple(placed.piece for placed in new.layout.placements if placed not in before)
