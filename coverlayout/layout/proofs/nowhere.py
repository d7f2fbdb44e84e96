"""Proofs that one piece fits nowhere: too large, nothing clear for it, or at none of its places in the repeat.

Each holds when every length is NO_LOOSER_MM looser, and locks by LOCK_MM.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from coverlayout.geometry.convex import hull
from coverlayout.geometry.frames import Point, Ring, turn
from coverlayout.geometry.shapes import Box, Region, area_mm2, bounds, is_rectangle, rectangle, ring_sides
from coverlayout.geometry.sweep import places_clear_of, places_within
from coverlayout.geometry.tolerance import LOCK_MM, NO_LOOSER_MM
from coverlayout.layout.answer import Proof
from coverlayout.layout.placing import outline_on_cloth
from coverlayout.layout.question import ClothAsked, Ground, Lock, PieceAsked, Question, unseen
from coverlayout.layout.search.sheets import allowed_on
from coverlayout.motif.lattice import Lattice

__all__ = ["LOCK_LOOSE_MM", "Spots", "fits_nowhere", "must_locks", "places_for", "repeats_in"]

# A lock as loose as a no must bear.
LOCK_LOOSE_MM = LOCK_MM + NO_LOOSER_MM
# More places in the repeat are not looked at one by one, and no more shapes of pieces than this are swept over ground.
_MOST_REPEATS, _MOST_SWEPT = 4_000, 24

Place = tuple[ClothAsked, Ground]


def places_for(question: Question, piece: PieceAsked) -> list[Place]:
    """The grounds a piece may come from, each with its cloth."""
    return [(c, g) for c in question.cloths for g in c.grounds if allowed_on(piece, c, g)]


def must_locks(question: Question) -> dict[str, tuple[Lock, ...]]:
    """The locks that must hold, by piece."""
    found: dict[str, tuple[Lock, ...]] = {}
    for lock in question.locks:
        if lock.must:
            found[lock.piece] = (*found.get(lock.piece, ()), lock)
    return found


class Spots:
    """Where the origin of a piece's frame may lie so that the piece is on ground and clear, a little loosely.

    Cut pieces and holes keep the gap. Each shape is worked out once for a ground and a turn.
    """

    def __init__(self, question: Question) -> None:
        """Nothing is worked out yet."""
        self._gap_mm = max(question.gap_mm - NO_LOOSER_MM, 0.0)
        self._known: dict[object, Region] = {}

    def of(self, piece: PieceAsked, place: Place, turn_deg: float) -> Region:
        """All spots of a turn counted from the ground's up, in the cloth frame; empty when there is none."""
        cloth, ground = place
        key = piece.outline_mm, piece.seen_mm, cloth.id, ground.id, turn_deg
        if key not in self._known:
            self._known[key] = self._worked_out(piece, cloth, ground, turn_deg)
        return self._known[key]

    def is_plain(self, piece: PieceAsked, place: Place, turn_deg: float) -> bool:
        """True for a rectangle on a rectangular ground with nothing in the way: its spots fill their box."""
        cloth, ground = place
        plain = not (cloth.keep_outs or cloth.fixed) and _is_box(ground.usable)
        return plain and is_rectangle(turn(ground.up_deg + turn_deg).ring(piece.outline_mm))

    def box(self, piece: PieceAsked, place: Place, turn_deg: float) -> Box | None:
        """The box around all spots of a turn, None when there is none; at once where all is plain."""
        ground = place[1]
        if not self.is_plain(piece, place, turn_deg):
            spots = self.of(piece, place, turn_deg)
            return None if spots.is_empty else spots.bounds
        usable, loose = ground.usable.bounds, NO_LOOSER_MM
        own = bounds(turn(ground.up_deg + turn_deg).ring(piece.outline_mm))
        free = usable.width_mm - own.width_mm + 2 * loose, usable.height_mm - own.height_mm + 2 * loose
        if min(free) < 0.0:
            return None
        return Box(usable.left_mm - own.left_mm - loose, usable.top_mm - own.top_mm - loose, *free)

    def _worked_out(self, piece: PieceAsked, cloth: ClothAsked, ground: Ground, turn_deg: float) -> Region:
        to_cloth = turn(ground.up_deg + turn_deg)
        outline, usable = _looser(to_cloth.ring(piece.outline_mm)), ground.usable.bounds
        box = bounds(outline)
        if box.width_mm > usable.width_mm or box.height_mm > usable.height_mm:
            return Region.nothing()
        if _is_box(ground.usable):
            free = usable.width_mm - box.width_mm, usable.height_mm - box.height_mm
            spots = Region.of(rectangle(*free, usable.left_mm - box.left_mm, usable.top_mm - box.top_mm))
        else:
            spots = places_within(ground.usable, outline)
        hard = [k.region for k in cloth.keep_outs if not (k.seen_only or k.spoiled)]
        holes = [k.region for k in cloth.keep_outs if k.spoiled]
        holes += [Region.of(outline_on_cloth(*fixed)) for fixed in cloth.fixed]
        hard += [hole.inset(-self._gap_mm, "round") for hole in holes]
        spots = places_clear_of(spots, outline, hard) if hard else spots
        seen_only = [k.region for k in cloth.keep_outs if k.seen_only]
        if seen_only and not spots.is_empty:
            spots = places_clear_of(spots, _looser(to_cloth.ring(piece.seen_mm or piece.outline_mm)), seen_only)
        return spots


