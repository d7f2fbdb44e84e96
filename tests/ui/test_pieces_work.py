"""What is done with the chosen pieces in the window: pins, marks, lines, the clipboard, remnants; each one step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.clipboard import PIECES_MIME
from coverlayout.document.cutting.rest import StillHad, rest_asked
from coverlayout.document.cutting.still_had import still_had
from coverlayout.document.edits.placements import place
from coverlayout.document.project import Project
from coverlayout.document.recovery import Keeper
from coverlayout.document.session import Session
from coverlayout.errors import Remark
from coverlayout.layout.lay import lay
from coverlayout.layout.question import Placed
from coverlayout.ui.files.remembered import Remembered
from coverlayout.ui.look import Look
from coverlayout.ui.parts.piece_rows import rows_of
from coverlayout.ui.window import Window

# Covers of 130 x 170 (boards of 100 x 140, turn-ins of 15) on plenty of cloth; a pocket and two labels of one kind.
START = Project(
    cloths=(Cloth("cloth-1", "Swatch", 900.0, 500.0),),
    books=(Book("book-1", "Ledger", board_mm=(100.0, 140.0), liners="none", cover_turns="half"),),
    own_pieces=(
        OwnPiece("own-1", "pocket", 60.0, 90.0, turns="free"),
        OwnPiece("own-2", "label", 30.0, 20.0, turns="quarter", count=2),
    ),
    next_number=9,
)
LYING = (
    Placed("front-1", "cloth-1", 100.0, 100.0),
    Placed("back-1", "cloth-1", 300.0, 130.0),
    Placed("pocket-1", "cloth-1", 500.0, 120.0),
    Placed("label-1", "cloth-1", 700.0, 300.0),
)


@pytest.fixture
def window(qtbot: QtBot, port, look: Look, tmp_path: Path) -> Iterator[Window]:
    session = Session(place(LYING).change(START))
    window = Window(session, port, look, keeper=Keeper(tmp_path / "kept"), remembered=Remembered(tmp_path / "set"))
    qtbot.addWidget(window, before_close_func=lambda closing: session.mark_saved(tmp_path / "closing"))
    window.resize(1300, 800)
    window.show()
    qtbot.waitUntil(lambda: window._painted)
    window.asking.begin()
    yield window
    QApplication.clipboard().clear()


def lies(window: Window, piece: str) -> Placed | None:
    return window.session.project.layout.place_of(piece)


def do(window: Window, act: str, *pieces: str) -> str:
    """Do it with these pieces; what was said."""
    window.canvas.choose(pieces)
    window.banner.clear()
    window.menus.do(act)
    return window.banner.sentence.text()


def one_step(window: Window, before: Project) -> None:
    window.session.undo()
    assert window.session.project == before


def words(window: Window) -> list[str]:
    listed = window.panels.placement.pieces
    return [listed.item(at).text() for at in range(listed.count())]


# Pins


def test_pins_are_set_and_taken_by_the_same_action(window: Window) -> None:
    before = window.session.project
    do(window, "pin", "front-1", "pocket-1")
    assert window.session.project.layout.pinned == ("front-1", "pocket-1")
    assert window.session.undo_name == "Pin 2 pieces"
    assert window.panels.placement.pin.text() == "Let go"
    assert not window.panels.placement.left.isEnabled()
    do(window, "pin", "front-1", "back-1")
    assert window.session.project.layout.pinned == ("front-1", "pocket-1", "back-1")
    do(window, "pin", "back-1")
    assert window.session.undo_name == "Let back cover go"
    assert do(window, "pin", "label-2") == "Choose a planned piece that lies on a cloth first."
    for _ in range(2):
        window.session.undo()
    one_step(window, before)


def test_a_pinned_piece_is_not_carried_by_hand_or_key(window: Window) -> None:
    do(window, "pin", "front-1")
    said: list[str] = []
    window.canvas.hint.connect(said.append)
    window.canvas.choose(("front-1", "back-1"))
    window.canvas.keys.nudge((1.0, 0.0), 10.0)
    assert said == ["Front cover is pinned where it lies; let it go first."]
    assert (lies(window, "front-1"), lies(window, "back-1")) == (LYING[0], replace(LYING[1], x_mm=310.0))
    before = window.session.project
    window.menus.do("take-off")
    assert lies(window, "front-1") == LYING[0]
    assert lies(window, "back-1") is None
    one_step(window, before)


# Marks


def test_pieces_are_marked_as_cut_and_listed_so(window: Window) -> None:
    before = window.session.project
    assert do(window, "mark-cut", "front-1", "pocket-1") == "2 pieces are marked as cut and stay where they lie."
    assert [fact.piece for fact in window.session.project.cut_pieces] == ["front-1", "pocket-1"]
    assert words(window) == [
        "Back cover  ·  planned",
        "Label 1  ·  planned",
        "Label 2  ·  waits",
        "Front cover  ·  cut",
        "Pocket  ·  cut",
    ]
    window.canvas.choose(("front-1",))
    assert window.panels.placement.which.text() == "Front cover is cut"
    assert window.panels.placement.spoiled.isEnabled()
    assert not window.panels.placement.cut.isEnabled()
    one_step(window, before)


def test_a_rule_broken_by_what_was_cut_is_said(window: Window) -> None:
    window.session.do(place((Placed("label-2", "cloth-1", 10.0, 300.0),)))
    said = do(window, "mark-cut", "label-2")
    assert said.startswith("Label 2 is marked as cut and stays where it lies. But check it: ")
    assert said.endswith("Label 2 reaches 5.0 mm past the usable cloth.")
    assert window.banner.tone == "trouble"


def test_cloth_cut_already_is_not_cut_again(window: Window) -> None:
    do(window, "mark-cut", "front-1")
    window.session.do(place((Placed("label-2", "cloth-1", 100.0, 100.0),)))
    before = window.session.project
    said = do(window, "mark-cut", "label-2")
    assert "no cloth is cut twice" in said
    assert "front cover" in said.lower()
    assert window.session.project is before


def test_a_spoiled_piece_waits_again_and_the_rest_is_offered(qtbot: QtBot, window: Window, port) -> None:
    said = do(window, "mark-spoiled", "front-1")
    assert said == "Front cover is marked as spoiled: it leaves a hole in the cloth, and waits to be planned again."
    assert "Front cover  ·  waits" in words(window)
    assert words(window)[-1] == "Front cover  ·  spoiled"
    assert window.bar.spoken.said.sentence.startswith("Front cover was spoiled and waits again, and 1 more with it")
    assert window.bar.spoken.offer.isVisible()
    (offer, _) = window.banner._buttons
    offer.click()
    kind, asked = port.asked[-1][1:]
    assert (kind, [piece.id for piece in asked.question.pieces]) == ("rest", ["front-1", "label-2"])
    lain = window.session.project.layout.placements
    port.tell("done", still_had(asked))
    window.proposal_strip.take.click()
    assert set(lain) < set(window.session.project.layout.placements)
    assert window.bar.spoken.said.word in ("Fits", "Fits, tight")
    assert not window.bar.spoken.offer.isVisible()
    window.session.undo()
    assert window.session.project.layout.placements == lain


def test_marks_are_taken_back_also_those_of_spoiled_pieces(window: Window) -> None:
    do(window, "mark-cut", "back-1")
    do(window, "mark-spoiled", "front-1")
    listed = window.panels.placement.pieces
    window.canvas.choose(("pocket-1",))
    listed.clearSelection()
    listed.item(listed.count() - 1).setSelected(True)
    assert window.canvas.chosen == ()
    assert window.panels.placement.which.text() == "The hole that a spoiled front cover left"
    window.menus.do("unmark")
    assert window.banner.sentence.text() == "The mark is taken back."
    assert [fact.piece for fact in window.session.project.cut_pieces] == ["back-1"]
    assert do(window, "unmark", "back-1") == "The mark is taken back."
    assert lies(window, "back-1") == LYING[1]
    assert do(window, "unmark", "back-1").startswith("Choose a piece that is marked as cut")


def test_a_cut_piece_can_turn_out_spoiled(window: Window) -> None:
    do(window, "mark-cut", "front-1", "back-1")
    assert do(window, "mark-spoiled", "front-1", "back-1").startswith("2 pieces are marked as spoiled")
    assert {fact.state for fact in window.session.project.cut_pieces} == {"spoiled"}
    do(window, "mark-cut", "label-1")
    struck = [row.id for row in rows_of(window.session.project, ()) if row.symbol == "struck"]
    window.canvas.choose(("label-1",))
    window.panels.placement.pieces.choose(struck)
    window.menus.do("unmark")
    assert window.banner.sentence.text() == "3 marks are taken back."
    assert window.session.project.cut_pieces == ()
    assert lies(window, "label-1") == LYING[3]


# Laying


def test_the_rest_is_asked_anew_when_a_piece_is_moved_meanwhile(window: Window, port) -> None:
    window.menus.do("lay-rest")
    first = port.asked[-1][2]
    assert window.asking.laying
    window.session.do(place((replace(LYING[0], x_mm=120.0),)))
    again = port.asked[-1][2]
    assert again != first
    assert {placed.x_mm for _, placed in again.question.cloths[0].fixed if placed.piece == "front-1"} == {120.0}
    port.tell("progress", share=0.3)
    assert window.asking.share == 0.3
    port.tell("done", still_had(again))
    assert lies(window, "label-2") is None, "it is only proposed"
    window.menus.do("take-proposal")
    assert lies(window, "label-2") is not None


def test_only_the_chosen_are_laid(window: Window, port) -> None:
    do(window, "lay-chosen", "front-1", "label-2")
    asked = port.asked[-1][2]
    assert [piece.id for piece in asked.question.pieces] == ["front-1", "label-2"]
    assert [placed.piece for _, placed in asked.question.cloths[0].fixed] == ["back-1", "pocket-1", "label-1"]
    window.asking.cancel()
    assert not window.asking.laying


def test_what_finds_no_place_is_told_with_what_was_found(window: Window, port) -> None:
    window.session.do(place((Placed("label-2", "cloth-1", 800.0, 300.0),)))
    tight = replace(START, cloths=(replace(START.cloths[0], width_mm=140.0, length_mm=200.0),))
    window.session.replace_all(tight, window.session.pictures, None)
    window.menus.do("lay-rest")
    port.tell("done", still_had(port.asked[-1][2]))
    said = window.banner.sentence.text()
    assert said.startswith("It cannot all be done: ")
    assert "We found room for" in said
    assert "front-1" not in said
    assert window.banner.tone == "trouble"


def test_after_the_rest_the_whole_job_is_asked_on(qtbot: QtBot, window: Window, port) -> None:
    window.menus.do("lay-rest")
    port.tell("done", still_had(port.asked[-1][2]))
    assert port.asked[-1][1] == "lay", "the job's own answer was not there yet"
    port.tell("done", lay(replace(port.asked[-1][2], steps=2_000)))
    assert port.asked[-1][1] == "ladder"
    window.menus.do("take-off")
    window.canvas.choose(("label-2",))
    window.menus.do("take-off")
    window.menus.do("lay-rest")
    port.tell("done", still_had(port.asked[-1][2]))
    assert port.asked[-1][1] == "ladder"


def test_a_fault_of_the_search_ends_it(window: Window, port) -> None:
    window.menus.do("lay-rest")
    port.tell("trouble", trouble=Remark.of("search-fault", kind="KeyError"))
    assert not window.asking.laying
    assert window.banner.tone == "trouble"


def test_pinned_pieces_stay_in_the_job_and_their_room_counts(qtbot: QtBot, window: Window, port) -> None:
    """The front cover is pinned with its left edge 2 mm from the cloth's: no layout has more room."""
    window.session.do(place((replace(LYING[0], x_mm=67.0),)))
    do(window, "pin", "front-1")
    qtbot.waitUntil(lambda: bool(port.asked) and port.asked[-1][1] == "lay")
    question = port.asked[-1][2]
    assert "front-1" not in [piece.id for piece in question.pieces]
    port.tell("done", lay(replace(question, steps=20_000)))
    assert window.asking.answer is not None
    assert window.asking.answer.spare_mm == pytest.approx(2.0)
    assert window.asking.answer.spare_proved
    assert window.bar.room.figure == "2.0 mm"
    window.proposing.lay_out()
    window.proposing.take()
    assert lies(window, "front-1") == replace(LYING[0], x_mm=67.0)


