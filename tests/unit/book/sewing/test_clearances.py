"""Remarks on holes too near an edge, in a joint, and on stations where the paper would tear."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Sewing, StationRule, Structure
from coverlayout.book.sewing.clearances import clearance_notes
from coverlayout.errors import Remark

LEDGER = Book("b", "Ledger", page_mm=(100.0, 150.0))
SIDE = replace(LEDGER, structure="side-sewn", hinge_mm=15.0, joint_mm=4.0, square_mm=3.0)


def _notes(sewing: Sewing, book: Book = LEDGER) -> tuple[Remark, ...]:
    book = replace(book, sewing=sewing)
    return clearance_notes(book, book.volumes[0])


def _codes(sewing: Sewing, book: Book = LEDGER) -> list[str]:
    return [remark.code for remark in _notes(sewing, book)]


@pytest.mark.parametrize(
    "structure",
    [
        "separate-boards",
        "exposed-spine-wrap",
        "flat-case",
        "rounded-case",
        "half-case",
        "limp-wrap",
        "side-sewn",
        "slipcase",
    ],
)
def test_a_book_by_the_rules_needs_no_remark(structure: Structure) -> None:
    book = Book("b", "Ledger", structure, block_mm=(100.0, 150.0, 12.0))
    assert clearance_notes(book, book.volumes[0]) == ()


@pytest.mark.parametrize("rule", ["pairs", "ends"])
def test_paired_stations_by_the_rules_need_no_remark(rule: StationRule) -> None:
    assert _codes(Sewing(rule)) == []


def test_a_hole_near_the_spine_edge_tears_out() -> None:
    notes = _notes(Sewing(hole_from_spine_mm=2.5))
    assert [remark.code for remark in notes] == ["hole-near-edge", "figure-unusual"]
    assert notes[0].text() == (
        "Ledger: holes lie 2.5 mm from the spine edge of the board; nearer than 3 mm they tear out."
    )
    assert notes[1].text() == "Ledger: hole from spine 2.5 mm is unusual; 5 mm to 20 mm is met most."
    assert _codes(Sewing(hole_from_spine_mm=3.0)) == ["figure-unusual"]


def test_a_hole_near_the_fore_edge_and_one_off_the_board() -> None:
    assert dict(_notes(Sewing(hole_from_spine_mm=98.0))[0].figures)["edge"] == "fore-edge"
    assert _codes(Sewing(hole_from_spine_mm=101.0)) == ["hole-off-board", "figure-unusual"]


def test_stations_near_head_and_tail_are_near_the_boards_edges_too() -> None:
    notes = _notes(Sewing("own", own_mm=(2.0, 75.0, 146.0)))
    assert [(remark.code, dict(remark.figures).get("edge", dict(remark.figures).get("end"))) for remark in notes] == [
        ("hole-near-edge", "head"),
        ("station-near-end", "head"),
        ("station-near-end", "tail"),
    ]
    assert notes[2].text() == "Ledger: a station lies 4 mm from the tail of the page; nearer than 5 mm it tears out."


def test_a_square_keeps_the_hole_off_the_boards_edge_but_not_off_the_pages() -> None:
    assert _codes(Sewing("own", own_mm=(2.0, 75.0)), replace(LEDGER, square_mm=3.0)) == ["station-near-end"]


def test_a_board_shorter_than_its_stations_is_missed_by_its_holes() -> None:
    """Pages 150 high, boards 140 as typed: a station at 145 lies past the board."""
    short = replace(LEDGER, board_mm=(100.0, 140.0))
    notes = _notes(Sewing("own", own_mm=(20.0, 145.0)), short)
    assert [remark.text() for remark in notes] == [
        "Ledger: holes lie off the board at its tail; change the stations or the board."
    ]


def test_stations_near_each_other_tear_into_one() -> None:
    notes = _notes(Sewing("own", own_mm=(20.0, 24.5, 30.0, 130.0)))
    assert [remark.text() for remark in notes] == [
        "Ledger: two stations lie 4.5 mm apart; nearer than 5 mm the paper tears between them."
    ]
    assert _codes(Sewing("own", own_mm=(20.0, 25.0, 30.0, 130.0))) == []


def test_one_station_alone_has_no_neighbour() -> None:
    assert _codes(Sewing("own", own_mm=(75.0,))) == []


@pytest.mark.parametrize(
    ("from_spine_mm", "codes"),
    [
        (8.0, []),
        (12.0, []),
        (12.5, ["hole-near-joint"]),
        (15.0, ["hole-near-joint"]),
        (15.5, ["hole-in-joint"]),
        (19.0, ["hole-in-joint"]),
        (19.5, ["hole-beyond-joint"]),
    ],
)
def test_a_side_sewn_cover_is_pierced_in_its_hinge_strip(from_spine_mm: float, codes: list[str]) -> None:
    """Hinge strip 15, joint 4: from 15 to 19 lies the joint, and 3 mm before it is too near."""
    assert _codes(Sewing(hole_from_spine_mm=from_spine_mm), SIDE) == codes


def test_the_words_about_hinge_and_joint() -> None:
    said = {mm: _notes(Sewing(hole_from_spine_mm=mm), SIDE)[0].text() for mm in (13.0, 16.0, 20.0)}
    assert said[13.0].endswith("too near the joint: a hinge strip 15 mm wide leaves them less than 3 mm.")
    assert said[16.0].endswith("16 mm from the spine edge lie in the joint; the hinge strip is only 15 mm wide.")
    assert "the cover cannot turn" in said[20.0]


def test_side_sewing_goes_nearer_to_head_and_tail_than_a_fold_allows() -> None:
    assert _codes(Sewing("own", own_mm=(4.0, 75.0)), SIDE) == []
    assert _codes(Sewing("own", own_mm=(2.0, 75.0)), SIDE) == ["station-near-end"]


def test_unusual_figures_are_said_only_where_they_count() -> None:
    assert _codes(Sewing(end_mm=60.0)) == ["figure-unusual"]
    assert _codes(Sewing("ends", pair_mm=45.0)) == ["figure-unusual"]
    assert _codes(Sewing(pair_mm=45.0)) == []
    assert _codes(Sewing("own", own_mm=(20.0, 75.0), end_mm=60.0)) == []


def test_what_is_not_sewn_needs_no_remark() -> None:
    book = replace(LEDGER, structure="accordion", sewing=Sewing(hole_from_spine_mm=0.0))
    assert clearance_notes(book, book.volumes[0]) == ()
