"""The bar at the bottom: the verdict in the largest type, why, and the figures, each at a fixed place."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QWidget

from coverlayout.errors import sentence
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, Theme, figures_font, text_font
from coverlayout.ui.verdict.chips import CHIP_PX, Chip, ChipButton, draw_symbol
from coverlayout.ui.verdict.words import Said

__all__ = ["FigureView", "Spoken", "VerdictBar"]

_HEIGHT_PX = 60
# From these widths of the bar on there is room for so many rungs beside the sentence.
_RUNGS_FROM_PX = ((1540, 3), (1400, 2), (1260, 1))
# Narrower than this the largest piece left over is told in its list only.
_LEFT_FROM_PX = 1120
_CHIP_GAP_PX = 4
# The offer to lay the rest stands beside the sentence from this width of both on.
_OFFER_FROM_PX = 420
# Where the words begin, right of the sign.
_WORDS_PX = 58
_WRAPPED = int(Qt.TextFlag.TextWordWrap) | int(Qt.AlignmentFlag.AlignTop)


class _Painted(QWidget):
    """A part of the bar that paints its own words; new words never move a neighbour."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.theme = theme
        self.setFixedHeight(_HEIGHT_PX)

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self.theme = theme
        self.update()


class Spoken(_Painted):
    """Sign, word and sentence. A click asks how the program knows; `offer` lays what waits, when some of it lies."""

    asked = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.said = Said("", "ring", "muted", "")
        self.setMinimumWidth(280)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName("Verdict")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.offer = QPushButton("Lay the rest", self)
        self.offer.setToolTip("Propose places for what waits; everything that lies on the cloth stays where it is.")
        self.offer.setCursor(Qt.CursorShape.ArrowCursor)
        self._offered = False
        self.offer.hide()

    def show_offer(self, *, offered: bool) -> None:
        """Offer to lay the rest, where the sentence leaves room for it."""
        self._offered = offered
        self._place_offer()

    def _place_offer(self) -> None:
        size = self.offer.sizeHint()
        shown = self._offered and self.width() >= _OFFER_FROM_PX and self._has_room_for(size.width() + 12.0)
        self.offer.setGeometry(
            self.width() - size.width() - 4, (_HEIGHT_PX - size.height()) // 2, size.width(), size.height()
        )
        if shown != self.offer.isVisibleTo(self):
            self.offer.setVisible(shown)
            self.update()

    def _has_room_for(self, offer_px: float) -> bool:
        """True unless the offer would cut short a sentence that is whole without it; step 4 and a menu have it too."""
        whole = self.said.sentence
        return self._words_at(offer_px)[2] == whole or self._words_at(0.0)[2] != whole

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The offer stays at the right end."""
        super().resizeEvent(event)
        self._place_offer()

    def say(self, said: Said) -> None:
        """Say something else; nothing is painted when it is the same."""
        if said != self.said:
            self.said = said
            self.setAccessibleDescription(f"{said.word}. {said.sentence}")
            self.setToolTip(fill(f"{said.sentence}. A click opens the reason and all cuts.", 64))
            self._place_offer()
            self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Return and Space ask how it is known, as a click does."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.asked.emit()
            return
        super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Ask how it is known."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.asked.emit()

    def words_at(self) -> tuple[QRectF, QFont, str]:
        """Where the sentence stands, in what type, and as much of it as there is room for.

        Below the word in one line, else in two smaller ones; what is longer yet stands beside the word in three, or
        below a smaller word in three.
        """
        return self._words_at(self.offer.width() + 12.0 if self.offer.isVisibleTo(self) else 0.0)

    def _words_at(self, offer_px: float) -> tuple[QRectF, QFont, str]:
        sentence, width = self.said.sentence, self.width() - _WORDS_PX - 8.0 - offer_px
        one, small = figures_font(SIZES_PX.text), figures_font(SIZES_PX.small)
        if QFontMetricsF(one).horizontalAdvance(sentence) <= width:
            return QRectF(_WORDS_PX, 33, width, 20), one, sentence
        line_px = QFontMetricsF(small).lineSpacing()
        below = QRectF(_WORDS_PX, 29, width, 2 * line_px + 1)
        if _holds(below, small, sentence):
            return below, small, sentence
        word = QFontMetricsF(_word_font()).horizontalAdvance(self.said.word) + 14
        beside = QRectF(_WORDS_PX + word, (_HEIGHT_PX - 3 * line_px) / 2, width - word, 3 * line_px + 1)
        if _holds(beside, small, sentence):
            return beside, small, sentence
        tall = QRectF(_WORDS_PX, _HEIGHT_PX - 3 * line_px - 2, width, 3 * line_px + 1)
        cut = sentence
        while cut and not _holds(tall, small, cut):
            cut = cut.rstrip("…").rpartition(" ")[0] + "…" if " " in cut else ""
        return tall, small, cut

    def paintEvent(self, event: QPaintEvent) -> None:
        """Sign at the left, then the word and the sentence."""
        del event
        with QPainter(self) as painter:
            color = self.theme.color(self.said.state)
            draw_symbol(painter, self.said.symbol, QRectF(16, 15, 30, 30), color)
            place, font, words = self.words_at()
            beside, tall = place.left() > _WORDS_PX, place.height() > 2.5 * QFontMetricsF(font).lineSpacing()
            small = tall and not beside
            painter.setFont(text_font(SIZES_PX.title, bold=True) if small else _word_font())
            painter.setPen(color if self.said.state != "muted" else self.theme.color("ink"))
            room = place.left() - _WORDS_PX if beside else place.width()
            word_at = QRectF(_WORDS_PX, 17 if beside else 0 if small else 4, room, place.top() if small else 26)
            painter.drawText(word_at, Qt.AlignmentFlag.AlignVCenter, self.said.word)
            painter.setFont(font)
            painter.setPen(self.theme.color("muted"))
            painter.drawText(place, _WRAPPED, words)
            if self.hasFocus():
                painter.setPen(QPen(self.theme.color("accent"), 2.0))
                painter.drawRoundedRect(QRectF(self.rect()).adjusted(5, 3, -5, -3), CORNER_PX, CORNER_PX)


def _word_font() -> QFont:
    return text_font(SIZES_PX.verdict, bold=True)


def _holds(place: QRectF, font: QFont, words: str) -> bool:
    """True when the words, broken into lines, stay within the place."""
    endless = QRectF(0, 0, place.width(), 10_000)
    needed = QFontMetricsF(font).boundingRect(endless, _WRAPPED, words)
    return needed.height() <= place.height() and needed.width() <= place.width()


class FigureView(_Painted):
    """One figure with its name below it, at a width that holds the `widest` figure and the widest note.

    `asked`: it was clicked.
    """

    asked = Signal()

    def __init__(self, theme: Theme, name: str, widest: tuple[str, str]) -> None:
        super().__init__(theme)
        self._name = name
        self.figure = "–"
        self.note = name
        self._old = False
        self._tip = ""
        fonts = figures_font(SIZES_PX.title, bold=True), text_font(SIZES_PX.small)
        widths = [QFontMetricsF(font).horizontalAdvance(words) for font, words in zip(fonts, widest, strict=True)]
        self.setFixedWidth(int(max(widths)) + 8)
        self.setAccessibleName(name)

    def show_figure(self, figure: str, note: str = "", *, old: bool = False) -> None:
        """Show a figure; `old` marks the answer to an earlier state of the job."""
        note = "as of before" if old else note or self._name
        self._say_whole(figure, note)
        if (figure, note, old) != (self.figure, self.note, self._old):
            self.figure, self.note, self._old = figure, note, old
            self.setAccessibleDescription(f"{figure}, {note}")
            self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """More is wanted about this figure."""
        if event.button() == Qt.MouseButton.LeftButton:
            self.asked.emit()

    def set_tip(self, tip: str) -> None:
        """What the figure means."""
        self._tip = tip
        self.setToolTip(fill(tip, 64))

    def _font_of(self, figure: str) -> QFont:
        """The largest type in which the figure is whole: inches in fractions are long. The smallest when none is."""
        fonts = [figures_font(size_px, bold=True) for size_px in (SIZES_PX.title, SIZES_PX.text, SIZES_PX.small)]
        whole = (font for font in fonts if QFontMetricsF(font).horizontalAdvance(figure) <= self.width())
        return next(whole, fonts[-1])

    def _say_whole(self, figure: str, note: str) -> None:
        """The tip begins with what is too long to be shown whole."""
        large = QFontMetricsF(self._font_of(figure)).horizontalAdvance(figure) > self.width()
        small = QFontMetricsF(text_font(SIZES_PX.small)).horizontalAdvance(note) > self.width()
        whole = f"{figure}, {note}\n" if large or small else ""
        self.setToolTip(whole + fill(self._tip, 64))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Figure above, name below."""
        del event
        with QPainter(self) as painter:
            painter.setFont(self._font_of(self.figure))
            painter.setPen(self.theme.color("muted" if self._old else "ink"))
            box = QRectF(0, 8, self.width(), 26)
            words = painter.fontMetrics().elidedText(self.figure, Qt.TextElideMode.ElideRight, self.width())
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, words)
            painter.setFont(text_font(SIZES_PX.small))
            painter.setPen(self.theme.color("muted"))
            note = painter.fontMetrics().elidedText(self.note, Qt.TextElideMode.ElideRight, self.width())
            painter.drawText(QRectF(0, 33, self.width(), 20), Qt.AlignmentFlag.AlignVCenter, note)


