"""Own pieces copied to the clipboard and pasted again, in this project or another: as text of our own kind.

The text is a project that holds the pieces and nothing else but what they name, so one reader checks it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.checks.whole import checked, checked_edit
from coverlayout.document.edits.books import tidied
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.storage.records import project_from_json, project_to_json
from coverlayout.errors import BadInput, Remark

__all__ = ["PIECES_MIME", "copied", "pasted", "without_pieces"]

# Our own kind of text on a clipboard, so that no other program takes it for words.
PIECES_MIME = "application/x-coverlayout-pieces+json"
_MARK = "pieces of coverlayout"
# Far more than anybody copies, far less than a project.
_LONGEST_BYTES = 1_000_000


def copied(project: Project, pieces: tuple[str, ...]) -> bytes:
    """The own pieces of these ids as text for the clipboard, each by itself.

    BadInput when one of them belongs to a book: it comes with the book, and a copy of it would be no part of one.
    """
    own = tuple(
        replace(_own(project, piece), id=f"own-{k}", count=1, ids=(), unknown=()) for k, piece in enumerate(pieces, 1)
    )
    # Several of one name would have the same ids; the second of them is told apart already here.
    named = _named_apart(own, set())
    sources = [one.source for one in own]
    wanted_prints = {source.print_id for source in sources}
    cloths = (cloth for cloth in project.cloths if any(_speaks_of(source, cloth) for source in sources))
    text = Project(
        name=_MARK,
        prints=tuple(replace(each, picture=None, unknown=()) for each in project.prints if each.id in wanted_prints),
        cloths=tuple(_bare(cloth) for cloth in cloths),
        own_pieces=named,
    )
    return project_to_json(text)


def _own(project: Project, piece: str) -> OwnPiece:
    own = next((one for one in project.own_pieces if piece in one.piece_ids), None)
    if own is None:
        raise BadInput("piece-of-book", piece=piece)
    return own


def _speaks_of(source: Source, cloth: Cloth) -> bool:
    return source.cloth_id == cloth.id or any(zone.id == source.zone_id for zone in cloth.zones)


def _bare(cloth: Cloth) -> Cloth:
    """A cloth by its name and size, with the names of its zones: enough to know it again."""
    zones = tuple(replace(zone, laid=None, unknown=(), changes_in=0) for zone in cloth.zones)
    return Cloth(cloth.id, cloth.name, cloth.width_mm, cloth.length_mm, zones=zones)


def pasted(text: bytes) -> Edit:
    """Add the pieces of a text from the clipboard, under names and ids of their own; they wait beside the cloth.

    A piece that may only come from a print, cloth or zone keeps that where the project has it under the same id and
    name; else it is left open. BadInput at once when the text is not ours, or damaged.
    """
    own = _read(text)
    if len(own.own_pieces) == 1:
        name = Remark.of("edit-paste", name=own.own_pieces[0].name)
    else:
        name = Remark.of("edit-paste-several", count=len(own.own_pieces))

    def change(old: Project) -> Project:
        taken = {word for one in old.own_pieces for word in _taken_by(one)}
        project = old
        for one in _named_apart(own.own_pieces, taken):
            new_id, project = project.named_anew("own")
            fresh = replace(one, id=new_id, source=_known_here(old, own, one.source))
            project = replace(project, own_pieces=(*project.own_pieces, fresh))
        return project

    return checked_edit(name, change)


def _read(text: bytes) -> Project:
    if len(text) > _LONGEST_BYTES:
        raise BadInput("clipboard-not-ours")
    try:
        found = checked(project_from_json(text, "clipboard"))
    except BadInput as fault:
        raise BadInput("clipboard-not-ours") from fault
    if found.name != _MARK or not found.own_pieces:
        raise BadInput("clipboard-not-ours")
    return found


def _named_apart(pieces: Iterable[OwnPiece], taken: set[str]) -> tuple[OwnPiece, ...]:
    """The pieces under names by which no piece is called already.

    >>> pockets = (OwnPiece("a", "pocket", 9.0, 9.0), OwnPiece("b", "pocket 2", 9.0, 9.0))
    >>> [one.name for one in _named_apart(pockets, {"pocket"})]
    ['pocket 2', 'pocket 3']
    """
    used = set(taken)
    named: list[OwnPiece] = []
    for piece in pieces:
        name, number = piece.name, 1
        stem, _, end = name.rpartition(" ")
        if stem and end.isascii() and end.isdigit() and len(end) < 5:
            name, number = stem, int(end)
        fresh = piece
        while not used.isdisjoint((fresh.name, *fresh.piece_ids)):
            number += 1
            fresh = replace(piece, name=f"{name} {number}")
        used |= _taken_by(fresh)
        named.append(fresh)
    return tuple(named)


def _taken_by(own: OwnPiece) -> set[str]:
    """What no other piece can be called: its name, the ids of its pieces, and how those are shown ("pocket 2")."""
    return {own.name, *own.piece_ids, *(" ".join(piece.rsplit("-", 1)) for piece in own.piece_ids)}


def _known_here(project: Project, text: Project, source: Source) -> Source:
    """What of a source means the same here as where it was copied."""
    prints = {(each.id, each.name) for each in project.prints}
    cloths = {(cloth.id, cloth.name) for cloth in project.cloths}
    zones = {(zone.id, zone.name) for cloth in project.cloths for zone in cloth.zones}
    there = {each.id: each.name for each in text.prints} | {cloth.id: cloth.name for cloth in text.cloths}
    there |= {zone.id: zone.name for cloth in text.cloths for zone in cloth.zones}

    def same(one: str | None, here: set[tuple[str, str]]) -> str | None:
        return one if one is not None and (one, there.get(one, "")) in here else None

    return Source(same(source.print_id, prints), same(source.cloth_id, cloths), same(source.zone_id, zones))


def without_pieces(pieces: tuple[str, ...]) -> Edit:
    """Take own pieces out of the job, as a cut to the clipboard does; others of the same kind keep their ids.

    BadInput for a piece of a book, and for one that was cut from its cloth already: it is a fact.
    """

    def change(old: Project) -> Project:
        new = old
        for piece in pieces:
            own = _own(new, piece)
            if old.fact_of(piece) is not None:
                raise BadInput("piece-cut-already", piece=piece)
            kept = tuple(one for one in own.piece_ids if one != piece)
            fewer = (replace(own, count=len(kept), ids=kept),) if kept else ()
            others = [(one,) if one is not own else fewer for one in new.own_pieces]
            new = replace(new, own_pieces=tuple(one for ones in others for one in ones))
        return tidied(old, new)

    code = "edit-take-out" if len(pieces) == 1 else "edit-take-out-several"
    return checked_edit(Remark.of(code, piece="".join(pieces[:1]), count=len(pieces)), change)
