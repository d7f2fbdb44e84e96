"""Cuts through every structure: figures as they are measured, cloth that goes round the boards and never through."""

from __future__ import annotations

import math

import pytest
from drawn_books import CASES, STRUCTURES, drawn_book, length_mm, names_of, points_of
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from coverlayout.book.book import Book, Paper, PartOfBook, Structure, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.book.picturing.shapes import Picture
from coverlayout.book.rules.belonging import RULED, belongs
from coverlayout.errors import BadInput


def lines(picture: Picture, *roles: str) -> list[LineString]:
    return [LineString(shape.points_mm) for shape in picture.shapes if shape.role in roles and not shape.closed]


def areas(picture: Picture, *roles: str) -> list[Polygon]:
    return [Polygon(shape.points_mm) for shape in picture.shapes if shape.role in roles and shape.closed]


@pytest.mark.parametrize("opens", ["left", "right"])
@pytest.mark.parametrize("structure", STRUCTURES)
def test_every_structure_is_drawn_with_finite_places_inside_its_box(structure: Structure, opens: str) -> None:
    picture = cut_through(*drawn_book(structure, opens=opens))
    box = picture.box
    for x, y in points_of(picture):
        assert math.isfinite(x)
        assert math.isfinite(y)
        assert box.left_mm <= x <= box.right_mm + 1e-9
        assert box.top_mm <= y <= box.bottom_mm + 1e-9
    assert "cloth" in picture.roles
    assert "section" in picture.roles
    assert picture.title


@pytest.mark.parametrize("structure", STRUCTURES)
def test_both_pictures_together_measure_every_figure_the_structure_has(structure: Structure) -> None:
    book, volume = drawn_book(structure)
    pictures = cut_through(book, volume), flat_plan(book, volume)
    wanted = [name for field, name in RULED.items() if belongs(field, structure)]
    if structure in ("exposed-spine-wrap", "limp-wrap"):
        # Without an allowance the spine of a limp wrap is the block, and is called so; of the other, with its boards.
        wanted = [name for name in wanted if name != "spine allowance"] + ["thickness"]
    if structure == "limp-wrap":
        wanted = [name for name in wanted if name != "mitre distance"]
    wanted += ["turn-in", "liner inset"] + (["board thickness"] if belongs("board_thickness_mm", structure) else [])
    missing = [name for name in wanted if not any(picture.measured(name) for picture in pictures)]
    assert not missing


@pytest.mark.parametrize("structure", STRUCTURES)
def test_measure_lines_carry_the_figures_as_measured(structure: Structure) -> None:
    book, volume = drawn_book(structure)
    figures = measures(book, volume)
    expected = {
        "square": figures.square_mm,
        "setback": figures.setback_mm,
        "joint": figures.joint_mm,
        "spine": figures.gap_mm - 2 * (figures.joint_mm if structure in CASES else 0.0),
        "rise": figures.rise_mm,
        "turn-in": 15.5,
        "inset": 3.75,
        "board thickness": 2.2,
        # A wrap was measured over both its boards.
        "block thickness": 16.0 - 2 * 2.2 if structure == "exposed-spine-wrap" else 16.0,
        "book thickness": 16.0,
        "lap": figures.lap_mm,
        "spine on board": figures.spine_on_board_mm,
        "hinge": figures.hinge_mm,
        "clearance": figures.clearance_mm,
        "fore-edge square": figures.fore_edge_square_mm,
        "hole from spine": 6.5,
    }
    for measure in cut_through(book, volume).measures:
        assert measure.length_mm == expected[measure.name], measure.name


@pytest.mark.parametrize("structure", STRUCTURES)
def test_cloth_never_runs_through_a_board_or_the_pages(structure: Structure) -> None:
    picture = cut_through(*drawn_book(structure))
    solid = areas(picture, "board", "card", "section")
    for cloth in lines(picture, "cloth", "side"):
        assert not [part for part in solid if cloth.intersection(part.buffer(-1e-3)).length > 0.0]
        assert cloth.is_simple


@pytest.mark.parametrize("structure", STRUCTURES)
def test_boards_lie_beside_the_pages_not_in_them(structure: Structure) -> None:
    picture = cut_through(*drawn_book(structure))
    for board in areas(picture, "board", "card"):
        assert all(board.intersection(page).area < 1e-6 for page in areas(picture, "section"))


@pytest.mark.parametrize("structure", [*CASES[:2], "exposed-spine-wrap"])
def test_one_cloth_goes_from_inside_the_front_round_the_spine_to_inside_the_back(structure: Structure) -> None:
    picture = cut_through(*drawn_book(structure))
    (cloth,) = [shape.points_mm for shape in picture.shapes if shape.role == "cloth"]
    # A wrap of 16 was measured over two boards of 2.2.
    thick_mm = 11.6 if structure == "exposed-spine-wrap" else 16.0
    over = tuple((x, thick_mm - y) for x, y in reversed(cloth))
    assert all(math.dist(one, other) < 1e-9 for one, other in zip(cloth, over, strict=True))
    assert min(x for x, _y in cloth) < -0.5
    boards = [shape for shape in picture.shapes if shape.name == "front board"]
    assert max(x for x, _y in cloth) > max(x for x, _y in boards[0].points_mm)