class VerdictBar(QWidget):
    """Verdict, used %, room to spare, least cut and the rungs around it."""

    ladder_asked = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setFixedHeight(_HEIGHT_PX)
        self.theme = theme
        self.spoken = Spoken(theme)
        self.used = FigureView(theme, "of the cloth used", ("100 %", "of the cloth used"))
        self.used.set_tip("The area of all cut outlines over the area of the cloth as it was bought.")
        self.room = FigureView(theme, "room to spare", ("1234.5 mm", "the most room there is"))
        self.room.set_tip(
            "Lay the pieces as well as can be: this is then the least distance between two of them, or to the edge. "
            "Below the room you wish for, the verdict is tight."
        )
        self.least = FigureView(
            theme, "least cut that holds it", ("2 x long quarter, 150 cm", "with room: 2 x yard, 42 in")
        )
        self.least.set_tip("The smallest cut off the ladder from which the whole job can be had.")
        self.left = FigureView(theme, sentence("left-over-name", {}), ("1234.5 × 1234.5 mm", "largest piece left over"))
        self.left.set_tip(sentence("left-over-tip", {}))
        self.left.setCursor(Qt.CursorShape.PointingHandCursor)
        row = QHBoxLayout(self)
        row.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        row.setContentsMargins(0, 0, 12, 0)
        row.setSpacing(8)
        row.addWidget(self.spoken, 1)
        for figure in (self.used, self.left, self.room, self.least):
            row.addWidget(figure)
        self._chip_room = QWidget()
        self._chip_row = QHBoxLayout(self._chip_room)
        self._chip_row.setContentsMargins(0, 0, 0, 0)
        self._chip_row.setSpacing(_CHIP_GAP_PX)
        self._chip_row.addStretch(1)
        row.addWidget(self._chip_room)
        self._chips: list[ChipButton] = []
        self._shown = 0

    def show_chips(self, chips: Sequence[Chip]) -> None:
        """Show these rungs; a click on one asks for the whole ladder."""
        while len(self._chips) < len(chips):
            button = ChipButton(self.theme)
            button.clicked.connect(lambda _checked=False, button=button: self.ladder_asked.emit(button.chip.name))
            self._chips.append(button)
            self._chip_row.addWidget(button)
        self._shown = len(chips)
        self._make_room()
        for at, button in enumerate(self._chips):
            if at < len(chips) and button.chip != chips[at]:
                button.show_chip(chips[at])

    def _make_room(self) -> None:
        """In a narrow window rungs give way to the sentence; their room is kept free while none is known."""
        most = next((count for from_px, count in _RUNGS_FROM_PX if self.width() >= from_px), 0)
        self.left.setVisible(self.width() >= _LEFT_FROM_PX)
        self._chip_room.setFixedWidth(max(most * (CHIP_PX + _CHIP_GAP_PX) - _CHIP_GAP_PX, 0))
        # The least cut is told beside them: where only one rung has room, it is the one that is less.
        for at, button in enumerate(self._chips):
            button.setVisible(at < min(self._shown, most))

    def minimumSizeHint(self) -> QSize:
        """Rungs never keep a window from being made narrower."""
        give_way = self._chip_room.width() + (self.left.width() if self.left.isVisibleTo(self) else 0)
        return super().minimumSizeHint() - QSize(give_way, 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Show as many rungs as leave room for the sentence."""
        super().resizeEvent(event)
        self._make_room()

    def dress(self, theme: Theme) -> None:
        """Another look."""
        self.theme = theme
        for part in (self.spoken, self.used, self.left, self.room, self.least):
            part.dress(theme)
        for chip in self._chips:
            chip.theme = theme
            chip.update()
