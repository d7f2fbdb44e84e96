"""The limp wrap: widths by arithmetic, flaps, one liner, faces on books of both openings."""

from dataclasses import replace

import pytest

from coverlayout.book.binding.limp import pieces_of_limp
from coverlayout.book.book import Book, Source, TurnIns, Volume
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, bounds

# Pages 100 x 150 mm, a section 4 mm thick; every edge turned in by another width.
WRAP = Book(
    "b",
    "Notes",
    "limp-wrap",
    block_mm=(100.0, 150.0, 4.0),
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    volumes=(Volume(2),),
)
FLAP = replace(WRAP, fore_edge_flap_mm=45.0)


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces_of_limp(book, book.volumes[0])}


def places(piece: Piece) -> dict[str, Box]:
    """Every face on the book laid open flat."""
    return {face.name: bounds(face.piece_to_book.ring(face.outline_mm)) for face in piece.faces}


def folds(piece: Piece) -> list[float]:
    by = piece.faces[0].piece_to_book
    return sorted(by.at(mark.points_mm[0])[0] for mark in piece.marks if mark.kind == "fold")


def test_two_faces_a_spine_and_turn_ins() -> None:
    """2 W + T (common practice, no source) is 204 mm."""
    pieces = made(WRAP)
    assert list(pieces) == ["cover-2", "liner-2"]
    assert (pieces["cover-2"].width_mm, pieces["cover-2"].height_mm) == (204 + 40, 150 + 14 + 17)
    assert (pieces["liner-2"].width_mm, pieces["liner-2"].height_mm) == (198.0, 144.0)
    assert (pieces["cover-2"].kind, pieces["liner-2"].kind) == ("cover", "liner")


def test_nothing_but_face_and_flaps_where_nothing_is_turned_in() -> None:
    plain = replace(FLAP, turn_ins=TurnIns.all_round(0.0), liners="none")
    (cover,) = made(plain).values()
    assert (cover.width_mm, cover.height_mm) == (2 * 100 + 4 + 4 + 45, 150)


def test_the_face_may_overhang_the_pages() -> None:
    yapp = replace(WRAP, square_mm=3.0, tail_square_mm=5.0)
    assert measures(yapp, yapp.volumes[0]).board_mm == (103.0, 158.0)
    assert (made(yapp)["cover-2"].width_mm, made(yapp)["cover-2"].height_mm) == (2 * 103 + 4 + 40, 158 + 31)


def test_a_flap_over_the_fore_edge_needs_one_more_thickness() -> None:
    assert made(FLAP)["cover-2"].width_mm == 204 + 40 + 4 + 45
    assert places(made(FLAP)["cover-2"]) == {
        "front": Box(2.0, 0.0, 100.0, 150.0),
        "spine": Box(-2.0, 0.0, 4.0, 150.0),
        "back": Box(-102.0, 0.0, 100.0, 150.0),
        "fore-edge": Box(-106.0, 0.0, 4.0, 150.0),
        "flap": Box(-151.0, 0.0, 45.0, 150.0),
    }


def test_a_book_that_opens_right_has_its_flap_at_the_other_hand() -> None:
    faces = places(made(replace(FLAP, opens="right"))["cover-2"])
    assert (faces["front"].left_mm, faces["back"].left_mm, faces["flap"].left_mm) == (-102.0, 2.0, 106.0)
    assert folds(made(replace(FLAP, opens="right"))["cover-2"]) == [-2.0, 2.0, 102.0, 106.0]
    assert folds(made(FLAP)["cover-2"]) == [-106.0, -102.0, -2.0, 2.0]


@pytest.mark.parametrize(
    ("book", "width", "at_folds"),
    [
        # In place of both turn-ins of 20 mm.
        (replace(WRAP, turned_in_flap_mm=60.0), 204 + 120, [-102.0, -2.0, 2.0, 102.0]),
        # The end of a flap over the fore-edge keeps its plain turn-in.
        (replace(FLAP, turned_in_flap_mm=60.0), 204 + 60 + 4 + 45 + 20, [-106.0, -102.0, -2.0, 2.0, 102.0]),
    ],
)
def test_flaps_turned_in_take_the_place_of_the_turn_in(book: Book, width: float, at_folds: list[float]) -> None:
    cover = made(book)["cover-2"]
    assert cover.width_mm == width
    assert folds(cover) == at_folds


