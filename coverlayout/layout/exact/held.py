"""Pieces held to places of the print: every seat and place a lock leaves, and which of them go together.

A piece that is locked lies at a lattice point of its print, and so does a piece linked to it: both have a whole list of
places. Two of these lists go together where the pieces do not lie on each other and their link holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM, LOCK_MM
from coverlayout.layout.exact.apart import Apart, Floats
from coverlayout.layout.exact.job import ExactJob, Seat
from coverlayout.layout.exact.steps import Step
from coverlayout.layout.question import unseen

__all__ = ["Held", "HeldTogether", "held_of"]

Flags = NDArray[np.bool_]
# Lists longer than this are left to the bounds, and two whose product is more are not compared.
_MOST_PLACES, _MOST_PAIRS = 6_000, 250_000
# More than all the tolerances along a chain of links.
_OFF_MM = 1.0


@dataclass(frozen=True)
class Held:
    """The places of one piece: `seat` and `place` (x, y; mm in its frame) by number.

    `musts`: over how many locks and links the places were found, each of which may be off by its tolerance.
    """

    piece: int
    seat: NDArray[np.intp]
    place: Floats
    musts: int = 1


@dataclass(frozen=True)
class HeldTogether:
    """All held pieces, and for two of them (by number) which places go together; pairs not listed all do.

    `alike`: pairs of pieces not listed that can change places.
    """

    held: tuple[Held, ...]
    together: dict[tuple[int, int], Flags]
    alike: tuple[tuple[int, int], ...] = ()


def held_of(
    job: ExactJob,
    steps: tuple[Step, ...],
    apart: Apart,
    bounds: Floats,
    loose_mm: float,
    *,
    look: Callable[[], None] = unseen,
) -> tuple[HeldTogether, tuple[Step, ...]]:
    """The held pieces of a job, and the steps that say something else still; no place lies on what is in the way.

    `look` is called every few ten milliseconds: long lists take long to compare.
    """
    known: dict[int, Held] = {}
    said: list[Step] = []
    for step in _locks(steps):
        table = _of_lock(step)
        if step.second in known:
            table = _both(known[step.second], table, loose_mm)
        if len(table.seat) <= _MOST_PLACES:
            known[step.second] = table
            said.append(step)
    for _ in steps:
        for step in steps:
            look()
            found = _follower(job, step, known)
            if found is not None and len(found.seat) <= _MOST_PLACES:
                known[found.piece + 1] = found
    known = {node: _clear(table, apart, bounds, loose_mm) for node, table in known.items()}
    held = tuple(known[node] for node in sorted(known))
    numbers = {table.piece + 1: number for number, table in enumerate(held)}
    inside = [step for step in steps if step.first in numbers and step.second in numbers]
    together = dict(_together(job, held, inside, (apart, bounds), loose_mm, look=look))
    told = [step for step in inside if _pair(numbers, step) in together]
    left = tuple(step for step in steps if not any(step is one for one in (*said, *told)))
    return HeldTogether(held, together, tuple(_alike_apart(job, held, together))), left


def _alike_apart(
    job: ExactJob, held: tuple[Held, ...], together: dict[tuple[int, int], Flags]
) -> Iterator[tuple[int, int]]:
    """Neighbouring pieces (counted from 0) that can change places, where no table keeps them in one order."""
    linked = {piece for link in job.question.links for piece in link.pieces}
    for number, other in enumerate(held):
        if job.question.pieces[other.piece].id in linked:
            continue
        earlier = [one for one in held[:number] if job.question.pieces[one.piece].id not in linked]
        like = [one for one in earlier if _alike(job, one, other)]
        if like and (_number_of(held, like[-1]), number) not in together:
            yield like[-1].piece, other.piece


def _locks(steps: tuple[Step, ...]) -> Iterator[Step]:
    for step in steps:
        if step.first == 0 and not any(np.isnan(ways).any() for ways in step.ways):
            yield step


def _of_lock(step: Step) -> Held:
    seats = [np.full(len(ways), seat, dtype=np.intp) for seat, ways in enumerate(step.ways)]
    return Held(step.second - 1, np.concatenate(seats), np.concatenate(step.ways))


def _both(one: Held, other: Held, loose_mm: float) -> Held:
    """The places of one that are places of the other as well."""
    kept = np.zeros(len(one.seat), dtype=np.bool_)
    for seat in np.unique(other.seat):
        own = one.seat == seat
        kept[own] = _near(one.place[own], other.place[other.seat == seat], 2 * loose_mm + LOCK_MM, unseen)
    return replace(one, seat=one.seat[kept], place=one.place[kept])


def _follower(job: ExactJob, step: Step, known: dict[int, Held]) -> Held | None:
    """The places of a piece linked to one whose places are known, when they are not known themselves."""
    if step.first == 0 or (step.first in known) == (step.second in known):
        return None
    if any(np.isnan(ways).any() for ways in step.ways):
        return None
    ahead = step.first in known
    leader, follower = (step.first, step.second) if ahead else (step.second, step.first)
    seats, places = [], []
    for number, ways in enumerate(step.ways):
        first, second = divmod(number, step.width)
        theirs, own = (first, second) if ahead else (second, first)
        there = known[leader].place[known[leader].seat == theirs]
        if len(there) * len(ways) > 50 * _MOST_PLACES:
            return None
        reached = (there[:, None] + (ways if ahead else -ways)[None, :]).reshape(-1, 2)
        distinct = _distinct(_inside(reached, job.seats[follower - 1][own]))
        seats.append(np.full(len(distinct), own, dtype=np.intp))
        places.append(distinct)
    seat, place = np.concatenate(seats), np.concatenate(places)
    listed = {int(own): _distinct(place[seat == own]) for own in np.unique(seat)}
    return Held(
        follower - 1,
        np.concatenate([np.full(len(own), number, dtype=np.intp) for number, own in listed.items()] or [seat]),
        np.concatenate([*listed.values()] or [place]),
        known[leader].musts + 1,
    )


def _inside(places: Floats, seat: Seat) -> Floats:
    """Without the places at which the piece would lie far out of its ground."""
    low, high = np.array(seat.low_mm) - _OFF_MM, np.array(seat.high_mm) + _OFF_MM
    return places[((places >= low) & (places <= high)).all(axis=1)]


def _distinct(places: Floats) -> Floats:
    """Each place once, in order; as complex numbers, which are sorted far quicker than rows."""
    single = np.round(places[:, 0], 6) + 1j * np.round(places[:, 1], 6)
    distinct = np.unique(single)
    return np.stack([distinct.real, distinct.imag], axis=1)


def _clear(held: Held, apart: Apart, bounds: Floats, loose_mm: float) -> Held:
    """Without the places at which the piece lies on something, or out of its ground."""
    keep = np.ones(len(held.seat), dtype=np.bool_)
    for p in np.flatnonzero((apart.first == 0) & (apart.second == held.piece + 1)):
        limits = bounds[apart.base[p] + held.seat]
        keep &= (held.place @ apart.normals.T >= limits - (held.musts + 1) * loose_mm - EXACT_MM).any(axis=1)
    return replace(held, seat=held.seat[keep], place=held.place[keep])


def _pair(numbers: dict[int, int], step: Step) -> tuple[int, int]:
    a, b = numbers[step.first], numbers[step.second]
    return (a, b) if a < b else (b, a)


def _together(
    job: ExactJob,
    held: tuple[Held, ...],
    inside: list[Step],
    tables: tuple[Apart, Floats],
    loose_mm: float,
    *,
    look: Callable[[], None],
) -> Iterator[tuple[tuple[int, int], Flags]]:
    numbers = {table.piece + 1: number for number, table in enumerate(held)}
    linked = {piece for link in job.question.links for piece in link.pieces}
    for a, one in enumerate(held):
        for b in range(a + 1, len(held)):
            other = held[b]
            if len(one.seat) * len(other.seat) > _MOST_PAIRS:
                continue
            fit = _beside(one, other, *tables, loose_mm, look=look)
            for step in inside:
                if _pair(numbers, step) == (a, b):
                    fit &= _linked(one, other, step, loose_mm, look)
            names = {job.question.pieces[table.piece].id for table in (one, other)}
            if not (names & linked) and _alike(job, one, other):
                fit &= np.tri(len(one.seat), k=-1, dtype=np.bool_).T
            yield (a, b), fit


def _beside(
    one: Held, other: Held, apart: Apart, bounds: Floats, loose_mm: float, *, look: Callable[[], None]
) -> Flags:
    """Which places leave the two pieces beside each other."""
    first, second = one.piece + 1, other.piece + 1
    fit = np.ones((len(one.seat), len(other.seat)), dtype=np.bool_)
    off_mm = (one.musts + other.musts + 2) * loose_mm + EXACT_MM
    for p in np.flatnonzero((apart.first == first) & (apart.second == second)):
        rows = apart.base[p] + one.seat[:, None] * apart.width[p] + other.seat[None, :]
        here = np.zeros_like(fit)
        for normal, (nx, ny) in enumerate(apart.normals):
            look()
            reach = (other.place @ (nx, ny))[None, :] - (one.place @ (nx, ny))[:, None]
            here |= reach >= bounds[rows, normal] - off_mm
        fit &= here
    return fit


def _linked(one: Held, other: Held, step: Step, loose_mm: float, look: Callable[[], None]) -> Flags:
    """Which places keep a link."""
    ahead = step.first == one.piece + 1
    off_mm = (one.musts + other.musts + 2) * loose_mm + LOCK_MM
    fit = np.zeros((len(one.seat), len(other.seat)), dtype=np.bool_)
    for number, ways in enumerate(step.ways):
        first, second = divmod(number, step.width)
        mine, theirs = (first, second) if ahead else (second, first)
        rows, columns = np.flatnonzero(one.seat == mine), np.flatnonzero(other.seat == theirs)
        if not len(rows) or not len(columns) or not len(ways):
            continue
        way = other.place[columns][None, :] - one.place[rows][:, None]
        fit[np.ix_(rows, columns)] |= _near(way if ahead else -way, ways, off_mm, look)
    return fit


def _near(way: Floats, ways: Floats, off_mm: float, look: Callable[[], None]) -> Flags:
    """Which of many ways are one of those listed, both numbers within `off_mm`: only those near across are compared."""
    listed = ways[np.argsort(ways[:, 0], kind="stable")]
    first = np.searchsorted(listed[:, 0], way[..., 0] - off_mm, "left")
    last = np.searchsorted(listed[:, 0], way[..., 0] + off_mm, "right")
    near = np.zeros(first.shape, dtype=np.bool_)
    for k in range(int((last - first).max(initial=0))):
        look()
        there = np.minimum(first + k, len(listed) - 1)
        near |= (first + k < last) & (np.abs(way[..., 1] - listed[there, 1]) <= off_mm)
    return near


def _number_of(held: tuple[Held, ...], one: Held) -> int:
    return next(number for number, other in enumerate(held) if other is one)


def _alike(job: ExactJob, one: Held, other: Held) -> bool:
    """True for two pieces that can change places: alike in every seat, and with the same places in them."""
    shapes = [[seat.shape_key() for seat in job.seats[held.piece]] for held in (one, other)]
    same = shapes[0] == shapes[1] and np.array_equal(one.seat, other.seat)
    return same and np.allclose(one.place, other.place, rtol=0.0, atol=EXACT_MM)