@pytest.mark.parametrize("structure", [each for each in STRUCTURES if each != "limp-wrap"])
def test_a_turn_in_goes_round_the_edge_before_it_lies_inside(structure: Structure) -> None:
    """15.5 in all: round a board of 2.2, so that 13.3 lie inside; the measure is bent round the edge by the 2.2."""
    picture = cut_through(*drawn_book(structure))
    found = picture.measured("turn-in")
    assert found is not None
    assert found.length_mm == 15.5
    assert found.round_mm == pytest.approx(2.2)
    assert found.end_mm[0] - found.start_mm[0] == pytest.approx(13.3)
    # It begins where the cloth ends inside, and reaches to the board's edge.
    ends = [shape.points_mm[0][0] for shape in picture.shapes if shape.role in ("cloth", "side") and not shape.closed]
    assert any(x == pytest.approx(found.start_mm[0]) for x in ends)
    board = max(x for shape in picture.shapes if shape.role == "board" for x, _y in shape.points_mm)
    assert found.end_mm[0] == pytest.approx(board)


def test_a_turn_in_narrower_than_the_board_only_goes_up_its_edge() -> None:
    found = cut_through(*drawn_book("flat-case", turn_ins=TurnIns.all_round(1.5))).measured("turn-in")
    assert found is not None
    assert (found.length_mm, found.round_mm) == (1.5, 1.5)
    assert found.start_mm[0] == found.end_mm[0]


def test_a_book_that_opens_right_is_the_mirror_image() -> None:
    book, volume = drawn_book("quarter-case")
    other, _ = drawn_book("quarter-case", opens="right")
    assert cut_through(other, volume).shapes == cut_through(book, volume).mirrored().shapes


@pytest.mark.parametrize(
    ("structure", "field", "name"),
    [
        ("flat-case", "joint_mm", "joint"),
        ("separate-boards", "square_mm", "square"),
        ("separate-boards", "board_setback_mm", "setback"),
        ("rounded-case", "spine_rise_mm", "rise"),
        ("side-sewn", "hinge_mm", "hinge"),
        ("quarter-case", "side_lap_mm", "lap"),
        ("limp-wrap", "fore_edge_flap_mm", "flap"),
        ("slipcase", "slipcase_clearance_mm", "clearance"),
        ("flat-case", "liner_inset_mm", "inset"),
    ],
)
def test_the_picture_follows_a_changed_figure(structure: Structure, field: str, name: str) -> None:
    drawn = []
    for figure_mm in (4.0, 7.0):
        picture = cut_through(*drawn_book(structure, **{field: figure_mm}))
        assert length_mm(picture, name) == figure_mm
        found = picture.measured(name)
        assert found is not None
        drawn.append(math.dist(found.start_mm, found.end_mm))
    assert drawn[1] > drawn[0] + 1.0


def test_a_paper_makes_as_many_sections_as_are_drawn() -> None:
    # 16 sheets cut in two are 32 pieces; four to a section make eight.
    paper = Paper((228.6, 304.8), sheets=16, cut=(2, 1), per_section=4, thickness_mm=0.12)
    book = Book("b", "Ledger", paper=paper)
    names = {shape.name for shape in cut_through(book, Volume(1)).shapes if shape.role == "section"}
    assert names == {f"section {k}" for k in range(1, 9)}


def test_a_book_of_unknown_thickness_is_drawn_without_that_figure() -> None:
    picture = cut_through(Book("b", "Ledger", page_mm=(100.0, 150.0)), Volume(1))
    assert "block thickness" not in names_of(picture)
    assert "section" in picture.roles


def test_without_liners_none_are_drawn() -> None:
    picture = cut_through(*drawn_book("flat-case", liners="none"))
    assert "liner" not in picture.roles
    assert "inset" not in names_of(picture)


def test_a_case_of_known_boards_only_has_no_square_at_the_fore_edge() -> None:
    book = Book("b", "Ledger", "flat-case", board_mm=(120.0, 160.0))
    assert "fore-edge square" not in names_of(cut_through(book, Volume(1, thickness_mm=12.0)))


def test_a_plain_list_of_parts_cannot_be_drawn() -> None:
    parts = Book("b", "Parts", "parts", board_mm=(100.0, 150.0), parts=(PartOfBook("cover", 2, 15.0, "none"),))
    with pytest.raises(BadInput) as caught:
        cut_through(parts, Volume(1))
    assert caught.value.code == "picture-no-book"


def test_a_case_without_thickness_cannot_be_measured() -> None:
    with pytest.raises(BadInput):
        cut_through(Book("b", "Ledger", "flat-case", page_mm=(100.0, 150.0)), Volume(1))


@settings(max_examples=60, deadline=None)
@given(
    structure=st.sampled_from(STRUCTURES),
    thick_mm=st.floats(0.5, 90.0),
    board_mm=st.floats(0.3, 6.0),
    square_mm=st.floats(0.0, 12.0),
    turn_in_mm=st.floats(0.0, 60.0),
    inset_mm=st.floats(0.0, 12.0),
)
def test_no_figures_bring_boards_pages_and_cloth_into_each_other(
    structure: Structure, thick_mm: float, board_mm: float, square_mm: float, turn_in_mm: float, inset_mm: float
) -> None:
    more: dict[str, object] = {"block_mm": (110.0, 160.0, thick_mm), "square_mm": square_mm}
    book, volume = drawn_book(structure, **more, board_thickness_mm=board_mm, liner_inset_mm=inset_mm)
    picture = cut_through(book, volume)
    assert all(math.isfinite(x) and math.isfinite(y) for x, y in points_of(picture))
    pages = areas(picture, "section")
    for board in areas(picture, "board", "card"):
        assert all(board.intersection(page).area < 1e-6 for page in pages)
    for cloth in lines(picture, "cloth"):
        assert not [board for board in areas(picture, "board") if cloth.intersection(board.buffer(-1e-3)).length > 0]
