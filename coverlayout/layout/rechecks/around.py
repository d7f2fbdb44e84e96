"""A second look at wishes that contradict each other around a ring, in whole thousandths of a millimetre."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from coverlayout.layout.question import Ground, PieceAsked, Question
from coverlayout.layout.rechecks.measures import UNITS_A_MM, homes, turned

__all__ = ["never_close"]

# A wish may be off by 0.05 mm, a no bears 0.01 more, and rounding takes one unit.
_BEARABLE = 61
# More ways around are not looked at.
_MOST_WAYS = 1_000

Units = tuple[int, int]


def never_close(question: Question, pieces: Sequence[PieceAsked], *, locked: bool) -> bool:
    """True when the wishes from each piece to the next, and back to the first, come out off in every common turn.

    `locked`: the first and the last are not tied to each other but each to the print. False where they may come from
    more than one ground, where there is none, or where turned copies look alike: nothing is said then.
    """
    grounds = {(n, w): ground for piece in pieces for n, w, _, ground in homes(question, piece)}
    turns = [set(piece.turns_deg or ()) for piece in pieces]
    ground = next(iter(grounds.values()), None)
    if len(pieces) < 2 or len(grounds) != 1 or ground is None or ground.lattice_mm is None or ground.alike_deg:
        return False
    common = set.intersection(*turns)
    return bool(common) and all(_is_off(question, pieces, ground, deg, locked=locked) for deg in common)


def _is_off(question: Question, pieces: Sequence[PieceAsked], ground: Ground, deg: float, *, locked: bool) -> bool:
    names = [piece.id for piece in pieces]
    turn_deg = ground.up_deg + deg
    steps = [list(_by(question, one, other, turn_deg)) for one, other in itertools.pairwise(names)]
    if locked:
        steps.append([(a - c, b - d) for a, b in _held(question, names[0], ground, turn_deg)
                      for c, d in _held(question, names[-1], ground, turn_deg)])  # fmt: skip
    else:
        steps.append(list(_by(question, names[-1], names[0], turn_deg)))
    if not 0 < math.prod(map(len, steps)) <= _MOST_WAYS:
        return False
    bearable = _BEARABLE * (len(steps) + int(locked))
    ways = itertools.product(*steps)
    return any(_off(ground, (sum(x for x, _ in way), sum(y for _, y in way))) > bearable for way in ways)


def _by(question: Question, one: str, other: str, turn_deg: float) -> Iterator[Units]:
    """By how much the second's origin lies off the first's, as each link that ties them says."""
    for link in (link for link in question.links if link.must and link.pieces and link.pieces[0] in (one, other)):
        further = zip(link.pieces[1:], link.points_mm[1:], link.differences_mm, strict=True)
        for piece, (bx, by), (dx, dy) in further:
            if {link.pieces[0], piece} == {one, other}:
                (ax, ay), way = link.points_mm[0], 1 if link.pieces[0] == one else -1
                yield _units(turned([(way * (ax + dx - bx), way * (ay + dy - by))], turn_deg)[0])


def _held(question: Question, name: str, ground: Ground, turn_deg: float) -> Iterator[Units]:
    """Where each lock puts the piece's origin, whole repeats aside."""
    for lock in question.locks:
        if lock.must and lock.piece == name and ground.print_to_cloth is not None:
            (x, y), (dx, dy) = ground.print_to_cloth.at(lock.place_mm), turned([lock.point_mm], turn_deg)[0]
            yield _units((x - dx, y - dy))


def _units(at_mm: tuple[float, float]) -> Units:
    return round(at_mm[0] * UNITS_A_MM), round(at_mm[1] * UNITS_A_MM)


def _off(ground: Ground, by: Units) -> float:
    """How far from every whole repeat, by trying all repeats around; stripes count across themselves alone."""
    assert ground.lattice_mm is not None, "asked on printed ground alone"
    short = ground.lattice_mm.reduced()
    ax, ay = (v * UNITS_A_MM for v in short.a_mm)
    if short.b_mm is None:
        across = (by[0] * ax + by[1] * ay) / math.hypot(ax, ay)
        return abs(math.remainder(across, math.hypot(ax, ay)))
    bx, by_ = (v * UNITS_A_MM for v in short.b_mm)
    det = ax * by_ - ay * bx
    i, k = round((by[0] * by_ - by[1] * bx) / det), round((ax * by[1] - ay * by[0]) / det)
    near = itertools.product(range(i - 2, i + 3), range(k - 2, k + 3))
    return min(math.hypot(by[0] - m * ax - n * bx, by[1] - m * ay - n * by_) for m, n in near)
