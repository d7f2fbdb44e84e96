"""Sewing stations: where along the fold the thread goes through, measured from the head of the page."""

from __future__ import annotations

from itertools import pairwise

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.rules.belonging import belongs
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["is_sewn", "mirrored_mm", "page_height_mm", "pairs_mm", "sewing_figure", "stations_mm"]


def is_sewn(book: Book) -> bool:
    """False for an accordion, which is glued to its boards, a slipcase, whose book is finished, and a list of parts.

    >>> is_sewn(Book("b", "Ledger")), is_sewn(Book("b", "Ledger", "accordion"))
    (True, False)
    """
    return belongs("sewing", book.structure)


def stations_mm(book: Book, volume: Volume) -> tuple[float, ...]:
    """The stations of a volume in mm from the head of the page, sorted; () for a structure that is not sewn.

    `even`: equal spaces between the first and the last, one alone in the middle. `pairs`: the twos are spaced so as
    wholes, the first hole and the last at the ends; one pair alone lies in the middle; a number by the rule is made
    even. `ends`: two holes at each end. `own`: as given. BadInput: figures out of range, stations that meet or pass
    each other on this page, own stations off the page or twice the same.

    >>> from coverlayout.book.book import Sewing
    >>> book = Book("b", "Ledger", page_mm=(114.3, 152.4), sewing=Sewing(count=5, end_mm=19.05))
    >>> [round(station / 25.4, 3) for station in stations_mm(book, book.volumes[0])]
    [0.75, 1.875, 3.0, 4.125, 5.25]
    """
    if not is_sewn(book):
        return ()
    height_mm = page_height_mm(measures(book, volume))
    if book.sewing.rule == "own":
        return _own(book, height_mm)
    if book.sewing.rule == "even":
        return _even(book, height_mm)
    return tuple(station for pair in pairs_mm(book, volume) for station in pair)


def pairs_mm(book: Book, volume: Volume) -> tuple[tuple[float, float], ...]:
    """The stations in twos, each two sewn with a thread of their own; () where they are not paired.

    >>> from coverlayout.book.book import Sewing
    >>> book = Book("b", "Ledger", page_mm=(100.0, 150.0), sewing=Sewing("ends", end_mm=20.0, pair_mm=15.0))
    >>> pairs_mm(book, book.volumes[0])
    ((20.0, 35.0), (115.0, 130.0))
    """
    if not is_sewn(book) or book.sewing.rule not in ("pairs", "ends"):
        return ()
    height_mm = page_height_mm(measures(book, volume))
    pairs = 2 if book.sewing.rule == "ends" else _count(book) // 2
    pair_mm = sewing_figure(book, "station pair", book.sewing.pair_mm)
    if pairs == 1:
        _check_room(book, pair_mm, height_mm)
        return (((height_mm - pair_mm) / 2, (height_mm + pair_mm) / 2),)
    end_mm = sewing_figure(book, "station end", book.sewing.end_mm)
    _check_room(book, 2 * end_mm + pairs * pair_mm, height_mm)
    return tuple((start, start + pair_mm) for start in _spread(end_mm, height_mm - end_mm - pair_mm, pairs))


def mirrored_mm(stations: tuple[float, ...], height_mm: float) -> tuple[float, ...]:
    """The same stations measured from the other end of the page, sorted: where head and tail swap.

    >>> mirrored_mm((10.0, 30.0, 90.0), 100.0)
    (10.0, 70.0, 90.0)
    """
    return tuple(height_mm - station for station in reversed(stations))


def page_height_mm(made: Measures) -> float:
    """Height of the page; where only boards are known, their height less the squares."""
    if made.page_mm is not None:
        return made.page_mm[1]
    return made.board_mm[1] - made.square_mm - made.tail_square_mm


def sewing_figure(book: Book, name: str, given_mm: float | None) -> float:
    """The maker's figure, else that of the rule; BadInput when it lies outside the rule's range."""
    row = rule(name, book.structure)
    return row.figure() if given_mm is None else row.check(given_mm, where=f"{book.name}: {name}")


def _count(book: Book) -> int:
    """How many stations, even where they are paired; BadInput for an odd number of paired ones."""
    row, paired = rule("stations", book.structure), book.sewing.rule == "pairs"
    if book.sewing.count is None:
        by_rule = round(row.value)
        return by_rule + by_rule % 2 if paired else by_rule
    count = book.sewing.count
    if not row.accepts(count):
        where = f"{book.name}: stations"
        raise BadInput("count-out-of-range", where=where, found=count, least=round(row.least), most=round(row.most))
    if paired and count % 2:
        raise BadInput("stations-odd", book=book.name, found=count)
    return count


def _even(book: Book, height_mm: float) -> tuple[float, ...]:
    count = _count(book)
    if count == 1:
        return (height_mm / 2,)
    end_mm = sewing_figure(book, "station end", book.sewing.end_mm)
    _check_room(book, 2 * end_mm, height_mm)
    return _spread(end_mm, height_mm - end_mm, count)


def _own(book: Book, height_mm: float) -> tuple[float, ...]:
    stations = tuple(sorted(book.sewing.own_mm))
    if not stations:
        raise BadInput("stations-none", book=book.name)
    for station_mm in stations:
        if not 0 <= station_mm <= height_mm:
            raise BadInput("station-off-page", book=book.name, station_mm=station_mm, height_mm=height_mm)
    for station_mm, next_mm in pairwise(stations):
        if next_mm - station_mm <= SAME_LENGTH_MM:
            raise BadInput("station-twice", book=book.name, station_mm=station_mm)
    return stations


def _spread(first_mm: float, last_mm: float, count: int) -> tuple[float, ...]:
    """So many places in equal spaces, two or more, the first and the last exactly where they are said to be."""
    step_mm = (last_mm - first_mm) / (count - 1)
    return (*(first_mm + k * step_mm for k in range(count - 1)), last_mm)


def _check_room(book: Book, taken_mm: float, height_mm: float) -> None:
    """BadInput when the ends and the pairs leave nothing between, so that holes would meet or pass each other."""
    if taken_mm >= height_mm - SAME_LENGTH_MM:
        raise BadInput("stations-no-room", book=book.name, taken_mm=taken_mm, height_mm=height_mm)