def _looser(outline: Ring) -> Ring:
    """The outline a little smaller all round: its largest part, or next to nothing where nothing would be left."""
    parts = [ring for ring, _ in Region.of(outline).inset(NO_LOOSER_MM).parts()]
    if not parts:
        return rectangle(NO_LOOSER_MM / 1000, NO_LOOSER_MM / 1000, *bounds(outline).middle)
    return max(parts, key=area_mm2)


def fits_nowhere(question: Question, spots: Spots, look: Callable[[], None] = unseen) -> Proof | None:
    """A piece that no allowed turn brings onto clear ground, or only where it is not at its place in the repeat.

    `look` is called now and then while there are many pieces, and may raise to end it.
    """
    locks = must_locks(question)
    kinds: dict[object, PieceAsked] = {}
    for piece in question.pieces:
        look()
        own = tuple((lock.point_mm, lock.place_mm) for lock in locks.get(piece.id, ()))
        may = piece.turns_deg, piece.print_id, piece.cloth_ids, piece.ground_ids
        kinds.setdefault((piece.outline_mm, piece.seen_mm, may, own), piece)
    # The largest are the likeliest to fit nowhere.
    ranked = sorted(kinds.values(), key=lambda piece: -area_mm2(piece.outline_mm))
    for number, piece in enumerate(ranked):
        look()
        places = places_for(question, piece)
        if not _has_room(piece, places) or (
            number < _MOST_SWEPT and piece.turns_deg is not None and not _is_clear(piece, places, spots)
        ):
            return _too_large(piece, places)
        if piece.id in locks and number < _MOST_SWEPT:
            proof = _out_of_repeat(piece, locks[piece.id], places, spots)
            if proof is not None:
                return proof
    return None


def _has_room(piece: PieceAsked, places: list[Place]) -> bool:
    """Whether some ground is as wide and high as the piece in one of its turns; at any angle, as long and as thick."""
    loose = 2 * NO_LOOSER_MM
    for _, ground in places:
        usable = ground.usable.bounds
        if ground.usable.is_empty:
            continue
        if piece.turns_deg is None:
            around, on = hull(Region.of(piece.outline_mm)), hull(ground.usable)
            if _longest(around) <= _longest(on) + loose and _thinnest(around) <= _thinnest(on) + loose:
                return True
        for turn_deg in piece.turns_deg or ():
            box = bounds(turn(ground.up_deg + turn_deg).ring(piece.outline_mm))
            if box.width_mm <= usable.width_mm + loose and box.height_mm <= usable.height_mm + loose:
                return True
    return False


def _longest(ring: Ring) -> float:
    return max((math.dist(one, other) for one in ring for other in ring), default=0.0)


def _thinnest(ring: Ring) -> float:
    """The least width of a convex ring over all directions; it is found square to one of its edges."""
    widths = []
    for (ax, ay), (bx, by) in ring_sides(ring):
        long = math.hypot(bx - ax, by - ay)
        if long > 0.0:
            widths.append(max(abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) for x, y in ring) / long)
    return min(widths, default=0.0)


def _is_clear(piece: PieceAsked, places: list[Place], spots: Spots) -> bool:
    plain = all(not (cloth.keep_outs or cloth.fixed) and _is_box(ground.usable) for cloth, ground in places)
    turns = piece.turns_deg or ()
    return plain or any(not spots.of(piece, place, turn_deg).is_empty for place in places for turn_deg in turns)


def _is_box(region: Region) -> bool:
    box = region.bounds
    return math.isclose(region.area_mm2, box.width_mm * box.height_mm)


def _too_large(piece: PieceAsked, places: list[Place]) -> Proof:
    size = bounds(piece.outline_mm)
    widest = max((g.usable.bounds for _, g in places), key=_box_mm2, default=Box(0.0, 0.0, 0.0, 0.0))
    figures = ("piece", piece.id), ("width_mm", size.width_mm), ("height_mm", size.height_mm)
    have = ("ground_width_mm", widest.width_mm), ("ground_height_mm", widest.height_mm)
    covering = _covering(places)
    return Proof("fits nowhere", (*figures, *have, *((("covered_by", covering),) if covering else ())))


