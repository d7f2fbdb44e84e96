"""A project with so many copies of its books, or of its own pieces where it has no book, and its wishes for all.

The maker reads pieces as `NAME-BOOK-K`: the piece's name, the number of its book, and which of its kind it is there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.book.checks import MOST_COPIES
from coverlayout.book.structures import pieces
from coverlayout.document.project import LinkWish, LockWish, Project

__all__ = ["Copies", "copies_of", "names_by_book", "volumes_of_a_set"]


@dataclass(frozen=True)
class Copies:
    """A project with so many copies; `left_out` are the ids of wishes that speak of copies in a way no other can."""

    project: Project
    left_out: tuple[str, ...] = ()


def names_by_book(project: Project) -> dict[str, str]:
    """For each piece of a book what it is called as `NAME-BOOK-K`.

    >>> list(names_by_book(Project(books=(Book("b", "Ledger", page_mm=(114.3, 152.4), liners="none"),))).items())
    [('front-1', 'front-1-1'), ('back-1', 'back-1-1')]
    """
    # Only a list of parts makes several pieces of one name for one book, and those are named so from the start.
    return {
        piece.id: piece.id if book.structure == "parts" else f"{piece.id}-1"
        for book in project.books
        for piece in pieces(book)
    }


def copies_of(project: Project, count: int) -> Copies:
    """The project with `count` copies of what is counted, and its wishes for each copy.

    Counted are the books: where there are several different ones, or volumes whose pieces differ, sets with one of
    each. Without a book, sets of the
    maker's own pieces; with one, own pieces are asked for once, as they are. Numbers of books that were begun at the
    knife are not given again. A wish for one copy holds for each; pieces of several copies that are to be alike are so
    in all. Running on from copy to copy is left out, since nothing says how far apart the next one is.
    """
    assert 1 <= count <= MOST_COPIES, "more copies than a project may hold"
    if project.books:
        taken = set(_begun(project))
        needed = count * sum(len(volumes_of_a_set(book)) for book in project.books)
        free = iter([number for number in range(1, needed + len(taken) + 1) if number not in taken][:needed])
        many = replace(project, books=tuple(_copied(book, count, free) for book in project.books))
    else:
        many = replace(project, own_pieces=tuple(_repeated(own, count) for own in project.own_pieces))
    return _with_wishes(project, many, count)


def _begun(project: Project) -> Iterator[int]:
    """Numbers of books of which a piece was cut or spoiled."""
    touched = {fact.piece for fact in project.cut_pieces}
    for book in project.books:
        yield from (piece.volume for piece in pieces(book) if piece.volume is not None and piece.id in touched)


def volumes_of_a_set(book: Book) -> tuple[Volume, ...]:
    """All volumes where their pieces are not of one size, else the first, of which all others are copies.

    >>> case = Book("b", "Set", "flat-case", page_mm=(114.3, 152.4), volumes=(Volume(1, 12.0), Volume(2, 18.0)))
    >>> [len(volumes_of_a_set(book)) for book in (case, replace(case, structure="separate-boards"))]
    [2, 1]
    """
    shapes = {tuple(piece.outline_mm for piece in pieces(replace(book, volumes=(volume,)))) for volume in book.volumes}
    return book.volumes if len(shapes) > 1 else book.volumes[:1]


def _copied(book: Book, count: int, numbers: Iterator[int]) -> Book:
    volumes = volumes_of_a_set(book) * count
    return replace(book, volumes=tuple(replace(volume, number=next(numbers)) for volume in volumes))


def _repeated(own: OwnPiece, count: int) -> OwnPiece:
    ids = (f"{own.name}-{copy}-{k}" for copy in range(1, count + 1) for k in range(1, own.count + 1))
    return replace(own, count=own.count * count, ids=tuple(ids))


def _columns(project: Project, count: int, volumes: tuple[int, ...]) -> list[tuple[str, ...]]:
    """The ids of each piece of a set, in all sets: one column a piece, one row a set; `volumes` of each book."""
    if project.books:
        rows = [list(_rows(book, each)) for book, each in zip(project.books, volumes, strict=True)]
    else:
        sizes = [len(own.piece_ids) // count for own in project.own_pieces]
        rows = [
            [list(own.piece_ids[k * size : (k + 1) * size]) for k in range(count)]
            for own, size in zip(project.own_pieces, sizes, strict=True)
        ]
    return [column for copies in rows for column in zip(*copies, strict=True)]


def _rows(book: Book, volumes: int) -> Iterator[list[str]]:
    """The ids of a book's pieces, set by set, each of so many volumes."""
    made = pieces(book)
    for k in range(0, len(book.volumes), volumes):
        numbers = {volume.number for volume in book.volumes[k : k + volumes]}
        yield [piece.id for piece in made if piece.volume in numbers]


def _with_wishes(before: Project, many: Project, count: int) -> Copies:
    volumes = tuple(len(volumes_of_a_set(book)) for book in before.books)
    there = _columns(before, 1, volumes)
    places = {piece: (row, number) for number, column in enumerate(there) for row, piece in enumerate(column)}
    now = _columns(many, count, volumes)
    locks: dict[object, LockWish] = {}
    for lock in before.locks:
        names = now[places[lock.piece][1]] if lock.piece in places else (lock.piece,)
        for row, name in enumerate(names):
            each = replace(lock, id=f"{lock.id}-{row + 1}", piece=name)
            locks.setdefault((name, lock.place_mm, lock.point_mm, lock.must), each)
    links: dict[object, LinkWish] = {}
    left_out: list[str] = []
    for link in before.links:
        rows = {places[piece][0] for piece in link.pieces if piece in places}
        columns = [now[places[piece][1]] if piece in places else (piece,) for piece in link.pieces]
        differences_mm = link.differences_mm
        if len(rows) <= 1:
            made = [tuple(column[min(row, len(column) - 1)] for column in columns) for row in range(count)]
        elif any(step != (0.0, 0.0) for step in differences_mm):
            left_out.append(link.id)
            continue
        else:
            made, differences_mm = [tuple(dict.fromkeys(name for column in columns for name in column))], ()
        for row, names in enumerate(made):
            each_link = replace(link, id=f"{link.id}-{row + 1}", pieces=names, differences_mm=differences_mm)
            links.setdefault((names, differences_mm, link.must), each_link)
    wishes = replace(many, locks=tuple(locks.values()), links=tuple(links.values()))
    return Copies(wishes, tuple(left_out))
