"""All cuts as bars with their verdict, least first; one of them can be taken for the job, and prices can be typed."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSignalBlocker, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from coverlayout.errors import BadInput, sentence
from coverlayout.ui.fields.entry import Entry, label, set_tip
from coverlayout.ui.fields.rows import button
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font, text_font
from coverlayout.ui.verdict.chips import draw_symbol
from coverlayout.ui.verdict.rungs import CutBar, bars_of, no_cloth_helps
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.layout.ladder import Ladder

__all__ = ["CutBars", "LadderPart"]

_ROW_PX, _BESIDE_PX, _SIGN_PX, _BAR_PX = 30, 10.0, 16.0, 12.0
# No name takes more of a row than this; the bar keeps at least so much.
_MOST_NAME, _LEAST_BAR_PX = 0.42, 60.0
_WIDEST_WORD = "does not fit"
_MIDDLE = Qt.AlignmentFlag.AlignVCenter
_BAR_ROLE = Qt.ItemDataRole.UserRole


class _Columns:
    """Where the parts of every row stand, worked out once for all bars and a width."""

    def __init__(self, bars: tuple[CutBar, ...], width_px: float) -> None:
        metrics, bold = QFontMetricsF(figures_font()), QFontMetricsF(text_font(bold=True))
        small = QFontMetricsF(text_font(SIZES_PX.small))
        names = (
            bold.horizontalAdvance(bar.name) + (small.horizontalAdvance(bar.mark) + 20 if bar.mark else 0)
            for bar in bars
        )
        self.name_px = min(max(names, default=0.0) + 4, _MOST_NAME * width_px)
        self.word_px = _SIGN_PX + 6 + metrics.horizontalAdvance(_WIDEST_WORD)
        self.size_px = max((small.horizontalAdvance(bar.size) for bar in bars), default=0.0)
        self.room_px = max((metrics.horizontalAdvance(bar.room) for bar in bars), default=0.0)
        self.price_px = max((metrics.horizontalAdvance(bar.price) for bar in bars), default=0.0)
        self.bar_px = width_px - self._beside_px()
        if self.bar_px < _LEAST_BAR_PX:
            # In a narrow window the size is told by the tip only.
            self.size_px = 0.0
            self.bar_px = max(width_px - self._beside_px(), 0.0)

    def _beside_px(self) -> float:
        words_px = self.name_px + self.size_px + self.word_px + self.room_px + self.price_px
        return words_px + (7 if self.size_px else 6) * _BESIDE_PX


class _Painter(QStyledItemDelegate):
    """Paints a row: name and mark, the bar, the verdict, room and price."""

    def __init__(self, theme: Theme, parent: QWidget) -> None:
        super().__init__(parent)
        self.theme = theme
        self.columns = _Columns((), 0.0)

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """All rows are of one height and give way in width."""
        del option, index
        return QSize(10, _ROW_PX)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """One row, in the look of now."""
        bar: CutBar = index.data(_BAR_ROLE)
        box = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if chosen:
            painter.fillRect(box, self.theme.color("accent", 0.16))
            painter.fillRect(QRectF(box.left(), box.top(), 3, box.height()), self.theme.color("accent"))
        left = self._paint_name(painter, bar, box)
        place = QRectF(left, box.center().y() - _BAR_PX / 2, self.columns.bar_px, _BAR_PX)
        paint_bar(painter, bar, place, self.theme)
        self._paint_figures(painter, bar, QRectF(place.right() + _BESIDE_PX, box.top(), 0, box.height()))
        painter.restore()

    def _paint_name(self, painter: QPainter, bar: CutBar, box: QRectF) -> float:
        """Name, mark and size; where the bar begins."""
        font, small = text_font(bold=bool(bar.mark)), text_font(SIZES_PX.small)
        mark_px = QFontMetricsF(small).horizontalAdvance(bar.mark) + 12 if bar.mark else 0.0
        metrics = QFontMetricsF(font)
        room = self.columns.name_px - mark_px - (8 if bar.mark else 0)
        name = metrics.elidedText(bar.name, Qt.TextElideMode.ElideRight, room)
        left = box.left() + _BESIDE_PX
        painter.setFont(font)
        painter.setPen(self.theme.color("ink"))
        painter.drawText(QRectF(left, box.top(), room + 2, box.height()), _MIDDLE, name)
        if bar.mark:
            at = left + metrics.horizontalAdvance(name) + 8
            tag = QRectF(at, box.center().y() - 9, mark_px, 18)
            painter.setPen(QPen(self.theme.color(bar.state), 1.0))
            painter.drawRoundedRect(tag, 9, 9)
            painter.setFont(small)
            painter.drawText(tag, Qt.AlignmentFlag.AlignCenter, bar.mark)
        if not self.columns.size_px:
            return left + self.columns.name_px + _BESIDE_PX
        size = QRectF(left + self.columns.name_px + _BESIDE_PX, box.top(), self.columns.size_px + 1, box.height())
        painter.setFont(small)
        painter.setPen(self.theme.color("muted"))
        painter.drawText(size, Qt.AlignmentFlag.AlignRight | _MIDDLE, bar.size)
        return size.right() + _BESIDE_PX

    def _paint_figures(self, painter: QPainter, bar: CutBar, box: QRectF) -> None:
        """Sign and word, then room and price, each in its column."""
        color = self.theme.color(bar.state)
        sign = QRectF(box.left(), box.center().y() - _SIGN_PX / 2, _SIGN_PX, _SIGN_PX)
        draw_symbol(painter, bar.symbol, sign, color)
        painter.setPen(color)
        painter.setFont(figures_font())
        columns = self.columns
        word = QRectF(sign.right() + 6, box.top(), columns.word_px - _SIGN_PX, box.height())
        painter.drawText(word, _MIDDLE, bar.word)
        painter.setPen(self.theme.color("ink"))
        right = Qt.AlignmentFlag.AlignRight | _MIDDLE
        room = QRectF(box.left() + columns.word_px + _BESIDE_PX, box.top(), columns.room_px, box.height())
        painter.drawText(room, right, bar.room)
        price = QRectF(room.right() + _BESIDE_PX, box.top(), columns.price_px, box.height())
        painter.drawText(price, right, bar.price)


def paint_bar(painter: QPainter, bar: CutBar, track: QRectF, theme: Theme) -> None:
    """The bar in its track: full where the job fits, half where tight, hollow where it does not, dotted unknown.

    One that is longer than its track is broken near its end.
    """
    color = theme.color(bar.state)
    painter.fillRect(QRectF(track.left(), track.center().y() - 0.5, track.width(), 1), theme.color("line", 0.4))
    place = QRectF(track.left(), track.top(), max(track.width() * bar.share, 3.0), track.height())
    line = QPen(color, 1.2, Qt.PenStyle.DotLine if bar.state == "muted" else Qt.PenStyle.SolidLine)
    painter.setPen(line)
    painter.setBrush(theme.color("field"))
    painter.drawRect(place)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if bar.state == "fits":
        painter.fillRect(place, color)
    elif bar.state == "tight":
        lower = QRectF(place.left(), place.center().y(), place.width(), place.height() / 2)
        painter.fillRect(lower, color)
    if bar.beyond:
        at = place.right() - 14
        gap = [QPointF(at, place.bottom() + 1), QPointF(at + 6, place.top() - 1)]
        gap += [QPointF(at + 10, place.top() - 1), QPointF(at + 4, place.bottom() + 1)]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.color("field"))
        painter.drawPolygon(QPolygonF(gap))
        painter.setPen(line)
        painter.drawLine(gap[0], gap[1])
        painter.drawLine(gap[2], gap[3])


class CutBars(QListWidget):
    """The bars, chosen by mouse and arrows."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setAccessibleName("Cuts")
        self.setUniformItemSizes(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMouseTracking(False)
        self._painter = _Painter(theme, self)
        self.setItemDelegate(self._painter)
        self.bars: tuple[CutBar, ...] = ()

    def show_bars(self, bars: tuple[CutBar, ...]) -> None:
        """Show these; the one that was chosen stays chosen."""
        if bars == self.bars:
            return
        chosen = self.chosen
        with QSignalBlocker(self):
            self.clear()
            for bar in bars:
                item = QListWidgetItem(bar.told, self)
                item.setData(_BAR_ROLE, bar)
                item.setToolTip(bar.size)
        self.bars = bars
        self._set_columns()
        self.choose(chosen.name if chosen is not None else "")

    @property
    def chosen(self) -> CutBar | None:
        """The chosen bar."""
        row = self.currentRow()
        return self.bars[row] if 0 <= row < len(self.bars) else None

    def choose(self, name: str) -> None:
        """Choose the bar of that name and bring it into sight; none where there is none."""
        row = next((at for at, bar in enumerate(self.bars) if bar.name == name), -1)
        self.setCurrentRow(row)
        self.itemSelectionChanged.emit()

    def bring_chosen(self) -> None:
        """The chosen bar is seen, with those around it."""
        if (item := self.currentItem()) is not None:
            self.scrollToItem(item, QListWidget.ScrollHint.PositionAtCenter)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self._painter.theme = theme
        self.viewport().update()

    def _set_columns(self) -> None:
        self._painter.columns = _Columns(self.bars, self.viewport().width())
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The bars give way first."""
        super().resizeEvent(event)
        self._set_columns()


class LadderPart(QWidget):
    """The bars with a sentence above; below, the price of the chosen cut and the button that takes it.

    `use` is called with the cuts of the chosen bar, `give_price` with the name of its one cut and what it costs (None:
    not known). `refused` gives the reason why cuts cannot be taken at one go, empty when they can.
    """

    def __init__(
        self,
        theme: Theme,
        use: Callable[[CutBar], None],
        give_price: Callable[[str, float | None], None],
        *,
        refused: Callable[[CutBar], str],
    ) -> None:
        super().__init__()
        self._use, self._refused = use, refused
        self._ladder: Ladder | None = None
        self._currency = ""
        self.head = label("", "hint")
        self.bars = CutBars(theme)
        self.price = Entry(
            "Price of this cut",
            _read_price,
            lambda value: f"{value:.2f}",
            lambda value: self._give_price(give_price, value),
            tip="What the shop asks for it. Once all cuts have a price, the cheapest comes first.",
        )
        self.price.setMaximumWidth(150)
        self.take = button("Use this cut", self._take, tip=sentence("cuts-use-tip", {}), role="first")
        self.why_not = label("", "hint")
        foot = QHBoxLayout()
        foot.setSpacing(12)
        foot.addWidget(self.price)
        foot.addWidget(self.why_not, 2, Qt.AlignmentFlag.AlignBottom)
        foot.addStretch(1)
        foot.addWidget(self.take, 0, Qt.AlignmentFlag.AlignBottom)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.head)
        column.addWidget(self.bars, 1)
        column.addLayout(foot)
        self.bars.itemSelectionChanged.connect(self._show_whether)
        self.bars.itemActivated.connect(lambda _item: self.take.click())
        self._show_whether()

    def show_ladder(self, ladder: Ladder | None, style: LengthStyle, currency: str, *, old: bool) -> None:
        """Show this ladder; None: the cuts are not known yet. `old`: the job has changed since."""
        self._ladder, self._currency = ladder, currency
        if ladder is None:
            self.head.setText(sentence("cuts-not-known", {}))
            self.bars.show_bars(())
        else:
            self.head.setText(_words(ladder, old=old))
            self.bars.show_bars(() if no_cloth_helps(ladder) else bars_of(ladder, style, currency))
            if self.bars.chosen is None:
                self.bars.choose(ladder.least or "")
        self._show_whether()

    def _price_now(self) -> float | None:
        bar, ladder = self.bars.chosen, self._ladder
        rungs = () if ladder is None or bar is None else ladder.rungs
        return next((rung.price for rung in rungs if bar is not None and rung.name == bar.name), None)

    def _give_price(self, give: Callable[[str, float | None], None], value: float | None) -> None:
        bar = self.bars.chosen
        if bar is not None and len(bar.cuts) == 1:
            give(bar.cuts[0], value)

    def _show_whether(self) -> None:
        """Whether the marked cut can be taken, and if not, why."""
        bar = self.bars.chosen
        why = sentence("cuts-mark-one", {}) if bar is None else self._refused(bar)
        self.why_not.setText(why)
        self.why_not.setVisible(bool(why) and bool(self.bars.bars))
        self.take.setEnabled(not why)
        self.price.setEnabled(bar is not None and len(bar.cuts) == 1)
        self.price.show_value(self._price_now(), self._currency)
        set_tip(self.take, why or sentence("cuts-use-tip", {}))

    def _take(self) -> None:
        bar = self.bars.chosen
        if bar is not None:
            self._use(bar)


def _read_price(text: str) -> float | None:
    """A price, 0 or more; nothing typed: not known."""
    plain = text.strip().replace(",", ".")
    if not plain:
        return None
    try:
        value = float(plain)
    except ValueError:
        value = -1.0
    if not 0.0 <= value < _MOST_PRICE:
        raise BadInput("price-unreadable", found=text[:40])
    return value


_MOST_PRICE = 1e6


def _words(ladder: Ladder, *, old: bool) -> str:
    """The least cut, the least with room, and that all this is of before when the job has changed since."""
    figures = {"name": ladder.least or "", "roomy": ladder.least_with_room or ""}
    roomy = ladder.least_with_room not in (None, ladder.least)
    none = "window-cuts-quarrel" if no_cloth_helps(ladder) else "window-cuts-none"
    words = [sentence(none if ladder.least is None else "window-cuts-least", figures)]
    words += [sentence("window-cuts-roomy", figures)] if roomy else []
    words += [sentence("window-cuts-old", {})] if old else []
    return " ".join(words)
