"""Small pictures of the structures, for a list to choose from."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt
from PySide6.QtGui import QPainter, QPixmap

from coverlayout.book.book import Structure
from coverlayout.book.picturing.small import structure_picture
from coverlayout.geometry.frames import scale, shift
from coverlayout.ui.picturing.painting import paint_shapes
from coverlayout.ui.theme import CORNER_PX, Theme

__all__ = ["structure_pixmap"]

_EDGE_PX = 4.0


def structure_pixmap(structure: Structure, theme: Theme, *, width_px: int = 64, ratio: float = 1.0) -> QPixmap:
    """The picture of a structure, three quarters as high as wide, in the colours of a look, for that pixel ratio."""
    size = QSize(width_px, round(width_px * 0.75))
    made = QPixmap(size * ratio)
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    picture = structure_picture(structure)
    box = picture.box
    room = size.width() - 2 * _EDGE_PX, size.height() - 2 * _EDGE_PX
    px_per_mm = min(room[0] / box.width_mm, room[1] / box.height_mm)
    x, y = (size.width() - box.width_mm * px_per_mm) / 2, (size.height() - box.height_mm * px_per_mm) / 2
    to_px = shift(-box.left_mm, -box.top_mm).then(scale(px_per_mm)).then(shift(x, y))
    with QPainter(made) as painter:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        # Its own ground, so that it reads on a row that a list marks as chosen.
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.color("field"))
        painter.drawRoundedRect(QRectF(QPointF(0.0, 0.0), QSizeF(size)), CORNER_PX, CORNER_PX)
        paint_shapes(painter, picture.shapes, to_px, px_per_mm, theme, small=True)
    return made
