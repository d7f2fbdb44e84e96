"""Any book that can be bound: what is seen of its pieces covers each board once, and lies on its own cloth."""

import math
from dataclasses import replace

import pytest
from drawn_books import STRUCTURES
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import union_all
from shapely.geometry import Polygon, box

from coverlayout.book.binding.slipcase import boards_of_slipcase
from coverlayout.book.book import Book, Label, Structure, TurnIns, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import BUILT_STRUCTURES, pieces
from coverlayout.errors import BadInput

TURN_IN = st.floats(0.0, 40.0)
ON_BOARDS: tuple[Structure, ...] = tuple(word for word in STRUCTURES if word not in ("side-sewn", "slipcase"))


@st.composite
def books(draw: st.DrawFn, structures: tuple[Structure, ...]) -> Book:
    """A book of any figures that can be bound."""
    book = Book(
        "b",
        "Ledger",
        draw(st.sampled_from(structures)),
        block_mm=(draw(st.floats(60.0, 300.0)), draw(st.floats(60.0, 300.0)), draw(st.floats(1.0, 60.0))),
        board_thickness_mm=draw(st.floats(1.0, 4.0)),
        square_mm=draw(st.floats(0.0, 6.0)),
        tail_square_mm=draw(st.floats(0.0, 6.0)),
        spine_piece=draw(st.sampled_from(("board", "strip", "none"))),
        side_lap_mm=draw(st.floats(0.0, 6.0)),
        spine_on_board_mm=draw(st.none() | st.floats(8.0, 60.0)),
        turn_ins=TurnIns(draw(TURN_IN), draw(TURN_IN), draw(TURN_IN), draw(TURN_IN)),
        liners=draw(st.sampled_from(("cloth", "paper", "none"))),
        liner_inset_mm=draw(st.floats(0.0, 8.0)),
        fore_edge_flap_mm=draw(st.just(0.0) | st.floats(1.0, 80.0)),
        turned_in_flap_mm=draw(st.just(0.0) | st.floats(1.0, 50.0)),
        opens=draw(st.sampled_from(("left", "right"))),
        label=draw(st.none() | st.just(Label(20.0, 10.0, "window"))),
        volumes=(Volume(draw(st.integers(1, 9))),),
    )
    try:
        pieces(book)
    except BadInput:
        assume(False)
    return book


def lying(made: tuple[Piece, ...], names: tuple[str, ...]) -> list[Polygon]:
    """The faces of these names on the book."""
    return [
        Polygon(face.piece_to_book.ring(face.outline_mm))
        for piece in made
        if piece.kind != "label"
        for face in piece.faces
        if face.name in names
    ]


def covers_once(parts: list[Polygon], whole: Polygon) -> None:
    assert sum(part.area for part in parts) == pytest.approx(whole.area, abs=0.01)
    assert union_all(parts).symmetric_difference(whole).area == pytest.approx(0.0, abs=0.01)


def board_at(book: Book, figures: Measures, cover: str) -> Polygon:
    """The board on the book laid open flat, by arithmetic."""
    near = figures.gap_mm / 2
    if book.structure in ("separate-boards", "accordion"):
        near = figures.thickness_mm / 2 + figures.board_thickness_mm
    sign = 1.0 if (cover == "front") == (book.opens == "left") else -1.0
    ends = sorted((sign * near, sign * (near + figures.board_mm[0])))
    return box(ends[0], 0.0, ends[1], figures.board_mm[1])


@given(books(ON_BOARDS))
def test_each_board_is_covered_exactly_once(book: Book) -> None:
    figures = measures(book, book.volumes[0])
    made = pieces(book)
    for cover in ("front", "back"):
        covers_once(lying(made, (cover,)), board_at(book, figures, cover))
    spine = lying(made, ("spine",))
    if spine:
        half, height = figures.gap_mm / 2, figures.board_mm[1]
        covers_once(spine, box(-half, 0.0, half, height))


@given(books(("side-sewn",)))
def test_hinge_joint_and_board_of_a_side_sewn_cover_are_all_there_is(book: Book) -> None:
    figures = measures(book, book.volumes[0])
    whole = replace(book, structure="separate-boards")
    for cover in ("front", "back"):
        covers_once(lying(pieces(book), (cover, f"{cover} hinge")), board_at(whole, figures, cover))


@given(books(("slipcase",)))
def test_each_wall_of_a_slipcase_is_covered_exactly_once(book: Book) -> None:
    wall, side, _ = boards_of_slipcase(book, book.volumes[0])
    near = side.width_mm / 2 + book.board_thickness_mm
    made = pieces(book)
    for cover in ("front", "back"):
        sign = 1.0 if (cover == "front") == (book.opens == "left") else -1.0
        ends = sorted((sign * near, sign * (near + wall.width_mm)))
        covers_once(lying(made, (cover, f"{cover} rim")), box(ends[0], 0.0, ends[1], wall.height_mm))


@given(books(tuple(name for name in BUILT_STRUCTURES if name != "parts")))
def test_every_piece_begins_at_its_own_corner_and_holds_what_is_seen_of_it(book: Book) -> None:
    made = pieces(book)
    assert len({piece.id for piece in made}) == len(made)
    for piece in made:
        cloth = Polygon(piece.outline_mm)
        left, top, _, _ = cloth.bounds
        assert (left, top) == pytest.approx((0.0, 0.0), abs=1e-9)
        assert cloth.is_valid
        seen = cloth if piece.seen_mm is None else Polygon(piece.seen_mm)
        assert seen.is_valid
        assert cloth.buffer(1e-5).covers(seen)
        for face in piece.faces:
            outline = Polygon(face.outline_mm)
            assert seen.buffer(1e-5).covers(outline), (piece.id, face.name)
            expected = -1.0 if face.name.startswith("inside") else 1.0
            assert face.piece_to_book.determinant == pytest.approx(expected)
        assert piece.source == book.cover_source


@given(books(("half-case",)), st.floats(0.0, 40.0), st.floats(0.0, 40.0))
def test_anchors_stay_on_the_book_when_turn_ins_change(book: Book, end_mm: float, side_mm: float) -> None:
    other = replace(book, turn_ins=TurnIns(end_mm, side_mm, 0.0, side_mm))
    try:
        after = {piece.id: piece for piece in pieces(other)}
    except BadInput:
        assume(False)
    for piece in pieces(book):
        twin = after[piece.id]
        first, second = (each.faces[0].piece_to_book.at(each.anchor_mm) for each in (piece, twin))
        assert math.dist(first, second) == pytest.approx(0.0, abs=1e-6)
