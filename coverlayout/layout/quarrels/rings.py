"""The proof that wishes contradict each other around a ring: each two may agree, all of them together never.

Every wish says by how much one piece lies off another, whole repeats aside, or off the print itself. Followed from
piece to piece, a wish that closes a ring must come out where the others lead.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from coverlayout.geometry.frames import Point, turn, turns_apart_deg
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.answer import Proof
from coverlayout.layout.phase_rules import pairs_of
from coverlayout.layout.proofs.nowhere import LOCK_LOOSE_MM, must_locks, places_for
from coverlayout.layout.question import Ground, Lock, PieceAsked, Question, unseen

__all__ = ["never_agree_around"]

# The print itself among the pieces: what locks tie to.
_PRINT = ""


@dataclass(frozen=True)
class _Tie:
    """By how much `other` lies off `piece`, whole repeats aside."""

    piece: str
    other: str
    by_mm: Point

    def turned_round(self) -> _Tie:
        return _Tie(self.other, self.piece, (-self.by_mm[0], -self.by_mm[1]))


def never_agree_around(question: Question, look: Callable[[], None] = unseen) -> Proof | None:
    """Wishes that must hold and contradict each other around a ring of pieces, all named; None when they may agree.

    Looked at are pieces tied by links that may only come from one ground, with their locks; free turns, and prints
    whose turned copies look alike, are left alone. `look` is called now and then and may raise to end it.
    """
    pieces = {piece.id: piece for piece in question.pieces}
    locks = must_locks(question)
    for names in _tied_together(question, pieces):
        look()
        ground = _only_ground(question, [pieces[name] for name in names])
        turns = _turns_of_all([pieces[name] for name in names])
        if ground is None or ground.lattice_mm is None or ground.alike_deg or not turns:
            continue
        rings = [_worst_ring(ground, list(_ties(question, set(names), locks, ground, deg))) for deg in turns]
        if all(ring is not None for ring in rings):
            return _proof(min((ring for ring in rings if ring is not None), key=lambda ring: ring[0]))
    return None


def _tied_together(question: Question, pieces: dict[str, PieceAsked]) -> list[list[str]]:
    """The pieces that links tie to each other, group by group, in the order they are asked for."""
    beside: dict[str, list[str]] = {}
    for link in question.links:
        own = [name for name in link.pieces if name in pieces]
        for name in own[1:] if link.must else ():
            beside.setdefault(own[0], []).append(name)
            beside.setdefault(name, []).append(own[0])
    groups: list[list[str]] = []
    seen: set[str] = set()
    for first in beside:
        if first in seen:
            continue
        group, waiting = [], [first]
        seen.add(first)
        while waiting:
            group.append(waiting.pop())
            further = [name for name in beside[group[-1]] if name not in seen]
            seen.update(further)
            waiting += further
        groups.append(group)
    return groups


def _only_ground(question: Question, pieces: Sequence[PieceAsked]) -> Ground | None:
    """The one ground that all of them may come from, None when there are more or none."""
    found: Ground | None = None
    # Pieces alike in what they may come from are looked at once.
    for piece in {(p.print_id, p.cloth_ids, p.ground_ids): p for p in pieces}.values():
        places = places_for(question, piece)
        if len(places) != 1 or (found is not None and places[0][1] is not found):
            return None
        found = places[0][1]
    return found


def _turns_of_all(pieces: Sequence[PieceAsked]) -> list[float]:
    """The turns that all of them allow; none where one may lie at any angle."""
    turns = list(pieces[0].turns_deg or ())
    for own in {piece.turns_deg for piece in pieces}:
        turns = [deg for deg in turns if any(turns_apart_deg(deg, each) <= SAME_TURN_DEG for each in own or ())]
    return turns


def _ties(
    question: Question, names: set[str], locks: dict[str, tuple[Lock, ...]], ground: Ground, turn_deg: float
) -> Iterator[_Tie]:
    """All that ties these pieces to each other, and to the print by their locks, in one turn."""
    to_cloth = turn(ground.up_deg + turn_deg)
    for pair in (pair for link in question.links if link.must for pair in pairs_of(link)):
        if names.issuperset(pair.pieces):
            (ax, ay), (bx, by), (dx, dy) = *pair.points_mm, pair.difference_mm
            yield _Tie(*pair.pieces, to_cloth.vector((ax + dx - bx, ay + dy - by)))
    print_to_cloth = ground.print_to_cloth
    for name in sorted(names) if print_to_cloth is not None else ():
        for lock in locks.get(name, ()):
            # Where the print is not known to lie, all locks are off by the same, which rings do not hang on.
            assert print_to_cloth is not None, "asked above"
            (x, y), (dx, dy) = print_to_cloth.at(lock.place_mm), to_cloth.vector(lock.point_mm)
            yield _Tie(_PRINT, name, (x - dx, y - dy))


def _worst_ring(ground: Ground, ties: list[_Tie]) -> tuple[float, tuple[_Tie, ...]] | None:
    """The shortest ring that does not close: how far (mm) it comes out off, and its wishes; None when all may agree."""
    assert ground.lattice_mm is not None, "a ring is looked at on printed ground alone"
    worst: tuple[float, tuple[_Tie, ...]] | None = None
    paths = _Paths(ties)
    for tie in ties:
        (x, y), (u, v), (dx, dy) = paths.at_mm[tie.piece], paths.at_mm[tie.other], tie.by_mm
        off_mm = ground.lattice_mm.off_mm((x + dx - u, y + dy - v))
        if off_mm <= LOCK_LOOSE_MM:
            continue
        ring = paths.ring(tie)
        if off_mm > len(ring) * LOCK_LOOSE_MM and (worst is None or len(ring) < len(worst[1])):
            worst = off_mm, ring
    return worst


class _Paths:
    """The fewest wishes that lead to every piece from one it is tied to, and where they put it, whole repeats aside."""

    def __init__(self, ties: list[_Tie]) -> None:
        self.at_mm: dict[str, Point] = {}
        self._last: dict[str, _Tie | None] = {}
        beside: dict[str, list[_Tie]] = {}
        for tie in ties:
            for one in (tie, tie.turned_round()):
                beside.setdefault(one.piece, []).append(one)
        for start in beside:
            if start not in self.at_mm:
                self._follow(start, beside)

    def _follow(self, start: str, beside: dict[str, list[_Tie]]) -> None:
        self.at_mm[start], self._last[start] = (0.0, 0.0), None
        waiting = deque([start])
        while waiting:
            name = waiting.popleft()
            x, y = self.at_mm[name]
            for tie in beside[name]:
                if tie.other not in self.at_mm:
                    self.at_mm[tie.other], self._last[tie.other] = (x + tie.by_mm[0], y + tie.by_mm[1]), tie
                    waiting.append(tie.other)

    def ring(self, tie: _Tie) -> tuple[_Tie, ...]:
        """The wishes around: this one, and from its ends back to where their ways part."""
        out, back = self._way(tie.piece), self._way(tie.other)
        common = 0
        while common < min(len(out), len(back)) and out[common] is back[common]:
            common += 1
        return (*out[common:], tie, *(one.turned_round() for one in reversed(back[common:])))

    def _way(self, name: str) -> list[_Tie]:
        way: list[_Tie] = []
        while (tie := self._last[name]) is not None:
            way.append(tie)
            name = tie.piece
        return way[::-1]


def _proof(worst: tuple[float, tuple[_Tie, ...]]) -> Proof:
    off_mm, ring = worst
    # From the print, where it is one of the ring, so that the names come in the order of the wishes.
    start = next((number for number, one in enumerate(ring) if one.piece == _PRINT), 0)
    ring = (*ring[start:], *ring[:start])
    names = dict.fromkeys(name for one in ring for name in (one.piece, one.other) if name != _PRINT)
    held = [one.other if one.piece == _PRINT else one.piece for one in ring if _PRINT in (one.piece, one.other)]
    pairs = [sorted((one.piece, one.other)) for one in ring if _PRINT not in (one.piece, one.other)]
    figures: list[tuple[str, float | str]] = [("pieces", ", ".join(names))]
    figures += [("wish", "chain between locks" if held else "ring of links")]
    figures += [("tied", ", ".join(f"{one} and {other}" for one, other in pairs))]
    figures += [("locked", " and ".join(sorted(held)))] if held else []
    return Proof("fits nowhere", (*figures, ("apart_mm", off_mm)))
