"""Every figure of a volume: given ones win, the others by the rules."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, Structure, Volume
from coverlayout.book.measures import (
    Measures,
    as_measured_mm,
    block_thickness_mm,
    board_size_mm,
    measured_thickness_mm,
    measures,
    page_size_mm,
    without_paper,
)
from coverlayout.book.rules.belonging import CASES, rule_of
from coverlayout.errors import BadInput

CASE = Book("b", "Case", "flat-case", block_mm=(148.0, 210.0, 10.0))
PAD = Paper((228.6, 304.8), cut=(2, 1), sheets=16, per_section=4, thickness_mm=0.1, swell_mm=0.25)


def of(book: Book) -> Measures:
    return measures(book, book.volumes[0])


def test_a_case_with_a_spine_piece_of_board() -> None:
    made = of(CASE)
    assert made.board_mm == (144.5, 216.0)
    assert (made.spine_piece, made.spine_mm, made.joint_mm, made.gap_mm) == ("board", 13.5, 10.0, 33.5)
    assert made.fore_edge_square_mm == pytest.approx(144.5 + 10 - 2 - 148)


def test_a_case_without_a_spine_piece() -> None:
    made = of(replace(CASE, spine_piece="none"))
    assert made.board_mm == (148.0, 216.0)
    assert (made.spine_mm, made.joint_mm, made.gap_mm) == (None, 3.0, 16.0)
    assert made.fore_edge_square_mm == pytest.approx(3.0)


def test_a_case_with_a_strip_of_card() -> None:
    made = of(replace(CASE, spine_piece="strip", joint_mm=6.0))
    assert (made.spine_mm, made.gap_mm) == (10.0, 22.0)
    assert of(replace(CASE, spine_piece="strip", spine_allowance_mm=1.0)).spine_mm == 11.0


def test_a_round_spine_by_third_by_rise_and_as_measured() -> None:
    rounded = replace(CASE, structure="rounded-case")
    assert of(rounded).spine_mm == pytest.approx(12.091996, abs=1e-6)
    assert of(rounded).rise_mm == pytest.approx(2.886751, abs=1e-6)
    assert of(replace(rounded, spine_rise_mm=0.0)).spine_mm == 10.0
    measured = of(replace(rounded, spine_width_mm=14.5))
    assert measured.spine_mm == 14.5
    assert measured.gap_mm == 14.5 + 2 * 5.0
    assert 2.886751 < measured.rise_mm < 5.0
    assert of(replace(rounded, spine_piece="none")).spine_mm is None


def test_boards_set_back_from_an_open_spine_leave_so_much_more_between_them() -> None:
    """Two boards of 145 for pages of 148, 3 set back: 10 over both and twice 3 between; flush at the fore-edge."""
    wrap = of(replace(CASE, structure="exposed-spine-wrap", board_setback_mm=3.0))
    assert (wrap.board_mm, wrap.over_spine_mm, wrap.gap_mm) == ((145.0, 210.0), 10.0, 16.0)
    assert (wrap.board_from_mm, wrap.fore_edge_square_mm) == (3.0, 0.0)


@pytest.mark.parametrize("board_mm", [1.5, 2.0, 2.7])
def test_a_wrap_is_measured_with_its_boards_and_its_paper_without(board_mm: float) -> None:
    """Measured 12.3 over both boards: 12.3 of cloth over the spine, and what the boards leave is the block.

    Of 40 sheets folded once and 0.1 thick the block is 8, and the cloth passes both boards as well.
    """
    wrap = replace(CASE, structure="exposed-spine-wrap", board_thickness_mm=board_mm, block_mm=(148.0, 210.0, 12.3))
    measured = of(wrap)
    assert (measured.over_spine_mm, measured.gap_mm) == (12.3, 12.3)
    assert measured.thickness_mm == pytest.approx(12.3 - 2 * board_mm)
    volume = of(replace(wrap, volumes=(Volume(1, 20.0),)))
    assert (volume.over_spine_mm, volume.thickness_mm) == (20.0, pytest.approx(20 - 2 * board_mm))
    paper = Paper((228.6, 304.8), sheets=40, per_section=4, thickness_mm=0.1, swell_mm=0.0)
    made = of(replace(wrap, block_mm=None, paper=paper))
    assert (made.thickness_mm, made.over_spine_mm) == (pytest.approx(8.0), pytest.approx(8 + 2 * board_mm))
    apart = of(replace(wrap, structure="flat-case", spine_piece="none"))
    assert (apart.thickness_mm, apart.over_spine_mm) == (12.3, 12.3)


def test_boards_of_an_accordion_stand_out_by_the_square_at_the_fore_edge() -> None:
    accordion = of(replace(CASE, structure="accordion", square_mm=4.0))
    assert (accordion.board_mm[0], accordion.board_from_mm, accordion.fore_edge_square_mm) == (156.0, -4.0, 4.0)


def test_a_spine_piece_of_board_in_a_round_case_is_as_wide_as_the_round() -> None:
    """The allowance of a flat case is for block and boards, which a round spine does not go over."""
    rounded = of(replace(CASE, structure="rounded-case", spine_piece="board"))
    assert rounded.spine_mm == pytest.approx(12.091996, abs=1e-6)
    assert rule_of(replace(CASE, structure="rounded-case", spine_piece="board"), "spine_allowance_mm").figure() == 0.0


def test_a_soft_wrap_has_no_board_and_a_mitre_of_its_own() -> None:
    limp = of(replace(CASE, structure="limp-wrap", board_thickness_mm=4.0))
    assert (limp.board_thickness_mm, limp.mitre_mm) == (0.0, 2.0)
    assert of(replace(CASE, structure="limp-wrap", mitre_distance_mm=1.0)).mitre_mm == 1.0


def test_the_squares_count_at_head_and_tail() -> None:
    assert board_size_mm(replace(CASE, square_mm=2.0, tail_square_mm=0.0, board_setback_mm=1.0)) == (147.0, 212.0)
    pages = Book("b", "Boards", page_mm=(100.0, 150.0), square_mm=2.5)
    assert board_size_mm(pages) == (102.5, 155.0)
    assert board_size_mm(replace(pages, structure="accordion")) == (105.0, 155.0)
    assert board_size_mm(Book("b", "Boards", page_mm=(100.0, 150.0))) == (100.0, 150.0)


def test_the_wall_of_a_slipcase() -> None:
    slip = Book("b", "Slipcase", "slipcase", block_mm=(130.0, 203.0, 22.0), slipcase_clearance_mm=1.0)
    assert board_size_mm(slip) == (133.0, 209.0)
    assert of(slip).clearance_mm == 1.0
    scored = of(replace(slip, slipcase_of="one scored board", slipcase_clearance_mm=None))
    # As wide as the book; all its room is in the height.
    assert (scored.clearance_mm, scored.board_mm) == (5.0, (130.0, 208.0))


def test_corners_on_a_board_wider_than_high_and_beside_wide_cloth_of_the_spine() -> None:
    """Half as high as the board, or what the spine's cloth leaves of its width: further they would meet."""
    wide = Book("b", "L", "half-case", board_mm=(300.0, 150.0), volumes=(Volume(1, 20.0),))
    assert (of(wide).corner_leg_mm, of(wide).spine_on_board_mm) == (75.0, 300 / 2 - 150 / 4)
    beside = replace(wide, board_mm=(150.0, 220.0), spine_on_board_mm=100.0)
    assert of(beside).corner_leg_mm == 50.0
    assert of(replace(wide, corner_leg_mm=90.0)).corner_leg_mm == 90.0


