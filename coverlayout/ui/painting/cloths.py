"""The cloths on the canvas: their print in full colour at true scale, and the veil that leaves only pieces bright."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPainterPath, QPolygonF, QTransform

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import keep_out_regions, laid_to_cloth, outline_region, usable
from coverlayout.document.project import Project
from coverlayout.geometry.frames import Affine, Ring, piece_to_cloth
from coverlayout.geometry.shapes import Box, Region
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.ui.canvas.bench import Bench, Sheet
from coverlayout.ui.painting.tiles import Tile
from coverlayout.ui.theme import Theme, halo, pen

__all__ = ["CLOTH_WHITE", "Drawing", "fill_hatched", "paint_cloths", "paint_veil", "path_of", "polygon", "rect_of"]

# Cloth without a print, and pieces not yet on any cloth: the same undyed white in both looks.
CLOTH_WHITE = "#FBF8F1"


def rect_of(box: Box) -> QRectF:
    """The same box for Qt."""
    return QRectF(box.left_mm, box.top_mm, box.width_mm, box.height_mm)


def fill_hatched(painter: QPainter, path: QPainterPath, color: QColor, style: Qt.BrushStyle) -> None:
    """Hatch a path. The lines count from its top left, on whole device pixels, so that they move with it.

    Qt draws patterns in device pixels but adds the painter's shift in logical ones; that is made good here.
    """
    at = painter.combinedTransform().map(path.boundingRect().topLeft())
    shifted = painter.worldTransform()
    brush = QBrush(color, style)
    brush.setTransform(
        QTransform.fromTranslate(math.floor(at.x() + 0.25) - shifted.dx(), math.floor(at.y() + 0.25) - shifted.dy())
    )
    painter.fillPath(path, brush)


def polygon(ring: Ring, by: Affine) -> QPolygonF:
    """A ring seen through a map, closed."""
    points = [QPointF(*by.at(point)) for point in ring]
    return QPolygonF([*points, points[0]])


def path_of(region: Region, by: Affine) -> QPainterPath:
    """A region with its holes seen through a map; empty for nothing."""
    path = QPainterPath()
    for outer, holes in region.parts():
        for ring in (outer, *holes):
            path.addPolygon(polygon(ring, by))
    return path


@dataclass(frozen=True)
class Drawing:
    """All that the cloths' pictures are made from."""

    project: Project
    bench: Bench
    to_screen: Affine
    theme: Theme
    pixel_ratio: float
    tile_of: Callable[[Print], Tile]

    def sheet_map(self, sheet: Sheet) -> Affine:
        """Cloth frame to screen."""
        return sheet.to_table.then(self.to_screen)

    def cloths(self) -> Iterator[tuple[Sheet, Cloth]]:
        """Every sheet that is a cloth, with it."""
        return ((sheet, sheet.cloth) for sheet in self.bench.sheets if sheet.cloth is not None)

    @cached_property
    def spoiled(self) -> tuple[tuple[str, str, Ring], ...]:
        """Holes left by spoiled pieces: cloth id, name, outline in the cloth frame."""
        facts = [fact for fact in self.project.cut_pieces if fact.state == "spoiled"]
        return tuple(
            (
                fact.place.cloth,
                fact.name,
                piece_to_cloth(fact.anchor_mm, (fact.place.x_mm, fact.place.y_mm), fact.place.turn_deg).ring(
                    fact.outline_mm
                ),
            )
            for fact in facts
        )


