"""Opens the window and runs it until it is closed."""

from __future__ import annotations

import gc
import os
import sys
import threading
from collections.abc import Callable
from functools import partial
from importlib import import_module
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from coverlayout.app.faults import logged
from coverlayout.errors import BadInput, sentence

if TYPE_CHECKING:
    from coverlayout.app.wiring import Desktop

__all__ = ["load_ground", "run", "settle"]

# Modules of ours that need no Qt and that, with what they import in turn, are nearly all that a window stands on.
_GROUND = (
    "book.materials.plan",
    "book.picturing.sketch",
    "document.cutting.rest",
    "document.cutting.rows",
    "document.making.costs",
    "document.paneling.needing",
    "document.recovery",
    "document.session",
    "document.measuring.again",
    "exporting.measures",
    "layout.guiding.guides",
    "layout.measuring.measure",
    "layout.search.outlines",
    "motif.drawn",
    "motif.tile",
)


def load_ground() -> None:
    """Load what a window stands on before Qt is loaded: Qt's Python part reads the source of whatever comes after it.

    >>> load_ground()
    """
    for name in _GROUND:
        import_module(f"coverlayout.{name}")


def run(path: Path | None = None, *, first_paint: bool = False) -> int:
    """Open the window, with the project or picture at `path`; the exit code is 0 once it is closed.

    `first_paint` says so and ends the program as soon as the window has been painted: for measuring how fast it starts.
    BadInput in one sentence when there is no display to open a window on.
    """
    if not _has_display():
        raise BadInput("no-display")
    # While everything is being made there is no garbage to look for.
    gc.disable()
    load_ground()
    from PySide6.QtGui import QGuiApplication  # noqa: PLC0415  a machine without a display need not have Qt's libraries
    from PySide6.QtWidgets import QApplication  # noqa: PLC0415

    from coverlayout.app.wiring import Desktop  # noqa: PLC0415

    QGuiApplication.setDesktopFileName("coverlayout")
    application = QApplication(sys.argv[:1])
    application.setApplicationName("Coverlayout")
    desktop = Desktop(application)
    desktop.window.painted.connect(partial(_painted, application.quit) if first_paint else partial(_begin, desktop))
    sys.excepthook = partial(_tell_fault, desktop.window.say)
    threading.excepthook = _log_fault
    desktop.show(path)
    try:
        return int(application.exec())
    finally:
        sys.excepthook, threading.excepthook = sys.__excepthook__, threading.__excepthook__
        gc.enable()
        desktop.close()


def settle() -> None:
    """All that the window is made of stays: from now on only what comes later is looked through for garbage.

    Looking through all of it would hold the window up for 20 to 40 ms now and then.
    """
    gc.freeze()
    gc.enable()


def _begin(desktop: Desktop) -> None:
    settle()
    desktop.begin()


def _painted(leave: Callable[[], None]) -> None:
    print("painted", flush=True)
    leave()


def _tell_fault(
    say: Callable[[str, bool], None], kind: type[BaseException], fault: BaseException, trace: TracebackType | None
) -> None:
    """A fault of the program in the window: one sentence above the cloth, the details in the log; the work goes on."""
    del trace
    say(sentence("fault-in-window", {"kind": kind.__name__, "log": logged(fault)}), True)


def _log_fault(fault: threading.ExceptHookArgs) -> None:
    """A fault beside the window (a picture being decoded, a copy being written): the details go into the log."""
    if fault.exc_value is not None:
        logged(fault.exc_value)


def _has_display() -> bool:
    """True when there is something to open a window on, or a platform was asked for by name."""
    if sys.platform in ("win32", "darwin"):
        return True
    if os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
