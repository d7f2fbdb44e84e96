"""Paints a drawn book to fit: shapes by what they are, measures around it with their figures, a key to the lines."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QLineF, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QHelpEvent, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from coverlayout.book.picturing.shapes import MeasureLine, Picture, Role, Shape
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Affine, scale, shift
from coverlayout.ui.bookmaking.picture_colours import AREAS, KEY_WORDS, ink_of, theme_of
from coverlayout.ui.bookmaking.picture_labels import PlacedMeasure, placed_measures
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font
from coverlayout.units import LengthStyle

__all__ = ["BookPicture", "paint_shapes"]

_EDGE_PX, _EMPTY_PX = 8.0, 80
_TITLE_PX, _KEY_ROW_PX, _SWATCH_PX = 18.0, 17.0, 18.0
_LEAST_SCALE, _LEAST_SHARE, _SMALLER = 0.02, 0.42, 0.94
# Names that would not fit beside a line in a panel.
_SHORT = {
    "block thickness": "block",
    "board thickness": "board",
    "hole from spine": "hole",
    "fore-edge square": "square",
    "turn-in at the head": "head turn-in",
    "turn-in at the tail": "tail turn-in",
    "turn-in at the mouth": "mouth",
}
# What a measure means where no rule of the trade says so.
_HINTS = {
    "spine": "picture-spine",
    "block thickness": "picture-block-thickness",
    "fore-edge square": "picture-fore-edge-square",
    "rise": "picture-rise",
    "spine on board": "picture-spine-on-board",
}


@dataclass(frozen=True)
class _Laid:
    """A picture fitted into a size: its map to px, its placed measures, the box around all of it."""

    to_px: Affine
    px_per_mm: float
    placed: tuple[PlacedMeasure, ...]
    around: QRectF


class BookPicture(QWidget):
    """A drawn book that follows what it is given, keeps the last one it could draw, and says in words what it shows.

    `highest_px` bounds its height; `keyed` adds the key to the lines, `large` figures with their unit.
    """

    def __init__(self, name: str, *, highest_px: int = 260, keyed: bool = True, large: bool = False) -> None:
        super().__init__()
        self._highest_px, self._keyed, self._large = highest_px, keyed, large
        self._picture: Picture | None = None
        self._style = LengthStyle()
        self._pointed = ""
        self._laid: tuple[QSize, _Laid] | None = None
        # What was found for a width: its height, and the scale to begin with.
        self._found: dict[int, tuple[int, float]] = {}
        self.setAccessibleName(name)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        if large:
            policy.setVerticalPolicy(QSizePolicy.Policy.Expanding)
        policy.setHeightForWidth(not large)
        self.setSizePolicy(policy)
        self.setMouseTracking(True)

    # What is shown

    @property
    def picture(self) -> Picture | None:
        """The last picture that could be drawn."""
        return self._picture

    def show_picture(self, picture: Picture | None, style: LengthStyle) -> None:
        """Draw this picture; None (a book that cannot be measured) keeps the last good one."""
        picture = self._picture if picture is None else picture
        if (picture, style) == (self._picture, self._style):
            return
        self._picture, self._style = picture, style
        self._laid = None
        self._found.clear()
        self.setAccessibleDescription(self.spoken())
        self.updateGeometry()
        self.update()

    def point_at(self, name: str) -> None:
        """Pick out the measure of that name (or of the rule of that name); empty picks out nothing."""
        if name == self._pointed:
            return
        self._pointed = name
        shown = {placed.measure for placed in self._laid[1].placed} if self._laid is not None else set()
        if self._picture is not None and self._picture.measured(name) not in {None, *shown}:
            self._laid = None
        self.update()

    def spoken(self) -> str:
        """The picture in words: what is seen, and every measure with its figure."""
        if self._picture is None:
            return ""
        said = [f"{each.name} {self._style.show(each.length_mm)}" for each in self._picture.measures]
        return ": ".join(part for part in (self._picture.title, ", ".join(said)) if part)

    def placed(self) -> tuple[PlacedMeasure, ...]:
        """Where the measures stand in the present size, in px."""
        return () if self._picture is None else self._fitted(self._picture).placed

    # Size

    def hasHeightForWidth(self) -> bool:
        """A wider panel shows it larger, up to a bound."""
        return not self._large

    def heightForWidth(self, width: int) -> int:
        """As high as it needs to be at that width."""
        if self._picture is None:
            return _EMPTY_PX
        if width not in self._found:
            below = self._below(width)
            room = QRectF(0, 0, width, self._highest_px)
            laid = _fit(self._picture, room, self._texts(), self._metrics(), below)
            height = math.ceil(laid.around.height() + 2 * _EDGE_PX + _TITLE_PX + below)
            self._found[width] = min(height, self._highest_px), laid.px_per_mm
        return self._found[width][0]

    def sizeHint(self) -> QSize:
        """Wide enough for a panel."""
        return QSize(560, 420) if self._large else QSize(280, self.heightForWidth(280))

    def minimumSizeHint(self) -> QSize:
        """It can be read down to this."""
        return QSize(320, 220) if self._large else QSize(200, 80)

    def _metrics(self) -> QFontMetricsF:
        # Room for the heavier figures of a measure that is picked out.
        return QFontMetricsF(figures_font(self._text_px, bold=True))

    @property
    def _text_px(self) -> int:
        return SIZES_PX.text if self._large else SIZES_PX.small

    def _texts(self) -> tuple[tuple[MeasureLine, str], ...]:
        if self._picture is None:
            return ()
        show = self._style.show if self._large or self._style.unit == "in" else self._style.number
        # What is picked out comes first, so that it has a place whatever has not.
        ordered = sorted(self._picture.measures, key=lambda each: not each.is_called(self._pointed))
        return tuple(
            (each, f"{each.name if self._large else _SHORT.get(each.name, each.name)} {show(each.length_mm)}")
            for each in ordered
        )

    def _key(self, width: float) -> list[tuple[QPointF, Role, str]]:
        """Every entry of the key: where it stands below the picture, its role, its word."""
        if self._picture is None or not self._keyed:
            return []
        metrics = QFontMetricsF(figures_font(SIZES_PX.small))
        made, x, y = [], _EDGE_PX, 0.0
        for role, word in KEY_WORDS:
            if role not in self._picture.roles:
                continue
            wide = _SWATCH_PX + 5 + metrics.horizontalAdvance(word) + 12
            if x > _EDGE_PX and x + wide - 12 > width - _EDGE_PX:
                x, y = _EDGE_PX, y + _KEY_ROW_PX
            made.append((QPointF(x, y), role, word))
            x += wide
        return made

    def _below(self, width: float) -> float:
        """How much the key takes."""
        key = self._key(width)
        return key[-1][0].y() + _KEY_ROW_PX + 4 if key else 0.0

    def _fitted(self, picture: Picture) -> _Laid:
        size = self.size()
        if self._laid is None or self._laid[0] != size:
            height, begin = self._found.get(size.width(), (0, math.inf))
            below = self._below(size.width())
            laid = _fit(
                picture,
                QRectF(self.rect()),
                self._texts(),
                self._metrics(),
                below,
                begin if height == size.height() else math.inf,
            )
            self._laid = (size, laid)
        return self._laid[1]

    # Words on asking

    def event(self, event: QEvent) -> bool:
        """A measure under the mouse tells what it is and what is usual."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            found = self._at(QPointF(event.pos()))
            if found is not None:
                QToolTip.showText(event.globalPos(), self.tip(found), self, found_rect(found))
                return True
            QToolTip.hideText()
        return super().event(event)

    def _at(self, at: QPointF) -> PlacedMeasure | None:
        near = [each for each in self.placed() if each.area.adjusted(-2, -2, 2, 2).contains(at)]
        return min(near, key=lambda each: each.area.width() * each.area.height(), default=None)

    def tip(self, placed: PlacedMeasure) -> str:
        """What a measure means, what is usual, and where that comes from."""
        measure = placed.measure
        head = f"{measure.name.capitalize()}: {self._style.show(measure.length_mm)}."
        if measure.rule is None:
            code = _HINTS.get(measure.name)
            return head if code is None else f"{head}\n{sentence(code, {})}"
        return f"{head}\n{measure.rule.hint}\nSource: {measure.rule.source}"

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """A quiet field, the title, the book, its measures, the key."""
        del event
        theme = theme_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(theme.color("field"))
            painter.drawRoundedRect(QRectF(self.rect()), 4, 4)
            if self._picture is None:
                return
            laid = self._fitted(self._picture)
            self._paint_title(painter, theme)
            paint_shapes(painter, self._picture.shapes, laid.to_px, laid.px_per_mm, theme)
            self._paint_words(painter, laid, theme)
            for placed in laid.placed:
                self._paint_measure(painter, placed, theme)
            self._paint_key(painter, theme)

    def _paint_title(self, painter: QPainter, theme: Theme) -> None:
        assert self._picture is not None
        font = figures_font(SIZES_PX.small)
        painter.setFont(font)
        painter.setPen(theme.color("muted"))
        room = QRectF(_EDGE_PX, 5, self.width() - 2 * _EDGE_PX, _TITLE_PX)
        words = QFontMetricsF(font).elidedText(self._picture.title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, words)

    def _paint_words(self, painter: QPainter, laid: _Laid, theme: Theme) -> None:
        """Words on the book itself, left out where they would lie on a figure."""
        assert self._picture is not None
        font = figures_font(SIZES_PX.small)
        metrics = QFontMetricsF(font)
        painter.setFont(font)
        painter.setPen(theme.color("ink"))
        for each in self._picture.words:
            x, y = laid.to_px.at(each.at_mm)
            width, height = metrics.horizontalAdvance(each.text), metrics.height()
            box = QRectF(x - width / 2, y - height / 2, width, height)
            fits = width + 6 <= each.room_mm * laid.px_per_mm
            if fits and not any(box.intersects(placed.words) for placed in laid.placed):
                painter.drawText(box, Qt.AlignmentFlag.AlignCenter, each.text)

    def _paint_measure(self, painter: QPainter, placed: PlacedMeasure, theme: Theme) -> None:
        measure = placed.measure
        pointed = measure.is_called(self._pointed)
        token = "accent" if pointed else "tight" if measure.unusual else "muted"
        painter.setPen(QPen(theme.color(token, 0.9 if pointed else 0.4), 1.0))
        painter.drawLines(list(placed.helping))
        painter.setPen(QPen(theme.color(token), 2.0 if pointed else 1.0))
        painter.drawLines([placed.line, *_ticks(placed.line)])
        in_line = placed.words.intersects(QRectF(placed.line.p1(), placed.line.p2()).adjusted(-0.5, -0.5, 0.5, 0.5))
        if in_line:
            painter.fillRect(placed.words.adjusted(-3, -3, 3, 3) if placed.upward else placed.words.adjusted(-4, 0, 4, 0), theme.color("field"))
        painter.setFont(figures_font(self._text_px, bold=pointed))
        painter.setPen(theme.color(token if token != "muted" else "ink"))
        _write(painter, placed.words, placed.text, upward=placed.upward)

    def _paint_key(self, painter: QPainter, theme: Theme) -> None:
        assert self._picture is not None
        font = figures_font(SIZES_PX.small)
        painter.setFont(font)
        top = self.height() - self._below(self.width())
        for at, role, word in self._key(self.width()):
            box = QRectF(at.x(), top + at.y() + 2, _SWATCH_PX, _KEY_ROW_PX - 6)
            filled = any(shape.closed and shape.role == role for shape in self._picture.shapes)
            _paint_swatch(painter, box, role, theme, filled=filled)
            painter.setPen(theme.color("muted"))
            painter.drawText(QPointF(box.right() + 5, box.center().y() + 4), word)


