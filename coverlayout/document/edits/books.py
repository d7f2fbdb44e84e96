"""Edits of books and own pieces. What goes takes its placements and the wishes on it along; facts stay."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import islice
from typing import Any

from coverlayout.book.book import Book, OwnPiece, Structure, Volume
from coverlayout.book.checks import MOST_COPIES
from coverlayout.book.rules.belonging import suited
from coverlayout.book.structures import pieces
from coverlayout.document.checks.whole import checked_edit, known, pieces_made, planned_ids
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, LinkWish, Project
from coverlayout.errors import BadInput, Remark

__all__ = [
    "add_book",
    "add_own_piece",
    "change_book",
    "change_own_piece",
    "remove_book",
    "remove_own_piece",
    "set_copies",
    "set_structure",
    "set_volumes",
    "tidied",
]


def add_book(book: Book) -> Edit:
    """Add a book; it comes last, under an id of its own, its copies under numbers never used before.

    >>> from coverlayout.document.project import Project
    >>> two = add_book(Book("", "Ledger", page_mm=(114.3, 152.4), volumes=(Volume(1), Volume(2))))
    >>> twice = two.change(two.change(Project()))
    >>> [volume.number for book in twice.books for volume in book.volumes]
    [1, 2, 3, 4]
    """

    def change(old: Project) -> Project:
        new_id, counted = old.named_anew("book")
        first = _next_volume_number(old)
        volumes = tuple(replace(volume, number=first + k) for k, volume in enumerate(book.volumes))
        new = replace(book, id=new_id, volumes=volumes)
        pieces(new)
        return _counted(counted, new, first + len(volumes), added=True)

    return checked_edit(Remark.of("edit-add-book", name=book.name), change)


def change_book(book_id: str, **fields: Any) -> Edit:
    """Change a book by the field names of Book. Pieces that no longer come from it leave the layouts.

    The rest stays put: a placement speaks of the board's centre, so a changed turn-in moves no motif. BadInput: a book
    that cannot be made, by its figures or its structure.
    """

    def change(old: Project) -> Project:
        return _with_changed(old, book_id, lambda before: replace(before, **fields))

    return checked_edit(Remark("edit-change-book"), change)


def set_structure(book_id: str, structure: Structure, **fields: Any) -> Edit:
    """Bind a book another way: what also belongs to the new structure stays, what does not is as in a new book.

    `fields` are changed with it. BadInput as `change_book`: a case needs the thickness of its block.
    """

    def change(old: Project) -> Project:
        return _with_changed(old, book_id, lambda before: replace(suited(before, structure), **fields))

    return checked_edit(Remark("edit-structure"), change)


def _with_changed(old: Project, book_id: str, make: Callable[[Book], Book]) -> Project:
    before = known(old.books, book_id, "book")
    after = make(before)
    if after.id != book_id:
        raise BadInput("id-fixed", kind="book", id=book_id)
    pieces(after)
    return tidied(old, old.with_book(after))


def set_copies(book_id: str, copies: int) -> Edit:
    """How many copies of a book, 1 or more: new ones get numbers never used before, the last ones go first.

    Copies of which a piece was cut go last of all.
    """

    def change(old: Project) -> Project:
        return _with_copies(old, known(old.books, book_id, "book"), copies)

    return checked_edit(Remark.of("edit-copies", copies=copies), change)


def set_volumes(book_id: str, thicknesses_mm: Sequence[float | None]) -> Edit:
    """As many volumes as thicknesses, each in its turn with its own; None: as the block or the paper says.

    Numbers are given and volumes go as in `set_copies`. BadInput: none, or a thickness that cannot be.

    >>> from coverlayout.document.project import Project
    >>> ledger = add_book(Book("", "Ledger", page_mm=(114.3, 152.4))).change(Project())
    >>> (book,) = set_volumes("book-1", (12.0, 18.0)).change(ledger).books
    >>> [(each.number, each.thickness_mm) for each in book.volumes]
    [(1, 12.0), (2, 18.0)]
    """

    def change(old: Project) -> Project:
        counted = _with_copies(old, known(old.books, book_id, "book"), len(thicknesses_mm))
        book = counted.book(book_id)
        each = zip(book.volumes, thicknesses_mm, strict=True)
        after = replace(book, volumes=tuple(replace(volume, thickness_mm=figure) for volume, figure in each))
        pieces(after)
        return tidied(old, counted.with_book(after))

    return checked_edit(Remark.of("edit-volumes", count=len(thicknesses_mm)), change)


def _with_copies(old: Project, book: Book, copies: int) -> Project:
    if not 1 <= copies <= MOST_COPIES:
        raise BadInput("copies-out-of-range", found=copies, most=MOST_COPIES)
    missing = copies - len(book.volumes)
    if missing > 0:
        first = _next_volume_number(old)
        like = book.volumes[-1] if book.volumes else Volume(1)
        new = tuple(replace(like, number=first + k, unknown=()) for k in range(missing))
        return _counted(old, replace(book, volumes=(*book.volumes, *new)), first + missing)
    return tidied(old, old.with_book(replace(book, volumes=_kept_volumes(old, book, copies))))


def remove_book(book_id: str) -> Edit:
    """Remove a book with all its copies; their numbers are never given again."""

    def change(old: Project) -> Project:
        gone = known(old.books, book_id, "book")
        number = _next_volume_number(old)
        kept = tuple(book for book in old.books if book is not gone)
        return tidied(old, replace(old, books=kept, next_volume_number=number))

    return checked_edit(Remark("edit-remove-book"), change)


def add_own_piece(own: OwnPiece) -> Edit:
    """Add a piece of the maker's own; it comes last, under an id of its own. Its pieces are called `NAME-K`."""

    def change(old: Project) -> Project:
        new_id, counted = old.named_anew("own")
        return replace(counted, own_pieces=(*old.own_pieces, replace(own, id=new_id)))

    return checked_edit(Remark.of("edit-add-own-piece", name=own.name), change)


