"""The panels a cloth is proposed to be cut into: lines over the cloth, each panel with its number and size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Affine, Point
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.painting.cloths import rect_of
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.painting.names import CHOSEN
from coverlayout.ui.theme import CORNER_PX, SIZES_PX, figures_font, halo, pen

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["PanelCut", "PanelLines", "lines_between", "paint_panels"]

# The words of a panel stand so far inside its lower corner, and only where they have room.
_INSIDE_PX = 6.0


@dataclass(frozen=True)
class PanelCut:
    """A cloth and the panels it is to be cut into, on the cloth as it now is."""

    cloth_id: str
    panels: tuple[Box, ...]


class PanelLines:
    """Shows the panels of a proposal over a canvas: lines and names, as the cloth is seen now."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas = canvas
        self.cut: PanelCut | None = None
        canvas.overlays.append(self._paint)

    def show(self, cut: PanelCut | None) -> None:
        """Show these; None shows none."""
        if cut != self.cut:
            self.cut = cut
            self._canvas.update()

    def _paint(self, painter: QPainter, scene: Scene) -> None:
        if self.cut is not None:
            paint_panels(painter, scene, self.cut)


def paint_panels(painter: QPainter, scene: Scene, cut: PanelCut) -> None:
    """The lines and the panels' names over their cloth, as it is seen now; nothing when that cloth is not there."""
    drawing = scene.drawing
    sheet = drawing.bench.sheet(cut.cloth_id)
    if sheet.cloth is None:
        return
    by = drawing.sheet_map(sheet)
    style = drawing.project.preferences.length_style
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    lines = [_ends(by, line) for line in lines_between(cut.panels)]
    for made in (halo("panel", drawing.theme), pen("panel", CHOSEN)):
        painter.setPen(made)
        painter.drawLines(lines)
    for number, panel in enumerate(cut.panels, start=1):
        frame = rect_of(bounds(by.ring(panel.ring())))
        size = f"{style.number(panel.width_mm, 'down')} × {style.show(panel.height_mm, 'down')}"
        _paint_words(painter, frame, Remark.of("panel-named", number=number, size=size).text())
    painter.restore()


def lines_between(panels: tuple[Box, ...]) -> tuple[tuple[Point, Point], ...]:
    """The lines to cut along: every right and lower edge of a panel that is no edge of all of them together.

    >>> lines_between((Box(0.0, 0.0, 40.0, 50.0), Box(40.0, 0.0, 30.0, 50.0)))
    (((40.0, 0.0), (40.0, 50.0)),)
    """
    right_mm = max(panel.right_mm for panel in panels) - SAME_LENGTH_MM
    bottom_mm = max(panel.bottom_mm for panel in panels) - SAME_LENGTH_MM
    upright = [
        ((panel.right_mm, panel.top_mm), (panel.right_mm, panel.bottom_mm))
        for panel in panels
        if panel.right_mm < right_mm
    ]
    level = [
        ((panel.left_mm, panel.bottom_mm), (panel.right_mm, panel.bottom_mm))
        for panel in panels
        if panel.bottom_mm < bottom_mm
    ]
    return (*upright, *level)


def _ends(by: Affine, line: tuple[Point, Point]) -> QLineF:
    start, end = by.ring(line)
    return QLineF(QPointF(*start), QPointF(*end))


def _paint_words(painter: QPainter, frame: QRectF, words: str) -> None:
    font = figures_font(SIZES_PX.small, bold=True)
    metrics = QFontMetricsF(font)
    width, height = metrics.horizontalAdvance(words) + 12, metrics.height() + 4
    if width + 2 * _INSIDE_PX > frame.width() or height + 2 * _INSIDE_PX > frame.height():
        return
    foot = frame.bottomLeft() + QPointF(_INSIDE_PX, -_INSIDE_PX - height)
    box = QRectF(foot.x(), foot.y(), width, height)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(CHOSEN)
    painter.drawRoundedRect(box, CORNER_PX, CORNER_PX)
    painter.setPen("#FFFFFF")
    painter.setFont(font)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)
