"""The base lines on the canvas: long dashes with a dot where measuring starts, and a name at it."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from coverlayout.cloth.base_line import base_line_now
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import bounds
from coverlayout.ui.painting.cloths import rect_of
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, Theme, halo, pen, text_font

__all__ = ["LINE_INK", "paint_base_lines", "paint_line"]

# Like all lines on the print it lies under a light halo, in both looks.
LINE_INK = QColor("#1F4E79")
_ON_INK = QColor("#FFFFFF")
_DOT_PX = 5.0
_END_PX = 7.0
# How far the words at the start reach, to either side and up.
_WORDS_PX, _UP_PX = 240.0, 40.0


def paint_base_lines(painter: QPainter, scene: Scene) -> None:
    """The base line of every cloth that has one."""
    for sheet, cloth in scene.drawing.cloths():
        line = base_line_now(cloth)
        if line is not None:
            by = scene.drawing.sheet_map(sheet)
            if painter.hasClipping() and not _reach(by.ring(line)).intersects(painter.clipBoundingRect()):
                continue
            measured = cloth.base_line is not None and cloth.base_line.measured_from
            words = sentence("base-line-measured" if measured else "base-line", {})
            paint_line(painter, scene.drawing.theme, by.at(line[0]), by.at(line[1]), words)


def _reach(line_px: Ring) -> QRectF:
    """The pixels that a line and its words may touch."""
    return rect_of(bounds(line_px)).adjusted(-_WORDS_PX, -_UP_PX, _WORDS_PX, _END_PX + 4)


def paint_line(painter: QPainter, theme: Theme, start_px: Point, end_px: Point, words: str) -> None:
    """One line from its start to its end, in canvas pixels, with its words at the start."""
    start, end = QPointF(*start_px), QPointF(*end_px)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(halo("base line", theme))
    painter.drawLine(start, end)
    painter.setPen(pen("base line", LINE_INK, 2.0))
    painter.drawLine(start, end)
    painter.setPen(QPen(theme.color("halo"), 2.0))
    painter.setBrush(LINE_INK)
    painter.drawEllipse(start, _DOT_PX, _DOT_PX)
    _paint_end(painter, theme, start, end)
    if words:
        _paint_words(painter, start, start_px[0] <= end_px[0], words)
    painter.restore()


def _paint_end(painter: QPainter, theme: Theme, start: QPointF, end: QPointF) -> None:
    """A ring round the motif at the far end, and a bar across it."""
    way = QLineF(start, end)
    if way.length() < 1:
        return
    painter.setBrush(Qt.BrushStyle.NoBrush)
    across = way.normalVector().unitVector()
    reach = QPointF(across.dx(), across.dy()) * _END_PX
    for made in (QPen(theme.color("halo"), 4.5), QPen(LINE_INK, 2.0)):
        painter.setPen(made)
        painter.drawLine(end - reach, end + reach)
        painter.drawEllipse(end, _DOT_PX, _DOT_PX)


def _paint_words(painter: QPainter, start: QPointF, to_right: bool, words: str) -> None:
    """A chip above the start, on the side the line leads to."""
    font = text_font(SIZES_PX.small, bold=True)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(words) + 12, metrics.height() + 4
    left = start.x() + 8 if to_right else start.x() - 8 - width
    box = QRectF(left, start.y() - height - 6, width, height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(LINE_INK)
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    painter.setPen(_ON_INK)
    painter.setFont(font)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
