"""The canvas: cloths at true scale with their print, pieces over them, and the hand that moves them."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QPoint, QRect, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput, sentence
from coverlayout.motif.prints import Print
from coverlayout.ui.canvas.gestures import Gesture
from coverlayout.ui.canvas.hand import Hand
from coverlayout.ui.canvas.keys import Keys
from coverlayout.ui.canvas.sight import Sight
from coverlayout.ui.canvas.work import Work
from coverlayout.ui.painting.captions import paint_over
from coverlayout.ui.painting.cloths import Drawing
from coverlayout.ui.painting.layers import Layers, Over, Scene
from coverlayout.ui.painting.rulers import Rulers
from coverlayout.ui.painting.tiles import Prints, Tile
from coverlayout.ui.table.bench import WAITING, Bench
from coverlayout.ui.table.shown import Shown, different, flaws_changed, seen_together
from coverlayout.ui.table.view import View
from coverlayout.ui.theme import Theme

__all__ = ["Canvas"]

_WHEEL_STEP = 1.0015


class Canvas(QWidget):
    """Shows the project of a session and turns gestures into its edits.

    `live` carries the judgement while a piece is dragged and None when the drag is over; `chosen_changed` tells that
    `chosen` is another; `hint` says in one sentence why something was not done; `zoomed` gives percent of true size.
    `proposal_touched`: a hand or a key would move pieces while a proposal is shown.
    `menu_asked` carries the place on the screen where the menu of the chosen pieces is wanted. `shown` is the state
    behind the picture; `hand` and `keys` are what moves things, `work` the task under way, `sight` where it looks.
    `says_empty`: an empty table says what to do first. `overlays` paint over the pieces at rest in every frame; call
    `update` when one of them would paint something else.
    What hardly ever changes belongs in `layers.over`, with `repaint_all` when it does.
    """

    live = Signal(object)
    chosen_changed = Signal()
    hint = Signal(str)
    zoomed = Signal(float)
    menu_asked = Signal(QPoint)
    proposal_touched = Signal()

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
        self.overlays: list[Over] = []
        self.says_empty = True
        # How often everything was to be painted anew.
        self.rounds = 0
        self._session, self._theme = session, theme
        self._prints = Prints(self)
        self._prints.arrived.connect(self.repaint_all)
        self.layers, self._rulers, self.stale = Layers(), Rulers(), True
        self._drawing: Drawing | None = None
        self.sight = Sight(self, px_per_mm or self.logicalDpiX() / 25.4)
        self.work = Work(self)
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
        return self.sight.view

    @property
    def gesture(self) -> Gesture | None:
        """What the hand is doing, None while it rests."""
        return self.hand.gesture

    def set_theme(self, theme: Theme) -> None:
        """Show another look."""
        self._theme = theme
        self.repaint_all()

    def leave_empty(self, on: bool) -> None:
        """What to do first is told by something that lies over the empty table, or by the table itself."""
        if self.says_empty is on:
            self.says_empty = not on
            self.update()

    def choose(self, piece_ids: tuple[str, ...]) -> None:
        """Choose these pieces; those that are not on the bench are left out."""
        before = self.shown.chosen
        self.showing(partial(self.shown.choose, piece_ids))
        if self.shown.chosen != before:
            self.keys.describe()
            self.chosen_changed.emit()

    def set_moving_print(self, on: bool) -> None:
        """While on, a drag on a cloth moves its print instead of pieces."""
        self.leave_gesture()
        self.moving_print = on
        self.hand.show_pointer()

    def do(self, edit: Edit | None, *, onto_last: bool = False) -> None:
        """Make an edit, as part of the last step if so asked; what it refuses is told as a hint."""
        if edit is not None:
            try:
                self._session.do(edit, onto_last=onto_last)
            except BadInput as refused:
                self.hint.emit(str(refused))

    def with_edit(self, edit: Edit | None) -> Project:
        """The project of the session as it would be after an edit that is not made (yet)."""
        project = self._session.project
        return project if edit is None else edit.change(project)

    # The picture

    def scene(self) -> Scene:
        """What is to be painted now."""
        shown, ratio = self.shown, self.devicePixelRatio()
        to_screen = self.view.to_screen
        now = Drawing(shown.project, shown.seen, to_screen, self._theme, ratio, self._tile, shown.covers_only)
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
        if self.sight.fitting and (many or _laid_on_table(old) != _laid_on_table(new)):
            self.sight.fit()
        put_aside = seen_together(before, self.bench)
        if put_aside:
            self.sight.bring(*put_aside)
        self.keys.describe()
        self.work.look_at(new)
        if self.chosen != chosen:
            self.chosen_changed.emit()

    def showing(self, change: Callable[[], None]) -> None:
        """Change what is shown and paint no more than what looks different."""
        ground, before, was = self.shown.ground(), self.shown.appearances(), self.scene()
        change()
        flaws = flaws_changed(ground, self.shown.ground())
        if flaws is None:
            self.repaint_all()
            return
        scene = self.scene()
        areas = [scene.with_tags(was.with_tags(scene.area_on_table(box))) for box in flaws]
        boxes = different(before, self.shown.appearances(), scene.touched(areas, before))
        areas += [scene.with_tags(scene.area_on_table(box)) for box in boxes]
        if areas and not self.stale:
            self.layers.paint_rest(scene, areas)
            for area in areas:
                self.update(area.toAlignedRect())

    def repaint_all(self) -> None:
        """Paint everything anew at the next occasion."""
        self.rounds += 1
        self.sight.rest()
        self.stale = True
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the whole table in sight as long as the maker has not chosen a view."""
        if self.sight.fitting:
            self.sight.fit()
        super().resizeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Blit what rests, then what moves, then what is measured; every decision was made before."""
        scene = self.scene()
        fits = not self.layers.fit(self.size(), self.devicePixelRatio())
        painter = QPainter(self)
        painter.setClipRegion(event.region())
        if fits and self.stale and self.sight.moving:
            painter.fillRect(event.rect(), self._theme.color("canvas"))
            self.layers.paint_zoomed(painter, self.view.to_screen)
        else:
            if self.stale or not fits:
                self.layers.paint(scene)
                self.stale = False
            painter.drawPixmap(self.layers.origin, self.layers.rest)
            for overlay in self.overlays:
                overlay(painter, scene)
            self.hand.paint(painter, scene, self.layers)
        self.work.paint(painter, scene)
        self._paint_rulers(painter, event.rect())
        top_px = self.work.covered_px
        words = self.says_empty and not self.bench.sheets
        paint_over(painter, scene.drawing, QRectF(self.rect()), focused=self.hasFocus(), below_px=top_px, empty=words)
        painter.end()

    def _paint_rulers(self, painter: QPainter, area: QRect) -> None:
        """Rulers count from the top left, as seen, of the cloth the chosen piece lies on, else of the first cloth."""
        box = self.shown.measured_sheet().box
        at_px = self.view.to_screen.at((box.left_mm, box.top_mm))
        self._rulers.paint(
            painter,
            self._theme,
            area,
            self.size(),
            zero_px=at_px if self.bench.sheets else None,
            px_per_mm=self.view.px_per_mm,
            unit=self.shown.project.preferences.length_style.unit,
            pixel_ratio=self.devicePixelRatio(),
        )

    # Mouse, keys and focus

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of what lies there; a zoom is over then."""
        if self.sight.moving:
            self.repaint_all()
        if not self.keys.space_held and self.work.press(event):
            return
        self.hand.press(event, space_held=self.keys.space_held)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Only the newest place counts."""
        if self.work.move(event):
            return
        self.hand.move(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self.work.release(event):
            return
        self.hand.release(event)

    def leave_gesture(self) -> None:
        """Give up whatever is under way: Escape, a lost focus, a change from elsewhere and a new press come here."""
        self.hand.leave()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom on the pointer."""
        at = event.position()
        self.sight.zoom(_WHEEL_STEP ** event.angleDelta().y(), (at.x(), at.y()))
        event.accept()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The menu of what lies there, or of what is chosen when a key asks; a task has none."""
        if self.work.task is None:
            at_px = event.pos()
            if event.reason() == QContextMenuEvent.Reason.Mouse:
                self.hand.choose_at((at_px.x(), at_px.y()))
            else:
                at_px = self.hand.chosen_px()
            self.menu_asked.emit(self.mapToGlobal(at_px))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Everything the mouse does, by keys."""
        if not self.work.key(event) and not self.keys.pressed(event):
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
            self.repaint_all()
        elif event.type() == QEvent.Type.ShortcutOverride:
            assert isinstance(event, QKeyEvent)
            if self.work.wants(event):
                event.accept()
                return True
        return super().event(event)


def _laid_on_table(project: Project) -> tuple[object, ...]:
    """What decides how much room the table takes: cloths, the pieces there are, and the side shown."""
    return project.cloths, project.books, project.own_pieces, project.preferences.side
