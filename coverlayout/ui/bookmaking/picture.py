"""Paints a drawn book to fit: shapes by what they are, measures around it with their figures, a key to the lines."""

from __future__ import annotations

import math
from functools import partial

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QFontMetricsF, QHelpEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from coverlayout.book.picturing.shapes import MeasureLine, Picture, Role
from coverlayout.errors import sentence
from coverlayout.ui.picturing.colours import KEY_WORDS, theme_of
from coverlayout.ui.picturing.fitting import Fitted, Fitting
from coverlayout.ui.picturing.labels import Labelled, PlacedMeasure
from coverlayout.ui.picturing.painting import paint_measure, paint_sample, paint_shapes, paint_words
from coverlayout.ui.theme import SIZES_PX, Theme, figures_font
from coverlayout.units import LengthStyle, Rounding

__all__ = ["BookPicture"]

_EDGE_PX, _EMPTY_PX = 8.0, 80
# By then the panel has given another picture its height.
_SETTLED_MS = 30
_TITLE_PX, _KEY_ROW_PX, _SWATCH_PX = 18.0, 17.0, 18.0
# Names that would not fit beside a line in a panel.
_SHORT = {
    "block thickness": "block",
    "book thickness": "book",
    "board thickness": "board",
    "hole from spine": "hole",
    "fore-edge square": "fore-edge",
    "turn-in at the head": "head turn-in",
    "turn-in at the tail": "tail turn-in",
    "turn-in at the spine": "spine turn-in",
    "turn-in at the mouth": "mouth",
}
# What a measure means where no rule of the trade says so.
_HINTS = {
    "spine": "picture-spine",
    "block thickness": "picture-block-thickness",
    "book thickness": "picture-book-thickness",
    "fore-edge square": "picture-fore-edge-square",
    "rise": "picture-rise",
    "spine on board": "picture-spine-on-board",
    "cut width": "picture-cut",
    "cut height": "picture-cut",
}


# What the knife follows is never shown smaller than it is.
_CUT = ("cut width", "cut height")


def _rounding(measure: MeasureLine) -> Rounding:
    return "up" if measure.name in _CUT else "nearest"


