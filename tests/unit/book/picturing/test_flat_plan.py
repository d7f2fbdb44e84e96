"""Covers laid flat: what is drawn is what is cut, each piece where its face lies, boards where the measures say."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from drawn_books import CASES, STRUCTURES, drawn_book, names_of, points_of

from coverlayout.book.book import Book, Label, Paper, PartOfBook, Structure, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import pieces
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Box, area_mm2, bounds


def cut_of(picture: Picture, piece_id: str) -> Ring:
    return next(shape.points_mm for shape in picture.shapes if (shape.role, shape.name) == ("cut", piece_id))


def boards_of(picture: Picture) -> list[Box]:
    return sorted(
        (bounds(shape.points_mm) for shape in picture.shapes if shape.role == "board"), key=lambda box: box.left_mm
    )


def covering(book: Book) -> list[Piece]:
    return [piece for piece in pieces(book) if piece.kind != "liner"]


@pytest.mark.parametrize("opens", ["left", "right"])
@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_piece_is_drawn_once_at_the_size_it_is_cut(structure: Structure, opens: str) -> None:
    book, volume = drawn_book(structure, opens=opens)
    picture = flat_plan(book, volume)
    assert all(math.isfinite(x) and math.isfinite(y) for x, y in points_of(picture))
    made = covering(book)
    assert sorted(shape.name for shape in picture.shapes if shape.role == "cut") == sorted(each.id for each in made)
    for piece in made:
        outline = cut_of(picture, piece.id)
        box = bounds(outline)
        # The wrap of a slipcase is laid across, under its walls.
        turned = structure == "slipcase" and piece.kind == "cover"
        size = (box.height_mm, box.width_mm) if turned else (box.width_mm, box.height_mm)
        assert size == pytest.approx((piece.width_mm, piece.height_mm))
        assert area_mm2(outline) == pytest.approx(area_mm2(piece.outline_mm))


@pytest.mark.parametrize("structure", [*CASES, "exposed-spine-wrap", "limp-wrap"])
def test_a_cover_in_one_lies_in_the_frame_of_the_book(structure: Structure) -> None:
    for opens in ("left", "right"):
        book, volume = drawn_book(structure, opens=opens)
        picture = flat_plan(book, volume)
        for piece in covering(book):
            lies = piece.faces[0].piece_to_book.ring(piece.outline_mm)
            for drawn, there in zip(bounds(cut_of(picture, piece.id)).ring(), bounds(lies).ring(), strict=True):
                assert drawn == pytest.approx(there)


def test_holes_of_a_side_sewn_cover_are_drawn_and_not_as_a_fold() -> None:
    picture = flat_plan(*drawn_book("side-sewn"))
    assert "hole" in picture.roles
    assert "fold" not in picture.roles


@pytest.mark.parametrize("structure", CASES)
def test_boards_and_spine_piece_lie_where_the_measures_say(structure: Structure) -> None:
    book, volume = drawn_book(structure)
    figures = measures(book, volume)
    back, spine, front = boards_of(flat_plan(book, volume))
    assert spine.width_mm == pytest.approx(figures.spine_mm)
    assert front.left_mm - spine.right_mm == pytest.approx(7.5)
    assert spine.left_mm - back.right_mm == pytest.approx(7.5)
    for board in (back, front):
        assert (board.width_mm, board.height_mm) == pytest.approx(figures.board_mm)
        assert board.top_mm == pytest.approx(0.0)


def test_a_case_without_spine_piece_has_two_boards() -> None:
    picture = flat_plan(*drawn_book("flat-case", spine_piece="none"))
    assert len(boards_of(picture)) == 2


@pytest.mark.parametrize(("structure", "count"), [("separate-boards", 2), ("side-sewn", 4), ("accordion", 2)])
def test_covers_cut_each_for_itself_lie_clear_of_each_other(structure: Structure, count: int) -> None:
    book, volume = drawn_book(structure)
    picture = flat_plan(book, volume)
    assert len(boards_of(picture)) == count
    back, front = bounds(cut_of(picture, "back-1")), bounds(cut_of(picture, "front-1"))
    assert front.left_mm > back.right_mm + 1.0


def test_one_scored_board_is_drawn_whole() -> None:
    book, volume = drawn_book("slipcase", slipcase_of="one scored board")
    picture = flat_plan(book, volume)
    assert len(boards_of(picture)) == 1
    assert "clearance" in names_of(picture)


def test_the_wrap_of_a_slipcase_lies_under_its_walls() -> None:
    picture = flat_plan(*drawn_book("slipcase"))
    wrap = bounds(cut_of(picture, "wrap-1"))
    walls = [bounds(cut_of(picture, name)) for name in ("wall-back-1", "wall-front-1")]
    assert wrap.width_mm > wrap.height_mm
    assert all(wrap.top_mm > wall.bottom_mm for wall in walls)
    assert walls[0].right_mm < walls[1].left_mm


def test_sides_of_paper_are_no_pieces_of_cloth_but_the_boards_stay() -> None:
    picture = flat_plan(*drawn_book("quarter-case", sides="paper"))
    assert "side" not in picture.roles
    assert len(boards_of(picture)) == 3


def test_corners_and_sides_have_their_own_roles() -> None:
    picture = flat_plan(*drawn_book("half-case"))
    assert {
        "cloth",
        "side",
        "corner",
        "lap",
        "mitre",
        "liner edge",
        "turn-in",
        "cut",
        "board",
        "joint",
    } <= picture.roles


@pytest.mark.parametrize("structure", ["separate-boards", "exposed-spine-wrap", "side-sewn"])
def test_holes_lie_on_both_boards_at_their_distance_from_the_spine_edge(structure: Structure) -> None:
    picture = flat_plan(*drawn_book(structure))
    boards = boards_of(picture)
    holes = [bounds(shape.points_mm).middle for shape in picture.shapes if shape.role == "hole"]
    # The back's spine edge is its right one, the front's its left one; 6.5 mm is the rule.
    back = boards[1] if structure == "side-sewn" else boards[0]
    front = boards[2] if structure == "side-sewn" else boards[1]
    expected = {round(back.right_mm - 6.5, 6), round(front.left_mm + 6.5, 6)}
    assert {round(x, 6) for x, _y in holes} == expected


def test_a_single_section_is_pierced_in_the_spine() -> None:
    picture = flat_plan(*drawn_book("limp-wrap"))
    holes = [bounds(shape.points_mm).middle for shape in picture.shapes if shape.role == "hole"]
    assert holes
    assert {round(x, 6) for x, _y in holes} == {0.0}


def test_sewing_that_cannot_be_leaves_the_holes_out() -> None:
    book, volume = drawn_book("separate-boards")
    picture = flat_plan(replace(book, sewing=replace(book.sewing, hole_from_spine_mm=5000.0)), volume)
    assert "hole" not in picture.roles
    assert "cut" in picture.roles


def test_a_label_goes_with_the_front() -> None:
    for structure in ("flat-case", "separate-boards"):
        label = Label(40.0, 20.0, "on top", from_head_mm=30.0, from_spine_mm=25.0)
        picture = flat_plan(*drawn_book(structure, label=label))
        front, box = boards_of(picture)[-1], bounds(cut_of(picture, "label-1"))
        assert (box.left_mm - front.left_mm, box.top_mm - front.top_mm) == pytest.approx((25.0, 30.0))


@pytest.mark.parametrize("from_head_mm", [10.0, None, 120.0])
def test_the_name_of_the_front_stands_clear_of_its_label(from_head_mm: float | None) -> None:
    label = Label(60.0, 30.0, "on top", from_head_mm=from_head_mm)
    picture = flat_plan(*drawn_book("flat-case", label=label))
    front, box = boards_of(picture)[-1], bounds(cut_of(picture, "label-1"))
    (_, y) = next(words.at_mm for words in picture.words if words.text == "front")
    assert front.top_mm < y < front.bottom_mm
    assert not box.top_mm <= y <= box.bottom_mm


def test_the_page_behind_the_front_shows_the_squares() -> None:
    picture = flat_plan(*drawn_book("flat-case", tail_square_mm=5.0))
    front = boards_of(picture)[-1]
    page = bounds(next(shape.points_mm for shape in picture.shapes if shape.role == "hidden"))
    assert page.top_mm - front.top_mm == pytest.approx(3.25)
    assert front.bottom_mm - page.bottom_mm == pytest.approx(5.0)
    assert (page.width_mm, page.height_mm) == pytest.approx((114.3, 152.4))


@pytest.mark.parametrize("structure", ["flat-case", "quarter-case", "half-case"])
def test_the_page_of_a_case_lies_where_it_is_in_the_closed_book(structure: Structure) -> None:
    """Joint 7.5, round a spine piece of 2.2: 5.3 from the back. A board 114.3 - 3.5 wide: a square of 5.3 - 3.5."""
    book, volume = drawn_book(structure)
    picture = flat_plan(book, volume)
    front = boards_of(picture)[-1]
    page = bounds(next(shape.points_mm for shape in picture.shapes if shape.role == "hidden"))
    assert front.right_mm - page.right_mm == pytest.approx(1.8)
    assert front.left_mm - page.left_mm == pytest.approx(5.3)
    square = picture.measured("fore-edge square")
    closed = cut_through(book, volume).measured("fore-edge square")
    assert square is not None
    assert closed is not None
    assert square.length_mm == closed.length_mm == pytest.approx(1.8)
    assert (square.start_mm[0], square.end_mm[0]) == pytest.approx((page.right_mm, front.right_mm))
    setback = picture.measured("setback")
    assert setback is not None
    # The page moved out by its square would begin there.
    assert (setback.start_mm[0], setback.end_mm[0]) == pytest.approx((page.left_mm + 1.8, front.left_mm))


def test_known_boards_alone_show_no_page() -> None:
    picture = flat_plan(Book("b", "Ledger", board_mm=(100.0, 150.0)), Volume(1))
    assert "hidden" not in picture.roles
    assert "square" not in names_of(picture)


def test_volumes_of_a_set_are_drawn_each_for_itself() -> None:
    book, volume = drawn_book("flat-case")
    thick = Volume(2, thickness_mm=30.0)
    both = replace(book, volumes=(volume, thick), next_volume_number=3)
    widths = [bounds(cut_of(flat_plan(both, each), f"cover-{each.number}")).width_mm for each in (volume, thick)]
    assert widths[1] - widths[0] == pytest.approx(14.0)


def test_a_plain_list_of_parts_cannot_be_drawn() -> None:
    parts = Book("b", "Parts", "parts", board_mm=(100.0, 150.0), parts=(PartOfBook("cover", 2, 15.0, "none"),))
    with pytest.raises(BadInput) as caught:
        flat_plan(parts, Volume(1))
    assert caught.value.code == "picture-no-book"


def test_a_book_that_cannot_be_bound_says_why() -> None:
    book, volume = drawn_book("flat-case", turn_ins=TurnIns.all_round(-3.0))
    with pytest.raises(BadInput):
        flat_plan(book, volume)
    with pytest.raises(BadInput):
        flat_plan(Book("b", "Ledger", "flat-case", paper=Paper((100.0, 150.0), sheets=0)), Volume(1))
