"""A second judge of layouts, written with shapely alone: it shares no code with the program's own rules.

It reads a question's plain figures and says which rules are broken by which pieces. Ground, outline and flaws come from
the question as shapes; everything done with them here is shapely's.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

from shapely import affinity
from shapely.geometry import Point as Spot
from shapely.geometry import Polygon

from coverlayout.layout.question import ClothAsked, Ground, Link, PieceAsked, Placed, Question

__all__ = ["Broken", "broken_rules", "waiting"]

Broken = tuple[str, frozenset[str]]
XY = tuple[float, float]
LENGTH_MM, LOCK_MM, TURN_DEG = 0.01, 0.05, 1e-5


def broken_rules(question: Question, placed: Iterable[Placed]) -> set[Broken]:
    """Every rule broken, with the pieces that break it."""
    found: set[Broken] = set()
    pieces = {piece.id: piece for piece in question.pieces}
    cloths = {cloth.id: cloth for cloth in question.cloths}
    lies: dict[str, Placed] = {}
    for one in placed:
        fault = _not_to_be_judged(one, pieces, cloths, lies)
        if fault:
            found.add((fault, frozenset({one.piece})))
        else:
            lies[one.piece] = one
    for name, one in lies.items():
        found |= {(rule, frozenset({name})) for rule in _alone(pieces[name], one, cloths[one.cloth], question.gap_mm)}
    found |= set(_between(question, pieces, cloths, lies))
    found |= set(_in_the_repeat(question, pieces, cloths, lies))
    return found


def waiting(question: Question, placed: Iterable[Placed]) -> set[str]:
    """The pieces that lie on no cloth of the question."""
    cloths = {cloth.id for cloth in question.cloths}
    lying = {one.piece for one in placed if one.cloth in cloths and math.isfinite(one.x_mm + one.y_mm + one.turn_deg)}
    return {piece.id for piece in question.pieces} - lying


def _not_to_be_judged(
    one: Placed, pieces: dict[str, PieceAsked], cloths: dict[str, ClothAsked], lies: dict[str, Placed]
) -> str:
    if one.piece not in pieces:
        return "unknown piece"
    if one.piece in lies:
        return "placed twice"
    if not all(map(math.isfinite, (one.x_mm, one.y_mm, one.turn_deg))):
        return "not a number"
    return "" if one.cloth in cloths else "outside"


def _put(ring: Iterable[XY], anchor: XY, one: Placed) -> Polygon:
    """A ring of the piece frame on the cloth: turned clockwise about the anchor (y runs down), then moved."""
    at_anchor = affinity.translate(Polygon(list(ring)), -anchor[0], -anchor[1])
    return affinity.translate(affinity.rotate(at_anchor, one.turn_deg, origin=(0, 0)), one.x_mm, one.y_mm)


def _at(point: XY, piece: PieceAsked, one: Placed) -> XY:
    turned = affinity.rotate(
        Spot(point[0] - piece.anchor_mm[0], point[1] - piece.anchor_mm[1]), one.turn_deg, origin=(0, 0)
    )
    return turned.x + one.x_mm, turned.y + one.y_mm


def _smaller(shape: Polygon, by_mm: float = LENGTH_MM) -> Polygon:
    return shape.buffer(-by_mm, join_style="mitre")


def _within(shape: Polygon, ground: Ground) -> bool:
    return bool(ground.usable.shape.covers(_smaller(shape)))


def _own_grounds(piece: PieceAsked, cloth: ClothAsked) -> list[Ground]:
    return [
        ground
        for ground in cloth.grounds
        if piece.print_id in (None, ground.print_id)
        and (not piece.cloth_ids or cloth.id in piece.cloth_ids)
        and (not piece.ground_ids or ground.id in piece.ground_ids)
    ]


def _ground_of(piece: PieceAsked, one: Placed, cloth: ClothAsked) -> Ground | None:
    """The ground a piece lies on; where it lies in none of its own, the one it reaches out of least."""
    shape = _put(piece.outline_mm, piece.anchor_mm, one)
    own = _own_grounds(piece, cloth) or list(cloth.grounds)
    inside = [ground for ground in own if _within(shape, ground)]
    if inside:
        return min(inside, key=lambda ground: _turn_off(piece, one, ground))
    return min(own, key=lambda ground: _beyond(shape, ground), default=None)


def _beyond(shape: Polygon, ground: Ground) -> float:
    left = shape.difference(ground.usable.shape)
    return 0.0 if left.is_empty else float(ground.usable.shape.hausdorff_distance(ground.usable.shape.union(left)))


def _apart_deg(one_deg: float, other_deg: float) -> float:
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)


def _turn_off(piece: PieceAsked, one: Placed, ground: Ground) -> float:
    if piece.turns_deg is None:
        return 0.0
    return min(_apart_deg(one.turn_deg - ground.up_deg, turn) for turn in piece.turns_deg)


def _alone(piece: PieceAsked, one: Placed, cloth: ClothAsked, gap_mm: float) -> set[str]:
    shape = _put(piece.outline_mm, piece.anchor_mm, one)
    found = set()
    own = _own_grounds(piece, cloth)
    if not any(_within(shape, ground) for ground in own):
        on_cloth = bool(Polygon(cloth.outline_mm).covers(_smaller(shape)))
        elsewhere = any(_within(shape, ground) for ground in cloth.grounds if ground not in own)
        found.add("zone" if elsewhere or (len(cloth.grounds) > 1 and on_cloth) else "outside")
    ground = _ground_of(piece, one, cloth)
    if ground is not None and _turn_off(piece, one, ground) > TURN_DEG:
        found.add("turn")
    for flaw in cloth.keep_outs:
        hidden = flaw.seen_only and piece.seen_mm is not None
        part = _put(piece.seen_mm or (), piece.anchor_mm, one) if hidden else shape
        if _smaller(part).intersects(flaw.region.shape):
            found.add("flaw")
        elif flaw.spoiled and shape.distance(flaw.region.shape) < gap_mm - LENGTH_MM:
            found.add("gap")
    return found


def _between(
    question: Question, pieces: dict[str, PieceAsked], cloths: dict[str, ClothAsked], lies: dict[str, Placed]
) -> Iterable[Broken]:
    shapes = {
        name: (one.cloth, _put(pieces[name].outline_mm, pieces[name].anchor_mm, one)) for name, one in lies.items()
    }
    fixed = {
        piece.id: (cloth.id, _put(piece.outline_mm, piece.anchor_mm, one))
        for cloth in cloths.values()
        for piece, one in cloth.fixed
    }
    pairs = itertools.chain(itertools.combinations(shapes.items(), 2), itertools.product(shapes.items(), fixed.items()))
    for (name, (on, shape)), (other, (other_on, other_shape)) in pairs:
        if on != other_on:
            continue
        both = frozenset({name, other})
        if _smaller(shape, LENGTH_MM / 2).intersects(_smaller(other_shape, LENGTH_MM / 2)):
            yield "overlap", both
        elif shape.distance(other_shape) < question.gap_mm - LENGTH_MM:
            yield "gap", both


def _in_the_repeat(
    question: Question, pieces: dict[str, PieceAsked], cloths: dict[str, ClothAsked], lies: dict[str, Placed]
) -> Iterable[Broken]:
    for lock in question.locks:
        if lock.must and lock.piece in lies:
            piece, one = pieces[lock.piece], lies[lock.piece]
            ground = _ground_of(piece, one, cloths[one.cloth])
            if ground is None or _off_place(ground, _at(lock.point_mm, piece, one), lock.place_mm) > LOCK_MM:
                yield "lock", frozenset({lock.piece})
    for link in question.links:
        if link.must:
            yield from _link(link, pieces, cloths, lies)


def _off_place(ground: Ground, point: XY, place: XY) -> float:
    if ground.lattice_mm is None or ground.print_to_cloth is None or not ground.origin_known:
        return math.inf
    x, y = ground.print_to_cloth.at(place)
    return _off_lattice(ground, (point[0] - x, point[1] - y))


def _off_lattice(ground: Ground, vector: XY) -> float:
    """Distance to the nearest sum of whole repeats, by trying those around it."""
    if ground.lattice_mm is None:
        return math.inf
    (ax, ay), b = ground.lattice_mm.a_mm, ground.lattice_mm.b_mm
    assert b is not None, "stripes are not judged here"
    det = ax * b[1] - ay * b[0]
    m = round((vector[0] * b[1] - vector[1] * b[0]) / det)
    n = round((ax * vector[1] - ay * vector[0]) / det)
    tries = itertools.product(range(m - 3, m + 4), range(n - 3, n + 4))
    return min(math.hypot(vector[0] - i * ax - j * b[0], vector[1] - i * ay - j * b[1]) for i, j in tries)


def _link(
    link: Link, pieces: dict[str, PieceAsked], cloths: dict[str, ClothAsked], lies: dict[str, Placed]
) -> Iterable[Broken]:
    """Further points differ from the first's by their step and whole repeats, wherever the print shows the same."""
    first = link.pieces[0]
    for name, point, step in zip(link.pieces[1:], link.points_mm[1:], link.differences_mm, strict=True):
        if first not in lies or name not in lies:
            continue
        one, other, both = lies[first], lies[name], frozenset({first, name})
        here = _ground_of(pieces[first], one, cloths[one.cloth])
        there = _ground_of(pieces[name], other, cloths[other.cloth])
        if here is None or there is None:
            yield "link", both
        elif _apart_deg(one.turn_deg - here.up_deg, other.turn_deg - there.up_deg) > TURN_DEG:
            yield "turn", both
        else:
            x, y = _at(link.points_mm[0], pieces[first], one)
            turned = affinity.rotate(Spot(step), one.turn_deg, origin=(0, 0))
            if _off_step(here, there, (x + turned.x, y + turned.y), _at(point, pieces[name], other)) > LOCK_MM:
                yield "link", both


def _off_step(here: Ground, there: Ground, wanted: XY, found: XY) -> float:
    """How far a point is off what shows at another: on one ground by repeats alone, on two by the print they share."""
    if here.id != there.id:
        known = here.origin_known and there.origin_known
        if here.print_id != there.print_id or not known or None in (here.print_to_cloth, there.print_to_cloth):
            return math.inf
        assert here.print_to_cloth is not None
        assert there.print_to_cloth is not None
        wanted = there.print_to_cloth.at(here.print_to_cloth.inverse().at(wanted))
    return _off_lattice(there, (found[0] - wanted[0], found[1] - wanted[1]))
