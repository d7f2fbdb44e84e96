"""What is worth saying about holes and stations: too near an edge, in a joint, or where the paper would tear."""

from __future__ import annotations

from itertools import pairwise

from coverlayout.book.book import Book, Volume
from coverlayout.book.measures import Measures, measures
from coverlayout.book.rules.table import rule
from coverlayout.book.sewing.holes import Hole, holes
from coverlayout.book.sewing.stations import is_sewn, page_height_mm, stations_mm
from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["clearance_notes"]


def clearance_notes(book: Book, volume: Volume) -> tuple[Remark, ...]:
    """Remarks on the holes of a volume; () where everything holds, and for a structure that is not sewn.

    Looked at are the holes of the front board (those of the back lie alike) against its edges, and against hinge and
    joint of a side-sewn cover; the stations against head and tail of the page and against each other; and figures of
    the maker's own that are unusual. The least distances are the rules `hole to edge`, `station to end` and
    `station apart`. BadInput as `stations_mm` and `holes`.

    >>> from coverlayout.book.book import Sewing
    >>> sewing = Sewing("own", own_mm=(20.0, 22.0, 130.0))
    >>> book = Book("b", "Ledger", page_mm=(100.0, 150.0), sewing=sewing)
    >>> [remark.code for remark in clearance_notes(book, book.volumes[0])]
    ['stations-near']
    """
    if not is_sewn(book):
        return ()
    made = measures(book, volume)
    front = tuple(hole for hole in holes(book, volume) if hole.board == "front")
    stations = stations_mm(book, volume)
    return (
        *_in_board(book, made, front),
        *_in_hinge(book, made, front),
        *_in_page(book, page_height_mm(made), stations),
        *_apart(book, stations),
        *_unusual(book),
    )


def _near(found_mm: float, least_mm: float) -> bool:
    return found_mm < least_mm - SAME_LENGTH_MM


def _in_board(book: Book, made: Measures, front: tuple[Hole, ...]) -> tuple[Remark, ...]:
    """Holes against the four edges of the board; those off the board altogether are said first and alone."""
    if not front:
        return ()
    width, height = made.board_mm
    edges = (
        ("spine edge", min(hole.x_mm for hole in front)),
        ("fore-edge", width - max(hole.x_mm for hole in front)),
        ("head", min(hole.y_mm for hole in front)),
        ("tail", height - max(hole.y_mm for hole in front)),
    )
    least_mm = rule("hole to edge", book.structure).figure()
    off = [edge for edge, found_mm in edges if found_mm < 0]
    if off:
        return (Remark.of("hole-off-board", book=book.name, edge=off[0]),)
    return tuple(
        Remark.of("hole-near-edge", book=book.name, edge=edge, hole_exact_mm=found_mm, least_exact_mm=least_mm)
        for edge, found_mm in edges
        if _near(found_mm, least_mm)
    )


def _in_hinge(book: Book, made: Measures, front: tuple[Hole, ...]) -> tuple[Remark, ...]:
    """The holes of a side-sewn cover belong in its hinge strip, clear of the joint in which it turns."""
    if not front or made.hinge_mm <= 0:
        return ()
    hole_mm, hinge_mm = front[0].x_mm, made.hinge_mm
    if hole_mm > hinge_mm + made.joint_mm:
        return (Remark.of("hole-beyond-joint", book=book.name, hole_exact_mm=hole_mm, hinge_exact_mm=hinge_mm),)
    if hole_mm > hinge_mm:
        return (Remark.of("hole-in-joint", book=book.name, hole_exact_mm=hole_mm, hinge_exact_mm=hinge_mm),)
    least_mm = rule("hole to edge", book.structure).figure()
    if not _near(hinge_mm - hole_mm, least_mm):
        return ()
    return (
        Remark.of(
            "hole-near-joint",
            book=book.name,
            hole_exact_mm=hole_mm,
            hinge_exact_mm=hinge_mm,
            least_exact_mm=least_mm,
        ),
    )


def _in_page(book: Book, height_mm: float, stations: tuple[float, ...]) -> tuple[Remark, ...]:
    """The first and the last hole against head and tail: in a fold they tear sooner than through a whole block."""
    name = "hole to edge" if book.structure == "side-sewn" else "station to end"
    least_mm = rule(name, book.structure).figure()
    ends = (("head", stations[0]), ("tail", height_mm - stations[-1]))
    return tuple(
        Remark.of("station-near-end", book=book.name, end=end, hole_exact_mm=found_mm, least_exact_mm=least_mm)
        for end, found_mm in ends
        if _near(found_mm, least_mm)
    )


def _apart(book: Book, stations: tuple[float, ...]) -> tuple[Remark, ...]:
    least_mm = rule("station apart", book.structure).figure()
    found_mm = min((after - before for before, after in pairwise(stations)), default=least_mm)
    if not _near(found_mm, least_mm):
        return ()
    return (Remark.of("stations-near", book=book.name, apart_exact_mm=found_mm, least_exact_mm=least_mm),)


def _unusual(book: Book) -> tuple[Remark, ...]:
    """Figures of the maker's own, out of what is usual, as far as they count under the rule for the stations."""
    sewing = book.sewing
    given = [("hole from spine", sewing.hole_from_spine_mm)]
    if sewing.rule in ("pairs", "ends"):
        given.append(("station pair", sewing.pair_mm))
    if sewing.rule != "own":
        given.append(("station end", sewing.end_mm))
    rows = [(rule(name, book.structure), given_mm) for name, given_mm in given if given_mm is not None]
    return tuple(row.unusual_said(given_mm, book=book.name) for row, given_mm in rows if row.unusual(given_mm))
