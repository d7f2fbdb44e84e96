"""Sits before the real window when a cover was spoiled, and plans it again; what was seen goes out as one JSON line.

Run as a program of its own on a display: `hands_on_a_spoiled_cover.py cut FOLDER` or `... again FOLDER`.
"""

from __future__ import annotations

import sys
from pathlib import Path

from hands_on_the_window import (
    choose,
    click,
    from_menu,
    key,
    lay_out,
    motif,
    open_step,
    seen,
    take_proposal,
    type_into,
    with_path,
)
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from seat import Seat, until

from coverlayout.ui.window import Window

# Places of the old cloth that no piece covers at the end: two in the middle of an ellipse (at 28.5, 40 in the tile, two
# columns on and so 96 mm lower: 156.5, 136 and every 96 mm), two on bare ground.
PLACES_MM = ((156.5, 232.0), (156.5, 328.0), (189.0, 150.0), (10.0, 320.0))
_PATCH_PX = 7


def choose_pieces(window: Window, *pieces: str) -> None:
    """Press pieces on the cloth, the further ones with Shift held."""
    canvas = window.canvas
    for number, piece in enumerate(pieces):
        x, y = canvas.view.to_screen.at(canvas.bench.outlines[piece][1].middle)
        held = Qt.KeyboardModifier.ShiftModifier if number else Qt.KeyboardModifier.NoModifier
        QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, held, QPoint(round(x), round(y)))
        QApplication.processEvents()
    assert canvas.chosen == pieces, canvas.chosen


