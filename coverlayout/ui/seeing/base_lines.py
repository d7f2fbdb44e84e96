"""The base lines on the canvas: long dashes with a dot where measuring starts, and a name beside the cloth."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from coverlayout.cloth.base_line import base_line_now
from coverlayout.cloth.cloth import Cloth
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import bounds
from coverlayout.ui.painting.captions import caption_of
from coverlayout.ui.painting.cloths import Drawing, rect_of
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.table.bench import Sheet
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, Theme, halo, pen, text_font

__all__ = ["LINE_INK", "name_box", "paint_base_lines", "paint_line"]

# Like all lines on the print it lies under a light halo, in both looks.
LINE_INK = QColor("#1F4E79")
_ON_INK = QColor("#FFFFFF")
_DOT_PX = 5.0
_END_PX = 7.0
_ARROW_PX = 12.0
# Words keep so far from the edge of their cloth, and from words beside them.
_EDGE_PX, _APART_PX = 5.0, 12.0


def paint_base_lines(painter: QPainter, scene: Scene) -> None:
    """The base line of every cloth that has one; none where only the covers are seen.

    The name stands beside the cloth: on it there is always something that it would hide.
    """
    drawing = scene.drawing
    for sheet, cloth in () if drawing.covers_only else drawing.cloths():
        line = base_line_now(cloth)
        if line is not None:
            by = drawing.sheet_map(sheet)
            measured = cloth.base_line is not None and cloth.base_line.measured_from
            words = sentence("base-line-measured" if measured else "base-line", {})
            name = name_box(drawing, sheet, cloth, by.at(line[0]), words)
            if painter.hasClipping() and not _reach(by.ring(line)).united(name).intersects(painter.clipBoundingRect()):
                continue
            paint_line(painter, drawing.theme, by.at(line[0]), by.at(line[1]))
            _paint_name(painter, name, words)


def _reach(line_px: Ring) -> QRectF:
    """The pixels that a line may touch."""
    return rect_of(bounds(line_px)).adjusted(-_END_PX - 4, -_END_PX - 4, _END_PX + 4, _END_PX + 4)


def name_box(drawing: Drawing, sheet: Sheet, cloth: Cloth, start_px: Point, words: str) -> QRectF:
    """Where the line's name stands: above the cloth by its start, beside the cloth's own name, else below the cloth."""
    left, top = drawing.to_screen.at((sheet.box.left_mm, sheet.box.top_mm))
    right, bottom = drawing.to_screen.at((sheet.box.right_mm, sheet.box.bottom_mm))
    metrics = QFontMetricsF(_font())
    width, height = metrics.horizontalAdvance(words) + 12, metrics.height() + 4
    caption = caption_of(cloth, drawing.project.preferences.length_style)
    free = left + QFontMetricsF(text_font(SIZES_PX.small)).horizontalAdvance(caption) + _APART_PX
    at = max(start_px[0] - width / 2, free)
    if at + width <= right and start_px[1] <= (top + bottom) / 2:
        return QRectF(at, top - _EDGE_PX - height, width, height)
    return QRectF(max(min(start_px[0] - width / 2, right - width), left), bottom + _EDGE_PX, width, height)


def paint_line(painter: QPainter, theme: Theme, start_px: Point, end_px: Point) -> None:
    """One line from its start to its end, in canvas pixels."""
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
    painter.restore()


def _paint_end(painter: QPainter, theme: Theme, start: QPointF, end: QPointF) -> None:
    """A ring round the motif at the far end, and an arrow that points to it: this way along is counted."""
    way = QLineF(start, end)
    if way.length() < 1:
        return
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for made in (QPen(theme.color("halo"), 4.5), QPen(LINE_INK, 2.0)):
        painter.setPen(made)
        painter.drawEllipse(end, _DOT_PX, _DOT_PX)
    if way.length() < 2 * (_DOT_PX + _ARROW_PX):
        return
    along = QPointF(way.dx(), way.dy()) / way.length()
    across = QPointF(-along.y(), along.x()) * (_ARROW_PX / 2)
    tip = end - along * (_DOT_PX + 1)
    foot = tip - along * _ARROW_PX
    painter.setPen(QPen(theme.color("halo"), 1.5))
    painter.setBrush(LINE_INK)
    painter.drawPolygon(QPolygonF([tip, foot + across, foot - across]))


def _font() -> QFont:
    return text_font(SIZES_PX.small, bold=True)


def _paint_name(painter: QPainter, box: QRectF, words: str) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(LINE_INK)
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    painter.setPen(_ON_INK)
    painter.setFont(_font())
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
    painter.restore()
