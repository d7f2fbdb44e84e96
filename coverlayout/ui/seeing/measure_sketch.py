"""A measure as it is drawn: the line, its way across and along, and their figures. Worked out first, then painted."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from coverlayout.errors import sentence
from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.measuring.catching import Caught
from coverlayout.layout.measuring.measure import Measure
from coverlayout.ui.painting.names import CHOSEN, INK, paint_chip
from coverlayout.ui.theme import SIZES_PX, text_font
from coverlayout.units import LengthStyle

__all__ = ["MeasureSketch", "catch_area", "paint_catch", "sketched"]

_WHITE = QColor("#FFFFFF")
_HALO = QColor(255, 255, 255, 205)
_TICK_PX, _CATCH_PX = 7.0, 6.0
_CLEAR_PX = 16.0
# A way shorter than this on the screen has no room for a figure of its own; the words above the canvas still give it.
_LEAST_LEG_PX = 22.0


@dataclass(frozen=True)
class _Figure:
    middle: QPointF
    text: str
    size_px: int

    @property
    def area(self) -> QRectF:
        metrics = QFontMetricsF(text_font(self.size_px, bold=True))
        width, height = metrics.horizontalAdvance(self.text) + 16, metrics.height() + 8
        return QRectF(self.middle.x() - width / 2, self.middle.y() - height / 2, width, height)


@dataclass(frozen=True)
class MeasureSketch:
    """Lines in pixels: the measure itself, and its ways across and along where it leans."""

    line: QLineF
    legs: tuple[QLineF, ...]
    figures: tuple[_Figure, ...]

    @property
    def area(self) -> QRectF:
        """The pixels it touches."""
        box = QRectF(self.line.p1(), self.line.p2()).normalized()
        for leg in self.legs:
            box = box.united(QRectF(leg.p1(), leg.p2()).normalized())
        box = box.adjusted(-_TICK_PX - 3, -_TICK_PX - 3, _TICK_PX + 3, _TICK_PX + 3)
        for figure in self.figures:
            box = box.united(figure.area)
        return box

    def paint(self, painter: QPainter) -> None:
        """Lines over light halos, then the figures."""
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        flat = Qt.PenCapStyle.FlatCap
        lines = [self.line, *_ticks(self.line)]
        painter.setPen(QPen(_HALO, 3.5))
        painter.drawLines([*self.legs, *lines])
        painter.setPen(QPen(INK, 1.2, Qt.PenStyle.DotLine, flat))
        painter.drawLines(list(self.legs))
        painter.setPen(QPen(CHOSEN, 2.0, Qt.PenStyle.SolidLine, flat))
        painter.drawLines(lines)
        for figure in self.figures:
            ground = CHOSEN if figure is self.figures[0] else INK
            paint_chip(painter, figure.middle, figure.text, ground, _WHITE, size_px=figure.size_px)


def sketched(measure: Measure, to_screen: Affine, style: LengthStyle, off_deg: float) -> MeasureSketch:
    """The drawing of a measure given in the frame that `to_screen` leads from; `off_deg` is the angle to tell of it."""
    start, end, corner = (QPointF(*to_screen.at(at)) for at in (measure.start_mm, measure.end_mm, measure.corner_mm))
    away = _away((start.x(), start.y()), (end.x(), end.y()), (corner.x(), corner.y()))
    text = sentence("measuring-chip", {"length_mm": measure.length_mm, "lean": f"{off_deg:.1f}"}, style.show)
    main = _Figure(_clear_of((start + end) / 2, away, text, SIZES_PX.text), text, SIZES_PX.text)
    if min(measure.across_mm, measure.along_mm) <= SAME_LENGTH_MM:
        return MeasureSketch(QLineF(start, end), (), (main,))
    figures = [main]
    for leg, code, length_mm, other in (
        (QLineF(start, corner), "measuring-across", measure.across_mm, end),
        (QLineF(corner, end), "measuring-along", measure.along_mm, start),
    ):
        if leg.length() >= _LEAST_LEG_PX:
            words = sentence(code, {"length": style.number(length_mm)})
            ends = ((leg.x1(), leg.y1()), (leg.x2(), leg.y2()))
            beside = _clear_of(leg.center(), _away(*ends, (other.x(), other.y())), words, SIZES_PX.small)
            figures.append(_Figure(beside, words, SIZES_PX.small))
    return MeasureSketch(QLineF(start, end), (QLineF(start, corner), QLineF(corner, end)), tuple(figures))


def _away(start: Point, end: Point, from_px: Point) -> Point:
    """The direction straight off a line, away from a place beside it; upward off a line without length."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy)
    if length < 0.5:
        return 0.0, -1.0
    x, y = -dy / length, dx / length
    side = (from_px[0] - start[0]) * x + (from_px[1] - start[1]) * y
    # On the line itself there is no side: above it, or to the right of one that runs down.
    if abs(side) < 0.5:
        side = y if abs(y) > abs(x) else -x
    return (-x, -y) if side > 0 else (x, y)


def _clear_of(middle: QPointF, away: Point, text: str, size_px: int) -> QPointF:
    """Beside the middle of a line, so far off that the figure does not lie on it."""
    width = QFontMetricsF(text_font(size_px, bold=True)).horizontalAdvance(text) / 2 + 10
    reach = max(abs(away[0]) * width, abs(away[1]) * _CLEAR_PX)
    return middle + QPointF(away[0] * reach, away[1] * reach)


def _ticks(line: QLineF) -> list[QLineF]:
    """A short stroke straight across each end."""
    if line.length() < 0.5:
        return []
    across = QPointF(-line.dy(), line.dx()) * (_TICK_PX / line.length())
    return [QLineF(end - across, end + across) for end in (line.p1(), line.p2())]


def catch_area(at_px: Point) -> QRectF:
    """The pixels that the mark of a caught place touches."""
    reach = _CATCH_PX + 4
    return QRectF(at_px[0] - reach, at_px[1] - reach, 2 * reach, 2 * reach)


def paint_catch(painter: QPainter, found: Caught, to_screen: Affine) -> None:
    """The place that would catch: a square at a corner, a ring at an edge."""
    at = QPointF(*to_screen.at(found.at_mm))
    box = QRectF(at.x() - _CATCH_PX, at.y() - _CATCH_PX, 2 * _CATCH_PX, 2 * _CATCH_PX)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for color, width in ((_HALO, 4.0), (CHOSEN, 2.0)):
        painter.setPen(QPen(color, width))
        if found.kind == "corner":
            painter.drawRect(box)
        else:
            painter.drawEllipse(box)
