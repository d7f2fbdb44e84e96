"""Where measure lines and their words stand around a drawn book: in rows outside it, never on each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from PySide6.QtCore import QLineF, QPointF, QRectF
from PySide6.QtGui import QFontMetricsF

from coverlayout.book.picturing.shapes import MeasureLine
from coverlayout.geometry.frames import Affine

__all__ = ["Labelled", "PlacedMeasure", "placed_measures"]

# A measure and its words.
Labelled = tuple[MeasureLine, str]

# Rows lie as far apart as words are high and this more; the first is that much clear of the book.
_ROW_PX, _FIRST_PX, _MOST_ROWS = 2.0, 5.0, 16
_BESIDE_PX, _END_PX = 5.0, 4.0
_ROOM_PX = 3.0
# What goes round an edge: longer than a tick, and short of the words in the next row.
_BEND_PX = 7.0
# What it costs a place: to lie one row farther out, to have a helping line run through words, to reach beyond the book
# (for each px), to read upward beside a line much shorter than the words.
_ROW_COSTS, _CROSSING_COSTS, _BEYOND_COSTS, _STANDS_OUT_COSTS = 10.0, 14.0, 0.1, 12.0


@dataclass(frozen=True)
class PlacedMeasure:
    """A measure in px: its line, the helping lines from the book to it, and its words (`upward`: read from below)."""

    measure: MeasureLine
    text: str
    line: QLineF
    helping: tuple[QLineF, ...]
    words: QRectF
    upward: bool = False

    @property
    def bend(self) -> QLineF | None:
        """What of a level line goes on round an edge: a bit of it, bent away from the book at its end."""
        if self.measure.round_mm <= 0 or self.measure.side not in ("above", "below"):
            return None
        corner, out = self.helping[1].p2(), 1.0 if self.measure.side == "below" else -1.0
        return QLineF(corner, corner + QPointF(0, out * _BEND_PX))

    def moved(self, x_px: float, y_px: float) -> PlacedMeasure:
        """The same elsewhere."""
        return replace(
            self,
            line=self.line.translated(x_px, y_px),
            helping=tuple(line.translated(x_px, y_px) for line in self.helping),
            words=self.words.translated(x_px, y_px),
        )

    @property
    def in_line(self) -> bool:
        """True when the words stand in the line itself, which is broken there."""
        return self.words.intersects(_band(self.line, 0.5))

    @property
    def area(self) -> QRectF:
        """The px that belong to it: words and line."""
        line = QRectF(self.line.p1(), self.line.p2()).normalized()
        area = self.words.united(line.adjusted(-_END_PX, -_END_PX, _END_PX, _END_PX))
        return area if self.bend is None else area.united(_band(self.bend, 1.0))


@dataclass(frozen=True)
class _Offer:
    placed: PlacedMeasure
    row: int
    cost: float


class _Taken:
    """What is taken already: words and lines that nothing may lie on, and helping lines that better stay clear."""

    def __init__(self) -> None:
        self.words: list[QRectF] = []
        self.lines: list[QRectF] = []
        self.helping: list[QRectF] = []

    def allows(self, offer: PlacedMeasure) -> bool:
        words, line = offer.words.adjusted(-_ROOM_PX, 0, _ROOM_PX, 0), _band(offer.line, 2.0)
        return not any(words.intersects(each) for each in (*self.words, *self.lines)) and not any(
            line.intersects(each) for each in (*self.words, *self.lines)
        )

    def crossings(self, offer: PlacedMeasure) -> int:
        count = sum(offer.words.intersects(each) for each in self.helping)
        for band in [_band(line, 0.5) for line in offer.helping]:
            count += sum(band.intersects(each) for each in self.words)
        return count

    def take(self, placed: PlacedMeasure) -> None:
        self.words.append(placed.words)
        self.lines += [_band(line, 2.0) for line in (placed.line, placed.bend) if line is not None]
        self.helping += [_band(line, 0.5) for line in placed.helping]


def _band(line: QLineF, by_px: float) -> QRectF:
    return QRectF(line.p1(), line.p2()).normalized().adjusted(-by_px, -by_px, by_px, by_px)


def placed_measures(
    measures: tuple[Labelled, ...], to_px: Affine, book: QRectF, metrics: QFontMetricsF, room_px: float = 0.0
) -> tuple[PlacedMeasure, ...]:
    """Every measure with its words where they stand best; short measures lie nearest to the book.

    `book` is the box of the drawing in px. Words reach beyond it as far as they must, and freely into the room that is
    empty at either side anyway.
    """
    taken, made = _Taken(), []
    for measure, text in sorted(measures, key=lambda each: _order(each[0], measures, to_px)):
        best: _Offer | None = None
        for offer in _offers((measure, text), to_px, book, metrics, room_px):
            if best is not None and offer.row * _ROW_COSTS >= best.cost:
                break
            if best is not None and offer.cost >= best.cost:
                continue
            cost = offer.cost + _CROSSING_COSTS * taken.crossings(offer.placed)
            if (best is None or cost < best.cost) and taken.allows(offer.placed):
                best = replace(offer, cost=cost)
        # There are more rows than measures on any side, so that some place is always free.
        assert best is not None
        taken.take(best.placed)
        made.append(best.placed)
    return tuple(made)


def _order(measure: MeasureLine, others: tuple[Labelled, ...], to_px: Affine) -> tuple[bool, int, float]:
    """Upright lines first: those beside a longer one, then long ones; level ones after, short ones nearest the book."""
    low, high = _reach_px(measure, to_px)
    if measure.side in ("above", "below"):
        return True, 0, high - low
    around = [_reach_px(other, to_px) for other, _text in others if other.side == measure.side]
    held_in = sum(first <= low and high <= last and last - first > high - low for first, last in around)
    return False, -held_in, low - high


def _reach_px(measure: MeasureLine, to_px: Affine) -> tuple[float, float]:
    """From where to where it measures, along its line."""
    way = 0 if measure.side in ("above", "below") else 1
    ends = to_px.at(measure.start_mm)[way], to_px.at(measure.end_mm)[way]
    return min(ends), max(ends)


def _offers(
    labelled: Labelled, to_px: Affine, book: QRectF, metrics: QFontMetricsF, room_px: float
) -> Iterator[_Offer]:
    measure, text = labelled
    free = book.adjusted(-room_px, 0, room_px, 0)
    ends = QPointF(*to_px.at(measure.start_mm)), QPointF(*to_px.at(measure.end_mm))
    size = metrics.horizontalAdvance(text), metrics.height()
    for row in range(_MOST_ROWS):
        away = _FIRST_PX + size[1] / 2 + row * (size[1] + _ROW_PX)
        if measure.side in ("above", "below"):
            y = book.top() - away if measure.side == "above" else book.bottom() + away
            made = _on_level(measure, text, ends, y, size)
        else:
            x = book.left() - away if measure.side == "left" else book.right() + away
            made = _upright(measure, text, ends, x, size)
        for placed, cost in made:
            yield _Offer(placed, row, cost + row * _ROW_COSTS + _beyond_px(placed.words, free) * _BEYOND_COSTS)


def _beyond_px(words: QRectF, free: QRectF) -> float:
    """How far words reach beyond the book and the room beside it."""
    return max(free.left() - words.left(), 0.0) + max(words.right() - free.right(), 0.0)


def _on_level(
    measure: MeasureLine, text: str, ends: tuple[QPointF, QPointF], y: float, size: tuple[float, float]
) -> Iterator[tuple[PlacedMeasure, float]]:
    """A line across: its words in it where they fit, else to the right or the left of it."""
    left, right = sorted((ends[0].x(), ends[1].x()))
    width, height = size
    line = QLineF(left, y, right, y)
    helping = tuple(QLineF(end.x(), end.y(), end.x(), y) for end in ends)
    places = [right + _BESIDE_PX, left - _BESIDE_PX - width]
    if right - left >= width + 14:
        places = [(left + right - width) / 2]
    for x in places:
        yield PlacedMeasure(measure, text, line, helping, QRectF(x, y - height / 2, width, height)), 0.0


def _upright(
    measure: MeasureLine, text: str, ends: tuple[QPointF, QPointF], x: float, size: tuple[float, float]
) -> Iterator[tuple[PlacedMeasure, float]]:
    """A line up and down: its words upward in it where they fit, else beside it, level or (a long line) upward."""
    top, low = sorted((ends[0].y(), ends[1].y()))
    width, height = size
    line = QLineF(x, top, x, low)
    helping = tuple(QLineF(end.x(), end.y(), x, end.y()) for end in ends)
    middle = (top + low) / 2
    out = 1.0 if measure.side == "right" else -1.0
    if low - top >= width + 10:
        upward = QRectF(x - height / 2, middle - width / 2, height, width)
        yield PlacedMeasure(measure, text, line, helping, upward, True), 0.0
    start = x + _BESIDE_PX if out > 0 else x - _BESIDE_PX - width
    for step in (0, 1, -1, 2, -2, 3, -3):
        words = QRectF(start, middle - height / 2 + step * height * 0.75, width, height)
        yield PlacedMeasure(measure, text, line, helping, words), abs(step)
    beside = x + out * (_BESIDE_PX + height / 2)
    upward = QRectF(beside - height / 2, middle - width / 2, height, width)
    stands_out = _STANDS_OUT_COSTS if low - top < 1.6 * height else _STANDS_OUT_COSTS / 3
    if low - top > width / 2:
        stands_out = 0.0
    yield PlacedMeasure(measure, text, line, helping, upward, True), stands_out
