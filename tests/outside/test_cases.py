"""Cases and covers against published figures: each row with its source, each handbook with its own settings."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.round_spine import arc_mm, radius_mm, third_of_circle_rise_mm
from coverlayout.book.rules.table import rule
from coverlayout.book.structures import boards, notes, pieces
from coverlayout.book.turn_ins import least_mitre_distance_mm, mitre_overlap_mm

IN = 25.4
EXACT = 1e-9
# The block that three of the handbooks speak of: 6 x 9 in, 1 in thick.
BLOCK = Book("b", "Book", "flat-case", block_mm=(6 * IN, 9 * IN, IN))


def in_inches(*lengths_mm: float) -> tuple[float, ...]:
    return tuple(length_mm / IN for length_mm in lengths_mm)


def board_of(book: Book) -> tuple[float, ...]:
    board = boards(book, book.volumes[0])[0]
    assert (board.name, board.count) == ("cover board", 2)
    return board.width_mm, board.height_mm


def cloth_of(book: Book) -> tuple[float, ...]:
    cover = next(piece for piece in pieces(book) if piece.kind == "cover")
    return cover.width_mm, cover.height_mm


def gap_of(book: Book) -> float:
    return measures(book, book.volumes[0]).gap_mm


@pytest.mark.parametrize(
    ("square_in", "board", "gap", "cloth"),
    [(1 / 8, (6, 9.25), 1.25, (14.75, 10.75)), (3 / 16, (6, 9.375), 1.375, (14.875, 10.875))],
)
def test_a_case_without_a_spine_board(
    square_in: float, board: tuple[float, float], gap: float, cloth: tuple[float, float]
) -> None:
    """A school manual of 1912, on case binding.

    Boards as wide as the book, squares of 1/8 or 3/16 in with a joint as wide as the square, 3/4 in turned in.
    """
    book = replace(
        BLOCK,
        board_setback_mm=0.0,
        square_mm=square_in * IN,
        joint_mm=square_in * IN,
        spine_piece="none",
        turn_ins=TurnIns.all_round(0.75 * IN),
    )
    assert in_inches(*board_of(book)) == pytest.approx(board, abs=EXACT)
    assert gap_of(book) / IN == pytest.approx(gap, abs=EXACT)
    assert in_inches(*cloth_of(book)) == pytest.approx(cloth, abs=EXACT)
    assert notes(book) == ()


def test_a_metric_case_with_a_spine_board() -> None:
    """A printing firm's article on hard covers, 6 June 2012.

    A block of 148 x 210 x 10 mm on board of 2 mm: boards 144.5 x 216, spine 13.5 x 216, gaps of 10, turned in by 17.
    """
    book = Book(
        "b",
        "Book",
        "flat-case",
        block_mm=(148.0, 210.0, 10.0),
        board_thickness_mm=2.0,
        board_setback_mm=3.5,
        square_mm=3.0,
        joint_mm=10.0,
        spine_allowance_mm=-0.5,
        turn_ins=TurnIns.all_round(17.0),
    )
    assert board_of(book) == pytest.approx((144.5, 216.0), abs=EXACT)
    _, spine = boards(book, book.volumes[0])
    assert spine.name == "spine piece"
    assert (spine.width_mm, spine.height_mm) == pytest.approx((13.5, 216.0), abs=EXACT)
    assert cloth_of(book) == pytest.approx((356.5, 250.0), abs=EXACT)
    # The figures of a case with a spine piece of board are this article's: nothing but the turn-in has to be said.
    plain = Book("b", "Book", "flat-case", block_mm=(148.0, 210.0, 10.0), turn_ins=TurnIns.all_round(17.0))
    assert cloth_of(plain) == cloth_of(book)


def test_a_cruder_rule_for_the_same_block() -> None:
    """A handicraft book of about 1918, on making the cover: cloth three boards wide, 2 in higher than a board.

    Boards as wide as the book and 1/4 in higher, 1/2 in more than the thickness between them.
    """
    book = replace(
        BLOCK,
        board_setback_mm=0.0,
        square_mm=IN / 8,
        joint_mm=IN / 4,
        spine_piece="none",
        turn_ins=TurnIns(head_mm=IN, tail_mm=IN, fore_edge_mm=2.25 * IN),
    )
    assert in_inches(*board_of(book)) == pytest.approx((6, 9.25), abs=EXACT)
    assert gap_of(book) / IN == pytest.approx(1.5, abs=EXACT)
    assert in_inches(*cloth_of(book)) == pytest.approx((3 * 6, 9.25 + 2), abs=EXACT)


def test_a_covered_sewn_board_binding_in_one_wrap() -> None:
    """A web article on a covered sewn-board binding, July 2018: cloth 11 1/4 x 8 in, boards 4 1/8 x 6, 1 in thick.

    The split of the cloth into turn-ins of 1 in is arithmetic here: 1 in is what a ruler says over the boards, which
    the cloth has to pass for the cover to close. Its endpapers of 3 7/8 x 5 3/4 in lie 1/8 in within the boards
    on every side.
    """
    book = Book(
        "b",
        "Book",
        "exposed-spine-wrap",
        board_mm=(4.125 * IN, 6 * IN),
        turn_ins=TurnIns.all_round(IN),
        liner_inset_mm=IN / 8,
        volumes=(Volume(1, IN),),
    )
    assert in_inches(*cloth_of(book)) == pytest.approx((11.25, 8), abs=EXACT)
    # Whatever the boards are: what they take is taken of the block.
    assert in_inches(*cloth_of(replace(book, board_thickness_mm=IN / 8))) == pytest.approx((11.25, 8), abs=EXACT)
    liners = [piece for piece in pieces(book) if piece.kind == "liner"]
    assert [in_inches(liner.width_mm, liner.height_mm) for liner in liners] == [pytest.approx((3.875, 5.75))] * 2


def test_a_quarter_joint_case() -> None:
    """A conservation how-to on the quarter-joint binding: a hinge of a quarter of the thickness, no square at the tail.

    Boards narrower than the page by the hinge less 1/16 in, and 1/16 in higher: 5.8125 x 9.0625 in for 6 x 9 x 1 in.
    """
    hinge_mm = IN / 4
    book = replace(
        BLOCK,
        board_setback_mm=hinge_mm - IN / 16,
        square_mm=IN / 16,
        tail_square_mm=0.0,
        joint_mm=hinge_mm,
        spine_piece="none",
    )
    assert in_inches(*board_of(book)) == pytest.approx((5.8125, 9.0625), abs=EXACT)
    figures = measures(book, book.volumes[0])
    assert figures.joint_mm >= figures.thickness_mm / 4
    assert gap_of(book) / IN == pytest.approx(1.5, abs=EXACT)


def test_the_usual_joint_of_a_rounded_case_is_a_french_joint() -> None:
    """A conservation dictionary: the board stands off the shoulder by 1/8 to 1/4 in, more for large books."""
    assert 3.175 <= rule("joint", "rounded-case", "strip").figure() <= 6.35


@pytest.mark.parametrize("turn_in_mm", [5 / 8 * IN, 1 / 2 * IN, 3 / 4 * IN, 10.0, 15.0])
def test_turn_ins_of_the_trade_count_on_both_sides(turn_in_mm: float) -> None:
    """Library 5/8 in, edition 1/2 (a conservation dictionary), 3/4 (1912), 10 to 15 mm (a manual of 1903)."""
    book = replace(BLOCK, turn_ins=TurnIns.all_round(turn_in_mm))
    bare = cloth_of(replace(BLOCK, turn_ins=TurnIns.all_round(0.0)))
    assert cloth_of(book) == pytest.approx((bare[0] + 2 * turn_in_mm, bare[1] + 2 * turn_in_mm))
    assert notes(book) == ()


def test_a_round_spine_is_a_third_of_a_circle() -> None:
    """A conservation dictionary of 1982, a manual of 1890: about a third of a circle; the rest is geometry."""
    assert arc_mm(30.0, third_of_circle_rise_mm(30.0)) == pytest.approx(36.27599, abs=1e-5)
    assert third_of_circle_rise_mm(30.0) == pytest.approx(8.66025, abs=1e-5)
    assert radius_mm(30.0, third_of_circle_rise_mm(30.0)) == pytest.approx(17.32051, abs=1e-5)
    book = replace(BLOCK, structure="rounded-case", block_mm=(150.0, 220.0, 30.0))
    figures = measures(book, book.volumes[0])
    assert (figures.spine_mm, figures.rise_mm) == pytest.approx((36.27599, 8.66025), abs=1e-5)
    assert cloth_of(book)[0] == pytest.approx(2 * 150 + 36.27599 + 2 * 5 + 2 * 15, abs=1e-5)


def test_a_round_spine_that_was_measured_wins_over_the_rule() -> None:
    """A trade-journal article on hardcover cases, 1 Oct 2012: 13/16 in thick, .95 over the round, 1.18 backed."""
    thickness_mm = 13 / 16 * IN
    book = replace(BLOCK, structure="rounded-case", block_mm=(6 * IN, 9 * IN, thickness_mm))
    by_rule = measures(book, book.volumes[0]).spine_mm
    assert by_rule is not None
    assert by_rule / IN == pytest.approx(0.982475, abs=1e-6)
    assert by_rule / (0.95 * IN) == pytest.approx(1.0, abs=0.05)
    for over_in, of_thickness in ((0.95, 1.17), (1.18, 1.45)):
        measured = replace(book, spine_width_mm=over_in * IN)
        assert measures(measured, measured.volumes[0]).spine_mm == over_in * IN
        assert over_in * IN / thickness_mm == pytest.approx(of_thickness, abs=0.005)
        assert cloth_of(measured)[0] == pytest.approx(cloth_of(book)[0] + over_in * IN - by_rule)
        assert [note.code for note in notes(measured)] == ["spine-as-measured"]


@pytest.mark.parametrize(("distance_mm", "overlap_mm"), [(3.0, 3.171573), (2.0, 1.171573), (math.sqrt(2), 0.0)])
def test_the_overlap_across_a_mitre(distance_mm: float, overlap_mm: float) -> None:
    """2 d - sqrt2 b on board of 2 mm, derived (and folded by shapely elsewhere); 2 mm is the manual's of 1912."""
    assert mitre_overlap_mm(distance_mm, 2.0) == pytest.approx(overlap_mm, abs=1e-6)


