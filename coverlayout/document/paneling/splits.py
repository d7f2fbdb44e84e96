"""Ways to cut a cloth into panels no larger than some sheet: few panels, lines straight through, several tries.

A plan says how many strips are cut first, across or along, and how large the panels of each strip may be; each plan
leads to a few splits, whose lines lie where pieces are likely to end.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["Wishes", "splits"]

# Besides the fewest panels, plans with so many more are tried.
_MORE_PANELS = 2
# So many splits are tried of one plan; a panel narrower than this is none where another way divides as well.
_OF_A_PLAN, _LEAST_MM = 10, 10.0
# Ways to divide one length that are looked at, and combinations of sizes gone through for them.
_MOST_DIVISIONS, _MOST_COMBINED = 10, 2_000
# Sums of sizes of so many pieces are where a line may lie.
_PIECES_IN_ROW = 4


@dataclass(frozen=True)
class Wishes:
    """Where lines would do good: lengths that pieces need beside each other, and lines that cross none as they lie.

    `across_mm` and `along_mm` are sizes of single pieces as they may lie; `strip_mm` is lost at each edge of a panel.
    """

    across_mm: tuple[float, ...] = ()
    along_mm: tuple[float, ...] = ()
    clear_x_mm: tuple[float, ...] = ()
    clear_y_mm: tuple[float, ...] = ()
    strip_mm: float = 0.0


@dataclass(frozen=True)
class _Plan:
    """Strips of a cloth, beside each other (`columns`) or below: the largest panel each allows, how many it has."""

    columns: bool
    strips: tuple[Point, ...]
    panels: tuple[int, ...]


def splits(
    box: Box, largest: Sequence[Point], wishes: Wishes = Wishes(), *, most: int = 40
) -> Iterator[tuple[Box, ...]]:
    """Splits of a box into panels each of which fits one of the `largest` sizes (across, along; inf for no limit).

    Those with the fewest panels come first, `most` in all. Where the box itself is no larger there is but one, itself.

    >>> [len(split) for split in splits(Box(0.0, 0.0, 500.0, 300.0), [(200.0, 300.0), (300.0, 200.0)], most=1)]
    [3]
    """
    if any(_fits((box.width_mm, box.height_mm), size) for size in largest):
        yield (box,)
        return
    seen: set[tuple[Box, ...]] = set()
    for found in _by_count(box, largest, wishes):
        if found not in seen:
            seen.add(found)
            yield found
            if len(seen) >= most:
                return


def _by_count(box: Box, largest: Sequence[Point], wishes: Wishes) -> Iterator[tuple[Box, ...]]:
    """Of all plans with as many panels the best split of each, then the next best of each."""
    for _, plans in itertools.groupby(_plans(box, largest), key=lambda plan: sum(plan.panels)):
        ways = [itertools.islice(_of_plan(box, plan, wishes), _OF_A_PLAN) for plan in plans]
        for turn in itertools.zip_longest(*ways):
            yield from (found for found in turn if found is not None)


def _fits(size: Point, largest: Point) -> bool:
    return size[0] <= largest[0] + SAME_LENGTH_MM and size[1] <= largest[1] + SAME_LENGTH_MM


def _plans(box: Box, largest: Sequence[Point]) -> list[_Plan]:
    """Plans with the fewest panels and a few more, the fewest first; plain grids before strips that differ."""
    found: list[tuple[tuple[int, int, int], _Plan]] = []
    for columns in (True, False):
        main, cross = (box.width_mm, box.height_mm) if columns else (box.height_mm, box.width_mm)
        sizes = sorted({size if columns else size[::-1] for size in largest}, reverse=True)
        for counts in _strip_counts(main, [size[0] for size in sizes]):
            strips = tuple(size for size, count in zip(sizes, counts, strict=True) for _ in range(count))
            fewest = tuple(_parts(cross, size[1]) for size in strips)
            kinds = len(set(strips))
            found.append(((sum(fewest), kinds, len(strips)), _Plan(columns, strips, fewest)))
            more = tuple(number + 1 for number in fewest)
            found.append(((sum(more), kinds, len(strips)), _Plan(columns, strips, more)))
    least = min(rank[0] for rank, _ in found)
    ranked = sorted((one for one in found if one[0][0] <= least + _MORE_PANELS), key=lambda one: one[0])
    return [plan for _, plan in ranked]


def _parts(length: float, most: float) -> int:
    return max(math.ceil((length - SAME_LENGTH_MM) / most), 1)


def _strip_counts(length: float, widths: list[float]) -> Iterator[tuple[int, ...]]:
    """How many strips of each width make up a length, none more than needed; and plain ones with one strip more."""
    needed = [_parts(length, width) for width in widths]
    for counts in itertools.product(*(range(number + 1) for number in needed)):
        have = sum(count * width for count, width in zip(counts, widths, strict=True) if count)
        fewer = min((width for count, width in zip(counts, widths, strict=True) if count), default=math.inf)
        if have >= length - SAME_LENGTH_MM and have - fewer < length - SAME_LENGTH_MM:
            yield counts
    for k, number in enumerate(needed):
        yield tuple(number + 1 if j == k else 0 for j in range(len(widths)))


def _of_plan(box: Box, plan: _Plan, wishes: Wishes) -> Iterator[tuple[Box, ...]]:
    """The splits of one plan: each way to divide the main length with each for the strips, the best of both first."""
    across = wishes.across_mm, wishes.clear_x_mm, box.left_mm, box.width_mm
    along = wishes.along_mm, wishes.clear_y_mm, box.top_mm, box.height_mm
    first, second = (across, along) if plan.columns else (along, across)
    mains = _divisions(first, [size[0] for size in plan.strips], wishes.strip_mm)
    limits = [(size[1], count) for size, count in zip(plan.strips, plan.panels, strict=True)]
    crosses = {limit: _divisions(second, [limit[0]] * limit[1], wishes.strip_mm) for limit in dict.fromkeys(limits)}
    deepest = max(len(ways) for ways in crosses.values())
    pairs = sorted(itertools.product(range(len(mains)), range(deepest)), key=lambda pair: (sum(pair), pair))
    for number, depth in pairs:
        strips = [crosses[limit][min(depth, len(crosses[limit]) - 1)] for limit in limits]
        yield tuple(_boxes(box, plan.columns, mains[number], strips))


def _boxes(box: Box, columns: bool, main: tuple[float, ...], strips: list[tuple[float, ...]]) -> Iterator[Box]:
    start, cross_start = (box.left_mm, box.top_mm) if columns else (box.top_mm, box.left_mm)
    for width, parts in zip(main, strips, strict=True):
        at = cross_start
        for part in parts:
            yield Box(start, at, width, part) if columns else Box(at, start, part, width)
            at += part
        start += width


def _divisions(
    of: tuple[tuple[float, ...], tuple[float, ...], float, float], most: list[float], strip_mm: float
) -> list[tuple[float, ...]]:
    """Ways to divide a length into parts no longer than `most`, the most hopeful first.

    Lines that cross no piece as it lies now; parts that just hold some pieces, what is over shared out; as long as can
    be from either end; all alike.
    """
    sizes, clear, start, length = of
    if len(most) == 1:
        return [(length,)]
    found = [*_clear_divisions(clear, start, length, most), *_holding(sizes, length, most, strip_mm)]
    plain = [_longest(length, most), _longest(length, most[::-1])[::-1], _alike(length, most)]
    # The plain ones come between the hopeful ones, so that none is far down.
    mixed = [part for pair in itertools.zip_longest(found, plain) for part in pair if part is not None]
    kept: list[tuple[float, ...]] = []
    for parts in mixed:
        if not any(all(abs(a - b) < 0.5 for a, b in zip(parts, other, strict=True)) for other in kept):
            kept.append(parts)
    wide = [parts for parts in kept if min(parts) >= _LEAST_MM]
    return (wide or kept)[:_MOST_DIVISIONS]


def _longest(length: float, most: list[float]) -> tuple[float, ...]:
    """Every part as long as can be, so that the last is the rest; none shorter than nothing."""
    parts: list[float] = []
    for k, limit in enumerate(most):
        left = len(most) - k - 1
        # Something is left for every further part, so that none is empty.
        least_left = left * min(1.0, length / (2 * len(most)))
        parts.append(min(limit, length - math.fsum(parts) - least_left) if left else length - math.fsum(parts))
    return tuple(parts)


def _alike(length: float, most: list[float]) -> tuple[float, ...]:
    """Parts in the proportion of what each may be; alike where that has no limit."""
    if any(math.isinf(limit) for limit in most):
        return _longest(length, [min(limit, length / len(most)) for limit in most])
    return tuple(limit * length / math.fsum(most) for limit in most)


def _clear_divisions(
    clear: Sequence[float], start: float, length: float, most: list[float]
) -> Iterator[tuple[float, ...]]:
    """Divisions along lines that cross no piece, each part as long as those lines allow."""
    ends = [*sorted(line - start for line in clear if 0.0 < line - start < length), length]
    at, parts = 0.0, []
    for limit in most[:-1]:
        reach = [end for end in ends if at < end <= at + limit + SAME_LENGTH_MM and end < length]
        if not reach:
            return
        parts.append(reach[-1] - at)
        at = reach[-1]
    if length - at <= most[-1] + SAME_LENGTH_MM:
        yield (*parts, length - at)


def _holding(sizes: Sequence[float], length: float, most: list[float], strip_mm: float) -> Iterator[tuple[float, ...]]:
    """Divisions whose parts each hold a row of pieces, those first that leave least over."""
    rows = sorted(_rows(sizes, max(most), strip_mm), reverse=True)
    if not rows:
        return
    deep = max(int(_MOST_COMBINED ** (1 / len(most))), 2)
    found = []
    for parts in itertools.islice(itertools.product(rows[:deep], repeat=len(most)), _MOST_COMBINED):
        over = length - math.fsum(parts)
        shared = [part + over / len(parts) for part in parts]
        if over >= 0.0 and all(part <= limit + SAME_LENGTH_MM for part, limit in zip(shared, most, strict=True)):
            found.append((over, tuple(shared)))
    yield from (parts for _, parts in sorted(found)[: 2 * _MOST_DIVISIONS])


def _rows(sizes: Sequence[float], most: float, strip_mm: float) -> set[float]:
    """The lengths of rows of a few pieces with the strip at both ends."""
    rows: set[float] = set()
    last = {0.0}
    for _ in range(_PIECES_IN_ROW):
        last = {round(row + size, 3) for row in last for size in sizes}
        last = {row for row in last if row + 2 * strip_mm <= most}
        rows |= last
    return {row + 2 * strip_mm for row in rows}
