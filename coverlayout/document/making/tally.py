"""How far the work is: of every volume, and of the maker's own pieces, what is laid, waits, was cut and was spoiled."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from coverlayout.book.book import Book
from coverlayout.document.checks.whole import pieces_made
from coverlayout.document.project import Project

__all__ = ["Totals", "VolumeTally", "tally", "totals"]

TallyKind = Literal["volume", "own", "gone"]


@dataclass(frozen=True)
class Totals:
    """Numbers of pieces: `planned` is all that is asked for, in one of the three states; `spoiled` counts besides."""

    planned: int = 0
    laid: int = 0
    waiting: int = 0
    cut: int = 0
    spoiled: int = 0

    @property
    def is_made(self) -> bool:
        """True when everything asked for was cut."""
        return self.planned > 0 and self.cut == self.planned


@dataclass(frozen=True)
class VolumeTally:
    """One volume (or one of the maker's own pieces, with all its copies) with the ids of its pieces by their state.

    Every piece asked for is in one of `laid` (it lies in the layout being worked on), `waiting` and `cut`. A spoiled
    one stands in `spoiled`, once for each time, and is asked for again. `kind` "gone": pieces that were cut or spoiled
    for what is planned no more; `number` None where it is no volume.
    """

    kind: TallyKind
    name: str
    book_id: str | None = None
    number: int | None = None
    laid: tuple[str, ...] = ()
    waiting: tuple[str, ...] = ()
    cut: tuple[str, ...] = ()
    spoiled: tuple[str, ...] = ()

    @property
    def planned(self) -> tuple[str, ...]:
        """All pieces asked for."""
        return (*self.laid, *self.waiting, *self.cut) if self.kind != "gone" else ()

    @property
    def totals(self) -> Totals:
        """How many there are of each."""
        return Totals(len(self.planned), len(self.laid), len(self.waiting), len(self.cut), len(self.spoiled))


def tally(project: Project) -> tuple[VolumeTally, ...]:
    """A row for each volume of each book, then one for each own piece, then what was cut for what is there no more.

    A volume is called by its book's name, and by its number where the book has several. A list of parts counts like
    any book. Nothing is checked: a book that cannot be made raises BadInput as its pieces do.

    >>> (row,) = tally(Project(books=(Book("b", "Ledger", page_mm=(114.3, 152.4), liners="none"),)))
    >>> row.name, row.waiting, row.totals.is_made
    ('Ledger', ('front-1', 'back-1'), False)
    """
    rows = [(kind, name, book, number, ids) for kind, name, book, number, ids in _planned(project)]
    laid = {placed.piece for placed in project.layout.placements}
    cut = {fact.piece for fact in project.cut_pieces if fact.state == "cut"}
    spoiled = [fact.piece for fact in project.cut_pieces if fact.state == "spoiled"]
    made = [
        VolumeTally(
            kind,
            name,
            book_id,
            number,
            laid=tuple(piece for piece in ids if piece in laid and piece not in cut),
            waiting=tuple(piece for piece in ids if piece not in laid and piece not in cut),
            cut=tuple(piece for piece in ids if piece in cut),
            spoiled=tuple(piece for piece in spoiled if piece in ids),
        )
        for kind, name, book_id, number, ids in rows
    ]
    asked = {piece for _, _, _, _, ids in rows for piece in ids}
    gone = [fact for fact in project.cut_pieces if fact.piece not in asked]
    if gone:
        made.append(
            VolumeTally(
                "gone",
                "",
                cut=tuple(fact.piece for fact in gone if fact.state == "cut"),
                spoiled=tuple(fact.piece for fact in gone if fact.state == "spoiled"),
            )
        )
    return tuple(made)


def totals(rows: Iterable[VolumeTally]) -> Totals:
    """All rows together.

    >>> totals([VolumeTally("own", "pocket", laid=("pocket-1",)), VolumeTally("own", "label", cut=("label-1",))])
    Totals(planned=2, laid=1, waiting=0, cut=1, spoiled=0)
    """
    counted = [row.totals for row in rows]
    return Totals(
        planned=sum(one.planned for one in counted),
        laid=sum(one.laid for one in counted),
        waiting=sum(one.waiting for one in counted),
        cut=sum(one.cut for one in counted),
        spoiled=sum(one.spoiled for one in counted),
    )


_Row = tuple[TallyKind, str, str | None, int | None, tuple[str, ...]]


def _planned(project: Project) -> Iterator[_Row]:
    for book in project.books:
        yield from _volumes(book)
    for own in project.own_pieces:
        yield "own", own.name, None, None, own.piece_ids


def _volumes(book: Book) -> Iterator[_Row]:
    ids: dict[int | None, list[str]] = {}
    for piece in pieces_made(book):
        ids.setdefault(piece.volume, []).append(piece.id)
    several = len(book.volumes) > 1
    for volume in book.volumes:
        name = f"{book.name} {volume.number}" if several else book.name
        yield "volume", name, book.id, volume.number, tuple(ids.get(volume.number, ()))
