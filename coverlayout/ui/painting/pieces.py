"""Pieces on the canvas: the print bright on boards and pale on turn-ins, their lines, marks and hatches."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from coverlayout.book.pieces import Mark, Piece
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Affine
from coverlayout.geometry.shapes import bounds, is_rectangle
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM
from coverlayout.layout.answer import Rule
from coverlayout.ui.painting.cloths import CLOTH_WHITE, fill_hatched, polygon
from coverlayout.ui.painting.names import BREACH, CHOSEN, FITS, INK, PieceLook, paint_chip
from coverlayout.ui.table.bench import Lying
from coverlayout.ui.theme import SIZES_PX, LineKind, Theme, halo, pen, text_font

__all__ = ["board_of", "paint_chosen", "paint_faces", "paint_ground", "paint_lines"]

_WASH = QColor(251, 248, 241, 150)
# Each kind of breach has a hatch of its own, so that it is told apart without colour.
_HATCH: dict[Rule, Qt.BrushStyle] = {
    "overlap": Qt.BrushStyle.DiagCrossPattern,
    "outside": Qt.BrushStyle.BDiagPattern,
    "flaw": Qt.BrushStyle.FDiagPattern,
    "gap": Qt.BrushStyle.VerPattern,
    "zone": Qt.BrushStyle.HorPattern,
}
_LINES: tuple[LineKind, ...] = ("mitre", "liner", "turn-in", "joint", "fold", "lap", "window", "board")
# Fold and liner lie close to the board: finer, so that the three stay apart.
_WIDTH_PX: dict[LineKind, float] = {"turn-in": 1.0, "liner": 1.6}
# Seen smaller than this, folds and mitres would run together with the board: only board and cut line are drawn.
_FINE_PX_PER_MM = 0.9
# The solid corner of a cut piece, the head of a pin, and how far in from the corner along both edges it sits.
_CORNER_PX, _PIN_PX, _PIN_IN_PX = 12.0, 4.0, 8.0
# Head and spine are named from this size of a board on.
_LEAST_WORDS_PX = 130.0
# How far inside the spine edge its two lines run; along a board, whose own edge is the first of the two, the other one.
_SPINE_IN_PX, _SPINE_ON_BOARD_PX = (3.0, 6.5), (4.0,)


def board_of(piece: Piece, by: Affine) -> QPolygonF:
    """The part that shows the print in full: the board's face, or all of a piece without a board."""
    return polygon(piece.board.ring() if piece.board else piece.outline_mm, by)


def _is_upright(by: Affine) -> bool:
    """True when the map keeps upright lines upright or lays them level: turns by quarters."""
    return min(abs(by.xx) + abs(by.yy), abs(by.xy) + abs(by.yx)) < EXACT_MM


def _size(by: Affine) -> float:
    """Pixels a millimetre under a map."""
    return math.sqrt(abs(by.determinant))


