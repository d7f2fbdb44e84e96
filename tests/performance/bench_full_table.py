"""A table with everything on it: 60 and 200 pieces, 10 flaws, 3 cloths, at 1x and 2x; and the longest stall of a day.

Each scale is measured in a process of its own, since the toolkit asks for it once.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"
if __name__ == "__main__":
    os.environ["QT_SCALE_FACTOR"] = sys.argv[1]

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from day import a_day
from moves import drag_ms, pan_ms, widen
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from scenes import full_table
from stall_watch import MOST_MS, WatchedApplication

from coverlayout.app.desktop import settle
from coverlayout.app.wiring import Desktop
from coverlayout.ui.canvas.canvas import Canvas

MOVES = 150
BUDGET_MS = 2.0
SCALES = (1, 2)


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """Medians of one step of a drag and of a pan, in ms, and the longest stall in between."""
    del shared
    found: dict[str, dict[str, float]] = {}
    for scale in SCALES:
        done = subprocess.run(
            [sys.executable, __file__, str(scale)],
            stdout=subprocess.PIPE,
            text=True,
            stdin=subprocess.DEVNULL,
            check=True,
        )
        found |= json.loads(done.stdout.splitlines()[-1])
    return found


def measured(scale: int) -> dict[str, dict[str, float]]:
    """The figures at one scale, in this process."""
    application = WatchedApplication(clock=time.perf_counter)
    with _desktop(application) as desktop:
        found: dict[str, dict[str, float]] = {}
        for pieces, goal in ((60, BUDGET_MS), (200, 2 * BUDGET_MS)):
            canvas = _show(desktop, pieces)
            found[f"drag_{pieces}_{scale}x_ms"] = {"value": statistics.median(drag_ms(canvas, MOVES)), "goal": goal}
            found[f"pan_{pieces}_{scale}x_ms"] = {"value": statistics.median(_pan(canvas)), "goal": goal}
        canvas = _show(desktop, 60)
        desktop.window.menus.do("loupe")
        found[f"drag_60_loupe_{scale}x_ms"] = {"value": statistics.median(drag_ms(canvas, MOVES)), "goal": BUDGET_MS}
        found[f"pan_60_loupe_{scale}x_ms"] = {"value": statistics.median(_pan(canvas)), "goal": BUDGET_MS}
        desktop.window.menus.do("loupe")
        QTest.qWait(300)
        application.watching = True
        a_day(application, desktop.window)
        application.watching = False
        for took_ms, what in application.worst[:8]:
            sys.stderr.write(f"{scale}x: {took_ms:.0f} ms in {what}\n")
        found[f"stall_{scale}x_ms"] = {"value": application.worst_ms, "goal": MOST_MS}
    return found


@contextmanager
def _desktop(application: QApplication) -> Iterator[Desktop]:
    desktop = Desktop(application)
    desktop.window.show()
    # As the program does once its window is painted.
    settle()
    desktop.begin()
    try:
        yield desktop
    finally:
        desktop.window.hide()
        desktop.close()


def _show(desktop: Desktop, pieces: int) -> Canvas:
    made = full_table(pieces)
    desktop.session.replace_all(made.project, made.pictures, None)
    window, canvas = desktop.window, desktop.window.canvas
    widen(window, canvas)
    canvas.sight.fit()
    QTest.qWait(300)
    return canvas


def _pan(canvas: Canvas) -> list[float]:
    canvas.sight.zoom_in()
    QTest.qWait(200)
    taken = pan_ms(canvas, MOVES)
    canvas.sight.fit()
    return taken


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measured(int(sys.argv[1]))))
