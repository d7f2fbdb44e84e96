"""Steps 4 and 5: places by number on either side, turns, room wished for, and the measurements written out."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.books import add_book, add_own_piece
from coverlayout.document.edits.cloths import add_cloth, change_cloth, remove_cloth
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.edits.placements import move_by, place, turn_piece
from coverlayout.document.file import load, save
from coverlayout.document.session import Session
from coverlayout.layout.question import Placed
from coverlayout.ui.panels.cutting_panel import CuttingPanel
from coverlayout.ui.panels.placement_panel import PlacementPanel
from coverlayout.ui.parts.measures import in_lines
from coverlayout.ui.theme import DARK, LIGHT
from coverlayout.ui.verdict.judged import Judged
from coverlayout.units import LengthStyle

# A board of 100 x 140 with turn-ins of 15 is cut 130 x 170; its centre lies 65 mm from the left, 85 from the top.
WIDTH_MM, LENGTH_MM = 400.0, 500.0


@pytest.fixture
def bench(session: Session) -> Session:
    session.do(add_cloth(Cloth("", "Cloth", WIDTH_MM, LENGTH_MM)))
    session.do(add_book(Book("", "Ledger", board_mm=(100.0, 140.0), cover_turns="quarter", liner_turns="none")))
    return session


@pytest.fixture
def panel(qtbot: QtBot, bench: Session, hands) -> PlacementPanel:
    panel = PlacementPanel(bench, hands.hear, LIGHT, Judged())
    qtbot.addWidget(panel)
    bench.listen(lambda old, new: panel.show_project(new))
    panel.show_project(bench.project)
    return panel


@pytest.fixture
def front(panel: PlacementPanel, bench: Session) -> PlacementPanel:
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    panel.show_chosen(("front-1",))
    return panel


def test_pieces_are_listed_with_their_state(panel: PlacementPanel, bench: Session) -> None:
    words = [panel.pieces.item(at).text() for at in range(panel.pieces.count())]
    assert words == ["Front cover  ·  waits", "Back cover  ·  waits", "Front liner  ·  waits", "Back liner  ·  waits"]
    assert panel.summary(bench.project) == "0 of 4 placed"
    cloth = bench.project.cloths[0].id
    bench.do(place((Placed("front-1", cloth, 85.0, 115.0), Placed("back-1", cloth, 90.0, 120.0))))
    assert panel.pieces.item(0).text() == "Front cover  ·  breaks a rule"
    assert panel.summary(bench.project) == "2 of 4 placed, 2 not as they may lie"


def test_the_chosen_piece_is_told_both_ways(qtbot: QtBot, panel: PlacementPanel) -> None:
    with qtbot.waitSignal(panel.chosen) as heard:
        panel.pieces.item(1).setSelected(True)
    assert heard.args == [("back-1",)]
    with qtbot.assertNotEmitted(panel.chosen):
        panel.show_chosen(("front-1", "liner-back-1"))
    assert panel.chosen_ids == ("front-1", "liner-back-1")
    assert panel.which.text() == "Back liner waits beside the cloth"


def test_a_place_is_the_distance_from_the_edges(front: PlacementPanel, bench: Session, hands) -> None:
    # Centre at 85, 115: the cut edge lies at 85 - 65 = 20 and 115 - 85 = 30.
    assert (front.left.line.text(), front.top.line.text(), front.turn.line.text()) == ("20", "30", "0")
    hands.type(front.left, "25.5")
    hands.type(front.top, "1 in")
    placed = bench.project.layout.place_of("front-1")
    assert placed is not None
    assert (placed.x_mm, placed.y_mm) == pytest.approx((90.5, 110.4))
    assert bench.undo_name is not None


def test_on_the_back_the_same_numbers_count_from_the_other_edge(front: PlacementPanel, bench: Session, hands) -> None:
    bench.do(change_preferences(side="back"))
    # Seen from the back the piece's left edge is its right edge on the print side: 400 - (20 + 130).
    assert front.left.line.text() == "250"
    assert "Seen from the back" in front.seen_from.text()
    hands.type(front.left, "240")
    placed = bench.project.layout.place_of("front-1")
    assert placed is not None
    assert placed.x_mm == pytest.approx(95.0)
    hands.type(front.turn, "90")
    placed = bench.project.layout.place_of("front-1")
    assert placed is not None
    assert placed.turn_deg == 270.0
    assert front.turn.line.text() == "90"


def test_turn_on_goes_through_the_turns_a_piece_allows(front: PlacementPanel, bench: Session, hands) -> None:
    turns = []
    for _ in range(4):
        front.next_turn.click()
        placed = bench.project.layout.place_of("front-1")
        assert placed is not None
        turns.append(placed.turn_deg)
    assert turns == [90.0, 180.0, 270.0, 0.0]
    bench.do(place((Placed("liner-front-1", bench.project.cloths[0].id, 300.0, 300.0),)))
    front.show_chosen(("liner-front-1",))
    front.next_turn.click()
    assert "may lie no other way" in hands.said[-1][0]


def test_take_off_lets_the_piece_wait(front: PlacementPanel, bench: Session) -> None:
    front.off.click()
    assert bench.project.layout.placements == ()
    assert not front.left.isEnabled()


def test_room_and_gap_are_rules_of_the_job(panel: PlacementPanel, bench: Session, hands) -> None:
    hands.type(panel.spare, "4")
    hands.type(panel.gap, "1/16 in")
    assert (bench.project.rules.spare_wish_mm, bench.project.rules.gap_mm) == (4.0, 1.5875)


def test_what_is_best_is_a_rule_of_the_job_in_one_step(
    panel: PlacementPanel, bench: Session, hands, tmp_path: Path
) -> None:
    assert panel.best.value == "room"
    before = bench.project
    hands.choose(panel.best, "the least length of cloth")
    assert bench.project.rules.objective == "least length"
    save(tmp_path / "best.coverlayout", bench.project, bench.pictures)
    assert load(tmp_path / "best.coverlayout").project.rules.objective == "least length"
    hands.choose(panel.best, "the largest piece left over")
    bench.undo()
    assert panel.best.value == "least length"
    bench.undo()
    assert bench.project == before
    assert panel.best.value == "room"


def test_lay_out_asks_for_it_and_another_look_keeps_the_list(qtbot: QtBot, panel: PlacementPanel) -> None:
    with qtbot.waitSignal(panel.lay_out):
        panel.lay_button.click()
    panel.dress(DARK)
    assert panel.pieces.count() == 4


def test_enter_in_the_list_lays_a_waiting_piece(qtbot: QtBot, panel: PlacementPanel) -> None:
    panel.pieces.item(1).setSelected(True)
    with qtbot.waitSignal(panel.lay_chosen):
        qtbot.keyClick(panel.pieces, Qt.Key.Key_Return)
    with qtbot.assertNotEmitted(panel.lay_chosen):
        qtbot.keyClick(panel.pieces, Qt.Key.Key_Down)


@pytest.fixture
def cutting(qtbot: QtBot, bench: Session, hands) -> CuttingPanel:
    panel = CuttingPanel(bench, hands.hear)
    qtbot.addWidget(panel)
    bench.listen(lambda old, new: panel.show_project(new))
    panel.show_project(bench.project)
    return panel


def test_the_table_shows_the_side_being_marked(cutting: CuttingPanel, bench: Session, hands) -> None:
    assert not cutting.export_button.isEnabled()
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    cells = [cutting.table.item(0, column).text() for column in range(1, 4)]
    assert cells == ["130.00\u2009×\u2009170.00", "20.00", "30.00"]
    hands.choose(cutting.side, "the back")
    assert cutting.table.item(0, 2).text() == "250.00"
    bench.do(turn_piece("front-1", 90.0))
    assert cutting.table.item(0, 0).text().replace("\n", " ") == "Front cover turned 90° counter-clockwise"
    assert cutting.summary(bench.project) == "1 piece, marked on the back"


def exported(qtbot: QtBot, cutting: CuttingPanel, hands, folder: Path) -> bool:
    """Export there and wait until it is told; whether it was told as trouble."""
    hands.said.clear()
    cutting.export_to(folder)
    qtbot.waitUntil(lambda: bool(hands.said))
    trouble: bool = hands.said[-1][1]
    return trouble


def test_the_measurements_are_written_for_the_side_shown(
    qtbot: QtBot, cutting: CuttingPanel, bench: Session, hands, tmp_path: Path
) -> None:
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    bench.do(change_preferences(side="back"))
    assert not exported(qtbot, cutting, hands, tmp_path)
    with (tmp_path / "placement.csv").open(encoding="utf-8-sig", newline="") as file:
        (row,) = csv.DictReader(file)
    assert (row["side"], float(row["left_mm"]), float(row["top_mm"])) == ("back", 250.0, 30.0)
    assert (tmp_path / "placement.pdf").read_bytes().startswith(b"%PDF")


def test_papers_that_lie_there_are_replaced_only_when_asked_for(
    qtbot: QtBot, cutting: CuttingPanel, bench: Session, hands, tmp_path: Path
) -> None:
    asked: list[tuple[str, dict[str, Callable[[], None]]]] = []
    cutting.asks.connect(lambda words, answers: asked.append((words, dict(answers))))
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    assert not exported(qtbot, cutting, hands, tmp_path)
    before = (tmp_path / "placement.csv").read_bytes()
    bench.do(change_preferences(side="back"))
    hands.said.clear()
    cutting.export_to(tmp_path)
    (words, answers) = asked.pop()
    assert "for the print side already" in words
    assert "those for the back?" in words
    answers["Keep"]()
    assert (tmp_path / "placement.csv").read_bytes() == before
    assert hands.said == []
    lies = Placed("back-1", bench.project.cloths[0].id, 90.0, 120.0)
    bench.do(place((lies,)))
    cutting.export_to(tmp_path)
    assert asked == [], "papers that cannot be made are not asked about"
    assert hands.said.pop()[1]
    bench.undo()
    # The side asked about is the one that is written, whatever is looked at when the answer comes.
    bench.do(change_preferences(side="print"))
    answers["Replace"]()
    qtbot.waitUntil(lambda: bool(hands.said))
    with (tmp_path / "placement.csv").open(encoding="utf-8", newline="") as file:
        assert [row["side"] for row in csv.DictReader(file)] == ["back"]
    assert asked == []


def test_the_table_has_the_figures_of_the_file(
    qtbot: QtBot, cutting: CuttingPanel, bench: Session, hands, tmp_path: Path
) -> None:
    # 85.236 - 65 = 20.236 and 115.114 - 85 = 30.114.
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.236, 115.114),)))
    assert not exported(qtbot, cutting, hands, tmp_path)
    with (tmp_path / "placement.csv").open(encoding="utf-8", newline="") as file:
        (row,) = csv.DictReader(file)
    shown = [cutting.table.item(0, column).text() for column in (2, 3)]
    assert shown == [row["left_mm"], row["top_mm"]] == ["20.24", "30.11"]
    assert "the drawing rounds to 0.5 mm" in cutting.rounded.text()
    bench.do(change_preferences(length_style=LengthStyle("in", inch_parts=16)))
    # 130 / 25.4 = 5.1181, 170 / 25.4 = 6.6929, 20.236 / 25.4 = 0.7967.
    cells = [cutting.table.item(0, column).text() for column in (1, 2)]
    assert cells == ["5.118\u2009×\u20096.693", "0.797"]
    assert "the drawing rounds to 1/16 in" in cutting.rounded.text()


def test_every_row_says_which_piece_it_is(qtbot: QtBot, cutting: CuttingPanel, bench: Session) -> None:
    cloth = bench.project.cloths[0].id
    bench.do(add_own_piece(OwnPiece("", "wall of the slipcase at the fore-edge", 40.0, 60.0, count=12)))
    bench.do(place(tuple(Placed(f"wall of the slipcase at the fore-edge-{n}", cloth, 100.0, 100.0) for n in (12, 7))))
    bench.do(place((Placed("back-1", cloth, 200.0, 200.0), Placed("front-1", cloth, 85.0, 115.0))))
    cutting.table.resize(292, 200)
    cutting.show_project(bench.project)
    names = [cutting.table.item(row, 0).text().replace("\n", " ") for row in range(cutting.table.rowCount())]
    wall = "Wall of the slipcase at the fore-edge"
    assert names == ["Front cover", "Back cover", f"{wall} 7", f"{wall} 12"]
    metrics = cutting.table.fontMetrics()
    for row in range(4):
        lines = cutting.table.item(row, 0).text().split("\n")
        assert max(map(metrics.horizontalAdvance, lines)) <= cutting.table.columnWidth(0)
        assert cutting.table.rowHeight(row) >= metrics.lineSpacing() * len(lines)
    cutting.table.resize(600, 200)
    assert cutting.table.item(3, 0).text().count("\n") < 3


def test_a_word_too_long_for_its_line_keeps_its_end(qtbot: QtBot, cutting: CuttingPanel) -> None:
    metrics = cutting.table.fontMetrics()
    first, last = in_lines("Slipcasewallattheforeedge 12", metrics, metrics.horizontalAdvance("Slipcasewall"))
    assert last == "12"
    assert first.startswith("Slip")
    assert first.endswith("edge")
    assert in_lines("", metrics, 50) == [""]


def test_a_crooked_cloth_says_where_left_and_top_begin(cutting: CuttingPanel, bench: Session) -> None:
    cloth = bench.project.cloths[0].id
    bench.do(place((Placed("front-1", cloth, 150.0, 180.0),)))
    assert cutting.notes.isHidden()
    bench.do(change_cloth(cloth, outline_mm=((20.0, 0.0), (400.0, 10.0), (390.0, 500.0), (0.0, 480.0))))
    assert not cutting.notes.isHidden()
    assert "leftmost and the topmost point" in cutting.notes.text()


def test_a_row_chosen_chooses_its_piece(qtbot: QtBot, cutting: CuttingPanel, bench: Session) -> None:
    cloth = bench.project.cloths[0].id
    bench.do(place((Placed("front-1", cloth, 85.0, 115.0), Placed("back-1", cloth, 230.0, 115.0))))
    with qtbot.waitSignal(cutting.chosen) as told:
        cutting.table.selectRow(1)
    assert told.args == [("back-1",)]
    # What is chosen on the cloth is marked here without being told again, and stays marked when it moves.
    with qtbot.assertNotEmitted(cutting.chosen):
        cutting.show_chosen(("front-1",))
        bench.do(move_by(("front-1",), 0.0, 1.0, "Front cover"))
        assert [index.row() for index in cutting.table.selectionModel().selectedRows()] == [0]
        cutting.show_chosen(())
    assert not cutting.table.selectionModel().selectedRows()


def test_the_papers_are_looked_for_beside_the_project(cutting: CuttingPanel, bench: Session, monkeypatch) -> None:
    begun: list[str] = []
    monkeypatch.setattr(
        QFileDialog, "getExistingDirectory", staticmethod(lambda parent, words, folder: begun.append(folder) or "")
    )
    cutting.ask_for_folder()
    bench.mark_saved(Path("/books/logs/harbour.coverlayout"))
    cutting.ask_for_folder()
    assert begun == ["", "/books/logs"]


def test_the_table_turns_to_the_cloth_of_the_chosen_piece(qtbot: QtBot, cutting: CuttingPanel, bench: Session) -> None:
    first = bench.project.cloths[0].id
    bench.do(add_cloth(Cloth("", "Offcut", 300.0, 300.0)))
    second = bench.project.cloths[1].id
    bench.do(place((Placed("front-1", first, 85.0, 115.0), Placed("back-1", second, 100.0, 115.0))))
    cutting.show()
    qtbot.waitExposed(cutting)
    cutting.show_chosen(("back-1",))
    assert cutting.chooser.box.currentText() == "Offcut"
    assert cutting.table.item(0, 0).text().replace("\n", " ") == "Back cover"
    cutting.show_chosen(("liner-front-1",))
    assert cutting.chooser.box.currentText() == "Offcut", "a piece that waits lies on no cloth"
    cutting.show_chosen(("back-1", "front-1"))
    assert cutting.chooser.box.currentText() == "Cloth"


def test_a_folder_that_refuses_is_one_sentence(
    qtbot: QtBot, cutting: CuttingPanel, bench: Session, hands, tmp_path: Path
) -> None:
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    (tmp_path / "taken").write_text("a file, not a folder")
    assert exported(qtbot, cutting, hands, tmp_path / "taken")
    assert "\n" not in hands.said[-1][0]


def test_a_book_that_cannot_be_made_here_leaves_steps_4_and_5_empty(
    front: PlacementPanel, cutting: CuttingPanel, bench: Session
) -> None:
    """A newer program's file may hold a structure that this one does not make."""
    project = bench.project
    other = replace(project, books=(replace(project.books[0], structure="rounded-case"),))
    bench.replace_all(other, bench.pictures, None)
    front.show_project(other)
    cutting.show_project(other)
    assert front.pieces.count() == 0
    assert not front.left.isEnabled()
    assert front.summary(other) == "The pieces of the book come first"
    assert cutting.table.rowCount() == 0


def test_the_place_of_a_cut_piece_is_read_and_not_changed(front: PlacementPanel, bench: Session) -> None:
    before = front.left.line.text(), front.top.line.text(), front.turn.line.text()
    assert before == ("20", "30", "0")
    bench.do(mark_cut(("front-1",)))
    front.show_chosen(("front-1",))
    assert front.which.text() == "Front cover is cut"
    assert (front.left.line.text(), front.top.line.text(), front.turn.line.text()) == before
    assert not any(each.isEnabled() for each in (front.left, front.top, front.turn, front.next_turn, front.off))
    assert not front.pin.isEnabled()
    assert not front.cut.isEnabled()
    assert front.spoiled.isEnabled()


def test_what_follows_from_an_edit_names_pieces_and_not_their_ids(cutting: CuttingPanel, bench: Session, hands) -> None:
    cloth = bench.project.cloths[0].id
    bench.do(place((Placed("front-1", cloth, 85.0, 115.0),)))
    cutting.do(remove_cloth(cloth))
    assert hands.said[-1] == ("1 waiting beside the cloth again: front cover", False)