def paint_ground(painter: QPainter, piece: Piece, by: Affine, bright: QPixmap | None, origin: QPointF) -> None:
    """What lies under the lines: the print as `bright` has it, pale wherever it will not be on the book.

    `bright` is the picture of the cloths, its top left at `origin`. None: the piece lies on no print (it waits) and
    shows as plain cloth.
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
    painter.drawPixmap(origin, bright)
    painter.restore()
    faces = [polygon(face.outline_mm, by) for face in piece.faces]
    if not faces and piece.board is not None:
        faces = [board_of(piece, by)]
    if faces:
        for face in faces:
            path.addPolygon(face)
        painter.fillPath(path, _WASH)


def paint_faces(painter: QPainter, piece: Piece, by: Affine, bright: QPixmap, origin: QPointF, *, theme: Theme) -> None:
    """Only what will be on the book: the print on the faces of a piece, as `bright` has it, in a hairline."""
    path = QPainterPath()
    for face in piece.faces:
        path.addPolygon(polygon(face.outline_mm, by))
    if path.isEmpty():
        path.addPolygon(board_of(piece, by))
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.drawPixmap(origin, bright)
    painter.restore()
    painter.strokePath(path, pen("edge", theme.color("line", 0.6)))


def paint_lines(painter: QPainter, lying: Lying, by: Affine, theme: Theme, look: PieceLook) -> None:
    """The hatch of what is wrong, the cut line, folds and marks of a piece, over its ground."""
    piece = lying.piece
    outline = polygon(piece.outline_mm, by)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for rule in sorted(look.rules & _HATCH.keys()):
        color = QColor(BREACH)
        color.setAlpha(120)
        path = QPainterPath()
        path.addPolygon(outline)
        fill_hatched(painter, path, color, _HATCH[rule])
    if look.proposed:
        _paint_proposed(painter, piece, by, theme)
        if look.chosen:
            paint_chosen(painter, outline, theme)
        return
    _paint_folds(painter, piece, by, theme, BREACH if look.breaches else CHOSEN if look.chosen else INK)
    _paint_outline(painter, outline, theme, look, cut=lying.state == "cut", near=_size(by) >= _FINE_PX_PER_MM)
    _paint_state(painter, lying, outline, theme)
    board = board_of(piece, by).boundingRect()
    for mark in piece.marks:
        if mark.kind == "spine edge":
            in_px = _SPINE_ON_BOARD_PX if _is_on_board(piece, mark) else _SPINE_IN_PX
            _paint_spine(painter, mark, by, board, theme, lines_px=in_px)
        elif mark.kind == "head":
            _paint_head(painter, mark, by, board, theme)


def _paint_proposed(painter: QPainter, piece: Piece, by: Affine, theme: Theme) -> None:
    """Where a piece would lie: cut line and boards in dashes and dots, with neither folds nor marks."""
    path = QPainterPath()
    path.addPolygon(polygon(piece.outline_mm, by))
    painter.strokePath(path, halo("proposed", theme))
    painter.strokePath(path, pen("proposed", CHOSEN))
    boards = [polygon(mark.points_mm, by) for mark in piece.marks if mark.kind == "board" and mark.closed]
    if piece.board is not None and _size(by) >= _FINE_PX_PER_MM:
        inner = QPainterPath()
        for board in boards or [board_of(piece, by)]:
            inner.addPolygon(board)
        painter.strokePath(inner, halo("proposed", theme, 1.0))
        painter.strokePath(inner, pen("proposed", CHOSEN, 1.0))


def _paint_folds(painter: QPainter, piece: Piece, by: Affine, theme: Theme, color: QColor) -> None:
    near = _size(by) >= _FINE_PX_PER_MM
    for kind in _LINES if near else ("board",):
        marks = [mark for mark in piece.marks if mark.kind == kind]
        folds_only = any(mark.kind == "fold" for mark in piece.marks)
        if kind == "board" and not marks and not folds_only and piece.board is not None:
            marks = [Mark("board", piece.board.ring(), closed=True)]
        path = QPainterPath()
        for mark in marks:
            points = [QPointF(*by.at(point)) for point in mark.points_mm]
            path.addPolygon(QPolygonF([*points, points[0]] if mark.closed else points))
        if not path.isEmpty():
            painter.strokePath(path, halo(kind, theme, _WIDTH_PX.get(kind, 2.0 if near else 0.5)))
            painter.strokePath(path, pen(kind, color, _WIDTH_PX.get(kind)))


def _paint_state(painter: QPainter, lying: Lying, outline: QPolygonF, theme: Theme) -> None:
    """What keeps a piece where it lies: a cut one has solid corners, a pinned one a pin's head in each corner."""
    if lying.moves:
        return
    points = [outline.at(k) for k in range(outline.count() - 1)]
    path = QPainterPath()
    for k, corner in enumerate(points):
        before, after = (_towards(corner, points[(k + step) % len(points)]) for step in (-1, 1))
        if lying.state == "cut":
            path.addPolygon(QPolygonF([corner, corner + before * _CORNER_PX, corner + after * _CORNER_PX, corner]))
        else:
            path.addEllipse(corner + (before + after) * _PIN_IN_PX, _PIN_PX, _PIN_PX)
    painter.strokePath(path, QPen(theme.color("halo", 0.9), 2.5))
    painter.fillPath(path, FITS if lying.state == "cut" else CHOSEN)


def _towards(start: QPointF, end: QPointF) -> QPointF:
    """The direction from one point to another, of length 1; none where they fall together."""
    way = end - start
    length = math.hypot(way.x(), way.y())
    return way / length if length else QPointF()


