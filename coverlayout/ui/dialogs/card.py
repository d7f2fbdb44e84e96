"""True size on this screen: hold a bank-size card to the screen and drag the drawn card until the two are one."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen, QScreen
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QSlider, QVBoxLayout, QWidget

from coverlayout.errors import sentence
from coverlayout.ui.fields.entry import label
from coverlayout.ui.theme import figures_font

__all__ = ["CARD_CORNER_MM", "CARD_MM", "CardDialog", "most_dpi"]

CARD_MM = (85.60, 53.98)
"""ISO/IEC 7810, card size ID-1 (bank and identity cards), width x height."""
CARD_CORNER_MM = 3.18
"""The radius of its corners."""
_MM_PER_INCH = 25.4
# Screens from 50 to 350 dots to the inch, in steps that move the edge of the card by less than a pixel.
_LEAST, _MOST = 50, 350
_STEPS_PER_DPI = 4
_BROAD_STEPS = 20
# What the dialog needs beside the drawn card, and what the screen keeps for itself.
_AROUND_PX = QSize(80, 260)


def most_dpi(room: QSize) -> int:
    """The most dots to the inch at which the card still fits on a screen of that room, within what screens have.

    >>> most_dpi(QSize(1280, 800)), most_dpi(QSize(4000, 4000))
    (254, 350)
    """
    across = (room.width() - _AROUND_PX.width()) * _MM_PER_INCH / CARD_MM[0]
    along = (room.height() - _AROUND_PX.height()) * _MM_PER_INCH / CARD_MM[1]
    return int(min(max(across, _LEAST), max(along, _LEAST), _MOST))


class _Card(QWidget):
    """The drawn card, as large as the present guess makes it."""

    def __init__(self) -> None:
        super().__init__()
        self.px_per_mm = 4.0

    def paintEvent(self, event: QPaintEvent) -> None:
        """A card with round corners from the top left; its outer edge is the card's."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.palette().color(QPalette.ColorRole.Base))
            width, height = (side * self.px_per_mm for side in CARD_MM)
            corner = CARD_CORNER_MM * self.px_per_mm
            box = QRectF(0, 0, width, height)
            painter.drawRoundedRect(box, corner, corner)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Link), 2.0))
            painter.drawRoundedRect(box.adjusted(1, 1, -1, -1), corner - 1, corner - 1)
            painter.setPen(self.palette().color(QPalette.ColorRole.PlaceholderText))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, sentence("card-drawn", {}))


class CardDialog(QDialog):
    """Asks for the size of the card on the screen it is on; `give` gets logical px a mm, and that screen."""

    def __init__(self, px_per_mm: float, give: Callable[[float, QScreen], None], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("True size on this screen")
        self._give = give
        self.card = _Card()
        self.slider = QSlider(Qt.Orientation.Horizontal)
        most = most_dpi(self.screen().availableSize())
        self.slider.setRange(_LEAST * _STEPS_PER_DPI, most * _STEPS_PER_DPI)
        self.slider.setPageStep(_BROAD_STEPS)
        self.slider.setAccessibleName("Size of the drawn card")
        self.slider.valueChanged.connect(self._slid)
        self.figure = QLabel()
        self.figure.setProperty("role", "muted")
        self.figure.setFont(figures_font())
        buttons = QDialogButtonBox()
        buttons.addButton("They match", QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton("Cancel", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self._match)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 12)
        column.setSpacing(10)
        column.addWidget(label(sentence("card-hold", {})))
        column.addWidget(self.card, 1)
        column.addWidget(self.slider)
        column.addWidget(self.figure)
        column.addWidget(buttons)
        # Room for the largest card that a usual screen asks for, so that the dialog stays as it is under the hand.
        self.card.setMinimumSize(QSize(480, 300))
        self.slider.setValue(round(px_per_mm * _MM_PER_INCH * _STEPS_PER_DPI))
        self._slid(self.slider.value())
        self.slider.setFocus()

    @property
    def px_per_mm(self) -> float:
        """Logical pixels per millimetre as the slider has it."""
        return self.slider.value() / _STEPS_PER_DPI / _MM_PER_INCH

    def _slid(self, _value: int) -> None:
        self.card.px_per_mm = self.px_per_mm
        needed = QSize(*(int(side * self.px_per_mm) + 8 for side in CARD_MM))
        self.card.setMinimumSize(self.card.minimumSize().expandedTo(needed))
        self.card.update()
        self.figure.setText(sentence("card-figure", {"dpi": f"{self.px_per_mm * _MM_PER_INCH:.2f}"}))

    def _match(self) -> None:
        self._give(self.px_per_mm, self.screen())
        self.accept()
