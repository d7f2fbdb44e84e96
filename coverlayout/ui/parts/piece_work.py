"""What the actions of the Pieces menu do, each one edit, and what they say of it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.clipboard import PIECES_MIME, copied, pasted, without_pieces
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled, unmark
from coverlayout.document.cutting.remnants import make_remnant, remnants_of
from coverlayout.document.cutting.rest import StillHad
from coverlayout.document.edits.placements import pin, place, unpin
from coverlayout.document.history import Edit
from coverlayout.errors import BadInput, CoverlayoutError, Remark, sentence
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.question import Placed
from coverlayout.ui.parts.chosen import Chosen
from coverlayout.ui.parts.piece_rows import called, planned_or_none
from coverlayout.ui.table.bodies import bodies_of
from coverlayout.ui.tasks.drawing import Drawing, Wanted
from coverlayout.ui.verdict.words import breach_words, named

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["PieceWork"]


class Arrange(Protocol):
    """Where pieces come to lie, given the pieces and the ids of those that stay."""

    def __call__(self, bodies: Sequence[Body], *, staying: Collection[str]) -> tuple[Placed, ...]:
        """The placements that change."""


class PieceWork:
    """Does on one window what is done with the chosen pieces. Nothing is asked: Undo takes each back."""

    def __init__(self, window: Window) -> None:
        self._window = window
        window.proposing.rest_told.connect(self._tell_rest)

    @property
    def chosen(self) -> Chosen:
        """The chosen pieces as they are now."""
        window = self._window
        rows = window.panels.placement.chosen_ids
        return Chosen(window.session.project, window.canvas.bench, window.canvas.chosen, rows)

    @property
    def cloth(self) -> Cloth | None:
        """The cloth worked on: the one the chosen piece lies on, else the first."""
        return self._window.canvas.shown.measured_sheet().cloth

    def _do(self, make: Callable[[], Edit]) -> bool:
        """Make an edit; False when it was refused, which is said."""
        project = self._window.session.project
        try:
            self._window.session.do(make())
        except BadInput as fault:
            words = project.preferences.length_style.said(fault.remark)
            self._window.say(named(words, called(project)), True)
            return False
        return True

    def _say(self, remark: Remark) -> None:
        self._window.say(self._window.session.project.preferences.length_style.said(remark), False)

    def _label(self, pieces: Sequence[str]) -> str | None:
        return self.chosen.name(pieces[0]) if len(pieces) == 1 else None

    # Pins, marks

    def pin(self) -> None:
        """Pin the chosen pieces that lie; when all of them are pinned, let them go."""
        chosen = self.chosen
        edit = unpin if chosen.all_pinned else pin
        self._do(lambda: edit(chosen.lying, self._label(chosen.lying)))

    def mark_cut(self) -> None:
        """Mark as cut; a rule that a piece breaks where it lies is said, but what was cut was cut."""
        pieces, label, broken = self.chosen.lying, self._label(self.chosen.lying), self._broken(self.chosen.lying)
        if self._do(lambda: mark_cut(pieces, label)):
            count = Remark.of("marked-cut-several", count=len(pieces))
            done = Remark.of("marked-cut", piece=_capital(label)) if label else count
            said = Remark.of("marked-all-the-same", first=done.text(), breach=broken) if broken else done
            self._window.banner.say(said.text(), "trouble" if broken else "remark")

    def _broken(self, pieces: Sequence[str]) -> str:
        """The first rule that one of the pieces breaks, in words; empty when all lie well."""
        project = self._window.session.project
        report = self._window.judged.report(project)
        broken = [each for each in report.breaches if set(pieces) & set(each.pieces)] if report else []
        return breach_words(broken[0], called(project), project.preferences.length_style) if broken else ""

    def mark_spoiled(self) -> None:
        """Mark as spoiled, and offer at once to plan the piece again."""
        chosen = self.chosen
        pieces = (*chosen.lying, *(fact.piece for fact in chosen.cut))
        label = self._label(pieces)
        if self._do(lambda: mark_spoiled(pieces, label)):
            count = Remark.of("marked-spoiled-several", count=len(pieces))
            said = Remark.of("marked-spoiled", piece=_capital(label)) if label else count
            ways = (("Lay the rest", self.lay_rest), ("Close", lambda: None))
            self._window.banner.say(said.text(), "remark", ways)

    def unmark(self) -> None:
        """Take the marks back."""
        facts = self.chosen.facts
        if self._do(lambda: unmark(facts)):
            several = Remark.of("marks-taken-back-several", count=len(facts))
            self._say(several if len(facts) > 1 else Remark("mark-taken-back"))

    # Laying and arranging

    def lay_rest(self) -> None:
        """Lay what waits while everything else stays."""
        self._window.proposing.lay_rest()

    def lay_chosen(self) -> None:
        """Lay only the chosen pieces."""
        self._window.proposing.lay_rest(self.chosen.to_lay)

    def _tell_rest(self, had: StillHad, words: str) -> None:
        """What was found when not all of it was, with the pieces called by their names; the proposal tells the rest."""
        if not had.missing:
            return
        project = self._window.session.project
        ways = (("How do you know?", self._window.asides.explain), ("Close", lambda: None))
        self._window.banner.say(named(words, called(project)), "trouble", ways)

    @property
    def seen_from_back(self) -> bool:
        """True while the back is looked at: left is right there."""
        return self._window.session.project.preferences.side == "back"

    def arrange(self, code: str, how: Arrange) -> None:
        """Bring the chosen pieces to a line, spread them or turn them alike: one edit, named by `code`."""
        chosen, canvas = self.chosen, self._window.canvas
        ids = [lying.piece.id for lying in chosen.on_cloth]
        try:
            moved = how(bodies_of(canvas.bench, ids), staying=chosen.staying)
        except BadInput as fault:
            self._window.say(named(str(fault), called(chosen.project)), True)
            return
        if not moved:
            self._window.say(sentence("nothing-to-arrange", {}), False)
            return
        self._do(lambda: place(moved, named=Remark.of(code, count=len(ids))))

    # The clipboard

    def copy(self) -> bool:
        """The chosen own pieces to the clipboard; False when one of them is none, which is said."""
        chosen = self.chosen
        try:
            text = copied(chosen.project, chosen.ids)
        except BadInput as fault:
            self._window.say(_capital(named(str(fault), called(chosen.project))), True)
            return False
        data = QMimeData()
        data.setData(PIECES_MIME, text)
        QGuiApplication.clipboard().setMimeData(data)
        several = Remark.of("pieces-copied-several", count=len(chosen.ids))
        self._say(several if len(chosen.ids) > 1 else Remark("piece-copied"))
        return True

    def take_out(self) -> None:
        """Copy, then take the pieces out of the job."""
        ids = self.chosen.ids
        if self.copy():
            self._do(lambda: without_pieces(ids))

    def paste(self) -> None:
        """Add the pieces on the clipboard and choose them; what else is on it is told to be none."""
        data = QGuiApplication.clipboard().mimeData()
        text = bytes(data.data(PIECES_MIME).data()) if data is not None and data.hasFormat(PIECES_MIME) else b""
        before = {piece.id for piece in planned_or_none(self._window.session.project)}
        if self._do(lambda: pasted(text)):
            fresh = [piece.id for piece in planned_or_none(self._window.session.project) if piece.id not in before]
            self._window.canvas.choose(tuple(fresh))

    # Remnants

    def no_remnant(self) -> str:
        """Why the cloth has no rest to make a cloth of, empty when it has."""
        cloth = self.cloth
        if cloth is None:
            return sentence("act-no-cloth", {})
        project = self._window.session.project
        try:
            remnants_of(project, cloth)
        except CoverlayoutError as fault:
            return project.preferences.length_style.said(fault.remark)
        return ""

    def make_remnant(self) -> None:
        """All of the rest of the cloth becomes a cloth of its own."""
        cloth = self.cloth
        if cloth is None:
            return
        before = {each.id for each in self._window.session.project.cloths}
        if self._do(lambda: make_remnant(cloth.id)):
            fresh = [each.name for each in self._window.session.project.cloths if each.id not in before]
            self._say(Remark.of("remnant-made", names=", ".join(fresh)))

    def draw_remnant(self) -> None:
        """Draw the part that becomes a cloth of its own."""
        wanted = Wanted(
            sentence("remnant-title", {}),
            lambda cloth, ring, _: make_remnant(cloth.id, ring),
            ("rectangle", "area"),
        )
        self._window.canvas.work.begin(Drawing(self._window.canvas, wanted))


def _capital(words: str | None) -> str:
    return (words or "")[:1].upper() + (words or "")[1:]
