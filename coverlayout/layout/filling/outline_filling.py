"""Layouts of outlines of any shape: pieces put where they touch, looking ahead whether others still have a place."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from coverlayout.layout.filling.contact import Floats
from coverlayout.layout.filling.fields import Field, Stand
from coverlayout.layout.filling.outline_job import Kind, OutlineJob
from coverlayout.layout.filling.rims import Cells
from coverlayout.layout.question import Placed
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.repeats import Points

__all__ = ["outline_fillings"]

_SEED = 20240229
# A piece is tried in so many of its best places, of which a random order mixes the first few.
_BEST, _MIXED = 3, 2
# One order may put pieces down so many times for each of them.
_PUTS = 3
# After each piece it is asked whether so many of the next kinds still have a place.
_AHEAD = 12
# What work costs in steps: putting a piece down, working a field out, and one more for so many pairs of edges.
_PUT_STEPS, _FIELD_STEPS, _PAIRS = 3, 2, 4_000

_Rank = Callable[[Stand, Points, Cells], Floats]


def _topmost(stand: Stand, places: Points, cells: Cells) -> Floats:
    del cells
    bottom: Floats = (places + stand.high)[:, 1] + 1e-4 * places[:, 0]
    return bottom


def _leftmost(stand: Stand, places: Points, cells: Cells) -> Floats:
    del cells
    right: Floats = (places + stand.high)[:, 0] + 1e-4 * places[:, 1]
    return right


def _nearest_to_corner(stand: Stand, places: Points, cells: Cells) -> Floats:
    del cells
    reach: Floats = (places + stand.high).sum(axis=1) + 1e-4 * places[:, 0]
    return reach


def _nearest_to_edges(stand: Stand, places: Points, cells: Cells) -> Floats:
    del cells
    box, low, high = stand.ground.usable.bounds, places + stand.low, places + stand.high
    across = np.minimum(low[:, 0] - box.left_mm, box.right_mm - high[:, 0])
    along = np.minimum(low[:, 1] - box.top_mm, box.bottom_mm - high[:, 1])
    nearest: Floats = across + along + 1e-4 * low[:, 1]
    return nearest


def _snuggest(stand: Stand, places: Points, cells: Cells) -> Floats:
    """The more of its rim touches something the better; then nearest to the corner."""
    loose: Floats = 1e-6 * (places + stand.high).sum(axis=1) - cells.touching(stand.rim, places)
    return loose


_SORTED = (_snuggest, _topmost, _nearest_to_corner, _leftmost, _nearest_to_edges)
_SHAKEN = (_snuggest, _topmost, _snuggest, _leftmost, _snuggest, _nearest_to_corner)


@dataclass(frozen=True, eq=False)
class _Lying:
    piece: int
    stand: Stand
    at: Points


@dataclass(frozen=True, eq=False)
class _Room:
    """A field, how many of the pieces that lie it knows of, and which of its places are still clear of later ones."""

    field: Field
    since: int
    places: Points


@dataclass(frozen=True, eq=False)
class _Node:
    """What lies so far, how many of each kind are left, the rooms of their stands, and the cells of the grounds."""

    lies: tuple[_Lying, ...]
    left: tuple[int, ...]
    rooms: dict[int, list[_Room | None]]
    cells: dict[int, Cells]


def outline_fillings(job: OutlineJob, effort: Effort, orders: int) -> Iterator[tuple[Placed, ...]]:
    """Every layout that one of the orders leads to: the sorted orders first, then `orders` random ones.

    The same job gives the same layouts. OutOfSteps when the effort is spent before.
    """
    rooms = {k: [_room_of(field) for field in kind.first] for k, kind in enumerate(job.kinds)}
    if not all(any(room is not None for room in rooms[k]) for k in rooms):
        return
    root = _Node((), tuple(len(kind.pieces) for kind in job.kinds), rooms, job.cells)
    base = [_partners_together(job, order) for order in _by_size(job.kinds)]
    for order in base:
        for rank in _SORTED:
            yield from _Try(job, effort, order, rank, None).layouts(root)
    rng = random.Random(_SEED)
    for number in range(orders if len(job.question.pieces) > 1 else 0):
        order = list(base[0])
        for _ in range(1 + number % 3):
            order.insert(rng.randrange(len(order)), order.pop(rng.randrange(len(order))))
        order = _partners_together(job, order)
        yield from _Try(job, effort, order, _SHAKEN[number % len(_SHAKEN)], rng).layouts(root)


def _room_of(field: Field | None) -> _Room | None:
    return None if field is None or not len(field.places) else _Room(field, 0, field.places)


def _by_size(kinds: list[Kind]) -> Iterator[list[int]]:
    sizes: tuple[Callable[[Kind], float], ...] = (
        lambda kind: kind.area_mm2,
        lambda kind: kind.height_mm,
        lambda kind: kind.width_mm,
    )
    for size in sizes:
        values = [size(kind) for kind in kinds]
        # mypy infers no type for a lambda with a default; the default keeps what this round of the loop has.
        yield sorted(range(len(kinds)), key=lambda k, values=values: (-values[k], k))  # type: ignore[misc]


def _partners_together(job: OutlineJob, order: list[int]) -> list[int]:
    """Locked pieces first, then each linked one with its partners right after it."""
    names = {k: job.question.pieces[job.kinds[k].pieces[0]].id for k in order}
    together: dict[int, None] = {}
    for k in (*(k for k in order if names[k] in job.holds.locks), *order):
        if k not in together:
            together[k] = None
            partners = set(job.partners(job.kinds[k].pieces[0]))
            together.update(dict.fromkeys(other for other in order if other in partners) if partners else {})
    return list(together)


class _Try:
    """One order of the kinds: the next is put where it ranks best, else in another of its best places."""

    def __init__(
        self, job: OutlineJob, effort: Effort, order: list[int], rank: _Rank, rng: random.Random | None
    ) -> None:
        self._job, self._effort, self._order, self._rank, self._rng = job, effort, order, rank, rng
        self._puts = _PUTS * len(job.question.pieces)

    def layouts(self, root: _Node) -> Iterator[tuple[Placed, ...]]:
        """The first layout this order leads to, or none."""
        waiting = [iter([root])]
        while waiting:
            node = next(waiting[-1], None)
            if node is None:
                waiting.pop()
            elif not any(node.left):
                yield self._placed(node)
                return
            else:
                waiting.append(self._after(node))

    def _placed(self, node: _Node) -> tuple[Placed, ...]:
        lies = sorted(node.lies, key=lambda one: one.piece)
        return tuple(_as_placed(self._job, one) for one in lies)

    def _after(self, node: _Node) -> Iterator[_Node]:
        """The nodes with one piece more, the best first; those that leave another piece no place are passed over."""
        kind = next(k for k in self._order if node.left[k])
        for stand, at in self._best_places(node, kind):
            if self._puts <= 0:
                return
            self._puts -= 1
            after = self._put(node, kind, stand, at)
            if after is not None:
                yield after

    def _best_places(self, node: _Node, kind: int) -> list[tuple[Stand, Points]]:
        """The best places on the first cloth that has any."""
        ranked: list[tuple[float, int, int]] = []
        stands = self._job.kinds[kind].stands
        rooms = self._worked_out(node, kind)
        cloth = next((stand.cloth for stand, room in zip(stands, rooms, strict=True) if room is not None), None)
        for number, (stand, room) in enumerate(zip(stands, rooms, strict=True)):
            if room is not None and stand.cloth is cloth:
                ranks = self._rank(stand, room.places, node.cells[id(stand.ground)])
                best = np.argsort(ranks, kind="stable")[: _BEST + _MIXED]
                ranked += [(float(ranks[i]), number, int(i)) for i in best]
        ranked.sort()
        if self._rng is not None and len(ranked) > 1:
            mixed = ranked[:_MIXED]
            self._rng.shuffle(mixed)
            ranked[:_MIXED] = mixed
        found = []
        for _, number, i in ranked[:_BEST]:
            room = rooms[number]
            assert room is not None, "only rooms with places were ranked"
            found.append((stands[number], room.places[i]))
        return found

    def _worked_out(self, node: _Node, kind: int) -> list[_Room | None]:
        """The rooms of a kind that know of all that lies; remembered at the node."""
        rooms = node.rooms[kind]
        for number, stand in enumerate(self._job.kinds[kind].stands):
            room = rooms[number]
            if room is not None and room.since < len(node.lies):
                field = self._behind(room, stand, node.lies)
                rooms[number] = _Room(field, len(node.lies), field.places) if len(field.places) else None
        return rooms

    def _behind(self, room: _Room, stand: Stand, lies: tuple[_Lying, ...]) -> Field:
        later = [one for one in lies[room.since :] if one.stand.cloth is stand.cloth]
        standing = [(self._job.barrier(one.stand, stand), one.at) for one in later]
        if not standing:
            return room.field
        fresh = sum(len(barrier.tails) for barrier, _ in standing)
        self._effort.spend(_FIELD_STEPS + fresh * (fresh + len(room.field.tails)) // _PAIRS)
        return room.field.behind(standing)

    def _put(self, node: _Node, kind: int, stand: Stand, at: Points) -> _Node | None:
        """The node with one piece more, or None when another kind would have no place left."""
        self._effort.spend(_PUT_STEPS)
        piece = self._job.kinds[kind].pieces[-node.left[kind]]
        left = tuple(count - (k == kind) for k, count in enumerate(node.left))
        ground = id(stand.ground)
        cells = node.cells | {ground: node.cells[ground].with_parts(stand.parts, at)}
        after = _Node((*node.lies, _Lying(piece, stand, at)), left, dict(node.rooms), cells)
        ahead = [k for k in self._order if left[k]][:_AHEAD]
        partners = self._job.partners(piece)
        for k in (*partners, *(k for k in ahead if k not in partners)):
            if left[k] and not self._has_room(after, k, held=k in partners):
                return None
        return after

    def _has_room(self, node: _Node, kind: int, *, held: bool) -> bool:
        """True when a kind has a place beside what was put last; `held`: that tells where the repeat allows it."""
        last = node.lies[-1]
        rooms: list[_Room | None] = []
        for stand, room in zip(self._job.kinds[kind].stands, node.rooms[kind], strict=True):
            if room is not None and held:
                rooms.append(self._held(room, stand, kind, node))
            elif room is not None and stand.cloth is last.stand.cloth and len(room.places):
                self._effort.look()
                blocked = self._job.barrier(last.stand, stand).groups.moved(last.at)
                rooms.append(replace(room, places=room.places[blocked.clear(room.places)]))
            else:
                rooms.append(room)
        node.rooms[kind] = rooms
        if any(room is not None and len(room.places) for room in rooms):
            return True
        return any(room is not None for room in self._worked_out(node, kind))

    def _held(self, room: _Room, stand: Stand, kind: int, node: _Node) -> _Room | None:
        piece = self._job.question.pieces[self._job.kinds[kind].pieces[0]]
        lies = self._job.lying | {
            self._job.question.pieces[one.piece].id: (_as_placed(self._job, one), one.stand.ground) for one in node.lies
        }
        field = self._job.held_field(piece, stand, self._behind(room, stand, node.lies), lies)
        return None if field is None or not len(field.places) else _Room(field, len(node.lies), field.places)


def _as_placed(job: OutlineJob, one: _Lying) -> Placed:
    x_mm, y_mm = one.at.tolist()
    return Placed(job.question.pieces[one.piece].id, one.stand.cloth.id, x_mm, y_mm, one.stand.turn_deg)
