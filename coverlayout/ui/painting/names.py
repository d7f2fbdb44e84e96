"""Words on the canvas: chips, the name of a piece, and what is wrong with where it lies."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from coverlayout.errors import sentence
from coverlayout.layout.answer import Breach, Rule
from coverlayout.ui.canvas.bench import Bench, Lying
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, text_font
from coverlayout.units import LengthStyle

__all__ = ["BREACH", "CHOSEN", "FITS", "INK", "PieceLook", "looks_of", "paint_breaches", "paint_chip", "paint_name"]

# Pieces lie on a print, under light halos, in both looks: their colours are those of the light look.
INK = QColor("#22252B")
CHOSEN = QColor("#1F4E79")
BREACH = QColor("#A6301D")
FITS = QColor("#0B6B4D")
_ON_INK = QColor("#FFFFFF")
_WORDED = ("overlap", "outside", "flaw", "gap", "zone", "turn", "lock", "link")
# Nothing is written on a board smaller than this.
_LEAST_NAME_PX = 44.0
_SMALL_BOARD_PX = 120.0


@dataclass(frozen=True)
class PieceLook:
    """How a piece is shown now: chosen or not, and what is wrong with where it lies (the rule and its words)."""

    chosen: bool = False
    breaches: tuple[tuple[Rule, str], ...] = ()

    @property
    def rules(self) -> frozenset[Rule]:
        """The rules it breaks."""
        return frozenset(rule for rule, _ in self.breaches)


def looks_of(
    bench: Bench, breaches: tuple[Breach, ...], chosen: tuple[str, ...], style: LengthStyle
) -> dict[str, PieceLook]:
    """How every piece on the bench is shown."""
    wrong: dict[str, list[tuple[Rule, str]]] = {}
    for breach in breaches:
        for piece_id in breach.pieces:
            wrong.setdefault(piece_id, []).append((breach.rule, _words(breach, piece_id, bench, style)))
    plain, marked = PieceLook(), PieceLook(chosen=True)
    looks = {lying.piece.id: plain for lying in bench.lying}
    looks |= dict.fromkeys(chosen, marked)
    looks |= {each: PieceLook(each in chosen, tuple(found)) for each, found in wrong.items()}
    return looks


def _words(breach: Breach, piece_id: str, bench: Bench, style: LengthStyle) -> str:
    """What is wrong, in a few words to be written on the piece of that id."""
    others = [bench.name(other) for other in breach.pieces if other != piece_id and bench.find(other)]
    code = f"canvas-{breach.rule}" if breach.rule in _WORDED else "canvas-other-rule"
    figures: dict[str, str | int | float] = {
        "other": others[0] if others else breach.against,
        "amount_mm": breach.amount_mm,
        "amount": round(breach.amount_mm),
    }
    return sentence(code, figures, lambda length_mm: style.show(length_mm, "up"))


def _name_font(board: QRectF) -> QFont:
    """On a small board the name is written small and plain, so that it hides less of the print."""
    if board.width() < _SMALL_BOARD_PX:
        return text_font(SIZES_PX.small - 1)
    return text_font(SIZES_PX.small, bold=True)


def _name_of(lying: Lying) -> str:
    return f"✓ {lying.label}" if lying.state == "cut" else lying.label


def _corner(lying: Lying, board: QRectF, metrics: QFontMetricsF) -> QPointF:
    """Where the words begin: the top left of the board, below the head's wedge and word when they would reach them."""
    if board.width() < _SMALL_BOARD_PX:
        return board.topLeft() + QPointF(6, 18)
    left, top = board.left() + 12, board.top() + 12
    reaches = left + metrics.horizontalAdvance(_name_of(lying)) + 12 > board.center().x() - 18
    return QPointF(left, top + 22 if reaches else top)


def _has_room(board: QRectF) -> bool:
    return board.width() >= _LEAST_NAME_PX and board.height() >= 24


def paint_name(painter: QPainter, lying: Lying, board: QRectF, outline: QRectF, look: PieceLook) -> None:
    """The name at the top left of the board, with a tick when it is cut."""
    if _has_room(board):
        metrics = QFontMetricsF(_name_font(board))
        corner = _corner(lying, board, metrics)
        color = CHOSEN if look.chosen else FITS if lying.state == "cut" else INK
        _paint_block(painter, corner, _name_of(lying), color, outline, font=_name_font(board))


def paint_breaches(painter: QPainter, lying: Lying, board: QRectF, outline: QRectF, look: PieceLook) -> None:
    """What is wrong, below the name, each in a block of its own as far as there is room."""
    if not look.breaches or not _has_room(board):
        return
    metrics = QFontMetricsF(_name_font(board))
    corner = _corner(lying, board, metrics) + QPointF(0, metrics.height() + 7)
    for _, words in look.breaches:
        lower_px = _paint_block(painter, corner, words, BREACH, outline, font=_name_font(board))
        if lower_px > outline.bottom():
            return
        corner.setY(lower_px + 3)


def _paint_block(
    painter: QPainter, corner: QPointF, words: str, ground: QColor, outline: QRectF, *, font: QFont
) -> float:
    """Words on a rounded ground in lines that stay within the outline's right side; returns where it ends below.

    Nothing is painted when that is outside the outline.
    """
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    wrap = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft
    room = QRectF(0, 0, max(outline.right() - corner.x() - 14, 40.0), 1000)
    text = QFontMetricsF(font).boundingRect(room, wrap, words)
    box = QRectF(corner.x(), corner.y(), text.width() + 13, text.height() + 4)
    if box.bottom() <= outline.bottom():
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ground)
        painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(font)
        painter.setPen(_ON_INK)
        painter.drawText(box.adjusted(6, 2, -6, -2), wrap, words)
    return box.bottom()


def paint_chip(
    painter: QPainter,
    middle: QPointF,
    text: str,
    ground: QColor,
    ink: QColor,
    *,
    bold: bool = True,
    size_px: int = SIZES_PX.small,
) -> None:
    """A word or figure on a small rounded ground about `middle`; a bold one has more room around it."""
    font = text_font(size_px, bold=bold)
    metrics = QFontMetricsF(font)
    width = metrics.horizontalAdvance(text) + (12 if bold else 6)
    height = metrics.height() + (4 if bold else 0)
    box = QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    painter.setFont(font)
    painter.setPen(ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.setBrush(Qt.BrushStyle.NoBrush)