def change_own_piece(own_id: str, **fields: Any) -> Edit:
    """Change an own piece by the field names of OwnPiece. Under a new name its pieces stay where they lie.

    With another count the pieces that have ids of their own keep them, the last ones go first.
    """

    def change(old: Project) -> Project:
        before = known(old.own_pieces, own_id, "piece")
        after = replace(before, **fields)
        if after.ids and after.ids == before.ids and after.count != before.count:
            after = replace(after, ids=_own_ids(after))
        if after.id != own_id:
            raise BadInput("id-fixed", kind="piece", id=own_id)
        renamed = {was: now for was, now in zip(before.piece_ids, after.piece_ids, strict=False) if was != now}
        return tidied(old, _renamed(old.with_own_piece(after), renamed))

    return checked_edit(Remark("edit-change-own-piece"), change)


def _own_ids(own: OwnPiece) -> tuple[str, ...]:
    """As many ids as pieces: those there are, then the first of `NAME-K` that are free."""
    fresh = (piece for piece in replace(own, ids=(), count=own.count + len(own.ids)).piece_ids if piece not in own.ids)
    missing = max(own.count - len(own.ids), 0)
    return (*own.ids[: max(own.count, 0)], *islice(fresh, missing))


def remove_own_piece(own_id: str) -> Edit:
    """Remove an own piece."""

    def change(old: Project) -> Project:
        gone = known(old.own_pieces, own_id, "piece")
        return tidied(old, replace(old, own_pieces=tuple(own for own in old.own_pieces if own is not gone)))

    return checked_edit(Remark("edit-remove-own-piece"), change)


def _next_volume_number(project: Project) -> int:
    """The next number for a copy: above every one that was ever given, also in a project made elsewhere."""
    given = [volume.number + 1 for book in project.books for volume in book.volumes]
    promised = [book.next_volume_number for book in project.books if len(book.volumes) > 1]
    return max([project.next_volume_number, *given, *promised])


def _counted(project: Project, book: Book, next_number: int, *, added: bool = False) -> Project:
    """The project with that book in it and the numbers of its copies taken."""
    book = replace(book, next_volume_number=next_number)
    new = replace(project, next_volume_number=next_number)
    return replace(new, books=(*new.books, book)) if added else new.with_book(book)


def _kept_volumes(project: Project, book: Book, copies: int) -> tuple[Volume, ...]:
    """The copies to keep: those with a cut piece before the others, then the first ones; in their old order."""
    cut = {fact.piece for fact in project.cut_pieces if fact.state == "cut"}
    begun = {piece.volume for piece in pieces_made(book) if piece.id in cut}
    ranked = sorted(range(len(book.volumes)), key=lambda k: (book.volumes[k].number not in begun, k))
    return tuple(book.volumes[k] for k in sorted(ranked[:copies]))


def tidied(old: Project, new: Project) -> Project:
    """`new` without placements of, and wishes on, pieces that came from `old` and come from `new` no more."""
    gone = planned_ids(old) - planned_ids(new)
    if not gone:
        return new
    return replace(
        new,
        layouts=tuple(layout.keeping(lambda placed: placed.piece not in gone) for layout in new.layouts),
        locks=tuple(lock for lock in new.locks if lock.piece not in gone),
        links=tuple(link for link in new.links if not gone & set(link.pieces)),
    )


def _renamed(project: Project, names: Mapping[str, str]) -> Project:
    """The project with pieces called by their new names, wherever they are spoken of."""
    if not names:
        return project

    def link(wish: LinkWish) -> LinkWish:
        return replace(wish, pieces=tuple(names.get(piece, piece) for piece in wish.pieces))

    def layout(before: Layout) -> Layout:
        places = (replace(placed, piece=names.get(placed.piece, placed.piece)) for placed in before.placements)
        return replace(
            before, placements=tuple(places), pinned=tuple(names.get(piece, piece) for piece in before.pinned)
        )

    return replace(
        project,
        layouts=tuple(layout(before) for before in project.layouts),
        locks=tuple(replace(lock, piece=names.get(lock.piece, lock.piece)) for lock in project.locks),
        links=tuple(link(wish) for wish in project.links),
        cut_pieces=tuple(
            replace(
                fact,
                piece=names.get(fact.piece, fact.piece),
                place=replace(fact.place, piece=names.get(fact.place.piece, fact.place.piece)),
            )
            for fact in project.cut_pieces
        ),
    )