def _box_mm2(box: Box) -> float:
    return box.width_mm * box.height_mm


def _covering(places: list[Place]) -> str:
    """The names of the flaws that leave nothing of the grounds; empty when something is left or there is no ground."""
    names: dict[str, None] = {}
    for cloth, ground in places:
        flaws = [k for k in cloth.keep_outs if not (k.seen_only or k.region.is_empty)]
        left = ground.usable.minus(Region.union(k.region for k in flaws)) if flaws else ground.usable
        if not left.is_empty:
            return ""
        if not ground.usable.is_empty:
            names |= dict.fromkeys(k.name for k in flaws if k.region.overlaps(ground.usable))
    return ", ".join(names)


def _out_of_repeat(piece: PieceAsked, locks: tuple[Lock, ...], places: list[Place], spots: Spots) -> Proof | None:
    """The proof that a piece is clear at none of its places in the repeat, or has none."""
    if any(not ground.origin_known for _, ground in places):
        return None
    printed = [(c, g) for c, g in places if g.lattice_mm is not None and g.print_to_cloth is not None]
    if not printed:
        return Proof("fits nowhere", (("piece", piece.id), ("wish", "no repeat")))
    if piece.turns_deg is None:
        return None
    turned = [(place, turn_deg) for place in printed for turn_deg in piece.turns_deg]
    if any(_is_locked_spot(spots.of(piece, place, deg), locks, place[1], deg) for place, deg in turned):
        return None
    tried = math.fsum(_times_on(ground, locks[0]) for _, ground in printed)
    return Proof("fits nowhere", (("piece", piece.id), ("wish", "lock"), ("tried", tried)))


def _times_on(ground: Ground, lock: Lock) -> int:
    """How often the place that a lock speaks of is on the ground."""
    assert ground.lattice_mm is not None, "only printed ground has places in the repeat"
    assert ground.print_to_cloth is not None, "only printed ground has places in the repeat"
    start = ground.print_to_cloth.at(lock.place_mm)
    if ground.lattice_mm.b_mm is None:
        return len(_stripes_on(ground.usable, start, ground.lattice_mm))
    points = repeats_in(ground.usable.bounds, start, ground.lattice_mm) or []
    return sum(ground.usable.contains(point) for point in points)


def _is_locked_spot(spots: Region, locks: tuple[Lock, ...], ground: Ground, turn_deg: float) -> bool:
    """Whether one of the places in the repeat is among the spots, or they are too many to say."""
    if spots.is_empty:
        return False
    assert ground.lattice_mm is not None, "only printed ground has places in the repeat"
    assert ground.print_to_cloth is not None, "only printed ground has places in the repeat"
    to_cloth, lattice = turn(ground.up_deg + turn_deg), ground.lattice_mm
    starts = []
    for lock in locks:
        (x, y), (dx, dy) = ground.print_to_cloth.at(lock.place_mm), to_cloth.vector(lock.point_mm)
        starts.append((x - dx, y - dy))
    if any(lattice.off_mm((x - starts[0][0], y - starts[0][1])) > 2 * LOCK_LOOSE_MM for x, y in starts):
        return False
    around = spots.inset(-LOCK_LOOSE_MM)
    if lattice.b_mm is None:
        return bool(_stripes_on(around, starts[0], lattice))
    points = repeats_in(around.bounds, starts[0], lattice)
    return points is None or any(around.contains(point) for point in points)


def _stripes_on(region: Region, start: Point, lattice: Lattice) -> set[int]:
    """The numbers of the stripes, counted from the start, that run over a part of the region."""
    found: set[int] = set()
    for ring, _ in region.parts():
        across = [lattice.coordinates((x - start[0], y - start[1]))[0] for x, y in ring]
        found |= set(range(math.ceil(min(across)), math.floor(max(across)) + 1))
    return found


def repeats_in(box: Box, start: Point, lattice: Lattice) -> list[Point] | None:
    """The start moved by whole repeats to where it lies in the box; None when there are too many, or for stripes.

    >>> repeats_in(Box(0.0, 0.0, 25.0, 10.0), (3.0, 5.0), Lattice((20.0, 0.0), (0.0, 20.0)))
    [(3.0, 5.0), (23.0, 5.0)]
    """
    if lattice.b_mm is None:
        return None
    short = lattice.reduced()
    spans = short.spans_around(start, box)
    if len(spans[0]) * len(spans[1]) > _MOST_REPEATS:
        return None
    moved = (short.point(i, k) for i in spans[0] for k in spans[1])
    points = [(start[0] + x, start[1] + y) for x, y in moved]
    return sorted(p for p in points if _in_box(p, box))


def _in_box(point: Point, box: Box) -> bool:
    return box.left_mm <= point[0] <= box.right_mm and box.top_mm <= point[1] <= box.bottom_mm