def test_a_flap_turned_in_lies_over_the_liner_and_stays_seen() -> None:
    def seen(book: Book) -> Box:
        ring = made(book)["cover-2"].seen_mm
        assert ring is not None
        return bounds(made(book)["cover-2"].faces[0].piece_to_book.ring(ring))

    # No board: the liner hides a turn-in from 3 mm beyond the edge on.
    assert seen(WRAP) == Box(-105.0, -3.0, 210.0, 156.0)
    assert seen(replace(WRAP, turned_in_flap_mm=60.0)) == Box(-162.0, -3.0, 324.0, 156.0)
    assert seen(replace(FLAP, turned_in_flap_mm=60.0)) == Box(-154.0, -3.0, 316.0, 156.0)
    assert made(replace(WRAP, liners="none"))["cover-2"].seen_mm is None


def test_the_thickness_of_a_board_does_not_count() -> None:
    thick = replace(WRAP, board_thickness_mm=5.0, mitre_distance_mm=2.0)
    assert replace(made(thick)["cover-2"], marks=()) == replace(made(WRAP)["cover-2"], marks=())
    turned = next(mark for mark in made(WRAP)["cover-2"].marks if mark.kind == "turn-in")
    assert bounds(turned.points_mm) == Box(20.0, 14.0, 204.0, 150.0)


def test_the_one_liner_lies_inside_all_panels_its_print_towards_the_pages() -> None:
    liner = made(FLAP)["liner-2"]
    assert places(liner) == {
        "inside front": Box(2.0, 3.0, 97.0, 144.0),
        "inside spine": Box(-2.0, 3.0, 4.0, 144.0),
        "inside back": Box(-102.0, 3.0, 100.0, 144.0),
        "inside fore-edge": Box(-106.0, 3.0, 4.0, 144.0),
        "inside flap": Box(-148.0, 3.0, 42.0, 144.0),
    }
    for face in liner.faces:
        assert face.piece_to_book.determinant == -1.0
    assert liner.faces[0].piece_to_book.at((0.0, 0.0)) == (99.0, 3.0)
    assert folds(liner) == folds(made(FLAP)["cover-2"])


def test_a_flap_narrower_than_the_inset_is_not_lined() -> None:
    liner = made(replace(WRAP, fore_edge_flap_mm=2.0))["liner-2"]
    assert [face.name for face in liner.faces][-1] == "inside fore-edge"
    assert liner.width_mm == 204 + 4 + 2 - 6


@pytest.mark.parametrize(("opens", "at"), [("left", (52.0, 75.0)), ("right", (-52.0, 75.0))])
def test_cover_and_liner_are_anchored_at_the_middle_of_the_front(opens: str, at: Point) -> None:
    wider = replace(FLAP, opens=opens, turn_ins=TurnIns(1.0, 2.0, 3.0, 4.0))  # type: ignore[arg-type]  # its two words
    for book in (replace(FLAP, opens=opens), wider):  # type: ignore[arg-type]  # as above
        for piece in made(book).values():
            assert piece.faces[0].piece_to_book.at(piece.anchor_mm) == pytest.approx(at)
        cover = made(book)["cover-2"]
        assert cover.board is not None
        assert cover.board.middle == cover.anchor_mm


def test_mitres_at_all_four_corners_and_no_board_marked() -> None:
    kinds = [mark.kind for mark in made(WRAP)["cover-2"].marks]
    assert kinds == ["turn-in", "mitre", "mitre", "mitre", "mitre", "liner", "fold", "fold", "head"]


def test_prints_turns_and_liners_as_asked() -> None:
    book = replace(
        WRAP, cover_turns="half", liner_turns="quarter", cover_source=Source("p-1"), liner_source=Source("p-2")
    )
    assert [(piece.turns, piece.source.print_id) for piece in made(book).values()] == [
        ("half", "p-1"),
        ("quarter", "p-2"),
    ]
    assert list(made(replace(WRAP, liners="paper"))) == ["cover-2"]
    assert made(replace(WRAP, liners="paper"))["cover-2"].seen_mm == made(WRAP)["cover-2"].seen_mm


@pytest.mark.parametrize(
    ("flap_mm", "turned_in_mm", "mitres"), [(0.0, 0.0, 4), (45.0, 0.0, 4), (0.0, 60.0, 0), (45.0, 60.0, 2)]
)
def test_a_flap_turned_in_keeps_its_corners(flap_mm: float, turned_in_mm: float, mitres: int) -> None:
    """Cut off at 45 degrees, a flap 60 mm deep would be left with a stump; plain turn-ins are mitred as ever."""
    book = replace(WRAP, fore_edge_flap_mm=flap_mm, turned_in_flap_mm=turned_in_mm)
    for opens in ("left", "right"):
        cover = made(replace(book, opens=opens))["cover-2"]
        lines = [mark.points_mm for mark in cover.marks if mark.kind == "mitre"]
        assert len(lines) == mitres
        if mitres == 2:
            # Those of the flap over the fore-edge, beyond the back: at the left of a book that opens left.
            middle = cover.width_mm / 2
            assert all((x < middle) == (opens == "left") for line in lines for x, _ in line)
