"""A second look at a slice bound: its weights taken as they are, every sum in whole numbers, nothing solved anew.

A piece's load on a sheet is its weight there times its measure across the lines; what counts is the least of its loads.
No line of a sheet carries more than the heaviest set of pieces whose measures along the line add up to its length. The
proof holds when for every way to part the pieces into turned and upright ones some of the weights ask for more than all
lines carry.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coverlayout.layout.answer import LineWeights
from coverlayout.layout.question import Question
from coverlayout.layout.rechecks.measures import Bounds, fills_its_box, homes, rounded_bounds, turned

__all__ = ["weights_refuse"]

# Hundredths of a millimetre; what a no must bear, in them, for two edges of a sheet.
_UNITS_A_MM, _LOOSE = 100, 2
_MOST_PARTINGS = 2_000
# A line is at most so many units of its own long.
_MOST_ROOM = 40_000
# Lengths beyond this (units) are taken whole.
_MOST_SUMS = 500_000

Size = tuple[float, float]
Sheet = tuple[str, str]


@dataclass(frozen=True)
class _Group:
    """Pieces alike in sizes by sheet and in every weight: how many, and the sizes they may take."""

    count: int
    options: tuple[tuple[int, Size], ...]
    weights: tuple[tuple[int, ...], ...]

    @property
    def sizes(self) -> list[Size]:
        """The different sizes."""
        return sorted({size for _, size in self.options})


def weights_refuse(question: Question, certificate: Sequence[LineWeights]) -> bool:
    """True when the weights prove that the pieces they name do not fit on the sheets they speak of."""
    if not certificate or any(lines.sheets != certificate[0].sheets for lines in certificate):
        return False
    sheets = certificate[0].sheets
    rooms = _rooms(question, sheets)
    if rooms is None:
        return False
    groups = _groups(question, sheets, certificate)
    gap_mm = max(question.gap_mm - 0.01, 0.0)
    looked = [_Look(lines, rooms, groups, number, gap_mm) for number, lines in enumerate(certificate)]
    return bool(groups) and all(any(look.refuses(p) for look in looked) for p in _partings(groups))


def _rooms(question: Question, sheets: Sequence[Sheet]) -> list[Bounds] | None:
    """The box around each sheet in its print's frame; None when one is not there."""
    found = []
    for cloth_id, ground_id in sheets:
        grounds = [g for c in question.cloths for g in c.grounds if (c.id, g.id) == (cloth_id, ground_id)]
        if len(grounds) != 1:
            return None
        lean_deg = math.remainder(grounds[0].up_deg, 90.0)
        points = [p for ring, _ in grounds[0].usable.parts() for p in turned(ring, -lean_deg)]
        if not points:
            return None
        found.append(rounded_bounds(points, inward=False))
    return found


def _groups(question: Question, sheets: Sequence[Sheet], certificate: Sequence[LineWeights]) -> list[_Group]:
    """The pieces that can lie on no other sheet, alike ones together; only upright rectangles."""
    weighed = [_by_piece(lines) for lines in certificate]
    found: Counter[tuple[tuple[tuple[int, Size], ...], tuple[tuple[int, ...], ...]]] = Counter()
    for piece in question.pieces:
        options: dict[tuple[int, Size], None] = {}
        confined = fills_its_box(piece.outline_mm) and bool(piece.turns_deg)
        for _, _, cloth, ground in homes(question, piece):
            if ground.usable.is_empty:
                continue
            if (cloth.id, ground.id) not in sheets:
                confined = False
                break
            for deg in piece.turns_deg or ():
                ring = turned(piece.outline_mm, ground.up_deg + deg - math.remainder(ground.up_deg, 90.0))
                confined = confined and fills_its_box(ring)
                xs, ys = [x for x, _ in ring], [y for _, y in ring]
                size = round(max(xs) - min(xs), 6), round(max(ys) - min(ys), 6)
                options[sheets.index((cloth.id, ground.id)), size] = None
        if confined and options:
            own = tuple(sorted(options))
            weights = tuple(tuple(w.get((piece.id, number, size), 0) for number, size in own) for w in weighed)
            found[own, weights] += 1
    return [_Group(count, options, weights) for (options, weights), count in found.items()]


def _by_piece(lines: LineWeights) -> dict[tuple[str, int, Size], int]:
    return {
        (piece, sheet, (round(width_mm, 6), round(height_mm, 6))): weight
        for pieces, own in lines.pieces
        for piece in pieces
        for sheet, width_mm, height_mm, weight in own
    }


_Parting = tuple[tuple[tuple[Size, ...], int], ...]  # for each part of each group: the sizes it may take, how many


