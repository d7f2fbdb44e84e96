"""Has everything laid out, walks through the proposals and takes one; then asks why a job does not fit, and mends it.

Run as a program of its own on a display: `hands_on_a_proposal.py walk FOLDER`; what was seen goes out as one JSON line.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hands_on_the_window import click, drag, key, seen
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from seat import Seat, until

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.cloths import change_cloth
from coverlayout.document.file import save
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.ui.window import Window

CTRL = Qt.KeyboardModifier.ControlModifier
# A book of 4.5 x 6 in pages whose pieces stay upright, on a fat quarter: our own invention.
START = Project(
    "Upright",
    cloths=(Cloth("cloth-1", "Cloth", 22 * 25.4, 18 * 25.4),),
    books=(Book("book-1", "Ledger", board_mm=(114.3, 152.4), cover_turns="none", liner_turns="none"),),
    next_number=9,
)


def places(window: Window) -> dict[str, tuple[float, float]]:
    """Where the pieces are drawn, by their middles."""
    return {
        lying.piece.id: (round(lying.placed.x_mm, 3), round(lying.placed.y_mm, 3))
        for lying in window.canvas.shown.seen.lying
    }


def at_rest(window: Window) -> bool:
    return window.proposing.walk is not None and not window.proposing.search


def press(to: Qt.Key) -> None:
    """A key for whatever has the keys."""
    QTest.keyClick(QApplication.focusWidget(), to)
    QApplication.processEvents()


def by_mouse(window: Window, told: dict[str, object]) -> None:
    strip, session = window.proposal_strip, window.session
    click(window.lay_button)
    until(lambda: at_rest(window), "a proposal")
    told["proposed"] = [strip.title.text(), places(window), seen(window)["placed"]]
    until(strip.different.isEnabled, "a different one to ask for")
    click(strip.different)
    until(lambda: at_rest(window), "a different one")
    told["different"] = [strip.title.text(), places(window)]
    click(strip.next)
    told["next"] = places(window)
    click(strip.before)
    told["before"] = places(window)
    click(strip.take)
    told["taken"] = [seen(window)["placed"], places(window)]
    drag(window, "front-1", (250.0, 250.0))
    told["steps"] = len(session.project.layout.placements)
    key(window, Qt.Key.Key_Z, CTRL)
    told["one undone"] = places(window)
    key(window, Qt.Key.Key_Z, CTRL)
    told["both undone"] = session.project == START


def by_keys(window: Window, told: dict[str, object]) -> None:
    until(lambda: not window.asking.searching, "all answers")
    key(window, Qt.Key.Key_Return, CTRL)
    until(lambda: at_rest(window) and window.proposal_strip.take.hasFocus(), "a proposal with the keys")
    press(Qt.Key.Key_Escape)
    told["left"] = [window.proposing.under_way, window.session.project == START]
    key(window, Qt.Key.Key_Return, CTRL)
    until(lambda: at_rest(window) and window.proposal_strip.take.hasFocus(), "a proposal again")
    press(Qt.Key.Key_D)
    until(lambda: at_rest(window), "a different one by a key")
    here = places(window)
    press(Qt.Key.Key_Left)
    press(Qt.Key.Key_Right)
    told["there and back"] = places(window) == here
    press(Qt.Key.Key_Return)
    told["taken by key"] = seen(window)["placed"]


def mended(window: Window, told: dict[str, object]) -> None:
    """Twelve inches square are too little for upright pieces: the reason, and the first change that makes them fit."""
    window.session.do(change_cloth("cloth-1", width_mm=304.8, length_mm=304.8))
    asking = window.asking
    until(lambda: asking.fitting is not None and not asking.searching, "what would make it fit", 90.0)
    click(window.bar.spoken)
    opened = window.opened
    told["opened"] = [opened.isVisible(), opened.reason.text(), [change.words.text() for change in opened.changes]]
    click(opened.changes[0].button)
    told["mended"] = seen(window)
    press(Qt.Key.Key_Escape)
    told["shut"] = not opened.isVisible()
    key(window, Qt.Key.Key_Z, CTRL)
    told["undone"] = seen(window)


def main(folder: Path) -> None:
    path = folder / "upright.coverlayout"
    save(path, START, Pictures())
    seat = Seat(path)
    window, told = seat.window, dict[str, object]()
    until(lambda: window.asking.answer is not None, "the first answer")
    by_mouse(window, told)
    by_keys(window, told)
    mended(window, told)
    window.session.mark_saved(path)
    seat.leave(told)


if __name__ == "__main__":
    main(Path(sys.argv[2]))
