"""Edits of prints: their picture, size, repeat and up, and the places named in their tile."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.checks.whole import checked_edit, known, pieces_made
from coverlayout.document.history import Edit
from coverlayout.document.project import Project, TileMark
from coverlayout.errors import BadInput, Remark
from coverlayout.motif.prints import LaidPrint, Print

__all__ = ["add_print", "change_print", "remove_print", "remove_tile_mark", "set_tile_mark"]


def add_print(a_print: Print) -> Edit:
    """Add a print; it comes last, under an id of its own that was never used before (the one it brings is not kept)."""

    def change(old: Project) -> Project:
        new_id, counted = old.named_anew("print")
        return replace(counted, prints=(*old.prints, replace(a_print, id=new_id)))

    return checked_edit(Remark.of("edit-add-print", name=a_print.name), change)


def change_print(print_id: str, **fields: Any) -> Edit:
    """Change a print by the field names of Print; size and repeat go together (motif.repeat makes the lattice)."""

    def change(old: Project) -> Project:
        new = replace(known(old.prints, print_id, "print"), **fields)
        if new.id != print_id:
            raise BadInput("id-fixed", kind="print", id=print_id)
        return old.with_print(new)

    return checked_edit(Remark("edit-change-print"), change)


def remove_print(print_id: str) -> Edit:
    """Remove a print: cloths and zones that bore it are plain, its marks go, and so do wishes that need it.

    A wish speaks of a place in the repeat of the print its pieces lie on: those of pieces that had to come from this
    print are dropped, and all of them when it was the last print.
    """

    def change(old: Project) -> Project:
        gone = known(old.prints, print_id, "print")
        orphans = _pieces_of(old, print_id)
        prints = tuple(a_print for a_print in old.prints if a_print is not gone)
        new = replace(
            old,
            prints=prints,
            cloths=tuple(_without(cloth, print_id) for cloth in old.cloths),
            marks=tuple(mark for mark in old.marks if mark.print_id != print_id),
            locks=tuple(lock for lock in old.locks if prints and lock.piece not in orphans),
            links=tuple(link for link in old.links if prints and not orphans & set(link.pieces)),
        )
        return new.with_sources(
            lambda source: replace(source, print_id=None) if source.print_id == print_id else source
        )

    return checked_edit(Remark("edit-remove-print"), change)


def set_tile_mark(print_id: str, name: str, at_mm: tuple[float, float]) -> Edit:
    """Name a place in a print's tile, in mm of the print's own frame; the same name moves it."""

    def change(old: Project) -> Project:
        if not name.strip():
            raise BadInput("name-empty")
        marks = {(mark.print_id, mark.name): mark for mark in old.marks}
        before = marks.get((print_id, name.strip()), TileMark(name.strip(), print_id, at_mm))
        marks[print_id, name.strip()] = replace(before, at_mm=at_mm)
        return replace(old, marks=tuple(marks.values()))

    return checked_edit(Remark.of("edit-tile-mark", name=name), change)


def remove_tile_mark(print_id: str, name: str) -> Edit:
    """Forget a named place; BadInput when there is none of that name."""

    def change(old: Project) -> Project:
        kept = tuple(mark for mark in old.marks if (mark.print_id, mark.name) != (print_id, name))
        if len(kept) == len(old.marks):
            raise BadInput("id-unknown", kind="mark", id=name)
        return replace(old, marks=kept)

    return checked_edit(Remark.of("edit-remove-tile-mark", name=name), change)


def _pieces_of(project: Project, print_id: str) -> set[str]:
    """The pieces that had to come from that print."""
    found = {piece for own in project.own_pieces if own.source.print_id == print_id for piece in own.piece_ids}
    for book in project.books:
        found |= {piece.id for piece in pieces_made(book) if piece.source.print_id == print_id}
    return found


def _without(cloth: Cloth, print_id: str) -> Cloth:
    """The cloth with that print taken off it and its zones."""

    def left(laid: LaidPrint | None) -> LaidPrint | None:
        return None if laid is None or laid.print_id == print_id else laid

    return replace(
        cloth, laid=left(cloth.laid), zones=tuple(replace(zone, laid=left(zone.laid)) for zone in cloth.zones)
    )
