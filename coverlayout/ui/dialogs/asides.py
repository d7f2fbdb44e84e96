"""What the window opens aside: how the verdict is known, the cuts, the cautions, true size, the name."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QInputDialog, QLineEdit, QWidget

from coverlayout.cloth.cuts import ladder_in_use
from coverlayout.document.edits.job import rename_project
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.dialogs.buying import cut_of_each
from coverlayout.ui.dialogs.card import CardDialog
from coverlayout.ui.dialogs.ladder import LadderDialog
from coverlayout.ui.dialogs.line_key import LineKey
from coverlayout.ui.dialogs.reading import Reading, how_known
from coverlayout.ui.panels.cloth_panel import ClothPanel
from coverlayout.ui.panels.cutting_panel import CAUTIONS
from coverlayout.ui.seeing.true_size import TrueSize
from coverlayout.ui.verdict.speaker import Speaker

__all__ = ["Asides"]


class Asides(QObject):
    """Opens the dialogs of one window; each goes when it is closed."""

    def __init__(
        self,
        session: Session,
        canvas: Canvas,
        speaker: Speaker,
        cloth: ClothPanel,
        *,
        true_size: TrueSize,
    ) -> None:
        super().__init__(canvas)
        self._session = session
        self._canvas = canvas
        self._asking = speaker.asking
        self._true_size = true_size
        self._speaker = speaker
        self._cloth = cloth

    @property
    def _window(self) -> QWidget:
        return self._canvas.window()

    def explain(self) -> None:
        """How do you know: what the verdict stands on."""
        said, style = self._speaker.said, self._session.project.preferences.length_style
        bar = f"{said.word}. {said.sentence}"
        asking = self._asking
        lines = how_known(bar, asking.answer, asking.answer_old, style, self._speaker.names, searching=asking.searching)
        self._open(Reading("How do you know?", lines, self._window))

    def show_cautions(self) -> None:
        """What to mind at the knife."""
        self._open(Reading("Before you cut", CAUTIONS, self._window))

    def show_lines(self) -> None:
        """What each line on the cloth means."""
        self._open(LineKey(self._window))

    def show_ladder(self, name: str = "") -> None:
        """All cuts with their verdict, one of them marked."""
        ladder = self._asking.ladder
        if ladder is None:
            self._cloth.say(sentence("cuts-not-known", {}), False)
            return
        style = self._session.project.preferences.length_style
        old = self._asking.ladder_old
        dialog = LadderDialog(ladder, style, self._use_cut, self._window, refused=self._why_no_cut, old=old)
        dialog.choose(name or ladder.least or "")
        self._open(dialog)

    def _why_no_cut(self, name: str) -> str:
        """Why the cut cannot be taken at one go, empty when it can."""
        try:
            known = any(cut.name == name for cut in ladder_in_use())
        except CoverlayoutError as fault:
            return self._session.project.preferences.length_style.said(fault.remark)
        together = cut_of_each(name, self._session.project)
        return "" if known or together else sentence("cuts-together", {"name": name})

    def _use_cut(self, name: str) -> None:
        together = cut_of_each(name, self._session.project)
        if together is None:
            self._cloth.take_cut(name)
        else:
            self._cloth.take_cut_of_each(together, name)

    def ask_for_card(self) -> None:
        """Match true size to this screen with a card."""
        now = self._canvas.view.px_per_mm * 100 / self._canvas.sight.percent_of_true_size
        self._open(CardDialog(now, self._true_size.match, self._window))

    def ask_for_name(self) -> None:
        """Give the project another name."""
        present = self._session.project.name
        name, given = QInputDialog.getText(
            self._window, "Rename the project", "Name of the project", QLineEdit.EchoMode.Normal, present
        )
        if given:
            self._cloth.attempt(rename_project(name))

    def _open(self, dialog: QWidget) -> None:
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setWindowModality(Qt.WindowModality.WindowModal)
        dialog.show()
