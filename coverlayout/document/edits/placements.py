"""Edits of where pieces lie, and of the facts: pieces cut and pieces spoiled."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from coverlayout.book.pieces import Piece
from coverlayout.document.checks.whole import checked_edit, planned_ids
from coverlayout.document.history import Edit
from coverlayout.document.project import CutPiece, Layout, Project
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.question import Placed

__all__ = ["accept", "mark_cut", "mark_spoiled", "move_by", "place", "take_off", "turn_piece", "unmark"]


def place(pieces: tuple[Placed, ...], label: str | None = None) -> Edit:
    """Lay these pieces, or move them, in the layout being worked on; the rest stays. A drag of several is one edit.

    `label` is what the Undo menu calls a single piece, its id when left out. BadInput: a piece that is not planned or
    was cut already, a cloth that is not there, a place that is no number or beyond LONGEST_MM.

    >>> place((Placed("front-1", "cloth-1", 90.0, 120.0),), "front cover").name.text()
    'Move front cover'
    """
    name = _named("edit-move", "edit-move-several", [placed.piece for placed in pieces], label)
    return checked_edit(name, lambda old: _laid(old, pieces))


def move_by(pieces: tuple[str, ...], across_mm: float, along_mm: float, label: str | None = None) -> Edit:
    """Move pieces that lie on the cloth by this much, x to the right, y down; those that wait keep waiting."""

    def change(old: Project) -> Project:
        lying = [placed for placed in old.layout.placements if placed.piece in pieces]
        return _laid(old, [replace(one, x_mm=one.x_mm + across_mm, y_mm=one.y_mm + along_mm) for one in lying])

    return checked_edit(_named("edit-move", "edit-move-several", pieces, label), change)


def turn_piece(piece: str, turn_deg: float, label: str | None = None) -> Edit:
    """Turn a piece about its anchor to `turn_deg`, clockwise on the cloth; kept from 0 up to 360."""

    def change(old: Project) -> Project:
        lying = old.layout.place_of(piece)
        if lying is None:
            raise BadInput("piece-not-on-cloth", piece=piece)
        return _laid(old, [replace(lying, turn_deg=turn_deg)])

    return checked_edit(Remark.of("edit-turn", piece=label or piece), change)


def take_off(pieces: tuple[str, ...], label: str | None = None) -> Edit:
    """Take pieces off the cloth in the layout being worked on: they wait beside it again."""
    return checked_edit(
        _named("edit-take-off", "edit-take-off-several", pieces, label),
        lambda old: old.with_layout(_without(old.layout, pieces)),
    )


def accept(placed: Iterable[Placed]) -> Edit:
    """Take over where an answer lays its pieces; pieces it does not speak of stay, and so do those that were cut.

    Pieces that are no longer planned since the question was asked are left out.
    """
    answer = tuple(placed)

    def change(old: Project) -> Project:
        planned = planned_ids(old)
        return _laid(old, [one for one in answer if one.piece in planned and old.fact_of(one.piece) is None])

    return checked_edit(Remark("edit-accept"), change)


def mark_cut(piece: Piece, placed: Placed) -> Edit:
    """Store as a fact that the piece was cut there, as it is now; every layout shares it from here on.

    BadInput when it was cut already.
    """

    def change(old: Project) -> Project:
        _refuse_cut(old, [placed])
        layouts = tuple(_without(layout, (piece.id,)) for layout in old.layouts)
        return replace(old, layouts=layouts, cut_pieces=(*old.cut_pieces, _fact(piece, placed, "cut")))

    return checked_edit(Remark.of("edit-cut", piece=piece.name or piece.id), change)


def mark_spoiled(piece: Piece, placed: Placed) -> Edit:
    """Store as a fact that the piece was spoiled there: it leaves a hole, and the piece is planned again.

    One that was cut becomes spoiled with the outline and place it was cut with, whatever `placed` says.
    """

    def change(old: Project) -> Project:
        cut = old.fact_of(piece.id)
        if cut is not None:
            facts = tuple(replace(fact, state="spoiled") if fact is cut else fact for fact in old.cut_pieces)
            return replace(old, cut_pieces=facts)
        lifted = old.with_layout(_without(old.layout, (piece.id,)))
        return replace(lifted, cut_pieces=(*old.cut_pieces, _fact(piece, placed, "spoiled")))

    return checked_edit(Remark.of("edit-spoiled", piece=piece.name or piece.id), change)


def unmark(fact: CutPiece) -> Edit:
    """Take a fact back that was marked by mistake; a piece said to be cut lies there again, if it is still planned."""

    def change(old: Project) -> Project:
        if fact not in old.cut_pieces:
            raise BadInput("id-unknown", kind="piece cut", id=fact.piece)
        index = old.cut_pieces.index(fact)
        new = replace(old, cut_pieces=old.cut_pieces[:index] + old.cut_pieces[index + 1 :])
        lies_again = fact.state == "cut" and fact.piece in planned_ids(new)
        return _laid(new, [replace(fact.place, piece=fact.piece)]) if lies_again else new

    return checked_edit(Remark.of("edit-unmark", piece=fact.name or fact.piece), change)


def _named(one: str, several: str, pieces: Iterable[str], label: str | None) -> Remark:
    """The name of an edit of one piece, or of several."""
    names = tuple(pieces)
    return Remark.of(one, piece=label or names[0]) if len(names) == 1 else Remark.of(several, count=len(names))


def _laid(project: Project, pieces: Iterable[Placed]) -> Project:
    """The project with these placements in its present layout; a place keeps its unknown fields."""
    layout = project.layout
    before = {placed.piece: placed for placed in layout.placements}
    moved = {one.piece: _tidy(one, before.get(one.piece)) for one in pieces}
    _refuse_cut(project, moved.values())
    planned = planned_ids(project)
    for piece in moved:
        if piece not in planned:
            raise BadInput("id-unknown", kind="piece", id=piece)
    stays = tuple(moved.pop(placed.piece, placed) for placed in layout.placements)
    return project.with_layout(replace(layout, placements=(*stays, *moved.values())))


def _tidy(placed: Placed, before: Placed | None) -> Placed:
    """The place with its turn from 0 up to 360, and what the file said of the piece's place before."""
    turn_deg = placed.turn_deg % 360.0
    # A turn a hair below 0 would come out as 360 itself.
    turn_deg = 0.0 if turn_deg >= 360.0 else turn_deg
    return replace(placed, turn_deg=turn_deg, unknown=placed.unknown or (before.unknown if before else ()))


def _refuse_cut(project: Project, pieces: Iterable[Placed]) -> None:
    for placed in pieces:
        if project.fact_of(placed.piece) is not None:
            raise BadInput("piece-cut-already", piece=placed.piece)


def _without(layout: Layout, pieces: Iterable[str]) -> Layout:
    """The layout without the placements of these pieces; the very same one when none lies in it."""
    gone = set(pieces)
    kept = tuple(placed for placed in layout.placements if placed.piece not in gone)
    return layout if len(kept) == len(layout.placements) else replace(layout, placements=kept)


def _fact(piece: Piece, placed: Placed, state: Literal["cut", "spoiled"]) -> CutPiece:
    place_cut = replace(placed, piece=piece.id)
    return CutPiece(piece.id, piece.name, state, piece.outline_mm, piece.anchor_mm, place_cut, piece.seen_mm)
