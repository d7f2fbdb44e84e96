"""Makes a book of every structure in the real window from nothing, by mouse and keys; what came of it goes out as JSON.

Run as a program of its own on a display: `hands_on_every_structure.py structures FOLDER`, or `... inches FOLDER`.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from hands_on_the_window import LEFT, click, from_menu, open_step, type_into
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from seat import Seat, until

from coverlayout.document.questions import planned_pieces
from coverlayout.ui.binding.knowing import STRUCTURES
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.window import Window

# What is typed for a book of each structure, in the order of the fields.
_PAPER = {"sheet": "9 x 12 in", "amount": "16", "cut": "2 x 1", "per_section": "4"}


def bring(window: Window, widget: QWidget) -> QWidget:
    """Scroll the panel to a widget, as a wheel would."""
    window.steps.ensureWidgetVisible(widget, 0, 60)
    QApplication.processEvents()
    return widget


def every(window: Window) -> dict[str, object]:
    """One book after the other; each is taken away before the next is begun."""
    panel, told = window.panels.book, {}
    open_step(window, 2)
    type_into(window.panels.cloth.size_entry, "1400 x 900 mm")
    open_step(window, 3)
    for structure, words, _ in STRUCTURES:
        begun = time.monotonic()
        bring(window, panel.structure.box)
        choose_row(panel.structure, words)
        if structure in ("slipcase", "side-sewn"):
            choose_row(panel.sized_by, "whole book" if structure == "slipcase" else "block size")
            type_into(panel.size_entry, "148 x 210 x 12 mm")
        else:
            type_into(panel.size_entry, "148 x 210 mm")
            type_into(panel.thickness, "12")
        until(lambda structure=structure: made_as(window, structure), f"a book as {structure}")
        painted(window)
        told[structure] = {
            "pieces": sorted(piece.id for piece in planned_pieces(window.session.project)),
            "summary": window.steps.heads[2].summary,
            "seconds": time.monotonic() - begun,
            "picture": panel.drawing.pictures[0].spoken(),
            "steps": undone(window),
        }
    return told


def choose_row(choice: Choice, words: str) -> None:
    """From a list by arrows: letters typed soon after others would be taken for one search."""
    choice.box.setFocus()
    QTest.keyClick(choice.box, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    view = choice.box.view()
    until(view.isVisible, f"the list of {choice.title.text()}")
    QTest.keyClick(view, Qt.Key.Key_Home)
    for _ in range(choice.box.findText(words)):
        QTest.keyClick(view, Qt.Key.Key_Down)
    QTest.keyClick(view, Qt.Key.Key_Return)
    until(lambda: choice.box.currentText() == words, words)
    QApplication.processEvents()


def made_as(window: Window, structure: str) -> bool:
    books = window.session.project.books
    return len(books) == 1 and books[0].structure == structure


def painted(window: Window) -> None:
    """The picture and the panel have been shown, both views of it."""
    tabs = window.panels.book.drawing.tabs
    for at in (1, 0):
        bring(window, tabs)
        QTest.mouseClick(tabs, LEFT, pos=tabs.tabRect(at).center())
        QTest.qWait(30)


def undone(window: Window) -> int:
    """Undo until there is no book, counted: every gesture was one step."""
    count = 0
    while window.session.project.books:
        click(window.header.undo)
        count += 1
    return count


def paper_and_room(window: Window) -> dict[str, object]:
    """In inches: pages of 4 1/2 x 6 from a swatch of 12 x 12, then the same from the paper in the drawer."""
    panel = window.panels.book
    from_menu(window, "View", "Lengths in", "Inches, to 1/16")
    open_step(window, 2)
    type_into(window.panels.cloth.size_entry, "12 x 12")
    open_step(window, 3)
    begun = time.monotonic()
    type_into(panel.size_entry, "4 1/2 x 6")
    click(bring(window, panel.liners.head))
    bring(window, panel.liners.liner_turns)
    choose_row(panel.liners.liner_turns, "quarter")
    told: dict[str, object] = {}
    until(lambda: window.asking.whole and not window.asking.searching, "the room", 30.0)
    told["spare_mm"] = window.asking.answer.spare_mm if window.asking.answer is not None else None
    choose_row(panel.sized_by, "the paper")
    type_into(panel.knowing.sheet, _PAPER["sheet"])
    for name in ("amount", "cut", "per_section"):
        entry = getattr(panel.paper, name)
        bring(window, entry)
        type_into(entry, _PAPER[name])
    told["summary"] = window.steps.heads[2].summary
    told["answers"] = panel.paper.answers.text()
    told["seconds"] = time.monotonic() - begun
    pieces = {piece.id: (piece.width_mm, piece.height_mm) for piece in planned_pieces(window.session.project)}
    told["sizes"] = pieces
    return told


def main() -> None:
    way = sys.argv[1]
    seat = Seat(None)
    told = every(seat.window) if way == "structures" else paper_and_room(seat.window)
    seat.window.session.mark_saved(Path(sys.argv[2]) / "left")
    seat.leave({"told": told})


if __name__ == "__main__":
    main()
