"""Small drawings beside the numbers, painted from the numbers themselves: they follow as one types."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QSizePolicy, QWidget

from coverlayout.ui.theme import SIZES_PX, figures_font

__all__ = ["Drawing"]


class Drawing(QWidget):
    """Paper to draw on in the panel's colours; says in words what it shows."""

    def __init__(self, height_px: int, name: str) -> None:
        super().__init__()
        self.setFixedHeight(height_px)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(name)

    def sizeHint(self) -> QSize:
        """Wide enough for a panel."""
        return QSize(240, self.height())

    def color(self, role: QPalette.ColorRole, alpha: float = 1.0) -> QColor:
        """A colour of the look in force."""
        color = QColor(self.palette().color(role))
        color.setAlphaF(alpha)
        return color

    def paintEvent(self, event: QPaintEvent) -> None:
        """A quiet field, then the drawing."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setFont(figures_font(SIZES_PX.small))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self.color(QPalette.ColorRole.Base))
            painter.drawRoundedRect(QRectF(self.rect()), 4, 4)
            self.draw(painter)

    def draw(self, painter: QPainter) -> None:
        """Draw; each drawing its own."""
        raise NotImplementedError
