"""Places in the repeat that a piece's anchor may come to lie at: where a wish asks, or where another piece has it."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point, turn, turns_apart_deg
from coverlayout.geometry.tolerance import SAME_TURN_DEG, SNAP_MM
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.guiding.guide import GuideKind, said
from coverlayout.layout.phase_rules import Pair
from coverlayout.layout.placing import ClothReady, GroundReady
from coverlayout.layout.question import Lock
from coverlayout.motif.lattice import Lattice

__all__ = ["Ground", "Place", "Places", "ground_under", "same_as_others", "wished"]

# All places together catch on no more than this share of the print, so that there is always room between them.
_CATCHING_SHARE = 0.25
# Corners of a cell of the lattice, in steps along its vectors: the nearest lattice point is one of them.
_CORNERS = ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0))


class Place(NamedTuple):
    """Where an anchor may lie, whole repeats aside, in the cloth frame; `beside_mm` is the anchor it goes by."""

    at_mm: Point
    kind: GuideKind
    says: Remark
    beside_mm: Point | None = None


class Ground(NamedTuple):
    """A printed ground and its lattice, in the cloth frame."""

    ready: GroundReady
    lattice_mm: Lattice


class Places:
    """Places in one lattice, made ready once; those at the same place count once, the first of them."""

    def __init__(self, lattice: Lattice, places: Iterable[Place], *, sparing: bool) -> None:
        """`sparing`: the more places there are, the nearer one must come, so that they leave room between them."""
        self._lattice = lattice.reduced()
        distinct: dict[Point, Place] = {}
        for place in places:
            distinct.setdefault(self._key(place.at_mm), place)
        self.places = tuple(distinct.values())
        self.most_mm = self._most_mm() if sparing else math.inf
        steps = (self._lattice.coordinates(place.at_mm) for place in self.places)
        shares = [(across % 1.0, along, number) for number, (across, along) in enumerate(steps)]
        self._steps = sorted(shares)
        self._across = [across for across, _, _ in self._steps]
        # So many steps across are the most that a millimetre can make.
        a_mm, b_mm = self._lattice.a_mm, self._lattice.b_mm
        self._steps_per_mm = math.hypot(*b_mm) / self._lattice.cell_area_mm2 if b_mm else 1.0 / math.hypot(*a_mm)

    @property
    def one_way(self) -> bool:
        """True for plain stripes: only the way across them counts."""
        return self._lattice.b_mm is None

    @property
    def step_mm(self) -> Point:
        """The first repeat vector: of plain stripes the way across them."""
        return self._lattice.a_mm

    def _key(self, at_mm: Point) -> Point:
        across, along = self._lattice.coordinates(at_mm)
        return round((across - math.floor(across)) * 1e6) % 10**6, round((along - math.floor(along)) * 1e6) % 10**6

    def _most_mm(self) -> float:
        """The circle (or strip) about every place that all together take up the share of the print that may catch."""
        if not self.places:
            return 0.0
        if self.one_way:
            return math.hypot(*self._lattice.a_mm) * _CATCHING_SHARE / (2 * len(self.places))
        return math.sqrt(self._lattice.cell_area_mm2 * _CATCHING_SHARE / (math.pi * len(self.places)))

    def nearest(self, at_mm: Point, reach_mm: float) -> tuple[Point, Place] | None:
        """How far to go to the nearest place within reach, and which it is; None when none is.

        >>> half_drop = Lattice((60.0, 40.0), (0.0, 80.0))
        >>> places = Places(half_drop, [Place((10.0, 5.0), "repeat", said("repeat", ("Back",)))], sparing=False)
        >>> across_mm, along_mm = places.nearest((71.0, 44.0), 3.0)[0]
        >>> round(across_mm, 9), round(along_mm, 9)
        (-1.0, 1.0)
        """
        best: tuple[Point, Place] | None = None
        bound_mm = min(reach_mm, self.most_mm) + SNAP_MM
        across, along = self._lattice.coordinates(at_mm)
        for other_across, other_along, number in self._near(across % 1.0, bound_mm * self._steps_per_mm):
            by_mm = self._way(other_across - across, other_along - along)
            if math.hypot(*by_mm) <= bound_mm:
                best, bound_mm = (by_mm, self.places[number]), math.hypot(*by_mm)
        return best

    def _near(self, across: float, reach: float) -> Iterator[tuple[float, float, int]]:
        """The places within so many steps across, whole steps aside."""
        if reach >= 0.5:
            yield from self._steps
            return
        for whole in (-1.0, 0.0, 1.0):
            first = bisect_left(self._across, across + whole - reach)
            yield from self._steps[first : bisect_right(self._across, across + whole + reach)]

    def _way(self, across: float, along: float) -> Point:
        """The shortest way that is these steps long, whole repeats aside."""
        if self.one_way:
            return self._lattice.point(across - round(across), 0.0)
        across, along = across % 1.0, along % 1.0
        return min((self._lattice.point(across - i, along - k) for i, k in _CORNERS), key=lambda way: math.hypot(*way))


def ground_under(cloth: ClothReady, at_mm: Point) -> Ground | None:
    """The printed ground under a point of the cloth frame: the only one there is, else the one that holds the point."""
    if len(cloth.grounds) == 1:
        under: GroundReady | None = cloth.grounds[0]
    else:
        under = next((each for each in cloth.grounds if each.ground.usable.contains(at_mm)), None)
    if under is None or under.ground.lattice_mm is None:
        return None
    return Ground(under, under.ground.lattice_mm)


def same_as_others(ground: Ground, moving: Body, others: Sequence[tuple[Body, Ground]]) -> list[Place]:
    """Where the others have their anchors in the repeat, of those that lie on this print and turned alike."""
    places = []
    for other, under in others:
        at_mm = _seen_on(ground, under, other.at_mm)
        if at_mm is not None and _turned_alike(ground, moving, under, other):
            beside_mm = other.at_mm if under.ready is ground.ready else None
            places.append(Place(at_mm, "repeat", said("repeat", (other.name,)), beside_mm))
    return places


def wished(
    ground: Ground, moving: Body, locks: Iterable[Lock], pairs: Iterable[Pair], others: Sequence[tuple[Body, Ground]]
) -> list[Place]:
    """Where the wishes put the anchor: locks to a place in the repeat, and pieces that share one or run on."""
    piece, to_cloth = moving.placed.piece, ground.ready.ground.print_to_cloth
    places = []
    for lock in locks:
        if lock.piece == piece and to_cloth is not None and ground.ready.ground.origin_known:
            places.append(Place(_anchor_for(moving, lock.point_mm, to_cloth.at(lock.place_mm)), "wish", said("wish")))
    by_id = {other.placed.piece: (other, under) for other, under in others}
    for pair in pairs:
        if piece in pair.pieces and (found := by_id.get(pair.pieces[0 if pair.pieces[1] == piece else 1])) is not None:
            places += _running_on(ground, moving, pair, *found)
    return places


def _running_on(ground: Ground, moving: Body, pair: Pair, other: Body, under: Ground) -> list[Place]:
    """The place of a piece that is linked with one that lies already; none where they cannot go together."""
    second = pair.pieces[1] == moving.placed.piece
    own_mm, their_mm = (pair.points_mm[1], pair.points_mm[0]) if second else pair.points_mm
    x, y = other.to_cloth.at(their_mm)
    sign = 1.0 if second else -1.0
    dx, dy = turn(other.placed.turn_deg).vector(pair.difference_mm)
    at_mm = _seen_on(ground, under, (x + sign * dx, y + sign * dy))
    if at_mm is None or not _turned_alike(ground, moving, under, other):
        return []
    kind: GuideKind = "repeat" if pair.difference_mm == (0.0, 0.0) else "runs-on"
    return [Place(_anchor_for(moving, own_mm, at_mm), kind, said(kind, (other.name,)))]


def _anchor_for(moving: Body, point_mm: Point, at_mm: Point) -> Point:
    """Where the anchor lies when a point of the piece lies there."""
    dx, dy = turn(moving.placed.turn_deg).vector((point_mm[0] - moving.anchor_mm[0], point_mm[1] - moving.anchor_mm[1]))
    return at_mm[0] - dx, at_mm[1] - dy


def _seen_on(ground: Ground, under: Ground, at_mm: Point) -> Point | None:
    """A point of one ground where it has its place in the print on another; None where that cannot be known."""
    if under.ready is ground.ready:
        return at_mm
    here, there = ground.ready.ground, under.ready.ground
    known = here.print_id == there.print_id and here.origin_known and there.origin_known
    if not known or here.print_to_cloth is None or under.ready.cloth_to_print is None:
        return None
    return here.print_to_cloth.at(under.ready.cloth_to_print.at(at_mm))


def _turned_alike(ground: Ground, moving: Body, under: Ground, other: Body) -> bool:
    own_deg = moving.placed.turn_deg - ground.ready.ground.up_deg
    return turns_apart_deg(own_deg, other.placed.turn_deg - under.ready.ground.up_deg) <= SAME_TURN_DEG
