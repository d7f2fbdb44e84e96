"""Small drawings of how a print repeats and of what may be used of a cloth."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPalette, QPen, QPolygonF

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.usable import keep_out_regions, usable
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Region, bounds
from coverlayout.motif.prints import Print
from coverlayout.ui.fields.drawing import Drawing

__all__ = ["ClothDrawing", "RepeatDrawing"]


class RepeatDrawing(Drawing):
    """How a print repeats: one mark a tile, as the arrangement puts them, the first tile outlined."""

    def __init__(self) -> None:
        super().__init__(104, "How the print repeats")
        self._print: Print | None = None

    def show_print(self, a_print: Print | None) -> None:
        """Draw the arrangement of this print."""
        if a_print != self._print:
            self._print = a_print
            self.update()

    def draw(self, painter: QPainter) -> None:
        """Cells across the whole field, two and a bit of them high."""
        if self._print is None:
            return
        a = self._print.lattice.a_mm
        b = self._print.lattice.b_mm or (-a[1], a[0])
        box = bounds(((0.0, 0.0), a, b))
        tile = self._print.tile_mm or (box.width_mm, box.height_mm)
        scale = min(self.height() / (1.9 * tile[1]), self.width() / (2.8 * tile[0]))
        painter.setClipRect(self.rect())
        mirrored = self._print.layout == "mirrored"
        middle = QPointF(self.width() / 2, self.height() / 2)
        for i in range(-9, 10):
            for j in range(-9, 10):
                corner = (i * a[0] + j * b[0], i * a[1] + j * b[1])
                for part in ((0, 0), (1, 0), (0, 1), (1, 1)) if mirrored else ((0, 0),):
                    place = (corner[0] + part[0] * tile[0], corner[1] + part[1] * tile[1])
                    at = middle + QPointF(place[0] - tile[0] / 2, place[1] - tile[1] / 2) * scale
                    size = (tile[0] * scale, tile[1] * scale)
                    self._cell(painter, QRectF(at.x(), at.y(), *size), (i, j) == (0, 0) and part == (0, 0), part)

    def _cell(self, painter: QPainter, cell: QRectF, first: bool, flipped: Point) -> None:
        """A leaf on a stem that leans to one side, so that reflected cells can be told apart."""
        if not cell.intersects(QRectF(self.rect())):
            return
        painter.setPen(QPen(self.color(QPalette.ColorRole.Mid), 1.0, Qt.PenStyle.DotLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(cell)
        if first:
            painter.setPen(QPen(self.color(QPalette.ColorRole.Link), 1.5))
            painter.drawRect(cell)
        painter.save()
        painter.translate(cell.center())
        painter.scale(-1 if flipped[0] else 1, -1 if flipped[1] else 1)
        size = min(cell.width(), cell.height()) * 0.3
        painter.setPen(QPen(self.color(QPalette.ColorRole.WindowText), 1.5))
        painter.drawLine(QPointF(0, size), QPointF(0, -size * 0.2))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self.color(QPalette.ColorRole.WindowText, 1.0 if first else 0.6))
        painter.drawEllipse(QPointF(0, -size * 0.55), size * 0.32, size * 0.5)
        painter.drawEllipse(QRectF(0, size * 0.1, size * 0.7, size * 0.35))
        painter.restore()


class ClothDrawing(Drawing):
    """The cloth as it now is: what may be used in full, strips, flaws and what is cut off paler and hatched."""

    def __init__(self) -> None:
        super().__init__(112, "The cloth with what may be used of it")
        self._cloth: Cloth | None = None
        self._usable = Region.nothing()
        self._flaws: tuple[Region, ...] = ()

    def show_cloth(self, cloth: Cloth | None) -> None:
        """Draw this cloth."""
        if cloth == self._cloth:
            return
        self._cloth = cloth
        self._usable = usable(cloth) if cloth else Region.nothing()
        self._flaws = tuple(region for _, region in keep_out_regions(cloth)) if cloth else ()
        self.update()

    def draw(self, painter: QPainter) -> None:
        """The whole cloth, as large as the field allows."""
        if self._cloth is None:
            return
        outline = self._cloth.outline_now_mm()
        box = bounds(outline)
        scale = min((self.width() - 24) / box.width_mm, (self.height() - 20) / box.height_mm)
        left = self.width() / 2 - box.middle[0] * scale
        top = self.height() / 2 - box.middle[1] * scale

        def polygon(ring: Ring) -> QPolygonF:
            return QPolygonF([QPointF(left + x * scale, top + y * scale) for x, y in ring])

        painter.setPen(QPen(self.color(QPalette.ColorRole.WindowText), 1.5))
        painter.setBrush(QBrush(self.color(QPalette.ColorRole.PlaceholderText), Qt.BrushStyle.BDiagPattern))
        painter.drawPolygon(polygon(outline))
        painter.setPen(QPen(self.color(QPalette.ColorRole.Link), 1.0, Qt.PenStyle.DashLine))
        painter.setBrush(self.color(QPalette.ColorRole.Base))
        for ring, _holes in self._usable.parts():
            painter.drawPolygon(polygon(ring))
        painter.setBrush(QBrush(self.color(QPalette.ColorRole.WindowText), Qt.BrushStyle.DiagCrossPattern))
        for region in self._flaws:
            for ring, _holes in region.parts():
                painter.drawPolygon(polygon(ring))
