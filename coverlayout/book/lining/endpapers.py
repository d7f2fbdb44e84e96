"""Endpapers: the folded sheets that hold a block in its case."""

from __future__ import annotations

from coverlayout.book.book import Book, Volume
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.measures import board_size_mm, page_size_mm
from coverlayout.book.rules.belonging import CASES
from coverlayout.book.rules.figures import board_over_page_mm
from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point

__all__ = ["endpapers_of", "has_endpapers", "lining_notes"]


def has_endpapers(book: Book) -> bool:
    """As asked; a case has them, every other structure only when asked.

    >>> has_endpapers(Book("b", "Ledger", "flat-case")), has_endpapers(Book("b", "Ledger"))
    (True, False)
    """
    if book.structure == "parts":
        return False
    return book.structure in CASES if book.endpapers is None else book.endpapers == "paper"


def endpapers_of(book: Book, volume: Volume) -> tuple[CutItem, ...]:
    """The two folios of a volume: two pages wide and one high, in mm, grain along the fold; () without endpapers.

    Where only the board is known the page is taken as the board less its squares, as the board would have been made
    from it. Two folios of the page's size: common practice, no source.

    >>> case = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 10.0))
    >>> [(item.width_mm, item.height_mm, item.count, item.grain) for item in endpapers_of(case, case.volumes[0])]
    [(296.0, 210.0, 2, 'head to tail')]
    """
    if not has_endpapers(book):
        return ()
    width_mm, height_mm = page_size_mm(book) or _page_of_board_mm(book)
    return (CutItem("endpaper", "paper", 2 * width_mm, height_mm, 2, "head to tail", volumes=(volume.number,)),)


def lining_notes(book: Book) -> tuple[Remark, ...]:
    """What to know at the bench where liners share a board with endpapers, or with the panels of an accordion.

    >>> [note.code for note in lining_notes(Book("b", "Ledger", "flat-case"))], lining_notes(Book("b", "Ledger"))
    (['liners-over-endpapers'], ())
    """
    if book.liners == "none":
        return ()
    if book.structure == "accordion":
        return (Remark.of("liners-under-panels", book=book.name),)
    in_case = book.structure in CASES and has_endpapers(book)
    return (Remark.of("liners-over-endpapers", book=book.name),) if in_case else ()


def _page_of_board_mm(book: Book) -> Point:
    (width_mm, height_mm), (wider_mm, higher_mm) = board_size_mm(book), board_over_page_mm(book)
    return width_mm - wider_mm, height_mm - higher_mm
