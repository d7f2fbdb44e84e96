"""The rulers at the top and left: which marks they carry, worked out first, and their painting."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from PySide6.QtCore import QLineF, QPointF, QRect, QRectF, QSize
from PySide6.QtGui import QPainter, QPen, QPixmap

from coverlayout.geometry.frames import Point
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font
from coverlayout.units import MM_PER_INCH

__all__ = ["RULER_PX", "RulerMark", "Rulers", "ruler_marks"]

RULER_PX = 24

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


_LENGTH_PX = {"long": 9.0, "middle": 6.0, "short": 4.0}
# The pictures of the rulers reach this far beyond the canvas, so that a pan only blits them.
_SPARE_PX = 400


@dataclass(frozen=True)
class _Drawn:
    """What a ruler's picture was made for; `zero_px` is where its zero lies in it."""

    theme: Theme
    px_per_mm: float
    unit: Unit
    length_px: int
    pixel_ratio: float
    zero_px: float


class Rulers:
    """The two rulers of a canvas, kept as pictures."""

    def __init__(self) -> None:
        self._kept: dict[bool, tuple[_Drawn, QPixmap]] = {}

    def paint(
        self,
        painter: QPainter,
        theme: Theme,
        area: QRect,
        size: QSize,
        *,
        zero_px: Point | None,
        px_per_mm: float,
        unit: Unit,
        pixel_ratio: float,
    ) -> None:
        """Paint what of the rulers lies in `area` of a canvas of that size, their zeros at `zero_px`.

        With nothing to measure (`zero_px` None) they are bare.
        """
        if zero_px is None:
            for edge in (QRect(0, 0, size.width(), RULER_PX), QRect(0, 0, RULER_PX, size.height())):
                painter.fillRect(edge, theme.color("panel"))
            return
        for upright, touched, length_px in (
            (False, area.top() < RULER_PX, size.width()),
            (True, area.left() < RULER_PX, size.height()),
        ):
            if touched:
                wanted = _Drawn(theme, px_per_mm, unit, length_px, pixel_ratio, zero_px[upright])
                at = self._ready(wanted, upright=upright)
                painter.drawPixmap(QPointF(0, at) if upright else QPointF(at, 0), self._kept[upright][1])
        painter.fillRect(QRectF(0, 0, RULER_PX + 0.6, RULER_PX + 0.6), theme.color("panel"))

    def _ready(self, wanted: _Drawn, *, upright: bool) -> float:
        """Where on the canvas the picture of a ruler begins; made anew when the one kept does not serve."""
        drawn = self._kept[upright][0] if upright in self._kept else None
        if drawn is not None and replace(drawn, zero_px=wanted.zero_px) == wanted:
            at = wanted.zero_px - drawn.zero_px
            steps = at * wanted.pixel_ratio
            if -2 * _SPARE_PX <= at <= 0 and abs(steps - round(steps)) < 1e-6:
                return at
        begin = -float(_SPARE_PX)
        drawn = replace(wanted, zero_px=wanted.zero_px - begin)
        self._kept[upright] = drawn, _picture(drawn, upright)
        return begin


def _picture(drawn: _Drawn, upright: bool) -> QPixmap:
    long_px = drawn.length_px + 2 * _SPARE_PX
    width, height = (RULER_PX, long_px) if upright else (long_px, RULER_PX)
    picture = QPixmap(round(width * drawn.pixel_ratio), round(height * drawn.pixel_ratio))
    picture.setDevicePixelRatio(drawn.pixel_ratio)
    picture.fill(drawn.theme.color("panel"))
    painter = QPainter(picture)
    painter.setFont(figures_font(SIZES_PX.small - 1))
    painter.setPen(QPen(drawn.theme.color("muted"), 1.0))
    size, zero = drawn.px_per_mm, drawn.zero_px
    marks = ruler_marks(-zero / size, (long_px - zero) / size, size, drawn.unit)
    painter.drawLines([_line(zero + mark.at_mm * size, _LENGTH_PX[mark.size], upright) for mark in marks])
    for mark in marks:
        if mark.figure:
            _paint_figure(painter, zero + mark.at_mm * size, mark.figure, upright)
    painter.end()
    return picture


def _line(at_px: float, length_px: float, upright: bool) -> QLineF:
    at_px = math.floor(at_px) + 0.5
    if upright:
        return QLineF(RULER_PX - length_px, at_px, RULER_PX, at_px)
    return QLineF(at_px, RULER_PX - length_px, at_px, RULER_PX)


def _paint_figure(painter: QPainter, at_px: float, figure: str, upright: bool) -> None:
    """The figure just after its mark; on the left ruler it reads upwards."""
    painter.save()
    if upright:
        painter.translate(RULER_PX - 11, math.floor(at_px) - 3)
        painter.rotate(-90)
    else:
        painter.translate(math.floor(at_px) + 3, RULER_PX - 11)
    painter.drawText(QPointF(0, 0), figure)
    painter.restore()
