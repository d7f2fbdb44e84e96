"""A second, plain search through all relative positions, for a no of a few pieces: whole numbers, one thing at a time.

Every piece takes each of its ways to lie in turn; then each two of a cloth are left, right, above or below of each
other (with a gap also corner to corner, in bands a little more generous than the rule), and clear of what is in the
way. Locks and links are tried at every place of the repeat. What all that asks of one axis are differences between two
edges; they are kept with all that follows from them, and a difference above the most there may be ends the way taken.

Left out, so that nothing is refused that can be done: slanted grounds count as the box around them, slanted flaws and
pieces of other outlines hardly at all, links across grounds, places of a print whose origin is unknown.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coverlayout.layout.question import Ground, PieceAsked, Question
from coverlayout.layout.rechecks.differences import Differences
from coverlayout.layout.rechecks.measures import (
    UNITS_A_MM,
    Bounds,
    Pose,
    fills_its_box,
    lattice_points,
    poses_on,
    rounded_bounds,
    turned,
    upright_deg,
)

__all__ = ["cannot_be_laid"]

# How loosely a place in the repeat is kept (units), and the same for two pieces that both keep it.
_LOCK_SLACK = 62
# Bands of corner to corner for two pieces alone, and for each two of more.
_MANY_BANDS, _FEW_BANDS = 16, 2

_Arc = tuple[int, int, int, int]  # axis, from, to, at least so much further
_Choice = list[list[_Arc]]  # one of these lists must hold


class _TooMuch(Exception):
    """More ways than may be looked at."""


def cannot_be_laid(question: Question, pieces: Sequence[PieceAsked], most_nodes: int = 100_000) -> bool:
    """True when every way to lay these pieces is refused; False when one is not, or when there are too many ways."""
    lean_deg = upright_deg(question)
    if lean_deg is None or any(piece.turns_deg is None for piece in pieces):
        return False
    try:
        return _Search(question, list(pieces), lean_deg, most_nodes).refuses_all()
    except _TooMuch:
        return False


@dataclass(frozen=True)
class _Block:
    """A box in the way; `gap`: pieces keep the gap from it; `seen`: only what is seen of a piece has to keep clear."""

    cloth: int
    box: Bounds
    gap: bool
    seen: bool


class _Search:
    def __init__(self, question: Question, pieces: list[PieceAsked], lean_deg: float, most_nodes: int) -> None:
        self._question, self._pieces, self._lean_deg, self._left = question, pieces, lean_deg, most_nodes
        self._gap = max(math.floor(question.gap_mm * UNITS_A_MM) - 12, 0)
        self._blocks = list(self._in_the_way())
        names = {piece.id: number for number, piece in enumerate(pieces)}
        self._locks = [(names[k.piece], k) for k in question.locks if k.must and k.piece in names]
        self._ties = [
            (names[link.pieces[0]], names[other], link.points_mm[0], point, difference)
            for link in question.links
            if link.must
            for other, point, difference in zip(link.pieces[1:], link.points_mm[1:], link.differences_mm, strict=True)
            if link.pieces[0] in names and other in names
        ]
        self._tied = {number for number, _ in self._locks} | {number for tie in self._ties for number in tie[:2]}
        self._poses = [self._poses_of(number) for number in range(len(pieces))]
        self._bands = list(_bands(_MANY_BANDS if len(pieces) == 2 else _FEW_BANDS))

    def _poses_of(self, number: int) -> list[Pose]:
        """The ways one piece may lie; of those of an untied piece that fill the same place, one."""
        poses = poses_on(self._question, self._pieces[number], self._lean_deg)
        if number in self._tied:
            return poses
        return list({(pose.cloth, pose.ground, *_from_corner(pose)): pose for pose in reversed(poses)}.values())

    def _in_the_way(self) -> Iterator[_Block]:
        for number, cloth in enumerate(self._question.cloths):
            for keep_out in cloth.keep_outs:
                for ring, holes in keep_out.region.parts():
                    own = turned(ring, -self._lean_deg)
                    if not holes and fills_its_box(own):
                        yield _Block(number, rounded_bounds(own, inward=True), keep_out.spoiled, keep_out.seen_only)
            for fixed, placed in cloth.fixed:
                (ax, ay), at_mm = fixed.anchor_mm, (placed.x_mm, placed.y_mm)
                outline = turned([(x - ax, y - ay) for x, y in fixed.outline_mm], placed.turn_deg)
                own = turned([(x + at_mm[0], y + at_mm[1]) for x, y in outline], -self._lean_deg)
                if fills_its_box(own):
                    yield _Block(number, rounded_bounds(own, inward=True), gap=True, seen=False)

    def refuses_all(self) -> bool:
        """Whether every choice of ways to lie is refused."""
        return all(self._refuses(poses) for poses in self._choices_of_poses())

    def _choices_of_poses(self) -> Iterator[tuple[Pose, ...]]:
        """A way to lie for every piece; of pieces alike, the ways in rising order."""
        same = [self._same_as_before(number) for number in range(len(self._pieces))]
        numbered = [list(enumerate(poses)) for poses in self._poses]
        for choice in itertools.product(*numbered):
            if all(before is None or choice[before][0] <= choice[number][0] for number, before in enumerate(same)):
                self._spend()
                yield tuple(pose for _, pose in choice)

    def _same_as_before(self, number: int) -> int | None:
        """The last earlier piece with which this one can change places."""
        if number in self._tied:
            return None
        alike = [n for n in range(number) if n not in self._tied and self._poses[n] == self._poses[number]]
        return alike[-1] if alike else None

    def _spend(self) -> None:
        self._left -= 1
        if self._left < 0:
            raise _TooMuch

    def _ground(self, pose: Pose) -> Ground:
        return self._question.cloths[pose.cloth].grounds[pose.ground]

    def _refuses(self, poses: tuple[Pose, ...]) -> bool:
        """Whether there is no layout with these ways to lie."""
        edges = [Differences(len(poses) + 1), Differences(len(poses) + 1)]
        for number, pose in enumerate(poses, start=1):
            if not self._on_ground(edges, number, pose):
                return True
        choices: list[_Choice] = []
        for first, second in itertools.combinations(range(len(poses)), 2):
            if poses[first].cloth == poses[second].cloth:
                choices.append(self._beside(poses, first, second))
                if self._same_as_before(second) == first and poses[first] == poses[second]:
                    edges[0].add(first + 1, second + 1, 0)
        for number, pose in enumerate(poses):
            choices += [self._clear(number, pose, block) for block in self._blocks if block.cloth == pose.cloth]
        repeats = self._repeats(poses, edges)
        return repeats is None or self._refuses_choices(edges, [*repeats, *choices])

    def _on_ground(self, edges: list[Differences], number: int, pose: Pose) -> bool:
        rings = [ring for ring, _ in self._ground(pose).usable.parts()]
        if not rings:
            return False
        room = rounded_bounds([p for ring in rings for p in turned(ring, -self._lean_deg)], inward=False)
        spans = (
            (room.left, room.right, pose.box.left, pose.box.right),
            (room.top, room.bottom, pose.box.top, pose.box.bottom),
        )
        return all(
            edges[axis].add(0, number, low - near) and edges[axis].add(number, 0, far - high)
            for axis, (low, high, near, far) in enumerate(spans)
        )

    def _beside(self, poses: tuple[Pose, ...], first: int, second: int) -> _Choice:
        """The second right, left, below or above of the first; with a gap in bands from corner to corner too."""
        one, two, gap = poses[first].box, poses[second].box, self._gap
        u, v = first + 1, second + 1
        right, left = one.right - two.left, two.right - one.left
        below, above = one.bottom - two.top, two.bottom - one.top
        ways: _Choice = [
            [(0, u, v, right + gap)],
            [(0, v, u, left + gap)],
            [(1, u, v, below + gap)],
            [(1, v, u, above + gap)],
        ]
        if gap > 0:
            across, along = ((u, v, right), (v, u, left)), ((u, v, below), (v, u, above))
            for (a, b, x), (c, d, y), (wide, high) in itertools.product(across, along, self._bands):
                ways.append([(0, a, b, x + math.floor(gap * wide)), (1, c, d, y + math.floor(gap * high))])
        return ways

    def _clear(self, number: int, pose: Pose, block: _Block) -> _Choice:
        own, gap = pose.seen if block.seen else pose.box, self._gap if block.gap else 0
        u, box = number + 1, block.box
        if gap > 0:
            # Corner to corner the distance is at least the longer of the two ways: seven tenths of the gap.
            gap = math.floor(gap * math.sqrt(0.5))
        return [
            [(0, 0, u, box.right + gap - own.left)],
            [(0, u, 0, own.right + gap - box.left)],
            [(1, 0, u, box.bottom + gap - own.top)],
            [(1, u, 0, own.bottom + gap - box.top)],
        ]

    def _repeats(self, poses: tuple[Pose, ...], edges: list[Differences]) -> list[_Choice] | None:
        """For every lock and link the places of the repeat it may take; None when one can take none."""
        choices: list[_Choice | None] = []
        for number, lock in self._locks:
            ground = self._ground(poses[number])
            if not ground.origin_known:
                continue
            if ground.lattice_mm is None or ground.print_to_cloth is None:
                return None
            dx, dy = turned([lock.point_mm], ground.up_deg + poses[number].turn_deg)[0]
            x, y = ground.print_to_cloth.at(lock.place_mm)
            choices.append(self._places(ground, (x - dx, y - dy), edges, (0, number + 1)))
        for first, second, point, other_point, difference in self._ties:
            one, two = self._ground(poses[first]), self._ground(poses[second])
            if not _same_turn(poses[first].turn_deg, poses[second].turn_deg):
                if not one.alike_deg:
                    return None
            elif one is two:
                if one.lattice_mm is None:
                    return None
                start = point[0] + difference[0] - other_point[0], point[1] + difference[1] - other_point[1]
                offset = turned([start], one.up_deg + poses[first].turn_deg)[0]
                choices.append(self._places(one, offset, edges, (first + 1, second + 1)))
        return [choice for choice in choices if choice is not None]

    def _places(
        self, ground: Ground, start: tuple[float, float], edges: list[Differences], ends: tuple[int, int]
    ) -> _Choice | None:
        """All differences between two origins that are the start and whole repeats; None for stripes."""
        lattice, (u, v) = ground.lattice_mm, ends
        assert lattice is not None, "asked on printed ground alone"
        if lattice.b_mm is None:
            return None
        a_mm, b_mm, from_mm = turned([lattice.a_mm, lattice.b_mm, start], -self._lean_deg)
        left, top = (edge.least(u, v) / UNITS_A_MM - 1.0 for edge in edges)
        right, bottom = (1.0 - edge.least(v, u) / UNITS_A_MM for edge in edges)
        ways: _Choice = []
        for point in lattice_points(a_mm, b_mm, from_mm, (left, top, right, bottom)):
            self._spend()
            at = [round(coordinate * UNITS_A_MM) for coordinate in point]
            ways.append([
                arc for axis in (0, 1)
                for arc in ((axis, u, v, at[axis] - _LOCK_SLACK), (axis, v, u, -at[axis] - _LOCK_SLACK))
            ])  # fmt: skip
        return ways

    def _refuses_choices(self, edges: list[Differences], choices: Sequence[_Choice]) -> bool:
        """Whether no way through the choices is left; the one with the fewest ways is taken first."""
        self._spend()
        open_still: list[_Choice] = []
        for choice in choices:
            ways = [way for way in choice if all(edges[axis].may(u, v, least) for axis, u, v, least in way)]
            if not ways:
                return True
            if not any(all(edges[axis].least(u, v) >= least for axis, u, v, least in way) for way in ways):
                open_still.append(ways)
        if not open_still:
            return False
        open_still.sort(key=len)
        for way in open_still[0]:
            further = [edge.copy() for edge in edges]
            held = all(further[axis].add(u, v, least) for axis, u, v, least in way)
            if held and not self._refuses_choices(further, open_still[1:]):
                return False
        return True


def _bands(count: int) -> Iterator[tuple[float, float]]:
    """Corner to corner, in shares of the gap: at least so much one way, and then at least so much the other."""
    for band in range(count):
        yield band / count, math.sqrt(1.0 - ((band + 1) / count) ** 2)


def _from_corner(pose: Pose) -> tuple[int, ...]:
    """The size of a pose and of what is seen of it, counted from its corner."""
    box, seen = pose.box, pose.seen
    measures = box.right, box.bottom, seen.left, seen.top, seen.right, seen.bottom
    return tuple(measure - (box.left, box.top)[at % 2] for at, measure in enumerate(measures))


def _same_turn(one_deg: float, other_deg: float) -> bool:
    return abs(math.remainder(one_deg - other_deg, 360.0)) < 1e-4
