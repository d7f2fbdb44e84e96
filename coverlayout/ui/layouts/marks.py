"""What is left, drawn on the cloth: dashed, lightly hatched, with the size on a chip."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPolygonF

from coverlayout.document.cutting.left_over import LeftOver
from coverlayout.geometry.frames import Affine, Ring
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
_INK = QColor("#FFFFFF")
_GHOST = QColor("#845400")


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
    """One rectangle as it is painted: outline on the screen, words, and whether it is the chosen one."""

    outline: QPolygonF
    words: str
    chosen: bool


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
        key = drawn, drawing.to_screen, drawing.bench.sheets, drawing.project.preferences
        if key != self._key:
            self._key = key
            self._marks = [_mark(scene, left, chosen) for left, chosen in drawn]
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        for mark in self._marks:
            _paint(painter, scene, mark)
        painter.restore()


def _mark(scene: Scene, left: LeftOver, chosen: bool) -> _Mark:
    sheet = scene.drawing.bench.sheet(left.cloth_id)
    outline = polygon(left.rectangle.ring(), sheet.to_table.then(scene.drawing.to_screen))
    return _Mark(outline, size_of(left, scene.drawing.project.preferences.length_style), chosen)


def _paint(painter: QPainter, scene: Scene, mark: _Mark) -> None:
    color = _CHOSEN if mark.chosen else _OTHERS
    if mark.chosen:
        path = QPainterPath()
        path.addPolygon(mark.outline)
        fill_hatched(painter, path, _HATCH, Qt.BrushStyle.FDiagPattern)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for each in (halo("cut", scene.drawing.theme), pen("cut", color)):
        painter.setPen(each)
        painter.drawPolyline(mark.outline)
    box = mark.outline.boundingRect()
    # A chip wider than its rectangle would hide it; the list has the size all the same.
    if mark.chosen or (box.width() > 90 and box.height() > 24):
        paint_chip(painter, box.center(), mark.words, color, _INK)


class GhostMarks:
    """Dashed outlines of where pieces lie in another layout, over the pieces of this one."""

    def __init__(self) -> None:
        self.outlines: tuple[tuple[str, Ring], ...] = ()
        """The cloth and the outline in its frame, one for each piece that lies elsewhere there."""
        self._key: object = None
        self._seen: list[QPolygonF] = []

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
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for outline in self._seen:
            for each in (halo("flaw", drawing.theme), pen("flaw", _GHOST, 1.5)):
                painter.setPen(each)
                painter.drawPolyline(outline)
        painter.restore()

    @staticmethod
    def _map(scene: Scene, cloth_id: str) -> Affine:
        return scene.drawing.bench.sheet(cloth_id).to_table.then(scene.drawing.to_screen)
