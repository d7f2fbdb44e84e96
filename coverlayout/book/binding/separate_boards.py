"""Separate boards, sewn on with the spine left open: two covers and, where lined with cloth, two liners a volume."""

from __future__ import annotations

from coverlayout.book.book import Book, Volume
from coverlayout.book.lining.liners import liners_of
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.measures import Measures, measures
from coverlayout.book.pieces import Cover, Face, Piece, onto_book, signs, spine_side
from coverlayout.book.turn_ins import CoveredBoard

__all__ = ["boards_of_separate_boards", "covered_board_piece", "pieces_of_separate_boards", "spine_edge_mm"]


def pieces_of_separate_boards(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `front-1`, `back-1` and, with liners of cloth, `liner-front-1`, `liner-back-1`.

    The book is taken as checked (book.checks). Paper liners and no liners make no pieces of cloth.

    >>> pages = Book("b", "Ledger", page_mm=(114.3, 152.4))
    >>> made = pieces_of_separate_boards(pages, pages.volumes[0])
    >>> [(piece.id, round(piece.width_mm, 2), round(piece.height_mm, 2)) for piece in made][::2]
    [('front-1', 144.3, 182.4), ('liner-front-1', 108.3, 146.4)]
    """
    figures = measures(book, volume)
    covers = (covered_board_piece(book, volume, figures, cover) for cover in ("front", "back"))
    return (*covers, *liners_of(book, volume, from_middle_mm=spine_edge_mm(figures)))


def spine_edge_mm(figures: Measures) -> float:
    """From the middle of an open spine to a board's spine edge, the book laid open flat.

    Half the block, the edge of a board, and its setback.
    """
    return figures.thickness_mm / 2 + figures.board_thickness_mm + figures.setback_mm


def covered_board_piece(book: Book, volume: Volume, figures: Measures, cover: Cover) -> Piece:
    """The cloth `front-N` or `back-N` of one board, turned in on all four edges and anchored in the board's middle."""
    spine = spine_side(book, cover)
    at_left, at_right = book.turn_ins.spine_mm, book.turn_ins.fore_edge_mm
    if spine == "right":
        at_left, at_right = at_right, at_left
    covered = CoveredBoard(
        board_mm=figures.board_mm,
        left_mm=at_left,
        right_mm=at_right,
        head_mm=book.turn_ins.head_mm,
        tail_mm=book.turn_ins.tail_mm,
        thickness_mm=figures.board_thickness_mm,
        inset_mm=None if book.liners == "none" else book.liner_inset_mm,
        mitre_mm=figures.mitre_mm,
    )
    to_book = onto_book(covered.board, spine, spine_edge_mm(figures))
    return Piece(
        id=f"{cover}-{volume.number}",
        name=f"{cover} cover",
        kind="cover",
        outline_mm=covered.outline.ring(),
        anchor_mm=covered.board.middle,
        turns=book.cover_turns,
        board=covered.board,
        seen_mm=None if book.liners == "none" else covered.seen.ring(),
        marks=(*covered.marks(), *signs(covered.board, spine)),
        faces=(Face(cover, covered.board.ring(), to_book),),
        source=book.cover_source,
        book_id=book.id,
        volume=volume.number,
    )


def boards_of_separate_boards(book: Book, volume: Volume) -> tuple[BoardPiece, ...]:
    """The two cover boards, which are alike."""
    figures = measures(book, volume)
    return (BoardPiece("cover board", *figures.board_mm, figures.board_thickness_mm, count=2),)