def paint_cloths(painter: QPainter, drawing: Drawing, area: QRectF) -> None:
    """The table and every cloth with its print in full colour, within `area` (logical pixels)."""
    painter.fillRect(area, drawing.theme.color("canvas"))
    for sheet, cloth in drawing.cloths():
        by = drawing.sheet_map(sheet)
        outline = path_of(outline_region(cloth), by)
        if not outline.boundingRect().adjusted(-4, -4, 4, 4).intersects(area):
            continue
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillPath(outline.translated(3, 3), QColor(0, 0, 0, 28))
        painter.fillPath(outline, QColor(CLOTH_WHITE))
        _paint_print(painter, drawing, sheet, outline, cloth.laid)
        for zone in cloth.zones:
            ring = cloth.change_after(zone.changes_in).ring(zone.outline_mm)
            within = path_of(Region.of(ring).meet(outline_region(cloth)), by)
            if zone.laid is not None:
                painter.fillPath(within, QColor(CLOTH_WHITE))
            _paint_print(painter, drawing, sheet, within, zone.laid)


def _paint_print(
    painter: QPainter, drawing: Drawing, sheet: Sheet, within: QPainterPath, laid: LaidPrint | None
) -> None:
    a_print = next((each for each in drawing.project.prints if laid and each.id == laid.print_id), None)
    if laid is None or a_print is None or sheet.cloth is None:
        return
    to_screen = laid_to_cloth(sheet.cloth, laid).then(drawing.sheet_map(sheet))
    # Antialiasing would show seams between the repeats; smoothing keeps them true between whole pixels.
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, True)
    painter.fillPath(within, drawing.tile_of(a_print).brush(to_screen, drawing.pixel_ratio))


def paint_veil(painter: QPainter, drawing: Drawing, area: QRectF) -> None:
    """The veil over the cloths, their strips, zones, flaws and spoiled holes, within `area`."""
    for sheet, cloth in drawing.cloths():
        by = drawing.sheet_map(sheet)
        whole = outline_region(cloth)
        outline = path_of(whole, by)
        if not outline.boundingRect().adjusted(-40, -40, 40, 40).intersects(area):
            continue
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillPath(outline, _veil(drawing.theme))
        _paint_strips(painter, drawing, whole.minus(usable(cloth)), by)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.strokePath(outline, pen("edge", drawing.theme.color("line")))
        for zone in cloth.zones:
            ring = cloth.change_after(zone.changes_in).ring(zone.outline_mm)
            path = path_of(Region.of(ring), by)
            painter.strokePath(path, halo("edge", drawing.theme))
            painter.strokePath(path, pen("edge"))
        for _flaw, region in keep_out_regions(cloth):
            _paint_flaw(painter, drawing.theme, path_of(region, by))
        for cloth_id, _name, ring in drawing.spoiled:
            if cloth_id == sheet.id:
                _paint_hole(painter, drawing.theme, polygon(ring, by))


def _veil(theme: Theme) -> QColor:
    return theme.color("canvas", 0.58 if theme.name == "light" else 0.62)


def _paint_strips(painter: QPainter, drawing: Drawing, region: Region, by: Affine) -> None:
    """Trim, selvedge and unbacked strip: a fine slanted hatch, since no piece may use them."""
    if not region.is_empty:
        painter.fillPath(path_of(region, by), drawing.theme.color("canvas", 0.5))
        fill_hatched(painter, path_of(region, by), drawing.theme.color("muted", 0.45), Qt.BrushStyle.BDiagPattern)


def _paint_flaw(painter: QPainter, theme: Theme, path: QPainterPath) -> None:
    painter.fillPath(path, QColor(166, 48, 29, 50))
    fill_hatched(painter, path, QColor(166, 48, 29, 150), Qt.BrushStyle.FDiagPattern)
    painter.strokePath(path, halo("flaw", theme))
    painter.strokePath(path, pen("flaw", "#A6301D"))


def _paint_hole(painter: QPainter, theme: Theme, outline: QPolygonF) -> None:
    """A spoiled piece left a hole: the table shows through, crossed out."""
    path = QPainterPath()
    path.addPolygon(outline)
    painter.fillPath(path, theme.color("canvas"))
    fill_hatched(painter, path, theme.color("no", 0.5), Qt.BrushStyle.DiagCrossPattern)
    painter.strokePath(path, pen("flaw", theme.color("no")))
