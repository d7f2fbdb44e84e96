"""A seat before the real window, every event of it timed; and how a test sends somebody to sit there."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

# These programs are started by themselves too: what the tests share lies one folder up.
sys.path.append(str(Path(__file__).resolve().parents[1]))

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication
from stall_watch import MOST_MS, WatchedApplication

from coverlayout.app.wiring import Desktop
from coverlayout.ui.window import Window

__all__ = ["Seat", "come_forward", "told_by", "until"]


def until(true: Callable[[], object], what: str, seconds: float = 60.0) -> None:
    """Let the window work until it is true; `what` names it when it never is."""
    end = time.monotonic() + seconds
    while not true():
        if time.monotonic() > end:
            raise TimeoutError(what)
        QApplication.processEvents()
        time.sleep(0.005)


def come_forward() -> None:
    """A bare display has no window manager to give the keys back to the window after a dialog: ask for them."""
    (window,) = [each for each in QApplication.topLevelWidgets() if isinstance(each, Window)]
    window.activateWindow()
    until(window.isActiveWindow, "the window in front")


class Seat:
    """The window with the project at a path, or empty; from its first picture on every event is timed."""

    def __init__(self, path: Path | None) -> None:
        self.application = WatchedApplication(sys.argv[:1])
        self._desktop = Desktop(self.application)
        self.window = self._desktop.window
        self.window.painted.connect(self._begin)
        self._desktop.show(path)
        come_forward()
        until(lambda: self._desktop.port.worker.warm >= 1, "a warm worker")

    def _begin(self) -> None:
        self.application.watching = True
        # As an event of its own, so that it is timed as well.
        QTimer.singleShot(0, self._desktop.begin)

    def leave(self, told: dict[str, Any]) -> None:
        """Close what is still open, and tell what was seen and which events took long."""
        told["closed"] = self.window.close()
        self._desktop.close()
        told["platform"] = self.application.platformName()
        told["long events"] = self.application.worst
        sys.stdout.write(json.dumps(told) + "\n")


def told_by(hands: str, way: str, folder: Path, environment: dict[str, str]) -> dict[str, Any]:
    """What the program `hands` of this folder tells of its way; the window was real, no event held it for long."""
    run = subprocess.run(
        [sys.executable, str(Path(__file__).with_name(hands)), way, str(folder)],
        env={**environment, "XDG_STATE_HOME": str(folder / "state")},
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert "Traceback" not in run.stderr
    told: dict[str, Any] = json.loads(run.stdout.splitlines()[-1])
    assert told["platform"] == "xcb"
    assert told["closed"]
    too_long = [f"{ms:.0f} ms: {what}" for ms, what in told["long events"] if ms > MOST_MS]
    assert not too_long, f"the window was held up, {way}: {'; '.join(too_long)}"
    return told