def test_nothing_waits_and_that_is_said(window: Window) -> None:
    window.session.do(place((Placed("label-2", "cloth-1", 800.0, 300.0),)))
    assert do(window, "lay-rest") == "No piece waits: everything lies already."
    do(window, "pin", "front-1")
    assert do(window, "lay-chosen", "front-1").startswith("Choose pieces that are neither cut nor pinned")


# Lines


def test_pieces_come_to_one_line_as_seen(window: Window) -> None:
    """Left edges: the front cover's is at 100 - 65 = 35; the pocket, 60 wide, comes to 35 + 30 = 65."""
    before = window.session.project
    do(window, "align-left", "front-1", "pocket-1")
    assert lies(window, "pocket-1") == replace(LYING[2], x_mm=65.0)
    assert window.session.undo_name == "Bring 2 pieces to one line"
    one_step(window, before)
    window.turn_over()
    do(window, "align-left", "front-1", "pocket-1")
    # Seen from the back left is right: the pocket's right edge at 530 is the line, the cover's middle comes to 465.
    assert lies(window, "front-1") == replace(LYING[0], x_mm=465.0)


def test_a_pinned_piece_gives_the_line(window: Window) -> None:
    do(window, "pin", "pocket-1")
    do(window, "align-top", "front-1", "pocket-1")
    # The pocket's upper edge lies at 120 - 45 = 75: the cover's centre comes to 75 + 85.
    assert (lies(window, "front-1"), lies(window, "pocket-1")) == (replace(LYING[0], y_mm=160.0), LYING[2])
    assert do(window, "align-top", "front-1", "pocket-1") == "They lie like that already."


