"""The scored board of a slipcase: its scores, its faces folded by hand, what stays seen of its cloth."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns
from coverlayout.book.covering.laid_flat import from_flat
from coverlayout.book.covering.scored_board import ScoredBoard
from coverlayout.book.measures import measures
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, area_mm2, bounds

# Walls 140 x 206 mm, 24 mm between them: at the mouth the front wall begins at x = 12 and ends at 152.
BOOK = Book(
    "b",
    "Case",
    "slipcase",
    block_mm=(140.0, 200.0, 24.0),
    slipcase_of="one scored board",
    slipcase_clearance_mm=6.0,
    turn_ins=TurnIns(head_mm=13.0, tail_mm=17.0, spine_mm=9.0, fore_edge_mm=22.0),
)


def scored(book: Book) -> ScoredBoard:
    return ScoredBoard(book, measures(book, book.volumes[0]))


def test_board_and_scores() -> None:
    case = scored(BOOK)
    assert case.board == Box(12.0, -24.0, 2 * 140 + 24, 206 + 48)
    assert [mark.points_mm for mark in case.scores()] == [
        ((152.0, -24.0), (152.0, 230.0)),
        ((176.0, -24.0), (176.0, 230.0)),
        ((12.0, 0.0), (316.0, 0.0)),
        ((12.0, 206.0), (316.0, 206.0)),
    ]


def test_cloth_is_turned_in_at_the_mouth_only() -> None:
    cloth = scored(BOOK).cloth()
    assert bounds(cloth.outline_mm) == Box(-10.0, -24.0, 304 + 44, 254)
    assert (cloth.anchor_mm, cloth.board) == ((82.0, 103.0), Box(12.0, 0.0, 140.0, 206.0))
    turned = [mark.points_mm[0][0] for mark in cloth.marks if mark.kind == "turn-in"]
    assert turned == [10.0, 318.0]


def test_flaps_of_closed_side_and_back_lie_under_those_of_the_front() -> None:
    seen = scored(BOOK).cloth().seen_mm
    assert seen is not None
    assert area_mm2(seen) == pytest.approx((22 + 140) * 254 + (24 + 140 + 22) * 206)


@pytest.mark.parametrize(
    ("name", "flat", "folded"),
    [
        ("front", (30.0, 10.0), (30.0, 10.0)),
        ("closed side", (160.0, 10.0), (160.0, 10.0)),
        # 5 mm from its fold the back wall is 5 mm from its closed edge, at -152.
        ("back", (181.0, 10.0), (-147.0, 10.0)),
        # On the head a point 7 mm up the flap lies 7 mm from the front wall, as far from the closed side as before.
        ("head", (102.0, -7.0), (159.0, -50.0)),
        ("tail", (102.0, 213.0), (159.0, 256.0)),
    ],
)
@pytest.mark.parametrize("opens", ["left", "right"])
def test_where_the_faces_come_to_lie(name: str, flat: Point, folded: Point, opens: str) -> None:
    book = replace(BOOK, opens=opens)  # type: ignore[arg-type]  # one of its two words
    piece = from_flat(book, book.volumes[0], scored(book).cloth())
    face = next(face for face in piece.faces if face.name == name)
    # The cloth begins at x = -10, y = -24, and is 348 wide; on the other hand it is its mirror image.
    x, y = flat[0] + 10, flat[1] + 24
    at = (x, y) if opens == "left" else (348 - x, y)
    expected = folded if opens == "left" else (-folded[0], folded[1])
    assert face.piece_to_book.at(at) == pytest.approx(expected)
    assert face.piece_to_book.determinant == pytest.approx(1.0)
    box = bounds(face.outline_mm)
    assert box.left_mm <= at[0] <= box.right_mm
    assert box.top_mm <= at[1] <= box.bottom_mm
