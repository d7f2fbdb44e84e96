"""The project: one immutable value that holds everything the maker decided."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from coverlayout.book.book import Book, Grain, OwnPiece, Source
from coverlayout.cloth.cloth import Cloth
from coverlayout.geometry.frames import Point, Ring
from coverlayout.geometry.shapes import Box
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import Print
from coverlayout.units import LengthStyle

__all__ = [
    "CutPiece",
    "JobRules",
    "Layout",
    "LinkWish",
    "LockWish",
    "Preferences",
    "Price",
    "Project",
    "Stock",
    "StockMaterial",
    "TileMark",
]


StockMaterial = Literal["board", "card", "web", "tissue", "paper", "lining", "thread"]


@dataclass(frozen=True)
class TileMark:
    """A named place in a print's tile, such as the bird's eye; mm in the print's own frame."""

    name: str
    print_id: str
    at_mm: Point
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class LockWish:
    """A point of a piece (its anchor when `point_mm` is None) sits at `place_mm` in the repeat (print frame)."""

    id: str
    piece: str
    place_mm: Point
    point_mm: Point | None = None
    must: bool = True
    sentence: str = ""
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class LinkWish:
    """Pieces alike in the repeat (no differences), or running on by `differences_mm`, one for each further piece."""

    id: str
    pieces: tuple[str, ...]
    differences_mm: tuple[Point, ...] = ()
    must: bool = True
    sentence: str = ""
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class CutPiece:
    """A piece that was cut, or spoiled: a fact, kept with the outline, seen part, cloth and place it was cut with.

    `board` is where its board's face lies in the piece frame, None where it covers no board.
    """

    piece: str
    name: str
    state: Literal["cut", "spoiled"]
    outline_mm: Ring
    anchor_mm: Point
    place: Placed
    seen_mm: Ring | None = None
    board: Box | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Layout:
    """A named layout: where the planned pieces lie. A piece without a placement waits beside the cloth.

    `pinned` are pieces that stay where they lie until they are let go: no drag and no search moves them.
    """

    id: str
    name: str
    placements: tuple[Placed, ...] = ()
    pinned: tuple[str, ...] = ()
    unknown: tuple[tuple[str, str], ...] = ()

    def place_of(self, piece: str) -> Placed | None:
        """Where a piece lies in this layout, None when it waits."""
        return next((placed for placed in self.placements if placed.piece == piece), None)

    def keeping(self, stays: Callable[[Placed], bool]) -> Layout:
        """The layout with only the placements that stay, and only their pins; the very same one when all do."""
        kept = tuple(placed for placed in self.placements if stays(placed))
        if len(kept) == len(self.placements):
            return self
        lying = {placed.piece for placed in kept}
        return replace(self, placements=kept, pinned=tuple(piece for piece in self.pinned if piece in lying))