def test_pieces_are_spread_and_turned_alike(window: Window) -> None:
    do(window, "spread-across-middles", "front-1", "back-1", "pocket-1")
    assert lies(window, "back-1") == LYING[1], "300 is in the middle of 100 and 500 already"
    do(window, "spread-across-gaps", "front-1", "back-1", "pocket-1")
    # Gaps: from 165 to 470 are 305 mm, of which the back cover takes 130: 87.5 on each side.
    back = lies(window, "back-1")
    assert back is not None
    assert back.x_mm == pytest.approx(165.0 + 87.5 + 65.0)
    window.session.do(place((replace(LYING[3], turn_deg=90.0),)))
    do(window, "same-turn", "pocket-1", "label-1")
    turned = lies(window, "pocket-1")
    assert turned is not None
    assert turned.turn_deg == 90.0
    before = window.session.project
    assert "front cover" in do(window, "same-turn", "front-1", "label-1").lower()
    assert window.session.project is before
    assert do(window, "align-left", "front-1") == "Choose 2 pieces or more on one cloth first."


# The clipboard


def test_own_pieces_are_copied_and_pasted(window: Window) -> None:
    before = window.session.project
    assert do(window, "copy-pieces", "pocket-1") == "The piece is on the clipboard."
    assert QApplication.clipboard().mimeData().hasFormat(PIECES_MIME)
    do(window, "paste-pieces")
    assert [own.name for own in window.session.project.own_pieces] == ["pocket", "label", "pocket 2"]
    assert window.canvas.chosen == ("pocket 2-1",)
    assert lies(window, "pocket 2-1") is None
    one_step(window, before)
    assert do(window, "copy-pieces", "pocket-1", "label-2") == "2 pieces are on the clipboard."


