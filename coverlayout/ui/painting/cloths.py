"""The cloths on the canvas: their print in full colour at true scale, and the veil that leaves only pieces bright."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QPainter, QPainterPath, QPolygonF, QTransform

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import keep_out_regions, laid_to_cloth, outline_region, usable
from coverlayout.document.project import Project
from coverlayout.errors import sentence
from coverlayout.geometry.frames import IDENTITY, Affine, Ring, piece_to_cloth
from coverlayout.geometry.shapes import Box, Region
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.ui.painting.tiles import Tile
from coverlayout.ui.table.bench import Bench, Sheet
from coverlayout.ui.theme import SIZES_PX, Theme, halo, pen, text_font

__all__ = [
    "CLOTH_WHITE",
    "Drawing",
    "SeenFlaw",
    "SeenZone",
    "fill_hatched",
    "paint_cloths",
    "paint_flaws_on",
    "paint_veil",
    "path_of",
    "polygon",
    "rect_of",
]

# Cloth without a print, and pieces not yet on any cloth: the same undyed white in both looks.
CLOTH_WHITE = "#FBF8F1"
# So far a line on the cloth reaches beyond its path.
_REACH_PX = 4.0


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


def _path_of_ring(ring: Ring) -> QPainterPath:
    """The inside of an outline on the screen."""
    path = QPainterPath()
    path.addPolygon(polygon(ring, IDENTITY))
    return path


def path_of(region: Region, by: Affine) -> QPainterPath:
    """A region with its holes seen through a map; empty for nothing."""
    path = QPainterPath()
    for outer, holes in region.parts():
        for ring in (outer, *holes):
            path.addPolygon(polygon(ring, by))
    return path


@dataclass(frozen=True)
class Drawing:
    """All that the cloths' pictures are made from. `covers_only`: of the cloths only what pieces show is seen."""

    project: Project
    bench: Bench
    to_screen: Affine
    theme: Theme
    pixel_ratio: float
    tile_of: Callable[[Print], Tile]
    covers_only: bool = False

    def is_like(self, other: Drawing) -> bool:
        """True when the two show the very same bench in the same way."""
        return (
            self.project is other.project
            and self.bench is other.bench
            and self.covers_only == other.covers_only
            and (self.to_screen, self.theme, self.pixel_ratio) == (other.to_screen, other.theme, other.pixel_ratio)
        )

    def sheet_map(self, sheet: Sheet) -> Affine:
        """Cloth frame to screen."""
        return sheet.to_table.then(self.to_screen)

    def cloths(self) -> Iterator[tuple[Sheet, Cloth]]:
        """Every sheet that is a cloth, with it."""
        return ((sheet, sheet.cloth) for sheet in self.bench.sheets if sheet.cloth is not None)

    @cached_property
    def grounds(self) -> tuple[SeenCloth, ...]:
        """Cloths as they are seen: their outline, and the strips that no piece may use."""
        found: list[SeenCloth] = []
        for sheet, cloth in self.cloths():
            by, whole = self.sheet_map(sheet), outline_region(cloth)
            found.append(SeenCloth(sheet, cloth, path_of(whole, by), path_of(whole.minus(usable(cloth)), by)))
        return tuple(found)

    @cached_property
    def flaws(self) -> tuple[SeenFlaw, ...]:
        """Flaws, and the holes that spoiled pieces left, as they are seen."""
        found: list[SeenFlaw] = []
        for sheet, cloth in self.cloths():
            by = self.sheet_map(sheet)
            for flaw, region in keep_out_regions(cloth):
                if region.parts():
                    ring = by.ring(region.parts()[0][0])
                    found.append(_seen(sheet.id, flaw.name, path_of(region, by), ring, gone=flaw.gone))
            for fact in self.project.cut_pieces:
                if fact.state == "spoiled" and fact.place.cloth == sheet.id:
                    place = fact.place.x_mm, fact.place.y_mm
                    ring = piece_to_cloth(fact.anchor_mm, place, fact.place.turn_deg).then(by).ring(fact.outline_mm)
                    # Planned again, the piece is on the bench by its full name; else only its kind is known.
                    again = self.bench.find(fact.piece)
                    name = again.label if again else fact.name[:1].upper() + fact.name[1:]
                    words = sentence("canvas-spoiled", {"piece": name})
                    found.append(_seen(sheet.id, words, _path_of_ring(ring), ring, spoiled=True))
        return tuple(found)

    @cached_property
    def zones(self) -> tuple[SeenZone, ...]:
        """Zones as they are seen: their whole outline, and where their name stands."""
        found: list[SeenZone] = []
        for sheet, cloth in self.cloths():
            by = self.sheet_map(sheet)
            for zone in cloth.zones:
                ring = cloth.change_after(zone.changes_in).then(by).ring(zone.outline_mm)
                # Its name stands on the edge: pieces lie within, and their own signs stay in sight.
                found.append(SeenZone(sheet.id, zone.name, _path_of_ring(ring), _tag(zone.name, ring, 4.0)))
        return tuple(found)

    @cached_property
    def tagged(self) -> tuple[SeenFlaw | SeenZone, ...]:
        """Everything on a cloth that bears a name, flaws first."""
        return (*self.flaws, *self.zones)


@dataclass(frozen=True)
class SeenCloth:
    """A cloth on the screen: its outline, and its strips (empty when it has none)."""

    sheet: Sheet
    cloth: Cloth
    outline: QPainterPath
    strips: QPainterPath


