"""Free ground for pieces brought to a cloth without a pointer: looked for by the engine while all else stays there."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from coverlayout.document.cutting.still_had import narrowed
from coverlayout.layout.lay import first_layout
from coverlayout.layout.question import PieceAsked, Placed
from coverlayout.layout.rules import Judge

__all__ = ["free_ground"]

# A search for one piece ends after this many steps: some hundredths of a second, before anyone waits.
_STEPS = 500


def free_ground(
    judge: Judge, pieces: Sequence[PieceAsked], resting: Iterable[Placed], cloth_id: str | None = None
) -> tuple[Placed, ...] | None:
    """Where these pieces may lie, near the top, breaking no rule beside what rests and is cut; None when none is found.

    Only on one cloth, if named. The pieces may allow fewer turns than those the judge knows by their ids.
    """
    lying: dict[str, list[tuple[PieceAsked, Placed]]] = {}
    for placed in resting:
        lying.setdefault(placed.cloth, []).append((judge.pieces[placed.piece], placed))
    cloths = tuple(
        replace(cloth, fixed=(*cloth.fixed, *lying.get(cloth.id, ())))
        for cloth in judge.question.cloths
        if cloth_id in (None, cloth.id)
    )
    question = replace(judge.question, pieces=tuple(pieces), cloths=cloths, steps=_STEPS * len(pieces))
    # Linked pieces on other cloths are left out here, so that the judge has the last word.
    return first_layout(narrowed(question, (piece.id for piece in pieces))).placed or None
