"""The hand on the canvas: which gesture a press begins, how it goes on, and how it ends."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QRectF, Qt, QTimer
from PySide6.QtGui import QMouseEvent, QPainter, QPen, QRegion

from coverlayout.document.history import Edit
from coverlayout.errors import sentence
from coverlayout.geometry.frames import Point
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Live
from coverlayout.ui.canvas.gestures import Choose, DragPiece, Gesture, MovePrint, Pan, guides_for, move_print_at
from coverlayout.ui.canvas.guides import GuideMark, marks_of, paint_guide_names, paint_guides
from coverlayout.ui.painting.chips import Chip, chips_of, paint_chips
from coverlayout.ui.painting.cloths import rect_of
from coverlayout.ui.painting.layers import Layers, Scene
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.table.bench import WAITING

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["Hand"]

# A hand trembles: within this many pixels a press is a click, not a drag.
_STILL_PX = 3.0
_LEFT, _MIDDLE = Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton
# A piece is caught by a guide within this many pixels; the keys hold guides off, and keep it to a straight line.
_REACH_PX = 6.0
_FREE, _STRAIGHT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
_ADDING = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.ControlModifier


class Hand(QObject):
    """Holds the gesture under way on one canvas.

    A move only stores the place; one timer without delay does the work once the queue is empty, so the newest wins.
    While `snapping` dragged pieces are caught at guides; Ctrl held during the drag holds the guides off, Shift keeps
    the pieces to a straight line.
    """

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self._canvas = canvas
        self.gesture: Gesture | None = None
        self.chips: tuple[Chip, ...] = ()
        self.guides: tuple[GuideMark, ...] = ()
        self.snapping = True
        self._modifiers = Qt.KeyboardModifier.NoModifier
        self.looks = canvas.shown.looks
        self._pressed: tuple[Point, Callable[[], Gesture | None]] | None = None
        self._at_px: Point = (0.0, 0.0)
        self._touched = QRegion()
        self._tick = QTimer(self, singleShot=True, interval=0)
        self._tick.timeout.connect(self._advance)

    @property
    def holds(self) -> bool:
        """True from a press of the hand's own to its release, also while it has not moved yet."""
        return self._pressed is not None

    @property
    def _at_mm(self) -> Point:
        return self._canvas.view.mm_at(self._at_px)

    def press(self, event: QMouseEvent, *, space_held: bool) -> None:
        """Take hold: of a piece, the print, a frame to choose with, or the table."""
        self.leave()
        self._at_px = _place(event)
        if event.button() == _MIDDLE or (event.button() == _LEFT and space_held):
            self._pressed = self._at_px, partial(Pan, self._canvas.view, self._at_px)
        elif event.button() == _LEFT:
            self._pressed = self._at_px, self._hold(event.modifiers())
        self.show_pointer()

    def _hold(self, modifiers: Qt.KeyboardModifier) -> Callable[[], Gesture | None]:
        canvas, bench, at_mm = self._canvas, self._canvas.bench, self._at_mm
        if canvas.shown.proposal is not None:
            taken = canvas.moving_print or canvas.shown.proposal.piece_at(at_mm, canvas.shown.raised) is not None
            return self._touch_proposal if taken else partial(Pan, canvas.view, self._at_px)
        if canvas.moving_print and (moving := move_print_at(bench, at_mm)) is not None:
            return lambda: moving
        lying = bench.piece_at(at_mm, canvas.shown.raised)
        if lying is None and modifiers & _ADDING:
            return partial(Choose, bench, at_mm, canvas.chosen)
        if lying is None:
            return partial(Pan, canvas.view, self._at_px)
        here = lying.piece.id
        if modifiers & _ADDING:
            others = tuple(each for each in canvas.chosen if each != here)
            canvas.choose(others if here in canvas.chosen else (*others, here))
        elif here not in canvas.chosen:
            canvas.choose((here,))
        if not lying.moves:
            code = "canvas-cut" if lying.state == "cut" else "canvas-pinned"
            canvas.hint.emit(sentence(code, {"piece": lying.label}))
        return partial(self._carry, here, at_mm)

    def _touch_proposal(self) -> None:
        """What is only proposed cannot be carried: the proposal goes, and the press with it."""
        self._pressed = None
        self._canvas.proposal_touched.emit()

    def _carry(self, gripped: str, at_mm: Point) -> DragPiece:
        canvas = self._canvas
        bench, chosen = canvas.bench, canvas.chosen
        return DragPiece(bench, chosen, at_mm, guides_for(bench, canvas.shown.judge, chosen, gripped))

    def move(self, event: QMouseEvent) -> None:
        """The pointer is there now; the first move beyond a tremble begins the gesture."""
        self._at_px, self._modifiers = _place(event), event.modifiers()
        if self._pressed is not None and self.gesture is None:
            at_px, begin = self._pressed
            if math.dist(at_px, self._at_px) >= _STILL_PX and (gesture := begin()) is not None:
                self._begin(gesture)
        if self.gesture is None:
            self.show_pointer()
        elif not self._tick.isActive():
            self._tick.start()

    def _begin(self, gesture: Gesture) -> None:
        self.gesture = gesture
        if isinstance(gesture, DragPiece):
            self._canvas.showing(partial(self._canvas.shown.lift, [each.piece for each in gesture.start]))
            self.looks = self._canvas.shown.looks
            # Until the first move is worked out the pieces are painted where they were.
            self._touched = _region(self._canvas.scene().area_of(each) for each in gesture.start)
        self.show_pointer()

    def _advance(self) -> None:
        """Bring the gesture to where the pointer is now, and show it."""
        gesture, canvas = self.gesture, self._canvas
        if gesture is None:
            return
        if isinstance(gesture, DragPiece):
            self._drag(gesture)
            return
        gesture.move(self._at_px if isinstance(gesture, Pan) else self._at_mm)
        if isinstance(gesture, Pan):
            canvas.sight.pan_to(gesture.shown)
        elif isinstance(gesture, MovePrint):
            edit = gesture.finish()
            canvas.showing(partial(canvas.shown.show_moved_print, canvas.with_edit(edit)))
        else:
            canvas.update()

    def _drag(self, gesture: DragPiece) -> None:
        """Carry pieces to where the pointer is, to a guide that is near enough on the screen."""
        free = not self.snapping or bool(self._modifiers & _FREE)
        gesture.reach_mm = 0.0 if free else _REACH_PX / self._canvas.view.px_per_mm
        gesture.straight = bool(self._modifiers & _STRAIGHT)
        gesture.move(self._at_mm)
        self.show_drag(gesture)

    def held(self, modifier: Qt.KeyboardModifier, *, down: bool) -> bool:
        """A key that changes how pieces are dragged went down or up; False when nothing is being dragged."""
        if not isinstance(self.gesture, DragPiece):
            return False
        self._modifiers = self._modifiers | modifier if down else self._modifiers & ~modifier
        self._tick.start()
        return True

    def show_drag(self, gesture: DragPiece) -> None:
        """Judge the carried pieces where they are now and show them there, with their distances."""
        canvas = self._canvas
        live = canvas.shown.judged(gesture.shown)
        self.looks = canvas.shown.looks_while(live)
        self.chips = self._chips_of(live, gesture.shown)
        scene = canvas.scene()
        areas = [scene.area_of(each) for each in gesture.shown]
        self.guides = self._guides_of(gesture, areas)
        areas += [area for chip in self.chips for area in chip.areas()]
        areas += [area for guide in self.guides for area in guide.areas()]
        before, self._touched = self._touched, _region(areas)
        canvas.update(self._touched.united(before))
        if live is not None:
            canvas.live.emit(live)

    def follow_view(self) -> None:
        """The table is seen in another way: what is carried stays under the pointer, and its measures with it."""
        if isinstance(self.gesture, DragPiece):
            self._drag(self.gesture)

    def paint(self, painter: QPainter, scene: Scene, layers: Layers) -> None:
        """What is under way: pieces carried, with their distances, or the frame that chooses."""
        gesture = self.gesture
        if isinstance(gesture, DragPiece):
            for placed in gesture.shown:
                lying = self._canvas.bench.find(placed.piece)
                if lying is not None:
                    layers.paint_moving(painter, scene, lying, placed, self.looks[placed.piece])
            # No line crosses a figure, and none a name.
            paint_guides(painter, self.guides)
            paint_chips(painter, self.chips)
            paint_guide_names(painter, self.guides)
        elif isinstance(gesture, Choose):
            theme = scene.drawing.theme
            painter.setPen(QPen(theme.color("accent"), 1.5, Qt.PenStyle.DashLine))
            painter.setBrush(theme.color("accent", 0.12))
            painter.drawRect(rect_of(self._canvas.view.box_px(gesture.frame)))

    def _chips_of(self, live: Live | None, moving: tuple[Placed, ...]) -> tuple[Chip, ...]:
        """Distances are shown where all that moves is over one cloth."""
        cloths = {each.cloth for each in moving}
        if live is None or len(cloths) != 1 or WAITING in cloths:
            return ()
        canvas = self._canvas
        to_screen = canvas.bench.sheet(cloths.pop()).to_table.then(canvas.view.to_screen)
        return chips_of(live.distances, to_screen, canvas.shown.project.preferences.length_style)

    def _guides_of(self, gesture: DragPiece, areas: Sequence[QRectF]) -> tuple[GuideMark, ...]:
        """The guides that caught, with their names beside the areas of what is carried."""
        caught, canvas = gesture.caught, self._canvas
        if not caught.guides:
            return ()
        to_screen = canvas.bench.sheet(gesture.shown[0].cloth).to_table.then(canvas.view.to_screen)
        carried = QRectF()
        for area in areas:
            carried = carried.united(area)
        seen = QRectF(canvas.rect()).adjusted(RULER_PX, RULER_PX, 0, 0)
        taken = [QRectF(*chip.box) for chip in self.chips]
        style = canvas.shown.project.preferences.length_style
        return marks_of(caught.guides, to_screen, style, carried, seen=seen, taken=taken)

    def release(self, event: QMouseEvent) -> None:
        """Let go; a press that never moved chooses what lies there, or nothing."""
        if self._pressed is None or event.button() not in (_LEFT, _MIDDLE):
            return
        self._at_px, self._modifiers = _place(event), event.modifiers()
        if self.gesture is not None:
            self._advance()
            self._end(self.gesture.finish())
        elif event.button() == _LEFT and not event.modifiers() & _ADDING and self._chooses:
            lying = self._canvas.bench.piece_at(self._at_mm, self._canvas.shown.raised)
            self._canvas.choose((lying.piece.id,) if lying else ())
        self._pressed = None
        self.show_pointer()

    @property
    def _chooses(self) -> bool:
        """A click chooses, unless the print is moved or a task has the presses."""
        return not self._canvas.moving_print and self._canvas.work.task is None

    def leave(self) -> None:
        """Give up whatever is under way; everything is as it was."""
        self._pressed = None
        if self.gesture is not None:
            self.gesture.cancel()
            self._end(None)

    def _end(self, edit: Edit | None) -> None:
        canvas, gesture = self._canvas, self.gesture
        self.gesture, self._pressed, self.chips, self.guides = None, None, (), ()
        self._tick.stop()
        canvas.do(edit)
        if isinstance(gesture, (DragPiece, MovePrint)):
            if canvas.shown.lifted or canvas.shown.project is not canvas.with_edit(None):
                canvas.showing(partial(canvas.shown.show, canvas.with_edit(None)))
            canvas.update(self._touched)
        elif isinstance(gesture, Pan):
            canvas.sight.pan_to(gesture.shown)
        elif isinstance(gesture, Choose):
            canvas.choose(gesture.shown)
            canvas.update()
        if isinstance(gesture, DragPiece):
            canvas.live.emit(None)
        self.show_pointer()

    def choose_at(self, at_px: Point) -> None:
        """Choose what lies there, unless it is chosen already; nothing when nothing lies there."""
        canvas = self._canvas
        lying = canvas.bench.piece_at(canvas.view.mm_at(at_px), canvas.shown.raised)
        if lying is None or lying.piece.id not in canvas.chosen:
            canvas.choose((lying.piece.id,) if lying else ())

    def chosen_px(self) -> QPoint:
        """Where on the canvas the last chosen piece has its middle; the canvas's own middle when none is chosen."""
        canvas = self._canvas
        if not canvas.chosen:
            return canvas.rect().center()
        x, y = canvas.view.to_screen.at(canvas.bench.outlines[canvas.chosen[-1]][1].middle)
        return QPoint(round(x), round(y))

    def show_pointer(self) -> None:
        """The pointer says what a press would do, or what is being done."""
        canvas, shape = self._canvas, Qt.CursorShape.ArrowCursor
        if isinstance(self.gesture, (DragPiece, Pan)):
            shape = Qt.CursorShape.ClosedHandCursor
        elif canvas.work.task is not None:
            shape = canvas.work.task.cursor
        elif canvas.moving_print:
            shape = Qt.CursorShape.SizeAllCursor
        elif canvas.bench.piece_at(self._at_mm, canvas.shown.raised) is not None:
            shape = Qt.CursorShape.OpenHandCursor
        if canvas.cursor().shape() != shape:
            canvas.setCursor(shape)


def _region(areas: Iterable[QRectF]) -> QRegion:
    """The whole pixels that areas touch."""
    region = QRegion()
    for area in areas:
        region += area.toAlignedRect()
    return region


def _place(event: QMouseEvent) -> Point:
    return event.position().x(), event.position().y()
