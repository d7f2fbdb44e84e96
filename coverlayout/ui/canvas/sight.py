"""Where the canvas looks: nearer, farther, the whole table, true size; the pictures follow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPoint, QTimer

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.table.view import View, fitted

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["Sight"]

_KEY_ZOOM = 1.25
# After the last step of a zoom the picture is painted sharp again.
_PAUSE_MS = 120
# The table keeps this clear of what covers the top of the canvas: a corner on the edge of a cloth can be pressed.
_CLEAR_PX = 16.0


class Sight(QObject):
    """The view of one canvas and what changes it. `fitting`: the whole table is kept in sight until a zoom or pan."""

    def __init__(self, canvas: Canvas, px_per_mm: float) -> None:
        """`px_per_mm`: the logical pixels this screen shows a millimetre with."""
        super().__init__(canvas)
        self._canvas = canvas
        self._px_per_mm = px_per_mm
        self.view, self.fitting = View(), True
        # How far the table made way for what is said of a task, and the view it had then: it goes back from there only.
        self._made_way: tuple[float, View] | None = None
        # Runs while a zoom goes on: until it ends the pictures there are, are shown larger or smaller.
        self._pause = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._pause.timeout.connect(canvas.repaint_all)

    @property
    def moving(self) -> bool:
        """True while a zoom goes on."""
        return self._pause.isActive()

    def rest(self) -> None:
        """The zoom is over: everything is painted sharp next."""
        self._pause.stop()

    @property
    def percent_of_true_size(self) -> float:
        """100 when a millimetre of cloth is a millimetre of screen."""
        return 100 * self.view.px_per_mm / self._px_per_mm

    @property
    def room_px(self) -> Box:
        """The part of the canvas that shows the table: all but the rulers and what is said of a task."""
        canvas, top_px = self._canvas, self._canvas.work.covered_px
        return Box(RULER_PX, top_px, max(canvas.width() - RULER_PX, 1), max(canvas.height() - top_px, 1))

    def set_px_per_mm(self, px_per_mm: float) -> None:
        """Say how many logical pixels this screen shows a millimetre with; the view stays."""
        self._px_per_mm = px_per_mm
        self._canvas.zoomed.emit(self.percent_of_true_size)

    def fit(self) -> None:
        """Show the whole table, and keep it whole while the canvas changes size, until the maker zooms or pans."""
        self.fitting = True
        self._see(fitted(self._canvas.bench.box, self.room_px))

    def zoom_in(self) -> None:
        """A step nearer, about the middle."""
        self.zoom(_KEY_ZOOM, self.room_px.middle)

    def zoom_out(self) -> None:
        """A step further away, about the middle."""
        self.zoom(1 / _KEY_ZOOM, self.room_px.middle)

    def true_size(self) -> None:
        """Show the cloth as large as it is, about the chosen piece, else about the middle."""
        chosen = self._canvas.hand.chosen_px()
        about_px = (float(chosen.x()), float(chosen.y())) if self._canvas.chosen else self.room_px.middle
        self.zoom(self._px_per_mm / self.view.px_per_mm, about_px)

    def zoom(self, factor: float, at_px: Point) -> None:
        """Larger (above 1) or smaller about a pixel; painted sharp once the zoom is over."""
        canvas = self._canvas
        self.fitting = False
        was_painted = not canvas.stale or self.moving
        self._see(self.view.zoomed(factor, at_px))
        if canvas.stale and was_painted and canvas.gesture is None:
            self._pause.start()

    def pan_to(self, view: View) -> None:
        """See the table from there; it is no longer kept whole in sight."""
        self.fitting = False
        self._see(view)

    def make_way(self, before_px: float, now_px: float) -> None:
        """So much of the canvas' top was covered, and is now: nothing that was in sight stays below the cover.

        When less is covered the table goes back, unless the maker has looked elsewhere since.
        """
        if self.fitting:
            if now_px < before_px or self.view.box_px(self._canvas.bench.box).top_mm < now_px + _CLEAR_PX:
                self.fit()
        elif now_px > before_px:
            seen = self.view.box_px(self._canvas.bench.box)
            if seen.top_mm < now_px + _CLEAR_PX and seen.bottom_mm > before_px:
                self._see(self.view.panned((0.0, now_px - before_px)))
                gone_px = self._made_way[0] if self._made_way is not None else 0.0
                self._made_way = gone_px + now_px - before_px, self.view
        elif self._made_way is not None:
            by_px, there = self._made_way
            self._made_way = None
            if self.view == there:
                self._see(self.view.panned((0.0, -by_px)))

    def bring(self, new_mm: Box, all_mm: Box) -> None:
        """Bring a box into sight, with all of another box where it was not seen; see View.bringing."""
        view = self.view.bringing(new_mm, all_mm, self.room_px)
        if view != self.view:
            self.pan_to(view)

    def _see(self, view: View) -> None:
        """See the table that way; a mere pan shifts the pictures, anything else paints them anew."""
        canvas = self._canvas
        ratio = canvas.devicePixelRatio()
        view = view.kept_in_sight(canvas.bench.box, self.room_px).on_whole_pixels(ratio)
        old, self.view = self.view, view
        if view.px_per_mm != old.px_per_mm:
            canvas.stale = True
            canvas.zoomed.emit(self.percent_of_true_size)
        elif not canvas.stale:
            by = QPoint(round((view.x_px - old.x_px) * ratio), round((view.y_px - old.y_px) * ratio))
            canvas.layers.shift(canvas.scene(), by)
        canvas.hand.follow_view()
        canvas.update()
