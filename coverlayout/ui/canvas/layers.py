"""The two pictures behind the canvas: cloths with their print, and the same with all pieces at rest.

A drag blits from both and touches only the moving piece; a pan shifts them and paints the strips that come into sight.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPixmap

from coverlayout.cloth.usable import keep_out_regions
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Affine, Ring, shift
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.layout.question import Placed
from coverlayout.ui.canvas.bench import WAITING, Lying
from coverlayout.ui.canvas.cloth_layer import Drawing, paint_cloths, paint_veil
from coverlayout.ui.canvas.piece_layer import PieceLook, paint_chip, paint_ground, paint_piece
from coverlayout.ui.measures import RULER_PX, paint_ruler
from coverlayout.ui.theme import SIZES_PX, text_font

__all__ = ["Layers", "Scene", "rect_of"]

# Corners of a chosen piece and halos reach this far beyond its outline.
_REACH_PX = 8


def rect_of(box: Box) -> QRectF:
    """The same box for Qt."""
    return QRectF(box.left_mm, box.top_mm, box.width_mm, box.height_mm)


@dataclass(frozen=True)
class Scene:
    """What the layers show: the cloths, how each piece looks, and which pieces are lifted off for now."""

    drawing: Drawing
    looks: Mapping[str, PieceLook] = field(default_factory=dict)
    lifted: frozenset[str] = frozenset()

    def map_of(self, placed: Placed) -> Affine:
        """Piece frame to screen for a piece that lies there."""
        return self.drawing.bench.to_table(placed).then(self.drawing.to_screen)

    def area_of(self, placed: Placed) -> QRectF:
        """The pixels a piece touches where it lies."""
        return self.area_on_table(bounds(self.drawing.bench.outline(placed)))

    def area_on_table(self, box: Box) -> QRectF:
        """The pixels touched by a piece that lies in this box on the table."""
        seen = self.drawing.to_screen.ring(box.ring())
        return rect_of(bounds(seen)).adjusted(-_REACH_PX, -_REACH_PX, _REACH_PX, _REACH_PX)


class Layers:
    """The pictures, in device pixels; `bright` has the print in full colour, `rest` the veil and the pieces over it."""

    def __init__(self) -> None:
        self.bright = QPixmap()
        self.rest = QPixmap()
        self._sprites: dict[tuple[object, ...], QPixmap] = {}

    def fit(self, size: QSize, pixel_ratio: float) -> bool:
        """Make the pictures as large as the canvas; True when they are new and must be painted."""
        wanted = QSize(round(size.width() * pixel_ratio), round(size.height() * pixel_ratio))
        if self.rest.size() == wanted and self.rest.devicePixelRatio() == pixel_ratio:
            return False
        self.bright, self.rest = QPixmap(wanted), QPixmap(wanted)
        for layer in (self.bright, self.rest):
            layer.setDevicePixelRatio(pixel_ratio)
        return True

    @property
    def _area(self) -> QRectF:
        return QRectF(QPointF(), self.rest.deviceIndependentSize())

    def paint(self, scene: Scene) -> None:
        """Paint both pictures anew."""
        self._sprites.clear()
        self._paint_both(scene, [self._area])

    def _paint_both(self, scene: Scene, areas: Iterable[QRectF]) -> None:
        areas = [area for area in areas if not area.isEmpty()]
        painter = QPainter(self.bright)
        for area in areas:
            painter.setClipRect(area)
            paint_cloths(painter, scene.drawing, area)
        painter.end()
        self.paint_rest(scene, areas)

    def paint_rest(self, scene: Scene, areas: Iterable[QRectF]) -> None:
        """Paint these parts of the pieces at rest anew, over the cloths as they are."""
        painter = QPainter(self.rest)
        for area in areas:
            whole = QRectF(area.toAlignedRect()).intersected(self._area) if area != self._area else area
            if whole.isEmpty():
                continue
            painter.setClipRect(whole)
            painter.drawPixmap(0, 0, self.bright)
            paint_veil(painter, scene.drawing, whole)
            _paint_captions(painter, scene.drawing)
            for lying in scene.drawing.bench.lying:
                if lying.piece.id not in scene.lifted and scene.area_of(lying.placed).intersects(whole):
                    self._paint_lying(painter, scene, lying)
        painter.end()

    def _paint_lying(self, painter: QPainter, scene: Scene, lying: Lying) -> None:
        by = scene.map_of(lying.placed)
        paint_ground(painter, lying.piece, by, None if lying.placed.cloth == WAITING else self.bright)
        look = scene.looks.get(lying.piece.id, PieceLook())
        paint_piece(painter, lying, by, scene.drawing.theme, look)

    def shift(self, scene: Scene, by_device_px: QPoint) -> None:
        """Follow a pan: move both pictures and paint the strips that came into sight. `scene` has the new view."""
        whole, dx, dy = self.rest.rect(), by_device_px.x(), by_device_px.y()
        for layer in (self.bright, self.rest):
            layer.scroll(dx, dy, whole)
        ratio = self.rest.devicePixelRatio()
        self._paint_both(scene, [_logical(strip, ratio) for strip in _exposed(whole, dx, dy)])

    def paint_moving(self, painter: QPainter, scene: Scene, lying: Lying, placed: Placed, look: PieceLook) -> None:
        """Paint a piece on its way: the print bright under it, its lines from a picture made once for this look."""
        by = scene.map_of(placed)
        paint_ground(painter, lying.piece, by, None if placed.cloth == WAITING else self.bright)
        area = scene.area_of(placed)
        ratio = self.rest.devicePixelRatio()
        key = (lying.piece, placed.turn_deg, look, scene.drawing.to_screen.xx, by.determinant > 0, ratio)
        sprite = self._sprites.get(key)
        if sprite is None:
            sprite = QPixmap(round(area.width() * ratio) + 2, round(area.height() * ratio) + 2)
            sprite.setDevicePixelRatio(ratio)
            sprite.fill(QColor(0, 0, 0, 0))
            inner = QPainter(sprite)
            paint_piece(inner, lying, by.then(shift(-area.left(), -area.top())), scene.drawing.theme, look)
            inner.end()
            self._sprites[key] = sprite
        painter.drawPixmap(QPointF(round(area.left() * ratio) / ratio, round(area.top() * ratio) / ratio), sprite)

    def paint_over(self, painter: QPainter, scene: Scene, area: QRect, *, focused: bool) -> None:
        """Paint what stays in place over everything: rulers, which side is seen, a frame while the keys work here."""
        drawing = scene.drawing
        whole = self._area
        _paint_rulers(painter, scene, area)
        if drawing.project.preferences.side == "back":
            _paint_back(painter, drawing, whole)
        if not drawing.bench.sheets:
            painter.setPen(drawing.theme.color("muted"))
            painter.setFont(text_font(SIZES_PX.title))
            painter.drawText(whole, Qt.AlignmentFlag.AlignCenter, sentence("canvas-empty", {}))
        if focused:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.setPen(QPen(drawing.theme.color("accent"), 2.0))
            painter.drawRect(whole.adjusted(1, 1, -1, -1))


def _paint_rulers(painter: QPainter, scene: Scene, area: QRect) -> None:
    """Rulers count from the top left, as seen, of the cloth that the first chosen piece lies on, else of the first."""
    drawing = scene.drawing
    chosen = [lying.placed.cloth for lying in drawing.bench.lying if scene.looks[lying.piece.id].chosen]
    sheets = [sheet for sheet in drawing.bench.sheets if sheet.id in chosen] or drawing.bench.sheets
    box = sheets[0].box if sheets else Box(0.0, 0.0, 0.0, 0.0)
    zero = drawing.to_screen.at((box.left_mm, box.top_mm))
    unit = drawing.project.preferences.length_style.unit
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    for upright, near, start, end in (
        (False, area.top() <= RULER_PX, area.left(), area.right() + 1),
        (True, area.left() <= RULER_PX, area.top(), area.bottom() + 1),
    ):
        if near:
            stretch = (max(start, RULER_PX), end)
            paint_ruler(
                painter,
                drawing.theme,
                stretch,
                zero_px=zero[upright],
                px_per_mm=drawing.to_screen.xx,
                unit=unit,
                upright=upright,
            )
    painter.fillRect(QRectF(0, 0, RULER_PX, RULER_PX), drawing.theme.color("panel"))


def _paint_back(painter: QPainter, drawing: Drawing, whole: QRectF) -> None:
    words = sentence("canvas-back", {})
    font = text_font(SIZES_PX.title, bold=True)
    width = QFontMetricsF(font).horizontalAdvance(words) + 24
    middle = QPointF(whole.right() - width / 2 - 12, RULER_PX + 24)
    accent, ink = drawing.theme.color("accent"), drawing.theme.color("on_accent")
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    paint_chip(painter, middle, words, accent, ink, size_px=SIZES_PX.title)


def _exposed(whole: QRect, dx: int, dy: int) -> tuple[QRect, QRect]:
    """The strips that come into sight when everything moves by (dx, dy): one at a side, one at the top or bottom."""
    width, height = min(abs(dx), whole.width()), min(abs(dy), whole.height())
    side = QRect(0 if dx > 0 else whole.width() - width, 0, width, whole.height())
    end = QRect(0, 0 if dy > 0 else whole.height() - height, whole.width(), height)
    return side, end


def _logical(rect: QRect, ratio: float) -> QRectF:
    return QRectF(rect.x() / ratio, rect.y() / ratio, rect.width() / ratio, rect.height() / ratio)


def _paint_captions(painter: QPainter, drawing: Drawing) -> None:
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
                _paint_tag(painter, by.ring(ring), sentence("canvas-spoiled", {"piece": name}))
    if any(lying.placed.cloth == WAITING for lying in drawing.bench.lying):
        _paint_caption(painter, drawing, drawing.bench.waiting.box, sentence("canvas-waiting", {}))


def _paint_caption(painter: QPainter, drawing: Drawing, box: Box, words: str) -> None:
    """Words just above a box on the table, cut short where the box is narrow and another may follow."""
    left, top = drawing.to_screen.at((box.left_mm, box.top_mm))
    painter.setFont(text_font(SIZES_PX.small))
    painter.setPen(drawing.theme.color("muted"))
    room = max(box.width_mm * drawing.to_screen.xx, 220.0)
    shown = painter.fontMetrics().elidedText(words, Qt.TextElideMode.ElideRight, round(room))
    painter.drawText(QPointF(left, top - 7), shown)


def _paint_tag(painter: QPainter, ring: Ring, words: str) -> None:
    """The name of a flaw or a hole, on its upper left end."""
    x, y = min(ring, key=lambda point: (point[0] + point[1], point[0]))
    width = QFontMetricsF(text_font(SIZES_PX.small, bold=True)).horizontalAdvance(words) + 12
    paint_chip(painter, QPointF(x + width / 2 + 4, y + 6), words, QColor("#22252B"), QColor("#FFFFFF"))
