"""Separate boards, sewn on with the spine left open: two covers and, where lined with cloth, two liners a volume."""

from __future__ import annotations

from typing import Literal

from coverlayout.book.book import Book, Volume
from coverlayout.book.pieces import Face, Mark, Piece
from coverlayout.book.turn_ins import CoveredBoard, default_mitre_distance_mm
from coverlayout.geometry.frames import Affine, Point, cloth_to_back, shift
from coverlayout.geometry.shapes import Box

__all__ = ["board_size_mm", "pieces_of_book"]

Cover = Literal["front", "back"]
Side = Literal["left", "right"]


def board_size_mm(book: Book) -> Point:
    """Width and height of one board in mm.

    As given; or from the page (of the block, where that is given): the square stands out at the fore-edge, head and
    tail, and the board may be set back from the spine. Without a square the board is the page's size (common practice
    for boards with an open spine, no source).

    >>> board_size_mm(Book("b", "Ledger", page_mm=(114.3, 152.4), square_mm=3.0))
    (117.3, 158.4)
    """
    if book.board_mm is not None:
        return book.board_mm
    page_width, page_height = book.page_mm or (book.block_mm or (0.0, 0.0, 0.0))[:2]
    return page_width + book.square_mm - (book.board_setback_mm or 0.0), page_height + 2 * book.square_mm


def pieces_of_book(book: Book) -> tuple[Piece, ...]:
    """The pieces of every volume: `front-1`, `back-1` and, with liners of cloth, `liner-front-1`, `liner-back-1`.

    The book is taken as checked (book.checks). Paper liners and no liners make no pieces of cloth.

    >>> pages = Book("b", "Ledger", page_mm=(114.3, 152.4))
    >>> [(piece.id, round(piece.width_mm, 2), round(piece.height_mm, 2)) for piece in pieces_of_book(pages)][::2]
    [('front-1', 144.3, 182.4), ('liner-front-1', 108.3, 146.4)]
    """
    pieces: list[Piece] = []
    for volume in book.volumes:
        pieces += [_cover(book, volume, "front"), _cover(book, volume, "back")]
        if book.liners == "cloth":
            pieces += [_liner(book, volume, "front"), _liner(book, volume, "back")]
    return tuple(pieces)


def _spine_side(book: Book, cover: Cover) -> Side:
    """Where the spine lies as you look at the outside of a cover, head up: at the left of a front that opens left."""
    return "left" if (book.opens == "left") == (cover == "front") else "right"


def _other(side: Side) -> Side:
    return "right" if side == "left" else "left"


def _edge(box: Box, side: Side) -> float:
    return box.left_mm if side == "left" else box.right_mm


def _signs(box: Box, spine: Side) -> tuple[Mark, Mark]:
    """The two marks every piece carries: its spine edge and its head."""
    x = _edge(box, spine)
    return (
        Mark("spine edge", ((x, box.top_mm), (x, box.bottom_mm))),
        Mark("head", ((box.left_mm, box.top_mm), (box.right_mm, box.top_mm))),
    )


def _to_book(book: Book, volume: Volume, spine: Side, board: Box) -> Affine:
    """Outside of a cover to the book frame: the book laid open flat, seen from outside, x 0 in the middle of the spine.

    y 0 is the head of the boards. Between the two spine edges lie the block and both boards' thickness.
    """
    block_mm = volume.thickness_mm or (book.block_mm[2] if book.block_mm else 0.0)
    half_mm = block_mm / 2 + book.board_thickness_mm
    start = half_mm if spine == "left" else -half_mm
    return shift(start - _edge(board, spine), -board.top_mm)


def _cover(book: Book, volume: Volume, cover: Cover) -> Piece:
    turn_ins, spine = book.turn_ins, _spine_side(book, cover)
    at_left, at_right = turn_ins.spine_mm, turn_ins.fore_edge_mm
    if spine == "right":
        at_left, at_right = at_right, at_left
    mitre_mm = book.mitre_distance_mm
    covered = CoveredBoard(
        board_mm=board_size_mm(book),
        left_mm=at_left,
        right_mm=at_right,
        head_mm=turn_ins.head_mm,
        tail_mm=turn_ins.tail_mm,
        thickness_mm=book.board_thickness_mm,
        inset_mm=None if book.liners == "none" else book.liner_inset_mm,
        mitre_mm=default_mitre_distance_mm(book.board_thickness_mm) if mitre_mm is None else mitre_mm,
    )
    return Piece(
        id=f"{cover}-{volume.number}",
        name=f"{cover} cover",
        kind="cover",
        outline_mm=covered.outline.ring(),
        anchor_mm=covered.board.middle,
        turns=book.cover_turns,
        board=covered.board,
        seen_mm=None if book.liners == "none" else covered.seen.ring(),
        marks=(*covered.marks(), *_signs(covered.board, spine)),
        faces=(Face(cover, covered.board.ring(), _to_book(book, volume, spine, covered.board)),),
        source=book.cover_source,
        book_id=book.id,
        volume=volume.number,
    )


def _liner(book: Book, volume: Volume, cover: Cover) -> Piece:
    """The liner inside a cover; as it is seen from its print side, the spine lies on the other hand."""
    board_width, board_height = board_size_mm(book)
    inset_mm, outer_spine = book.liner_inset_mm, _spine_side(book, cover)
    box = Box(0.0, 0.0, board_width - 2 * inset_mm, board_height - 2 * inset_mm)
    outside = _to_book(book, volume, outer_spine, Box(-inset_mm, -inset_mm, board_width, board_height))
    return Piece(
        id=f"liner-{cover}-{volume.number}",
        name=f"{cover} liner",
        kind="liner",
        outline_mm=box.ring(),
        anchor_mm=box.middle,
        turns=book.liner_turns,
        marks=_signs(box, _other(outer_spine)),
        faces=(Face(f"inside {cover}", box.ring(), cloth_to_back(box.width_mm).then(outside)),),
        source=book.liner_source,
        book_id=book.id,
        volume=volume.number,
    )
