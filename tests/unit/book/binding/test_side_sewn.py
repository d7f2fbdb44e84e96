"""Side-sewn covers: hinge, joint and board under one cloth; both openings; boards and marks."""

from dataclasses import replace

import pytest

from coverlayout.book.binding.side_sewn import boards_of_side_sewn, pieces_of_side_sewn
from coverlayout.book.book import Book, Sewing, TurnIns, Volume
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.pieces import Piece
from coverlayout.geometry.shapes import Box, bounds

# Boards 103 x 156 in all: a hinge of 14, a joint of 5, and 84 left to turn.
BOOK = Book(
    "b",
    "Notes",
    "side-sewn",
    page_mm=(100.0, 150.0),
    square_mm=3.0,
    hinge_mm=14.0,
    joint_mm=5.0,
    turn_ins=TurnIns(head_mm=12.0, tail_mm=17.0, spine_mm=9.0, fore_edge_mm=20.0),
    sewing=Sewing(hole_from_spine_mm=7.0),
    volumes=(Volume(1, 10.0),),
)


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces_of_side_sewn(book, book.volumes[0])}


def lines(piece: Piece, kind: str) -> list[float]:
    """Where lines along the spine lie, in the book frame."""
    by = piece.faces[0].piece_to_book
    return [by.at(mark.points_mm[0])[0] for mark in piece.marks if mark.kind == kind]


def test_one_cloth_over_all_with_turn_ins_on_four_edges() -> None:
    pieces = made(BOOK)
    assert list(pieces) == ["front-1", "back-1", "liner-front-1", "liner-back-1"]
    for name in ("front-1", "back-1"):
        assert (pieces[name].width_mm, pieces[name].height_mm) == (103 + 9 + 20, 156 + 12 + 17)
    for name in ("liner-front-1", "liner-back-1"):
        assert (pieces[name].width_mm, pieces[name].height_mm) == (97.0, 150.0)
    assert list(made(replace(BOOK, liners="paper"))) == ["front-1", "back-1"]


def test_boards_and_hinge_strips() -> None:
    assert boards_of_side_sewn(BOOK, BOOK.volumes[0]) == (
        BoardPiece("cover board", 84.0, 156.0, 2.0, count=2),
        BoardPiece("hinge strip", 14.0, 156.0, 2.0, count=2),
    )


# From the middle: half of 10 mm of block and a board of 2 mm, so the spine edge is at 7.
@pytest.mark.parametrize(
    ("name", "opens", "board", "hinge", "joints", "hole"),
    [
        ("front", "left", 26.0, 7.0, [21.0, 26.0], 14.0),
        ("back", "left", -110.0, -26.0, [-21.0, -26.0], -14.0),
        ("front", "right", -110.0, -26.0, [-21.0, -26.0], -14.0),
        ("back", "right", 26.0, 7.0, [21.0, 26.0], 14.0),
    ],
)
def test_where_board_hinge_joint_and_holes_lie_on_the_book(
    name: str, opens: str, board: float, hinge: float, joints: list[float], hole: float
) -> None:
    piece = made(replace(BOOK, opens=opens))[f"{name}-1"]  # type: ignore[arg-type]  # one of its two words
    places = {face.name: bounds(face.piece_to_book.ring(face.outline_mm)) for face in piece.faces}
    assert places == {name: Box(board, 0.0, 84.0, 156.0), f"{name} hinge": Box(hinge, 0.0, 19.0, 156.0)}
    assert lines(piece, "joint") == joints
    assert lines(piece, "fold") == [hole]
    assert lines(piece, "spine edge") == [7.0 if board > 0 else -7.0]
    assert piece.faces[0].piece_to_book.at(piece.anchor_mm) == (board + 42.0, 78.0)
    assert piece.board is not None
    assert piece.anchor_mm == piece.board.middle


def test_boards_are_marked_apart_and_nothing_else_is_lost() -> None:
    kinds = [mark.kind for mark in made(BOOK)["front-1"].marks]
    assert kinds == [
        "board", "board", "joint", "joint", "fold",
        "turn-in", "liner", "mitre", "mitre", "mitre", "mitre", "spine edge", "head",
    ]  # fmt: skip
    boxes = [bounds(mark.points_mm) for mark in made(BOOK)["front-1"].marks if mark.kind == "board"]
    assert boxes == [Box(9 + 19.0, 12.0, 84.0, 156.0), Box(9.0, 12.0, 14.0, 156.0)]


def test_the_liner_runs_over_hinge_joint_and_board() -> None:
    liner = made(BOOK)["liner-front-1"].faces[0]
    assert bounds(liner.piece_to_book.ring(liner.outline_mm)) == Box(10.0, 3.0, 97.0, 150.0)
    seen = made(BOOK)["front-1"].seen_mm
    assert seen is not None
    assert bounds(seen) == Box(4.0, 7.0, 103 + 10, 156 + 10)


def test_holes_off_the_board_are_not_drawn() -> None:
    far = replace(BOOK, sewing=Sewing(hole_from_spine_mm=150.0))
    assert lines(made(far)["front-1"], "fold") == []
