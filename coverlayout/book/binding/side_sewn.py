"""Side-sewn between hard boards: each cover turns on a hinge strip, through which the holes go."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.binding.separate_boards import covered_board_piece, spine_edge_mm
from coverlayout.book.book import Book, Volume
from coverlayout.book.lining.liners import liners_of
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.measures import Measures, measures
from coverlayout.book.pieces import Cover, Face, Mark, Piece, spine_side
from coverlayout.book.sewing.holes import hole_from_spine_mm
from coverlayout.geometry.shapes import Box

__all__ = ["boards_of_side_sewn", "pieces_of_side_sewn"]


def pieces_of_side_sewn(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `front-1`, `back-1` and, with liners of cloth, `liner-front-1`, `liner-back-1`.

    One cloth covers hinge strip, joint and board and is turned in on all four edges; one liner runs over all three. A
    cover is anchored in the middle of its board, since hinge and joint are no place for a motif: they are bent and
    sewn through, along the line marked as a fold.

    >>> book = Book("b", "Notes", "side-sewn", page_mm=(100.0, 150.0))
    >>> front = pieces_of_side_sewn(book, book.volumes[0])[0]
    >>> front.width_mm, [(face.name, face.outline_mm[1][0] - face.outline_mm[0][0]) for face in front.faces]
    (133.0, [('front', 84.0), ('front hinge', 19.0)])
    """
    figures = measures(book, volume)
    covers = (_cover(book, volume, figures, cover) for cover in ("front", "back"))
    return (*covers, *liners_of(book, volume, from_middle_mm=spine_edge_mm(figures)))


def boards_of_side_sewn(book: Book, volume: Volume) -> tuple[BoardPiece, ...]:
    """Two boards and two hinge strips, as high as each other; the joints between them are left free.

    >>> book = Book("b", "Notes", "side-sewn", page_mm=(100.0, 150.0))
    >>> [(board.name, board.width_mm, board.count) for board in boards_of_side_sewn(book, book.volumes[0])]
    [('cover board', 84.0, 2), ('hinge strip', 15.0, 2)]
    """
    figures = measures(book, volume)
    width_mm, height_mm = figures.board_mm
    thickness_mm = figures.board_thickness_mm
    board_width_mm = width_mm - figures.hinge_mm - figures.joint_mm
    return (
        BoardPiece("cover board", board_width_mm, height_mm, thickness_mm, count=2),
        BoardPiece("hinge strip", figures.hinge_mm, height_mm, thickness_mm, count=2),
    )


def _cover(book: Book, volume: Volume, figures: Measures, cover: Cover) -> Piece:
    """The cover of a board that wide, with its hinge told apart from its board."""
    piece = covered_board_piece(book, volume, figures, cover)
    whole, to_book = piece.faces[0].outline_mm, piece.faces[0].piece_to_book
    (left_mm, top_mm), (right_mm, bottom_mm) = whole[0], whole[2]
    hinge_mm, turning_mm = figures.hinge_mm, figures.hinge_mm + figures.joint_mm
    hole_mm = hole_from_spine_mm(book)

    def strip(from_mm: float, to_mm: float) -> Box:
        """From and to so far from the spine edge, as high as the board."""
        at_mm = left_mm + from_mm if spine_side(book, cover) == "left" else right_mm - to_mm
        return Box(at_mm, top_mm, to_mm - from_mm, bottom_mm - top_mm)

    def line(from_spine_mm: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """A line along the spine."""
        at = strip(from_spine_mm, from_spine_mm)
        return (at.left_mm, top_mm), (at.left_mm, bottom_mm)

    board = strip(turning_mm, right_mm - left_mm)
    marks = (
        Mark("board", board.ring(), closed=True),
        Mark("board", strip(0.0, hinge_mm).ring(), closed=True),
        Mark("joint", line(hinge_mm)),
        Mark("joint", line(turning_mm)),
        *((Mark("fold", line(hole_mm)),) if hole_mm < right_mm - left_mm else ()),
    )
    return replace(
        piece,
        anchor_mm=board.middle,
        board=board,
        marks=(*marks, *(mark for mark in piece.marks if mark.kind != "board")),
        faces=(
            Face(cover, board.ring(), to_book),
            Face(f"{cover} hinge", strip(0.0, turning_mm).ring(), to_book),
        ),
    )
