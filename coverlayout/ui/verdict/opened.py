"""The verdict bar opened: the reason in words, what would make it fit, how it is known, and all cuts as bars."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from coverlayout.document.changing.change import FittingChange, take_change
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.ui.dialogs.ladder import LadderPart
from coverlayout.ui.dialogs.reading import how_known
from coverlayout.ui.fields.entry import label
from coverlayout.ui.fields.rows import Fold, button
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.speaker import Speaker
from coverlayout.ui.verdict.words import named

__all__ = ["Opened"]

# So much of the window it takes at most, and at least.
_SHARE, _LEAST_PX = 0.5, 260


class _Change(QWidget):
    """One change that would make it fit: its sentence and the button that makes it."""

    def __init__(self, words: str, make: Callable[[], None]) -> None:
        super().__init__()
        self.words = label(words)
        self.button = button("Try it", make, tip=sentence("opened-try-tip", {}))
        self.button.setAccessibleName(f"Try it: {words}")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(12)
        row.addWidget(self.words, 1)
        row.addWidget(self.button, 0, Qt.AlignmentFlag.AlignTop)


class Opened(QWidget):
    """Lies over the lower part of the window, above the bar, and moves nothing. `closed`: it went."""

    closed = Signal()

    def __init__(
        self,
        session: Session,
        speaker: Speaker,
        parts: tuple[LadderPart, QWidget],
        theme: Theme,
        *,
        say: Callable[[str, bool], None],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self._session, self._speaker, self._theme, self._say = session, speaker, theme, say
        self.ladder, self.asks = parts
        self._shown: object = None
        self.reason = label()
        self.reason.setAccessibleName("The reason")
        self.changes_head = label(role="title")
        self.changes: list[_Change] = []
        self._changes_column = QVBoxLayout()
        self._changes_column.setSpacing(6)
        self.known = Fold("How do you know?", tip=sentence("opened-known-tip", {}))
        self._lines: list[QLabel] = []
        self.close_button = button("Close", self.shut, tip=sentence("opened-close-tip", {}), role="quiet")
        self._arrange()
        speaker.spoke.connect(self.look)
        self.hide()

    def _arrange(self) -> None:
        inside = QWidget()
        left = QVBoxLayout(inside)
        left.setContentsMargins(0, 4, 12, 0)
        left.setSpacing(8)
        for widget in (label(sentence("opened-reason", {}), "title"), self.reason, self.changes_head):
            left.addWidget(widget)
        left.addLayout(self._changes_column)
        left.addWidget(self.known)
        left.addSpacing(4)
        left.addWidget(self.asks)
        left.addStretch(1)
        scroll = self._scroll = QScrollArea()
        scroll.setWidget(inside)
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setMinimumWidth(340)
        right = QVBoxLayout()
        right.setSpacing(4)
        top = QHBoxLayout()
        top.addWidget(label("Cuts", "title"), 1)
        top.addWidget(self.close_button)
        right.addLayout(top)
        right.addWidget(self.ladder, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(20, 12, 12, 12)
        row.setSpacing(16)
        row.addWidget(scroll, 2)
        row.addLayout(right, 3)

    # Open and shut

    def explain(self) -> None:
        """Open it with how the verdict is known; open already in that way, shut it."""
        if self.isVisible() and self.known.head.isChecked():
            self.shut()
            return
        self.known.head.setChecked(True)
        self._open()
        self.known.head.setFocus()

    def toggle(self) -> None:
        """Open it, or shut it."""
        if self.isVisible():
            self.shut()
        else:
            self._open()
            self.ladder.bars.setFocus()

    def show_cut(self, name: str = "") -> None:
        """Open it with a cut marked: the one of that name, else the one marked last, else the least."""
        self._open()
        if name:
            self.ladder.bars.choose(name)
            self.ladder.bars.bring_chosen()
        self.ladder.bars.setFocus()

    def show_asks(self) -> None:
        """Open it with what stands below the reason in sight."""
        self.known.head.setChecked(False)
        self._open()
        QTimer.singleShot(0, self, lambda: self._scroll.ensureWidgetVisible(self.asks))
        self.asks.setFocus()

    def see(self, part: QWidget) -> None:
        """Bring what stands below the reason into sight."""
        self._scroll.ensureWidgetVisible(part)

    def _open(self) -> None:
        self.show()
        self._shown = None
        self.look()
        self.fit()
        self.raise_()
        # Its list has its height only once what stands in it has been laid out.
        QTimer.singleShot(0, self.ladder.bars, self.ladder.bars.bring_chosen)

    def shut(self) -> None:
        """Back to the cloth."""
        if self.isVisible():
            self.closed.emit()
            self.hide()

    def fit(self) -> None:
        """Across the window, down to the bar."""
        over = self.parentWidget()
        if over is not None and not self.isHidden():
            foot = self._speaker.bar_top_px
            height = max(round(_SHARE * over.height()), _LEAST_PX)
            self.setGeometry(0, foot - height, over.width(), height)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self._theme = theme
        self.ladder.bars.dress(theme)
        self.update()

    # What it says

    def look(self) -> None:
        """Say everything as it is now; nothing is done when it is the same, or shut."""
        asking, said = self._speaker.asking, self._speaker.said
        now = (said, asking.answer, asking.answer_old, asking.fitting, asking.searching, asking.kind)
        ladder = asking.ladder, asking.ladder_old, self._session.project.preferences
        if self.isHidden() or (now, ladder) == self._shown:
            return
        self._shown = now, ladder
        self.reason.setText(self._reason())
        self._show_changes()
        self._show_known()
        preferences = self._session.project.preferences
        self.ladder.show_ladder(asking.ladder, preferences.length_style, preferences.currency, old=asking.ladder_old)

    def _reason(self) -> str:
        """A no of the job comes before all else; then what the bar says."""
        asking, said = self._speaker.asking, self._speaker.said
        told = f"{said.word}. {said.sentence.rstrip('.')}." if said.sentence else said.word
        if asking.answer is None or asking.answer_old or asking.answer.verdict != "does not fit":
            return told
        reason = named(self._session.project.preferences.length_style.said(asking.answer.reason), self._speaker.names)
        if reason.lower() in told.lower():
            return told
        return f"{sentence('opened-no', {})} {reason[:1].upper()}{reason[1:]}.\n{told}"

    def _show_changes(self) -> None:
        """What would make it fit, while the job's answer is a no."""
        asking, style = self._speaker.asking, self._session.project.preferences.length_style
        answer = asking.answer
        refused = answer is not None and not asking.answer_old and answer.verdict == "does not fit"
        fitting = asking.fitting if refused else None
        for change in self.changes:
            self._changes_column.removeWidget(change)
            change.hide()
            change.deleteLater()
        self.changes = []
        self.changes_head.setVisible(refused)
        if not refused:
            return
        if fitting is None:
            self.changes_head.setText(sentence("opened-changes-wait" if asking.searching else "changes-none", {}))
        else:
            self.changes_head.setText(sentence("changes-head" if fitting else "changes-none", {}))
        for found in fitting or ():
            words = f"{named(style.said(found.said), self._speaker.names)}."
            self.changes.append(_Change(words, partial(self._try, found)))
            self._changes_column.addWidget(self.changes[-1])

    def _try(self, change: FittingChange) -> None:
        """Make the change and lay everything as it was found."""
        project = self._session.project
        try:
            self._session.do(take_change(change, self._speaker.asking.fitting_for))
        except CoverlayoutError as fault:
            self._say(project.preferences.length_style.said(fault.remark), True)

    def _show_known(self) -> None:
        asking, said = self._speaker.asking, self._speaker.said
        style = self._session.project.preferences.length_style
        bar = f"{said.word}. {said.sentence}"
        lines = how_known(bar, asking.answer, asking.answer_old, style, self._speaker.names, searching=asking.searching)
        for line in self._lines:
            self.known.body.removeWidget(line)
            line.hide()
            line.deleteLater()
        # The first line says again what stands above.
        self._lines = [label(words) for words in lines[1:]]
        for line in self._lines:
            self.known.body.addWidget(line)

    @property
    def known_words(self) -> list[str]:
        """What stands under how it is known."""
        return [line.text() for line in self._lines]

    # Qt's own

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape shuts it."""
        if event.key() == Qt.Key.Key_Escape:
            self.shut()
            return
        super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press beside the buttons reaches nothing that lies below."""
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A panel with a line above."""
        del event
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self._theme.color("panel"))
            painter.fillRect(QRectF(0, 0, self.width(), 2), self._theme.color("accent"))
            painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), self._theme.color("line", 0.4))
