"""The canvas: cloths at true scale with their print, pieces over them, and the hand that moves them."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QPoint, QRect, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, sentence
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box
from coverlayout.motif.prints import Print
from coverlayout.ui.canvas.gestures import Gesture
from coverlayout.ui.canvas.hand import Hand
from coverlayout.ui.canvas.keys import Keys
from coverlayout.ui.painting.captions import paint_over
from coverlayout.ui.painting.cloths import Drawing
from coverlayout.ui.painting.layers import Layers, Scene
from coverlayout.ui.painting.rulers import RULER_PX, Rulers
from coverlayout.ui.painting.tiles import Prints, Tile
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.table.shown import Shown, different, seen_together
from coverlayout.ui.table.view import View, fitted
from coverlayout.ui.theme import Theme

__all__ = ["Canvas"]

_WHEEL_STEP = 1.0015
_KEY_ZOOM = 1.25
# After the last step of a zoom the picture is painted sharp again.
_PAUSE_MS = 120


class Canvas(QWidget):
    """Shows the project of a session and turns gestures into its edits.

    `live` carries the judgement while a piece is dragged and None when the drag is over; `chosen_changed` tells that
    `chosen` is another; `hint` says in one sentence why something was not done; `zoomed` gives percent of true size.
    `shown` is the state behind the picture, `hand` and `keys` are what moves things.
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
        self._layers, self._rulers, self._stale = Layers(), Rulers(), True
        # Runs while a zoom goes on: until it ends the pictures there are, are shown larger or smaller.
        self._pause = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._pause.timeout.connect(self._repaint_all)
        self._drawing: Drawing | None = None
        self._view, self._fitting = View(), True
        self.shown = Shown(session.project)
        self.hand = Hand(self)
        self.keys = Keys(self, session)
        self.destroyed.connect(session.listen(self._changed))

    # What the window asks for

    @property
    def chosen(self) -> tuple[str, ...]:
        """The ids of the chosen pieces."""
        return self.shown.chosen

    @property
    def bench(self) -> Bench:
        """What lies on the table now."""
        return self.shown.bench

    @property
    def view(self) -> View:
        """How the table is seen now."""
        return self._view

    @property
    def gesture(self) -> Gesture | None:
        """What the hand is doing, None while it rests."""
        return self.hand.gesture

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
        before = self.shown.chosen
        self.showing(partial(self.shown.choose, piece_ids))
        if self.shown.chosen != before:
            self.keys.describe()
            self.chosen_changed.emit()

    def fit(self) -> None:
        """Show the whole table, and keep it whole while the canvas changes size, until the maker zooms or pans."""
        self._fitting = True
        self.see(fitted(self.bench.box, self._room()))

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
        self.hand.show_pointer()

    def do(self, edit: Edit | None) -> None:
        """Make an edit; what it refuses is told as a hint."""
        if edit is not None:
            try:
                self._session.do(edit)
            except BadInput as refused:
                self.hint.emit(str(refused))

    def with_edit(self, edit: Edit | None) -> Project:
        """The project of the session as it would be after an edit that is not made (yet)."""
        project = self._session.project
        return project if edit is None else edit.change(project)

    def pan_to(self, view: View) -> None:
        """See the table from there; it is no longer kept whole in sight."""
        self._fitting = False
        self.see(view)

    # The picture

    def _room(self) -> Box:
        return Box(RULER_PX, RULER_PX, max(self.width() - RULER_PX, 1), max(self.height() - RULER_PX, 1))

    def _zoom(self, factor: float, at_px: Point) -> None:
        self._fitting = False
        was_painted = not self._stale or self._pause.isActive()
        self.see(self._view.zoomed(factor, at_px))
        if self._stale and was_painted and self.gesture is None:
            self._pause.start()

    def see(self, view: View) -> None:
        """See the table that way; a mere pan shifts the pictures, anything else paints them anew."""
        ratio = self.devicePixelRatio()
        view = view.kept_in_sight(self.bench.box, self._room()).on_whole_pixels(ratio)
        old, self._view = self._view, view
        if view.px_per_mm != old.px_per_mm:
            self._stale = True
            self.zoomed.emit(self.percent_of_true_size)
        elif not self._stale:
            by = QPoint(round((view.x_px - old.x_px) * ratio), round((view.y_px - old.y_px) * ratio))
            self._layers.shift(self.scene(), by)
        self.hand.follow_view()
        self.update()

    def scene(self) -> Scene:
        """What is to be painted now."""
        shown, ratio = self.shown, self.devicePixelRatio()
        now = Drawing(shown.project, shown.bench, self._view.to_screen, self._theme, ratio, self._tile)
        # Kept while it serves: what is worked out for it once need not be worked out at every step of a drag.
        if self._drawing is None or not self._drawing.is_like(now):
            self._drawing = now
        return Scene(self._drawing, shown.looks, shown.lifted, shown.raised)

    def _tile(self, a_print: Print) -> Tile:
        return self._prints.tile(a_print, self._session.pictures)

    def _changed(self, old: Project, new: Project) -> None:
        self.leave_gesture()
        if old.prints != new.prints:
            self._prints.forget_all_but(new.prints)
        chosen, waited, before = self.chosen, len(self.bench.on(WAITING)), self.bench
        self.showing(partial(self.shown.show, new))
        # One piece laid by hand moves nothing else; a whole layout taken over leaves the waiting ground bare.
        many = abs(len(self.bench.on(WAITING)) - waited) > 1
        if self._fitting and (many or _laid_on_table(old) != _laid_on_table(new)):
            self.fit()
        put_aside = seen_together(before, self.bench)
        if put_aside and (view := self._view.bringing(*put_aside, self._room())) != self._view:
            self.pan_to(view)
        self.keys.describe()
        if self.chosen != chosen:
            self.chosen_changed.emit()

    def showing(self, change: Callable[[], None]) -> None:
        """Change what is shown and paint no more than what looks different."""
        ground, before = self.shown.ground(), self.shown.appearances()
        change()
        if self.shown.ground() != ground:
            self._repaint_all()
            return
        scene = self.scene()
        boxes = different(before, self.shown.appearances())
        areas = [scene.with_tags(scene.area_on_table(box)) for box in boxes]
        if areas and not self._stale:
            self._layers.paint_rest(scene, areas)
            for area in areas:
                self.update(area.toAlignedRect())

    def _repaint_all(self) -> None:
        self._pause.stop()
        self._stale = True
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole table in sight as long as the maker has not chosen a view."""
        if self._fitting:
            self.fit()
        super().resizeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Blit what rests, then what moves, then what is measured; every decision was made before."""
        scene = self.scene()
        fits = not self._layers.fit(self.size(), self.devicePixelRatio())
        painter = QPainter(self)
        painter.setClipRegion(event.region())
        if fits and self._stale and self._pause.isActive():
            painter.fillRect(event.rect(), self._theme.color("canvas"))
            self._layers.paint_zoomed(painter, self._view.to_screen)
        else:
            if self._stale or not fits:
                self._layers.paint(scene)
                self._stale = False
            painter.drawPixmap(self._layers.origin, self._layers.rest)
            self.hand.paint(painter, scene, self._layers)
        self._paint_rulers(painter, event.rect())
        paint_over(painter, scene.drawing, QRectF(self.rect()), focused=self.hasFocus())
        painter.end()

    def _paint_rulers(self, painter: QPainter, area: QRect) -> None:
        """Rulers count from the top left, as seen, of the cloth the chosen piece lies on, else of the first cloth."""
        box = self.shown.measured_sheet().box
        self._rulers.paint(
            painter,
            self._theme,
            area,
            self.size(),
            zero_px=self._view.to_screen.at((box.left_mm, box.top_mm)),
            px_per_mm=self._view.px_per_mm,
            unit=self.shown.project.preferences.length_style.unit,
            pixel_ratio=self.devicePixelRatio(),
        )

    # Mouse, keys and focus

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of what lies there; a zoom is over then."""
        if self._pause.isActive():
            self._repaint_all()
        self.hand.press(event, space_held=self.keys.space_held)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Only the newest place counts."""
        self.hand.move(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        self.hand.release(event)

    def leave_gesture(self) -> None:
        """Give up whatever is under way: Escape, a lost focus, a change from elsewhere and a new press come here."""
        self.hand.leave()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom on the pointer."""
        at = event.position()
        self._zoom(_WHEEL_STEP ** event.angleDelta().y(), (at.x(), at.y()))
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Everything the mouse does, by keys."""
        if not self.keys.pressed(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """The space bar lets go of the table."""
        self.keys.released(event)
        self.hand.show_pointer()

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes from piece to piece; after the last one it leaves the canvas, and says so."""
        if self.keys.next_piece(forward=forward):
            return True
        left = super().focusNextPrevChild(forward)
        if left and forward and self.chosen:
            self.hint.emit(sentence("canvas-left", {}))
        return left

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keys work here."""
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """What is under way is given up."""
        self.keys.let_go()
        self.leave_gesture()
        self.update()
        super().focusOutEvent(event)

    def event(self, event: QEvent) -> bool:
        """Paint anew when the canvas comes to a screen with other pixels."""
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self._repaint_all()
        return super().event(event)


def _laid_on_table(project: Project) -> tuple[object, ...]:
    """What decides how much room the table takes: cloths, the pieces there are, and the side shown."""
    return project.cloths, project.books, project.own_pieces, project.preferences.side
