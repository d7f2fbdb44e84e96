"""Guides that caught, on the screen: worked out first, then painted; each kind has a line of its own and its name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from coverlayout.geometry.frames import Affine, Point
from coverlayout.layout.guiding.guide import Guide, GuideKind, Line
from coverlayout.ui.theme import CORNER_PX, LIGHT, SIZES_PX, text_font
from coverlayout.units import LengthStyle

__all__ = ["GuideMark", "marks_of", "paint_guide_names", "paint_guides"]

# On a print, as for all lines there, the colours are the same in both looks.
_INK = QColor(LIGHT.accent)
_GROUND = QColor("#FFFFFF")
_HALO = QColor(255, 255, 255, 215)
# Dashes in line widths: what the knife follows is drawn through, middles as centre lines, common lines dashed.
_DASHES: dict[GuideKind, tuple[float, ...]] = {
    "middle-cloth": (9.0, 3.0, 2.0, 3.0),
    "middle-ground": (9.0, 3.0, 2.0, 3.0),
    "middle": (9.0, 3.0, 2.0, 3.0),
    "level": (5.0, 3.0),
    "boards": (5.0, 3.0),
    "anchor": (5.0, 3.0),
}
_CROSS_PX = 9.0
_AWAY_PX = 6.0
# A slanted line is painted anew in parts of about this breadth.
_SLANTED_PX = 24.0
# Steps of two pixels that a name goes to find room.
_TRIES = 40


@dataclass(frozen=True)
class GuideMark:
    """One guide on the screen, in pixels: its lines, the places it marks, its name and where that stands."""

    kind: GuideKind
    lines_px: tuple[Line, ...]
    marks_px: tuple[Point, ...]
    text: str
    box: tuple[float, float, float, float]

    def areas(self) -> list[QRectF]:
        """The pixels it touches."""
        lines = [box for line in self.lines_px for box in _boxes_along(line)]
        marks = [QRectF(x, y, 0, 0).adjusted(-_CROSS_PX, -_CROSS_PX, _CROSS_PX, _CROSS_PX) for x, y in self.marks_px]
        return [each.adjusted(-3, -3, 3, 3) for each in (*lines, *marks, QRectF(*self.box))]


def _boxes_along(line: Line) -> list[QRectF]:
    """Boxes that hold a line; a slanted one is held by several, so that together they are small."""
    (x0, y0), (x1, y1) = line
    parts = 1 + int(min(abs(x1 - x0), abs(y1 - y0)) / _SLANTED_PX)
    ends = [QPointF(x0 + (x1 - x0) * k / parts, y0 + (y1 - y0) * k / parts) for k in range(parts + 1)]
    return [QRectF(start, end).normalized() for start, end in pairwise(ends)]


def marks_of(
    guides: Iterable[Guide],
    to_screen: Affine,
    style: LengthStyle,
    carried: QRectF,
    *,
    seen: QRectF,
    taken: Iterable[QRectF] = (),
) -> tuple[GuideMark, ...]:
    """The guides given in the frame that `to_screen` leads from, their names beside the `carried` pieces.

    Names stay within what is `seen`, and cover neither each other nor what is `taken` already, where there is room.
    """
    boxes = list(taken)
    marks: list[GuideMark] = []
    for guide in guides:
        lines = tuple((to_screen.at(start), to_screen.at(end)) for start, end in guide.lines_mm)
        places = tuple(to_screen.at(place) for place in guide.marks_mm)
        text = guide.says.text(style.show)
        box = _clear_of(boxes, _beside(lines, _size_of(text), carried, seen), carried)
        box = _within(box, seen)
        boxes.append(box)
        corner = box.x(), box.y(), box.width(), box.height()
        marks.append(GuideMark(guide.kind, lines, places, text, corner))
    return tuple(marks)


@lru_cache(maxsize=64)
def _size_of(text: str) -> Point:
    metrics = QFontMetricsF(text_font(SIZES_PX.small, bold=True))
    return metrics.horizontalAdvance(text) + 12, metrics.height() + 4


def _beside(lines: tuple[Line, ...], size: Point, carried: QRectF, seen: QRectF) -> QRectF:
    """The name on the guide's line just outside of the pieces; above them when it has no line."""
    width, height = size
    above, below = carried.top() - _AWAY_PX - height, carried.bottom() + _AWAY_PX
    x, y = carried.center().x() - width / 2, above
    if lines:
        (x0, y0), (x1, y1) = lines[0]
        if abs(x1 - x0) >= abs(y1 - y0):
            left, right = carried.left() - _AWAY_PX - width, carried.right() + _AWAY_PX
            x = left if left >= seen.left() else right
            y = (y0 + y1) / 2 - height / 2
        else:
            x = (x0 + x1) / 2 - width / 2
    if y == above and above < seen.top():
        y = below
    return QRectF(x, y, width, height)


