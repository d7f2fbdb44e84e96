"""The exhaustive search for a whole job: every choice of poses, and in each every relation of the pieces."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator

from coverlayout.layout.positions.relations import Found, Relations
from coverlayout.layout.positions.seats import Seats
from coverlayout.layout.search.effort import Effort
from coverlayout.layout.search.filling import Filled, Seat
from coverlayout.layout.search.sheets import Pose, RectangularJob, Sheet

__all__ = ["MOST_PIECES", "every_layout", "filled_of", "is_small", "only_sheet"]

# Above these the exhaustive search is not begun.
MOST_PIECES = 8
_MOST_BLOCKS = 12


def only_sheet(job: RectangularJob) -> int | None:
    """The number of the one sheet that all pieces must come from, when the job is small enough; else None."""
    used = {number for item in job.items for number, poses in enumerate(item.poses) if poses}
    if len(used) != 1 or not 1 <= len(job.items) <= MOST_PIECES or not all(any(item.poses) for item in job.items):
        return None
    sheet = used.pop()
    return sheet if is_small(job.sheets[sheet]) else None


def is_small(sheet: Sheet) -> bool:
    """True when no more is in the way on a sheet than the exhaustive search can look at."""
    return len(sheet.blocks) <= _MOST_BLOCKS


def every_layout(
    job: RectangularJob,
    sheet: int,
    effort: Effort,
    room_mm: float,
    found: Callable[[Found], None],
    *,
    slack_mm: float = 0.0,
    rising: bool = True,
) -> float:
    """Search all layouts of the job with at least `room_mm`, asking for more after each one found.

    Answers the room asked for last, mm: no layout has as much. With `slack_mm` every demand is that much looser.
    OutOfSteps or CutShort from the effort: nothing is proved then. Layouts hold the pieces in the order of the job.
    Not `rising`: see Relations; only layouts without diagonal corners.
    """
    for diagonals in (False, True) if rising else (False,):
        for order, poses in _choices(job, sheet):
            seats = Seats(job.sheets[sheet], poses, job.gap_mm, slack_mm)
            effort.spend()
            room_mm = Relations(
                seats,
                effort,
                room_mm,
                # mypy infers no type for a lambda with a default; the default keeps what this round of the loop has.
                lambda layout, order=order: found(_in_order(layout, order)),  # type: ignore[misc]
                diagonals=diagonals,
                rising=rising,
            ).run()
    return room_mm


def filled_of(layout: Found, sheet: int) -> Filled:
    """A layout of the search as seats on its sheet."""
    return tuple(Seat(sheet, pose, left, top) for pose, (left, top) in zip(layout.poses, layout.places, strict=True))


def _choices(job: RectangularJob, sheet: int) -> Iterator[tuple[list[int], list[Pose]]]:
    """Every choice of a pose for each piece, equal pieces counted once; with the pieces' numbers in the same order."""
    alike: dict[object, list[int]] = {}
    for number, item in enumerate(job.items):
        alike.setdefault(item.shape_key(), []).append(number)
    order = [number for group in alike.values() for number in group]
    # Equal pieces fill equal boxes, pose by pose, but each has its own anchor (and turn) in them.
    picks = [
        itertools.combinations_with_replacement(range(len(job.items[group[0]].poses[sheet])), len(group))
        for group in alike.values()
    ]
    for choice in itertools.product(*picks):
        poses = zip(order, itertools.chain.from_iterable(choice), strict=True)
        yield order, [job.items[number].poses[sheet][pose] for number, pose in poses]


def _in_order(layout: Found, order: list[int]) -> Found:
    places = dict(zip(order, zip(layout.poses, layout.places, strict=True), strict=True))
    ranked = [places[number] for number in range(len(order))]
    return Found(layout.room_mm, tuple(pose for pose, _ in ranked), tuple(place for _, place in ranked))
