"""Pieces on the canvas: the print bright on boards and pale on turn-ins, their lines, names and breaches."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from coverlayout.book.pieces import Mark, Piece
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Affine
from coverlayout.geometry.shapes import is_rectangle
from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.answer import Breach, Rule
from coverlayout.ui.canvas.bench import Bench, Lying
from coverlayout.ui.canvas.cloth_layer import CLOTH_WHITE, polygon
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, LineKind, Theme, halo, pen, text_font
from coverlayout.units import LengthStyle

__all__ = ["PieceLook", "breach_words", "looks_of", "paint_chip", "paint_ground", "paint_piece"]

# Pieces lie on a print, under light halos, in both looks: their colours are those of the light look.
_WASH = QColor(251, 248, 241, 150)
_INK = QColor("#22252B")
_ON_INK = QColor("#FFFFFF")
_CHOSEN = QColor("#1F4E79")
_BREACH = QColor("#A6301D")
_FITS = QColor("#0B6B4D")
# Each kind of breach has a hatch of its own, so that it is told apart without colour.
_HATCH: dict[Rule, Qt.BrushStyle] = {
    "overlap": Qt.BrushStyle.DiagCrossPattern,
    "outside": Qt.BrushStyle.BDiagPattern,
    "flaw": Qt.BrushStyle.FDiagPattern,
    "gap": Qt.BrushStyle.VerPattern,
    "zone": Qt.BrushStyle.HorPattern,
}
_WORDED = ("overlap", "outside", "flaw", "gap", "zone", "turn", "lock", "link")
_LINES: tuple[LineKind, ...] = ("mitre", "liner", "turn-in", "board")
# Nothing is written on a board smaller than this; head and spine are named from this size on.
_LEAST_NAME_PX = 44.0
_LEAST_WORDS_PX = 130.0


@dataclass(frozen=True)
class PieceLook:
    """How a piece is shown now: chosen or not, and what is wrong with where it lies (the rule and its words)."""

    chosen: bool = False
    breaches: tuple[tuple[Rule, str], ...] = ()


def breach_words(breach: Breach, piece_id: str, bench: Bench, style: LengthStyle) -> str:
    """What is wrong, in a few words to be written on the piece of that id."""
    others = [bench.name(other) for other in breach.pieces if other != piece_id and bench.find(other)]
    code = f"canvas-{breach.rule}" if breach.rule in _WORDED else "canvas-other-rule"
    figures: dict[str, str | int | float] = {
        "other": others[0] if others else breach.against,
        "amount_mm": breach.amount_mm,
        "amount": round(breach.amount_mm),
    }
    return sentence(code, figures, lambda length_mm: style.show(length_mm, "up"))


def looks_of(
    bench: Bench, breaches: tuple[Breach, ...], chosen: tuple[str, ...], style: LengthStyle
) -> dict[str, PieceLook]:
    """How every piece on the bench is shown."""
    wrong: dict[str, list[tuple[Rule, str]]] = {}
    for breach in breaches:
        for piece_id in breach.pieces:
            wrong.setdefault(piece_id, []).append((breach.rule, breach_words(breach, piece_id, bench, style)))
    ids = (lying.piece.id for lying in bench.lying)
    return {each: PieceLook(each in chosen, tuple(wrong.get(each, ()))) for each in ids}


def _window(piece: Piece, by: Affine) -> QPolygonF:
    """The part that shows the print in full: the board's face, or all of a piece without a board."""
    return polygon(piece.board.ring() if piece.board else piece.outline_mm, by)


def _is_upright(by: Affine) -> bool:
    """True when the map keeps upright lines upright or lays them level: turns by quarters."""
    return min(abs(by.xx) + abs(by.yy), abs(by.xy) + abs(by.yx)) < EXACT_MM


