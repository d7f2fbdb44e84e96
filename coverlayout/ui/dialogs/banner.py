"""What the program has to say, in one quiet line over the canvas: a trouble, a remark, a question with its buttons."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Literal

from PySide6.QtCore import QRectF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.theme import Theme

__all__ = ["Banner"]

Tone = Literal["trouble", "remark", "question"]
Answers = Sequence[tuple[str, Callable[[], None]]]
_REMARK_STAYS_MS = 8_000


class Banner(QWidget):
    """One sentence at a time; a newer one takes the older one's place. A remark goes by itself.

    A question waits until it is answered: what is said meanwhile covers it, and then it comes back.
    """

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.theme = theme
        self.tone: Tone = "remark"
        self.sentence = label()
        self.sentence.setAccessibleName("Message")
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 6, 8, 6)
        row.setSpacing(8)
        self.picture = QLabel()
        self.picture.hide()
        row.addWidget(self.picture)
        row.addWidget(self.sentence, 1)
        self._row = row
        self._buttons: list[QPushButton] = []
        self._lasting = False
        self._open_question: tuple[str, Answers, QPixmap | None] | None = None
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(_REMARK_STAYS_MS)
        self._timer.timeout.connect(self.clear)
        self.hide()

    def say(
        self,
        sentence: str,
        tone: Tone = "remark",
        answers: Answers = (),
        *,
        lasting: bool = False,
        picture: QPixmap | None = None,
    ) -> None:
        """Show a sentence; `answers` are buttons (words, act). Without any, a button takes the sentence away.

        `lasting`: it stays true whatever the maker does next, until `clear`. `picture`: what the sentence speaks of.
        """
        self._forget()
        self.tone, self._lasting = tone, lasting
        if tone == "question":
            self._open_question = sentence, answers, picture
        self.picture.setPixmap(picture or QPixmap())
        self.picture.setVisible(picture is not None)
        self.sentence.setText(sentence)
        for words, act in answers or (("Close", lambda: None),):
            self._add(words, act)
        self.show()
        self.raise_()
        self.fit()
        self.update()
        if tone == "remark":
            self._timer.start()

    def clear(self) -> None:
        """Take the sentence away; a question that it covered comes back."""
        self._forget()
        self.sentence.setText("")
        if self._open_question is not None and self.tone != "question":
            question, answers, picture = self._open_question
            self.say(question, "question", answers, picture=picture)
            return
        self.hide()

    def outdate(self, *, lasting: bool = False) -> None:
        """The maker went on: what was said of the moment before goes, questions stay; what lasts only when told."""
        if not self.isHidden() and self.tone != "question" and (lasting or not self._lasting):
            self.clear()

    def fit(self) -> None:
        """At the foot of the canvas, where the cloth seldom lies, as high as the words; nothing moves for it."""
        over = self.parentWidget()
        if over is not None:
            width = over.width() - RULER_PX
            height = self._row.totalHeightForWidth(width)
            self.setGeometry(RULER_PX, over.height() - height, width, height)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self.theme = theme
        self.update()

    def _add(self, words: str, act: Callable[[], None]) -> None:
        def answer() -> None:
            if self.tone == "question":
                self._open_question = None
            self.clear()
            act()

        made = button(words, answer, tip="", role="quiet")
        self._buttons.append(made)
        self._row.addWidget(made)
        # At once: the line is as high as what is shown in it.
        made.show()

    def _forget(self) -> None:
        self._timer.stop()
        for made in self._buttons:
            self._row.removeWidget(made)
            made.hide()
            made.deleteLater()
        self._buttons = []

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape takes the sentence away; a question it leaves for later."""
        if event.key() == Qt.Key.Key_Escape:
            self._open_question = None if self.tone == "question" else self._open_question
            self.clear()
            return
        super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press beside the buttons reaches nothing that lies below."""
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A field with a bar at its left: thick for trouble, dashed for a question, thin for a remark."""
        del event
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.theme.color("field"))
            color = self.theme.color("no" if self.tone == "trouble" else "accent")
            width = {"trouble": 6, "question": 6, "remark": 2}[self.tone]
            if self.tone == "question":
                for top in range(0, self.height(), 8):
                    painter.fillRect(QRectF(0, top, width, 4), color)
            else:
                painter.fillRect(QRectF(0, 0, width, self.height()), color)
            painter.fillRect(QRectF(0, 0, self.width(), 1), self.theme.color("line", 0.4))
