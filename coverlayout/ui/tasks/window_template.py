"""The window template: a hole the size of a board, moved over the print with nothing else to be seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QPainter, QPainterPath, QPen

from coverlayout.document.project import Project
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import bounds
from coverlayout.layout.answer import Breach
from coverlayout.layout.rules import Rest
from coverlayout.ui.canvas.gestures import placing
from coverlayout.ui.canvas.work import ARROWS, step_mm
from coverlayout.ui.painting.cloths import polygon
from coverlayout.ui.painting.layers import Layers, Scene
from coverlayout.ui.painting.names import BREACH, FITS, INK, looks_of, paint_chip
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.seeing.template import Template
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.tasks.task import Task
from coverlayout.ui.theme import SIZES_PX, text_font

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["WindowTemplate"]

_REACH_PX = 4.0
_CHIP_ROW_PX = 24.0
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_WHITE = QColor("#FFFFFF")


@dataclass(frozen=True)
class _Chip:
    text: str
    ground: QColor


class WindowTemplate(Task):
    """Shows only what is in the hole; Done lays the template's piece there, if it may lie there."""

    title = "Window template"

    def __init__(self, canvas: Canvas, template: Template) -> None:
        super().__init__(canvas)
        self.template = template
        # Until it is put down it follows the pointer.
        self._follows = True
        self._rest: tuple[Bench, Rest] | None = None
        self._wrong: tuple[Breach, ...] = ()
        self._judge()

    # What is said

    @property
    def can_accept(self) -> bool:
        """True for a piece that may be moved."""
        lying, project = self.template.lying, self.canvas.shown.project
        pinned = lying.piece.id in project.layout.pinned
        return self.template.is_piece and lying.state == "planned" and not pinned

    @property
    def guide(self) -> str:
        """How the hole is moved, and what Done does."""
        if not self.can_accept:
            return sentence("window-follows-look" if self._follows else "window-put-look", {})
        piece = self.canvas.bench.name(self.template.lying.piece.id)
        return sentence("window-follows" if self._follows else "window-put", {"piece": piece})

    def _chips(self) -> list[_Chip]:
        """Size, place and whether the piece may lie there, from the top down."""
        style, bench = self.canvas.shown.project.preferences.length_style, self.canvas.bench
        width, height = self.template.size_mm(bench)
        chips = [_Chip(f"{style.number(width, 'up')} × {style.show(height, 'up')}", INK)]
        edges, by = self.template.from_edges(bench), self.template.from_line(bench)
        if by is not None:
            along_mm, across_mm = by.left_mm
            ways = ("right", "left") if by.lengthwise else ("below", "above")
            figures = {"along_mm": along_mm, "across_mm": abs(across_mm)}
            chips.append(_Chip(sentence(f"window-place-{ways[across_mm < 0]}", figures, style.show), INK))
        elif edges is not None:
            words = sentence("window-place", {"left_mm": edges[0], "top_mm": edges[1]}, style.show)
            chips.append(_Chip(words, INK))
        if self.can_accept and edges is not None:
            why = self._why_not()
            chips.append(_Chip(why or sentence("window-may", {}), BREACH if why else FITS))
        return chips

    def _why_not(self) -> str:
        """Why the piece may not lie there, in a few words; empty when it may."""
        if not self._wrong:
            return ""
        piece, style = self.template.lying.piece.id, self.canvas.shown.project.preferences.length_style
        return looks_of(self.canvas.bench, self._wrong, (piece,), style)[piece].breaches[0][1]

    # The hand

    def down(self, at_mm: Point, modifiers: Qt.KeyboardModifier) -> None:
        """Put the hole down there."""
        del modifiers
        self._follows = False
        self._move_to(at_mm)

    def over(self, at_mm: Point, *, held: bool) -> None:
        """The hole follows until it is put down, and while it is dragged."""
        if self._follows or held:
            self._move_to(at_mm)

    def up(self, at_mm: Point) -> None:
        """Dragged there."""
        self._move_to(at_mm)

    def key(self, event: QKeyEvent) -> bool:
        """Arrows move the hole as seen, R turns it (Shift and R back), Enter is Done."""
        key, modifiers = event.key(), event.modifiers()
        if key in ARROWS:
            towards, by_mm = ARROWS[key], step_mm(modifiers)
            x, y = self.template.middle(self.canvas.bench)
            self._follows = False
            self._move_to((x + towards[0] * by_mm, y + towards[1] * by_mm))
        elif key == Qt.Key.Key_R and not modifiers & ~Qt.KeyboardModifier.ShiftModifier:
            self._turn(clockwise=not modifiers & Qt.KeyboardModifier.ShiftModifier)
        elif key in _ENTER and self.can_accept:
            self.accept()
        else:
            return False
        return True

    def zero(self) -> Point:
        """A place that is typed is where the hole's top left shall be."""
        left, top = super().zero()
        bench = self.canvas.bench
        (x, y), hole = self.template.middle(bench), bounds(self.template.seen(bench))
        return left + x - hole.left_mm, top + y - hole.top_mm

    def _move_to(self, at_mm: Point) -> None:
        self.template = self.template.moved_to(self.canvas.bench, at_mm)
        self._judge()

    def _turn(self, *, clockwise: bool) -> None:
        seen_from_back = self.canvas.shown.project.preferences.side == "back"
        turned = self.template.turned(self.canvas.bench, clockwise=clockwise != seen_from_back)
        if turned is None:
            self.canvas.hint.emit(sentence("canvas-one-turn", {"piece": self.template.lying.label}))
        else:
            self.template = turned
            self._judge()

    def _judge(self) -> None:
        """What would be wrong with the piece there."""
        judge, bench, placed = self.canvas.shown.judge, self.canvas.bench, self.template.placed
        self._wrong = ()
        if judge is None or not self.can_accept or placed.cloth == WAITING:
            return
        if self._rest is None or self._rest[0] is not bench:
            others = [
                lying.placed
                for lying in bench.lying
                if lying.state == "planned" and lying.placed.cloth != WAITING and lying.piece.id != placed.piece
            ]
            self._rest = bench, judge.rest(others)
        breaches = self._rest[1].judge((placed,)).breaches
        self._wrong = tuple(breach for breach in breaches if placed.piece in breach.pieces)

    def accept(self) -> None:
        """Lay the piece there, in one step; where it may not lie, say why and stay."""
        if not self.can_accept:
            return
        placed, name = self.template.placed, self.template.lying.label
        if placed.cloth == WAITING:
            self.canvas.hint.emit(sentence("window-beside", {"piece": name}))
        elif self._wrong:
            self.canvas.hint.emit(sentence("window-not-here", {"piece": name, "why": self._why_not()}))
        else:
            canvas = self.canvas
            canvas.work.leave()
            canvas.do(placing(canvas.bench, (placed,)))
            canvas.choose((placed.piece,))

    # Showing

    def look_at(self, project: Project) -> bool:
        """The hole stays where it is on its cloth, until its piece or the cloth is gone."""
        bench, template = self.canvas.bench, self.template
        if template.is_piece:
            lying = bench.find(template.lying.piece.id)
            if lying is None:
                return False
            self.template = Template(lying, template.placed, is_piece=True)
        if all(cloth.id != template.placed.cloth for cloth in project.cloths) and template.placed.cloth != WAITING:
            return False
        self._judge()
        return True

    def area(self) -> QRectF:
        """Around the hole and its figures."""
        hole = self._hole(self.canvas.scene())
        area = hole.adjusted(-_REACH_PX, -_REACH_PX, _REACH_PX, _REACH_PX)
        for chip, middle in self._arranged(hole):
            width = QFontMetricsF(text_font(SIZES_PX.text, bold=True)).horizontalAdvance(chip.text) + 16
            area = area.united(QRectF(middle.x() - width / 2, middle.y() - 14, width, 28))
        return area

    def _hole(self, scene: Scene) -> QRectF:
        return polygon(self.template.seen(scene.drawing.bench), scene.drawing.to_screen).boundingRect()

    def _arranged(self, hole: QRectF) -> list[tuple[_Chip, QPointF]]:
        """The figures under the hole, or over it where the canvas ends, never out of sight sideways."""
        chips = self._chips()
        metrics = QFontMetricsF(text_font(SIZES_PX.text, bold=True))
        height = len(chips) * _CHIP_ROW_PX
        top = hole.bottom() + 8
        if top + height > self.canvas.height() - 4:
            top = max(hole.top() - 8 - height, self.canvas.work.covered_px + 4)
        placed = []
        for row, chip in enumerate(chips):
            half = metrics.horizontalAdvance(chip.text) / 2 + 8
            middle = min(max(hole.center().x(), RULER_PX + half), max(self.canvas.width() - half, RULER_PX + half))
            placed.append((chip, QPointF(middle, top + (row + 0.5) * _CHIP_ROW_PX)))
        return placed

    def paint(self, painter: QPainter, scene: Scene) -> None:
        """A plain mask over everything, the bright print in its hole, and the figures."""
        self.paint_mask(painter, scene, self.canvas.layers, zooming=self.canvas.sight.moving)
        for chip, middle in self._arranged(self._hole(scene)):
            paint_chip(painter, middle, chip.text, chip.ground, _WHITE, size_px=SIZES_PX.text)

    def paint_mask(self, painter: QPainter, scene: Scene, layers: Layers, *, zooming: bool = False) -> None:
        """The mask and its hole as the layers have the print; while `zooming` they have it at another size."""
        theme = scene.drawing.theme
        path = QPainterPath()
        path.addPolygon(polygon(self.template.seen(scene.drawing.bench), scene.drawing.to_screen))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.fillRect(self.canvas.rect(), theme.color("panel"))
        painter.setClipPath(path, Qt.ClipOperation.IntersectClip)
        if zooming:
            layers.paint_zoomed(painter, scene.drawing.to_screen, bright=True)
        else:
            painter.drawPixmap(layers.origin, layers.bright)
        painter.restore()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.strokePath(path, QPen(theme.color("line"), 1.5))
