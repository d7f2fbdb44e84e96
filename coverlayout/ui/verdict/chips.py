"""The signs of the verdicts, and the rungs of the ladder as small buttons that carry them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton

from coverlayout.ui.fields.entry import set_state
from coverlayout.ui.theme import SIZES_PX, Theme, text_font

__all__ = ["CHIP_PX", "Chip", "ChipButton", "State", "Symbol", "draw_symbol", "name_lines"]

CHIP_PX = 122

Symbol = Literal["tick", "half ring", "cross", "dots", "ring", "pin", "corner", "struck"]
State = Literal["fits", "tight", "no", "muted"]


def draw_symbol(painter: QPainter, symbol: Symbol, box: QRectF, color: QColor) -> None:
    """The sign of a verdict in one colour: its shape alone tells it."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(color, 2.0, Qt.PenStyle.DotLine if symbol == "dots" else Qt.PenStyle.SolidLine))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    ring = box.adjusted(2, 2, -2, -2)
    if symbol == "corner":
        # A piece that is cut lies there for good: a square with solid corners, no ring.
        painter.drawRect(ring)
        for corner, x, y in ((ring.topLeft(), 1, 1), (ring.bottomRight(), -1, -1)):
            arm = ring.width() * 0.62
            path = QPainterPath(corner)
            path.lineTo(corner + QPointF(x * arm, 0))
            path.lineTo(corner + QPointF(0, y * arm))
            path.closeSubpath()
            painter.fillPath(path, color)
        painter.restore()
        return
    painter.drawEllipse(ring)
    middle, size = ring.center(), ring.width() / 2
    mark = QPen(color, 2.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    painter.setPen(mark)
    if symbol == "tick":
        path = QPainterPath(middle + QPointF(-0.45, 0.05) * size)
        path.lineTo(middle + QPointF(-0.1, 0.4) * size)
        path.lineTo(middle + QPointF(0.48, -0.35) * size)
        painter.drawPath(path)
    elif symbol == "cross":
        for sign in (1, -1):
            painter.drawLine(middle + QPointF(-0.35, -0.35 * sign) * size, middle + QPointF(0.35, 0.35 * sign) * size)
    elif symbol == "pin":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(color)
        painter.drawEllipse(middle, size * 0.5, size * 0.5)
    elif symbol == "struck":
        painter.drawLine(middle + QPointF(-0.6, 0.6) * size, middle + QPointF(0.6, -0.6) * size)
    elif symbol == "half ring":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(color)
        painter.drawPie(ring.adjusted(4, 4, -4, -4), 90 * 16, 180 * 16)
    painter.restore()


@dataclass(frozen=True)
class Chip:
    """One rung of the ladder as the bar shows it."""

    name: str
    word: str
    state: State
    symbol: Symbol
    tip: str
    least: bool = False


class ChipButton(QPushButton):
    """A rung: name above in one line or two, verdict with its sign below."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.chip = Chip("", "", "muted", "ring", "")
        self.setFixedSize(QSize(CHIP_PX, 50))

    def show_chip(self, chip: Chip) -> None:
        """Show another rung."""
        self.chip = chip
        self.setToolTip(chip.tip)
        self.setAccessibleName(f"{chip.name}: {chip.word}")
        set_state(self, chip.state)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Thicker edge round the least cut that holds the job."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            color = self.theme.color(self.chip.state)
            width = 2.0 if self.chip.least else 1.0
            edge = self.theme.color("accent") if self.hasFocus() else color
            painter.setPen(QPen(edge, width + self.hasFocus()))
            painter.setBrush(self.theme.color("field"))
            painter.drawRoundedRect(QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5), 4, 4)
            font = text_font(SIZES_PX.small, bold=self.chip.least)
            painter.setFont(font)
            painter.setPen(self.theme.color("ink"))
            lines = name_lines(self.chip.name, font, self.width() - 10)
            top = 9 if len(lines) == 1 else 4
            for at, line in enumerate(lines):
                painter.drawText(QRectF(0, top + 13 * at, self.width(), 14), Qt.AlignmentFlag.AlignCenter, line)
            painter.setPen(color)
            word = painter.fontMetrics().horizontalAdvance(self.chip.word)
            left = (self.width() - word - 16) / 2
            draw_symbol(painter, self.chip.symbol, QRectF(left - 3, 31, 16, 16), color)
            painter.drawText(QRectF(left + 17, 31, word + 2, 16), Qt.AlignmentFlag.AlignVCenter, self.chip.word)


def name_lines(name: str, font: QFont, width_px: float) -> list[str]:
    """The name of a cut in at most two lines, broken at a comma where that does, else between words.

    What is too long even so ends in dots.
    """
    metrics = QFontMetricsF(font)
    words = name.split(" ")
    ways = [(" ".join(words[:at]), " ".join(words[at:])) for at in range(len(words), 0, -1)]
    fitting = [way for way in ways if all(metrics.horizontalAdvance(part) <= width_px for part in way)]
    whole = [way for way in fitting if not way[1] or way[0].endswith(",")]
    filled = [way for way in ways if metrics.horizontalAdvance(way[0]) <= width_px]
    parts = next(iter(whole or fitting or filled or ways))
    return [metrics.elidedText(part, Qt.TextElideMode.ElideRight, width_px) for part in parts if part]
