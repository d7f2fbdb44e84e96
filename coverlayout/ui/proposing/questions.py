"""The questions asked of a cloth and a book: how many, how large, how long, at what scale; each in a sentence."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

from PySide6.QtCore import QObject, Signal

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.changing.change import take_job
from coverlayout.document.history import Edit
from coverlayout.document.paneling.cutting_apart import cut_into_panels
from coverlayout.document.paneling.needing import cloths_too_large
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Session
from coverlayout.document.sizing.copies import copies_of
from coverlayout.errors import BadInput, CoverlayoutError, Remark, sentence
from coverlayout.exporting.names import names_of
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Question
from coverlayout.ui.port import Heard
from coverlayout.ui.proposing.panel_lines import PanelCut
from coverlayout.ui.proposing.proposing import Proposing
from coverlayout.ui.verdict.asking import Asking
from coverlayout.ui.verdict.words import named

if TYPE_CHECKING:
    from coverlayout.document.paneling.panels import PanelsFound
    from coverlayout.document.sizing.count import BooksCounted
    from coverlayout.document.sizing.largest import LargestBoard
    from coverlayout.document.sizing.length import LeastLength
    from coverlayout.document.sizing.scale import ScalesTried

__all__ = ["ASKED", "Asked", "Questions", "Told"]

# So many scales are told one by one.
_MOST_SCALES = 12

Asked = Literal["count", "largest", "length", "scale", "panels"]

ASKED: dict[Asked, tuple[str, str]] = {
    "count": (
        "How many books come from this cloth?",
        "However many the project has now; the same book again and again.",
    ),
    "largest": ("How large can the book be?", "The largest board of the same shape on which everything still fits."),
    "length": ("How short can the cloth be?", "The least length off a bolt as wide as the first cloth."),
    "scale": ("At what scale of the print?", "Print scales from 50 to 200 % at which all fits and the wishes hold."),
    "panels": (
        "Into which panels must the cloth be cut?",
        "For backing that comes smaller than the cloth: lines to cut along, so that every piece lies within a panel.",
    ),
}
"""Each question in words, and what it asks."""


@dataclass(frozen=True)
class Told:
    """An answer in a sentence or two; `edit` makes the project that `answer` lays, None where there is none to show.

    `cut`: the panels that the edit cuts a cloth into.
    """

    words: str
    answer: Answer | None = None
    edit: Edit | None = None
    cut: PanelCut | None = None


class Questions(QObject):
    """Asks, and keeps what was told of the job there is now. `changed`: something was asked or told.

    `asked` is the question under way.
    """

    changed = Signal()

    def __init__(self, session: Session, asking: Asking, proposing: Proposing, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._asking, self._proposing = session, asking, proposing
        self.asked: Asked | None = None
        self.told: dict[Asked, Told] = {}
        self._job: Question | None = None
        self._panelled = _panelled(session.project)
        asking.changed.connect(self._look_at_job)
        self.destroyed.connect(session.listen(self._look_at_cloths))

    @property
    def can_ask(self) -> bool:
        """True when there are pieces and a cloth."""
        return self._asking.question is not None

    def why_not(self, kind: Asked) -> str:
        """Why that cannot be asked now, empty when it can."""
        if not self.can_ask:
            return sentence("act-nothing-to-ask", {})
        return sentence("ask-no-panels", {}) if kind == "panels" and not self._panelled else ""

    def ask(self, kind: Asked) -> None:
        """Ask one of them; whatever else is asked gives way."""
        if self.why_not(kind) or self.asked == kind:
            return
        project = self._session.project
        self._proposing.leave()
        self.told.pop(kind, None)
        self.asked = kind
        asked = (project, self._panelled[0].id) if kind == "panels" else project
        self._asking.ask_now(kind, asked, partial(self._hear, kind, project), tells_trouble=True)
        self.changed.emit()

    def show(self, kind: Asked) -> None:
        """Show the answer on the cloth as a proposal."""
        told = self.told.get(kind)
        if told is not None and told.edit is not None and told.answer is not None:
            first, stop, _ = told.words.partition(". ")
            self._proposing.propose(told.answer, told.edit, f"{first}{stop.strip()}", cut=told.cut)

    def _look_at_job(self) -> None:
        """Of another job nothing has been told yet; a question that was cancelled is no longer asked."""
        if self._asking.question != self._job:
            self._job = self._asking.question
            self.told, self.asked = {}, None
            self.changed.emit()
        elif self.asked is not None and not self._asking.laying:
            self.asked = None
            self.changed.emit()

    def _look_at_cloths(self, old: Project, new: Project) -> None:
        """Which cloths are larger than their backing is no matter of the job, but of the stock too."""
        if (old.cloths, old.stocks) != (new.cloths, new.stocks):
            self._panelled = _panelled(new)
            self.told.pop("panels", None)
            self.changed.emit()

    def _hear(self, kind: Asked, project: Project, heard: Heard) -> None:
        if heard.state not in ("done", "trouble"):
            return
        self.asked = None
        if heard.trouble is not None:
            self.told[kind] = Told(_sentences(project, (_without_flags(heard.trouble),)))
        else:
            self.told[kind] = _TOLD[kind](heard.answer, project)
        self.changed.emit()


def _panelled(project: Project) -> tuple[Cloth, ...]:
    """The cloths that are larger than their backing; none while a cloth cannot be."""
    try:
        return cloths_too_large(project)
    except CoverlayoutError:
        return ()


def _without_flags(trouble: Remark) -> Remark:
    """The trouble in the window's words where its own speak of the command line."""
    return Remark(f"ask-{trouble.code}", trouble.figures) if trouble.code in _OF_COMMAND_LINE else trouble


