"""Words beside things on the canvas: which cloth, which flaw, what waits, which side is seen."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import size_now_mm
from coverlayout.errors import sentence
from coverlayout.geometry.shapes import Box
from coverlayout.ui.painting.cloths import Drawing, SeenZone
from coverlayout.ui.painting.names import INK, paint_chip
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, Theme, text_font
from coverlayout.units import LengthStyle

__all__ = ["caption_of", "paint_captions", "paint_over", "paint_tags"]

# A caption may be so long over a narrow cloth, and keeps so far from the next cloth's.
_CAPTION_PX, _APART_PX = 220.0, 10.0
_SIGN_HEIGHT_PX, _SIGN_EDGE_PX, _SIGN_MARK_PX = 30.0, 10.0, 28.0


def paint_captions(painter: QPainter, drawing: Drawing) -> None:
    """Names and sizes over cloths, and what the ground beside the cloth is for."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for sheet, cloth in () if drawing.covers_only else drawing.cloths():
        _paint_caption(painter, drawing, sheet.box, caption_of(cloth, drawing.project.preferences.length_style))
    if any(lying.placed.cloth == WAITING for lying in drawing.bench.lying):
        _paint_caption(painter, drawing, drawing.bench.waiting.box, sentence("canvas-waiting", {}))


def caption_of(cloth: Cloth, style: LengthStyle) -> str:
    """The name of a cloth and its size as it is now, rounded down: a room is never shown larger than it is.

    >>> caption_of(Cloth("c", "Swatch", 304.8, 203.2), LengthStyle())
    'Swatch, 304.5 × 203.0 mm'
    """
    width, length = size_now_mm(cloth)
    words = f"{cloth.name}, {style.number(width, 'down')} × {style.show(length, 'down')}"
    if any(laid is not None and not laid.origin_known for laid in (cloth.laid, *(z.laid for z in cloth.zones))):
        words += f": {sentence('canvas-origin-unknown', {})}"
    return words


def _paint_caption(painter: QPainter, drawing: Drawing, box: Box, words: str) -> None:
    """Words just above a box on the table; over a narrow one they reach to the next cloth, cut short there."""
    left, top = drawing.to_screen.at((box.left_mm, box.top_mm))
    font = text_font(SIZES_PX.small)
    beside = (other.box.left_mm - box.left_mm for other in drawing.bench.sheets if other.box.left_mm > box.left_mm)
    free_px = min(beside, default=math.inf) * drawing.to_screen.xx - _APART_PX
    room = max(box.width_mm * drawing.to_screen.xx, min(_CAPTION_PX, free_px))
    painter.setFont(font)
    painter.setPen(drawing.theme.color("muted"))
    shown = QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, room)
    painter.drawText(QPointF(left, top - 7), shown)


def paint_tags(painter: QPainter, drawing: Drawing, area: QRectF, covered_by: Sequence[QRectF] = ()) -> None:
    """The names of flaws, spoiled holes and zones within `area`; none that something would cover in part."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for each in () if drawing.covers_only else drawing.tagged:
        if each.tag.intersects(area) and not any(box.intersects(each.tag) for box in covered_by):
            colors = (QColor("#FFFFFF"), INK) if isinstance(each, SeenZone) else (INK, QColor("#FFFFFF"))
            paint_chip(painter, each.tag.center(), each.name, *colors)


def paint_over(
    painter: QPainter,
    drawing: Drawing,
    whole: QRectF,
    *,
    focused: bool,
    below_px: float = RULER_PX,
    empty: bool = False,
) -> None:
    """What stays in place over everything: which side is seen, what to do first, a frame while the keys work here.

    `below_px`: so much at the top is covered by rulers and words. `empty`: there is no cloth, which is to be said.
    """
    theme = drawing.theme
    if drawing.project.preferences.side == "back" and drawing.bench.sheets:
        _paint_back_sign(painter, theme, QPointF(whole.right() - 10, below_px + 8))
    if empty:
        _paint_empty(painter, theme, whole, beside=bool(drawing.bench.lying))
    if focused:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(theme.color("accent"), 2.0))
        painter.drawRect(whole.adjusted(1, 1, -1, -1))


def _paint_empty(painter: QPainter, theme: Theme, whole: QRectF, *, beside: bool) -> None:
    """That there is no cloth: in the middle, or at the foot and on a ground of its own when pieces wait there."""
    words, font = sentence("canvas-empty", {}), text_font(SIZES_PX.title)
    place = QRectF(whole)
    if beside:
        metrics = QFontMetricsF(font)
        place = QRectF(0, 0, metrics.horizontalAdvance(words) + 24, metrics.height() + 12)
        place.moveCenter(QPointF(whole.center().x(), whole.bottom() - place.height()))
        painter.fillRect(place, theme.color("field"))
    painter.setPen(theme.color("muted"))
    painter.setFont(font)
    painter.drawText(place, Qt.AlignmentFlag.AlignCenter, words)


def _paint_back_sign(painter: QPainter, theme: Theme, top_right: QPointF) -> None:
    """That the back is seen, and what it means: two wedges that face each other over a fold, and the words."""
    words = sentence("canvas-back", {})
    font = text_font(SIZES_PX.title, bold=True)
    width = QFontMetricsF(font).horizontalAdvance(words) + 2 * _SIGN_EDGE_PX + _SIGN_MARK_PX
    box = QRectF(top_right.x() - width, top_right.y(), width, _SIGN_HEIGHT_PX)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(QPen(theme.color("panel"), 2.0))
    painter.setBrush(theme.color("accent"))
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    ink = theme.color("on_accent")
    fold_x, y = box.left() + _SIGN_EDGE_PX + 9.0, box.center().y()
    painter.setPen(QPen(ink, 1.5, Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(fold_x, y - 9), QPointF(fold_x, y + 9))
    painter.setPen(QPen(ink, 1.5))
    for side in (-1.0, 1.0):
        wedge = [
            QPointF(fold_x + side * 3.5, y + 6),
            QPointF(fold_x + side * 10, y + 6),
            QPointF(fold_x + side * 3.5, y - 6),
        ]
        painter.setBrush(ink if side > 0 else Qt.BrushStyle.NoBrush)
        painter.drawPolygon(wedge)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setFont(font)
    painter.drawText(
        box.adjusted(_SIGN_EDGE_PX + _SIGN_MARK_PX, 0, 0, 0),
        Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter,
        words,
    )