@dataclass(frozen=True)
class Price:
    """What a cut of the ladder costs, in the maker's currency."""

    cut_name: str
    amount: float
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Stock:
    """What a material other than cloth comes as: sheets of width x length, or a roll (`length_mm` None) of that width.

    `grain` runs along the longer or shorter side of a sheet; off a roll, "long" is along the roll. `price` is that of a
    sheet, of a metre off a roll, of a metre of thread. `thickness_mm` None fits every board.
    """

    id: str
    name: str
    material: StockMaterial
    width_mm: float = 0.0
    length_mm: float | None = None
    thickness_mm: float | None = None
    grain: Grain = "unknown"
    price: float | None = None
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class JobRules:
    """What counts for the whole job: gap between pieces, room wished for, what to aim at."""

    gap_mm: float = 0.0
    spare_wish_mm: float = 6.0
    objective: Literal["room", "least length", "largest leftover"] = "room"
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Preferences:
    """How the project is shown: unit and rounding, currency, which side of the cloth."""

    length_style: LengthStyle = LengthStyle()
    currency: str = ""
    side: Literal["print", "back"] = "print"
    unknown: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Project:
    """Everything the maker decided. Pictures are named here by hash; their bytes lie beside it (document.file).

    There is always at least one layout, and `layout_id` names the one being worked on. `next_number` is the next to
    stand in an id, `next_volume_number` the next for a copy of any book: both only grow, so nothing is named twice.
    """

    name: str = "Untitled"
    prints: tuple[Print, ...] = ()
    cloths: tuple[Cloth, ...] = ()
    books: tuple[Book, ...] = ()
    own_pieces: tuple[OwnPiece, ...] = ()
    marks: tuple[TileMark, ...] = ()
    locks: tuple[LockWish, ...] = ()
    links: tuple[LinkWish, ...] = ()
    cut_pieces: tuple[CutPiece, ...] = ()
    layouts: tuple[Layout, ...] = (Layout("layout-1", "Layout 1"),)
    layout_id: str = "layout-1"
    prices: tuple[Price, ...] = ()
    stocks: tuple[Stock, ...] = ()
    rules: JobRules = JobRules()
    preferences: Preferences = Preferences()
    next_number: int = 1
    next_volume_number: int = 1
    unknown: tuple[tuple[str, str], ...] = ()

    @property
    def layout(self) -> Layout:
        """The layout being worked on. KeyError when `layout_id` names none (the file's door refuses that)."""
        for layout in self.layouts:
            if layout.id == self.layout_id:
                return layout
        raise KeyError(self.layout_id)

    def cloth(self, cloth_id: str) -> Cloth:
        """The cloth of that id, KeyError when there is none."""
        for cloth in self.cloths:
            if cloth.id == cloth_id:
                return cloth
        raise KeyError(cloth_id)

    def print_of(self, print_id: str) -> Print:
        """The print of that id, KeyError when there is none."""
        for a_print in self.prints:
            if a_print.id == print_id:
                return a_print
        raise KeyError(print_id)

    def book(self, book_id: str) -> Book:
        """The book of that id, KeyError when there is none."""
        for book in self.books:
            if book.id == book_id:
                return book
        raise KeyError(book_id)

    @property
    def wishes(self) -> tuple[LockWish | LinkWish, ...]:
        """Every wish, locks before links."""
        return (*self.locks, *self.links)

    def fact_of(self, piece: str) -> CutPiece | None:
        """What is known of a piece that was cut for good, None while it is planned; spoiled ones do not count."""
        return next((fact for fact in self.cut_pieces if fact.piece == piece and fact.state == "cut"), None)

    def named_anew(self, kind: str) -> tuple[str, Project]:
        """An id `KIND-N` that was never used before, and the project that will not give it again.

        >>> Project().named_anew("cloth")[0]
        'cloth-1'
        """
        ids = [
            *(a_print.id for a_print in self.prints),
            *(cloth.id for cloth in self.cloths),
            *(flaw.id for cloth in self.cloths for flaw in cloth.flaws),
            *(zone.id for cloth in self.cloths for zone in cloth.zones),
            *(book.id for book in self.books),
            *(own.id for own in self.own_pieces),
            *(stock.id for stock in self.stocks),
            *(wish.id for wish in self.wishes),
            *(layout.id for layout in self.layouts),
        ]
        # Ids may have come from elsewhere (a job file); a number that stands behind this kind is taken.
        ends = [end for start, _, end in (one.rpartition("-") for one in ids) if start == kind]
        taken = [int(end) + 1 for end in ends if end.isascii() and end.isdigit() and len(end) < 9]
        number = max([self.next_number, *taken])
        return f"{kind}-{number}", replace(self, next_number=number + 1)

    def with_layout(self, layout: Layout) -> Project:
        """The project with the layout of the same id replaced."""
        return replace(self, layouts=tuple(layout if old.id == layout.id else old for old in self.layouts))

    def with_cloth(self, cloth: Cloth) -> Project:
        """The project with the cloth of the same id replaced."""
        return replace(self, cloths=tuple(cloth if old.id == cloth.id else old for old in self.cloths))

    def with_print(self, a_print: Print) -> Project:
        """The project with the print of the same id replaced."""
        return replace(self, prints=tuple(a_print if old.id == a_print.id else old for old in self.prints))

    def with_book(self, book: Book) -> Project:
        """The project with the book of the same id replaced."""
        return replace(self, books=tuple(book if old.id == book.id else old for old in self.books))

    def with_own_piece(self, own: OwnPiece) -> Project:
        """The project with the own piece of the same id replaced."""
        return replace(self, own_pieces=tuple(own if old.id == own.id else old for old in self.own_pieces))

    def with_sources(self, change: Callable[[Source], Source]) -> Project:
        """The project with `change` made to every word on where pieces may come from."""
        books = tuple(
            replace(
                book,
                cover_source=change(book.cover_source),
                liner_source=change(book.liner_source),
                side_source=change(book.side_source),
                label=None if book.label is None else replace(book.label, source=change(book.label.source)),
            )
            for book in self.books
        )
        return replace(
            self, books=books, own_pieces=tuple(replace(own, source=change(own.source)) for own in self.own_pieces)
        )
