"""The loupe: a glass beside the pointer that shows the place under it larger, drawn anew and sharp."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QElapsedTimer, QEvent, QObject, QPoint, QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import (
    QHideEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QPixmap,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from coverlayout.geometry.frames import Point
from coverlayout.ui.canvas.gestures import DragPiece
from coverlayout.ui.canvas.work import ARROWS
from coverlayout.ui.painting.cloths import Drawing
from coverlayout.ui.painting.layers import Layers, Scene
from coverlayout.ui.painting.names import CHOSEN, INK, paint_chip
from coverlayout.ui.painting.rulers import RULER_PX
from coverlayout.ui.table.view import MOST_PX_PER_MM, View
from coverlayout.ui.tasks.window_template import WindowTemplate

if TYPE_CHECKING:
    from coverlayout.ui.canvas.canvas import Canvas

__all__ = ["STRENGTHS", "Loupe"]

STRENGTHS = (2.0, 3.0, 4.0, 6.0, 8.0, 12.0)
"""How many times larger than the table it may show."""
_USUAL = 2
# Keys that move something on the canvas: the glass goes where they lead.
_LEADING = (*ARROWS, Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
_SIZE_PX = 184
_FRAME_MS = 16
# From the place looked at to the middle of the glass: the hand does not cover what it points at.
_BESIDE_PX = 132.0


class Loupe(QWidget):
    """Lies over the canvas and lets every press through. `toggle` takes it up and puts it down.

    It has layers of its own, painted at its own size: moving it over the table is a pan of them, so what it shows is
    worked out in strips. It shows what the canvas shows: pieces at rest, pieces carried, a task's drawing. Its picture
    is made as often as a screen shows one, and lies ready when the canvas below is painted oftener.
    """

    def __init__(self, canvas: Canvas) -> None:
        super().__init__(canvas)
        self._canvas = canvas
        self.strength = STRENGTHS[_USUAL]
        self._layers = Layers(canvas.layers.over, canvas.layers.lines)
        self._view: View | None = None
        self._painted: tuple[object, ...] = ()
        self._drawing: Drawing | None = None
        # Where the pointer was last, in pixels of the canvas; None while keys have the last word.
        self._pointer_px: Point | None = None
        self._glass = QPixmap()
        self._since = QElapsedTimer()
        self._since.start()
        self._tick = QTimer(self, singleShot=True)
        self._tick.timeout.connect(self.follow)
        canvas.work.changed.connect(self._soon)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setFixedSize(QSize(_SIZE_PX, _SIZE_PX))
        self.hide()
        canvas.installEventFilter(self)

    # What the maker does with it

    @property
    def on(self) -> bool:
        """True while it is held."""
        return self.isVisibleTo(self._canvas)

    def toggle(self) -> None:
        """Take it up, or put it down."""
        if self.on:
            self.hide()
            return
        under = QPointF(self._canvas.mapFromGlobal(self._canvas.cursor().pos()))
        inside = self._canvas.rect().contains(under.toPoint()) and self._canvas.underMouse()
        self._pointer_px = (under.x(), under.y()) if inside else None
        self._painted = ()
        self.follow()
        self.show()

    def next_strength(self) -> None:
        """The next strength, after the strongest the weakest again."""
        self.set_strength(STRENGTHS[(STRENGTHS.index(self.strength) + 1) % len(STRENGTHS)])

    def set_strength(self, strength: float) -> None:
        """Show so many times larger than the table."""
        self.strength = strength
        self.follow()

    # Following

    @property
    def at_px(self) -> Point:
        """The place looked at, in pixels of the canvas: the pointer's, the crosshair's, or the chosen piece's."""
        canvas = self._canvas
        if canvas.work.task is not None and self._pointer_px is None:
            return canvas.view.to_screen.at(canvas.work.at_mm)
        if self._pointer_px is not None:
            return self._pointer_px
        middle = canvas.hand.chosen_px()
        return float(middle.x()), float(middle.y())

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the pointer and the keys; the wheel changes the strength (with Ctrl it zooms the table)."""
        del watched
        if not self.on:
            return False
        kind = event.type()
        if kind == QEvent.Type.MouseMove:
            assert isinstance(event, QMouseEvent)
            self._pointer_px = event.position().x(), event.position().y()
            self._soon()
        elif kind == QEvent.Type.KeyPress:
            assert isinstance(event, QKeyEvent)
            if event.key() in _LEADING:
                self._pointer_px = None
                self._soon()
        elif kind == QEvent.Type.Paint and (self._seen_from() != self._view or self._shows() != self._painted):
            self._soon()
        elif kind == QEvent.Type.Wheel:
            assert isinstance(event, QWheelEvent)
            if not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
                self._step(event.angleDelta().y())
                return True
        return False

    def _soon(self) -> None:
        """After what the event asks of the canvas; oftener than a screen shows it would be of no use."""
        if self.on and not self._tick.isActive():
            self._tick.start(max(_FRAME_MS - self._since.elapsed(), 0))

    def _step(self, by: int) -> None:
        at = STRENGTHS.index(self.strength) + (1 if by > 0 else -1 if by < 0 else 0)
        self.set_strength(STRENGTHS[min(max(at, 0), len(STRENGTHS) - 1)])

    def follow(self) -> None:
        """Lie beside the place looked at, on the side with room, and show it."""
        self._since.restart()
        self.move(_beside(self.at_px, self._canvas.size(), self._canvas.work.covered_px))
        self._draw()
        self.update()

    def hideEvent(self, event: QHideEvent) -> None:
        """Nothing is to be followed."""
        self._tick.stop()
        super().hideEvent(event)

    # The picture

    def _seen_from(self) -> View:
        """The table as it is seen in the glass: the place looked at in its middle."""
        canvas = self._canvas
        size = min(canvas.view.px_per_mm * self.strength, MOST_PX_PER_MM)
        x_mm, y_mm = canvas.view.mm_at(self.at_px)
        middle = _SIZE_PX / 2
        return View(size, middle - x_mm * size, middle - y_mm * size).on_whole_pixels(self.devicePixelRatio())

    def _shows(self) -> tuple[object, ...]:
        """What the picture depends on, but for where it looks and what is carried."""
        scene, size = self._canvas.scene(), self._seen_from().px_per_mm
        drawing = scene.drawing
        tiles = tuple(drawing.tile_of(each) for each in drawing.project.prints)
        ground = drawing.bench, drawing.theme, drawing.covers_only, tiles
        return *ground, self._canvas.rounds, scene.looks, scene.lifted, scene.raised, size, self.devicePixelRatio()

    def _scene(self, view: View) -> Scene:
        """The scene of the canvas, seen through the glass."""
        scene, ratio = self._canvas.scene(), self.devicePixelRatio()
        own = scene.drawing
        now = Drawing(own.project, own.bench, view.to_screen, own.theme, ratio, own.tile_of, own.covers_only)
        if self._drawing is None or not self._drawing.is_like(now):
            self._drawing = now
        return Scene(self._drawing, scene.looks, scene.lifted, scene.raised)

    def _bring(self, scene: Scene, view: View) -> None:
        """Paint the layers for this view: in strips where it only looks elsewhere."""
        shows, ratio = self._shows(), self.devicePixelRatio()
        fresh = self._layers.fit(self.size(), ratio)
        if fresh or shows != self._painted or self._view is None:
            self._layers.paint(scene)
        elif view != self._view:
            by = QPoint(round((view.x_px - self._view.x_px) * ratio), round((view.y_px - self._view.y_px) * ratio))
            self._layers.shift(scene, by)
        self._view, self._painted = view, shows

    def paintEvent(self, event: QPaintEvent) -> None:
        """The picture as it was made last."""
        del event
        with QPainter(self) as painter:
            painter.drawPixmap(0, 0, self._glass)

    def _draw(self) -> None:
        """The place in a round glass, a cross at its middle, and how strong it is."""
        view, ratio = self._seen_from(), self.devicePixelRatio()
        scene = self._scene(view)
        self._bring(scene, view)
        whole = QRectF(self.rect()).adjusted(2, 2, -2, -2)
        glass = QPainterPath()
        glass.addEllipse(whole)
        if self._glass.size() != self.size() * ratio:
            self._glass = QPixmap(self.size() * ratio)
            self._glass.setDevicePixelRatio(ratio)
        self._glass.fill(Qt.GlobalColor.transparent)
        painter = QPainter(self._glass)
        painter.setClipPath(glass)
        self._paint_place(painter, scene)
        painter.setClipping(False)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        _paint_cross(painter, whole.center(), scene)
        theme = scene.drawing.theme
        for color, width in ((theme.color("panel"), 5.0), (theme.color("accent"), 2.0)):
            painter.setPen(QPen(color, width))
            painter.drawEllipse(whole)
        foot = QPointF(whole.center().x(), whole.bottom() - 12)
        paint_chip(painter, foot, f"{view.px_per_mm / self._canvas.view.px_per_mm:.3g} ×", INK, theme.color("halo"))
        painter.end()

    def _paint_place(self, painter: QPainter, scene: Scene) -> None:
        canvas = self._canvas
        task = canvas.work.task
        if isinstance(task, WindowTemplate):
            task.paint_mask(painter, scene, self._layers)
            return
        painter.drawPixmap(self._layers.origin, self._layers.rest)
        for overlay in canvas.overlays:
            overlay(painter, scene)
        gesture = canvas.gesture
        if isinstance(gesture, DragPiece):
            for placed in gesture.shown:
                lying = canvas.bench.find(placed.piece)
                if lying is not None:
                    self._layers.paint_moving(painter, scene, lying, placed, canvas.hand.looks[placed.piece])
        if task is not None:
            task.paint(painter, scene)


def _beside(at_px: Point, room: QSize, top_px: float) -> QPoint:
    """Top left of the glass: up and to the right of the place, or wherever it lies wholly on the canvas.

    Above `top_px` the canvas is covered.
    """
    off = _BESIDE_PX / math.sqrt(2)
    half = _SIZE_PX / 2
    x, y = at_px[0] + off, at_px[1] - off
    if x + half > room.width():
        x = at_px[0] - off
    if y - half < top_px:
        y = at_px[1] + off
    left = min(max(x - half, RULER_PX), max(room.width() - _SIZE_PX, RULER_PX))
    top = min(max(y - half, top_px), max(room.height() - _SIZE_PX, top_px))
    return QPoint(round(left), round(top))


def _paint_cross(painter: QPainter, middle: QPointF, scene: Scene) -> None:
    """A fine cross, open at its very middle, so that the place itself is seen."""
    for color, width in ((scene.drawing.theme.color("halo", 0.8), 3.0), (CHOSEN, 1.0)):
        painter.setPen(QPen(color, width))
        for x, y in ((1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)):
            painter.drawLine(middle + QPointF(4 * x, 4 * y), middle + QPointF(16 * x, 16 * y))
