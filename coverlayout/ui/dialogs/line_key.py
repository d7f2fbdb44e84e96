"""The key to the drawing: every kind of line on the cloth with a word, drawn as the canvas draws it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QVBoxLayout, QWidget

from coverlayout.ui.fields.entry import label
from coverlayout.ui.painting.cloths import CLOTH_WHITE, fill_hatched
from coverlayout.ui.painting.names import BREACH, CHOSEN, INK
from coverlayout.ui.theme import LIGHT, LineKind, halo, pen

__all__ = ["LINES", "LineKey"]

_SAMPLE = QRectF(0, 0, 96, 34)
_Draw = Callable[[QPainter, QRectF], None]


def _line(kind: LineKind, color: QColor | None = None, width_px: float | None = None) -> _Draw:
    def draw(painter: QPainter, box: QRectF) -> None:
        path = QPainterPath(QPointF(box.left() + 10, box.center().y()))
        path.lineTo(box.right() - 10, box.center().y())
        painter.strokePath(path, halo(kind, LIGHT, width_px))
        painter.strokePath(path, pen(kind, color or INK, width_px))

    return draw


def _mitre(painter: QPainter, box: QRectF) -> None:
    path = QPainterPath(QPointF(box.center().x() - 12, box.bottom() - 6))
    path.lineTo(box.center().x() + 12, box.top() + 6)
    painter.strokePath(path, pen("mitre", INK))


def _head(painter: QPainter, box: QRectF) -> None:
    middle = box.center()
    wedge = QPolygonF([middle + QPointF(0, -6), middle + QPointF(7, 5), middle + QPointF(-7, 5)])
    path = QPainterPath()
    path.addPolygon(wedge)
    painter.fillPath(path, INK)


def _spine(painter: QPainter, box: QRectF) -> None:
    path = QPainterPath()
    for y in (box.center().y() - 1.75, box.center().y() + 1.75):
        path.moveTo(box.left() + 10, y)
        path.lineTo(box.right() - 10, y)
    painter.strokePath(path, pen("mitre", INK, 1.5))


def _window(painter: QPainter, box: QRectF) -> None:
    path = QPainterPath()
    path.addRect(box.adjusted(30, 9, -30, -9))
    painter.strokePath(path, halo("window", LIGHT))
    painter.strokePath(path, pen("window", INK))


def _flaw(painter: QPainter, box: QRectF) -> None:
    path = QPainterPath()
    path.addRoundedRect(box.adjusted(18, 6, -18, -6), 8, 8)
    light = QColor(BREACH)
    light.setAlpha(150)
    fill_hatched(painter, path, light, Qt.BrushStyle.BDiagPattern)
    painter.strokePath(path, halo("flaw", LIGHT))
    painter.strokePath(path, pen("flaw", BREACH))


def _chosen(painter: QPainter, box: QRectF) -> None:
    inner, arm = box.adjusted(26, 6, -26, -6), 8.0
    painter.setPen(pen("board", CHOSEN, 2.5))
    for corner, x, y in (
        (inner.topLeft(), 1, 1),
        (inner.topRight(), -1, 1),
        (inner.bottomRight(), -1, -1),
        (inner.bottomLeft(), 1, -1),
    ):
        painter.drawPolyline([corner + QPointF(x * arm, 0), corner, corner + QPointF(0, y * arm)])


LINES: tuple[tuple[_Draw, str], ...] = (
    (_line("cut"), "Dashed, outermost: the line the knife follows. Solid once the piece is cut."),
    (_line("board"), "Solid: the edge of the board."),
    (_line("turn-in", None, 1.0), "Fine dashes, close to the board: the fold of the turn-in."),
    (_line("liner", None, 1.6), "Dotted: the edge of the liner."),
    (_line("joint"), "Long fine dashes: the joint, where a board ends and the cover turns."),
    (_line("fold"), "Short fine dashes across a piece: a fold, of a wrap or a flap."),
    (_line("lap"), "Dots far apart: how far the sides lie over the cloth of spine and corners."),
    (_window, "Solid and fine, inside a board: the window or the place of a label."),
    (_mitre, "Slanted, at the corners: the mitre. Cut it after gluing, not now."),
    (_spine, "A stout double line: the edge at the spine, of a slipcase at the mouth."),
    (_head, "Triangle: this edge is the head of the piece."),
    (_line("zone"), "Dash and dot: the edge of a zone with a print of its own."),
    (_flaw, "Short dashes, hatched: a flaw no piece may lie on."),
    (_line("flaw", BREACH, 2.5), "Short heavy dashes round a piece: something is wrong with where it lies."),
    (_line("proposed", CHOSEN), "A dash and two dots: a piece as it is proposed; nothing lies there yet."),
    (_line("panel", CHOSEN), "Heavy long dashes across a cloth: where it is proposed to be cut into panels."),
    (_chosen, "Angles at the corners: the piece is chosen."),
)


class _Sample(QWidget):
    """One kind of line on a bit of plain cloth: the same in both looks, as on the canvas."""

    def __init__(self, draw: _Draw) -> None:
        super().__init__()
        self._draw = draw
        self.setFixedSize(_SAMPLE.size().toSize())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Cloth, then the line."""
        del event
        with QPainter(self) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.fillRect(self.rect(), QColor(CLOTH_WHITE))
            self._draw(painter, _SAMPLE)


class LineKey(QDialog):
    """Each line with what it means."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Lines on the cloth")
        self.setMinimumWidth(520)
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(6)
        grid.setColumnStretch(1, 1)
        for row, (draw, words) in enumerate(LINES):
            grid.addWidget(_Sample(draw), row, 0)
            grid.addWidget(label(words), row, 1, Qt.AlignmentFlag.AlignVCenter)
        buttons = QDialogButtonBox()
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 12)
        column.setSpacing(10)
        column.addWidget(label("Lines on the cloth", "title"))
        column.addLayout(grid)
        column.addWidget(buttons)
