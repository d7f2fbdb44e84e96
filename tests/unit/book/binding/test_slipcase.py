"""Slipcases: the box built from its boards by arithmetic, cloth, walls, and the one scored board."""

from dataclasses import replace

import pytest

from coverlayout.book.binding.slipcase import boards_of_slipcase, check_walls, pieces_of_slipcase
from coverlayout.book.book import Book, Source, TurnIns, Volume
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.pieces import Piece
from coverlayout.errors import BadInput

# The finished book is 140 x 200 mm and 24 thick; room of 1.25 mm on each side, board of 3 mm.
CASE = Book(
    "b",
    "Case",
    "slipcase",
    block_mm=(140.0, 200.0, 24.0),
    board_thickness_mm=3.0,
    slipcase_clearance_mm=1.25,
    liner_inset_mm=2.0,
    turn_ins=TurnIns(head_mm=13.0, tail_mm=17.0, spine_mm=9.0, fore_edge_mm=22.0),
    volumes=(Volume(5),),
)
SCORED = replace(CASE, slipcase_of="one scored board", slipcase_clearance_mm=6.0)


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in pieces_of_slipcase(book, book.volumes[0])}


def test_the_boards_build_a_box_that_holds_the_book_with_its_room() -> None:
    """The two walls stand on the edges of the other three; the closed side lies behind head and tail."""
    boards = {board.name: board for board in boards_of_slipcase(CASE, CASE.volumes[0])}
    wall, side, end = boards["side wall"], boards["closed side"], boards["head and tail"]
    assert (wall.count, side.count, end.count) == (2, 1, 2)
    # Inside: the book and its room; the open mouth needs none before it.
    assert side.width_mm == end.width_mm == 24 + 2 * 1.25
    assert end.height_mm == 140 + 1.25
    assert side.height_mm - 2 * 3 == 200 + 2 * 1.25
    # Outside: the walls cover the edges of what lies between them.
    assert wall.width_mm == end.height_mm + 3
    assert wall.height_mm == side.height_mm
    assert end.grain == "any"


def test_one_scored_board() -> None:
    """(2 w + T) x (h + room + 2 T)."""
    assert boards_of_slipcase(SCORED, SCORED.volumes[0]) == (
        BoardPiece("scored board", 2 * 140 + 24, 200 + 6 + 48, 3.0),
    )


# Outside the box is 24 + 2.5 + 6 = 32.5 mm thick, 144.25 deep, 208.5 high.
def test_the_wrap_goes_over_head_closed_side_and_tail() -> None:
    wrap = made(CASE)["wrap-5"]
    assert wrap.width_mm == 32.5 + 2 * 13
    assert wrap.height_mm == 2 * 144.25 + 208.5 + 2 * 22
    assert wrap.kind == "cover"


def test_walls_are_short_of_three_edges_and_turned_in_at_the_mouth() -> None:
    pieces = made(CASE)
    assert list(pieces) == ["wrap-5", "wall-front-5", "wall-back-5"]
    for name in ("wall-front-5", "wall-back-5"):
        assert (pieces[name].width_mm, pieces[name].height_mm) == (144.25 - 2 + 22, 208.5 - 4)
        assert pieces[name].kind == "side"


def test_walls_of_paper_leave_the_wrap_and_one_board_needs_no_walls() -> None:
    assert list(made(replace(CASE, sides="paper"))) == ["wrap-5"]
    scored = made(SCORED)
    assert list(scored) == ["wrap-5"]
    assert (scored["wrap-5"].width_mm, scored["wrap-5"].height_mm) == (304 + 44, 254)


def test_prints_and_turns() -> None:
    book = replace(CASE, cover_turns="half", side_turns="none", cover_source=Source("p-1"), side_source=Source("p-2"))
    assert [(piece.turns, piece.source.print_id) for piece in made(book).values()] == [
        ("half", "p-1"), ("none", "p-2"), ("none", "p-2"),
    ]  # fmt: skip


def test_a_volume_of_its_own_thickness_has_a_case_of_its_own() -> None:
    thick = Volume(6, 40.0)
    assert boards_of_slipcase(CASE, thick)[1].width_mm == 42.5


def test_cloth_of_the_walls_must_reach_under_the_lap() -> None:
    check_walls(CASE)
    bare = replace(CASE, liner_inset_mm=13.0)
    with pytest.raises(BadInput) as caught:
        check_walls(bare)
    assert caught.value.code == "slipcase-wall-bare"
    assert "13 mm" in str(caught.value)
    for other in (replace(bare, slipcase_of="one scored board"), replace(bare, structure="flat-case")):
        check_walls(other)
