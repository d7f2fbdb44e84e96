"""The questions about a cloth as buttons, with the answers to those that were asked."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from coverlayout.errors import sentence
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import button
from coverlayout.ui.proposing.questions import ASKED, Asked, Questions

__all__ = ["QuestionRow", "QuestionsPart"]

# An answer stands nearer to its own question than to the next.
_BELOW_PX = 6


class QuestionRow(QWidget):
    """A question that a press asks; below it the answer, and `show_it` where that can be seen on the cloth.

    `answered`: the answer has come and stands below it.
    """

    answered = Signal()

    def __init__(self, kind: Asked, questions: Questions) -> None:
        super().__init__()
        self._kind, self._questions = kind, questions
        words, tip = ASKED[kind]
        self.ask: QPushButton = button(words, partial(questions.ask, kind), tip=tip, role="more")
        self.words = label()
        self.words.setAccessibleName(words)
        self.show_it = button("Show it", lambda: None, tip=sentence("ask-show-tip", {}))
        self.show_it.setAccessibleName(f"Show it: {words}")
        below = QHBoxLayout()
        below.setSpacing(12)
        below.addWidget(self.words, 1)
        below.addWidget(self.show_it, 0, Qt.AlignmentFlag.AlignTop)
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.ask, 0, Qt.AlignmentFlag.AlignLeft)
        column.addLayout(below)

    def look(self) -> None:
        """Say what was told, or that it is looked for."""
        questions = self._questions
        told = questions.told.get(self._kind)
        looking = questions.asked == self._kind
        words = sentence("ask-looking", {}) if looking else "" if told is None else told.words
        is_new = told is not None and not looking and words != self.words.text()
        self.words.setText(words)
        self.words.setVisible(bool(words))
        self._column.setContentsMargins(0, 0, 0, _BELOW_PX if words else 0)
        self.show_it.setVisible(told is not None and told.edit is not None and not looking)
        # While it is looked for the button stays as it is: one that is greyed would lose the keys.
        self.ask.setEnabled(questions.can_ask)
        # Few cloths are larger than their backing.
        self.setVisible(self._kind != "panels" or told is not None or looking or not questions.why_not("panels"))
        if is_new:
            self.answered.emit()


class QuestionsPart(QWidget):
    """All of them below each other. `showing`: an answer is shown on the cloth, which should be seen.

    `answered` carries the row whose answer has come, once it has its place.
    """

    showing = Signal()
    answered = Signal(QWidget)

    def __init__(self, questions: Questions) -> None:
        super().__init__()
        self._questions = questions
        self.rows = {kind: QuestionRow(kind, questions) for kind in ASKED}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(label(sentence("ask-head", {}), "title"))
        for kind, row in self.rows.items():
            column.addWidget(row)
            row.show_it.clicked.connect(lambda _checked=False, kind=kind: self._show(kind))
            row.answered.connect(lambda row=row: QTimer.singleShot(0, self, lambda: self.answered.emit(row)))
        self.setFocusProxy(self.rows["count"].ask)
        questions.changed.connect(self.look)
        self.look()

    def _show(self, kind: Asked) -> None:
        self.showing.emit()
        self._questions.show(kind)

    def look(self) -> None:
        """Show what is asked and told now."""
        for row in self.rows.values():
            row.look()
