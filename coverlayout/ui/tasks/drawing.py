"""Drawing on a cloth by hand: a rectangle, an area point by point, or a line of some width."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPainterPath, QPen, QPolygonF

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.outlines import checked_points
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import Affine, Point, Ring
from coverlayout.geometry.shapes import Box, bounds
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.painting.layers import Scene
from coverlayout.ui.painting.names import CHOSEN, INK, paint_chip
from coverlayout.ui.table.bench import Sheet
from coverlayout.ui.tasks.task import Task
from coverlayout.ui.theme import halo, pen

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["Drawing", "Shape", "Wanted"]

Shape = Literal["rectangle", "area", "line"]
_KEYS: dict[int, Shape] = {Qt.Key.Key_R: "rectangle", Qt.Key.Key_A: "area", Qt.Key.Key_S: "line"}
_WORDS: dict[Shape, str] = {"rectangle": "R rectangle", "area": "A area", "line": "S straight line"}
# A point this near to the first one closes an area.
_CLOSES_PX = 8.0
_DOT_PX = 3.0
# The size beside the pointer reaches no further than this.
_BESIDE_PX = 150.0


@dataclass(frozen=True)
class Wanted:
    """What is drawn, and what becomes of it.

    `finish` gives the edit for the cloth drawn on, its points (in the cloth as it now is) and the shape. `shapes` are
    those to choose from by key, the first one to begin with. `points` above 0: so many finish it by themselves.
    `cloth_id`: it is drawn on this cloth, wherever the hand begins. `width_mm` is how broad a line is shown.
    """

    title: str
    finish: Callable[[Cloth, Ring, Shape], Edit]
    shapes: tuple[Shape, ...]
    points: int = 0
    cloth_id: str | None = None
    width_mm: float = 0.0


class Drawing(Task):
    """Points are set one by one, or a rectangle (and a stretch of a line) drawn with the pointer pressed."""

    def __init__(self, canvas: Canvas, wanted: Wanted) -> None:
        super().__init__(canvas)
        self.title = wanted.title
        self._wanted = wanted
        self.shape: Shape = wanted.shapes[0]
        self.points: tuple[Point, ...] = ()
        self._sheet_id = wanted.cloth_id or ""
        self._at_mm: Point | None = None
        if self._sheet_id:
            canvas.shown.measured_id = self._sheet_id

    # What it says

    @property
    def guide(self) -> str:
        """What the next point is for."""
        if not self.points:
            others = ", ".join(_WORDS[shape] for shape in self._wanted.shapes if shape != self.shape)
            return f"{_FIRST[self.shape]} {'Keys: ' + others + '.' if others else ''}".rstrip()
        if self.shape == "rectangle":
            return "Now the corner across."
        if self.can_accept:
            return "The next point, or Done: Return again at the last one. Backspace takes it back."
        return "The next point. Backspace takes the last one back."

    @property
    def can_accept(self) -> bool:
        """An area of three points, a line of two."""
        return self.shape != "rectangle" and len(self.points) >= (3 if self.shape == "area" else 2)

    def zero(self) -> Point:
        """Typed places count from the top left, as seen, of the cloth drawn on."""
        box = self._sheet.box if self._sheet_id else self.canvas.shown.measured_sheet().box
        return box.left_mm, box.top_mm

    # What the hand does

    @property
    def _sheet(self) -> Sheet:
        return self.canvas.bench.sheet(self._sheet_id)

    def down(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """The next point; near the first one an area closes."""
        del modifiers
        if not self._sheet_id:
            nearest = _nearest(self.canvas.bench.sheets, at_mm)
            if nearest is None:
                return
            self._sheet_id = self.canvas.shown.measured_id = nearest.id
            self.canvas.update()
        self._at_mm = at_mm
        if self.shape == "area" and self.can_accept and self._closes(at_mm):
            self.accept()
        else:
            self._add(self._sheet.from_table.at(at_mm))

    def over(self, at_mm: Point, *, held: bool) -> None:
        """The next point would lie there."""
        del held
        self._at_mm = at_mm

    def up(self, at_mm: Point) -> None:
        """Drawn with the pointer pressed: where it is let go is the next point."""
        if self.points:
            self.over(at_mm, held=False)
            self._add(self._sheet.from_table.at(at_mm))

    def _closes(self, at_mm: Point) -> bool:
        to_screen = self.canvas.view.to_screen
        first = to_screen.at(self._sheet.to_table.at(self.points[0]))
        return math.dist(first, to_screen.at(at_mm)) <= _CLOSES_PX

    def _add(self, point: Point) -> None:
        if self.points and math.dist(point, self.points[-1]) <= SAME_LENGTH_MM:
            return
        points = (*self.points, point)
        if self.shape != "rectangle" and len(points) > 2 and not self._can_be(points, closed=False):
            return
        self.points = points
        if len(points) == (2 if self.shape == "rectangle" else self._wanted.points or -1):
            self.accept()
        self.canvas.work.changed.emit()

    def _can_be(self, points: Ring, *, closed: bool) -> bool:
        try:
            checked_points(points, closed=closed, where=self.title)
        except BadInput as refused:
            self._tell(refused.remark)
            return False
        return True

    def _tell(self, remark: Remark) -> None:
        self.canvas.hint.emit(self.canvas.shown.project.preferences.length_style.said(remark))

    def accept(self) -> None:
        """Make the one edit and leave; what is refused is told, and the drawing stays to be mended."""
        cloth = self._sheet.cloth
        if cloth is None:
            return
        ring = self.points if self.shape != "rectangle" else _upright(self.points)
        try:
            edit = self._wanted.finish(cloth, ring, self.shape)
            self.canvas.with_edit(edit)
        except BadInput as refused:
            self._tell(refused.remark)
            if self.shape == "rectangle" or self._wanted.points:
                self.points = self.points[:-1]
            return
        self.canvas.work.leave()
        self.canvas.do(edit)

    def back(self) -> bool:
        """Take the last point back."""
        if not self.points:
            return False
        self.points = self.points[:-1]
        if not self.points and self._wanted.cloth_id is None:
            self._sheet_id = ""
        return True

    def key(self, event: QKeyEvent) -> bool:
        """Another shape, before the second point."""
        shape = _KEYS.get(event.key())
        if shape is None or shape not in self._wanted.shapes or len(self.points) > 1:
            return False
        self.shape = shape
        return True

    def look_at(self, project: Project) -> bool:
        """Drawing goes on while its cloth is there."""
        return not self._sheet_id or any(cloth.id == self._sheet_id for cloth in project.cloths)

    def end(self) -> None:
        """Rulers count from where they did."""
        self.canvas.shown.measured_id = ""
        self.canvas.update()

    # What is seen

    def _drawn(self) -> Ring:
        """The points, and the place the next one would have, in the cloth frame."""
        if self._at_mm is None or not self.points:
            return self.points
        return (*self.points, self._sheet.from_table.at(self._at_mm))

    def area(self) -> QRectF | None:
        """The pixels of what is drawn and of the size beside the pointer."""
        if self._at_mm is None:
            return QRectF()
        by = self._sheet.to_table.then(self.canvas.view.to_screen)
        seen = [by.at(point) for point in self.points]
        box = bounds([*seen, self.canvas.view.to_screen.at(self._at_mm)])
        return QRectF(box.left_mm, box.top_mm, box.width_mm, box.height_mm).adjusted(
            -_BESIDE_PX, -_BESIDE_PX, _BESIDE_PX, _BESIDE_PX
        )

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """What is drawn so far, its points, and the size it would have."""
        drawn = self._drawn()
        if not drawn:
            return
        by = self._sheet.to_table.then(scene.drawing.to_screen)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        path = self._path(drawn, by)
        if self.shape != "line":
            painter.fillPath(path, _faint(0.2))
        elif self._wanted.width_mm > 0:
            broad = QPen(_faint(0.35), self._wanted.width_mm * self.canvas.view.px_per_mm)
            broad.setCapStyle(Qt.PenCapStyle.FlatCap)
            broad.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
            painter.strokePath(path, broad)
        painter.strokePath(path, halo("flaw", scene.drawing.theme))
        painter.strokePath(path, pen("flaw", CHOSEN))
        painter.setPen(pen("edge", scene.drawing.theme.color("halo")))
        painter.setBrush(CHOSEN)
        for point in self.points:
            painter.drawEllipse(QPointF(*by.at(point)), _DOT_PX, _DOT_PX)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if len(drawn) > len(self.points):
            x, y = by.at(drawn[-1])
            paint_chip(painter, QPointF(x, y - 18), self._size(drawn), INK, scene.drawing.theme.color("halo"))

    def _path(self, drawn: Ring, by: Affine) -> QPainterPath:
        ring = _upright(drawn) if self.shape == "rectangle" and len(drawn) > 1 else drawn
        seen = [QPointF(*by.at(point)) for point in ring]
        path = QPainterPath()
        path.addPolygon(QPolygonF(seen if self.shape == "line" else [*seen, seen[0]]))
        return path

    def _size(self, drawn: Ring) -> str:
        """Width and length of a rectangle, the length of the stretch for the rest."""
        style = self.canvas.shown.project.preferences.length_style
        if self.shape == "rectangle":
            box = bounds(drawn)
            return f"{style.number(box.width_mm)} × {style.show(box.height_mm)}"
        return style.show(math.dist(drawn[-2], drawn[-1]))


_FIRST: dict[Shape, str] = {
    "rectangle": "Drag from corner to corner, press both corners, or type a place such as 120, 45.",
    "area": "Press its corners in order, or type a place such as 120, 45.",
    "line": "Press where it begins, or type a place such as 120, 45.",
}


def _faint(alpha: float) -> QColor:
    """The colour of what is being drawn, so that the print shows through."""
    color = QColor(CHOSEN)
    color.setAlphaF(alpha)
    return color


def _upright(points: Ring) -> Ring:
    """The rectangle between the first and the last point, straight on the cloth."""
    return bounds((points[0], points[-1])).ring()


def _nearest(sheets: tuple[Sheet, ...], at_mm: Point) -> Sheet | None:
    """The cloth under a place, else the one it is nearest to."""
    return min(sheets, key=lambda sheet: _apart_mm(sheet.box, at_mm), default=None)


def _apart_mm(box: Box, at_mm: Point) -> float:
    dx = max(box.left_mm - at_mm[0], 0.0, at_mm[0] - box.right_mm)
    dy = max(box.top_mm - at_mm[1], 0.0, at_mm[1] - box.bottom_mm)
    return math.hypot(dx, dy)