def paint_ground(painter: QPainter, piece: Piece, by: Affine, bright: QPixmap | None) -> None:
    """What lies under the lines: the bright print of `bright` (the whole canvas), pale in the turn-ins.

    None: the piece lies on no print (it waits), and shows as plain cloth.
    """
    outline = polygon(piece.outline_mm, by)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    path = QPainterPath()
    path.addPolygon(outline)
    if bright is None:
        painter.fillPath(path, QColor(CLOTH_WHITE))
        return
    painter.save()
    if _is_upright(by) and is_rectangle(piece.outline_mm):
        painter.setClipRect(outline.boundingRect(), Qt.ClipOperation.IntersectClip)
    else:
        painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.drawPixmap(0, 0, bright)
    painter.restore()
    if piece.board is not None:
        path.addPolygon(_window(piece, by))
        painter.fillPath(path, _WASH)


def paint_piece(painter: QPainter, lying: Lying, by: Affine, theme: Theme, look: PieceLook) -> None:
    """The lines, marks, name and breaches of a piece, over its ground."""
    piece = lying.piece
    outline = polygon(piece.outline_mm, by)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    rules = {rule for rule, _ in look.breaches}
    for rule in sorted(rules & _HATCH.keys()):
        hatch = QColor(_BREACH)
        hatch.setAlpha(120)
        path = QPainterPath()
        path.addPolygon(outline)
        painter.fillPath(path, QBrush(hatch, _HATCH[rule]))
    _paint_lines(painter, piece, by, theme, _BREACH if look.breaches else _CHOSEN if look.chosen else _INK)
    _paint_outline(painter, outline, theme, look)
    window = _window(piece, by)
    for mark in piece.marks:
        if mark.kind == "spine edge":
            _paint_spine(painter, mark, by, window, theme)
        elif mark.kind == "head":
            _paint_head(painter, mark, by, window, theme)
    _paint_name(painter, lying, window.boundingRect(), look)


def _paint_lines(painter: QPainter, piece: Piece, by: Affine, theme: Theme, color: QColor) -> None:
    for kind in _LINES:
        marks = [mark for mark in piece.marks if mark.kind == kind]
        if kind == "board" and not marks and piece.board is not None:
            marks = [Mark("board", piece.board.ring(), closed=True)]
        path = QPainterPath()
        for mark in marks:
            points = [QPointF(*by.at(point)) for point in mark.points_mm]
            path.addPolygon(QPolygonF([*points, points[0]] if mark.closed else points))
        if not path.isEmpty():
            painter.strokePath(path, halo(kind, theme))
            painter.strokePath(path, pen(kind, color))


def _paint_outline(painter: QPainter, outline: QPolygonF, theme: Theme, look: PieceLook) -> None:
    """The cut line: dashed; a chosen piece has a solid line around it as well, one that lies wrong short dashes."""
    path = QPainterPath()
    path.addPolygon(outline)
    painter.strokePath(path, halo("cut", theme))
    if look.breaches:
        painter.strokePath(path, pen("flaw", _BREACH, 2.5))
    else:
        painter.strokePath(path, pen("cut", _CHOSEN if look.chosen else _INK))
    if look.chosen:
        frame = outline.boundingRect().adjusted(-4, -4, 4, 4)
        painter.setPen(QPen(theme.color("halo", 0.8), 4.0))
        painter.drawPath(_corners(frame))
        painter.setPen(QPen(_CHOSEN, 2.5))
        painter.drawPath(_corners(frame))


def _corners(frame: QRectF) -> QPainterPath:
    """Four angles around a box: what is chosen stands between them."""
    arm = min(14.0, frame.width() / 3, frame.height() / 3)
    path = QPainterPath()
    for corner, x, y in (
        (frame.topLeft(), 1, 1),
        (frame.topRight(), -1, 1),
        (frame.bottomRight(), -1, -1),
        (frame.bottomLeft(), 1, -1),
    ):
        path.moveTo(corner + QPointF(x * arm, 0))
        path.lineTo(corner)
        path.lineTo(corner + QPointF(0, y * arm))
    return path


def _inward(start: QPointF, end: QPointF, window: QPolygonF) -> tuple[QPointF, QPointF, float]:
    """Direction along a line, direction from it into the board (both of length 1), and its length."""
    along = end - start
    length = math.hypot(along.x(), along.y()) or 1.0
    along /= length
    inward = QPointF(-along.y(), along.x())
    to_middle = window.boundingRect().center() - (start + end) / 2
    if QPointF.dotProduct(inward, to_middle) < 0:
        inward = -inward
    return along, inward, length


