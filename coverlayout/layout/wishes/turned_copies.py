"""Linked pieces as turned copies, where the print turned about a place of its own looks the same.

A copy turned by a half lies where the two places together make a whole number of repeats: no difference of places,
which is all a search knows. So the place of the first piece is searched: in patches of places, whose middle is tried
with all pieces locked there. A patch is refused when nothing fits even with the first piece and its copies anywhere in
it, whether they match or not.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace

from coverlayout.geometry.frames import Affine, Point, shift, turn, turns_apart_deg
from coverlayout.geometry.tolerance import SAME_TURN_DEG
from coverlayout.layout.answer import Answer
from coverlayout.layout.falling.patches import Patch, Window, every_place
from coverlayout.layout.falling.somewhere import Floating, floating
from coverlayout.layout.question import Ground, Link, Lock, Question
from coverlayout.layout.verdicts import answer_of
from coverlayout.layout.wishes.wish import Decide, fits, grounds_for

__all__ = ["turned_copies_possible", "with_turned_copies"]

# Questions asked at most about the turned copies of one job, and the smallest share of places asked about.
_DECISIONS = 300
_SMALLEST_SHARE = 1 / 4096
_ORIGIN, _COPIES = " ", "  "


Turns = tuple[float, ...] | None


@dataclass(frozen=True)
class _Way:
    """A link with the turn of each of its pieces, counted from up, on the one ground where they may lie."""

    link: Link
    ground: Ground
    turns_deg: tuple[float, ...]


def turned_copies_possible(question: Question) -> bool:
    """True when a linked piece may be a turned copy, so that a search of equal turns alone proves no no."""
    return any(link.must and _may_differ(question, link) for link in question.links)


def with_turned_copies(question: Question, decide: Decide) -> Answer:
    """What `decide` says of the question when linked pieces may be turned copies of each other.

    `decide` itself is only asked for equal turns and for locks. A layout is one that the judge passes for the question
    itself. Where no layout is found the answer is a no only if the pieces do not fit without such links, or if every
    way is refused; with more than one link that allows copies, or links over several grounds, it stays open. A question
    without such links is simply decided.
    """
    plain = decide(question)
    if not any(ground.alike_deg for cloth in question.cloths for ground in cloth.grounds):
        return plain
    possible = [link for link in question.links if link.must and _may_differ(question, link)]
    if fits(plain) or not possible:
        return plain
    without = decide(replace(question, links=tuple(link for link in question.links if link not in possible)))
    if without.verdict == "does not fit":
        return without
    refused, left = plain.verdict == "does not fit" and len(possible) == 1, _DECISIONS
    for link in possible:
        ways = list(_ways(question, link))
        refused = refused and bool(ways)
        for way in ways:
            search = _Search(question, way, decide, left)
            answer = search.run()
            if answer is not None:
                return answer
            refused, left = refused and search.refused, search.left
    if refused:
        return plain
    return answer_of(question, shown=None, spare_mm=None, spare_proved=False, proof=None, cut_short=plain.cut_short)


def _may_differ(question: Question, link: Link) -> bool:
    """True when the judge would let one of the pieces be turned apart from the first, on whatever ground they lie."""
    turns = {piece.id: piece.turns_deg for piece in question.pieces}
    first = link.pieces[0] if link.pieces else ""
    return any(
        _copies(ground, other_ground, turns.get(first), turns.get(other))
        for other in link.pieces[1:]
        for _, ground in grounds_for(question, first)
        for _, other_ground in grounds_for(question, other)
    )


def _copies(ground: Ground, other: Ground, turns: Turns, other_turns: Turns) -> bool:
    """True for two grounds of one print that looks the same turned as two pieces may be; None stands for any turn."""
    if not (ground.origin_known and other.origin_known and ground.print_id == other.print_id):
        return False
    for alike_deg in ground.alike_deg:
        shown = all(_shows(one, alike_deg) for one in (ground, other))
        if shown and (turns is None or other_turns is None):
            return True
        if shown and any(
            turns_apart_deg(other_deg - deg, alike_deg) <= SAME_TURN_DEG
            for deg in turns or ()
            for other_deg in other_turns or ()
        ):
            return True
    return False


def _shows(ground: Ground, turn_deg: float) -> bool:
    """True where the repeats of a ground come to lie on themselves by a turn."""
    lattice = ground.lattice_mm
    return lattice is not None and ground.print_to_cloth is not None and lattice.same_as(lattice.mapped(turn(turn_deg)))


def _ways(question: Question, link: Link) -> Iterator[_Way]:
    """Every choice of turns of a link's pieces of which not all are the same, on the one ground they may lie on."""
    grounds = [grounds_for(question, piece) for piece in link.pieces]
    if not all(len(found) == 1 and found == grounds[0] for found in grounds):
        return
    ground = grounds[0][0][1]
    if not ground.origin_known:
        return
    turns = {piece.id: piece.turns_deg or () for piece in question.pieces}
    alike = [deg for deg in ground.alike_deg if _shows(ground, deg)]
    for choice in itertools.product(*(turns[piece] for piece in link.pieces)):
        apart = [turn_deg - choice[0] for turn_deg in choice]
        differ = [deg for deg in apart if turns_apart_deg(deg, 0.0) > SAME_TURN_DEG]
        if differ and all(any(turns_apart_deg(deg, own) <= SAME_TURN_DEG for own in alike) for deg in differ):
            yield _Way(link, ground, choice)