def test_quarter_and_half_cloth() -> None:
    quarter = replace(CASE, structure="quarter-case")
    assert of(quarter).spine_on_board_mm == pytest.approx(144.5 / 4)
    assert of(quarter).corner_leg_mm == 0.0
    half = of(replace(quarter, structure="half-case"))
    s, (w, h) = half.spine_on_board_mm, half.board_mm
    assert s * h + s * s == pytest.approx(w * h / 2)
    assert half.corner_leg_mm == s
    assert of(replace(quarter, structure="half-case", spine_on_board_mm=40.0)).corner_leg_mm == 40.0


def test_the_size_and_thickness_of_paper() -> None:
    book = Book("b", "Pad", "exposed-spine-wrap", paper=PAD)
    assert page_size_mm(book) == pytest.approx((114.3, 152.4))
    # 64 leaves of 0.1 mm and 8 sections at 0.25 mm of thread.
    assert block_thickness_mm(book, book.volumes[0]) == pytest.approx(64 * 0.1 + 8 * 0.25)
    # The cloth passes two boards of 2 mm as well; what is measured was measured over them.
    assert of(book).gap_mm == pytest.approx(8.4 + 4)
    assert block_thickness_mm(book, Volume(2, 12.0)) == 12.0 - 4
    assert (measured_thickness_mm(book, Volume(1)), measured_thickness_mm(book, Volume(2, 12.0))) == (None, 12.0)
    assert as_measured_mm(book, Volume(1)) == pytest.approx(8.4 + 4)
    assert as_measured_mm(replace(book, paper=replace(PAD, sheets=None)), Volume(1)) is None
    assert block_thickness_mm(replace(CASE, paper=PAD), Volume(1)) == 10.0