def test_the_distance_of_a_mitre() -> None:
    """About the thickness (1912); 3 mm on board of 2 (a university's worksheet); never below b / sqrt2 = 1.414214."""
    assert least_mitre_distance_mm(2.0) == pytest.approx(1.414214, abs=1e-6)
    assert measures(BLOCK, BLOCK.volumes[0]).mitre_mm == 3.0
    for distance_mm in (2.0, 3.0):
        pieces(replace(BLOCK, mitre_distance_mm=distance_mm))


def test_squares_of_the_trade() -> None:
    """1/8 in for 6 x 9 in (a printing blog), 3 mm (a university), medium: once the board (a thesaurus of bindings)."""
    usual = rule("square", "flat-case")
    assert usual.figure() == 3.0
    assert usual.nice_mm("in") == IN / 8
    medium = replace(BLOCK, square_mm=BLOCK.board_thickness_mm)
    assert board_of(medium)[1] == pytest.approx(9 * IN + 2 * 2.0)
    for square_mm in (IN / 8, 3.0, 2.0):
        assert not usual.unusual(square_mm)


def test_a_spine_stiffener_is_as_high_as_the_boards_and_as_wide_as_the_back() -> None:
    """A manual of about 1903: a strip cut to board height, its width measured over the back."""
    flat = replace(BLOCK, spine_piece="strip")
    cover, strip = boards(flat, flat.volumes[0])
    assert (strip.width_mm, strip.height_mm) == (IN, cover.height_mm)
    round_backed = replace(BLOCK, structure="rounded-case")
    cover, strip = boards(round_backed, round_backed.volumes[0])
    assert (strip.width_mm, strip.height_mm) == pytest.approx((1.2091996 * IN, cover.height_mm), abs=1e-5)