def _paint_outline(
    painter: QPainter, outline: QPolygonF, theme: Theme, look: PieceLook, *, cut: bool, near: bool
) -> None:
    """The cut line: dashed while planned, solid once cut, short heavy dashes where wrong; chosen between angles."""
    path = QPainterPath()
    path.addPolygon(outline)
    painter.strokePath(path, halo("cut", theme, 1.5 if near else 0.5))
    if look.breaches:
        painter.strokePath(path, pen("flaw", BREACH, 2.5))
    else:
        painter.strokePath(path, pen("board" if cut else "cut", CHOSEN if look.chosen else INK))
    if look.chosen:
        paint_chosen(painter, outline, theme)


def paint_chosen(painter: QPainter, outline: QPolygonF, theme: Theme) -> None:
    """The angles that a chosen piece stands between."""
    frame = outline.boundingRect().adjusted(-4, -4, 4, 4)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(theme.color("halo", 0.8), 4.0))
    painter.drawPath(_corners(frame))
    painter.setPen(QPen(CHOSEN, 2.5))
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


def _inward(start: QPointF, end: QPointF, board: QRectF) -> tuple[QPointF, QPointF, float]:
    """Direction along a line, direction from it into the board (both of length 1), and its length."""
    along = end - start
    length = math.hypot(along.x(), along.y()) or 1.0
    along /= length
    inward = QPointF(-along.y(), along.x())
    to_middle = board.center() - (start + end) / 2
    if QPointF.dotProduct(inward, to_middle) < 0:
        inward = -inward
    return along, inward, length


def _is_on_board(piece: Piece, mark: Mark) -> bool:
    """True for a spine edge along which a board's edge is drawn."""
    at_mm = mark.points_mm[0][0]
    boards = [bounds(each.points_mm) for each in piece.marks if each.kind == "board" and each.closed]
    edges_mm = [edge for box in boards for edge in (box.left_mm, box.right_mm)]
    return any(abs(at_mm - edge) <= SAME_LENGTH_MM for edge in edges_mm)


def _paint_spine(
    painter: QPainter, mark: Mark, by: Affine, board: QRectF, theme: Theme, *, lines_px: tuple[float, ...]
) -> None:
    """The spine edge: plain lines so far inside it, alike on every zoom, named where there is room."""
    start, end = (QPointF(*by.at(point)) for point in mark.points_mm[:2])
    _along, inward, length = _inward(start, end, board)
    path = QPainterPath()
    for in_px in lines_px:
        path.moveTo(start + inward * in_px)
        path.lineTo(end + inward * in_px)
    painter.strokePath(path, halo("mitre", theme, 1.5))
    painter.strokePath(path, pen("mitre", INK, 1.5))
    if min(board.width(), length) > _LEAST_WORDS_PX:
        _paint_word(painter, (start + end) / 2 + inward * 14, inward, "canvas-spine")


def _paint_head(painter: QPainter, mark: Mark, by: Affine, board: QRectF, theme: Theme) -> None:
    """The head: a solid wedge at the middle of the edge that points outward, named where there is room."""
    start, end = (QPointF(*by.at(point)) for point in mark.points_mm[:2])
    along, inward, length = _inward(start, end, board)
    size = min(7.0, length / 6)
    tip = (start + end) / 2 + inward * 3
    path = QPainterPath(tip)
    path.lineTo(tip + inward * (1.4 * size) + along * size)
    path.lineTo(tip + inward * (1.4 * size) - along * size)
    path.closeSubpath()
    painter.strokePath(path, halo("mitre", theme, 1.0))
    painter.fillPath(path, INK)
    if min(board.width(), board.height()) > _LEAST_WORDS_PX:
        _paint_word(painter, tip + inward * (1.4 * size + 5), inward, "canvas-head")


def _paint_word(painter: QPainter, at: QPointF, inward: QPointF, code: str) -> None:
    """A small word on a light ground, beginning at `at` and growing inward."""
    text = sentence(code, {})
    font = text_font(SIZES_PX.small - 1)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(text) + 6, metrics.height()
    middle = at + QPointF(inward.x() * width / 2, inward.y() * height / 2)
    paint_chip(painter, middle, text, QColor(255, 255, 255, 205), INK, bold=False, size_px=SIZES_PX.small - 1)
