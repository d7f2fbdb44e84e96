"""Sits before the real window, drags a cover on to the cloth and is killed; or sits down again after that.

Run as a program of its own on a display: `hands_before_a_kill.py drag FOLDER`, which tells where the cover lies and
then waits to be killed, or `... again FOLDER`, which takes what is offered and saves it.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

from hands_on_the_window import click, drag, seen
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from seat import Seat, until

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.file import save
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.ui.window import Window

FILE = "kept.coverlayout"
START = Project(
    "Kept",
    cloths=(Cloth("cloth-1", "Offcut", 500.0, 400.0),),
    books=(Book("book-1", "Ledger", page_mm=(114.3, 152.4), liners="none"),),
    next_number=2,
    next_volume_number=2,
)


def place(window: Window) -> tuple[float, float] | None:
    placed = window.session.project.layout.place_of("front-1")
    return (placed.x_mm, placed.y_mm) if placed else None


def dragged(folder: Path) -> None:
    """Drag the cover, tell where it lies, and go on as if nothing could happen."""
    save(folder / FILE, START, Pictures())
    seat = Seat(folder / FILE)
    drag(seat.window, "front-1", (171.0, 143.0))
    sys.stdout.write(json.dumps({"place": place(seat.window), "platform": seat.application.platformName()}) + "\n")
    sys.stdout.flush()
    seat.application.exec()


def again() -> None:
    """What is offered at the next start is opened and saved."""
    seat = Seat(None)
    window = seat.window
    until(window.banner.isVisible, "an offer")
    told: dict[str, object] = {"offer": window.banner.sentence.text()}
    told["picture"] = [window.banner.picture.pixmap().width(), window.banner.picture.pixmap().height()]
    buttons = {each.text(): each for each in window.banner.findChildren(QPushButton) if each.isVisible()}
    told["answers"] = list(buttons)
    click(buttons["Open it"])
    until(lambda: place(window) is not None, "the cover on the cloth")
    told["place"] = place(window)
    told["opened"] = seen(window)
    QTest.keyClick(window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    until(lambda: not window.session.unsaved, "saved")
    told["saved"] = seen(window)
    seat.leave(told)


def main() -> None:
    if sys.argv[1] == "drag":
        dragged(Path(sys.argv[2]))
    else:
        again()


if __name__ == "__main__":
    main()
