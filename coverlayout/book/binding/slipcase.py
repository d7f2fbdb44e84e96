"""A slipcase for a finished book: of five boards with a wrap and two walls of cloth, or of one scored board."""

from __future__ import annotations

from coverlayout.book.book import Book, Volume
from coverlayout.book.covering.five_boards import FiveBoards
from coverlayout.book.covering.laid_flat import from_flat, on_back
from coverlayout.book.covering.scored_board import ScoredBoard
from coverlayout.book.materials.cut_item import BoardPiece
from coverlayout.book.measures import measures
from coverlayout.book.pieces import Piece
from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["boards_of_slipcase", "check_walls", "pieces_of_slipcase"]


def pieces_of_slipcase(book: Book, volume: Volume) -> tuple[Piece, ...]:
    """The pieces of a volume: `wrap-1` and, for five boards, `wall-front-1` and `wall-back-1`.

    The block is the finished book. Walls of paper make no pieces of cloth; nothing is cut for the inside.

    >>> book = Book("b", "Case", "slipcase", block_mm=(130.0, 203.0, 22.0), slipcase_of="one scored board")
    >>> [(piece.id, piece.width_mm, piece.height_mm) for piece in pieces_of_slipcase(book, book.volumes[0])]
    [('wrap-1', 312.0, 252.0)]
    """
    figures = measures(book, volume)
    if book.slipcase_of == "one scored board":
        return (from_flat(book, volume, ScoredBoard(book, figures).cloth()),)
    case = FiveBoards(book, figures)
    walls = () if book.sides == "paper" else (case.front_cloth(), on_back(case.front_cloth()))
    return tuple(from_flat(book, volume, piece) for piece in (case.wrap(), *walls))


def boards_of_slipcase(book: Book, volume: Volume) -> tuple[BoardPiece, ...]:
    """The two walls, the closed side and the two ends between them; or the one board that is scored.

    The walls stand on the edges of the others. The closed side is as high as they are and lies behind both ends, whose
    longer side runs from the mouth to it.

    >>> book = Book("b", "Case", "slipcase", block_mm=(130.0, 203.0, 22.0))
    >>> [(board.name, board.width_mm, board.height_mm) for board in boards_of_slipcase(book, book.volumes[0])]
    [('side wall', 133.5, 210.0), ('closed side', 25.0, 210.0), ('head and tail', 25.0, 131.5)]
    """
    figures = measures(book, volume)
    thickness_mm = figures.board_thickness_mm
    if book.slipcase_of == "one scored board":
        board = ScoredBoard(book, figures).board
        return (BoardPiece("scored board", board.width_mm, board.height_mm, thickness_mm),)
    depth_mm, height_mm = figures.board_mm
    inside_mm = FiveBoards(book, figures).inside_mm
    return (
        BoardPiece("side wall", depth_mm, height_mm, thickness_mm, count=2),
        BoardPiece("closed side", inside_mm, height_mm, thickness_mm),
        BoardPiece("head and tail", inside_mm, depth_mm - thickness_mm, thickness_mm, count=2, grain="any"),
    )


def check_walls(book: Book) -> None:
    """Nothing, or BadInput: cloth on the walls so short of their edges that the wrap's lap does not reach under it."""
    if book.structure != "slipcase" or book.slipcase_of != "five boards":
        return
    lap_mm, inset_mm = book.turn_ins.head_mm, book.liner_inset_mm
    if inset_mm >= lap_mm - SAME_LENGTH_MM:
        raise BadInput("slipcase-wall-bare", book=book.name, inset_mm=inset_mm, lap_mm=lap_mm)
