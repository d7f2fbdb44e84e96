"""Takes the pictures of the README from the real window: `python tests/journeys/take_screens.py` on a display.

It opens the demo, works on it with mouse events and keeps what the window shows in `resources/screens`.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from seat import until

from coverlayout.app.wiring import Desktop
from coverlayout.geometry.shapes import bounds

ROOT = Path(__file__).parents[2]
SCREENS = ROOT / "resources" / "screens"
LEFT = Qt.MouseButton.LeftButton


def keep(desktop: Desktop, name: str) -> None:
    QApplication.processEvents()
    desktop.window.grab().save(str(SCREENS / f"{name}.png"))


def answered(desktop: Desktop) -> None:
    asking = desktop.window.asking
    until(
        lambda: asking.ladder is not None and not asking.ladder_old and not asking.searching,
        "the least cut to buy",
        120.0,
    )
    QTest.qWait(300)


def spot(desktop: Desktop, x_mm: float, y_mm: float) -> QPoint:
    return QPointF(*desktop.window.canvas.view.to_screen.at((x_mm, y_mm))).toPoint()


def main() -> int:
    """Light, dragging, dark from the back."""
    SCREENS.mkdir(exist_ok=True)
    application = QApplication(sys.argv[:1])
    desktop = Desktop(application)
    with tempfile.TemporaryDirectory() as folder:
        demo = Path(folder) / "salt-works.coverlayout"
        shutil.copy(ROOT / "sample_prints" / "salt-works.coverlayout", demo)
        desktop.look.choose("light")
        desktop.show(demo)
        QTest.qWaitForWindowExposed(desktop.window)
        desktop.begin()
        answered(desktop)
        keep(desktop, "light")
        dragging(desktop)
        desktop.look.choose("dark")
        desktop.window.asking.lay_out()
        until(lambda: not desktop.window.asking.laying, "the layout", 120.0)
        desktop.window.turn_over()
        desktop.window.steps.open(4)
        answered(desktop)
        keep(desktop, "dark")
    desktop.close()
    return 0


def dragging(desktop: Desktop) -> None:
    """The fifth ledger's front held partly over a cover that lies there; then let go as if never taken."""
    canvas = desktop.window.canvas
    canvas.setFocus()
    for _ in range(3):
        canvas.sight.zoom_in()
    canvas.sight.pan_to(canvas.view.panned((-60.0, 240.0)))
    bench = canvas.bench
    start = spot(desktop, *bounds(bench.outline(bench.find("front-5").placed)).middle)
    end = spot(desktop, 830.0, 330.0)
    QTest.mousePress(canvas, LEFT, pos=start)
    for step in range(1, 11):
        QTest.mouseMove(canvas, start + (end - start) * step / 10)
        QTest.qWait(10)
    keep(desktop, "dragging")
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    QTest.mouseRelease(canvas, LEFT, pos=end)
    canvas.sight.fit()


if __name__ == "__main__":
    sys.exit(main())
