"""A book on boards of another size: the same proportion, or one side kept; all else of the book stays as it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.book.book import Book
from coverlayout.book.measures import board_size_mm, measures, without_paper
from coverlayout.book.pieces import Piece
from coverlayout.book.rules.figures import board_over_page_mm
from coverlayout.book.structures import BUILT_STRUCTURES, pieces
from coverlayout.document.project import LinkWish, Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Region
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Growth", "Keep", "growth_of", "place_on_book", "with_board"]

Keep = Literal["shape", "height", "width"]


@dataclass(frozen=True)
class Growth:
    """How the boards of one book grow: the board now (or any board of its proportion), and what of it is kept.

    The size that grows is the board's width; its height where the width is kept.
    """

    book_id: str
    board_mm: Point
    keep: Keep = "shape"

    @property
    def start_mm(self) -> float:
        """The size of the board as it now is."""
        return self.board_mm[1] if self.keep == "width" else self.board_mm[0]

    def board_at(self, size_mm: float) -> Point:
        """The board of that size.

        >>> Growth("b", (90.0, 120.0)).board_at(60.0), Growth("b", (90.0, 120.0), "width").board_at(60.0)
        ((60.0, 80.0), (90.0, 60.0))
        """
        width_mm, height_mm = self.board_mm
        if self.keep == "width":
            return width_mm, size_mm
        return size_mm, height_mm if self.keep == "height" else size_mm * height_mm / width_mm


def growth_of(book: Book, keep: Keep = "shape") -> Growth:
    """How a book's boards grow. BadInput when its structure makes no pieces here yet, or a side to keep is unknown."""
    if book.structure not in BUILT_STRUCTURES:
        raise BadInput("structure-not-built", structure=book.structure, built=", ".join(BUILT_STRUCTURES))
    if book.structure == "parts":
        if book.board_mm is None and keep != "shape":
            raise BadInput("largest-keep-unknown", book=book.name, keep=keep)
        return Growth(book.id, book.board_mm or book.board_ratio or (1.0, 1.0), keep)
    return Growth(book.id, board_size_mm(book), keep)


def with_board(project: Project, book_id: str, board_mm: Point) -> Project:
    """The project with one book made on boards of this size; what runs on around it does so on the new boards.

    Page or block grow by as much as the board, so that squares and setback stay. Each volume stays as thick as it is,
    by its block or its paper; the paper no longer makes these pages, so it goes. Nothing is checked here: the pieces
    are, when they are made.
    """
    book = project.book(book_id)
    grown = _on_board(book, board_mm)
    if not any(link.differences_mm for link in project.links):
        return project.with_book(grown)
    before = {piece.id: piece for piece in pieces(book)}
    after = {piece.id: piece for piece in pieces(grown)}
    links = tuple(_running_on(link, before, after) for link in project.links)
    return replace(project.with_book(grown), links=links)


def _on_board(book: Book, board_mm: Point) -> Book:
    """The book on a board of this size, by whichever size it was given."""
    plain = _strip_kept(book, board_mm) if book.paper is None else without_paper(_strip_kept(book, board_mm))
    if plain.structure == "parts" or plain.board_mm is not None:
        return replace(plain, board_mm=board_mm, board_ratio=None)
    # Without the dust that subtracting leaves, a million times below any tolerance.
    page_mm = tuple(round(side - over, 9) for side, over in zip(board_mm, board_over_page_mm(plain), strict=True))
    if plain.block_mm is not None:
        return replace(plain, block_mm=(page_mm[0], page_mm[1], plain.block_mm[2]))
    return replace(plain, page_mm=(page_mm[0], page_mm[1]))


def _strip_kept(book: Book, board_mm: Point) -> Book:
    """The book whose boards keep their width and with it the width of the spine's cloth.

    By the rule that cloth of a half case gets narrower when the board gets higher, and the larger book would not need
    all that the smaller one needs.
    """
    if book.structure != "half-case" or book.spine_on_board_mm is not None:
        return book
    width_mm, height_mm = board_size_mm(book)
    if abs(board_mm[0] - width_mm) > SAME_LENGTH_MM or abs(board_mm[1] - height_mm) <= SAME_LENGTH_MM:
        return book
    return replace(book, spine_on_board_mm=measures(book, book.volumes[0]).spine_on_board_mm)


def _running_on(link: LinkWish, before: dict[str, Piece], after: dict[str, Piece]) -> LinkWish:
    """The link with its differences longer by as much as its pieces have come apart on the book."""
    if not link.differences_mm or not all(piece in before and before[piece].faces for piece in link.pieces):
        return link
    old, new = ([place_on_book(made[piece]) for piece in link.pieces] for made in (before, after))
    differences = tuple(
        (x + new[k][0] - new[0][0] - old[k][0] + old[0][0], y + new[k][1] - new[0][1] - old[k][1] + old[0][1])
        for k, (x, y) in enumerate(link.differences_mm, 1)
    )
    return replace(link, differences_mm=differences)


def place_on_book(piece: Piece) -> Point:
    """Where a piece's anchor lies on the open book, by the face it lies on (the first when it lies on none).

    Pieces of a slipcase fold, so that their faces lie on the book each by its own map. The piece has a face.
    """
    faces = (face for face in piece.faces if Region.of(face.outline_mm).contains(piece.anchor_mm))
    return next(faces, piece.faces[0]).piece_to_book.at(piece.anchor_mm)
