"""The rules about the place in the repeat: a point locked to it, and pieces that share a phase or run on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coverlayout.geometry.frames import Point, shift, turn, turns_apart_deg
from coverlayout.geometry.tolerance import LOCK_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Breach, Rule
from coverlayout.layout.placing import GroundReady, Laid
from coverlayout.layout.question import Ground, Link, Lock

__all__ = ["Pair", "link_breach", "lock_breach", "pairs_of"]


@dataclass(frozen=True)
class Pair:
    """Two pieces of a link: the second's point differs from the first's by `difference_mm`, turned with the pieces."""

    pieces: tuple[str, str]
    points_mm: tuple[Point, Point]
    difference_mm: Point


def pairs_of(link: Link) -> Iterator[Pair]:
    """The first piece of a link with each further one; a link of fewer than two pieces has no pair."""
    further = zip(link.pieces[1:], link.points_mm[1:], link.differences_mm, strict=True)
    for piece, point_mm, difference_mm in further:
        yield Pair((link.pieces[0], piece), (link.points_mm[0], point_mm), difference_mm)


def lock_breach(lock: Lock, laid: Laid) -> Breach | None:
    """How far the locked point is off its place in the repeat, in mm on the cloth; None within LOCK_MM."""
    ground = laid.nearest_ground
    off_mm = None if ground is None else _off_place_mm(ground, laid.at(lock.point_mm), lock.place_mm)
    if off_mm is None:
        off_mm = _most_off_mm(ground)
    elif off_mm <= LOCK_MM:
        return None
    return _breach("lock", (laid,), off_mm)


def _off_place_mm(ground: GroundReady, point_mm: Point, place_mm: Point) -> float | None:
    """Distance of a cloth point from the nearest repeat of a place of the print; None when that cannot be known."""
    asked = ground.ground
    if asked.lattice_mm is None or asked.print_to_cloth is None or not asked.origin_known:
        return None
    x, y = asked.print_to_cloth.at(place_mm)
    return asked.lattice_mm.off_mm((point_mm[0] - x, point_mm[1] - y))


def _most_off_mm(ground: GroundReady | None) -> float:
    """The most a point can be off a place in the repeat; 0 where there is no print."""
    lattice = None if ground is None else ground.ground.lattice_mm
    return 0.0 if lattice is None else lattice.farthest_off_mm


def link_breach(pair: Pair, first: Laid, other: Laid) -> Breach | None:
    """How far two linked pieces are out of phase, in mm on the cloth of the second; None within LOCK_MM.

    Pieces turned differently (each counted from its print's up) break the rule `turn`, in degrees, unless the print
    turned like that looks the same (`Ground.alike_deg`) and is known to lie where it does.
    """
    ground, other_ground = first.nearest_ground, other.nearest_ground
    if ground is None or other_ground is None:
        return _breach("link", (first, other), 0.0)
    ups_deg = ground.ground.up_deg - other_ground.ground.up_deg
    turned_deg = other.placed.turn_deg + ups_deg - first.placed.turn_deg
    if turns_apart_deg(turned_deg, 0.0) <= SAME_TURN_DEG:
        off_mm = _out_of_phase_mm(pair, first, other, ground, other_ground)
    elif _looks_alike(turned_deg, ground.ground, other_ground.ground):
        off_mm = _off_in_print_mm(pair, first, other, ground, other_ground, turned_deg=turned_deg)
    else:
        return _breach("turn", (first, other), turns_apart_deg(turned_deg, 0.0))
    if off_mm is None:
        return _breach("link", (first, other), _most_off_mm(other_ground))
    return _breach("link", (first, other), off_mm) if off_mm > LOCK_MM else None


def _looks_alike(turned_deg: float, ground: Ground, other_ground: Ground) -> bool:
    """True where the one print of both grounds comes to lie on itself by that turn, as far as its cloths show it."""
    listed = any(turns_apart_deg(turned_deg, deg) <= SAME_TURN_DEG for deg in ground.alike_deg)
    lattices = ground.lattice_mm, other_ground.lattice_mm
    turning = turn(turned_deg)
    return (
        listed
        and ground.print_id == other_ground.print_id
        and all(lattice is not None and lattice.same_as(lattice.mapped(turning)) for lattice in lattices)
    )


def _out_of_phase_mm(
    pair: Pair, first: Laid, other: Laid, ground: GroundReady, other_ground: GroundReady
) -> float | None:
    """On one ground only differences count; on two of one print, the places in the print do. None: not to be known."""
    if ground is not other_ground:
        return _off_in_print_mm(pair, first, other, ground, other_ground, turned_deg=0.0)
    lattice = ground.ground.lattice_mm
    wanted, found = _run_on(pair, first), other.at(pair.points_mm[1])
    return None if lattice is None else lattice.off_mm((found[0] - wanted[0], found[1] - wanted[1]))


def _run_on(pair: Pair, first: Laid) -> Point:
    """Where the print of the first piece has what the second is to show, in the cloth frame of the first."""
    x, y = first.at(pair.points_mm[0])
    dx, dy = turn(first.placed.turn_deg).vector(pair.difference_mm)
    return x + dx, y + dy


def _off_in_print_mm(
    pair: Pair, first: Laid, other: Laid, ground: GroundReady, other_ground: GroundReady, *, turned_deg: float
) -> float | None:
    """How far the second is off the place in the print, turned about what the print looks the same around."""
    same_print = ground.ground.print_id == other_ground.ground.print_id
    if not same_print or ground.cloth_to_print is None or not ground.ground.origin_known:
        return None
    place = ground.cloth_to_print.at(_run_on(pair, first))
    if turns_apart_deg(turned_deg, 0.0) > SAME_TURN_DEG:
        x, y = ground.ground.alike_about_mm
        place = shift(-x, -y).then(turn(turned_deg)).then(shift(x, y)).at(place)
    return _off_place_mm(other_ground, other.at(pair.points_mm[1]), place)


def _breach(rule: Rule, laid: tuple[Laid, ...], amount_mm: float) -> Breach:
    return Breach(rule, tuple(one.piece.id for one in laid), amount_mm, cloth=laid[-1].placed.cloth)
