"""True size on the screen the window is on: as a card showed it there, else as the screen says, which is a guess."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QScreen
from PySide6.QtWidgets import QWidget

from coverlayout.ui.canvas.canvas import Canvas
from coverlayout.ui.files.remembered import Remembered

__all__ = ["TrueSize", "guessed_px_per_mm"]

_MM_PER_INCH = 25.4
# What a screen says of its size is wrong now and then (a projector, a picture wall); beyond this it cannot be.
_BELIEVED_DPI = (50.0, 350.0)


def guessed_px_per_mm(physical_dpi: float, logical_dpi: float) -> float:
    """Logical pixels a millimetre by what the screen says of its size, or by the usual dpi where that cannot be.

    >>> round(guessed_px_per_mm(110.0, 96.0) * 25.4), round(guessed_px_per_mm(9.0, 96.0) * 25.4)
    (110, 96)
    """
    least, most = _BELIEVED_DPI
    return (physical_dpi if least <= physical_dpi <= most else logical_dpi) / _MM_PER_INCH


class TrueSize(QObject):
    """Keeps true size true wherever the window goes; `changed` tells that the figure or how it is known is another."""

    changed = Signal()

    def __init__(self, canvas: Canvas, remembered: Remembered, window: QWidget) -> None:
        super().__init__(window)
        self._canvas, self._remembered, self._window = canvas, remembered, window
        self.matched = False
        """True when a card was held to this screen."""
        self._followed = False

    def follow(self) -> None:
        """Take the figure of the screen the window is on, now and whenever it goes to another."""
        handle = self._window.windowHandle()
        if handle is not None and not self._followed:
            self._followed = True
            handle.screenChanged.connect(self.take)
        self.take(self._window.screen())

    def take(self, screen: QScreen) -> None:
        """Take the figure of a screen."""
        known = self._remembered.px_per_mm(screen)
        self.matched = known is not None
        dpi = (screen.physicalDotsPerInch(), screen.logicalDotsPerInch())
        self._canvas.sight.set_px_per_mm(guessed_px_per_mm(*dpi) if known is None else known)
        self.changed.emit()

    def match(self, px_per_mm: float, screen: QScreen) -> None:
        """A card was held to that screen: keep its figure, and use it when the window is there."""
        self._remembered.remember_px_per_mm(screen, px_per_mm)
        self.take(self._window.screen())
