"""Smaller gaps, turn-ins and boards: on the grid, only where they are larger, and with the wishes told anew."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, PartOfBook, TurnIns, Volume
from coverlayout.book.measures import board_size_mm
from coverlayout.book.structures import pieces
from coverlayout.document.changing.lengths import (
    boards_to_shrink,
    edges_turned,
    grid_mm,
    grid_steps,
    most_turn_in_mm,
    with_gap,
    with_smaller_boards,
    with_turn_ins,
)
from coverlayout.document.project import CutPiece, LinkWish, LockWish, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed

# Four different turn-ins: no slip of a side stays hidden.
BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), turn_ins=TurnIns(14.0, 16.0, 12.0, 18.0))
PARTS = Book(
    "book-2",
    "Set",
    "parts",
    board_mm=(100.0, 150.0),
    parts=(PartOfBook("cover", 2, 15.0, "none"), PartOfBook("lining", 2, -3.0, "half")),
    volumes=(Volume(2),),
)
PROJECT = Project(books=(BOOK, PARTS))


@pytest.mark.parametrize(
    ("length_mm", "steps"), [(15.0, 300), (14.96, 300), (14.95, 299), (12.7, 254), (10.0, 200), (0.0, 0), (0.02, 1)]
)
def test_lengths_stand_on_a_grid_of_a_twentieth(length_mm: float, steps: int) -> None:
    assert grid_steps(length_mm) == steps
    assert grid_mm(steps) == pytest.approx(steps * 0.05)
    assert grid_mm(steps - 1) < length_mm or length_mm == 0.0


def test_the_gap_alone_changes() -> None:
    asked = replace(PROJECT, rules=replace(PROJECT.rules, gap_mm=3.0, spare_wish_mm=4.0))
    changed = with_gap(asked, 1.25)
    assert (changed.rules.gap_mm, changed.rules.spare_wish_mm) == (1.25, 4.0)
    assert changed.books == asked.books


def test_the_largest_turn_in_on_some_sides() -> None:
    assert most_turn_in_mm(PROJECT, "all round") == 18.0
    assert most_turn_in_mm(PROJECT, "head and tail") == 16.0
    assert most_turn_in_mm(PROJECT, "spine and fore-edge") == 18.0
    assert most_turn_in_mm(replace(PROJECT, books=(PARTS,)), "all round") == 15.0
    assert most_turn_in_mm(replace(PROJECT, books=(PARTS,)), "head and tail") == 0.0
    assert most_turn_in_mm(Project(), "all round") == 0.0


def test_turn_ins_get_no_larger_than_told_on_the_sides_told() -> None:
    def turn_ins(sides: str) -> TurnIns:
        return with_turn_ins(PROJECT, sides, 13.0).books[0].turn_ins  # type: ignore[arg-type]  # the words of Sides

    assert turn_ins("all round") == TurnIns(13.0, 13.0, 12.0, 13.0)
    assert turn_ins("head and tail") == TurnIns(13.0, 13.0, 12.0, 18.0)
    assert turn_ins("spine and fore-edge") == TurnIns(14.0, 16.0, 12.0, 13.0)


def test_parts_larger_than_the_board_are_turned_in_all_round_only() -> None:
    (_, parts) = with_turn_ins(PROJECT, "all round", 13.0).books
    assert [part.grow_mm for part in parts.parts] == [13.0, -3.0]
    assert with_turn_ins(PROJECT, "head and tail", 13.0).books[1] == PARTS


def test_a_point_named_by_a_wish_stays_where_it_was_on_the_board() -> None:
    # The front's board begins 12 from the left and 14 from the top: the point lies 30, 40 from the board's corner.
    locks = (LockWish("wish-1", "front-1", (5.0, 6.0), (42.0, 54.0)), LockWish("wish-2", "back-1", (5.0, 6.0)))
    changed = with_turn_ins(replace(PROJECT, locks=locks), "all round", 10.0)
    assert changed.locks[0].point_mm == pytest.approx((40.0, 50.0))
    assert changed.locks[1] == locks[1], "no point named: the middle of the board, whatever is around it"


def test_a_wish_for_a_piece_that_is_not_there_is_left_alone() -> None:
    locks = (LockWish("wish-1", "gone-1", (5.0, 6.0), (42.0, 54.0)),)
    links = (LinkWish("wish-2", ("front-1", "gone-1"), ((5.0, 0.0),)),)
    changed = with_turn_ins(replace(PROJECT, locks=locks, links=links), "all round", 10.0)
    assert (changed.locks, changed.links) == (locks, links)


def test_boards_shrink_in_proportion_and_are_rounded_down() -> None:
    alone = replace(PROJECT, books=(BOOK,))
    ((book_id, board_mm),) = boards_to_shrink(alone)
    assert (book_id, board_mm) == ("book-1", (114.3, 152.4))
    smaller = with_smaller_boards(alone, 140.0)
    # 114.3 x 140 / 152.4 = 105.0
    assert smaller.books[0].page_mm == (105.0, 140.0)
    # 114.3 x 152.05 / 152.4 = 114.0375, rounded down to the grid
    assert with_smaller_boards(alone, 152.05).books[0].page_mm == (114.0, 152.05)
    assert smaller.books[0].turn_ins == BOOK.turn_ins


def test_all_books_shrink_alike_the_highest_board_leads() -> None:
    smaller = with_smaller_boards(PROJECT, 76.2)
    assert [board_size_mm(book) for book in smaller.books] == [(57.15, 76.2), (50.0, 75.0)]
    assert [found[0] for found in boards_to_shrink(replace(PROJECT, books=(PARTS, BOOK)))] == ["book-1", "book-2"]


@pytest.mark.parametrize(
    "sized",
    [
        {"page_mm": (114.3, 152.4), "square_mm": 3.0, "board_setback_mm": 2.0},
        {"page_mm": None, "block_mm": (114.3, 152.4, 20.0), "square_mm": 3.0},
        {"page_mm": None, "board_mm": (117.3, 158.4)},
    ],
)
def test_whatever_size_was_given_shrinks_with_the_board(sized: dict[str, object]) -> None:
    book = replace(BOOK, **sized)  # type: ignore[arg-type]  # fields by name
    width_mm, height_mm = board_size_mm(book)
    smaller = with_smaller_boards(Project(books=(book,)), height_mm - 10.0).books[0]
    board_mm = board_size_mm(smaller)
    assert board_mm[1] == pytest.approx(height_mm - 10.0)
    assert board_mm[0] <= width_mm * (height_mm - 10.0) / height_mm
    assert board_mm[0] == pytest.approx(width_mm * (height_mm - 10.0) / height_mm, abs=0.05)
    assert (smaller.square_mm, smaller.board_setback_mm) == (book.square_mm, book.board_setback_mm)
    assert (smaller.block_mm or (0, 0, 20.0))[2] == 20.0


def test_a_book_sized_by_its_paper_shrinks_by_its_trims() -> None:
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), trim_tail_mm=2.0, trim_fore_edge_mm=1.0, thickness_mm=0.1)
    book = replace(BOOK, page_mm=None, paper=paper, square_mm=3.0)
    assert board_size_mm(book) == pytest.approx((114.3 - 1 + 3, 152.4 - 2 + 6))
    smaller = with_smaller_boards(Project(books=(book,)), 140.0).books[0]
    assert board_size_mm(smaller) == pytest.approx((104.1, 140.0))
    assert smaller.paper is not None
    assert (smaller.paper.trim_fore_edge_mm, smaller.paper.trim_tail_mm) == pytest.approx((13.2, 18.4))
    assert smaller.paper.trim_head_mm == 0.0


def test_page_and_paper_that_agree_still_do_when_both_shrink() -> None:
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), thickness_mm=0.1)
    smaller = with_smaller_boards(Project(books=(replace(BOOK, paper=paper),)), 140.0)
    assert [piece.id for piece in planned_pieces(smaller)][:2] == ["front-1", "back-1"]
    assert smaller.books[0].page_mm == (105.0, 140.0)


def test_the_folds_of_an_accordion_are_not_trimmed() -> None:
    paper = Paper((300.0, 800.0), sheets=1, folds=3, thickness_mm=0.5)
    book = replace(BOOK, structure="accordion", page_mm=None, paper=paper, square_mm=2.0)
    smaller = with_smaller_boards(Project(books=(book,)), 280.0).books[0]
    assert smaller.paper is None
    # Panels of 100 x 300 with boards 104 x 304; 104 x 280 / 304 = 95.79, down to the grid.
    assert board_size_mm(smaller) == pytest.approx((95.75, 280.0))
    assert smaller.volumes[0].thickness_mm is not None


def test_only_edges_that_are_turned_in_count() -> None:
    """The cloth of a case runs on at the spine."""
    case = replace(BOOK, structure="flat-case", turn_ins=TurnIns(14.0, 16.0, 40.0, 12.0), volumes=(Volume(1, 20.0),))
    project = Project(books=(case,))
    assert most_turn_in_mm(project, "all round") == 16.0
    assert most_turn_in_mm(project, "spine and fore-edge") == 12.0


def test_wishes_stay_where_the_smaller_pieces_cannot_be_made() -> None:
    locks = (LockWish("wish-1", "front-1", (5.0, 6.0), (42.0, 54.0)),)
    project = replace(PROJECT, books=(BOOK,), locks=locks)
    # On boards 22.5 mm wide a turn-in of 18 is more than half.
    assert with_smaller_boards(project, 30.0).locks == locks


def test_a_book_of_which_a_piece_was_cut_has_its_size() -> None:
    fact = CutPiece("front-1", "front cover", "cut", rectangle(144.0, 182.0), (1.0, 1.0), Placed("front-1", "c", 0, 0))
    begun = replace(PROJECT, cut_pieces=(fact,))
    assert [found[0] for found in boards_to_shrink(begun)] == ["book-2"]
    assert with_smaller_boards(begun, 75.0).books[0] == BOOK
    spoiled = replace(PROJECT, cut_pieces=(replace(fact, state="spoiled"),))
    assert [found[0] for found in boards_to_shrink(spoiled)] == ["book-1", "book-2"]
    assert boards_to_shrink(Project()) == ()


def test_what_runs_on_around_the_book_still_does_on_a_smaller_one() -> None:
    thick = replace(BOOK, volumes=(Volume(1, 20.0),))
    front, back, *_ = pieces(thick)
    # Opened flat the front board lies 114.3 and the spine, 20 + 2 x 2, to the right of the back board.
    on_book = ((138.3, 0.0),)
    (from_front,) = ((-x, y) for x, y in on_book)
    links = (
        LinkWish("wish-1", (back.id, front.id), on_book),
        LinkWish("wish-2", (front.id, back.id), (from_front,)),
        LinkWish("wish-3", (front.id, back.id), ((11.0, 7.0),)),
        LinkWish("wish-4", (front.id, "liner-front-1", "cover-2-1"), ((3.0, 0.0), (4.0, 0.0))),
        LinkWish("wish-5", (front.id, back.id)),
    )
    smaller = with_smaller_boards(replace(PROJECT, books=(thick, PARTS), links=links), 140.0)
    # The board is 9.3 less wide, and so is the distance.
    assert smaller.links[0].differences_mm == (pytest.approx((129.0, 0.0)),)
    assert smaller.links[1].differences_mm == (pytest.approx((-129.0, 0.0)),)
    assert smaller.links[2:] == links[2:], "another distance than the book's is the maker's own"
    assert len(planned_pieces(smaller)) == len(planned_pieces(replace(PROJECT, books=(thick, PARTS))))


def test_only_edges_that_are_turned_in_change() -> None:
    case = replace(BOOK, structure="flat-case", volumes=(Volume(1, 20.0),), turn_ins=TurnIns(14.0, 16.0, 40.0, 18.0))
    changed = with_turn_ins(Project(books=(case,)), "all round", 13.0).books[0]
    assert changed.turn_ins == TurnIns(13.0, 13.0, 40.0, 13.0)
    assert edges_turned(Project(books=(case,))) == {"head", "tail", "fore-edge"}
    wrap = replace(case, structure="slipcase")
    assert with_turn_ins(Project(books=(wrap,)), "head and tail", 13.0).books[0].turn_ins.tail_mm == 16.0
    assert edges_turned(Project(books=(wrap,))) == {"head", "fore-edge"}
    assert edges_turned(Project(books=(wrap, PARTS))) == {"head", "tail", "spine", "fore-edge"}


def test_the_book_in_a_slipcase_has_its_size() -> None:
    case = Book("book-2", "Case", "slipcase", block_mm=(120.0, 160.0, 22.0), volumes=(Volume(2),))
    assert boards_to_shrink(Project(books=(case,))) == ()
    assert [book for book, _ in boards_to_shrink(Project(books=(BOOK, case)))] == ["book-1"]