def _partings(groups: Sequence[_Group]) -> Iterator[list[_Parting]]:
    """Every way to part the pieces by how they lie; the pieces whole where those are too many."""
    ways = [list(_parts(group.count, len(group.sizes))) for group in groups]
    if math.prod(map(len, ways)) > _MOST_PARTINGS:
        yield [((tuple(group.sizes), group.count),) for group in groups]
        return
    for choice in itertools.product(*ways):
        yield [
            tuple(((size,), count) for size, count in zip(group.sizes, counts, strict=True))
            for group, counts in zip(groups, choice, strict=True)
        ]


def _parts(count: int, ways: int) -> Iterator[tuple[int, ...]]:
    """All ways to share a count out."""
    for bars in itertools.combinations(range(count + ways - 1), ways - 1):
        edges = (-1, *bars, count + ways - 1)
        yield tuple(right - left - 1 for left, right in itertools.pairwise(edges))


class _Look:
    """One set of weights: what each line of each sheet carries at most, whatever the parting."""

    def __init__(
        self, lines: LineWeights, rooms: Sequence[Bounds], groups: Sequence[_Group], number: int, gap_mm: float
    ) -> None:
        self._ways, self._groups, self._number = lines.ways, groups, number
        self._gap = math.floor(gap_mm * _UNITS_A_MM)
        self._carried = 0
        for sheet, (room, way) in enumerate(zip(rooms, lines.ways, strict=True)):
            wide, high = (
                -(-(far - near) // 10) + _LOOSE for near, far in ((room.left, room.right), (room.top, room.bottom))
            )
            line, length = (wide, high) if way == "across" else (high, wide)
            top = self._heaviest(sheet, line + self._gap)
            self._carried += top * (length if self._gap else self._useful(sheet, length))

    def _measures(self, sheet: int, size: Size) -> tuple[int, int]:
        """Measure along the line and across it, in whole units, a little short."""
        wide, high = (max(math.floor((length - 0.01) * _UNITS_A_MM + 1e-6), 0) for length in size)
        return (wide, high) if self._ways[sheet] == "across" else (high, wide)

    def _offers(self, sheet: int) -> Iterator[tuple[int, int, Size, int]]:
        """Group, how many, size and weight of all that may lie on a sheet."""
        for at, group in enumerate(self._groups):
            for (on, size), weight in zip(group.options, group.weights[self._number], strict=True):
                if on == sheet:
                    yield at, group.count, size, weight

    def _heaviest(self, sheet: int, line: int) -> int:
        """The most that pieces beside each other on a line weigh: best weights by room used, each better than the last.

        Pieces of a group in one way to lie and in another count as if there were so many of each.
        """
        used, best = [0], [0]
        # Over a long line in coarser units: pieces a little narrower, the line a little wider.
        unit = -(-line // _MOST_ROOM)
        line = -(-line // max(unit, 1))
        for _, count, size, weight in self._offers(sheet):
            width = (self._measures(sheet, size)[0] + self._gap) // max(unit, 1)
            for _ in range(min(count, line // width if width > 0 else count) if weight else 0):
                used, best = _merged(used, best, width, weight, line)
        return best[-1]

    def _useful(self, sheet: int, length: int) -> int:
        """The greatest sum of measures across within the length: pieces pushed together end there."""
        if length > _MOST_SUMS:
            return length
        sums, within = 1, (1 << (length + 1)) - 1
        for group in self._groups:
            # A piece pushed up may lie below pieces of any sheet's measures; taking all of them only finds more sums.
            measures = {self._measures(sheet, size)[1] for _, size in group.options}
            for _ in range(group.count):
                grown = sums
                for measure in measures:
                    grown |= (sums << measure) & within
                if grown == sums:
                    break
                sums = grown
        return sums.bit_length() - 1

    def refuses(self, parting: Sequence[_Parting]) -> bool:
        """Whether the loads of the pieces so parted come to more than all lines carry."""
        loaded = 0
        for group, parts in zip(self._groups, parting, strict=True):
            for sizes, count in parts:
                loads = [
                    weight * self._measures(sheet, size)[1]
                    for (sheet, size), weight in zip(group.options, group.weights[self._number], strict=True)
                    if size in sizes
                ]
                loaded += count * min(loads)
        return loaded > self._carried


def _merged(used: list[int], best: list[int], width: int, weight: int, line: int) -> tuple[list[int], list[int]]:
    """One more piece may be taken: the room used and the best weight, rising both."""
    end = bisect_right(used, line - width)
    taken = ((room + width, total + weight) for room, total in zip(used[:end], best[:end], strict=True))
    merged = sorted([*zip(used, best, strict=True), *taken])
    rooms, weights = [0], [0]
    for room, total in merged:
        if total > weights[-1]:
            if room == rooms[-1]:
                weights[-1] = total
            else:
                rooms.append(room)
                weights.append(total)
    return rooms, weights
