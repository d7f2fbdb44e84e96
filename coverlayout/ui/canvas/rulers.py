"""The rulers at the top and left: which marks they carry, and their painting."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from coverlayout.ui.theme import SIZES_PX, Theme, figures_font
from coverlayout.units import MM_PER_INCH

__all__ = ["RULER_PX", "RulerMark", "paint_ruler", "ruler_marks"]

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
