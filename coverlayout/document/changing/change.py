"""A single change of the project that turns a no into a yes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer

__all__ = ["ChangeKind", "FittingChange"]

ChangeKind = Literal[
    "turn liners", "paper liners", "turn-in", "two turn-ins", "gap", "drop a wish", "smaller book", "next cut"
]


@dataclass(frozen=True)
class FittingChange:
    """A change with which everything fits: the project after it, the validated answer, and its effect in one sentence.

    `amount_mm` is by how much a length changes, or the new length, as the sentence says; None where no length does.
    """

    kind: ChangeKind
    said: Remark
    amount_mm: float | None
    project: Project
    answer: Answer
