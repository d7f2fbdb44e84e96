"""A layout that differs on purpose from those already seen."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.layout.question import Placed, Question

__all__ = ["AnotherAsked"]


@dataclass(frozen=True)
class AnotherAsked:
    """Lay the pieces of the question again, but unlike every layout in `seen`."""

    question: Question
    seen: tuple[tuple[Placed, ...], ...]
