"""Words beside things on the canvas: which cloth, which flaw, what waits, which side is seen."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import size_now_mm
from coverlayout.errors import sentence
from coverlayout.geometry.shapes import Box
from coverlayout.ui.painting.cloths import Drawing
from coverlayout.ui.painting.names import INK, paint_chip
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.theme import SIZES_PX, text_font
from coverlayout.units import LengthStyle

__all__ = ["caption_of", "paint_captions", "paint_over", "paint_tags"]


def paint_captions(painter: QPainter, drawing: Drawing) -> None:
    """Names and sizes over cloths, and what the ground beside the cloth is for."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for sheet, cloth in drawing.cloths():
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
    """Words just above a box on the table, cut short where the box is narrow and another may follow."""
    left, top = drawing.to_screen.at((box.left_mm, box.top_mm))
    font = text_font(SIZES_PX.small)
    room = max(box.width_mm * drawing.to_screen.xx, 220.0)
    painter.setFont(font)
    painter.setPen(drawing.theme.color("muted"))
    shown = QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, room)
    painter.drawText(QPointF(left, top - 7), shown)


def paint_tags(painter: QPainter, drawing: Drawing, area: QRectF, covered_by: Sequence[QRectF] = ()) -> None:
    """The names of flaws and spoiled holes within `area`; none that something would cover in part."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for flaw in drawing.flaws:
        if flaw.tag.intersects(area) and not any(box.intersects(flaw.tag) for box in covered_by):
            paint_chip(painter, flaw.tag.center(), flaw.name, INK, QColor("#FFFFFF"))


def paint_over(painter: QPainter, drawing: Drawing, whole: QRectF, *, focused: bool) -> None:
    """What stays in place over everything: which side is seen, what to do first, a frame while the keys work here."""
    theme = drawing.theme
    if drawing.project.preferences.side == "back":
        words = sentence("canvas-back", {})
        width = QFontMetricsF(text_font(SIZES_PX.title, bold=True)).horizontalAdvance(words) + 24
        middle = QPointF(whole.right() - width / 2 - 8, RULER_PX + 22)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        paint_chip(painter, middle, words, theme.color("accent"), theme.color("on_accent"), size_px=SIZES_PX.title)
    if not drawing.bench.sheets:
        painter.setPen(theme.color("muted"))
        painter.setFont(text_font(SIZES_PX.title))
        painter.drawText(whole, Qt.AlignmentFlag.AlignCenter, sentence("canvas-empty", {}))
    if focused:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(theme.color("accent"), 2.0))
        painter.drawRect(whole.adjusted(1, 1, -1, -1))
