"""What the list of pieces says of each: its name, how it lies in a word, and the sign for that."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from coverlayout.book.pieces import Piece
from coverlayout.document.project import CutPiece, Project
from coverlayout.document.questions import placed_now, planned_pieces
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.exporting import names
from coverlayout.layout.question import Placed
from coverlayout.ui.verdict.chips import Symbol

__all__ = ["PieceRow", "called", "placed_or_none", "planned_or_none", "rows_of", "spoiled_of"]

# No piece's id has a line break in it.
_SPOILED = "spoiled\n"


@dataclass(frozen=True)
class PieceRow:
    """One row: the piece's id (for a hole that a spoiled one left, an id of its own), the words, the sign."""

    id: str
    words: str
    symbol: Symbol


def planned_or_none(project: Project) -> tuple[Piece, ...]:
    """The planned pieces, none when the book cannot be made yet."""
    try:
        return planned_pieces(project)
    except CoverlayoutError:
        return ()


def placed_or_none(project: Project) -> tuple[Placed, ...]:
    """Where planned pieces lie, nowhere when the book cannot be made yet."""
    try:
        return placed_now(project)
    except CoverlayoutError:
        return ()


def rows_of(project: Project, broken: Collection[str]) -> tuple[PieceRow, ...]:
    """The planned pieces in their order, then those cut, then those spoiled; `broken` ones break a rule."""
    pieces = planned_or_none(project)
    by_id = names.called(pieces, project.cut_pieces)
    return (*_planned(project, pieces, by_id, broken), *_facts(project, by_id))


def _planned(
    project: Project, pieces: Sequence[Piece], by_id: Mapping[str, str], broken: Collection[str]
) -> Iterator[PieceRow]:
    lying = {placed.piece for placed in project.layout.placements}
    for piece in pieces:
        pinned = piece.id in project.layout.pinned
        if piece.id not in lying:
            code, symbol = "row-waits", "ring"
        elif piece.id in broken:
            code, symbol = ("row-pinned-wrong" if pinned else "row-wrong"), "cross"
        else:
            code, symbol = ("row-pinned", "pin") if pinned else ("row-planned", "tick")
        yield _row(piece.id, by_id[piece.id], code, symbol)  # type: ignore[arg-type]  # each is one of the signs


def _facts(project: Project, by_id: Mapping[str, str]) -> Iterator[PieceRow]:
    for fact in project.cut_pieces:
        if fact.state == "cut":
            yield _row(fact.piece, by_id[fact.piece], "row-cut", "corner")
    for number, fact in enumerate(project.cut_pieces):
        if fact.state == "spoiled":
            yield _row(f"{_SPOILED}{number}", names.fact_name(fact, by_id), "row-spoiled", "struck")


def _row(row_id: str, name: str, code: str, symbol: Symbol) -> PieceRow:
    return PieceRow(row_id, f"{name}  ·  {sentence(code, {})}", symbol)


def called(project: Project) -> dict[str, str]:
    """What to call each planned and each cut piece, with a number where several share a name."""
    return names.called(planned_or_none(project), project.cut_pieces)


def spoiled_of(project: Project, row_ids: Collection[str]) -> tuple[CutPiece, ...]:
    """The spoiled pieces whose rows these are; rows of other pieces, and of facts that are gone, are left out."""
    numbers = (int(each.removeprefix(_SPOILED)) for each in row_ids if each.startswith(_SPOILED))
    facts = (project.cut_pieces[number] for number in numbers if number < len(project.cut_pieces))
    return tuple(fact for fact in facts if fact.state == "spoiled")