def save(window: Window, path: Path) -> None:
    press_save = (Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    if window.session.path is None:
        with_path(lambda: key(window, *press_save), path)
    else:
        key(window, *press_save)
    until(lambda: not window.session.unsaved, "saved")


def offers(window: Window) -> list[str]:
    """What can be pressed in the line over the cloth and in the bar."""
    buttons = [*window.banner.findChildren(QPushButton), *window.bar.findChildren(QPushButton)]
    return [each.text() for each in buttons if each.isVisible()]


def looked(window: Window) -> dict[str, object]:
    listed = window.panels.placement.pieces
    return {**seen(window), "rows": [listed.item(at).text() for at in range(listed.count())], "offers": offers(window)}


def colours(window: Window, cloth_id: str, frame_mm: tuple[float, float]) -> list[tuple[float, ...]]:
    """The mean colour seen around each of the places, counted from a place of the cloth."""
    canvas = window.canvas
    picture = canvas.grab().toImage()
    ratio = picture.devicePixelRatio()
    found = []
    for x_mm, y_mm in PLACES_MM:
        on_table = canvas.bench.sheet(cloth_id).to_table.at((x_mm - frame_mm[0], y_mm - frame_mm[1]))
        x, y = canvas.view.to_screen.at(on_table)
        half = _PATCH_PX // 2
        patch = QRect(round(x * ratio) - half, round(y * ratio) - half, _PATCH_PX, _PATCH_PX)
        dots = [
            picture.pixelColor(left, top).getRgb()[:3]
            for left in range(patch.left(), patch.right() + 1)
            for top in range(patch.top(), patch.bottom() + 1)
        ]
        found.append(tuple(sum(part) / len(dots) for part in zip(*dots, strict=True)))
    return found


def make(window: Window, folder: Path) -> None:
    """A print that has a head, a swatch and a bit, one book with covers and liners, 4 mm between cuts; laid out."""
    panels, session = window.panels, window.session
    motif(folder / "quince.png")
    with_path(lambda: click(panels.prints.open_button), folder / "quince.png")
    until(lambda: bool(session.project.prints), "the picture")
    type_into(panels.prints.size_entry, "64 x 96 mm")
    choose(panels.prints.layout_choice, "half-drop")
    open_step(window, 2)
    type_into(panels.cloth.size_entry, "480 x 420 mm")
    open_step(window, 3)
    type_into(panels.book.size_entry, "4.5x6in")
    until(lambda: len(window.canvas.bench.outlines) == 4, "four pieces")
    open_step(window, 4)
    type_into(panels.placement.gap, "4 mm")
    lay_out(window)
    until(lambda: len(session.project.layout.placements) == 4, "everything laid")


def answered(window: Window) -> None:
    asking = window.asking
    until(lambda: not asking.searching and not asking.answer_old and not asking.ladder_old, "all answers")


def cut(window: Window, folder: Path) -> dict[str, object]:
    """Laid, two covers cut, one of them spoiled and planned again; then more than there is cloth for; then the rest."""
    session, path = window.session, folder / "quinces.coverlayout"
    told: dict[str, object] = {}
    make(window, folder)
    told["laid"] = looked(window)
    choose_pieces(window, "front-1", "back-1")
    from_menu(window, "Pieces", "Mark as cut")
    told["cut"] = looked(window)
    save(window, path)
    (folder / "cut.coverlayout").write_bytes(path.read_bytes())

    choose_pieces(window, "front-1")
    from_menu(window, "Pieces", "Mark as spoiled")
    told["spoiled"] = looked(window)
    click(window.bar.spoken.offer)
    take_proposal(window)
    until(lambda: len(session.project.layout.placements) == 3, "the cover laid again")
    told["laid again"] = looked(window)
    export(window, folder / "papers")
    save(window, path)
    (folder / "again.coverlayout").write_bytes(path.read_bytes())

    open_step(window, 4)
    choose_pieces(window, "front-1", "liner-front-1")
    key(window, Qt.Key.Key_C, Qt.KeyboardModifier.ShiftModifier)
    told["two spoiled"] = looked(window)
    key(window, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    until(lambda: "cannot" in window.banner.sentence.text(), "what can still be had")
    told["still had"] = looked(window)
    take_proposal(window)
    told["still had, taken"] = looked(window)

    key(window, Qt.Key.Key_Escape)
    told["motif before"] = colours(window, session.project.cloths[0].id, (0.0, 0.0))
    from_menu(window, "Pieces", "Make the rest a cloth of its own")
    told["rest"] = looked(window)
    until(lambda: len(session.project.cloths) == 2, "the rest")
    gone = session.project.cloths[0].flaws[-1].points_mm
    corner = min(x for x, _ in gone), min(y for _, y in gone)
    told["motif after"] = colours(window, session.project.cloths[1].id, corner)
    save(window, path)
    told["undone"] = undo_all(window)
    told["made again"] = looked(window)
    answered(window)
    told["at the end"] = looked(window)
    told["as saved"] = not session.unsaved
    return told


def undo_all(window: Window) -> list[object]:
    """Back step by step to the empty window, then forth again; what each step was called and left."""
    session, steps = window.session, []
    last = session.project
    while session.undo_name:
        steps.append([session.undo_name, len(session.project.cut_pieces), len(session.project.layout.placements)])
        key(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    project = session.project
    steps.append(["", len(project.prints), len(project.cloths), len(project.books), len(project.cut_pieces)])
    while session.redo_name:
        key(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert session.project == last
    return steps


def again(window: Window, folder: Path) -> dict[str, object]:
    """The project opened again holds the same facts."""
    until(lambda: window.session.path is not None, "the project")
    answered(window)
    told: dict[str, object] = {"opened": looked(window)}
    export(window, folder / "papers again")
    return told


def export(window: Window, folder: Path) -> None:
    folder.mkdir()
    open_step(window, 5)
    with_path(lambda: click(window.panels.cutting.export_button), folder)
    until(lambda: str(folder) in window.banner.sentence.text(), "the papers")


def main() -> None:
    way, folder = sys.argv[1], Path(sys.argv[2])
    seat = Seat(None if way == "cut" else folder / "quinces.coverlayout")
    seat.leave(cut(seat.window, folder) if way == "cut" else again(seat.window, folder))


if __name__ == "__main__":
    main()