def test_cut_to_the_clipboard_takes_the_piece_out_in_one_step(window: Window) -> None:
    before = window.session.project
    do(window, "cut-pieces", "label-1")
    assert window.session.project.own_pieces[1].piece_ids == ("label-2",)
    one_step(window, before)
    do(window, "paste-pieces")
    assert [own.name for own in window.session.project.own_pieces][-1] == "label 3"


def test_pieces_of_a_book_and_a_strange_clipboard_are_told(window: Window) -> None:
    before = window.session.project
    for act in ("copy-pieces", "cut-pieces"):
        assert do(window, act, "front-1").startswith("Front cover belongs to a book and comes with it")
    QApplication.clipboard().setText("milk, eggs")
    assert do(window, "paste-pieces").startswith("The clipboard holds no pieces of this program")
    broken = QMimeData()
    broken.setData(PIECES_MIME, b"{")
    QApplication.clipboard().setMimeData(broken)
    assert do(window, "paste-pieces").startswith("The clipboard holds no pieces of this program")
    assert window.session.project is before


# Remnants


def test_the_rest_of_the_cloth_becomes_a_cloth(window: Window) -> None:
    assert "nothing was cut from it yet" in do(window, "remnant", "front-1")
    do(window, "mark-cut", "front-1")
    before = window.session.project
    said = do(window, "remnant", "front-1")
    assert said == "A cloth of its own now: Rest of Swatch. The old one keeps what was cut from it."
    rest = window.session.project.cloths[1]
    assert lies(window, "back-1") == replace(LYING[1], cloth=rest.id)
    one_step(window, before)


