"""What to call the pieces where a maker reads of them: by their names, never by their ids."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coverlayout.book.pieces import Piece
from coverlayout.document.project import CutPiece

__all__ = ["called", "capital", "fact_name", "names_of"]


def names_of(pieces: Sequence[Piece]) -> dict[str, str]:
    """What to call each piece: its name, with its number where several share the name.

    >>> square = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))
    >>> names_of([Piece(f"front-{book}", "front cover", "cover", square, (4.5, 4.5)) for book in (1, 2)])
    {'front-1': 'Front cover 1', 'front-2': 'Front cover 2'}
    """
    names = [piece.name for piece in pieces]
    return {
        piece.id: capital(piece.name) + (f" {piece.id.rpartition('-')[2]}" if names.count(piece.name) > 1 else "")
        for piece in pieces
    }


def called(planned: Sequence[Piece], facts: Sequence[CutPiece]) -> dict[str, str]:
    """What to call each planned and each cut piece, with a number where several share a name."""
    cut = [
        Piece(fact.piece, fact.name or fact.piece, "own", fact.outline_mm, fact.anchor_mm)
        for fact in facts
        if fact.state == "cut"
    ]
    return names_of([*planned, *cut])


def fact_name(fact: CutPiece, names: Mapping[str, str]) -> str:
    """What to call a piece cut or spoiled; `names` as `called` gives them, which know no piece that is only spoiled."""
    return names.get(fact.piece, capital(fact.name or fact.piece))


def capital(words: str) -> str:
    """The words with a capital at their start."""
    return words[:1].upper() + words[1:]
