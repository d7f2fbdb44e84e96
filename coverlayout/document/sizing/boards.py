"""A book on boards of another size: the same proportion, or one side kept; all else of the book stays as it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.book.book import Book
from coverlayout.book.measures import board_size_mm, without_paper
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import BUILT_STRUCTURES, pieces
from coverlayout.document.project import LinkWish, Project
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Point

__all__ = ["Growth", "Keep", "growth_of", "with_board"]

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

    Each volume stays as thick as it is, by its block or its paper; the paper no longer makes these pages, so it goes.
    Nothing is checked here: the pieces are, when they are made.
    """
    book = project.book(book_id)
    grown = replace(without_paper(book), board_mm=board_mm, page_mm=None, block_mm=None, board_ratio=None)
    if not any(link.differences_mm for link in project.links):
        return project.with_book(grown)
    before = {piece.id: piece for piece in pieces(book)}
    after = {piece.id: piece for piece in pieces(grown)}
    links = tuple(_running_on(link, before, after) for link in project.links)
    return replace(project.with_book(grown), links=links)


def _running_on(link: LinkWish, before: dict[str, Piece], after: dict[str, Piece]) -> LinkWish:
    """The link with its differences longer by as much as its pieces have come apart on the book."""
    if not link.differences_mm or not all(piece in before and before[piece].faces for piece in link.pieces):
        return link
    old, new = ([_on_book(made[piece]) for piece in link.pieces] for made in (before, after))
    differences = tuple(
        (x + new[k][0] - new[0][0] - old[k][0] + old[0][0], y + new[k][1] - new[0][1] - old[k][1] + old[0][1])
        for k, (x, y) in enumerate(link.differences_mm, 1)
    )
    return replace(link, differences_mm=differences)


def _on_book(piece: Piece) -> Point:
    return piece.faces[0].piece_to_book.at(piece.anchor_mm)
