"""Two covers and two liners a volume: sizes, sides, anchors, marks and the map into the book."""

from dataclasses import replace

import pytest

from coverlayout.book.binding.separate_boards import boards_of_separate_boards, pieces_of_separate_boards
from coverlayout.book.book import Book, Source, TurnIns, Volume
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.measures import board_size_mm
from coverlayout.book.pieces import Piece
from coverlayout.geometry.frames import Point

# Four different turn-ins: a side that is mixed up shows.
BOOK = Book(
    "book-1",
    "Ledger",
    page_mm=(100.0, 150.0),
    turn_ins=TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=8.0, fore_edge_mm=20.0),
    volumes=(Volume(4, thickness_mm=12.0),),
)


def all_pieces(book: Book) -> tuple[Piece, ...]:
    return tuple(piece for volume in book.volumes for piece in pieces_of_separate_boards(book, volume))


def made(book: Book) -> dict[str, Piece]:
    return {piece.id: piece for piece in all_pieces(book)}


def spine_x(piece: Piece) -> float:
    (x0, _), (x1, _) = next(mark.points_mm for mark in piece.marks if mark.kind == "spine edge")
    assert x0 == x1
    return x0


def test_names_and_numbers_come_from_the_volume() -> None:
    pieces = all_pieces(replace(BOOK, volumes=(Volume(4), Volume(7))))
    assert [piece.id for piece in pieces] == [
        "front-4", "back-4", "liner-front-4", "liner-back-4", "front-7", "back-7", "liner-front-7", "liner-back-7",
    ]  # fmt: skip
    assert {(piece.book_id, piece.volume) for piece in pieces} == {("book-1", 4), ("book-1", 7)}


@pytest.mark.parametrize(
    ("given", "size"),
    [
        ({}, (100.0, 150.0)),
        ({"square_mm": 3.0}, (103.0, 156.0)),
        ({"board_setback_mm": 4.0, "square_mm": 3.0}, (99.0, 156.0)),
        ({"page_mm": None, "board_mm": (90.0, 120.0), "square_mm": 3.0}, (90.0, 120.0)),
        ({"page_mm": None, "block_mm": (80.0, 110.0, 25.0), "square_mm": 1.0}, (81.0, 112.0)),
    ],
)
def test_boards_come_from_the_page_the_block_or_as_given(given: dict[str, object], size: Point) -> None:
    assert board_size_mm(replace(BOOK, **given)) == size  # type: ignore[arg-type]  # fields by name


@pytest.mark.parametrize("opens", ["left", "right"])
def test_the_spine_edge_lies_at_opposite_hands_of_front_and_back(opens: str) -> None:
    pieces = made(replace(BOOK, opens=opens))  # type: ignore[arg-type]  # one of its two words
    at_left = "front-4" if opens == "left" else "back-4"
    at_right = "back-4" if opens == "left" else "front-4"
    assert spine_x(pieces[at_left]) == 8.0
    assert pieces[at_left].anchor_mm == (8 + 50, 14 + 75)
    assert spine_x(pieces[at_right]) == 20 + 100
    assert pieces[at_right].anchor_mm == (20 + 50, 14 + 75)
    assert spine_x(pieces[f"liner-{at_left}"]) == 94.0
    assert spine_x(pieces[f"liner-{at_right}"]) == 0.0


def test_covers_are_cut_with_their_turn_ins_and_liners_inset() -> None:
    pieces = made(BOOK)
    assert [(pieces[name].width_mm, pieces[name].height_mm) for name in ("front-4", "liner-back-4")] == [
        (100 + 8 + 20, 150 + 14 + 17),
        (94, 144),
    ]
    assert pieces["liner-front-4"].anchor_mm == (47.0, 72.0)


def test_the_head_is_marked_on_every_piece() -> None:
    for piece in all_pieces(BOOK):
        head = next(mark.points_mm for mark in piece.marks if mark.kind == "head")
        assert {y for _, y in head} == {14.0 if piece.kind == "cover" else 0.0}


def test_a_changed_turn_in_leaves_the_anchor_on_the_board() -> None:
    wider = replace(BOOK, turn_ins=TurnIns(30.0, 30.0, 30.0, 30.0))
    for book in (BOOK, wider):
        for piece in all_pieces(book):
            if piece.board is not None:
                assert piece.anchor_mm == piece.board.middle


def test_faces_meet_around_the_spine() -> None:
    """The book laid open flat from outside: 12 mm of block and 2 mm of board each side of the middle."""
    pieces = made(BOOK)
    front, back = pieces["front-4"], pieces["back-4"]
    assert front.faces[0].piece_to_book.at((spine_x(front), 14.0)) == (8.0, 0.0)
    assert back.faces[0].piece_to_book.at((spine_x(back), 14.0)) == (-8.0, 0.0)
    assert front.faces[0].piece_to_book.at((128.0, 14.0)) == (8 + 120.0, 0.0)


def test_a_liner_is_seen_through_from_outside() -> None:
    pieces = made(BOOK)
    inside = pieces["liner-front-4"].faces[0].piece_to_book
    # Its spine edge lies 3 mm from the board's, its other edge 3 mm short of the fore-edge.
    assert inside.at((94.0, 0.0)) == (8 + 3.0, 3.0)
    assert inside.at((0.0, 144.0)) == (8 + 97.0, 147.0)
    assert inside.determinant == -1.0
    assert pieces["liner-back-4"].faces[0].piece_to_book.at((0.0, 0.0)) == (-8 - 3.0, 3.0)


def test_the_block_gives_the_thickness_a_volume_does_not() -> None:
    book = replace(BOOK, page_mm=None, block_mm=(100.0, 150.0, 30.0), volumes=(Volume(1),))
    front = made(book)["front-1"]
    assert front.faces[0].piece_to_book.at((8.0, 14.0)) == (15 + 2.0, 0.0)
    unknown = made(replace(BOOK, volumes=(Volume(1),)))["front-1"]
    assert unknown.faces[0].piece_to_book.at((8.0, 14.0)) == (2.0, 0.0)


def test_only_liners_of_cloth_are_cut_from_cloth() -> None:
    assert list(made(replace(BOOK, liners="paper"))) == ["front-4", "back-4"]
    assert list(made(replace(BOOK, liners="none"))) == ["front-4", "back-4"]
    assert made(replace(BOOK, liners="paper"))["front-4"].seen_mm == made(BOOK)["front-4"].seen_mm
    assert made(replace(BOOK, liners="none"))["front-4"].seen_mm is None


def test_turns_and_source_are_those_of_covers_or_of_liners() -> None:
    book = replace(
        BOOK, cover_turns="none", liner_turns="quarter", cover_source=Source("print-1"), liner_source=Source("print-2")
    )
    pieces = made(book)
    assert (pieces["back-4"].turns, pieces["back-4"].source) == ("none", Source("print-1"))
    assert (pieces["liner-back-4"].turns, pieces["liner-back-4"].source) == ("quarter", Source("print-2"))


def test_the_mitres_keep_the_distance_asked_for() -> None:
    def first_mitre(book: Book) -> object:
        return next(mark for mark in made(book)["front-4"].marks if mark.kind == "mitre")

    assert first_mitre(BOOK) == first_mitre(replace(BOOK, mitre_distance_mm=3.0))
    assert first_mitre(BOOK) != first_mitre(replace(BOOK, mitre_distance_mm=2.0))


def test_the_boards_are_two_of_a_kind() -> None:
    assert boards_of_separate_boards(BOOK, BOOK.volumes[0]) == (BoardPiece("cover board", 100.0, 150.0, 2.0, count=2),)
