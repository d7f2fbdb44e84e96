"""Edits of the facts: pieces cut and pieces spoiled. A fact is stored with the outline and place it was cut with."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from coverlayout.book.pieces import Piece
from coverlayout.document.checks.whole import checked_edit, planned_ids
from coverlayout.document.edits.placements import laid, named_by
from coverlayout.document.history import Edit
from coverlayout.document.project import CutPiece, Project
from coverlayout.document.questions import judge_for, planned_pieces
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

__all__ = ["mark_cut", "mark_spoiled", "unmark"]


def mark_cut(pieces: tuple[str, ...], label: str | None = None) -> Edit:
    """Store as a fact that the pieces were cut where they lie, as they are now; every layout shares it from here on.

    All together are one step. `label` is what a sentence calls a single piece. A piece that breaks a rule may be
    marked: what was cut was cut. BadInput, and nothing is marked: a piece that is not planned, was cut already or
    waits, or one that lies over a piece already cut (or over another of these): no cloth is cut twice.
    """

    def change(old: Project) -> Project:
        lying = [_where_it_lies(old, piece, label) for piece in pieces]
        _refuse_cut_twice(old, [placed for _, placed in lying])
        layouts = tuple(layout.keeping(lambda placed: placed.piece not in pieces) for layout in old.layouts)
        facts = (_fact(piece, placed, "cut") for piece, placed in lying)
        return replace(old, layouts=layouts, cut_pieces=(*old.cut_pieces, *facts))

    return checked_edit(named_by("edit-cut", "edit-cut-several", pieces, label), change)


def mark_spoiled(pieces: tuple[str, ...], label: str | None = None) -> Edit:
    """Store as a fact that the pieces were spoiled: each leaves a hole in its cloth and is planned again, and waits.

    One that was cut becomes spoiled with the outline and place it was cut with; any other must lie on a cloth in the
    layout being worked on. All together are one step. BadInput, and nothing is marked: a piece that is not planned or
    waits.
    """

    def change(old: Project) -> Project:
        was_cut = [fact for piece in pieces if (fact := old.fact_of(piece)) is not None]
        still_whole = [piece for piece in dict.fromkeys(pieces) if old.fact_of(piece) is None]
        lying = [_where_it_lies(old, piece, label) for piece in still_whole]
        kept = tuple(replace(fact, state="spoiled") if fact in was_cut else fact for fact in old.cut_pieces)
        fresh = (_fact(piece, placed, "spoiled") for piece, placed in lying)
        lifted = old.with_layout(old.layout.keeping(lambda placed: placed.piece not in pieces))
        return replace(lifted, cut_pieces=(*kept, *fresh))

    return checked_edit(named_by("edit-spoiled", "edit-spoiled-several", pieces, label), change)


def unmark(facts: tuple[CutPiece, ...]) -> Edit:
    """Take facts back that were marked by mistake; a piece said to be cut lies there again, if it is still planned.

    BadInput when one of them is no fact of the project.
    """

    def change(old: Project) -> Project:
        new = old
        for fact in facts:
            if fact not in new.cut_pieces:
                raise BadInput("id-unknown", kind="piece cut", id=fact.piece)
            index = new.cut_pieces.index(fact)
            new = replace(new, cut_pieces=new.cut_pieces[:index] + new.cut_pieces[index + 1 :])
            if fact.state == "cut" and fact.piece in planned_ids(new):
                new = laid(new, [replace(fact.place, piece=fact.piece)])
        return new

    label = (facts[0].name or facts[0].piece) if len(facts) == 1 else None
    return checked_edit(
        named_by("edit-unmark", "edit-unmark-several", tuple(fact.piece for fact in facts), label), change
    )


def _where_it_lies(project: Project, piece_id: str, label: str | None) -> tuple[Piece, Placed]:
    """The planned piece and its place in the present layout; BadInput when there is none."""
    if project.fact_of(piece_id) is not None:
        raise BadInput("piece-cut-already", piece=label or piece_id)
    piece = next((one for one in planned_pieces(project) if one.id == piece_id), None)
    if piece is None:
        raise BadInput("id-unknown", kind="piece", id=piece_id)
    placed = project.layout.place_of(piece_id)
    if placed is None:
        raise BadInput("piece-not-on-cloth", piece=label or piece.name)
    return piece, placed


def _refuse_cut_twice(project: Project, lying: list[Placed]) -> None:
    """The judge knows what was cut already; of the planned pieces it is shown only those now said to be cut."""
    for breach in judge_for(project).report(lying).breaches:
        if breach.rule == "overlap":
            one, other = breach.pieces
            raise BadInput("cut-over-cut", piece=one, other=other, shared_mm=breach.amount_mm)


def _fact(piece: Piece, placed: Placed, state: Literal["cut", "spoiled"]) -> CutPiece:
    return CutPiece(
        piece=piece.id,
        name=piece.name,
        state=state,
        outline_mm=piece.outline_mm,
        anchor_mm=piece.anchor_mm,
        place=replace(placed, piece=piece.id),
        seen_mm=piece.seen_mm,
        board=piece.board,
    )