def found_rect(placed: PlacedMeasure) -> QRect:
    """The px a tooltip stays for."""
    return placed.area.toAlignedRect()


def paint_shapes(painter: QPainter, shapes: tuple[Shape, ...], to_px: Affine, px_per_mm: float, theme: Theme) -> None:
    """Paint shapes in their order, each in the pen and fill of its role."""
    for shape in shapes:
        ink = ink_of(shape.role, theme)
        path = QPainterPath(QPointF(*to_px.at(shape.points_mm[0])))
        for point in shape.points_mm[1:]:
            path.lineTo(QPointF(*to_px.at(point)))
        fill = ink.fill_color if shape.closed else None
        if shape.closed:
            path.closeSubpath()
        if fill is not None:
            painter.fillPath(path, fill)
        # Cloth that lies flat is an area; its edge is the line the knife follows.
        if not (shape.closed and shape.role in AREAS):
            painter.strokePath(path, ink.pen(px_per_mm))


def _fit(
    picture: Picture,
    room: QRectF,
    texts: tuple[tuple[MeasureLine, str], ...],
    metrics: QFontMetricsF,
    below_px: float,
    begin: float = math.inf,
) -> _Laid:
    """The largest scale, nearly, up to `begin`, at which the drawing with all that stands around it lies in the room."""
    inside = room.adjusted(_EDGE_PX, _EDGE_PX + _TITLE_PX, -_EDGE_PX, -_EDGE_PX - below_px)
    box = picture.box
    most = min(inside.width() / max(box.width_mm, 0.1), inside.height() / max(box.height_mm, 0.1), begin)
    best = _largest(picture, most, inside, texts, metrics)
    while best is None and texts:
        # No room for all and a drawing worth looking at: the least of them stays away.
        texts = texts[:-1]
        best = _largest(picture, most, inside, texts, metrics)
    if best is None:
        best = _at_scale(picture, most, (), metrics)
    around = best.around
    # As far up as it can, in the middle sideways; the book itself, not its measures, stays in the middle if there is room.
    x = inside.left() + (inside.width() - box.width_mm * best.px_per_mm) / 2
    x = min(max(x, inside.left() - around.left()), inside.right() - around.right())
    y = inside.top() + (inside.height() - around.height()) / 2 - around.top()
    return _Laid(
        best.to_px.then(shift(x, y)),
        best.px_per_mm,
        tuple(placed.moved(x, y) for placed in best.placed),
        around.translated(x, y),
    )


