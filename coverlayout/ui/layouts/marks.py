"""What is left, drawn on the cloth: dashed, lightly hatched, with the size on a chip."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from PySide6.QtCore import QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.geometry.frames import Affine, Ring
from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.painting.cloths import fill_hatched, polygon
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.painting.names import paint_chip
from coverlayout.ui.theme import halo, pen
from coverlayout.units import LengthStyle

__all__ = ["GhostMarks", "LeftMarks", "size_of"]

# Lines on the print keep their colours in both looks, since the print does.
_CHOSEN = QColor("#1F4E79")
_OTHERS = QColor("#22252B")
_HATCH = QColor(31, 78, 121, 110)
_VEIL = QColor(255, 255, 255, 48)
_INK = QColor("#FFFFFF")
_GHOST = QColor("#845400")
# A chip in the middle of a small rectangle reaches no farther out of it.
_CHIP_PX = 90.0
_DASH_PX, _BREAK_PX = 10, 6
# So far a stroke reaches beyond its outline.
_STROKE_PX = 3.0


def size_of(left: LeftOver, style: LengthStyle) -> str:
    """Width x height with the unit, rounded down: what is left is never shown larger than it is.

    >>> from coverlayout.geometry.empty_rectangles import EmptyRectangle
    >>> size_of(LeftOver("c", "c", EmptyRectangle((0.0, 0.0), 310.4, 72.0)), LengthStyle())
    '310.0 × 72.0 mm'
    """
    width_mm, height_mm = left.rectangle.width_mm, left.rectangle.height_mm
    return f"{style.number(width_mm, 'down')} × {style.show(height_mm, 'down')}"


@dataclass(frozen=True)
class _Mark:
    """One rectangle as it is painted, counted from the table's origin: outline, words, whether it is the chosen one."""

    outline: QPolygonF
    words: str
    chosen: bool
    upright: bool

    @cached_property
    def reach(self) -> QRectF:
        """The pixels it touches, its size beside it where that is the wider."""
        return self.outline.boundingRect().adjusted(-_CHIP_PX, -_CHIP_PX, _CHIP_PX, _CHIP_PX)

    @cached_property
    def halos(self) -> list[QRect]:
        """The light ground under the dashes of an upright outline, all round; on whole pixels."""
        left, top, right, bottom = self._sides
        width, height = right - left + 4, bottom - top - 4
        across = [QRect(left - 2, y - 2, width, 4) for y in (top, bottom)]
        return across + [QRect(x - 2, top + 2, 4, height) for x in (left, right)]

    @cached_property
    def dashes(self) -> list[QRect]:
        """The dashes of an upright outline as bars: filling those takes far less time than stroking a dashed line."""
        left, top, right, bottom = self._sides
        step = _DASH_PX + _BREAK_PX
        across = [QRect(x, y - 1, min(_DASH_PX, right - x), 2) for y in (top, bottom) for x in range(left, right, step)]
        along = [QRect(x - 1, y, 2, min(_DASH_PX, bottom - y)) for x in (left, right) for y in range(top, bottom, step)]
        return across + along

    @property
    def _sides(self) -> tuple[int, int, int, int]:
        box = self.outline.boundingRect()
        return round(box.left()), round(box.top()), round(box.right()), round(box.bottom())


class LeftMarks:
    """Paints what `drawn` gives; worked out when something changes, so that a frame of a drag only paints."""

    def __init__(self, drawn: Callable[[], tuple[tuple[LeftOver, bool], ...]]) -> None:
        """`drawn`: each rectangle to paint, with whether it is the chosen one."""
        self._drawn = drawn
        self._key: object = None
        self._marks: list[_Mark] = []

    def __call__(self, painter: QPainter, scene: Scene) -> None:
        """Paint on the canvas, over the pieces at rest."""
        drawn = self._drawn()
        if not drawn:
            return
        drawing = scene.drawing
        # A pan moves everything alike: the marks stay as they are, and the painter moves.
        by = replace(drawing.to_screen, dx=0.0, dy=0.0)
        key = drawn, by, drawing.bench.sheets, drawing.project.preferences
        if key != self._key:
            self._key = key
            self._marks = [_mark(scene, by, left, chosen) for left, chosen in drawn]
        painter.save()
        painter.translate(round(drawing.to_screen.dx), round(drawing.to_screen.dy))
        area = painter.clipBoundingRect()
        for mark in self._marks:
            if mark.reach.intersects(area):
                _paint(painter, scene, mark)
        painter.restore()


