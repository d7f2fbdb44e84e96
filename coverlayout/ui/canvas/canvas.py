"""The canvas: cloths at true scale with their print, pieces over them, and the hand that moves them."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QPoint, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QRegion,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, sentence
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Live
from coverlayout.ui.canvas.bench import WAITING, Bench
from coverlayout.ui.canvas.cloth_layer import Drawing
from coverlayout.ui.canvas.gestures import Choose, DragPiece, Gesture, MovePrint, Pan, move_print_at
from coverlayout.ui.canvas.keys import Keys
from coverlayout.ui.canvas.layers import Layers, Scene, rect_of
from coverlayout.ui.canvas.shown import Shown
from coverlayout.ui.canvas.view import View, fitted
from coverlayout.ui.measures import RULER_PX, Chip, chips_of, paint_chips
from coverlayout.ui.prints import Prints
from coverlayout.ui.theme import Theme

__all__ = ["Canvas"]

# A hand trembles: within this many pixels a press is a click, not a drag.
_STILL_PX = 3.0
_WHEEL_STEP = 1.0015
_KEY_ZOOM = 1.25


class Canvas(QWidget):
    """Shows the project of a session and turns gestures into its edits.

    `live` carries the judgement while a piece is dragged and None when the drag is over; `chosen_changed` tells that
    `chosen` is another; `hint` says in one sentence why something was not done; `zoomed` gives percent of true size.
    """

    live = Signal(object)
    chosen_changed = Signal()
    hint = Signal(str)
    zoomed = Signal(float)

    def __init__(
        self, session: Session, theme: Theme, *, px_per_mm: float | None = None, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setMinimumSize(160, 120)
        self.setAccessibleName(sentence("canvas-name", {}))
        self.moving_print = False
        self._session, self._theme = session, theme
        self._px_per_mm = px_per_mm or self.logicalDpiX() / 25.4
        self._prints = Prints(self)
        self._prints.arrived.connect(self._repaint_all)
        self._layers, self._stale = Layers(), True
        self._view, self._fitting = View(), True
        self._shown = Shown(session.project)
        self._gesture: Gesture | None = None
        self._pressed: tuple[Point, Callable[[], Gesture | None]] | None = None
        self._pointer_px: Point = (0.0, 0.0)
        self._chips: tuple[Chip, ...] = ()
        self._moving_looks = self._shown.looks
        self._touched = QRegion()
        self._keys = Keys(self, session)
        self._tick = QTimer(self, singleShot=True, interval=0)
        self._tick.timeout.connect(self._advance)
        self.destroyed.connect(session.listen(self._changed))

    # What the window asks for

    @property
    def chosen(self) -> tuple[str, ...]:
        """The ids of the chosen pieces."""
        return self._shown.chosen

    @property
    def bench(self) -> Bench:
        """What lies on the table now."""
        return self._shown.bench

    @property
    def shown(self) -> Shown:
        """What is shown, with its judge."""
        return self._shown

    @property
    def view(self) -> View:
        """How the table is seen now."""
        return self._view

    @property
    def gesture(self) -> Gesture | None:
        """What the hand is doing, None while it rests."""
        return self._gesture

    @property
    def percent_of_true_size(self) -> float:
        """100 when a millimetre of cloth is a millimetre of screen."""
        return 100 * self._view.px_per_mm / self._px_per_mm

    def set_theme(self, theme: Theme) -> None:
        """Show another look."""
        self._theme = theme
        self._repaint_all()

    def set_px_per_mm(self, px_per_mm: float) -> None:
        """Say how many logical pixels this screen shows a millimetre with; the view stays."""
        self._px_per_mm = px_per_mm
        self.zoomed.emit(self.percent_of_true_size)

    def choose(self, piece_ids: tuple[str, ...]) -> None:
        """Choose these pieces; those that are not on the bench are left out."""
        before = self._shown.chosen
        self._showing(partial(self._shown.choose, piece_ids))
        if self._shown.chosen != before:
            self._keys.describe()
            self.chosen_changed.emit()

    def fit(self) -> None:
        """Show the whole table, and keep it whole while the canvas changes size, until the maker zooms or pans."""
        self._fitting = True
        self._see(fitted(self.bench.box, self._room()))

    def zoom_in(self) -> None:
        """A step nearer, about the middle."""
        self._zoom(_KEY_ZOOM, self._room().middle)

    def zoom_out(self) -> None:
        """A step further away, about the middle."""
        self._zoom(1 / _KEY_ZOOM, self._room().middle)

    def true_size(self) -> None:
        """Show the cloth as large as it is, about the middle."""
        self._zoom(self._px_per_mm / self._view.px_per_mm, self._room().middle)

    def set_moving_print(self, on: bool) -> None:
        """While on, a drag on a cloth moves its print instead of pieces."""
        self.leave_gesture()
        self.moving_print = on
        self._show_hand()

    def do(self, edit: Edit | None) -> None:
        """Make an edit; what it refuses is told as a hint."""
        if edit is not None:
            try:
                self._session.do(edit)
            except BadInput as refused:
                self.hint.emit(str(refused))

    # The picture

    def _room(self) -> Box:
        return Box(RULER_PX, RULER_PX, max(self.width() - RULER_PX, 1), max(self.height() - RULER_PX, 1))

    def _zoom(self, factor: float, at_px: Point) -> None:
        self._fitting = False
        self._see(self._view.zoomed(factor, at_px))

    def _see(self, view: View) -> None:
        """See the table that way; a mere pan shifts the pictures, anything else paints them anew."""
        ratio = self.devicePixelRatio()
        view = view.kept_in_sight(self.bench.box, self._room()).on_whole_pixels(ratio)
        old, self._view = self._view, view
        if view.px_per_mm != old.px_per_mm:
            self._stale = True
            self.zoomed.emit(self.percent_of_true_size)
        elif not self._stale:
            by = QPoint(round((view.x_px - old.x_px) * ratio), round((view.y_px - old.y_px) * ratio))
            self._layers.shift(self._scene(), by)
        self.update()

    def _scene(self) -> Scene:
        pictures = self._session.pictures
        drawing = Drawing(
            self._shown.project,
            self.bench,
            self._view.to_screen,
            self._theme,
            self.devicePixelRatio(),
            lambda a_print: self._prints.tile(a_print, pictures),
        )
        return Scene(drawing, self._shown.looks, self._shown.lifted)

    def _changed(self, old: Project, new: Project) -> None:
        self.leave_gesture()
        chosen = self.chosen
        self._showing(partial(self._shown.show, new))
        if self._fitting and (old.cloths, old.preferences.side) != (new.cloths, new.preferences.side):
            self.fit()
        self._keys.describe()
        if self.chosen != chosen:
            self.chosen_changed.emit()

    def _showing(self, change: Callable[[], None]) -> None:
        """Change what is shown and paint no more than what looks different."""
        ground, before = self._shown.ground(), self._shown.appearances()
        change()
        if self._shown.ground() != ground:
            self._repaint_all()
            return
        after = self._shown.appearances()
        different = [each for each in {*before, *after} if before.get(each) != after.get(each)]
        seen = [state[each] for each in different for state in (before, after) if each in state]
        areas = [self._scene().area_on_table(box) for box, _, _ in seen]
        if areas and not self._stale:
            self._layers.paint_rest(self._scene(), areas)
            for area in areas:
                self.update(area.toAlignedRect())

    def _repaint_all(self) -> None:
        self._stale = True
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole table in sight as long as the maker has not chosen a view."""
        if self._fitting:
            self.fit()
        super().resizeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Blit what rests, then what moves, then what is measured; every decision was made before."""
        scene = self._scene()
        if self._layers.fit(self.size(), self.devicePixelRatio()) or self._stale:
            self._layers.paint(scene)
            self._stale = False
        painter = QPainter(self)
        painter.setClipRegion(event.region())
        painter.drawPixmap(0, 0, self._layers.rest)
        if isinstance(self._gesture, DragPiece):
            for placed in self._gesture.shown:
                lying = self.bench.find(placed.piece)
                if lying is not None:
                    self._layers.paint_moving(painter, scene, lying, placed, self._moving_looks[placed.piece])
            paint_chips(painter, self._chips)
        if isinstance(self._gesture, Choose):
            painter.setPen(QPen(self._theme.color("accent"), 1.5, Qt.PenStyle.DashLine))
            painter.setBrush(self._theme.color("accent", 0.12))
            painter.drawRect(rect_of(self._view.box_px(self._gesture.frame)))
        self._layers.paint_over(painter, scene, event.rect(), focused=self.hasFocus())
        painter.end()

    # The hand

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold: of a piece, the print, a frame to choose with, or the table."""
        at = (event.position().x(), event.position().y())
        self.leave_gesture()
        if event.button() == Qt.MouseButton.MiddleButton or (
            event.button() == Qt.MouseButton.LeftButton and self._keys.space_held
        ):
            self._pressed = at, partial(Pan, self._view, at)
        elif event.button() == Qt.MouseButton.LeftButton:
            self._pressed = at, self._hold(at, event.modifiers())
        self._show_hand()

    def _hold(self, at_px: Point, modifiers: Qt.KeyboardModifier) -> Callable[[], Gesture | None]:
        at_mm = self._view.mm_at(at_px)
        if self.moving_print and (moving := move_print_at(self.bench, at_mm)) is not None:
            return lambda: moving
        lying = self.bench.piece_at(at_mm, self.chosen)
        adding = bool(modifiers & (Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.ControlModifier))
        if lying is None:
            if adding:
                return partial(Choose, self.bench, at_mm, self.chosen)
            return partial(Pan, self._view, at_px)
        here = lying.piece.id
        if adding:
            self.choose(tuple(each for each in self.chosen if each != here) + (() if here in self.chosen else (here,)))
        elif here not in self.chosen:
            self.choose((here,))
        if lying.state == "cut":
            self.hint.emit(sentence("canvas-cut", {"piece": lying.label}))
        return lambda: DragPiece(self.bench, self.chosen, at_mm)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Only the newest place counts: it is stored, and the timer does the work when the queue is empty."""
        self._pointer_px = (event.position().x(), event.position().y())
        if self._pressed is not None and self._gesture is None:
            at, begin = self._pressed
            if math.dist(at, self._pointer_px) >= _STILL_PX and (gesture := begin()) is not None:
                self._begin(gesture)
        if self._gesture is None:
            self._show_hand()
        elif not self._tick.isActive():
            self._tick.start()

    def _begin(self, gesture: Gesture) -> None:
        self._gesture = gesture
        if isinstance(gesture, DragPiece):
            self._showing(partial(self._shown.lift, [each.piece for each in gesture.start]))
            self._moving_looks = self._shown.looks
            self._touched = QRegion()
        self._show_hand()

    def _advance(self) -> None:
        """Bring the gesture to where the hand is now, and show it."""
        gesture = self._gesture
        if gesture is None:
            return
        gesture.move(self._pointer_px if isinstance(gesture, Pan) else self._view.mm_at(self._pointer_px))
        if isinstance(gesture, DragPiece):
            self.show_drag(gesture)
        elif isinstance(gesture, Pan):
            self._fitting = False
            self._see(gesture.shown)
        elif isinstance(gesture, MovePrint):
            edit = gesture.finish()
            project = self._session.project if edit is None else edit.change(self._session.project)
            self._showing(partial(self._shown.show, project))
        else:
            self.update()

    def show_drag(self, gesture: DragPiece) -> None:
        """Judge the carried pieces where they are now and show them there, with their distances."""
        live = self._shown.judged(gesture.shown)
        self._moving_looks = self._shown.moving_looks(live)
        self._chips = self._chips_of(live, gesture.shown)
        scene = self._scene()
        areas = [scene.area_of(each) for each in gesture.shown]
        areas += [area for chip in self._chips for area in chip.areas()]
        before, self._touched = self._touched, QRegion()
        for area in areas:
            self._touched += area.toAlignedRect()
        self.update(self._touched.united(before))
        if live is not None:
            self.live.emit(live)

    def _chips_of(self, live: Live | None, moving: tuple[Placed, ...]) -> tuple[Chip, ...]:
        cloths = {each.cloth for each in moving}
        if live is None or len(cloths) != 1 or WAITING in cloths:
            return ()
        to_screen = self.bench.sheet(cloths.pop()).to_table.then(self._view.to_screen)
        return chips_of(live.distances, to_screen, self._shown.project.preferences.length_style)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go; a press that never moved chooses what lies there, or nothing."""
        if self._pressed is None or event.button() not in (Qt.MouseButton.LeftButton, Qt.MouseButton.MiddleButton):
            return
        self._pointer_px = (event.position().x(), event.position().y())
        if self._gesture is not None:
            self._advance()
            self._end(self._gesture.finish())
        elif event.button() == Qt.MouseButton.LeftButton and not event.modifiers() and not self.moving_print:
            lying = self.bench.piece_at(self._view.mm_at(self._pointer_px), self.chosen)
            self.choose((lying.piece.id,) if lying else ())
        self._pressed = None
        self._show_hand()

    def leave_gesture(self) -> None:
        """Give up whatever is under way: Escape, a lost focus, a change from elsewhere and a new press come here."""
        self._pressed = None
        if self._gesture is not None:
            self._gesture.cancel()
            self._end(None)

    def _end(self, edit: Edit | None) -> None:
        gesture, self._gesture = self._gesture, None
        self._tick.stop()
        self._pressed, self._chips = None, ()
        self.do(edit)
        if isinstance(gesture, (DragPiece, MovePrint)):
            self._showing(partial(self._shown.show, self._session.project))
            self.update(self._touched)
        elif isinstance(gesture, Pan):
            self._see(gesture.shown)
        elif isinstance(gesture, Choose):
            self.choose(gesture.shown)
            self.update()
        if isinstance(gesture, DragPiece):
            self.live.emit(None)
        self._show_hand()

    def _show_hand(self) -> None:
        """The pointer says what a press would do."""
        shape = Qt.CursorShape.ArrowCursor
        if isinstance(self._gesture, (DragPiece, Pan)):
            shape = Qt.CursorShape.ClosedHandCursor
        elif self.moving_print or isinstance(self._gesture, MovePrint):
            shape = Qt.CursorShape.SizeAllCursor
        elif self._keys.space_held or self.bench.piece_at(self._view.mm_at(self._pointer_px), self.chosen):
            shape = Qt.CursorShape.OpenHandCursor
        if self.cursor().shape() != shape:
            self.setCursor(shape)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom on the pointer."""
        at = event.position()
        self._zoom(_WHEEL_STEP ** event.angleDelta().y(), (at.x(), at.y()))
        event.accept()

    # Keys and focus

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Everything the mouse does, by keys."""
        if not self._keys.pressed(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """The space bar lets go of the table."""
        self._keys.released(event)
        self._show_hand()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from piece to piece; after the last one it leaves the canvas."""
        return self._keys.next_piece(forward=forward) or super().focusNextPrevChild(forward)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keys work here."""
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """What is under way is given up."""
        self._keys.let_go()
        self.leave_gesture()
        self.update()
        super().focusOutEvent(event)

    def event(self, event: QEvent) -> bool:
        """Paint anew when the canvas comes to a screen with other pixels."""
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self._repaint_all()
        return super().event(event)
