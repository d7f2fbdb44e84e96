"""Layouts that need not be looked at, since others say the same: equal pieces changed round, cloths seen mirrored."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.exact.apart import Apart
from coverlayout.layout.exact.job import ExactJob, Seat
from coverlayout.layout.question import Link, Question

__all__ = ["equals_before", "mirrors"]


def equals_before(job: ExactJob) -> NDArray[np.intp]:
    """For every piece the node of the last one before it that it could change places with; 0 for none.

    Pieces that a link holds alike can change places within it, and two such links as a whole: so the first of each
    comes after the first of the one before.
    """
    question = job.question
    shapes = [tuple(seat.shape_key() for seat in seats) for seats in job.seats]
    numbers = {piece.id: k for k, piece in enumerate(question.pieces)}
    last: dict[object, int] = {}
    before = np.zeros(len(job.seats), dtype=np.intp)
    for k, key in enumerate(_keys(question, numbers, shapes)):
        before[k] = last.get(key, 0)
        last[key] = k + 1
    leaders: dict[object, int] = {}
    for link in _alike_links(question, numbers, shapes):
        members = [numbers[piece] for piece in link.pieces]
        for earlier, later in itertools.pairwise(sorted(members)):
            before[later] = earlier + 1
        kind = shapes[members[0]], len(members)
        before[min(members)] = leaders.get(kind, 0)
        leaders[kind] = min(members) + 1
    return before


def _keys(question: Question, numbers: dict[str, int], shapes: Sequence[object]) -> Iterator[object]:
    """Equal for pieces that can change places; one that a wish speaks of is like no other."""
    wished = {lock.piece for lock in question.locks if lock.must}
    wished |= {piece for link in question.links if link.must for piece in link.pieces}
    for piece in question.pieces:
        yield piece.id if piece.id in wished else shapes[numbers[piece.id]]


def _alike_links(question: Question, numbers: dict[str, int], shapes: Sequence[object]) -> Iterator[Link]:
    """The links of pieces that are alike in shape and held at the same point, and that no other wish speaks of."""
    spoken = [lock.piece for lock in question.locks if lock.must]
    spoken += [piece for link in question.links if link.must for piece in link.pieces]
    for link in question.links:
        inside = link.must and all(piece in numbers and spoken.count(piece) == 1 for piece in link.pieces)
        alike = inside and len({shapes[numbers[piece]] for piece in link.pieces}) == 1
        if alike and len(set(link.points_mm)) == 1 and not any(map(any, link.differences_mm)):
            yield link


def mirrors(job: ExactJob, apart: Apart, before: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Which piece keeps to one half, across and along, where the mirrored layout is a layout as well.

    That is so for upright rectangles on one part without anything in the way and without musts. Equal pieces are taken
    from left to right, which mirroring up and down keeps; mirroring left and right turns it round, so there the middle
    one of equals that have one seat (or the one left of their middle), or a piece without an equal, keeps to its half.
    """
    middle = np.zeros((len(job.seats), 2), dtype=np.bool_)
    seats = [seat for own in job.seats for seat in own]
    plain = all(seat.part == seats[0].part and not seat.slopes and _is_box(seat) for seat in seats)
    musts = any(lock.must for lock in job.question.locks) or any(link.must for link in job.question.links)
    if musts or not plain or (apart.first == 0).any():
        return middle
    middle[0, 1] = True
    groups = _groups(before)
    for members in sorted(groups, key=lambda group: (-(len(group) % 2), group[0])):
        if len(members) == 1 or len(job.seats[members[0]]) == 1:
            middle[members[(len(members) - 1) // 2], 0] = True
            break
    return middle


def _groups(before: NDArray[np.intp]) -> list[list[int]]:
    groups: list[list[int]] = []
    for k, node in enumerate(before.tolist()):
        if node == 0:
            groups.append([k])
        else:
            next(group for group in groups if group[-1] == node - 1).append(k)
    return groups


def _is_box(seat: Seat) -> bool:
    (width, height), ring = seat.size_mm, seat.parts[0]
    corners = {(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)}
    alone = len(seat.parts) == 1 and len(ring) == len(corners)
    return alone and all(any(math.dist(point, corner) <= EXACT_MM for corner in corners) for point in ring)
