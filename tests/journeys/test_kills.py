"""Killed at random moments while it edits and saves, the program never leaves anything unreadable, nor loses 2 s."""

from __future__ import annotations

import json
import os
import random
import signal
import subprocess
import sys
from pathlib import Path

import kills
import pytest

from coverlayout.document.file import load
from coverlayout.document.recovery import Keeper, left_behind, read
from coverlayout.layout.question import Placed

# The real window: lays a piece by a drag, waits, and takes hold of it again without letting go.
DRAGGING = """
import sys
from pathlib import Path
from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from coverlayout.app.wiring import Desktop

application = QApplication([])
desktop = Desktop(application)
window = desktop.window
window.painted.connect(lambda: QTimer.singleShot(200, drag))
desktop.show(Path(sys.argv[1]))


def at(piece):
    canvas = window.canvas
    placed = canvas.bench.find(piece).placed
    x, y = canvas.view.to_screen.at(canvas.bench.sheet(placed.cloth).to_table.at((placed.x_mm, placed.y_mm)))
    return QPoint(round(x), round(y))


def carry(by):
    start = at("tag-0")
    QTest.mousePress(window.canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.AltModifier, start)
    for k in range(1, 11):
        QTest.mouseMove(window.canvas, start + by * k / 10)
        QTest.qWait(10)
    return start + by


def drag():
    end = carry(QPoint(60, 40))
    QTest.mouseRelease(window.canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.AltModifier, end)
    placed = window.session.project.layout.place_of("tag-0")
    print(placed.x_mm, placed.y_mm, flush=True)
    QTimer.singleShot(int(sys.argv[2]), drag_again)


def drag_again():
    carry(QPoint(80, 90))
    print("dragging", window.canvas.gesture is not None, flush=True)


application.exec()
"""


def killed(count: int, *more: str) -> dict[str, float]:
    command = [sys.executable, str(Path(kills.__file__)), "--kills", str(count), "--json", *more]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    told: dict[str, float] = json.loads(done.stdout)
    return told


def test_kills_leave_nothing_unreadable_and_lose_less_than_two_seconds() -> None:
    told = killed(24)
    assert (told["kills"], told["unreadable"]) == (24, 0)
    assert told["worst_lost_s"] <= 2.0
    assert told["edits"] > 240, "it was busy when it was killed"
    assert told["recovery_copies"] > 12


@pytest.mark.slow
@pytest.mark.long
def test_nor_do_a_thousand() -> None:
    told = killed(1000, "--seed", "7")
    assert (told["kills"], told["unreadable"]) == (1000, 0)
    assert told["worst_lost_s"] <= 2.0


def judged(folder: Path, edits: list[tuple[int, float]], killed_s: float) -> kills.Figures:
    figures = kills.Figures()
    told = b"".join(kills._TOLD.pack(*edit) for edit in edits)
    kills.Lane(folder, random.Random(1), told=told).judge(figures, killed_s)
    return figures


def test_the_figures_tell_what_was_lost_and_what_is_unreadable(tmp_path: Path) -> None:
    """The measuring itself: a project that lags behind, one with a newer copy, one that is torn."""
    project, pictures = kills.beginning()
    kills._lane(tmp_path / "lane", random.Random(1))
    lane = tmp_path / "lane"
    edits = [(1, 10.0), (2, 10.5), (3, 12.25)]
    assert judged(lane, [], 9.0).lost_s == [0.0]
    late = judged(lane, edits, 12.5)
    assert (late.lost_s, late.worst_lost_s, late.edits, late.is_met) == ([2.5], 2.5, 3, False)
    keeper = Keeper(lane / "recovery")
    keeper.keep(kills.replace(project, name=kills.stamped(1, 10.0)), pictures, lane / "work.coverlayout")
    assert keeper._lock is not None
    keeper._lock.close()
    kept = judged(lane, edits, 12.5)
    assert (kept.lost_s, kept.recovered, kept.is_met) == ([2.0], 1, True)
    again = judged(lane, [(3, 12.25)], 12.5)
    assert (again.lost_s, again.is_met) == ([0.25], False), "edit 2 was done by the run before, and is gone"
    (lane / "work.coverlayout").write_bytes(b"PK\x03\x04 torn")
    torn = judged(lane, edits, 12.5)
    assert (len(torn.unreadable), torn.is_met) == (1, False)


def killed_in_a_drag(path: Path, wait_ms: int, state: Path) -> Placed:
    """Drag a piece in the real window, let go, wait, drag again, and be killed meanwhile; where it lay in between."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "XDG_STATE_HOME": str(state)}
    command = [sys.executable, "-c", DRAGGING, str(path), str(wait_ms)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment) as process:
        assert process.stdout is not None
        try:
            x_mm, y_mm = (float(word) for word in process.stdout.readline().split())
            assert process.stdout.readline().split() == ["dragging", "True"]
        finally:
            process.send_signal(signal.SIGKILL)
    return Placed("tag-0", "cloth-1", x_mm, y_mm)


def test_killed_in_the_middle_of_a_drag_the_work_before_it_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "work.coverlayout"
    project, pictures = kills.beginning()
    kills.save(path, project, pictures)
    dragged = killed_in_a_drag(path, 1_900, tmp_path / "state")
    assert (dragged.x_mm, dragged.y_mm) != (30.0, 40.0), "the first drag was one"
    (copy,) = left_behind(tmp_path / "state" / "coverlayout" / "recovery")
    found = read(copy).project
    assert found.layout.place_of("tag-0") == dragged, "the drag that was finished is there, the one under way is not"
    assert load(path).project == project, "the file is as it was saved"
