"""Distances as chips on the line they measure: worked out first, then painted."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.rules import Distance
from coverlayout.ui.theme import SIZES_PX, figures_font
from coverlayout.units import LengthStyle

__all__ = ["Chip", "chips_of", "paint_chips"]

_GROUND = QColor("#1F4E79")
_LEAST_GROUND = QColor("#22252B")
_INK = QColor("#FFFFFF")
_HALO = QColor(255, 255, 255, 205)
_HEIGHT_PX = 18.0


@dataclass(frozen=True)
class Chip:
    """One distance on the screen: its line (pixels), its figure, where the figure stands; `least`: the least of all."""

    from_px: Point
    to_px: Point
    text: str
    box: tuple[float, float, float, float]
    least: bool = False

    def areas(self) -> tuple[QRectF, QRectF]:
        """The pixels it touches: its line with the end ticks, and its figure."""
        line = QRectF(QPointF(*self.from_px), QPointF(*self.to_px)).normalized().adjusted(-7, -7, 7, 7)
        return line, QRectF(*self.box).adjusted(-2, -2, 2, 2)


def chips_of(distances: Iterable[Distance], to_screen: Affine, style: LengthStyle) -> tuple[Chip, ...]:
    """The chips of the distances of a moving piece, given in the frame that `to_screen` leads from.

    A room is shown rounded down, never larger than it is. The nearest distance has a line of its own only where it is
    not one of those to the sides already; that one is marked as the least instead. A flaw may be nearer still.
    """
    sides = [each for each in distances if each.kind != "nearest"]
    nearest = [each for each in distances if each.kind == "nearest"]
    least_mm = nearest[0].length_mm if nearest else -1.0
    doubled = [each for each in sides if _same(each.length_mm, least_mm)]
    metrics = QFontMetricsF(_font())
    shown = sides if doubled else [*sides, *nearest]
    return tuple(_chip(each, to_screen, style, metrics, _same(each.length_mm, least_mm)) for each in shown)


def _same(first_mm: float, second_mm: float) -> bool:
    return abs(first_mm - second_mm) <= SAME_LENGTH_MM


def _font() -> QFont:
    return figures_font(SIZES_PX.small, bold=True)


def _chip(each: Distance, to_screen: Affine, style: LengthStyle, metrics: QFontMetricsF, least: bool) -> Chip:
    start, end = to_screen.at(each.from_mm), to_screen.at(each.to_mm)
    text = style.number(each.length_mm, "down")
    width = max(metrics.horizontalAdvance(text) + 12, 26.0)
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    dx, dy = abs(end[0] - start[0]), abs(end[1] - start[1])
    # On a line too short for its figure the figure stands beside it, so that both can be seen.
    if dx >= dy and dx < width + 8:
        y -= _HEIGHT_PX / 2 + 6
    elif dy > dx and dy < _HEIGHT_PX + 8:
        x += width / 2 + 6
    return Chip(start, end, text, (x - width / 2, y - _HEIGHT_PX / 2, width, _HEIGHT_PX), least)


def paint_chips(painter: QPainter, chips: Iterable[Chip]) -> None:
    """The lines with ticks at their ends, then the figures over all lines."""
    chips = tuple(chips)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    level = [bar for chip in chips for bar in _bars(chip)]
    for bar in level:
        painter.fillRect(bar.adjusted(-1, -1, 1, 1), _HALO)
    for bar in level:
        painter.fillRect(bar, _GROUND)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    slanted = [line for chip in chips if not _is_level(chip) for line in _lines(chip)]
    for color, width in ((_HALO, 3.5), (_GROUND, 1.5)) if slanted else ():
        painter.setPen(QPen(color, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        painter.drawLines(slanted)
    painter.setFont(_font())
    for chip in chips:
        box = QRectF(*chip.box)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(_LEAST_GROUND if chip.least else _GROUND)
        painter.drawRoundedRect(box, _HEIGHT_PX / 2, _HEIGHT_PX / 2)
        painter.setPen(_INK)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, chip.text)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _is_level(chip: Chip) -> bool:
    """True for a line along or across the screen."""
    return min(abs(chip.from_px[0] - chip.to_px[0]), abs(chip.from_px[1] - chip.to_px[1])) < 0.5


def _bars(chip: Chip) -> list[QRectF]:
    """A level line and its end ticks as bars one pixel thick: filling those is far quicker than stroking lines."""
    if not _is_level(chip):
        return []
    (x0, y0), (x1, y1) = chip.from_px, chip.to_px
    (left, right), (top, bottom) = sorted((round(x0), round(x1))), sorted((round(y0), round(y1)))
    if right - left >= bottom - top:
        return [QRectF(left, top, right - left, 1), QRectF(left, top - 5, 1, 11), QRectF(right - 1, top - 5, 1, 11)]
    return [QRectF(left, top, 1, bottom - top), QRectF(left - 5, top, 11, 1), QRectF(left - 5, bottom - 1, 11, 1)]


def _lines(chip: Chip) -> list[QLineF]:
    (x0, y0), (x1, y1) = chip.from_px, chip.to_px
    length = math.hypot(x1 - x0, y1 - y0)
    if length < 0.5:
        return []
    across_x, across_y = -(y1 - y0) / length * 5, (x1 - x0) / length * 5
    return [
        QLineF(x0, y0, x1, y1),
        QLineF(x0 - across_x, y0 - across_y, x0 + across_x, y0 + across_y),
        QLineF(x1 - across_x, y1 - across_y, x1 + across_x, y1 + across_y),
    ]
