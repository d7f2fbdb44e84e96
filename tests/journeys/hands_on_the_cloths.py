"""Sits before the real window with cloths to divide and to trace, by mouse and keys; what was seen goes out as JSON.

Run as a program of its own on a display: `hands_on_the_cloths.py yard FOLDER` or `... leftover FOLDER`.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hands_on_the_window import choose, click, drag, from_menu, key, lay_out, open_step, seen, type_into
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from seat import Seat, come_forward, until

from coverlayout.book.book import Book
from coverlayout.document.file import save
from coverlayout.document.project import Project
from coverlayout.document.storage.pictures import Pictures
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import Print
from coverlayout.ui.fields.points import PointsEntry
from coverlayout.ui.window import Window

LEFT = Qt.MouseButton.LeftButton
# Two prints without a picture and a book of 4.5 x 6 in pages: our own invention.
START = Project(
    "Small prints",
    prints=(
        Print("print-1", "Reeds", Lattice((40.0, 0.0), (0.0, 55.0)), up="two-way"),
        Print("print-2", "Shells", Lattice((28.0, 14.0), (0.0, 28.0)), up="any"),
    ),
    books=(Book("book-1", "Ledger", page_mm=(114.3, 152.4)),),
)


def press(window: Window, *places: tuple[float, float]) -> None:
    """Press places of the table one after another."""
    canvas = window.canvas
    for place in places:
        x, y = canvas.view.to_screen.at(place)
        QTest.mouseMove(canvas, QPoint(round(x), round(y)))
        QTest.mouseClick(canvas, LEFT, pos=QPoint(round(x), round(y)))
        QTest.qWait(15)


def type_place(window: Window, text: str) -> None:
    """Typed on the canvas, taken on by the field that opens."""
    QTest.keyClicks(window.canvas, text[:1])
    until(window.strip.place.isVisible, "the field for a place")
    QTest.keyClicks(window.strip.place, text[1:])
    QTest.keyClick(window.strip.place, Qt.Key.Key_Return)
    QApplication.processEvents()


def keys(window: Window, *pressed: Qt.Key) -> None:
    for each in pressed:
        QTest.keyClick(window.canvas, each)
        QApplication.processEvents()


def yard(window: Window) -> dict[str, object]:
    """A yard with six areas of two prints: divided, each with its print; covers from one area, liners from another."""
    panel, session = window.panels.cloth, window.session
    told: dict[str, object] = {}
    until(lambda: window.steps.open_step == 1, "a job without a cloth begins at its step")
    type_into(panel.size_entry, "42 x 36 in")
    from_menu(window, "Cloth", "Divide the cloth into zones")
    QTest.keyClicks(panel.zones.columns.line, "3")
    QTest.keyClick(panel.zones.columns.line, Qt.Key.Key_Tab)
    type_into(panel.zones.lines, "2")
    click(panel.zones.divide)
    until(lambda: len(session.project.cloths[0].zones) == 6, "six zones")
    zones = session.project.cloths[0].zones
    shells = panel.zones.rows.row(zones[4].id)
    choose(shells.print_choice, "Shells")
    click(shells.more.head)
    type_into(shells.turn, "90")
    type_into(shells.name, "shells")
    told["zones"] = [
        (zone.name, zone.laid.print_id if zone.laid else None, zone.laid.turn_deg if zone.laid else None)
        for zone in session.project.cloths[0].zones
    ]
    open_step(window, 3)
    sources = window.panels.book.sources
    click(sources.head)
    choose(sources.choices["book-1", "covers"], "zone 1 of Cloth")
    liners = sources.choices["book-1", "liners"]
    choose(liners, "print Shells")
    until(lambda: not liners.box.view().isVisible(), "the list closed")
    # A bare display tells late that the list had the keys.
    QTest.qWait(300)
    come_forward()
    window.canvas.setFocus()
    until(window.canvas.hasFocus, "the keys on the cloth")
    drag(window, "front-1", (500.0, 150.0))
    until(lambda: not window.asking.searching, "the answer")
    told["elsewhere"] = seen(window)
    lay_out(window)
    until(lambda: len(session.project.layout.placements) == 4, "everything laid")
    told["laid"] = seen(window)
    told["places"] = {placed.piece: (placed.x_mm, placed.y_mm) for placed in session.project.layout.placements}
    key(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    told["one undo"] = [placed.piece for placed in session.project.layout.placements]
    from_menu(window, "Cloth", "Cut a zone in two")
    type_place(window, "-10, 228.6")
    type_place(window, "400, 228.6")
    told["cut"] = [zone.name for zone in session.project.cloths[0].zones]
    return told


def leftover(window: Window) -> dict[str, object]:
    """A crooked stained leftover: traced, stained, creased, a corner mended, and the book laid clear of it all."""
    panel, session = window.panels.cloth, window.session
    told: dict[str, object] = {}
    until(lambda: window.steps.open_step == 1, "a job without a cloth begins at its step")
    type_into(panel.size_entry, "480 x 440 mm")
    choose(panel.print_choice, "Reeds")
    from_menu(window, "Cloth", "Trace the outline")
    for place in ("10, 15", "470, 5", "480, 430", "20, 440"):
        type_place(window, place)
    keys(window, Qt.Key.Key_Return)
    until(lambda: session.project.cloths[0].outline_mm is not None, "the outline")
    told["outline"] = session.project.cloths[0].outline_mm
    from_menu(window, "Cloth", "Draw a flaw", "Draw a stain")
    press(window, (200.0, 205.0), (250.0, 212.0), (236.0, 250.0), (200.0, 205.0))
    until(lambda: len(session.project.cloths[0].flaws) == 1, "the stain")
    from_menu(window, "Cloth", "Draw a flaw", "Draw a crease")
    type_place(window, "-5, 420")
    type_place(window, "300, 425")
    keys(window, Qt.Key.Key_Return)
    until(lambda: len(session.project.cloths[0].flaws) == 2, "the crease")
    from_menu(window, "Cloth", "Change points of a flaw, zone or outline")
    press(window, (228.0, 222.0), session.project.cloths[0].flaws[0].points_mm[2])
    type_place(window, "230, 240")
    keys(window, Qt.Key.Key_Escape)
    told["flaws"] = [(flaw.name, flaw.line_width_mm, flaw.points_mm) for flaw in session.project.cloths[0].flaws]
    lay_out(window)
    until(lambda: len(session.project.layout.placements) == 4, "everything laid")
    told["laid"] = seen(window)
    fill(window, panel.flaws.by_number, "900,20\n950,20\n940,60")
    told["refused"] = panel.flaws.by_number.trouble.text()
    told["flaws kept"] = len(session.project.cloths[0].flaws)
    while session.undo_name:
        key(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    told["all undone"] = session.project == START
    return told


def fill(window: Window, points: PointsEntry, text: str) -> None:
    """Type points into their field and leave it."""
    click(window.panels.cloth.flaws.head)
    points.text.setFocus()
    for line in text.split("\n"):
        QTest.keyClicks(points.text, line)
        QTest.keyClick(points.text, Qt.Key.Key_Return)
    QTest.keyClick(points.text, Qt.Key.Key_Tab)
    QApplication.processEvents()


def main() -> None:
    way, folder = sys.argv[1], Path(sys.argv[2])
    project = folder / f"{way}.coverlayout"
    save(project, START, Pictures())
    seat = Seat(project)
    told = yard(seat.window) if way == "yard" else leftover(seat.window)
    seat.window.session.mark_saved(project)
    seat.leave(told)


if __name__ == "__main__":
    main()
