"""The strip at the top of the canvas while layouts are searched or proposed: the verdict, and what to do with it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from coverlayout.document.asking.matching import parts_apart
from coverlayout.document.questions import planned_pieces
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark, sentence
from coverlayout.exporting.names import names_of
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.fields.entry import label, set_tip
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.proposing.proposing import Proposing
from coverlayout.ui.proposing.saying import proposal_said, search_said
from coverlayout.ui.theme import Theme
from coverlayout.ui.verdict.chips import draw_symbol
from coverlayout.ui.verdict.words import Said

__all__ = ["ProposalStrip"]

_SHARE_PX = 3
# A press meant to stop a search that is just over starts no other one: for so long there is nothing to press there.
_LATE_PRESS_MS = 600
_STEPS: dict[int, int] = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_N: 1}


class _Sign(QWidget):
    """The sign of the verdict."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.said = Said("", "dots", "muted", "")
        self.setFixedSize(QSize(26, 26))

    def show_said(self, said: Said) -> None:
        """Another verdict."""
        self.said = said
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Its shape in its colour."""
        del event
        with QPainter(self) as painter:
            draw_symbol(painter, self.said.symbol, QRectF(self.rect()), self.theme.color(self.said.state))


class _Button(QPushButton):
    """A button that Return presses; arrows are left to the strip."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return as Space; all that steps along goes on to the strip."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        elif event.key() in _STEPS:
            event.ignore()
        else:
            super().keyPressEvent(event)


