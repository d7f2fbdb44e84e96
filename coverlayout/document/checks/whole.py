"""Whether a project can be: figures in range, shapes that enclose something, ids that are known.

The file's door and every edit ask here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import fields, is_dataclass
from typing import Protocol, TypeVar

from coverlayout.book.book import Book, OwnPiece, Source
from coverlayout.book.checks import check_book, check_own_piece
from coverlayout.book.pieces import Piece
from coverlayout.book.structures import BUILT_STRUCTURES, pieces
from coverlayout.cloth.base_line import check_base_line
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.checks.figures import check_figures, name_of
from coverlayout.document.checks.stocks import check_stock
from coverlayout.document.history import Edit
from coverlayout.document.project import CutPiece, Project, Stock
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.shapes import checked_ring
from coverlayout.motif.prints import LaidPrint, Print

__all__ = ["checked", "checked_edit", "known", "pieces_made", "planned_ids"]


class _Named(Protocol):
    @property
    def id(self) -> str: ...


_Record = TypeVar("_Record", bound=_Named)


def known(records: Iterable[_Record], record_id: str, kind: str) -> _Record:
    """The record of that id; BadInput, naming the `kind` of thing, when there is none."""
    for record in records:
        if record.id == record_id:
            return record
    raise BadInput("id-unknown", kind=kind, id=record_id)


def pieces_made(book: Book) -> tuple[Piece, ...]:
    """The pieces of a book that is in the project; none when its structure is kept for a newer program to make."""
    return pieces(book) if book.structure in BUILT_STRUCTURES else ()


def planned_ids(project: Project) -> frozenset[str]:
    """The ids of every piece that the books and own pieces ask for, cut already or not.

    >>> sorted(planned_ids(Project(books=(Book("b", "Ledger", page_mm=(114.3, 152.4), liners="none"),))))
    ['back-1', 'front-1']
    """
    return frozenset(_planned(project))


def _planned(project: Project) -> Iterator[str]:
    for own in project.own_pieces:
        yield from own.piece_ids
    for book in project.books:
        yield from (piece.id for piece in pieces_made(book))


def checked_edit(name: Remark, change: Callable[[Project], Project]) -> Edit:
    """An edit whose outcome is checked: BadInput and nothing changed when the new project could not be."""
    return Edit(name, lambda old: checked(change(old), old))


def checked(project: Project, before: Project | None = None) -> Project:
    """The project, when everything in it can be; BadInput in one sentence that names the first thing that cannot.

    What `project` shares with `before`, a project that was checked already, is not gone through again.
    """
    if project == before:
        return project
    passed = set() if before is None else {id(part) for part in _parts_of(before)}
    for part in _parts_of(project):
        if id(part) not in passed:
            check_figures(part, name_of(part))
            _check_shape(part)
    check_figures(project, name_of(project), deep=False)
    _check_ids(project)
    _check_references(project)
    return project


def _parts_of(project: Project) -> Iterator[object]:
    """Everything directly in the project: its records, and its rules and preferences."""
    for field in fields(project):
        value = getattr(project, field.name)
        if isinstance(value, tuple) and field.name != "unknown":
            yield from value
        elif is_dataclass(value):
            yield value


def _check_shape(part: object) -> None:
    """Outlines enclose something and do not cross; repeats have two directions; own pieces and stocks have a size."""
    where = name_of(part)
    if isinstance(part, Print):
        part.lattice.checked(where=where)
    elif isinstance(part, Cloth):
        _check_cloth(part)
    elif isinstance(part, OwnPiece):
        check_own_piece(part)
    elif isinstance(part, Book):
        check_book(part)
    elif isinstance(part, CutPiece):
        _check_outline(part.outline_mm, where)
    elif isinstance(part, Stock):
        check_stock(part)


def _check_outline(ring: Sequence[tuple[float, float]] | None, where: str) -> None:
    if ring is not None:
        checked_ring(ring, where=where)


def _check_cloth(cloth: Cloth) -> None:
    """Outline, flaws and zones of a cloth enclose something; each says how many of the changes it contains."""
    _check_outline(cloth.outline_mm, cloth.name)
    for flaw in cloth.flaws:
        if flaw.line_width_mm <= 0:
            _check_outline(flaw.points_mm, flaw.name)
        elif len(flaw.points_mm) < 2:
            raise BadInput("line-too-short", where=flaw.name)
    for zone in cloth.zones:
        _check_outline(zone.outline_mm, zone.name)
    if cloth.base_line is not None:
        check_base_line(cloth.base_line, cloth.name)
    if not all(0 <= changes_in <= len(cloth.changes) for changes_in in _changes_in(cloth)):
        raise BadInput("changes-in-unknown", where=cloth.name, count=len(cloth.changes))
    _check_once([*(flaw.id for flaw in cloth.flaws), *(zone.id for zone in cloth.zones)], "flaw or zone")


def _changes_in(cloth: Cloth) -> Iterator[int]:
    """How many of the changes each figure of the cloth says it contains."""
    yield cloth.outline_changes_in
    yield from (flaw.changes_in for flaw in cloth.flaws)
    yield from (zone.changes_in for zone in cloth.zones)
    yield from (laid.changes_in for laid in _laid_on(cloth))
    if cloth.base_line is not None:
        yield cloth.base_line.changes_in


def _laid_on(cloth: Cloth) -> list[LaidPrint]:
    return [laid for laid in (cloth.laid, *(zone.laid for zone in cloth.zones)) if laid is not None]


def _check_once(ids: Iterable[str], kind: str) -> None:
    """No id is empty or given twice."""
    seen: set[str] = set()
    for record_id in ids:
        if not record_id or record_id in seen:
            raise BadInput("id-twice", kind=kind, id=record_id)
        seen.add(record_id)


def _check_ids(project: Project) -> None:
    _check_once((a_print.id for a_print in project.prints), "print")
    _check_once((cloth.id for cloth in project.cloths), "cloth")
    _check_once((book.id for book in project.books), "book")
    _check_once((own.id for own in project.own_pieces), "piece")
    _check_once((stock.id for stock in project.stocks), "stock")
    _check_once((layout.id for layout in project.layouts), "layout")
    _check_once((wish.id for wish in project.wishes), "wish")
    _check_once(_planned(project), "piece")
    _check_once((str(volume.number) for book in project.books for volume in book.volumes), "copy")
    _check_once((fact.piece for fact in project.cut_pieces if fact.state == "cut"), "piece cut")
    for layout in project.layouts:
        _check_once((placed.piece for placed in layout.placements), "place")
        _check_once(layout.pinned, "pin")
        for piece in layout.pinned:
            if layout.place_of(piece) is None:
                raise BadInput("pinned-waits", piece=piece, layout=layout.name)


def _check_references(project: Project) -> None:
    """Everything that is spoken of by id is there."""
    known(project.layouts, project.layout_id, "layout")
    for placed in (placed for layout in project.layouts for placed in layout.placements):
        known(project.cloths, placed.cloth, "cloth")
    for fact in project.cut_pieces:
        known(project.cloths, fact.place.cloth, "cloth")
    for laid in (laid for cloth in project.cloths for laid in _laid_on(cloth)):
        known(project.prints, laid.print_id, "print")
    for mark in project.marks:
        known(project.prints, mark.print_id, "print")
    for source in (source for book in project.books for source in _sources_of(book)):
        _check_source(project, source)
    for own in project.own_pieces:
        _check_source(project, own.source)


def _sources_of(book: Book) -> tuple[Source, ...]:
    of_label = () if book.label is None else (book.label.source,)
    return (book.cover_source, book.liner_source, book.side_source, *of_label)


def _check_source(project: Project, source: Source) -> None:
    if source.print_id is not None:
        known(project.prints, source.print_id, "print")
    if source.cloth_id is not None:
        known(project.cloths, source.cloth_id, "cloth")
    if source.zone_id is not None:
        known([zone for cloth in project.cloths for zone in cloth.zones], source.zone_id, "zone")