class BookPicture(QWidget):
    """A drawn book that follows what it is given, keeps the last one it could draw, and says in words what it shows.

    `highest_px` bounds its height; `keyed` adds the key to the lines, `large` figures with their unit.
    """

    def __init__(self, name: str, *, highest_px: int = 260, keyed: bool = True, large: bool = False) -> None:
        super().__init__()
        self._highest_px, self._keyed, self._large = highest_px, keyed, large
        self._picture: Picture | None = None
        self._style = LengthStyle()
        self._pointed = self._under_mouse = ""
        self._fitting: Fitting | None = None
        self._laid: tuple[QSize, Fitted] | None = None
        # What was found for a width: the height it takes, and how it lies at the greatest height.
        self._found: dict[int, tuple[int, Fitted]] = {}
        # True from another picture on until its height was given to it.
        self._awaits_height = False
        self._settled = QTimer(self, singleShot=True, interval=_SETTLED_MS)
        self._settled.timeout.connect(self._take_height)
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
        self._fitting = None if picture is None else Fitting(picture, self._metrics())
        self._laid = None
        self._found.clear()
        self.setAccessibleDescription(self.spoken())
        if not self._large and self.isVisible():
            self._awaits_height = True
            self._settled.start()
        self.updateGeometry()
        self.update()

    def point_at(self, name: str) -> None:
        """Pick out the measure of that name (or of the rule of that name); empty picks out nothing."""
        if name == self._pointed:
            return
        self._pointed = name
        if self._laid is not None and not self._has_place(self._laid[1]):
            self._laid = None
        self.update()

    def spoken(self) -> str:
        """The picture in words: what is seen, and every measure with its figure."""
        if self._picture is None:
            return ""
        measures = ", ".join(
            f"{each.name} {self._style.show(each.length_mm, _rounding(each))}" for each in self._picture.measures
        )
        return sentence("picture-said", {"title": self._picture.title, "measures": measures})

    def placed(self) -> tuple[PlacedMeasure, ...]:
        """Where the measures stand in the present size, in px."""
        return () if self._fitting is None else self._fitted(self._fitting).placed

    # Size

    def hasHeightForWidth(self) -> bool:
        """A wider panel shows it larger, up to a bound."""
        return not self._large

    def heightForWidth(self, width: int) -> int:
        """As high as it needs to be at that width."""
        if self._fitting is None:
            return _EMPTY_PX
        if width not in self._found:
            laid = self._fitting.within(self._inside(width, self._highest_px), self._texts())
            height = math.ceil(laid.around.height() + 2 * _EDGE_PX + _TITLE_PX + self._below(width))
            self._found[width] = min(height, self._highest_px), laid
        return self._found[width][0]

    def sizeHint(self) -> QSize:
        """Wide enough for a panel, and as high as at the width it has: no other has to be tried for it."""
        return QSize(560, 420) if self._large else QSize(280, self.heightForWidth(self.width()))

    def minimumSizeHint(self) -> QSize:
        """It can be read down to this."""
        return QSize(320, 220) if self._large else QSize(200, 80)

    def _metrics(self) -> QFontMetricsF:
        # Room for the heavier figures of a measure that is picked out.
        return QFontMetricsF(figures_font(self._text_px, bold=True))

    @property
    def _text_px(self) -> int:
        return SIZES_PX.text if self._large else SIZES_PX.small

    def _texts(self, first: str = "") -> tuple[Labelled, ...]:
        """Every measure with its words, the one picked out `first`, so that it has a place whatever has not."""
        if self._picture is None:
            return ()
        show = self._style.show if self._large or self._style.unit == "in" else self._style.number
        ordered = sorted(self._picture.measures, key=lambda each: not each.is_called(first))
        return tuple(
            (
                each,
                f"{each.name if self._large else _SHORT.get(each.name, each.name)} "
                f"{show(each.length_mm, _rounding(each))}",
            )
            for each in ordered
        )

    def key(self, width: float) -> list[tuple[QPointF, Role, str]]:
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
        key = self.key(width)
        return key[-1][0].y() + _KEY_ROW_PX + 4 if key else 0.0

    def _inside(self, width: float, height: float) -> QRectF:
        """What is left for the drawing and its measures under the title and above the key."""
        top = _EDGE_PX + _TITLE_PX
        return QRectF(_EDGE_PX, top, width - 2 * _EDGE_PX, height - top - _EDGE_PX - self._below(width))

    def _fitted(self, fitting: Fitting) -> Fitted:
        size = self.size()
        if self._laid is None or self._laid[0] != size:
            height, laid = self._found.get(size.width(), (0, None))
            if laid is None or height != size.height() or not self._has_place(laid):
                laid = fitting.within(self._inside(size.width(), size.height()), self._texts(self._pointed))
            else:
                laid = self._as_high(height, laid)
            self._laid = (size, laid)
        return self._laid[1]

    def _as_high(self, height: int, laid: Fitted) -> Fitted:
        """What was fitted into the greatest height, in the height that it takes."""
        return laid.moved(0.0, (height - self._highest_px) / 2)

    def _take_height(self) -> None:
        """The layout has run: whatever height there is now, is the one to fit into."""
        self._awaits_height = False
        if self.height() != self.heightForWidth(self.width()):
            self.update()

    def _painted(self, fitting: Fitting) -> Fitted:
        """As it is painted; between another picture and its height that is at hand, it is not fitted for a blink."""
        if self._awaits_height:
            self.heightForWidth(self.width())
            return self._as_high(*self._found[self.width()])
        return self._fitted(fitting)

    def _has_place(self, laid: Fitted) -> bool:
        """True unless the measure that is picked out is there and stands nowhere."""
        wanted = self._picture.measured(self._pointed) if self._picture is not None else None
        return wanted is None or any(each.measure == wanted for each in laid.placed)

    # Words on asking

    def event(self, event: QEvent) -> bool:
        """A measure under the mouse tells what it is and what is usual."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            found = self._at(QPointF(event.pos()))
            if found is not None:
                QToolTip.showText(event.globalPos(), self.tip(found), self, found.area.toAlignedRect())
                return True
            QToolTip.hideText()
        return super().event(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """The measure under the mouse is picked out as well."""
        found = self._at(event.position())
        self._hover("" if found is None else found.measure.name)

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is under the mouse any more."""
        super().leaveEvent(event)
        self._hover("")

    def _hover(self, name: str) -> None:
        if name != self._under_mouse:
            self._under_mouse = name
            self.update()

    def _at(self, at: QPointF) -> PlacedMeasure | None:
        near = [each for each in self.placed() if each.area.adjusted(-2, -2, 2, 2).contains(at)]
        return min(near, key=lambda each: each.area.width() * each.area.height(), default=None)

    def tip(self, placed: PlacedMeasure) -> str:
        """What a measure means, what is usual, and where that comes from."""
        measure, show = placed.measure, self._style.show
        rounded = partial(show, rounding=_rounding(measure))
        figures: dict[str, str | float] = {"name": measure.name.capitalize(), "length_mm": measure.length_mm}
        said = [sentence("picture-measure", figures, rounded)]
        if measure.round_mm > 0:
            said.append(sentence("picture-round", {"round_mm": measure.round_mm}, show))
        if measure.rule is None:
            code = _HINTS.get(measure.name)
            return "\n".join(said if code is None else [*said, sentence(code, {})])
        usual = {"least_mm": measure.rule.usual_least, "most_mm": measure.rule.usual_most}
        if measure.unusual:
            said.append(sentence("picture-unusual", usual, show))
        return "\n".join([*said, measure.rule.hint, sentence("picture-source", {"source": measure.rule.source})])

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
            if self._picture is None or self._fitting is None:
                return
            laid = self._painted(self._fitting)
            self._paint_title(painter, theme)
            paint_shapes(painter, self._picture.shapes, laid.to_px, laid.px_per_mm, theme)
            paint_words(painter, self._picture.words, laid, theme)
            for placed in laid.placed:
                pointed = placed.measure.is_called(self._pointed) or placed.measure.is_called(self._under_mouse)
                paint_measure(painter, placed, theme, self._text_px, pointed=pointed)
            self._paint_key(painter, theme)

    def _paint_title(self, painter: QPainter, theme: Theme) -> None:
        assert self._picture is not None
        font = figures_font(self._text_px)
        painter.setFont(font)
        painter.setPen(theme.color("muted"))
        room = QRectF(_EDGE_PX, 5, self.width() - 2 * _EDGE_PX, _TITLE_PX)
        words = QFontMetricsF(font).elidedText(self._picture.title, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, words)

    def _paint_key(self, painter: QPainter, theme: Theme) -> None:
        assert self._picture is not None
        font = figures_font(SIZES_PX.small)
        painter.setFont(font)
        top = self.height() - self._below(self.width())
        for at, role, word in self.key(self.width()):
            box = QRectF(at.x(), top + at.y() + 2, _SWATCH_PX, _KEY_ROW_PX - 6)
            filled = any(shape.closed and shape.role == role for shape in self._picture.shapes)
            paint_sample(painter, box, role, theme, filled=filled)
            painter.setPen(theme.color("muted"))
            painter.drawText(QPointF(box.right() + 5, box.center().y() + 4), word)
