"""Draws the sheets of one material: each with its pieces by name, what is left over, and an arrow along its grain."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QEvent, QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QHelpEvent, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from coverlayout.book.picturing.shapes import Role
from coverlayout.document.stocking.stock_asked import grain_way
from coverlayout.errors import Remark
from coverlayout.ui.picturing.colours import ink_of, theme_of
from coverlayout.ui.stock.placing import PlacedSheet, alike_sheets, apart, placed_sheets
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.document.stocking.on_stock import OnStock, PieceOnSheet

__all__ = ["SheetsDrawing", "letter_of", "sheet_words"]

_MIDDLE = Qt.AlignmentFlag.AlignCenter
_WRAPPED = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
# Words keep so far from the edge of a piece; a piece narrower than this says nothing.
_EDGE_PX, _LEAST_PX, _TINY_PX = 3.0, 7.0, 8
# One sheet is drawn in so much width at most; what is said of it takes as much as this.
_ROOM_PX, _LEAST_WORDS_PX = 460.0, 240
_ARROW_PX, _HEAD_PX = 12.0, 3.5
_FILLS: dict[str, Role] = {"board": "board", "card": "card", "web": "unseen", "lining": "lining"}


def letter_of(at: int) -> str:
    """A short sign for the item at a place of the list: A to Z, then AA.

    >>> letter_of(0), letter_of(25), letter_of(26)
    ('A', 'Z', 'AA')
    """
    letters = ""
    at += 1
    while at:
        at, rest = divmod(at - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def sheet_words(placed: PlacedSheet, on: OnStock) -> str:
    """Which sheets look like this, and how much of them is used."""
    alike = placed.alike
    percent = round(alike.sheet.used_percent)
    if on.is_roll:
        return Remark.of("stock-drawn-roll", percent=percent).text()
    if alike.count == 1:
        return Remark.of("stock-drawn", number=alike.first, percent=percent).text()
    last = alike.first + alike.count - 1
    code = "stock-drawn-both" if alike.count == 2 else "stock-drawn-alike"
    return Remark.of(code, first=alike.first, last=last, percent=percent).text()


class SheetsDrawing(QWidget):
    """As high as its sheets need at its width. A name that has no room in its piece is a letter, told in the key."""

    def __init__(self, on: OnStock, style: LengthStyle) -> None:
        super().__init__()
        self._on, self._style = on, style
        sized = dict.fromkeys(_sized(item.name, item.width_mm, item.height_mm) for item in on.items)
        self._letters = {each: letter_of(at) for at, each in enumerate(sized)}
        self._kinds = alike_sheets(on.sheets)
        self._placed: tuple[PlacedSheet, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName(f"Sheets of {on.stock.name}")
        self.setAccessibleDescription(self._described())

    @property
    def sheets(self) -> tuple[PlacedSheet, ...]:
        """The sheets where they are drawn."""
        return self._placed

    @property
    def key(self) -> str:
        """Every item with its letter, size and number."""
        counts = dict.fromkeys(self._letters, 0)
        for item in self._on.items:
            counts[_sized(item.name, item.width_mm, item.height_mm)] += item.count
        lines = []
        for (name, width_mm, height_mm), count in counts.items():
            size = f"{self._style.number(width_mm, 'up')} × {self._style.show(height_mm, 'up')}"
            lines.append(f"{self._letters[name, width_mm, height_mm]}   {count} × {name}, {size}")
        return "\n".join(lines)

    @property
    def narrow_px(self) -> int | None:
        """The width that is enough where there is one sheet to draw, None where several stand in rows."""
        placed = self._places(_ROOM_PX)[0]
        if len(placed) != 1 or placed[0].lies:
            return None
        return max(round(placed[0].frame.right()) + 4, _LEAST_WORDS_PX)

    def _places(self, width_px: float) -> tuple[tuple[PlacedSheet, ...], float]:
        return placed_sheets(self._on, width_px, self._kinds)

    def _described(self) -> str:
        said = []
        for placed in self._places(400.0)[0]:
            names: dict[str, int] = {}
            for piece in placed.alike.sheet.pieces:
                names[piece.name] = names.get(piece.name, 0) + 1
            pieces = ", ".join(f"{count} {name}" for name, count in names.items())
            said.append(f"{sheet_words(placed, self._on)}: {pieces}.")
        return " ".join(said)

    # Qt's own

    def hasHeightForWidth(self) -> bool:
        """Narrower, the sheets stand in more rows."""
        return True

    def heightForWidth(self, width: int) -> int:
        """What the sheets need."""
        return round(self._places(width)[1]) + 2

    def sizeHint(self) -> QSize:
        """A usual width."""
        return QSize(420, self.heightForWidth(420))

    def minimumSizeHint(self) -> QSize:
        """Any width will do."""
        return QSize(160, self.heightForWidth(max(self.width(), 160)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width: the sheets find their places anew."""
        super().resizeEvent(event)
        self._placed = self._places(self.width())[0]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Every sheet."""
        del event
        theme = theme_of(self.palette())
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            for placed in self._placed:
                self._paint_sheet(painter, placed, theme)

    def event(self, event: QEvent) -> bool:
        """The piece under the pointer tells its name, volume and size."""
        if event.type() == QEvent.Type.ToolTip:
            help_event = cast(QHelpEvent, event)
            words = self.words_at(QPointF(help_event.pos()))
            if words:
                QToolTip.showText(help_event.globalPos(), words, self)
            else:
                QToolTip.hideText()
            return True
        return super().event(event)

    def words_at(self, at: QPointF) -> str:
        """What lies at a place, empty beside all pieces."""
        for placed in self._placed:
            for piece in placed.alike.sheet.pieces:
                if placed.rect(piece.box).contains(at):
                    return self._words_of(piece)
        return ""

    def _words_of(self, piece: PieceOnSheet) -> str:
        _, width, height = _item_of(piece)
        size = f"{self._style.number(width, 'up')} × {self._style.show(height, 'up')}"
        volume = "" if piece.volume is None else f", volume {piece.volume}"
        return f"{piece.name} {piece.number}{volume}\n{size}{', a quarter turned' if piece.turned else ''}"

    # What is painted

    def _paint_sheet(self, painter: QPainter, placed: PlacedSheet, theme: Theme) -> None:
        sheet = placed.alike.sheet
        painter.fillRect(placed.frame, theme.color("canvas", 0.5))
        for offcut in apart(sheet.offcuts):
            self._paint_offcut(painter, placed.rect(offcut), offcut.width_mm, offcut.height_mm, theme)
        fill = ink_of(_FILLS.get(self._on.material, "section"), theme).fill_color or theme.color("field")
        for piece in sheet.pieces:
            box = placed.rect(piece.box)
            painter.fillRect(box, theme.color("field"))
            painter.fillRect(box, fill)
            painter.setPen(QPen(theme.color("ink"), 1.0))
            painter.drawRect(box)
            self._paint_name(painter, box, piece, theme)
        painter.setPen(QPen(theme.color("ink"), 1.6))
        painter.drawRect(placed.frame)
        _paint_grain(painter, placed, self._on, theme)
        painter.setPen(theme.color("muted"))
        painter.setFont(figures_font(SIZES_PX.small))
        foot = QRectF(placed.frame.left(), placed.frame.bottom() + 2, max(placed.frame.width(), 220.0), 18)
        painter.drawText(
            foot, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, sheet_words(placed, self._on)
        )

    def _paint_name(self, painter: QPainter, box: QRectF, piece: PieceOnSheet, theme: Theme) -> None:
        """The name where it fits on whole words, else its letter."""
        room = box.adjusted(_EDGE_PX, 1, -_EDGE_PX, -1)
        font = figures_font(SIZES_PX.small)
        metrics = QFontMetricsF(font)
        painter.setFont(font)
        painter.setPen(theme.color("ink"))
        widest = max(metrics.horizontalAdvance(word) for word in piece.name.split())
        needs = metrics.boundingRect(room, _WRAPPED.value, piece.name)
        if widest <= room.width() and needs.height() <= room.height():
            painter.drawText(room, _WRAPPED, piece.name)
        elif min(box.width(), box.height()) >= _LEAST_PX:
            if min(box.width(), box.height()) < metrics.capHeight() + 4:
                painter.setFont(figures_font(_TINY_PX))
            painter.drawText(box, _MIDDLE | Qt.TextFlag.TextDontClip, self._letters[_item_of(piece)])

    def _paint_offcut(self, painter: QPainter, box: QRectF, width_mm: float, height_mm: float, theme: Theme) -> None:
        """What is left over, dotted, with its size where that has room."""
        painter.setPen(QPen(theme.color("muted"), 1.0, Qt.PenStyle.DotLine))
        painter.drawRect(box.adjusted(2, 2, -2, -2))
        words = f"{self._style.number(width_mm, 'down')} × {self._style.number(height_mm, 'down')}"
        font = figures_font(SIZES_PX.small)
        metrics = QFontMetricsF(font)
        wide, high = metrics.horizontalAdvance(words) + 10, metrics.height() + 2
        painter.setFont(font)
        painter.setPen(theme.color("muted"))
        if wide <= box.width() and high <= box.height():
            painter.drawText(box, _MIDDLE, words)
        elif wide <= box.height() and high <= box.width():
            painter.save()
            painter.translate(box.center())
            painter.rotate(-90)
            painter.drawText(QRectF(-box.height() / 2, -box.width() / 2, box.height(), box.width()), _MIDDLE, words)
            painter.restore()


_Sized = tuple[str, float, float]


def _sized(name: str, width_mm: float, height_mm: float) -> _Sized:
    """What tells items apart: volumes of a set have boards of one name and of several sizes."""
    return name, round(width_mm, 2), round(height_mm, 2)


def _item_of(piece: PieceOnSheet) -> _Sized:
    """The item that a piece is one of."""
    box = piece.box
    size = (box.height_mm, box.width_mm) if piece.turned else (box.width_mm, box.height_mm)
    return _sized(piece.name, *size)


def _paint_grain(painter: QPainter, placed: PlacedSheet, on: OnStock, theme: Theme) -> None:
    """An arrow with two heads beside the sheet, along its grain; dashed where that is only taken to be so."""
    frame = placed.frame
    downward = (grain_way(on.stock) == "along") != placed.lies
    known = on.stock.grain != "unknown"
    words = "grain" if known else "grain not known"
    length = min(frame.height() if downward else frame.width(), 150.0)
    painter.save()
    if downward:
        painter.translate(frame.left() - _ARROW_PX + 2, frame.top() + length / 2)
        painter.rotate(-90)
    else:
        painter.translate(frame.left() + length / 2, frame.top() - _ARROW_PX + 2)
    _paint_arrow(painter, length, words, theme, known=known)
    painter.restore()


def _paint_arrow(painter: QPainter, length: float, words: str, theme: Theme, *, known: bool) -> None:
    """Along the x axis around the origin, the words in its middle where it is long enough."""
    font = figures_font(SIZES_PX.small)
    metrics = QFontMetricsF(font)
    wide = metrics.horizontalAdvance(words) + 8
    gap = wide / 2 if wide + 4 * _HEAD_PX + 8 <= length else 0.0
    painter.setPen(QPen(theme.color("ink"), 1.2, Qt.PenStyle.SolidLine if known else Qt.PenStyle.DashLine))
    for side in (-1, 1):
        tip = side * length / 2
        painter.drawLine(QLineF(side * gap, 0, tip, 0))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.color("ink"))
    for side in (-1, 1):
        tip, foot = side * length / 2, side * (length / 2 - 2 * _HEAD_PX)
        painter.drawPolygon(QPolygonF([QPointF(tip, 0), QPointF(foot, _HEAD_PX), QPointF(foot, -_HEAD_PX)]))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if gap:
        painter.setPen(theme.color("muted"))
        painter.setFont(font)
        painter.drawText(QRectF(-wide / 2, -9, wide, 18), _MIDDLE, words)
