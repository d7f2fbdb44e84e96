"""A question for some of its pieces only."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from coverlayout.document.asking.wishes import link_asked
from coverlayout.document.project import LinkWish
from coverlayout.layout.question import Link, Question

__all__ = ["narrowed"]


def narrowed(question: Question, pieces: Iterable[str]) -> Question:
    """The question for only these of its pieces; locks and links of the others are left out, what lies stays."""
    wanted = frozenset(pieces)
    there = wanted | {piece.id for cloth in question.cloths for piece, _ in cloth.fixed}
    return replace(
        question,
        pieces=tuple(piece for piece in question.pieces if piece.id in wanted),
        locks=tuple(lock for lock in question.locks if lock.piece in wanted),
        links=tuple(kept for link in question.links if (kept := _narrowed_link(link, there)) is not None),
    )


def _narrowed_link(link: Link, there: frozenset[str]) -> Link | None:
    points = {piece: point for piece, point in zip(link.pieces, link.points_mm, strict=True) if piece in there}
    return link_asked(LinkWish("", link.pieces, link.differences_mm, link.must), points)