def _paint_spine(painter: QPainter, mark: Mark, by: Affine, window: QPolygonF, theme: Theme) -> None:
    """The spine edge: a heavy line just inside it, with stitches across, named where there is room."""
    start, end = (QPointF(*by.at(point)) for point in mark.points_mm[:2])
    along, inward, length = _inward(start, end, window)
    path = QPainterPath(start + inward * 5)
    path.lineTo(end + inward * 5)
    stitches = max(int(length // 28), 2)
    for k in range(1, stitches):
        at = start + along * (length * k / stitches)
        path.moveTo(at + inward * 2)
        path.lineTo(at + inward * 8)
    painter.strokePath(path, halo("mitre", theme, 1.5))
    painter.strokePath(path, pen("mitre", _INK, 1.5))
    if min(window.boundingRect().width(), length) > _LEAST_WORDS_PX:
        _paint_word(painter, (start + end) / 2 + inward * 14, inward, "canvas-spine")


def _paint_head(painter: QPainter, mark: Mark, by: Affine, window: QPolygonF, theme: Theme) -> None:
    """The head: a solid wedge at the middle of the edge that points outward, named where there is room."""
    start, end = (QPointF(*by.at(point)) for point in mark.points_mm[:2])
    along, inward, length = _inward(start, end, window)
    size = min(7.0, length / 6)
    tip = (start + end) / 2 + inward * 3
    path = QPainterPath(tip)
    path.lineTo(tip + inward * (1.4 * size) + along * size)
    path.lineTo(tip + inward * (1.4 * size) - along * size)
    path.closeSubpath()
    painter.strokePath(path, halo("mitre", theme, 1.0))
    painter.fillPath(path, _INK)
    box = window.boundingRect()
    if min(box.width(), box.height()) > _LEAST_WORDS_PX:
        _paint_word(painter, tip + inward * (1.4 * size + 5), inward, "canvas-head")


def _paint_word(painter: QPainter, at: QPointF, inward: QPointF, code: str) -> None:
    """A small word on a light ground, beginning at `at` and growing inward."""
    text = sentence(code, {})
    font = text_font(SIZES_PX.small - 1)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(text) + 6, metrics.height()
    middle = at + QPointF(inward.x() * width / 2, inward.y() * height / 2)
    paint_chip(painter, middle, text, QColor(255, 255, 255, 205), _INK, bold=False, size_px=SIZES_PX.small - 1)


def _paint_name(painter: QPainter, lying: Lying, window: QRectF, look: PieceLook) -> None:
    """The name at the top left, a tick when cut, and below it what is wrong."""
    if window.width() < _LEAST_NAME_PX or window.height() < 20:
        return
    font = text_font(SIZES_PX.small, bold=True)
    metrics = QFontMetricsF(font)
    room = window.width() - 24
    top = window.top() + 12
    lines = [(("✓ " if lying.state == "cut" else "") + lying.label, _CHOSEN if look.chosen else _INK)]
    if lying.state == "cut":
        lines = [(lines[0][0], _FITS)]
    lines += [(words, _BREACH) for _, words in look.breaches[:3]]
    for text, color in lines:
        shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, max(room - 12, 20))
        width, height = metrics.horizontalAdvance(shown) + 12, metrics.height() + 4
        if top + height > window.bottom():
            return
        left = window.left() + 12
        paint_chip(painter, QPointF(left + width / 2, top + height / 2), shown, color, _ON_INK)
        top += height + 3


def paint_chip(
    painter: QPainter,
    middle: QPointF,
    text: str,
    ground: QColor,
    ink: QColor,
    *,
    bold: bool = True,
    size_px: int = SIZES_PX.small,
) -> QRectF:
    """A word or figure on a small rounded ground about `middle`; returns where it lies."""
    font = text_font(size_px, bold=bold)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(text) + 12 if bold else metrics.horizontalAdvance(text) + 6, 0.0
    height = metrics.height() + (4 if bold else 0)
    box = QRectF(middle.x() - width / 2, middle.y() - height / 2, width, height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    painter.setFont(font)
    painter.setPen(ink)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    return box