def test_a_rest_comes_into_sight_also_where_the_maker_chose_the_view(window: Window) -> None:
    canvas = window.canvas
    do(window, "mark-cut", "front-1")
    canvas.sight.true_size()
    canvas.sight.pan_to(canvas.view.panned((-400.0, 0.0)))
    window.menus.do("remnant")
    boxes = [canvas.view.box_px(sheet.box) for sheet in canvas.bench.sheets]
    assert len(boxes) == 2
    room = canvas.sight.room_px
    assert room.left_mm <= min(box.left_mm for box in boxes)
    assert max(box.right_mm for box in boxes) <= room.right_mm


def test_a_part_is_drawn_to_become_a_cloth(window: Window) -> None:
    canvas = window.canvas
    window.menus.do("remnant-part")
    task = canvas.work.task
    assert task is not None
    assert task.title == "A part as a cloth of its own"
    for corner in ((600.0, 50.0), (850.0, 400.0)):
        canvas.work.set_point(corner, Qt.KeyboardModifier.NoModifier)
    assert [(cloth.name, cloth.width_mm, cloth.length_mm) for cloth in window.session.project.cloths[1:]] == [
        ("Rest of Swatch", pytest.approx(250.0), pytest.approx(350.0))
    ]


def test_without_a_cloth_there_is_no_rest(window: Window) -> None:
    window.session.replace_all(replace(START, cloths=()), window.session.pictures, None)
    assert do(window, "remnant") == "There is no cloth yet."
    assert do(window, "remnant-part") == "There is no cloth yet."


# The list


def test_the_list_asks_for_the_same_menu(window: Window) -> None:
    listed = window.panels.placement.pieces
    at = listed.visualItemRect(listed.item(1)).center()
    asked: list[QPoint] = []
    # A menu that is open would wait for its own keys.
    listed.menu_asked.disconnect(window.menus.pop_up_pieces)
    listed.menu_asked.connect(asked.append)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, listed.mapToGlobal(at))
    listed.contextMenuEvent(event)
    assert asked == [listed.mapToGlobal(at)]
    assert window.canvas.chosen == ("back-1",)


def test_the_panel_does_what_the_menu_does(window: Window) -> None:
    window.canvas.choose(("front-1",))
    panel = window.panels.placement
    panel.pin.click()
    assert window.session.project.layout.pinned == ("front-1",)
    panel.pin.click()
    panel.cut.click()
    panel.spoiled.click()
    assert [fact.state for fact in window.session.project.cut_pieces] == ["spoiled"]
    assert panel.rest_button.isEnabled()


def test_a_typed_angle_is_one_that_is_allowed(window: Window, hands) -> None:
    panel = window.panels.placement
    window.canvas.choose(("pocket-1",))
    hands.type(panel.turn, "33.3")
    pocket = lies(window, "pocket-1")
    assert pocket is not None
    assert pocket.turn_deg == 33.3
    window.canvas.choose(("front-1",))
    before = window.session.project
    hands.type(panel.turn, "90")
    assert window.session.project is before
    assert "may not lie at 90°: the print or the grain allows 0° or 180°" in panel.turn.trouble.text()


def test_rest_asked_of_the_window_is_that_of_the_model(window: Window, port) -> None:
    window.menus.do("lay-rest")
    assert port.asked[-1][2] == rest_asked(window.session.project, seconds=20.0)
    assert isinstance(still_had(port.asked[-1][2]), StillHad)