def test_whole_cloth_of_an_old_manual() -> None:
    """A manual of about 1903: cloth 1 to 1.5 cm larger all round than boards and back together."""
    for larger_mm in (10.0, 15.0):
        book = replace(BLOCK, spine_piece="strip", turn_ins=TurnIns.all_round(larger_mm))
        width_mm, height_mm = board_of(book)
        together = (2 * width_mm + gap_of(book), height_mm)
        assert cloth_of(book) == pytest.approx((together[0] + 2 * larger_mm, together[1] + 2 * larger_mm))


def test_quarter_cloth_of_an_old_manual() -> None:
    """A manual of about 1903: the strip 2 to 2.5 cm longer and about 4 cm wider than the strip of the back."""
    book = replace(
        BLOCK,
        structure="quarter-case",
        spine_piece="strip",
        joint_mm=3.0,
        spine_on_board_mm=17.0,
        turn_ins=TurnIns.all_round(11.0),
    )
    cloth = next(piece for piece in pieces(book) if piece.kind == "spine piece")
    strip = next(board for board in boards(book, book.volumes[0]) if board.name == "spine strip")
    assert cloth.width_mm - strip.width_mm == pytest.approx(40.0)
    assert 20.0 <= cloth.height_mm - strip.height_mm <= 25.0