def _largest(
    picture: Picture, most: float, inside: QRectF, texts: tuple[tuple[MeasureLine, str], ...], metrics: QFontMetricsF
) -> _Laid | None:
    """The largest scale that fits, at least half of `most`; None when none does.

    Words change sides as the scale changes, so a smaller one need not fit where a larger one does: tried from above.
    """
    tried = most
    while tried >= _LEAST_SHARE * most:
        laid = _at_scale(picture, tried, texts, metrics)
        if laid.around.width() <= inside.width() and laid.around.height() <= inside.height():
            return laid
        tried *= _SMALLER
    return None


def _at_scale(
    picture: Picture, px_per_mm: float, texts: tuple[tuple[MeasureLine, str], ...], metrics: QFontMetricsF
) -> _Laid:
    """The drawing with its top-left corner at (0, 0), its measures around it."""
    box = picture.box
    to_px = shift(-box.left_mm, -box.top_mm).then(scale(px_per_mm))
    book = QRectF(0, 0, box.width_mm * px_per_mm, box.height_mm * px_per_mm)
    placed = placed_measures(texts, to_px, book, metrics)
    around = book.adjusted(-2, -2, 2, 2)
    for each in placed:
        around = around.united(each.area)
    return _Laid(to_px, px_per_mm, placed, around)


def _ticks(line: QLineF) -> list[QLineF]:
    """A short stroke across each end."""
    level = abs(line.dy()) < abs(line.dx()) or line.length() == 0
    across = QPointF(0, 4) if level else QPointF(4, 0)
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


def _paint_swatch(painter: QPainter, box: QRectF, role: Role, theme: Theme, *, filled: bool) -> None:
    """An area where the picture has areas of it, else its line; what is a thin frame in the picture is one here."""
    ink = ink_of(role, theme)
    edge = box.adjusted(1, 0, -1, 0)
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
