"""True size on this screen: hold a bank-size card to the screen and drag the drawn card until the two are one."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QSlider, QVBoxLayout, QWidget

from coverlayout.ui.fields.entry import label

__all__ = ["CARD_MM", "CardDialog"]

# ISO/IEC 7810, card size ID-1 (bank and identity cards).
CARD_MM = (85.60, 53.98)
# Screens from 50 to 350 dots to the inch.
_LEAST, _MOST = 50, 350
_STEPS_PER_DPI = 4


class _Card(QWidget):
    """The drawn card, as large as the present guess makes it."""

    def __init__(self) -> None:
        super().__init__()
        self.px_per_mm = 4.0
        self.setMinimumSize(420, 270)

    def paintEvent(self, event: QPaintEvent) -> None:
        """A card with round corners from the top left."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(QPen(self.palette().color(QPalette.ColorRole.Link), 2.0))
            painter.setBrush(self.palette().color(QPalette.ColorRole.Base))
            width, height = (side * self.px_per_mm for side in CARD_MM)
            corner = 3.18 * self.px_per_mm
            painter.drawRoundedRect(QRectF(2, 2, width, height), corner, corner)
            painter.setPen(self.palette().color(QPalette.ColorRole.PlaceholderText))
            painter.drawText(QRectF(2, 2, width, height), Qt.AlignmentFlag.AlignCenter, "your card")


class CardDialog(QDialog):
    """Asks for the size of the card on this screen; `give` gets logical pixels per millimetre."""

    def __init__(self, px_per_mm: float, give: Callable[[float], None], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("True size on this screen")
        self._give = give
        self.card = _Card()
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setRange(_LEAST * _STEPS_PER_DPI, _MOST * _STEPS_PER_DPI)
        self.slider.setAccessibleName("Size of the drawn card")
        self.slider.valueChanged.connect(self._slid)
        buttons = QDialogButtonBox()
        buttons.addButton("They match", QDialogButtonBox.ButtonRole.AcceptRole)
        buttons.addButton("Cancel", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self._match)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 12)
        words = "Hold a bank or identity card to the screen. Move the slider until the drawn card is as large as yours."
        column.addWidget(label(words))
        column.addWidget(self.card, 1)
        column.addWidget(self.slider)
        column.addWidget(buttons)
        self.slider.setValue(round(px_per_mm * 25.4 * _STEPS_PER_DPI))
        self._slid(self.slider.value())

    @property
    def px_per_mm(self) -> float:
        """Logical pixels per millimetre as the slider has it."""
        return self.slider.value() / _STEPS_PER_DPI / 25.4

    def _slid(self, _value: int) -> None:
        self.card.px_per_mm = self.px_per_mm
        self.card.setMinimumSize(*(int(side * self.px_per_mm) + 8 for side in CARD_MM))
        self.card.update()

    def _match(self) -> None:
        self._give(self.px_per_mm)
        self.accept()
