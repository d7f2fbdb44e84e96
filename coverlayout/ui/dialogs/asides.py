"""What the window opens aside: the verdict bar with the reason and the cuts, the cautions, true size, the name."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QInputDialog, QLineEdit, QWidget

from coverlayout.cloth.cuts import ladder_in_use
from coverlayout.document.edits.job import rename_project, set_price
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.dialogs.buying import buy_together, cut_of_each
from coverlayout.ui.dialogs.card import CardDialog
from coverlayout.ui.dialogs.ladder import LadderPart
from coverlayout.ui.dialogs.line_key import LineKey
from coverlayout.ui.dialogs.reading import Reading
from coverlayout.ui.panels.cloth_panel import ClothPanel
from coverlayout.ui.panels.cutting_panel import CAUTIONS
from coverlayout.ui.proposing.asks import QuestionsPart
from coverlayout.ui.proposing.questions import Asked, Questions
from coverlayout.ui.seeing.true_size import TrueSize
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.opened import Opened
from coverlayout.ui.verdict.rungs import CutBar
from coverlayout.ui.verdict.speaker import Speaker

__all__ = ["Asides"]


class Asides(QObject):
    """Opens the dialogs of one window, each of which goes when it is closed, and the verdict bar (`opened`)."""

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
        self._true_size = true_size
        self._cloth = cloth
        self._speaker = speaker
        self.opened: Opened

    def make_opened(self, theme: Theme, questions: Questions, window: QWidget) -> Opened:
        """The opened bar of a window, shut."""
        ladder = LadderPart(theme, self._use_cut, self._give_price, refused=self._why_no_cut)
        asks = QuestionsPart(questions)
        self.opened = Opened(self._session, self._speaker, (ladder, asks), theme, say=self._cloth.say, parent=window)
        asks.showing.connect(self.opened.shut)
        asks.answered.connect(self.opened.see)
        self._questions = questions
        self.opened.closed.connect(self._canvas.setFocus)
        return self.opened

    @property
    def _window(self) -> QWidget:
        return self._canvas.window()

    def explain(self) -> None:
        """How do you know: what the verdict stands on."""
        self.opened.explain()

    def show_cautions(self) -> None:
        """What to mind at the knife."""
        self._open(Reading("Before you cut", CAUTIONS, self._window))

    def show_lines(self) -> None:
        """What each line on the cloth means."""
        self._open(LineKey(self._window))

    def ask(self, kind: Asked) -> None:
        """Ask one of the questions about this cloth; the opened bar shows the answer."""
        self._questions.ask(kind)
        self.opened.show_asks()

    def show_ladder(self, name: str = "") -> None:
        """All cuts with their verdict, one of them marked."""
        self.opened.show_cut(name)

    def _why_no_cut(self, bar: CutBar) -> str:
        """Why the cuts cannot be taken at one go, empty when they can."""
        project = self._session.project
        try:
            known = {cut.name for cut in ladder_in_use()}
        except CoverlayoutError as fault:
            return project.preferences.length_style.said(fault.remark)
        if len(bar.cuts) > 1:
            return "" if known >= set(bar.cuts) and len(project.cloths) == 1 else sentence("cuts-one-cloth", {})
        together = cut_of_each(bar.name, project)
        return "" if bar.name in known or together else sentence("cuts-together", {"name": bar.name})

    def _use_cut(self, bar: CutBar) -> None:
        project = self._session.project
        together = cut_of_each(bar.name, project)
        if len(bar.cuts) > 1:
            cuts = {cut.name: cut for cut in ladder_in_use()}
            self._cloth.attempt(buy_together([cuts[name] for name in bar.cuts], project.cloths[0].id))
        elif together is None:
            self._cloth.take_cut(bar.name)
        else:
            self._cloth.take_cut_of_each(together, bar.name)

    def _give_price(self, name: str, price: float | None) -> None:
        """What a cut costs; of one that stands for several, each."""
        together = cut_of_each(name, self._session.project)
        count = len(self._session.project.cloths) if together else 1
        each = None if price is None else price / count
        self._session.do(set_price(name if together is None else together.name, each))

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