class ProposalStrip(QWidget):
    """Lies over the top of the canvas and moves nothing; its share of the search is a line at its foot.

    While the keys are here the arrows step along the proposals; Return takes the one shown.
    """

    def __init__(self, session: Session, proposing: Proposing, canvas: Canvas, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self._session, self._proposing, self._canvas, self._theme = session, proposing, canvas, theme
        self._share: float | None = None
        self.setAccessibleName("Proposal")
        self.sign, self.title, self.words = _Sign(theme), label(role="title"), label()
        self.words.setAccessibleName("What the proposal is worth")
        self.take = _made("Take it", proposing.take, "proposal-take-tip", role="first")
        self.before = _made("Previous", lambda: proposing.step(-1), "proposal-before-tip")
        self.next = _made("Next", lambda: proposing.step(1), "proposal-next-tip")
        self.different = _made("A different one", proposing.another, "proposal-different-tip")
        self.stop = _made("Stop here", proposing.stop, "proposal-stop-tip")
        self.leave = _made("Leave it", proposing.escape, "proposal-leave-tip", role="quiet")
        self._late = QTimer(self, singleShot=True, interval=_LATE_PRESS_MS)
        self._late.timeout.connect(lambda: self.different.setEnabled(True))
        self._arrange()
        proposing.changed.connect(self.show_proposal)
        self.hide()

    def _arrange(self) -> None:
        said = QVBoxLayout()
        said.setSpacing(1)
        said.addStretch(1)
        said.addWidget(self.title)
        said.addWidget(self.words)
        said.addStretch(1)
        self.row = QHBoxLayout(self)
        self.row.setContentsMargins(16, 6, 8, 6 + _SHARE_PX)
        self.row.setSpacing(8)
        self.row.addWidget(self.sign)
        self.row.addLayout(said, 1)
        for each in (self.take, self.before, self.next, self.different, self.stop, self.leave):
            self.row.addWidget(each)

    @property
    def _has_keys(self) -> bool:
        focused = QApplication.focusWidget()
        return focused is not None and self.isAncestorOf(focused)

    def show_proposal(self) -> None:
        """Say what is searched or proposed; nothing is shown while there is neither."""
        proposing = self._proposing
        was_shown, was_searching = not self.isHidden(), self._share is not None
        if not proposing.under_way and self._has_keys:
            # Before the button that has them is hidden.
            self._canvas.setFocus()
        self.setVisible(proposing.under_way)
        if not proposing.under_way:
            self._share = None
            if was_shown:
                self._canvas.work.cover(RULER_PX)
            return
        self._show_words()
        self._show_buttons()
        self.raise_()
        self.fit()
        self.update()
        if not self.isActiveWindow():
            return
        if not was_shown or (self._has_keys and was_searching != bool(proposing.search)):
            # Return takes what is proposed, and ends no search that is over.
            (self.leave if proposing.search else self.take).setFocus()

    def _show_words(self) -> None:
        proposing, project = self._proposing, self._session.project
        style, walk = project.preferences.length_style, proposing.walk
        if proposing.search:
            self._share = proposing.share
            said = search_said(walk, proposing.share, style, another=proposing.search == "another")
            self.title.setText(said.word)
        else:
            self._share = None
            assert walk is not None, "shown only when there is one"
            length_mm = proposing.length_mm if project.rules.objective == "least length" else None
            wish_mm = project.rules.spare_wish_mm
            apart = parts_apart(walk.shown.seen.change(project))
            said = proposal_said(walk, wish_mm, self._names(), style, proposing.note, length_mm=length_mm, apart=apart)
            count = Remark.of("proposal-title", word=said.word, number=walk.at + 1, count=walk.count)
            self.title.setText(count.text() if walk.count > 1 else Remark.of("proposal-only", word=said.word).text())
        self.words.setText(said.sentence)
        self.sign.show_said(said)

    def _names(self) -> dict[str, str]:
        try:
            return names_of(planned_pieces(self._session.project))
        except CoverlayoutError:
            return {}

    def _show_buttons(self) -> None:
        walk, search = self._proposing.walk, self._proposing.search
        several = walk is not None and walk.count > 1
        if self.stop.isVisible() and not search:
            self._late.start()
            self.different.setEnabled(False)
        for each in (self.take, self.before, self.next, self.different):
            each.setVisible(not search)
        self.different.setVisible(not search and self._proposing.can_differ)
        for each in (self.before, self.next):
            each.setVisible(not search and (several or self._proposing.can_differ))
        self.before.setEnabled(several)
        self.next.setEnabled(several)
        self.stop.setVisible(bool(search) and search != "another")
        self.stop.setEnabled(walk is not None)
        self.leave.setText("Cancel" if search else "Leave it")

    def fit(self) -> None:
        """At the top of the canvas, below the ruler, as wide as the canvas; it never shrinks while it is shown."""
        width = self._canvas.width() - RULER_PX
        kept = self.height() if self._canvas.work.covered_px > RULER_PX and width == self.width() else 0
        height = max(self.row.totalHeightForWidth(width), self.minimumSizeHint().height(), kept)
        self.setGeometry(RULER_PX, RULER_PX, width, height)
        if not self.isHidden():
            self._canvas.work.cover(RULER_PX + height)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self._theme = self.sign.theme = theme
        self.sign.update()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows and letters step along, as they do on the canvas; what else is pressed goes on to the window."""
        back = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if event.key() in _STEPS:
            self._proposing.step(-1 if back else _STEPS[event.key()])
        elif event.key() == Qt.Key.Key_D:
            self._proposing.another()
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press beside the buttons reaches nothing that lies below."""
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A field with a line below; while a search goes on the line is as long as its share."""
        del event
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self._theme.color("field"))
            foot = self.height() - _SHARE_PX
            if self._share is None:
                painter.fillRect(QRectF(0, self.height() - 1, self.width(), 1), self._theme.color("accent"))
            else:
                painter.fillRect(QRectF(0, foot, self.width(), _SHARE_PX), self._theme.color("line", 0.4))
                done = self.width() * min(max(self._share, 0.0), 1.0)
                painter.fillRect(QRectF(0, foot, done, _SHARE_PX), self._theme.color("accent"))


def _made(words: str, act: Callable[[], None], tip: str, role: str = "") -> QPushButton:
    made = _Button(words)
    set_tip(made, sentence(tip, {}))
    if role:
        made.setProperty("role", role)
    made.clicked.connect(lambda _checked=False: act())
    return made