def _mark(scene: Scene, by: Affine, left: LeftOver, chosen: bool) -> _Mark:
    sheet = scene.drawing.bench.sheet(left.cloth_id)
    outline = polygon(left.rectangle.ring(), sheet.to_table.then(by))
    words = size_of(left, scene.drawing.project.preferences.length_style)
    return _Mark(outline, words, chosen, upright=not left.rectangle.turn_deg)


def _paint(painter: QPainter, scene: Scene, mark: _Mark) -> None:
    color = _CHOSEN if mark.chosen else _OTHERS
    if mark.chosen:
        path = QPainterPath()
        path.addPolygon(mark.outline)
        # On a dark print the light ground is seen, on a light one the hatching.
        painter.fillPath(path, _VEIL)
        fill_hatched(painter, path, _HATCH, Qt.BrushStyle.FDiagPattern)
    light = scene.drawing.theme
    if mark.upright:
        _fill_sides(painter, mark, color, light.color("halo"))
    else:
        _stroke(painter, mark.outline, (halo("cut", light), pen("cut", color)))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    box = mark.outline.boundingRect()
    # A chip wider than its rectangle would hide it; the list has the size all the same.
    if mark.chosen or (box.width() > 90 and box.height() > 24):
        paint_chip(painter, box.center(), mark.words, color, _INK)


def _fill_sides(painter: QPainter, mark: _Mark, color: QColor, light: QColor) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setPen(Qt.PenStyle.NoPen)
    for ground, bars in ((light, mark.halos), (color, mark.dashes)):
        painter.setBrush(ground)
        painter.drawRects(bars)


def _stroke(painter: QPainter, outline: QPolygonF, pens: Iterable[QPen]) -> None:
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for each in pens:
        painter.setPen(each)
        painter.drawPolyline(outline)


class GhostMarks:
    """Dashed outlines of where pieces lie in another layout, over the pieces of this one."""

    def __init__(self) -> None:
        self.outlines: tuple[tuple[str, Ring], ...] = ()
        """The cloth and the outline in its frame, one for each piece that lies elsewhere there."""
        self._key: object = None
        self._seen: list[QPolygonF] = []

    def show(self, outlines: tuple[tuple[str, Ring], ...], canvas: Canvas | None) -> None:
        """Show these from now on, on the canvas that they are painted on."""
        if outlines != self.outlines:
            self.outlines = outlines
            if canvas is not None:
                canvas.repaint_all()

    def __call__(self, painter: QPainter, scene: Scene) -> None:
        """Paint on the canvas, over the pieces at rest."""
        if not self.outlines:
            return
        drawing = scene.drawing
        key = self.outlines, drawing.to_screen, drawing.bench.sheets
        if key != self._key:
            self._key = key
            self._seen = [polygon(ring, self._map(scene, cloth)) for cloth, ring in self.outlines]
        painter.save()
        area = painter.clipBoundingRect().adjusted(-_STROKE_PX, -_STROKE_PX, _STROKE_PX, _STROKE_PX)
        for outline in [each for each in self._seen if each.boundingRect().intersects(area)]:
            _stroke(painter, outline, (halo("flaw", drawing.theme), pen("flaw", _GHOST, 1.5)))
        painter.restore()

    @staticmethod
    def _map(scene: Scene, cloth_id: str) -> Affine:
        return scene.drawing.bench.sheet(cloth_id).to_table.then(scene.drawing.to_screen)
