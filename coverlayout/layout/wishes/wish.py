"""One wish of a question, lock or link: taken out, made a must, moved by a little, and how far a layout misses it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from coverlayout.geometry.frames import Point
from coverlayout.layout.answer import Answer
from coverlayout.layout.question import Ground, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge

__all__ = [
    "Decide",
    "Wish",
    "as_must",
    "fits",
    "grounds_for",
    "grounds_of",
    "missed_mm",
    "moved",
    "pieces_of",
    "wishes_of",
    "with_wishes",
]

Wish = Lock | Link
Decide = Callable[[Question], Answer]
"""Whether a question's pieces can be laid: a layout, or the proof that there is none, or neither."""


def wishes_of(question: Question, *, must: bool) -> tuple[Wish, ...]:
    """The wishes of one kind, locks before links, each in the question's order."""
    wishes: tuple[Wish, ...] = (*question.locks, *question.links)
    return tuple(wish for wish in wishes if wish.must == must)


def with_wishes(question: Question, wishes: Iterable[Wish]) -> Question:
    """The question with these wishes and no others."""
    wanted = tuple(wishes)
    return replace(
        question,
        locks=tuple(wish for wish in wanted if isinstance(wish, Lock)),
        links=tuple(wish for wish in wanted if isinstance(wish, Link)),
    )


def as_must(wish: Wish) -> Wish:
    """The same wish as a must."""
    return replace(wish, must=True)


def pieces_of(wish: Wish) -> tuple[str, ...]:
    """The pieces a wish speaks of.

    >>> pieces_of(Lock("front-1", (0.0, 0.0), (12.0, 5.0)))
    ('front-1',)
    """
    return (wish.piece,) if isinstance(wish, Lock) else wish.pieces


def fits(answer: Answer) -> bool:
    """True when the answer has a layout."""
    return answer.verdict in ("fits", "fits, tight")


def grounds_for(question: Question, piece_id: str) -> list[tuple[str, Ground]]:
    """Every ground the piece may come from, with the id of its cloth; none for a piece that is not asked for."""
    asked = next((piece for piece in question.pieces if piece.id == piece_id), None)
    return [] if asked is None else grounds_of(question, asked)


def grounds_of(question: Question, asked: PieceAsked) -> list[tuple[str, Ground]]:
    """Every ground the piece may come from, with the id of its cloth."""
    return [
        (cloth.id, ground)
        for cloth in question.cloths
        for ground in cloth.grounds
        if asked.may_come_from(cloth.id, ground)
    ]


def moved(question: Question, wish: Wish, by_mm: Point) -> Wish:
    """The wish, moved by a vector of the cloth: a lock's place, or all further pieces of a link against the first.

    A link's differences turn with its pieces, so a link moves by that much in the frame of the first piece.
    """
    if isinstance(wish, Link):
        x, y = by_mm
        return replace(wish, differences_mm=tuple((dx + x, dy + y) for dx, dy in wish.differences_mm))
    maps = [ground.print_to_cloth for _, ground in grounds_for(question, wish.piece)]
    to_cloth = next((to_cloth for to_cloth in maps if to_cloth is not None), None)
    if to_cloth is None:
        return wish
    x, y = to_cloth.inverse().vector(by_mm)
    return replace(wish, place_mm=(wish.place_mm[0] + x, wish.place_mm[1] + y))


def missed_mm(question: Question, wish: Wish, placed: Iterable[Placed]) -> float:
    """By how much at most a layout misses a wish, in mm on the cloth, as the judge measures it; 0 where it holds."""
    report = Judge(with_wishes(question, [as_must(wish)])).report(placed)
    return max((breach.amount_mm for breach in report.breaches if breach.rule in ("lock", "link")), default=0.0)
