"""One cloth over both boards and the spine: the wrap of an open spine, the flat-backed and the rounded case."""

from __future__ import annotations

from coverlayout.book.binding.covers import cover_piece, one_piece
from coverlayout.book.book import Book, Volume
from coverlayout.book.lining.liners import liners_of
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.book.rules.belonging import CASES
from coverlayout.book.rules.table import rule

__all__ = ["boards_of_case", "pieces_of_full_cloth"]


def pieces_of_full_cloth(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `cover-1` and, with liners of cloth, `liner-front-1`, `liner-back-1`.

    In a case the liners run flush to the joint; under the wrap of an open spine they are inset on all sides.

    >>> wrap = Book("b", "Ledger", "exposed-spine-wrap", board_mm=(104.775, 152.4), volumes=(Volume(1, 25.4),))
    >>> cover, *liners = pieces_of_full_cloth(wrap, wrap.volumes[0])
    >>> cover.id, round(cover.width_mm, 3), cover.height_mm
    ('cover-1', 264.95, 182.4)
    """
    figures = measures(book, volume)
    cover = one_piece(book, figures, flush_at_gap=book.structure in CASES)
    piece = cover_piece(book, volume, cover, figures.spine_mm)
    return (piece, *liners_of(book, volume, from_middle_mm=figures.gap_mm / 2))


def boards_of_case(book: Book, volume: Volume) -> tuple[BoardPiece, ...]:
    """The two cover boards, which are alike, and the spine piece: of board, or a strip of card that bends.

    >>> case = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0))
    >>> [(board.name, board.width_mm, board.height_mm, board.count) for board in boards_of_case(case, case.volumes[0])]
    [('cover board', 144.5, 216.0, 2), ('spine piece', 13.5, 216.0, 1)]
    """
    figures = measures(book, volume)
    cover = BoardPiece("cover board", *figures.board_mm, figures.board_thickness_mm, count=2)
    if figures.spine_mm is None:
        return (cover,)
    height_mm = figures.board_mm[1]
    if figures.spine_piece == "board":
        return cover, BoardPiece("spine piece", figures.spine_mm, height_mm, figures.board_thickness_mm)
    thickness_mm = rule("strip thickness", book.structure).figure()
    return cover, BoardPiece("spine strip", figures.spine_mm, height_mm, thickness_mm, material="card")
