"""What is said and refuses nothing: unusual figures, fore-edges, spines that were measured."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, TurnIns, Volume
from coverlayout.book.checks import check_book
from coverlayout.book.measures import measures
from coverlayout.book.rules.remarks import notes

CASE = Book("book-1", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0), volumes=(Volume(1),))
ROUND = replace(CASE, structure="rounded-case")
APART = replace(CASE, structure="separate-boards")


@pytest.mark.parametrize(
    ("book", "codes"),
    [
        (CASE, []),
        (ROUND, []),
        (APART, []),
        (replace(CASE, structure="exposed-spine-wrap"), []),
        (replace(CASE, structure="exposed-spine-wrap", spine_allowance_mm=4.0), []),
        (replace(CASE, structure="exposed-spine-wrap", spine_allowance_mm=-1.0), ["wrap-round-boards"]),
        (replace(CASE, structure="exposed-spine-wrap", spine_width_mm=10.0), ["spine-as-measured"]),
        (replace(CASE, structure="exposed-spine-wrap", spine_width_mm=9.0), ["spine-as-measured", "wrap-round-boards"]),
        (replace(CASE, structure="half-case"), []),
        (replace(CASE, structure="parts"), []),
        (replace(CASE, board_thickness_mm=5.0), ["figure-unusual"]),
        (replace(CASE, board_thickness_mm=3.0), []),
        (replace(CASE, square_mm=12.0), ["figure-unusual"]),
        (replace(CASE, turn_ins=TurnIns.all_round(27.0)), ["figure-unusual"]),
        (replace(CASE, turn_ins=TurnIns(27.0, 27.0, 15.0, 28.0)), ["figure-unusual"] * 2),
        (replace(CASE, turn_ins=TurnIns(spine_mm=100.0)), []),
        (replace(CASE, structure="half-case", spine_on_board_mm=75.0, corner_leg_mm=60.0), []),
        # Set back 3.5 with a joint of 2 less the edge of the spine piece: 3.5 short of the fore-edge.
        (replace(CASE, joint_mm=2.0), ["figure-unusual", "fore-edge-bare"]),
        (replace(CASE, spine_piece="none", joint_mm=1.5), ["figure-unusual", "joint-below-board"]),
        (replace(CASE, spine_piece="none", joint_mm=2.0), ["figure-unusual"]),
        (replace(CASE, joint_mm=12.0, board_setback_mm=1.0), ["fore-edge-square-unusual"]),
        (replace(CASE, joint_mm=6.5), ["fore-edge-square-unusual"]),
        # Boards that are not cased are set back at the spine; they still end at the fore-edge, or a square past it.
        (replace(APART, board_setback_mm=2.0), []),
        (replace(APART, structure="side-sewn", board_setback_mm=2.0), []),
        # Its boards stand out on both sides, by 4 each and not by 8.
        (replace(CASE, structure="accordion", square_mm=4.0), []),
        (replace(CASE, spine_width_mm=13.0), ["spine-as-measured"]),
        (replace(CASE, spine_width_mm=8.0), ["spine-as-measured", "spine-narrow"]),
        (replace(CASE, spine_piece="strip", spine_allowance_mm=-1.0), ["spine-narrow"]),
        (replace(ROUND, spine_piece="board"), ["round-spine-of-board"]),
        (replace(ROUND, spine_width_mm=15.0), ["spine-as-measured"]),
        (replace(CASE, structure="slipcase", slipcase_of="one scored board"), ["scored-board-thick"]),
        (replace(CASE, structure="slipcase", slipcase_of="one scored board", board_thickness_mm=1.2), []),
        (
            replace(CASE, structure="slipcase", slipcase_of="one scored board", board_thickness_mm=0.25),
            ["figure-unusual"],
        ),
        (replace(CASE, structure="slipcase"), []),
        # Board of 2, the raw edge 3 under the pastedown, which stays back by the square: 8 at the ends, 9.5 beside.
        (replace(CASE, liners="none", turn_ins=TurnIns.all_round(10.0)), []),
        (replace(CASE, liners="none", turn_ins=TurnIns(10.0, 10.0, 0.0, 9.0)), ["figure-unusual", "pastedown-short"]),
        (replace(CASE, liners="none", square_mm=6.0, turn_ins=TurnIns.all_round(10.0)), ["pastedown-short"]),
        (replace(CASE, liners="none", endpapers="none", square_mm=6.0, turn_ins=TurnIns.all_round(10.0)), []),
        (
            replace(CASE, structure="accordion", liners="none", turn_ins=TurnIns(20.0, 20.0, 7.5, 20.0)),
            ["figure-unusual", "pastedown-short"],
        ),
        (replace(CASE, structure="accordion", liners="none"), []),
        (replace(ROUND, spine_width_mm=16.0), ["spine-as-measured", "spine-over-half-circle"]),
        (replace(ROUND, spine_width_mm=9.0), ["spine-as-measured", "spine-narrow"]),
        (replace(APART, spine_width_mm=9.0), []),
        (
            replace(CASE, structure="limp-wrap", board_thickness_mm=9.0, turn_ins=TurnIns.all_round(12.0)),
            ["figure-unusual"],
        ),
        (replace(CASE, structure="limp-wrap", block_mm=(148.0, 210.0, 5.0), board_thickness_mm=9.0), []),
    ],
)
def test_what_is_worth_saying(book: Book, codes: list[str]) -> None:
    if book.structure != "parts":
        check_book(book)
    assert [note.code for note in notes(book)] == codes


def test_what_two_volumes_have_to_say_is_said_once() -> None:
    two = replace(CASE, block_mm=None, page_mm=(148.0, 210.0), volumes=(Volume(1, 10.0), Volume(2, 14.0)))
    assert [note.code for note in notes(replace(two, joint_mm=2.0))] == ["figure-unusual", "fore-edge-bare"]
    narrow = notes(replace(two, spine_width_mm=12.0))
    assert [note.code for note in narrow] == ["spine-as-measured", "spine-narrow"]
    assert dict(narrow[1].figures)["thickness_exact_mm"] == 14.0


def test_the_sentences_say_how_much() -> None:
    (measured, narrow) = notes(replace(CASE, spine_width_mm=8.0))
    assert measured.text() == "Ledger: the spine is made 8 mm wide, as it was measured."
    assert narrow.text() == "Ledger: the spine is 8 mm wide and the block 10 mm thick; measure both once more."
    (unusual,) = notes(replace(CASE, board_thickness_mm=5.0))
    assert unusual.text() == "Ledger: board thickness 5 mm is unusual; 1.5 mm to 3 mm is met most."


def test_a_wrap_that_does_not_go_over_its_boards_says_so() -> None:
    """Measured over boards of 2 a book is 10 thick; 8.5 of cloth leave 1.5 of it bare, and the cover open."""
    (short,) = notes(replace(CASE, structure="exposed-spine-wrap", spine_allowance_mm=-1.5))
    assert "the cloth over the spine is 8.5 mm wide, and block and boards are 10 mm thick" in short.text()


def test_a_wrap_of_paper_goes_over_the_boards_of_itself() -> None:
    """40 sheets folded once are 80 leaves of 0.1: a block of 8; boards of 2 make 12, and nothing has to be allowed."""
    paper = Paper((228.6, 304.8), sheets=40, thickness_mm=0.1, swell_mm=0.0, per_section=4)
    wrap = Book("b", "Ledger", "exposed-spine-wrap", paper=paper)
    check_book(wrap)
    assert notes(wrap) == ()
    assert measures(wrap, Volume(1)).over_spine_mm == pytest.approx(12.0)


def test_endpapers_that_miss_a_raw_edge_say_where_and_how_much_is_needed() -> None:
    """Board of 2, a raw edge of 3, a square of 6 at the tail and 4.5 at the fore-edge: 11 and 9.5 to turn in."""
    book = replace(CASE, liners="none", tail_square_mm=6.0, turn_ins=TurnIns.all_round(10.0))
    (short,) = notes(book)
    assert (dict(short.figures)["edge"], dict(short.figures)["least_exact_mm"]) == ("tail", 11.0)
    assert notes(replace(book, turn_ins=TurnIns(10.0, 11.0, 0.0, 10.0))) == ()


def test_boards_that_were_given_and_end_short_of_their_pages() -> None:
    """A page of 114.3 folded from 9 x 12 in cut in two, between boards of 112 that are flush with the spine."""
    pad = Paper((228.6, 304.8), cut=(2, 1), sheets=16)
    (short,) = notes(Book("b", "Ledger", board_mm=(112.0, 152.4), paper=pad))
    assert short.code == "fore-edge-bare"
    assert dict(short.figures)["short_exact_mm"] == pytest.approx(2.3)
    assert "make them wider, or in a case widen the joint" in short.text()
