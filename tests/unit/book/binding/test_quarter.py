"""Quarter and half cases: which pieces, where they lie on books of both openings, and what cannot be bound."""

import math
from dataclasses import replace
from typing import Any

import pytest
from half_case import HALF

from coverlayout.book.binding.quarter import check_laps, pieces_of_quarter
from coverlayout.book.book import Book, Source, Volume
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import area_mm2, bounds

QUARTER = replace(HALF, structure="quarter-case")
SEEN_LEG = 25 - 4 * math.sqrt(2)


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces_of_quarter(book, book.volumes[0])}


def on_book(piece: Piece, point: Point) -> Point:
    return piece.faces[0].piece_to_book.at(point)


def test_pieces_of_a_quarter_case() -> None:
    pieces = made(replace(QUARTER, volumes=(Volume(4, 20.0),)))
    assert list(pieces) == ["spine-4", "side-front-4", "side-back-4", "liner-front-4", "liner-back-4"]
    assert [piece.kind for piece in pieces.values()] == ["spine piece", "side", "side", "liner", "liner"]


def test_a_half_case_has_four_corners_more() -> None:
    assert list(made(HALF)) == [
        "spine-1", "side-front-1", "side-back-1",
        "corner-front-head-1", "corner-back-head-1", "corner-front-tail-1", "corner-back-tail-1",
        "liner-front-1", "liner-back-1",
    ]  # fmt: skip


def test_sides_and_liners_of_paper_are_not_cut_from_cloth() -> None:
    assert list(made(replace(QUARTER, sides="paper", liners="paper"))) == ["spine-1"]
    assert len(made(replace(HALF, sides="paper", liners="none"))) == 5


def test_prints_and_turns_of_spine_and_corners_are_those_of_the_cover() -> None:
    pieces = made(
        replace(
            HALF,
            cover_turns="half",
            cover_source=Source("print-1"),
            side_turns="quarter",
            side_source=Source("print-2"),
            liner_turns="none",
        )
    )
    for name, piece in pieces.items():
        expected = {"side": ("quarter", "print-2"), "liner": ("none", None)}.get(piece.kind, ("half", "print-1"))
        assert (piece.turns, piece.source.print_id) == expected, name


# The fore-edge turn-in is 20 mm, the board's part of a side 74; a corner's cloth begins 25 + 14 mm (head) or 25 + 17
# (tail) before the fore-edge.
@pytest.mark.parametrize(
    ("name", "left", "right"),
    [
        ("spine-1", (-46.0, -14.0), (-46.0, -14.0)),
        ("side-front-1", (42.0, -14.0), (-136.0, -14.0)),
        ("side-back-1", (-136.0, -14.0), (42.0, -14.0)),
        ("corner-front-head-1", (116 - 39.0, -14.0), (-136.0, -14.0)),
        ("corner-back-head-1", (-136.0, -14.0), (116 - 39.0, -14.0)),
        ("corner-front-tail-1", (116 - 42.0, 150 - 45.0), (-136.0, 150 - 45.0)),
        ("corner-back-tail-1", (-136.0, 150 - 45.0), (116 - 42.0, 150 - 45.0)),
        # Liners run from the joint (16 mm from the middle) to 3 mm before the fore-edge; their left is seen through.
        ("liner-front-1", (113.0, 3.0), (-16.0, 3.0)),
        ("liner-back-1", (-16.0, 3.0), (113.0, 3.0)),
    ],
)
def test_the_top_left_of_each_piece_on_books_of_both_openings(name: str, left: Point, right: Point) -> None:
    for opens, at in (("left", left), ("right", right)):
        piece = made(replace(HALF, opens=opens))[name]  # type: ignore[arg-type]  # one of its two words
        assert on_book(piece, (0.0, 0.0)) == pytest.approx(at)
        box = bounds(piece.outline_mm)
        assert (box.left_mm, box.top_mm) == (0.0, 0.0)
        step = -1.0 if piece.kind == "liner" else 1.0
        assert on_book(piece, (1.0, 1.0)) == pytest.approx((at[0] + step, at[1] + 1.0))


@pytest.mark.parametrize("opens", ["left", "right"])
def test_corners_lie_over_the_corners_of_their_boards(opens: str) -> None:
    pieces = made(replace(HALF, opens=opens))  # type: ignore[arg-type]  # one of its two words
    for cover, end in (("front", "head"), ("front", "tail"), ("back", "head"), ("back", "tail")):
        piece = pieces[f"corner-{cover}-{end}-1"]
        x = 116.0 if (cover == "front") == (opens == "left") else -116.0
        y = 0.0 if end == "head" else 150.0
        seen = [on_book(piece, point) for point in piece.faces[0].outline_mm]
        assert piece.faces[0].name == cover
        inward_x, inward_y = math.copysign(SEEN_LEG, -x), SEEN_LEG if end == "head" else -SEEN_LEG
        corners = sorted([(x, y), (x + inward_x, y), (x, y + inward_y)])
        for found, expected in zip(sorted(seen), corners, strict=True):
            assert found == pytest.approx(expected)
        assert on_book(piece, piece.anchor_mm) == pytest.approx((x + inward_x / 3, y + inward_y / 3))


def test_anchors_do_not_move_with_the_turn_ins() -> None:
    wider = replace(HALF, turn_ins=replace(HALF.turn_ins, head_mm=31.0, tail_mm=9.0, fore_edge_mm=27.0))
    first, second = made(HALF), made(wider)
    for name, piece in first.items():
        assert on_book(piece, piece.anchor_mm) == pytest.approx(on_book(second[name], second[name].anchor_mm)), name


def test_spine_cloth_and_corners_by_the_share_of_a_half_case() -> None:
    """About 1:1 (a university library's page, 2006): s wide on a board 100 x 150 with s x 150 + s x s = 7500."""
    book = replace(HALF, spine_on_board_mm=None, corner_leg_mm=None)
    figures = measures(book, book.volumes[0])
    s = (-150 + math.sqrt(150**2 + 4 * 7500)) / 2
    assert (figures.spine_on_board_mm, figures.corner_leg_mm) == pytest.approx((s, s))
    assert made(book)["spine-1"].width_mm == pytest.approx(32 + 2 * s)


@pytest.mark.parametrize(
    ("given", "code", "says"),
    [
        ({"spine_on_board_mm": 4.0}, "lap-hides-spine", "4 mm"),
        ({"corner_leg_mm": 5.6}, "lap-hides-corner", "5.66 mm"),
    ],
)
def test_sides_must_leave_something_of_what_they_lie_over(given: dict[str, Any], code: str, says: str) -> None:
    book = replace(HALF, **given)
    with pytest.raises(BadInput) as caught:
        check_laps(book, measures(book, book.volumes[0]))
    assert caught.value.code == code
    assert says in str(caught.value)


def test_a_quarter_case_has_no_corner_to_hide_and_a_full_case_no_lap() -> None:
    for book in (HALF, replace(QUARTER, corner_leg_mm=1.0), replace(HALF, structure="flat-case", side_lap_mm=90.0)):
        check_laps(book, measures(book, book.volumes[0]))


def test_outlines_of_covered_boards_are_whole() -> None:
    """Nothing is taken off a side for its corners or mitres."""
    for book in (HALF, QUARTER):
        side = made(book)["side-back-1"]
        assert area_mm2(side.outline_mm) == pytest.approx(side.width_mm * side.height_mm)
