"""Where things lie in the closed book, against arithmetic."""

from __future__ import annotations

import pytest
from drawn_books import drawn_book

from coverlayout.book.book import Book, Structure, Volume
from coverlayout.book.closed_book.places import Closed, closed_book


def closed(structure: Structure = "flat-case", **more: object) -> Closed:
    return closed_book(*drawn_book(structure, **more))


@pytest.mark.parametrize(
    ("structure", "more", "starts_mm"),
    [
        # The joint of 7.5 mm less the spine piece's thickness of 2.2, round whose edge the cloth goes.
        ("flat-case", {}, 5.3),
        ("flat-case", {"spine_piece": "none"}, 7.5),
        ("rounded-case", {}, 7.5),
        ("separate-boards", {"board_setback_mm": 1.5}, 1.5),
        ("exposed-spine-wrap", {}, 0.0),
        ("accordion", {}, -3.25),
        ("side-sewn", {}, 0.0),
        ("slipcase", {}, -2.2),
        ("slipcase", {"slipcase_of": "one scored board"}, 0.0),
    ],
)
def test_where_the_boards_begin(structure: Structure, more: dict[str, object], starts_mm: float) -> None:
    assert closed(structure, **more).board_from_mm == pytest.approx(starts_mm)


@pytest.mark.parametrize("structure", ["separate-boards", "exposed-spine-wrap", "accordion", "side-sewn"])
def test_boards_end_one_square_past_the_page(structure: Structure) -> None:
    at = closed(structure)
    assert at.board_to_mm - at.page_mm == pytest.approx(3.25)


def test_a_page_of_unknown_size_ends_one_square_before_the_board() -> None:
    at = closed_book(Book("b", "Ledger", board_mm=(100.0, 150.0), square_mm=4.0), Volume(1))
    assert at.page_mm == pytest.approx(96.0)


@pytest.mark.parametrize(("thick_mm", "drawn_mm"), [(30.0, 30.0), (2.0, 6.0)])
def test_a_thin_block_is_opened_out_and_others_are_as_they_are(thick_mm: float, drawn_mm: float) -> None:
    assert closed(block_mm=(114.3, 152.4, thick_mm)).thick_mm == drawn_mm


def test_a_board_as_thin_as_paper_can_still_be_seen() -> None:
    at = closed(board_thickness_mm=0.2)
    assert at.board_mm == pytest.approx(0.8 * at.air_mm)
    assert closed(board_thickness_mm=3.0).board_mm == 3.0


def test_the_page_is_drawn_shorter_and_both_its_ends_true_to_scale() -> None:
    at = closed()
    xs = at.xs
    assert xs.at(at.page_mm) - xs.at(0.0) < 60.0
    assert xs.at(at.board_to_mm) - xs.at(at.page_mm) == pytest.approx(at.board_to_mm - at.page_mm)
    assert xs.at(at.board_from_mm) - xs.at(0.0) == pytest.approx(5.3)
    assert len(xs.breaks) == 1


def test_a_turn_in_goes_up_the_edge_before_it_lies_inside() -> None:
    at = closed()
    assert at.turned_in_mm(15.5) == pytest.approx(13.3)
    assert at.turned_in_mm(1.0) == 0.0


def test_both_halves_are_each_other_turned_over() -> None:
    at = closed()
    assert at.over(((1.0, -2.0), (3.0, 4.0))) == ((1.0, 18.0), (3.0, 12.0))
    line = at.round_the_spine(((5.0, -3.0), (-1.0, -3.0), (-1.0, 8.0)))
    assert line[0] == (5.0, -3.0)
    assert line[-1] == (5.0, 19.0)


def test_liners_stay_back_from_the_edges_by_their_inset() -> None:
    at = closed()
    at.liners(0.0)
    front = next(shape.points_mm for shape in at.sketch.shapes if shape.name == "front liner")
    assert at.xs.at(at.board_to_mm) - front[-1][0] == pytest.approx(3.75)
    assert front[0][0] == pytest.approx(at.xs.at(at.board_from_mm))