@dataclass(frozen=True)
class SeenZone:
    """A zone on the screen: its outline, and where its name stands."""

    cloth: str
    name: str
    path: QPainterPath
    tag: QRectF


@dataclass(frozen=True)
class SeenFlaw:
    """A flaw or a spoiled hole on the screen: its shape, and where its name stands."""

    cloth: str
    name: str
    path: QPainterPath
    tag: QRectF
    spoiled: bool = False
    # No cloth is left there.
    gone: bool = False


def _seen(
    cloth_id: str, name: str, path: QPainterPath, ring: Ring, *, spoiled: bool = False, gone: bool = False
) -> SeenFlaw:
    return SeenFlaw(cloth_id, name, path, _tag(name, ring, 6.0), spoiled, gone)


def _tag(name: str, ring: Ring, below_px: float) -> QRectF:
    """Where a name stands: on the upper left end of the outline, its middle so far below."""
    x, y = min(ring, key=lambda point: (point[0] + point[1], point[0]))
    metrics = QFontMetricsF(text_font(SIZES_PX.small, bold=True))
    height = metrics.height() + 4
    return QRectF(x + 4, y + below_px - height / 2, metrics.horizontalAdvance(name) + 12, height)


def paint_cloths(painter: QPainter, drawing: Drawing, area: QRectF) -> None:
    """The table and every cloth with its print in full colour, within `area` (logical pixels)."""
    painter.fillRect(area, drawing.theme.color("canvas"))
    for ground in drawing.grounds:
        sheet, cloth, outline = ground.sheet, ground.cloth, ground.outline
        if not outline.boundingRect().adjusted(-4, -4, 4, 4).intersects(area):
            continue
        by = drawing.sheet_map(sheet)
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
    """The veil over the cloths, their strips, zones, flaws and spoiled holes, within `area`.

    Where only covers are seen, the bare table lies over all of it.
    """
    if drawing.covers_only:
        painter.fillRect(area, drawing.theme.color("canvas"))
        return
    near = area.adjusted(-_REACH_PX, -_REACH_PX, _REACH_PX, _REACH_PX)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for ground in drawing.grounds:
        if ground.outline.boundingRect().adjusted(-40, -40, 40, 40).intersects(area):
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
            painter.fillPath(ground.outline, _veil(drawing.theme))
            _paint_strips(painter, drawing, ground.strips)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
            painter.strokePath(ground.outline, pen("edge", drawing.theme.color("line")))
        # What is drawn on a cloth may reach far beyond its edge.
        for zone in drawing.zones:
            if zone.cloth == ground.sheet.id and zone.path.boundingRect().intersects(near):
                painter.strokePath(zone.path, halo("zone", drawing.theme))
                painter.strokePath(zone.path, pen("zone"))
        for flaw in drawing.flaws:
            if flaw.cloth == ground.sheet.id and flaw.path.boundingRect().intersects(near):
                paint = _paint_hole if flaw.spoiled else _paint_gone if flaw.gone else _paint_flaw
                paint(painter, drawing.theme, flaw.path)


def paint_flaws_on(painter: QPainter, drawing: Drawing, cloth_id: str, outline: QPolygonF) -> None:
    """The flaws under a piece, lightly: what is cut there must be seen, and the print under it too."""
    box = outline.boundingRect()
    under = [each for each in drawing.flaws if each.cloth == cloth_id and each.path.intersects(box)]
    if not under:
        return
    within = QPainterPath()
    within.addPolygon(outline)
    painter.save()
    painter.setClipPath(within, Qt.ClipOperation.IntersectClip)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for flaw in under:
        fill_hatched(painter, flaw.path, QColor(166, 48, 29, 70), Qt.BrushStyle.FDiagPattern)
        painter.strokePath(flaw.path, halo("flaw", drawing.theme, 1.0))
        painter.strokePath(flaw.path, pen("flaw", "#A6301D", 1.2))
    painter.restore()


def _veil(theme: Theme) -> QColor:
    return theme.color("canvas", 0.58 if theme.name == "light" else 0.4)


def _paint_strips(painter: QPainter, drawing: Drawing, strips: QPainterPath) -> None:
    """Trim, selvedge and unbacked strip: a fine slanted hatch, since no piece may use them."""
    if not strips.isEmpty():
        painter.fillPath(strips, drawing.theme.color("canvas", 0.5))
        fill_hatched(painter, strips, drawing.theme.color("muted", 0.45), Qt.BrushStyle.BDiagPattern)


def _paint_gone(painter: QPainter, theme: Theme, path: QPainterPath) -> None:
    """No cloth is left: the table shows through, with the edge that was."""
    painter.fillPath(path, theme.color("canvas"))
    painter.strokePath(path, pen("edge", theme.color("line")))


def _paint_flaw(painter: QPainter, theme: Theme, path: QPainterPath) -> None:
    painter.fillPath(path, QColor(166, 48, 29, 50))
    fill_hatched(painter, path, QColor(166, 48, 29, 150), Qt.BrushStyle.FDiagPattern)
    painter.strokePath(path, halo("flaw", theme))
    painter.strokePath(path, pen("flaw", "#A6301D"))


def _paint_hole(painter: QPainter, theme: Theme, path: QPainterPath) -> None:
    """A spoiled piece left a hole: the table shows through, crossed out."""
    painter.fillPath(path, theme.color("canvas"))
    fill_hatched(painter, path, theme.color("no", 0.5), Qt.BrushStyle.DiagCrossPattern)
    painter.strokePath(path, pen("flaw", theme.color("no")))
