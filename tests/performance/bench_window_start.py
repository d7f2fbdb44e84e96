"""From the start to the first painted window, against an empty window of the same libraries in the same run."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 5
# What any program with these libraries pays before its own work begins.
EMPTY_WINDOW = """
import numpy, shapely, PIL.Image
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget

class Window(QWidget):
    def paintEvent(self, event):
        QTimer.singleShot(0, app.quit)

app = QApplication([])
window = Window()
window.resize(1600, 1000)
window.show()
app.exec()
"""


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """The median of the program's starts over the median of the empty window's, taken by turns."""
    demo = next((ROOT / "sample_prints").glob("*.coverlayout"))
    empty_s, program_s = [], []
    for turn in range(ROUNDS + 1):
        empty = _start_s([sys.executable, "-c", EMPTY_WINDOW])
        program = _start_s([sys.executable, "-m", "coverlayout", "--first-paint", str(demo)])
        if turn:  # the first turn only warms the disk
            empty_s.append(empty)
            program_s.append(program)
    return {"window_start_ratio": {"value": statistics.median(program_s) / statistics.median(empty_s), "goal": 3.0}}


def _start_s(command: list[str]) -> float:
    """Seconds until the command says its first line, or ends, which it does at its first paint."""
    environment = dict(os.environ)
    # A machine set to keep no compiled modules would compile the whole program at every start, which no maker's does.
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    if not (environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY")):
        environment.setdefault("QT_QPA_PLATFORM", "offscreen")
    began = time.perf_counter()
    with subprocess.Popen(
        command, env=environment, cwd=ROOT, stdout=subprocess.PIPE, stdin=subprocess.DEVNULL
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()
        seconds = time.perf_counter() - began
        process.stdout.read()
    if process.returncode:
        raise RuntimeError(f"{' '.join(command[:4])} ended with {process.returncode}")
    return seconds