def _clear_of(boxes: list[QRectF], box: QRectF, carried: QRectF) -> QRectF:
    """The box moved away from the pieces, up or down, until it covers none of these."""
    step = -2.0 if box.center().y() < carried.center().y() else 2.0
    for _ in range(_TRIES):
        if not any(box.intersects(each) for each in boxes):
            break
        box = box.translated(0.0, step)
    return box


def _within(box: QRectF, seen: QRectF) -> QRectF:
    left = max(seen.left() + 2, min(box.left(), seen.right() - box.width() - 2))
    top = max(seen.top() + 2, min(box.top(), seen.bottom() - box.height() - 2))
    return QRectF(left, top, box.width(), box.height())


def paint_guides(painter: QPainter, marks: Iterable[GuideMark]) -> None:
    """The lines over a halo, then the places marked by crosses."""
    marks = tuple(marks)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    for mark in marks:
        _paint_lines(painter, mark)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for mark in marks:
        _paint_crosses(painter, mark)


def paint_guide_names(painter: QPainter, marks: Iterable[GuideMark]) -> None:
    """The names, over all lines."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setFont(text_font(SIZES_PX.small, bold=True))
    for mark in marks:
        box = QRectF(*mark.box)
        painter.setPen(QPen(_INK, 1.0))
        painter.setBrush(_GROUND)
        painter.drawRoundedRect(box.adjusted(0.5, 0.5, -0.5, -0.5), CORNER_PX, CORNER_PX)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, mark.text)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _paint_lines(painter: QPainter, mark: GuideMark) -> None:
    dashes = _DASHES.get(mark.kind)
    pen = QPen(_INK, 1.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)
    if dashes:
        pen.setDashPattern(list(dashes))
    for (x0, y0), (x1, y1) in mark.lines_px:
        (left, right), (top, bottom) = sorted((round(x0), round(x1))), sorted((round(y0), round(y1)))
        level = min(right - left, bottom - top) == 0
        bar = QRectF(left, top, max(right - left, 1), max(bottom - top, 1))
        # Filling a bar is far quicker than stroking a broad line.
        if level:
            painter.fillRect(bar.adjusted(-1, -1, 1, 1), _HALO)
        else:
            painter.setPen(QPen(_HALO, 3.0))
            painter.drawLine(QLineF(x0, y0, x1, y1))
        if level and not dashes:
            painter.fillRect(bar, _INK)
        else:
            painter.setPen(pen)
            painter.drawLine(QLineF(left, top, right, bottom) if level else QLineF(x0, y0, x1, y1))


def _paint_crosses(painter: QPainter, mark: GuideMark) -> None:
    reach = _CROSS_PX - 2
    for x, y in mark.marks_px:
        lines = [QLineF(x - reach, y, x + reach, y), QLineF(x, y - reach, x, y + reach)]
        for color, width in ((_HALO, 4.0), (_INK, 1.5)):
            painter.setPen(QPen(color, width))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(QPointF(x, y), reach / 2, reach / 2)
            painter.drawLines(lines)
