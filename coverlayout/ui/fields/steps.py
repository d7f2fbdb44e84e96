"""The work order: five steps below each other, one open; a closed one sums itself up in a line."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from coverlayout.ui.theme import SIZES_PX, text_font

__all__ = ["StepHead", "Steps"]

_WIDTH_PX = 328
# What something is typed into or chosen from, before any button.
_FIELDS = (QLineEdit, QComboBox, QAbstractItemView)


class StepHead(QAbstractButton):
    """Number, name and one line that sums the step up."""

    def __init__(self, number: int, name: str, tip: str) -> None:
        super().__init__()
        self.number = number
        self.summary = ""
        self.setText(name)
        self.setCheckable(True)
        self._tip = tip
        self.setToolTip(tip)
        self.setAccessibleName(f"Step {number}: {name}")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """Two lines high."""
        return QSize(_WIDTH_PX, 52)

    def set_summary(self, summary: str) -> None:
        """What this step holds at present."""
        if summary != self.summary:
            self.summary = summary
            self.setAccessibleDescription(summary)
            self.setToolTip(f"{self._tip}\n{summary}")
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """A filled circle marks the open step; a thin line parts the steps."""
        del event
        ink = self.palette().color(QPalette.ColorRole.WindowText)
        muted = self.palette().color(QPalette.ColorRole.PlaceholderText)
        accent = self.palette().color(QPalette.ColorRole.Link)
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self.number > 1:
                line = self.palette().color(QPalette.ColorRole.Mid)
                line.setAlphaF(0.45)
                painter.setPen(QPen(line, 1.0))
                painter.drawLine(16, 0, self.width() - 16, 0)
            circle = QRectF(16, 13, 26, 26)
            painter.setPen(QPen(accent, 1.5))
            painter.setBrush(accent if self.isChecked() else Qt.BrushStyle.NoBrush)
            painter.drawEllipse(circle)
            painter.setFont(text_font(SIZES_PX.text, bold=True))
            painter.setPen(self.palette().color(QPalette.ColorRole.HighlightedText) if self.isChecked() else accent)
            painter.drawText(circle, Qt.AlignmentFlag.AlignCenter, str(self.number))
            painter.setFont(text_font(SIZES_PX.title, bold=True))
            painter.setPen(ink)
            painter.drawText(QRectF(54, 7, self.width() - 66, 20), Qt.AlignmentFlag.AlignVCenter, self.text())
            painter.setFont(text_font(SIZES_PX.small))
            painter.setPen(muted)
            width = self.width() - 66
            words = painter.fontMetrics().elidedText(self.summary, Qt.TextElideMode.ElideRight, width)
            painter.drawText(QRectF(54, 26, width, 18), Qt.AlignmentFlag.AlignVCenter, words)
            if self.hasFocus():
                painter.setPen(QPen(accent, 2.0))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRoundedRect(QRectF(self.rect()).adjusted(7, 4, -7, -4), 4, 4)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return opens as well as Space."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
            return
        super().keyPressEvent(event)


class Steps(QScrollArea):
    """The column of steps. Opening one closes the other; opening the open one closes it."""

    opened = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFixedWidth(_WIDTH_PX + 12)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._inside = QWidget()
        self._column = QVBoxLayout(self._inside)
        self._column.setContentsMargins(0, 4, 0, 12)
        self._column.setSpacing(0)
        self._column.addStretch(1)
        self.setWidget(self._inside)
        self.heads: list[StepHead] = []
        self._bodies: list[QWidget] = []

    def add(self, name: str, body: QWidget, *, tip: str) -> None:
        """One more step, closed."""
        head = StepHead(len(self.heads) + 1, name, tip)
        at = len(self.heads)
        head.clicked.connect(lambda _checked=False, at=at: self.open(at if head.isChecked() else -1))
        self._column.insertWidget(self._column.count() - 1, head)
        self._column.insertWidget(self._column.count() - 1, body)
        body.setContentsMargins(20, 0, 16, 12)
        body.hide()
        self.heads.append(head)
        self._bodies.append(body)

    @property
    def open_step(self) -> int:
        """The open step counted from 0, -1 when all are closed."""
        return next((at for at, head in enumerate(self.heads) if head.isChecked()), -1)

    def bring(self, field: QWidget, around_px: int = 120) -> None:
        """Give a field the keys and scroll to it, with what stands around it; a part just opened is laid out first."""
        field.setFocus()
        QTimer.singleShot(0, self, lambda: self.ensureWidgetVisible(field, 0, around_px))

    def enter(self, step: int, field: QWidget | None = None) -> None:
        """Give the keys to a field of an open step, what stands in it chosen.

        When it sleeps, or none is named, the topmost field that is awake has them; the head when there is none.
        """
        awake = [each for each in self._bodies[step].findChildren(QWidget) if _takes_keys(each)]
        fields = [each for each in awake if isinstance(each, _FIELDS)]
        topmost = min(fields or awake, key=self._place_of, default=None)
        first = field if field is not None and field in awake else topmost
        if first is None:
            self.heads[step].setFocus(Qt.FocusReason.ShortcutFocusReason)
            return
        self.bring(first, 0)
        # Reached as by Tab, so that a line chooses what stands in it.
        first.setFocus(Qt.FocusReason.TabFocusReason)
        if isinstance(first, QLineEdit):
            first.selectAll()

    def _place_of(self, widget: QWidget) -> tuple[int, int]:
        """How far down and right a widget stands: fields are read in this order."""
        at = widget.mapTo(self._inside, QPoint(0, 0))
        return at.y(), at.x()

    def open(self, step: int) -> None:
        """Open this step and close the others; -1 closes all. `opened` tells before anything is shown."""
        self.opened.emit(step)
        for at, (head, body) in enumerate(zip(self.heads, self._bodies, strict=True)):
            head.setChecked(at == step)
            body.setVisible(at == step)
        if step >= 0:
            self._column.activate()
            body = self._bodies[step]
            self.ensureVisible(0, body.geometry().bottom(), 0, 0)
            self.ensureVisible(0, self.heads[step].geometry().top(), 0, 0)


def _takes_keys(widget: QWidget) -> bool:
    return widget.isVisible() and widget.isEnabled() and bool(widget.focusPolicy() & Qt.FocusPolicy.TabFocus)
