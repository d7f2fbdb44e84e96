"""A project seen small: its cloths with their print and the pieces as they are laid, to know it again by."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from PySide6.QtCore import QBuffer, QPoint, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QImageWriter, QPainter, QPainterPath

from coverlayout.document.project import Project
from coverlayout.errors import CoverlayoutError
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.motif.drawn import drawn_tile, plain_tile
from coverlayout.motif.pixels import pixels
from coverlayout.motif.prints import Print
from coverlayout.ui.painting.cloths import Drawing, paint_cloths, paint_flaws_on, paint_veil, polygon
from coverlayout.ui.painting.names import INK
from coverlayout.ui.painting.pieces import board_of
from coverlayout.ui.painting.tiles import Tile
from coverlayout.ui.table.bench import WAITING, Bench, Lying
from coverlayout.ui.table.shown import bench_of
from coverlayout.ui.table.view import fitted
from coverlayout.ui.theme import Theme, halo, pen

__all__ = ["png_of", "small_image"]

# A repeat seen so small needs no more of its picture than this.
_TILE_PX = 600
_MARGIN_PX = 6.0
_PALE = QColor(251, 248, 241, 150)


def small_image(
    project: Project, pictures: Mapping[str, bytes], size: QSize, theme: Theme, pixel_ratio: float = 1.0
) -> QImage:
    """The cloths of a project and what is laid on them, whole within `size` logical pixels; in any thread.

    Pieces that wait are not drawn. A project without cloth is the bare table, a picture that cannot be read the print's
    plain tile.
    """
    image = QImage(size * pixel_ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(pixel_ratio)
    whole = QRectF(0.0, 0.0, size.width(), size.height())
    bench, _ = bench_of(project)
    room = Box(0.0, 0.0, whole.width(), whole.height())
    view = fitted(_cloths_of(bench), room, _MARGIN_PX)
    tile_of = cache(lambda a_print: _tile(a_print, pictures))
    drawing = Drawing(project, bench, view.to_screen, theme, pixel_ratio, tile_of)
    with QPainter(image) as painter:
        paint_cloths(painter, drawing, whole)
    bright = image.copy()
    with QPainter(image) as painter:
        paint_veil(painter, drawing, whole)
        for lying in bench.stacked():
            if lying.placed.cloth != WAITING:
                _paint_piece(painter, drawing, lying, bright)
    return image


def png_of(project: Project, pictures: Mapping[str, bytes], size: QSize, theme: Theme) -> bytes:
    """The small picture as a PNG with two pixels a logical one; in any thread."""
    buffer = QBuffer()
    buffer.open(QBuffer.OpenModeFlag.WriteOnly)
    QImageWriter(buffer, b"png").write(small_image(project, pictures, size, theme, 2.0))
    return bytes(buffer.data().data())


def _cloths_of(bench: Bench) -> Box:
    """The box around the cloths, whatever waits beside them; a box without size when there is none."""
    corners = [corner for sheet in bench.sheets for corner in sheet.box.ring()]
    return bounds(corners) if corners else Box(0.0, 0.0, 0.0, 0.0)


def _tile(a_print: Print, pictures: Mapping[str, bytes]) -> Tile:
    """The print's tile, small; a plain one where its picture is missing, damaged or without a size."""
    data = pictures.get(a_print.picture.sha256) if a_print.picture else None
    drawn = None
    if data is not None:
        try:
            drawn = drawn_tile(a_print, pixels(data, longest_px=_TILE_PX, quick=True))
        except CoverlayoutError:
            drawn = None
    drawn = drawn or plain_tile(a_print)
    return Tile.of(drawn.rgb, drawn.to_print)


def _paint_piece(painter: QPainter, drawing: Drawing, lying: Lying, bright: QImage) -> None:
    """The print in full colour where it will be on the book, paler in the turn-ins; a thin outline alone."""
    by = drawing.bench.to_table(lying.placed).then(drawing.to_screen)
    outline = polygon(lying.piece.outline_mm, by)
    path = QPainterPath()
    path.addPolygon(outline)
    painter.save()
    painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
    painter.drawImage(QPoint(0, 0), bright)
    painter.restore()
    faces = [polygon(face.outline_mm, by) for face in lying.piece.faces]
    if not faces and lying.piece.board is not None:
        faces = [board_of(lying.piece, by)]
    if faces:
        for face in faces:
            path.addPolygon(face)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillPath(path, _PALE)
    paint_flaws_on(painter, drawing, lying.placed.cloth, outline)
    cut = QPainterPath()
    cut.addPolygon(outline)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.strokePath(cut, halo("board", drawing.theme, 0.5))
    painter.strokePath(cut, pen("board", INK, 1.0))
