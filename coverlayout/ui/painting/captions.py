"""Words beside things on the canvas: which cloth, which flaw, what waits, which side is seen."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from coverlayout.cloth.usable import keep_out_regions
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box
from coverlayout.ui.canvas.bench import WAITING
from coverlayout.ui.painting.cloths import Drawing
from coverlayout.ui.painting.names import INK, paint_chip
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.theme import SIZES_PX, text_font

__all__ = ["paint_captions", "paint_over"]


def paint_captions(painter: QPainter, drawing: Drawing) -> None:
    """Names over cloths and flaws, and what the ground beside the cloth is for."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    style = drawing.project.preferences.length_style
    for sheet, cloth in drawing.cloths():
        width, length = sheet.size_mm
        words = f"{cloth.name}, {style.number(width)} × {style.show(length)}"
        if any(laid is not None and not laid.origin_known for laid in (cloth.laid, *(z.laid for z in cloth.zones))):
            words += f": {sentence('canvas-origin-unknown', {})}"
        _paint_caption(painter, drawing, sheet.box, words)
        by = drawing.sheet_map(sheet)
        for flaw, region in keep_out_regions(cloth):
            if region.parts():
                _paint_tag(painter, by.ring(region.parts()[0][0]), flaw.name)
        for cloth_id, name, ring in drawing.spoiled:
            if cloth_id == sheet.id:
                _paint_tag(painter, by.ring(ring), sentence("canvas-spoiled", {"piece": name[:1].upper() + name[1:]}))
    if any(lying.placed.cloth == WAITING for lying in drawing.bench.lying):
        _paint_caption(painter, drawing, drawing.bench.waiting.box, sentence("canvas-waiting", {}))


def _paint_caption(painter: QPainter, drawing: Drawing, box: Box, words: str) -> None:
    """Words just above a box on the table, cut short where the box is narrow and another may follow."""
    left, top = drawing.to_screen.at((box.left_mm, box.top_mm))
    font = text_font(SIZES_PX.small)
    room = max(box.width_mm * drawing.to_screen.xx, 220.0)
    painter.setFont(font)
    painter.setPen(drawing.theme.color("muted"))
    shown = QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, room)
    painter.drawText(QPointF(left, top - 7), shown)


def _paint_tag(painter: QPainter, ring: Ring, words: str) -> None:
    """The name of a flaw or a hole, on its upper left end."""
    x, y = min(ring, key=lambda point: (point[0] + point[1], point[0]))
    width = QFontMetricsF(text_font(SIZES_PX.small, bold=True)).horizontalAdvance(words) + 12
    paint_chip(painter, QPointF(x + width / 2 + 4, y + 6), words, INK, QColor("#FFFFFF"))


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
