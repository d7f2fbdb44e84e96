"""What is measured on the canvas: rulers at its edges, and distances as chips on the line they measure.

Marks and chips are worked out first, then painted.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.rules import Distance
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font
from coverlayout.units import MM_PER_INCH, LengthStyle

__all__ = ["RULER_PX", "Chip", "RulerMark", "chips_of", "paint_chips", "paint_ruler", "ruler_marks"]

RULER_PX = 20

Unit = Literal["mm", "in"]
Size = Literal["long", "middle", "short"]


@dataclass(frozen=True)
class RulerMark:
    """One mark: its place in mm from the ruler's zero, its size, and its figure (only long ones have one)."""

    at_mm: float
    size: Size
    figure: str = ""


# A figure needs this much room, a mark this much, before the steps get coarser.
_FIGURE_ROOM_PX = 48.0
_MARK_ROOM_PX = 5.0
# Steps between figures in inches, from 1/16 to 10 yards; each with the parts it is divided into.
_INCH_STEPS = ((1 / 16, 1), (1 / 8, 2), (1 / 4, 4), (1 / 2, 8), (1, 16), (2, 8), (3, 12), (6, 6), (12, 12), (36, 12))
_FINER = (16, 12, 8, 6, 4, 3, 2, 1)


def ruler_marks(from_mm: float, to_mm: float, px_per_mm: float, unit: Unit = "mm") -> tuple[RulerMark, ...]:
    """The marks between two places, as dense as reads well at `px_per_mm` pixels a millimetre.

    Figures stand on 1, 2 or 5 times a power of ten in mm; on 1/16 to 1 in, 2, 3, 6, 12, 36 in ... in inches. Nothing to
    show (`to_mm` not above `from_mm`) gives no marks.

    >>> [mark.figure for mark in ruler_marks(-5.0, 101.0, 1.0) if mark.figure]
    ['0', '50', '100']
    >>> [mark.figure for mark in ruler_marks(0.0, 26.0, 10.0, "in") if mark.figure]
    ['0', '1/4', '1/2', '3/4', '1']
    """
    if to_mm <= from_mm:
        return ()
    step_mm, parts = _step(px_per_mm, unit)
    fine_mm = step_mm / parts
    first, last = math.ceil(from_mm / fine_mm - 1e-6), math.floor(to_mm / fine_mm + 1e-6)
    half = parts // 2 if parts % 2 == 0 else 0
    return tuple(_mark(number, parts, half, fine_mm, unit) for number in range(first, last + 1))


def _mark(number: int, parts: int, half: int, fine_mm: float, unit: Unit) -> RulerMark:
    at_mm = number * fine_mm
    if number % parts == 0:
        return RulerMark(at_mm, "long", _figure(at_mm, unit))
    return RulerMark(at_mm, "middle" if half and number % half == 0 else "short")


def _step(px_per_mm: float, unit: Unit) -> tuple[float, int]:
    """Distance between figures in mm and the number of marks it is divided into."""
    if unit == "mm":
        step = max(_tidy_step(_FIGURE_ROOM_PX / px_per_mm), 1.0)
        most: tuple[int, ...] = (10, 5, 2, 1) if f"{step:e}"[0] != "2" else (20, 10, 4, 2, 1)
    else:
        wanted = _FIGURE_ROOM_PX / px_per_mm / MM_PER_INCH
        inches, finest = next(((s, p) for s, p in _INCH_STEPS if s >= wanted), (0.0, 0))
        if not finest:
            inches, finest = 36 * _tidy_step(wanted / 36), 10
        step, most = inches * MM_PER_INCH, tuple(parts for parts in (*_FINER, 10, 5) if finest % parts == 0)
    fitting = [parts for parts in most if step / parts * px_per_mm >= _MARK_ROOM_PX]
    if unit == "mm":
        fitting = [parts for parts in fitting if step / parts >= 1.0]
    return step, max(fitting, default=1)


def _tidy_step(wanted: float) -> float:
    """The smallest of 1, 2, 5 times a power of ten that is at least `wanted`."""
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(times * power for times in (1, 2, 5, 10) if times * power >= wanted * (1 - 1e-9))


def _figure(at_mm: float, unit: Unit) -> str:
    if unit == "mm":
        return f"{round(at_mm)}"
    sixteenths = round(at_mm / MM_PER_INCH * 16)
    whole, rest = divmod(abs(sixteenths), 16)
    sign = "-" if sixteenths < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    shared = math.gcd(rest, 16)
    fraction = f"{rest // shared}/{16 // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


_LENGTH_PX = {"long": 10.0, "middle": 7.0, "short": 4.0}


