"""Parts of a book given as a list, and the maker's own pieces."""

from dataclasses import replace

from samples import L_SHAPE

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Source, Volume
from coverlayout.book.parts import pieces_of_own, pieces_of_parts
from coverlayout.book.pieces import Piece
from coverlayout.geometry.shapes import Box

BOOK = Book(
    "book-1",
    "Set",
    "parts",
    board_mm=(100.0, 150.0),
    parts=(
        PartOfBook("cover", 2, 15.0, "none"),
        PartOfBook("spine", 1, 15.0, "half", width_mm=40.0),
        PartOfBook("liner", 1, -3.0, "quarter"),
    ),
    cover_source=Source("print-1"),
    liner_source=Source("print-2"),
    volumes=(Volume(1), Volume(3)),
)


def made(book: Book) -> list[Piece]:
    return [piece for volume in book.volumes for piece in pieces_of_parts(book, volume)]


def test_parts_are_named_by_book_and_count() -> None:
    ids = [piece.id for piece in made(BOOK)]
    assert ids[:4] == ["cover-1-1", "cover-1-2", "spine-1-1", "liner-1-1"]
    assert ids[4:] == ["cover-3-1", "cover-3-2", "spine-3-1", "liner-3-1"]


def test_parts_are_the_board_and_more_or_less() -> None:
    cover, _, spine, liner = made(BOOK)[:4]
    assert (cover.width_mm, cover.height_mm, cover.kind, cover.turns) == (130.0, 180.0, "cover", "none")
    assert (spine.width_mm, spine.height_mm, spine.kind, spine.turns) == (40.0, 180.0, "spine piece", "half")
    assert (liner.width_mm, liner.height_mm, liner.kind, liner.turns) == (94.0, 144.0, "liner", "quarter")


def test_every_part_and_own_piece_knows_its_head() -> None:
    cover, *_ = made(BOOK)
    assert [(mark.kind, mark.points_mm) for mark in cover.marks] == [("head", ((0.0, 0.0), (130.0, 0.0)))]
    ell = OwnPiece("own-1", "ell", outline_mm=((4.0, 60.0), (4.0, 7.0), (29.0, 7.0), (29.0, 40.0), (64.0, 60.0)))
    (head,) = pieces_of_own(ell)[0].marks
    # Moved home by (-4, -7): the top edge ran from 4 to 29.
    assert head.points_mm == ((0.0, 0.0), (25.0, 0.0))
    (tip,) = pieces_of_own(OwnPiece("own-2", "tip", outline_mm=((0.0, 9.0), (6.0, 0.0), (8.0, 9.0))))[0].marks
    assert tip.points_mm == ((6.0, 0.0), (6.0, 0.0))


def test_a_part_that_covers_the_board_has_its_face() -> None:
    cover, _, spine, liner = made(BOOK)[:4]
    assert cover.board == Box(15.0, 15.0, 100.0, 150.0)
    assert cover.anchor_mm == cover.board.middle
    assert cover.faces[0].outline_mm == cover.board.ring()
    assert (spine.board, liner.board, liner.faces) == (None, None, ())
    assert (cover.source, spine.source, liner.source) == (Source("print-1"), Source("print-1"), Source("print-2"))


def test_no_pieces_while_only_the_proportion_is_known() -> None:
    assert made(replace(BOOK, board_mm=None, board_ratio=(3.0, 4.0))) == []


def test_own_pieces_are_counted_or_carry_their_ids() -> None:
    pocket = OwnPiece("own-1", "pocket", 60.0, 90.0, count=2, turns="free", source=Source("print-1"))
    first, second = pieces_of_own(pocket)
    assert (first.id, second.id) == ("pocket-1", "pocket-2")
    assert (first.width_mm, first.height_mm, first.turns, first.source) == (60.0, 90.0, "free", Source("print-1"))
    assert first.anchor_mm == (30.0, 45.0)
    assert [piece.id for piece in pieces_of_own(replace(pocket, ids=("left", "right")))] == ["left", "right"]


def test_an_own_outline_moves_home_with_its_points() -> None:
    drawn = tuple((x - 7.0, y + 30.0) for x, y in L_SHAPE)
    own = OwnPiece("own-1", "label", outline_mm=drawn, reference_mm=(1.0, 32.0), seen_mm=drawn[:3])
    (piece,) = pieces_of_own(own)
    assert piece.outline_mm == L_SHAPE
    assert piece.anchor_mm == (8.0, 2.0)
    assert piece.seen_mm == L_SHAPE[:3]
    (plain,) = pieces_of_own(replace(own, reference_mm=None, seen_mm=None))
    assert plain.anchor_mm == (30.0, 50.0)
    assert plain.seen_mm is None
