"""Steps 4 and 5: places by number on either side, turns, room wished for, and the measurements written out."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.books import add_book
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.edits.job import change_preferences
from coverlayout.document.edits.placements import place, turn_piece
from coverlayout.document.session import Session
from coverlayout.layout.question import Placed
from coverlayout.ui.panels.cutting_panel import CuttingPanel
from coverlayout.ui.panels.placement_panel import PlacementPanel
from coverlayout.ui.theme import DARK, LIGHT
from coverlayout.ui.verdict.judged import Judged

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
    assert panel.pieces.item(0).text() == "Front cover"
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


def test_lay_out_asks_for_it_and_another_look_keeps_the_list(qtbot: QtBot, panel: PlacementPanel) -> None:
    with qtbot.waitSignal(panel.lay_out):
        panel.lay_button.click()
    panel.dress(DARK)
    assert panel.pieces.count() == 4


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
    assert cells == ["130.0\u2009×\u2009170.0", "20.0", "30.0"]
    hands.choose(cutting.side, "the back")
    assert cutting.table.item(0, 2).text() == "250.0"
    bench.do(turn_piece("front-1", 90.0))
    assert cutting.table.item(0, 0).text() == "Front cover\nturned 270°"
    assert cutting.summary(bench.project) == "1 piece, marked on the back"


def test_the_measurements_are_written_for_the_side_shown(
    cutting: CuttingPanel, bench: Session, hands, tmp_path: Path
) -> None:
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    bench.do(change_preferences(side="back"))
    cutting.export_to(tmp_path)
    assert not hands.said[-1][1]
    with (tmp_path / "placement.csv").open(encoding="utf-8-sig", newline="") as file:
        (row,) = csv.DictReader(file)
    assert (row["side"], float(row["left_mm"]), float(row["top_mm"])) == ("back", 250.0, 30.0)
    assert (tmp_path / "placement.pdf").read_bytes().startswith(b"%PDF")


def test_a_folder_that_refuses_is_one_sentence(cutting: CuttingPanel, bench: Session, hands, tmp_path: Path) -> None:
    bench.do(place((Placed("front-1", bench.project.cloths[0].id, 85.0, 115.0),)))
    (tmp_path / "taken").write_text("a file, not a folder")
    cutting.export_to(tmp_path / "taken")
    assert hands.said[-1][1]
    assert "\n" not in hands.said[-1][0]