def paint_ruler(
    painter: QPainter,
    theme: Theme,
    along_px: tuple[float, float],
    *,
    zero_px: float,
    px_per_mm: float,
    unit: Unit,
    upright: bool,
) -> None:
    """Paint the stretch `along_px` of a ruler whose zero lies at `zero_px`; `upright` for the one at the left."""
    low, high = along_px
    band = QRectF(0, low, RULER_PX, high - low) if upright else QRectF(low, 0, high - low, RULER_PX)
    painter.fillRect(band, theme.color("panel"))
    painter.setFont(figures_font(SIZES_PX.small - 1))
    painter.setPen(QPen(theme.color("muted"), 1.0))
    # Figures reach past their mark: begin early so that a figure cut by the stretch is completed.
    lead_mm = _FIGURE_ROOM_PX / px_per_mm
    marks = ruler_marks((low - zero_px) / px_per_mm - lead_mm, (high - zero_px) / px_per_mm + lead_mm, px_per_mm, unit)
    painter.drawLines([_line(zero_px + mark.at_mm * px_per_mm, _LENGTH_PX[mark.size], upright) for mark in marks])
    for mark in marks:
        if mark.figure:
            _paint_figure(painter, zero_px + mark.at_mm * px_per_mm, mark.figure, upright)


def _line(at_px: float, length_px: float, upright: bool) -> QLineF:
    at_px = math.floor(at_px) + 0.5
    if upright:
        return QLineF(RULER_PX - length_px, at_px, RULER_PX, at_px)
    return QLineF(at_px, RULER_PX - length_px, at_px, RULER_PX)


def _paint_figure(painter: QPainter, at_px: float, figure: str, upright: bool) -> None:
    """The figure just after its mark; on the left ruler it reads upwards."""
    if not upright:
        painter.drawText(QPointF(math.floor(at_px) + 3, 9), figure)
        return
    painter.save()
    painter.translate(9, math.floor(at_px) - 3)
    painter.rotate(-90)
    painter.drawText(QRectF(0, -10, _FIGURE_ROOM_PX, 12), Qt.AlignmentFlag.AlignLeft, figure)
    painter.restore()


_CHIP_GROUND = QColor("#1F4E79")
_LEAST_GROUND = QColor("#22252B")
_CHIP_INK = QColor("#FFFFFF")
_CHIP_HALO = QColor(255, 255, 255, 205)
_CHIP_PX = 18.0


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
    not one of those to the sides already; that one is marked as the least instead.
    """
    sides = [each for each in distances if each.kind != "nearest"]
    nearest = [each for each in distances if each.kind == "nearest"]
    least_mm = nearest[0].length_mm if nearest else math.inf
    doubled = [each for each in sides if abs(each.length_mm - least_mm) <= SAME_LENGTH_MM]
    metrics = QFontMetricsF(_chip_font())
    shown = sides if doubled else [*sides, *nearest]
    return tuple(_chip(each, to_screen, style, metrics, each.length_mm <= least_mm + SAME_LENGTH_MM) for each in shown)


def _chip_font() -> QFont:
    return figures_font(SIZES_PX.small, bold=True)


def _chip(each: Distance, to_screen: Affine, style: LengthStyle, metrics: QFontMetricsF, least: bool) -> Chip:
    start, end = to_screen.at(each.from_mm), to_screen.at(each.to_mm)
    text = style.number(each.length_mm, "down")
    width = max(metrics.horizontalAdvance(text) + 12, 26.0)
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    dx, dy = abs(end[0] - start[0]), abs(end[1] - start[1])
    # On a line too short for its figure the figure stands beside it, so that both can be seen.
    if dx >= dy and dx < width + 8:
        y -= _CHIP_PX / 2 + 6
    elif dy > dx and dy < _CHIP_PX + 8:
        x += width / 2 + 6
    return Chip(start, end, text, (x - width / 2, y - _CHIP_PX / 2, width, _CHIP_PX), least)


def paint_chips(painter: QPainter, chips: Iterable[Chip]) -> None:
    """The lines with ticks at their ends, then the figures over all lines."""
    chips = tuple(chips)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for color, width in ((_CHIP_HALO, 3.5), (_CHIP_GROUND, 1.5)):
        painter.setPen(QPen(color, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        painter.drawLines([line for chip in chips for line in _chip_lines(chip)])
    painter.setFont(_chip_font())
    for chip in chips:
        box = QRectF(*chip.box)
        painter.setPen(QPen(_CHIP_HALO, 1.5))
        painter.setBrush(_LEAST_GROUND if chip.least else _CHIP_GROUND)
        painter.drawRoundedRect(box, _CHIP_PX / 2, _CHIP_PX / 2)
        painter.setPen(_CHIP_INK)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, chip.text)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _chip_lines(chip: Chip) -> list[QLineF]:
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