@pytest.mark.parametrize("structure", [*CASES, "exposed-spine-wrap", "limp-wrap", "slipcase"])
def test_what_goes_round_a_spine_needs_its_thickness(structure: Structure) -> None:
    with pytest.raises(BadInput) as told:
        of(Book("b", "Case", structure, page_mm=(148.0, 210.0)))
    assert told.value.code == "book-thickness-needed"


def test_no_size_at_all() -> None:
    with pytest.raises(BadInput) as told:
        board_size_mm(Book("b", "Nothing"))
    assert told.value.code == "book-one-size"
    assert page_size_mm(Book("b", "Boards", board_mm=(100.0, 150.0))) is None
    assert of(Book("b", "Boards", board_mm=(100.0, 150.0))).fore_edge_square_mm is None


def test_a_book_without_its_paper_is_the_same_book() -> None:
    book = Book("b", "Pad", "exposed-spine-wrap", paper=PAD, volumes=(Volume(1), Volume(2, 12.0)))
    alone = without_paper(book)
    assert (alone.paper, alone.page_mm) == (None, pytest.approx((114.3, 152.4)))
    assert [volume.thickness_mm for volume in alone.volumes] == [pytest.approx(12.4), 12.0]
    assert of(alone).over_spine_mm == of(book).over_spine_mm
    assert of(alone).thickness_mm == pytest.approx(of(book).thickness_mm)
    assert measures(alone, alone.volumes[1]) == measures(book, book.volumes[1])
    sized = without_paper(replace(book, board_mm=(120.0, 160.0)))
    assert (sized.page_mm, sized.board_mm) == (None, (120.0, 160.0))
    assert without_paper(replace(CASE, paper=PAD)).block_mm == CASE.block_mm


def test_what_a_structure_has_not_is_nothing() -> None:
    boards = of(Book("b", "Boards", page_mm=(100.0, 150.0), joint_mm=5.0, hinge_mm=9.0))
    assert (boards.joint_mm, boards.hinge_mm, boards.gap_mm, boards.spine_mm) == (0.0, 0.0, 0.0, None)
    assert (boards.lap_mm, boards.clearance_mm, boards.over_spine_mm) == (0.0, 0.0, 0.0)
    thick = of(Book("b", "Boards", block_mm=(100.0, 150.0, 12.0), spine_width_mm=9.0, spine_allowance_mm=4.0))
    assert (thick.gap_mm, thick.over_spine_mm) == (0.0, 0.0)
    zigzag = of(Book("b", "Zigzag", "accordion", page_mm=(100.0, 150.0), board_setback_mm=5.0))
    assert (zigzag.board_mm, zigzag.setback_mm) == ((106.0, 156.0), 0.0)
    side = of(Book("b", "Side", "side-sewn", page_mm=(100.0, 150.0)))
    assert (side.hinge_mm, side.joint_mm, side.board_mm) == (15.0, 4.0, (103.0, 156.0))
