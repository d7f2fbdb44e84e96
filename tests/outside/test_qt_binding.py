"""The Qt binding must not eat the interpreter's constants.

Measured with PySide6 6.12.0 on Python 3.10 and 3.11: every emit and connect drops a reference of True and every call
that returns nothing one of None, until the interpreter dies: after 500 to 600 emits, 2,400 to 2,700 repaints, 4,800 to
5,300 plain calls. From Python 3.12 on these constants cannot die. Each part runs in its own process, as it may end it.
"""

from __future__ import annotations

import subprocess
import sys

import pytest

_COUNTS = """
import sys
from PySide6.QtCore import QObject, Signal

class Bell(QObject):
    rung = Signal(bool)

bell = Bell()
bell.rung.connect(lambda on: None)
bell.setObjectName("warm"); bell.rung.emit(True)
before = sys.getrefcount(True), sys.getrefcount(None)
for turn in range(100):
    bell.rung.emit(True)
    bell.setObjectName("name")
after = sys.getrefcount(True), sys.getrefcount(None)
print(*(b - a for a, b in zip(before, after)))
"""

_CALLS = """
import sys
from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QApplication, QLabel

class Bell(QObject):
    rung = Signal(bool)

app, bell, label = QApplication([]), Bell(), QLabel("a")
label.resize(8, 8)
label.show()
COUNT, fired = 50_000, 0

def heard(on):
    pass

def emit(): bell.rung.emit(True)
def connect():
    bell.rung.connect(heard)
    bell.rung.disconnect(heard)
def repaint(): label.repaint()
def set_text(): label.setText("b")
def fire():
    global fired
    fired += 1
    if fired < COUNT:
        QTimer.singleShot(0, fire)
    else:
        app.quit()

if sys.argv[1] == "timer":
    QTimer.singleShot(0, fire)
    app.exec()
    assert fired == COUNT
else:
    call = {"emit": emit, "connect": connect, "repaint": repaint, "text": set_text}[sys.argv[1]]
    for turn in range(COUNT):
        call()
print("alive")
"""


def _run(code: str, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, timeout=240, check=False
    )


def test_a_hundred_calls_lower_no_reference_count() -> None:
    done = _run(_COUNTS)
    assert done.returncode == 0, done.stderr
    drifts = [int(word) for word in done.stdout.split()]
    # Growth is harmless: some releases add one None per event. The known fault is exactly -100.
    assert all(drift > -50 for drift in drifts), f"True and None drifted by {drifts} in 100 calls"


@pytest.mark.parametrize("kind", ["emit", "connect", "repaint", "text", "timer"])
def test_fifty_thousand_calls_leave_the_interpreter_alive(kind: str) -> None:
    done = _run(_CALLS, kind)
    assert (done.returncode, done.stdout.strip()) == (0, "alive"), done.stderr[-2000:]
