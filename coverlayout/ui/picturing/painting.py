"""Paints the parts of a drawn book: shapes by what they are, measures with their words, samples for the key."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPainterPath, QPen

from coverlayout.book.picturing.shapes import Role, Shape, Words
from coverlayout.geometry.frames import Affine
from coverlayout.ui.picturing.colours import AREAS, ink_of
from coverlayout.ui.picturing.fitting import Fitted
from coverlayout.ui.picturing.labels import PlacedMeasure
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font

__all__ = ["paint_measure", "paint_sample", "paint_shapes", "paint_words"]

_TICK_PX, _TINT_SHARE = 4.0, 0.14
# In a small picture lines are so much finer, and cloth that lies flat is so full.
_FINE_SHARE, _FULL_SHARE = 0.6, 0.7


def paint_shapes(
    painter: QPainter,
    shapes: tuple[Shape, ...],
    to_px: Affine,
    px_per_mm: float,
    theme: Theme,
    *,
    small: bool = False,
) -> None:
    """Paint shapes in their order, each in the pen and fill of its role; `small`: finer lines, fuller colours."""
    for shape in shapes:
        ink = ink_of(shape.role, theme)
        path = QPainterPath(QPointF(*to_px.at(shape.points_mm[0])))
        for point in shape.points_mm[1:]:
            path.lineTo(QPointF(*to_px.at(point)))
        fill = ink.fill_color if shape.closed else None
        if shape.closed:
            path.closeSubpath()
        if fill is not None:
            if small and shape.role in AREAS:
                fill.setAlphaF(_FULL_SHARE)
            painter.fillPath(path, fill)
        # Cloth that lies flat is an area; its edge is the line the knife follows.
        if not (shape.closed and shape.role in AREAS):
            painter.strokePath(path, ink.pen(px_per_mm, _FINE_SHARE if small else 1.0))


def paint_words(painter: QPainter, words: tuple[Words, ...], fit: Fitted, theme: Theme) -> None:
    """Words on the book itself, left out where they have no room or would lie on a figure."""
    font = figures_font(SIZES_PX.small)
    metrics = QFontMetricsF(font)
    painter.setFont(font)
    painter.setPen(theme.color("ink"))
    for each in words:
        x, y = fit.to_px.at(each.at_mm)
        width, height = metrics.horizontalAdvance(each.text), metrics.height()
        box = QRectF(x - width / 2, y - height / 2, width, height)
        has_room = width + 6 <= each.room_mm * fit.px_per_mm
        if has_room and not any(box.intersects(placed.words) for placed in fit.placed):
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, each.text)


def paint_measure(painter: QPainter, placed: PlacedMeasure, theme: Theme, text_px: int, *, pointed: bool) -> None:
    """A measure: helping lines, its line with ticks, its words; `pointed` picks it out, an unusual figure warns."""
    token = "accent" if pointed else "tight" if placed.measure.unusual else "muted"
    if pointed:
        _fill_measured(painter, placed, theme)
    painter.setPen(QPen(theme.color(token, 0.9 if pointed else 0.4), 1.0))
    painter.drawLines(list(placed.helping))
    painter.setPen(QPen(theme.color(token), 2.0 if pointed else 1.0))
    painter.drawLines(_lines(placed))
    if placed.in_line:
        painter.fillRect(
            placed.words.adjusted(-1, -3, 1, 3) if placed.upward else placed.words.adjusted(-4, -1, 4, 1),
            theme.color("field"),
        )
    painter.setFont(figures_font(text_px, bold=pointed))
    painter.setPen(theme.color("ink" if token == "muted" else token))
    _write(painter, placed.words, placed.text, upward=placed.upward)


def _fill_measured(painter: QPainter, placed: PlacedMeasure, theme: Theme) -> None:
    """Tint what lies between both helping lines, so that it is plain to see what is measured."""
    first, second = placed.helping
    corners = [first.p1(), first.p2(), second.p2(), second.p1()]
    path = QPainterPath(corners[0])
    for corner in corners[1:]:
        path.lineTo(corner)
    path.closeSubpath()
    painter.fillPath(path, theme.color("accent", _TINT_SHARE))


def _lines(placed: PlacedMeasure) -> list[QLineF]:
    """The line with a tick at each end; where it goes on round an edge, the tick is at the end of that."""
    line, bend = placed.line, placed.bend
    if bend is None:
        return [line, *_ticks(line)]
    straight = [tick for tick in _ticks(line) if abs(tick.x1() - bend.x1()) > 0.5]
    return [line, *straight, bend, _ticks(bend)[1]]


def _ticks(line: QLineF) -> list[QLineF]:
    """A short stroke across each end."""
    level = abs(line.dy()) < abs(line.dx()) or line.length() == 0
    across = QPointF(0, _TICK_PX) if level else QPointF(_TICK_PX, 0)
    return [QLineF(end - across, end + across) for end in (line.p1(), line.p2())]


def _write(painter: QPainter, box: QRectF, text: str, *, upward: bool) -> None:
    flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextDontClip
    if not upward:
        painter.drawText(box, flags, text)
        return
    painter.save()
    painter.translate(box.center())
    painter.rotate(-90)
    painter.drawText(QRectF(-box.height() / 2, -box.width() / 2, box.height(), box.width()), flags, text)
    painter.restore()


def paint_sample(painter: QPainter, box: QRectF, role: Role, theme: Theme, *, filled: bool) -> None:
    """An area where the picture has areas of it, else its line; what is a thin frame in the picture is one here."""
    ink = ink_of(role, theme)
    edge = box.adjusted(1, 0, -1, 0)
    if role == "head":
        middle, reach = box.center(), box.height() / 2
        wedge = QPainterPath(middle + QPointF(0, -reach))
        wedge.lineTo(middle + QPointF(reach, reach))
        wedge.lineTo(middle + QPointF(-reach, reach))
        painter.fillPath(wedge, theme.color("ink"))
        return
    if filled and ink.fill_color is not None:
        painter.fillRect(edge, ink.fill_color)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(ink.pen(1.0))
    if filled and role in AREAS:
        return
    if filled or role in ("board", "hidden"):
        painter.drawRect(edge)
    else:
        painter.drawLine(QPointF(box.left(), box.center().y()), QPointF(box.right(), box.center().y()))