_OF_COMMAND_LINE = ("count-size-needed", "largest-book-needed", "largest-which-book", "scale-nothing")


def _sentences(asked: Project, remarks: Iterable[Remark], of: Project | None = None) -> str:
    """All of them, pieces called by their names in the project `of`, else in the one asked about."""
    said, names = asked.preferences.length_style.said, _names(of or asked)
    words = (named(said(remark).rstrip("."), names) for remark in remarks)
    return " ".join(f"{each[:1].upper()}{each[1:]}." for each in words)


def _names(project: Project) -> dict[str, str]:
    try:
        return names_of(planned_pieces(project))
    except CoverlayoutError:
        return {}


def _short(*, cut_short: bool) -> tuple[Remark, ...]:
    return (Remark("sizing-cut-short"),) if cut_short else ()


def _taken(name: str, after: Project, answer: Answer | None, asked: Project) -> Edit | None:
    """The edit that makes it so; None where nothing is laid or it cannot be made."""
    if answer is None or not answer.placed:
        return None
    edit = take_job(Remark(name), after, answer, asked)
    try:
        edit.change(asked)
    except BadInput:
        return None
    return edit


def _count(found: BooksCounted, asked: Project) -> Told:
    said = [*found.said, *found.notes, *_short(cut_short=found.cut_short)]
    edit = _taken("edit-as-counted", found.project, found.answer, asked)
    # The reason speaks of the pieces of one more.
    of = copies_of(asked, found.books + 1).project if found.refused is not None else found.project
    return Told(_sentences(asked, said, of), found.answer, edit)


def _largest(found: LargestBoard, asked: Project) -> Told:
    if found.board_mm is None:
        return Told(_sentences(asked, (Remark("largest-none"), found.answer.reason)))
    width_mm, height_mm = found.board_mm
    said = [Remark.of("largest-board", width_exact_mm=width_mm, height_exact_mm=height_mm)]
    if found.proved:
        said.append(Remark("largest-proved"))
    elif found.bound_mm is None:
        said.append(Remark("largest-open"))
    else:
        said.append(Remark.of("largest-bound", side="width", bound_mm=found.bound_mm))
    said += [*found.notes, *_short(cut_short=found.cut_short)]
    return Told(_sentences(asked, said), found.answer, _taken("edit-largest-book", found.project, found.answer, asked))


def _length(found: LeastLength, asked: Project) -> Told:
    said: list[Remark] = []
    for bolt in found.bolts:
        of = f" of {bolt.print_name}" if len(found.bolts) > 1 else ""
        if bolt.length_mm is None:
            said += [Remark.of("length-none", of=of, width_mm=bolt.width_mm), bolt.answer.reason]
            continue
        code = "length-least" if bolt.proved else "length-least-known"
        said.append(Remark.of(code, of=of, need_mm=bolt.length_mm, width_mm=bolt.width_mm))
        if not bolt.proved and bolt.bound_mm is not None:
            said.append(Remark.of("length-bound", bound_mm=bolt.bound_mm))
    words = _sentences(asked, (*said, *found.notes, *_short(cut_short=found.cut_short)))
    only = found.bolts[0] if len(found.bolts) == 1 and found.length_mm is not None else None
    if only is None:
        return Told(words)
    return Told(words, only.answer, _taken("edit-off-the-bolt", only.project, only.answer, asked))


def _scales(fits: list[float]) -> Remark:
    """The scales at which everything fits, one by one: those between two of them may not do."""
    if len(fits) == 1:
        return Remark("scale-fits-one")
    scales = ", ".join(f"{percent:g}" for percent in fits[:_MOST_SCALES])
    more = len(fits) - _MOST_SCALES
    figures: dict[str, str | int] = {"count": len(fits), "scales": scales}
    return Remark.of("scale-fits-more", more=more, **figures) if more > 0 else Remark.of("scale-fits", **figures)


def _scale(found: ScalesTried, asked: Project) -> Told:
    if found.best_percent is None:
        said = [Remark("scale-none")]
    else:
        said = [Remark.of("scale-best", percent=f"{found.best_percent:g}")]
        said.append(_scales(sorted(one.scale_percent for one in found.tried if one.verdict in ("fits", "fits, tight"))))
    return Told(_sentences(asked, (*said, *found.notes, *_short(cut_short=found.cut_short))))


def _panels(found: PanelsFound, asked: Project) -> Told:
    cloth = next(cloth for cloth in asked.cloths if cloth.id == found.cloth_id)
    said = [*found.said, *_short(cut_short=found.cut_short)]
    if len(found.panels) < 2 or found.answer is None or not found.placed:
        return Told(_sentences(asked, said))
    lead = Remark.of("ask-panels", cloth=cloth.name, count=len(found.panels))
    words = _sentences(asked, (lead, *(each for each in said if each.code != "panels-count")))
    edit = cut_into_panels(found.cloth_id, found.panels, found.placed)
    answer = replace(found.answer, placed=found.placed)
    return Told(words, answer, edit, PanelCut(found.cloth_id, found.panels))


_TOLD: dict[Asked, Callable[[Any, Project], Told]] = {
    "count": _count,
    "largest": _largest,
    "length": _length,
    "scale": _scale,
    "panels": _panels,
}