class _Search:
    """The search for one way to turn a link's pieces."""

    def __init__(self, question: Question, way: _Way, decide: Decide, decisions: int) -> None:
        turns = dict(zip(way.link.pieces, way.turns_deg, strict=True))
        pieces = tuple(
            replace(piece, turns_deg=(turns[piece.id],)) if piece.id in turns else piece for piece in question.pieces
        )
        links = tuple(link for link in question.links if link is not way.link)
        self._question = replace(question, pieces=pieces, links=links)
        self._way, self._decide, self.left = way, decide, decisions
        self.refused = True
        assert way.ground.print_to_cloth is not None, "no way without a print"
        self._to_cloth: Affine = way.ground.print_to_cloth

    def run(self) -> Answer | None:
        """A layout, or None; `refused` tells whether that is proved."""
        assert self._way.ground.lattice_mm is not None, "no way without a repeat"
        whole = every_place(self._way.ground.lattice_mm)
        patches = [(-whole.share, whole.corner_mm, whole)]
        while patches:
            patch = heapq.heappop(patches)[-1]
            if self.left <= 0 or patch.share < _SMALLEST_SHARE:
                self.refused = False
                return None
            answer = self._ask(self._locked(patch.middle_mm))
            if fits(answer):
                return answer
            loose = self._loose(patch) if patch.upright else None
            answer = answer if loose is None else self._ask(loose)
            if loose is not None and answer.verdict == "does not fit":
                continue
            if loose is not None and fits(answer):
                found = next((one.x_mm, one.y_mm) for one in answer.placed if one.piece == _ORIGIN)
                there = self._ask(self._locked(found))
                if fits(there):
                    return there
            for half in patch.halves():
                heapq.heappush(patches, (-half.share, half.corner_mm, half))
        return None

    def _ask(self, question: Question) -> Answer:
        self.left -= 1
        return self._decide(question)

    def _locks(self, shift_mm: Point) -> tuple[Lock, ...]:
        """Every piece of the link locked, the first to a place given as a shift of the print's origin."""
        way, back = self._way, self._to_cloth.inverse()
        first = turn(way.ground.up_deg + way.turns_deg[0])
        x, y = way.ground.alike_about_mm
        place = back.vector(shift_mm)
        steps = ((0.0, 0.0), *way.link.differences_mm)
        locks: list[Lock] = []
        for piece, point_mm, step, turn_deg in zip(
            way.link.pieces, way.link.points_mm, steps, way.turns_deg, strict=True
        ):
            dx, dy = back.vector(first.vector(step))
            turning = turn(turn_deg - way.turns_deg[0])
            about = shift(-x, -y).then(turning).then(shift(x, y))
            locks.append(Lock(piece, point_mm, about.at((place[0] + dx, place[1] + dy))))
        return tuple(locks)

    def _locked(self, shift_mm: Point) -> Question:
        return replace(self._question, locks=(*self._question.locks, *self._locks(shift_mm)))

    def _loose(self, patch: Patch) -> Question:
        """With the pieces anywhere in the patch: those turned like the first together, all others each on its own."""
        (across, along), (x, y) = patch.reach_mm, patch.middle_mm
        question = self._locked((0.0, 0.0))
        locks = question.locks[len(self._question.locks) :]
        same = tuple(lock for lock, deg in self._turned(locks) if turns_apart_deg(deg, 0.0) <= SAME_TURN_DEG)
        window = patch.window
        question = floating(question, self._way.ground, same, Floating(window, self._way.turns_deg[0], _ORIGIN))
        for number, (lock, deg) in enumerate(self._turned(locks)):
            if lock in same:
                continue
            # The shift of a copy is the first's, turned in the print.
            by = self._to_cloth.inverse().then(turn(deg)).then(self._to_cloth)
            reach = abs(by.xx) * across + abs(by.xy) * along, abs(by.yx) * across + abs(by.yy) * along
            how = Floating(Window.around(by.vector((x, y)), reach), self._way.turns_deg[number], _COPIES + " " * number)
            question = floating(question, self._way.ground, (lock,), how)
        return question

    def _turned(self, locks: tuple[Lock, ...]) -> list[tuple[Lock, float]]:
        first = self._way.turns_deg[0]
        return [(lock, deg - first) for lock, deg in zip(locks, self._way.turns_deg, strict=True)]
