"""Edits of where pieces lie in the layout being worked on. A piece that is pinned stays where it lies."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from coverlayout.document.checks.whole import checked_edit, planned_ids
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.question import Placed

__all__ = ["accept", "laid", "move_by", "named_by", "pin", "place", "take_off", "turn_piece", "unpin"]


def place(pieces: tuple[Placed, ...], label: str | None = None, *, named: Remark | None = None) -> Edit:
    """Lay these pieces, or move them, in the layout being worked on; the rest stays. A drag of several is one edit.

    `label` is what the Undo menu calls a single piece, its id when left out; `named` names the whole edit instead. Of
    several pieces the pinned ones stay. BadInput: all of them are pinned, a piece that is not planned or was cut
    already, a cloth that is not there, a place that is no number or beyond LONGEST_MM.

    >>> place((Placed("front-1", "cloth-1", 90.0, 120.0),), "front cover").name.text()
    'Move front cover'
    """
    name = named or named_by("edit-move", "edit-move-several", [placed.piece for placed in pieces], label)

    def change(old: Project) -> Project:
        free = _free(old, [placed.piece for placed in pieces], label)
        return laid(old, [placed for placed in pieces if placed.piece in free])

    return checked_edit(name, change)


def move_by(pieces: tuple[str, ...], across_mm: float, along_mm: float, label: str | None = None) -> Edit:
    """Move pieces that lie on the cloth by this much, x to the right, y down; those that wait keep waiting.

    Of several pieces the pinned ones stay; BadInput when all of them are pinned.
    """

    def change(old: Project) -> Project:
        free = _free(old, pieces, label)
        lying = [placed for placed in old.layout.placements if placed.piece in free]
        return laid(old, [replace(one, x_mm=one.x_mm + across_mm, y_mm=one.y_mm + along_mm) for one in lying])

    return checked_edit(named_by("edit-move", "edit-move-several", pieces, label), change)


def turn_piece(piece: str, turn_deg: float, label: str | None = None) -> Edit:
    """Turn a piece about its anchor to `turn_deg`, clockwise on the cloth; kept from 0 up to 360.

    BadInput when it waits or is pinned. Whether it may lie so is not asked here: see turning.
    """

    def change(old: Project) -> Project:
        lying = old.layout.place_of(piece)
        if lying is None:
            raise BadInput("piece-not-on-cloth", piece=label or piece)
        _free(old, (piece,), label)
        return laid(old, [replace(lying, turn_deg=turn_deg)])

    return checked_edit(Remark.of("edit-turn", piece=label or piece), change)


def take_off(pieces: tuple[str, ...], label: str | None = None) -> Edit:
    """Take pieces off the cloth in the layout being worked on: they wait beside it again.

    Of several pieces the pinned ones stay; BadInput when all of them are pinned.
    """

    def change(old: Project) -> Project:
        free = _free(old, pieces, label)
        return old.with_layout(old.layout.keeping(lambda placed: placed.piece not in free))

    return checked_edit(named_by("edit-take-off", "edit-take-off-several", pieces, label), change)


def accept(placed: Iterable[Placed]) -> Edit:
    """Take over where an answer lays its pieces; pieces it does not speak of stay, and so do those cut or pinned.

    Pieces that are no longer planned since the question was asked are left out.
    """
    answer = tuple(placed)

    def change(old: Project) -> Project:
        movable = planned_ids(old) - set(old.layout.pinned)
        return laid(old, [one for one in answer if one.piece in movable and old.fact_of(one.piece) is None])

    return checked_edit(Remark("edit-accept"), change)


def pin(pieces: tuple[str, ...], label: str | None = None) -> Edit:
    """Pin pieces where they lie in the layout being worked on: no drag and no search moves them until they are let go.

    BadInput when one of them waits.
    """

    def change(old: Project) -> Project:
        lying = {placed.piece for placed in old.layout.placements}
        for piece in pieces:
            if piece not in lying:
                raise BadInput("piece-not-on-cloth", piece=_said(piece, pieces, label))
        fresh = tuple(piece for piece in dict.fromkeys(pieces) if piece not in old.layout.pinned)
        return old.with_layout(replace(old.layout, pinned=(*old.layout.pinned, *fresh)))

    return checked_edit(named_by("edit-pin", "edit-pin-several", pieces, label), change)


def unpin(pieces: tuple[str, ...], label: str | None = None) -> Edit:
    """Let pinned pieces go; those that were not pinned stay as they are."""

    def change(old: Project) -> Project:
        kept = tuple(piece for piece in old.layout.pinned if piece not in pieces)
        return old.with_layout(replace(old.layout, pinned=kept))

    return checked_edit(named_by("edit-unpin", "edit-unpin-several", pieces, label), change)


def laid(project: Project, pieces: Iterable[Placed]) -> Project:
    """The project with these placements in its present layout, pinned or not; a place keeps its unknown fields.

    BadInput when one of them is not planned or was cut already.
    """
    layout = project.layout
    before = {placed.piece: placed for placed in layout.placements}
    moved = {one.piece: _tidy(one, before.get(one.piece)) for one in pieces}
    planned = planned_ids(project)
    for piece in moved:
        if project.fact_of(piece) is not None:
            raise BadInput("piece-cut-already", piece=piece)
        if piece not in planned:
            raise BadInput("id-unknown", kind="piece", id=piece)
    stays = tuple(moved.pop(placed.piece, placed) for placed in layout.placements)
    return project.with_layout(replace(layout, placements=(*stays, *moved.values())))


def named_by(one: str, several: str, pieces: Iterable[str], label: str | None) -> Remark:
    """The name of an edit of one piece, called by its label or id, or of several, counted."""
    names = tuple(pieces)
    return Remark.of(one, piece=label or names[0]) if len(names) == 1 else Remark.of(several, count=len(names))


def _free(project: Project, pieces: Iterable[str], label: str | None) -> frozenset[str]:
    """Those of the pieces that are not pinned; BadInput when all of them are."""
    named = tuple(pieces)
    free = frozenset(named) - set(project.layout.pinned)
    if named and not free:
        raise BadInput("piece-pinned", piece=_said(named[0], named, label))
    return free


def _said(piece: str, pieces: tuple[str, ...], label: str | None) -> str:
    """What a sentence calls a piece: the label, when it speaks of that piece alone."""
    return label if label is not None and len(pieces) == 1 else piece


def _tidy(placed: Placed, before: Placed | None) -> Placed:
    """The place with its turn from 0 up to 360, and what the file said of the piece's place before."""
    turn_deg = placed.turn_deg % 360.0
    # A turn a hair below 0 would come out as 360 itself.
    turn_deg = 0.0 if turn_deg >= 360.0 else turn_deg
    return replace(placed, turn_deg=turn_deg, unknown=placed.unknown or (before.unknown if before else ()))
