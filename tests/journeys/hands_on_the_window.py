"""Sits before the real window and makes the whole way with mouse and keys; what was seen goes out as one JSON line.

Run as a program of its own on a display: `hands_on_the_window.py make FOLDER` or `... again FOLDER`.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

from PIL import Image, ImageDraw
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QWidget
from seat import Seat, come_forward, until

from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry
from coverlayout.ui.window import Window

LEFT = Qt.MouseButton.LeftButton


def click(widget: QWidget, at: QPoint | None = None) -> None:
    QTest.mouseClick(widget, LEFT, pos=at or widget.rect().center())
    QApplication.processEvents()


def lay_out(window: Window) -> None:
    """By the button at the top; what is proposed is taken as it comes."""
    click(window.lay_button)
    take_proposal(window)


def take_proposal(window: Window) -> None:
    proposing = window.proposing
    until(lambda: proposing.walk is not None and not proposing.search, "a proposal")
    click(window.proposal_strip.take)


def type_into(entry: Entry, text: str) -> None:
    click(entry.line)
    QTest.keyClick(entry.line, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    QTest.keyClicks(entry.line, text)
    QTest.keyClick(entry.line, Qt.Key.Key_Tab)
    QApplication.processEvents()


def choose(choice: Choice, words: str) -> None:
    """By the keyboard: open the list, type the first letters, return."""
    choice.box.setFocus()
    QTest.keyClick(choice.box, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    view = choice.box.view()
    until(view.isVisible, f"the list of {choice.title.text()}")
    QTest.keyClicks(view, words)
    QTest.keyClick(view, Qt.Key.Key_Return)
    until(lambda: choice.box.currentText() == words, words)


def with_path(act: Callable[[], None], path: Path) -> None:
    """Do what asks for a path, and answer with this one.

    The toolkit's own file dialog is not what is tried here: it fills from the disk at its own pace and overwrites what
    is typed while the machine is busy.
    """
    asked = []

    def answer(*_words: object, **_more: object) -> tuple[str, str]:
        asked.append(path)
        return str(path), ""

    def answer_folder(*_words: object, **_more: object) -> str:
        return answer()[0]

    with (
        patch.object(QFileDialog, "getOpenFileName", answer),
        patch.object(QFileDialog, "getSaveFileName", answer),
        patch.object(QFileDialog, "getExistingDirectory", answer_folder),
    ):
        act()
        until(lambda: bool(asked), f"being asked for {path.name}")
    come_forward()


def from_menu(window: Window, menu: str, *words: str) -> None:
    """Press a menu of the bar and what is wanted in it, menu by menu."""
    bar = window.menus
    action = next(each for each in bar.actions() if each.text().replace("&", "") == menu)
    click(bar, bar.actionGeometry(action).center())
    listed = action.menu()
    for word in words:
        until(listed.isVisible, f"the menu {menu}")
        action = next(each for each in listed.actions() if each.text().split("\t")[0] == word)
        assert action.isEnabled(), f"{word}: {action.toolTip()}"
        click(listed, listed.actionGeometry(action).center())
        listed = action.menu() or listed
    until(lambda: QApplication.activePopupWidget() is None, "the menu closed")
    come_forward()


def key(window: Window, pressed: Qt.Key, modifiers: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    """A key on the cloth."""
    window.canvas.setFocus()
    until(window.canvas.hasFocus, "the keys on the cloth")
    QTest.keyClick(window.canvas, pressed, modifiers)
    QApplication.processEvents()


def drag(window: Window, piece: str, to_mm: tuple[float, float]) -> None:
    """Carry a piece by its middle to a place on the table, in several moves as a hand does."""
    canvas = window.canvas
    start = canvas.view.to_screen.at(canvas.bench.outlines[piece][1].middle)
    end = canvas.view.to_screen.at(to_mm)
    QTest.mousePress(canvas, LEFT, pos=QPoint(*map(round, start)))
    for share in (0.1, 0.4, 0.7, 1.0):
        at = [a + (b - a) * share for a, b in zip(start, end, strict=True)]
        QTest.mouseMove(canvas, QPoint(*map(round, at)))
        QTest.qWait(20)
    QTest.mouseRelease(canvas, LEFT, pos=QPoint(*map(round, end)))
    QApplication.processEvents()


def seen(window: Window) -> dict[str, object]:
    layout = window.session.project.layout
    return {
        "said": window.bar.spoken.said.word,
        "sentence": window.bar.spoken.said.sentence,
        "placed": sorted(placed.piece for placed in layout.placements),
        "least": window.bar.least.figure,
        "room": window.bar.room.figure,
        "title": window.windowTitle(),
        "banner": window.banner.sentence.text() if window.banner.isVisible() else "",
        "undo": window.menus.undo.text(),
    }


def open_step(window: Window, number: int) -> None:
    click(window.steps.heads[number - 1])
    until(lambda: window.steps.open_step == number - 1, f"step {number}")


def make(window: Window, folder: Path) -> dict[str, object]:
    """From a picture to measurements and a saved project."""
    told: dict[str, object] = {"empty": seen(window)}
    panels, session = window.panels, window.session
    with_path(lambda: click(panels.prints.open_button), folder / "quince.png")
    until(lambda: bool(session.project.prints), "the picture")
    told["file says"] = panels.prints.file_says.text()
    type_into(panels.prints.size_entry, "64 x 96 mm")
    choose(panels.prints.layout_choice, "half-drop")
    open_step(window, 2)
    type_into(panels.cloth.size_entry, "22 x 18 in")
    open_step(window, 3)
    type_into(panels.book.size_entry, "4.5x6in")
    until(lambda: len(window.canvas.bench.outlines) == 4, "four pieces")
    drag(window, "front-1", (100.0, 120.0))
    told["one placed"] = seen(window)
    drag(window, "back-1", (110.0, 130.0))
    told["one over the other"] = seen(window)
    QTest.keyClick(window.canvas, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    told["undone"] = seen(window)
    lay_out(window)
    until(lambda: len(session.project.layout.placements) == 4, "everything laid")
    until(lambda: window.asking.ladder is not None and not window.asking.searching, "the ladder")
    told["laid"] = seen(window)
    export(window, folder / "first")
    told["exported"] = seen(window)
    with_path(
        lambda: QTest.keyClick(window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier), folder / "ledger.coverlayout"
    )
    until(lambda: not session.unsaved, "saved")
    told["saved"] = seen(window)
    return told


def again(window: Window, folder: Path) -> dict[str, object]:
    """The project opened again gives the same measurements."""
    told: dict[str, object] = {"opened": seen(window)}
    export(window, folder / "second")
    return told


def export(window: Window, folder: Path) -> None:
    """The measurements of both sides, each into a folder of its own."""
    open_step(window, 5)
    for side, button in (("print", window.header.print_side), ("back", window.header.back)):
        click(button)
        there = folder.with_name(f"{folder.name} {side}")
        there.mkdir()
        with_path(lambda: click(window.panels.cutting.export_button), there)
        until(lambda there=there: str(there) in window.banner.sentence.text(), f"the papers of the {side} side")


def motif(path: Path) -> None:
    """A picture of our own that says nothing of its size."""
    picture = Image.new("RGB", (128, 192), (240, 230, 214))
    pencil = ImageDraw.Draw(picture)
    pencil.ellipse((34, 40, 80, 120), fill=(196, 98, 44))
    pencil.polygon([(64, 120), (100, 128), (66, 140)], fill=(44, 108, 112))
    picture.save(path)


def main() -> None:
    way, folder = sys.argv[1], Path(sys.argv[2])
    project = folder / "ledger.coverlayout"
    if way == "make":
        motif(folder / "quince.png")
    seat = Seat(None if way == "make" else project)
    seat.leave(make(seat.window, folder) if way == "make" else again(seat.window, folder))


if __name__ == "__main__":
    main()
