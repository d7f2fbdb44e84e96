"""Everything of a book in one value: paper, block, measures, boards, pieces, cut list, sewing, notes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from coverlayout.book.book import Book, Volume
from coverlayout.book.lining.endpapers import lining_notes
from coverlayout.book.lining.label import label_notes
from coverlayout.book.materials.cut_item import BoardPiece, CutItem
from coverlayout.book.materials.cut_list import cut_list, sections_of
from coverlayout.book.measures import Measures, block_thickness_mm, measures
from coverlayout.book.paper.block import BlockMade, counted_block
from coverlayout.book.paper.folding import Folded, folded
from coverlayout.book.paper.grain import grain_notes
from coverlayout.book.pieces import Piece
from coverlayout.book.rules.volumes import by_volume, of_each_thickness
from coverlayout.book.sewing.clearances import clearance_notes
from coverlayout.book.sewing.holes import Hole, holes
from coverlayout.book.sewing.stations import mirrored_mm, page_height_mm, stations_mm
from coverlayout.book.sewing.thread import ThreadNeeded, thread
from coverlayout.book.structures import boards, notes, pieces
from coverlayout.errors import Remark

__all__ = ["BookPlan", "VolumePlan", "plan"]


@dataclass(frozen=True)
class VolumePlan:
    """One copy or volume. A list of parts has no measures, and so no boards, stations, holes and thread.

    `thickness_mm` is that of the block, None while nothing tells it. Stations are in mm from the head of the page, and
    again from its tail, for work done upside down.
    """

    number: int
    measures: Measures | None = None
    thickness_mm: float | None = None
    boards: tuple[BoardPiece, ...] = ()
    stations_mm: tuple[float, ...] = ()
    stations_from_tail_mm: tuple[float, ...] = ()
    holes: tuple[Hole, ...] = ()
    thread: ThreadNeeded | None = None


@dataclass(frozen=True)
class BookPlan:
    """A set of books worked out. `folded` and `block` are None for a book without paper; notes are said once each."""

    book: Book
    folded: Folded | None
    block: BlockMade | None
    volumes: tuple[VolumePlan, ...]
    pieces: tuple[Piece, ...]
    cut_list: tuple[CutItem, ...]
    notes: tuple[Remark, ...]

    @property
    def first(self) -> VolumePlan:
        """The first volume, which stands for all where they are alike."""
        return self.volumes[0]


@lru_cache(maxsize=64)
def plan(book: Book) -> BookPlan:
    """The whole book worked out. BadInput for the first figure that cannot be used, anywhere in it.

    >>> made = plan(Book("b", "Ledger", page_mm=(114.3, 152.4)))
    >>> made.first.boards[0].count, [piece.id for piece in made.pieces][0], made.block
    (2, 'front-1', None)
    """
    covering, paper = pieces(book), book.paper
    block = counted_block(paper, book.structure)
    return BookPlan(
        book=book,
        folded=None if paper is None else folded(paper, book.structure),
        block=block,
        volumes=tuple(replace(made, number=volume.number) for volume, made in by_volume(book, _volume)),
        pieces=covering,
        cut_list=cut_list(book),
        notes=_once(_notes(book, block)),
    )


def _volume(book: Book, volume: Volume) -> VolumePlan:
    if book.structure == "parts":
        return VolumePlan(volume.number)
    made = measures(book, volume)
    stations = stations_mm(book, volume)
    return VolumePlan(
        number=volume.number,
        measures=made,
        thickness_mm=block_thickness_mm(book, volume),
        boards=boards(book, volume),
        stations_mm=stations,
        stations_from_tail_mm=mirrored_mm(stations, page_height_mm(made)),
        holes=holes(book, volume),
        thread=thread(book, volume, sections_of(book)),
    )


def _notes(book: Book, block: BlockMade | None) -> Iterable[Remark]:
    """What is worth saying of paper, grain, structure, lining and sewing, in that order."""
    if block is not None:
        yield from block.notes
    if book.paper is not None:
        yield from grain_notes(book.paper, book.structure)
    yield from notes(book)
    yield from lining_notes(book)
    yield from label_notes(book, book.volumes[0])
    for each in of_each_thickness(book):
        yield from clearance_notes(each, each.volumes[0])


def _once(remarks: Iterable[Remark]) -> tuple[Remark, ...]:
    return tuple(dict.fromkeys(remarks))
