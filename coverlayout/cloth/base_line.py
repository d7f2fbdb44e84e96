"""The base line: two places where the same motif falls tell how a print really lies, and what to measure from."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from coverlayout.cloth.cloth import BaseLine, Cloth
from coverlayout.cloth.usable import laid_to_cloth
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import Affine, Point, shift, turn
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint

__all__ = [
    "MOST_STRETCH_PERCENT",
    "LineFound",
    "MotifPlace",
    "base_line_now",
    "check_base_line",
    "cloth_to_line",
    "is_lengthwise",
    "laid_by",
    "laid_now",
    "line_turn_deg",
    "nearest_readings",
    "nearest_repeats",
    "similarity",
    "way_between",
]

# More than this no printing or washing does to a print that was measured before: another motif was taken for the same.
# Common practice, no source.
MOST_STRETCH_PERCENT = 20.0


@dataclass(frozen=True)
class MotifPlace:
    """Where one motif was found on the cloth as it now is, and how many whole repeats (along a, b) from the first."""

    at_mm: Point
    repeats: tuple[int, int] = (0, 0)


@dataclass(frozen=True)
class LineFound:
    """How the print lies by the motifs found, and how that differs from how it was laid.

    `turned_deg` clockwise, `stretch_percent` the same in every direction, `off_mm` the way from the motif that agrees
    least to where the print then has it (0 with two motifs, which always agree).
    """

    laid: LaidPrint
    turned_deg: float
    stretch_percent: float
    off_mm: float


def check_base_line(line: BaseLine, where: str) -> None:
    """BadInput when both ends lie on one point, so that the line has no direction."""
    if math.dist(line.start_mm, line.end_mm) <= SAME_LENGTH_MM:
        raise BadInput("base-line-one-point", where=where)


def base_line_now(cloth: Cloth) -> tuple[Point, Point] | None:
    """Start and end of the base line on the cloth as it now is; None without a base line.

    >>> from coverlayout.cloth.cloth import Change
    >>> line = BaseLine((100.0, 50.0), (300.0, 50.0))
    >>> base_line_now(Cloth("c", "swatch", 400.0, 300.0, changes=(Change("washing", -3.0, -2.0),), base_line=line))
    ((97.0, 49.0), (291.0, 49.0))
    """
    line = cloth.base_line
    if line is None:
        return None
    now = cloth.change_after(line.changes_in)
    return now.at(line.start_mm), now.at(line.end_mm)


def line_turn_deg(start_mm: Point, end_mm: Point) -> float:
    """The direction of a line, clockwise from straight to the right, above -180 up to 180.

    >>> line_turn_deg((0.0, 0.0), (0.0, 5.0))
    90.0
    """
    return math.degrees(math.atan2(end_mm[1] - start_mm[1], end_mm[0] - start_mm[0]))


def is_lengthwise(start_mm: Point, end_mm: Point) -> bool:
    """True for a line that runs more up and down than from side to side."""
    return abs(end_mm[1] - start_mm[1]) > abs(end_mm[0] - start_mm[0])


def cloth_to_line(start_mm: Point, end_mm: Point) -> Affine:
    """The frame the line was given in to the line's own: x along it from its start to its end, y across it.

    Whichever end it was drawn from, across is above 0 to the right of a line that runs up and down, and below a line
    that runs from side to side, so that it grows as a ruler on the cloth does. Take both points as seen from one side
    of the cloth, and the answer is for that side.

    >>> [cloth_to_line(*ends).at((7.0, 20.0)) for ends in (((10.0, 0.0), (10.0, 90.0)), ((10.0, 90.0), (10.0, 0.0)))]
    [(20.0, -3.0), (70.0, -3.0)]
    """
    to_line = shift(-start_mm[0], -start_mm[1]).then(turn(-line_turn_deg(start_mm, end_mm)))
    probe = (1.0, 0.0) if is_lengthwise(start_mm, end_mm) else (0.0, 1.0)
    return to_line if to_line.vector(probe)[1] > 0 else to_line.then(Affine(yy=-1.0))


def similarity(from_mm: Sequence[Point], to_mm: Sequence[Point]) -> Affine:
    """The turn, shift and uniform stretch that brings one list of places nearest to the other, by least squares.

    Exact for two places; it never mirrors. BadInput when the places to come from all lie on one point. Source: the
    plane as complex numbers, where such a map is z' = c z + d and c, d a linear least-squares problem.

    >>> similarity([(0.0, 0.0), (10.0, 0.0)], [(5.0, 5.0), (5.0, 25.0)]).at((0.0, 3.0))
    (-1.0, 5.0)
    """
    ours, theirs = [complex(*point) for point in from_mm], [complex(*point) for point in to_mm]
    our_middle, their_middle = sum(ours) / len(ours), sum(theirs) / len(theirs)
    ways = [place - our_middle for place in ours]
    weight = sum(abs(way) ** 2 for way in ways)
    if weight <= SAME_LENGTH_MM**2:
        raise BadInput("base-line-one-motif")
    c = sum(way.conjugate() * (place - their_middle) for way, place in zip(ways, theirs, strict=True)) / weight
    d = their_middle - c * our_middle
    return Affine(c.real, -c.imag, c.imag, c.real, d.real, d.imag)


def nearest_repeats(cloth: Cloth, laid: LaidPrint, lattice: Lattice, start_mm: Point, end_mm: Point) -> tuple[int, int]:
    """How many whole repeats lie between two places, by how the print is laid at present: the nearest whole number.

    `lattice` is the print's own. For plain stripes the steps along b are 0.

    >>> nearest_repeats(Cloth("c", "s", 300.0, 300.0), LaidPrint("p"), Lattice((60.0, 0.0), (0.0, 80.0)),
    ...                 (5.0, 5.0), (186.0, 9.0))
    (3, 0)
    """
    return nearest_readings(cloth, laid, lattice, (start_mm, end_mm), 1)[0]


def nearest_readings(
    cloth: Cloth, laid: LaidPrint, lattice: Lattice, ends_mm: tuple[Point, Point], most: int
) -> tuple[tuple[int, int], ...]:
    """The whole numbers of repeats that may lie between two places, the likeliest first."""
    on_cloth, (start_mm, end_mm) = lattice.mapped(laid_to_cloth(cloth, laid)), ends_mm
    vector = (end_mm[0] - start_mm[0], end_mm[1] - start_mm[1])
    # Of a slanted cell the nearest corner need not be the nearest motif; of the shortest vectors' cell it is.
    short = on_cloth.reduced()
    across, along = (math.floor(steps) for steps in short.coordinates(vector))
    rows = range(along - 1, along + 3) if lattice.b_mm else (0,)
    near = [short.point(i, k) for i in range(across - 1, across + 3) for k in rows]
    near.sort(key=lambda motif: _across_mm(short, vector, motif))
    steps = (on_cloth.coordinates(motif) for motif in near[:most])
    return tuple((round(i), round(k)) for i, k in steps)


def _across_mm(lattice: Lattice, vector: Point, motif: Point) -> float:
    """How far a place is from a motif; of stripes, across them."""
    way = (vector[0] - motif[0], vector[1] - motif[1])
    return math.hypot(*(way if lattice.b_mm else lattice.point(*lattice.coordinates(way))))


def way_between(cloth: Cloth, laid: LaidPrint, lattice: Lattice, repeats: tuple[int, int]) -> Point:
    """The way on the cloth over that many whole repeats, as the print is laid at present, in mm."""
    return laid_to_cloth(cloth, laid).vector(lattice.point(*repeats))


def laid_by(
    cloth: Cloth, laid: LaidPrint, lattice: Lattice, places: Sequence[MotifPlace], motif_mm: Point | None = None
) -> LineFound:
    """How the print lies when the same motif falls on all those places: turn, uniform stretch and origin by them.

    What was known before of unlike stretch and skew is kept and turned along; all changes in size are contained.
    `motif_mm` is the motif's place in the print's own frame, None: what is drawn at the first place at present. Two
    places or more. BadInput for plain stripes, for places on one point or without a whole repeat between them, and when
    the print would change its size by more than MOST_STRETCH_PERCENT.

    >>> swatch, dots = Cloth("c", "swatch", 300.0, 300.0), Lattice((50.0, 0.0), (0.0, 50.0))
    >>> found = laid_by(swatch, LaidPrint("p"), dots, (MotifPlace((10.0, 10.0)), MotifPlace((212.0, 10.0), (4, 0))))
    >>> round(found.stretch_percent, 6), found.turned_deg
    (1.0, 0.0)
    """
    if lattice.b_mm is None:
        raise BadInput("base-line-stripes")
    first = places[0]
    if all(math.dist(first.at_mm, place.at_mm) <= SAME_LENGTH_MM for place in places):
        raise BadInput("base-line-one-point", where=cloth.name)
    if all(place.repeats == first.repeats for place in places):
        raise BadInput("base-line-no-repeat")
    before = laid_to_cloth(cloth, laid)
    x_mm, y_mm = before.inverse().at(first.at_mm) if motif_mm is None else motif_mm
    steps = [lattice.point(*place.repeats) for place in places]
    was = [before.at((x_mm + step_x, y_mm + step_y)) for step_x, step_y in steps]
    moved = similarity(was, [place.at_mm for place in places])
    size, angle = cmath.polar(complex(moved.xx, moved.yx))
    stretch_percent = 100 * (size - 1)
    if abs(stretch_percent) > MOST_STRETCH_PERCENT:
        raise BadInput(
            "base-line-stretch", found=f"{stretch_percent:+.0f}", most=f"{MOST_STRETCH_PERCENT:g}", where=cloth.name
        )
    off_mm = max(math.dist(moved.at(place), found.at_mm) for place, found in zip(was, places, strict=True))
    return LineFound(_laid_as(laid, before.then(moved), cloth), math.degrees(angle), stretch_percent, off_mm)


def laid_now(cloth: Cloth, laid: LaidPrint) -> LaidPrint:
    """The print where it lies, by figures that contain all the changes the cloth went through.

    Changes unlike each other across and along turn and skew a print that lies crooked.

    >>> from coverlayout.cloth.cloth import Change
    >>> washed = Cloth("c", "swatch", 300.0, 300.0, changes=(Change("washing", -4.0, 0.0),))
    >>> found = laid_now(washed, LaidPrint("p", (10.0, 5.0), skew_percent=2.4))
    >>> round(found.stretch_across_percent, 9), round(found.skew_percent, 9), found.origin_mm
    (-4.0, 2.5, (9.6, 5.0))
    """
    if laid.changes_in == len(cloth.changes):
        return laid
    return replace(_laid_as(laid, laid_to_cloth(cloth, laid), cloth), origin_known=laid.origin_known)


def _laid_as(laid: LaidPrint, print_to_cloth: Affine, cloth: Cloth) -> LaidPrint:
    """The print laid by that map, on the cloth as it now is: the map taken apart into stretch, then skew, then turn.

    The turn is that of the print's own lengthwise direction, which stretch and skew leave where it is.
    """
    # Adding nought takes the minus from a nought.
    turn_deg = math.degrees(math.atan2(-print_to_cloth.xy, print_to_cloth.yy)) + 0.0
    along = math.hypot(print_to_cloth.xy, print_to_cloth.yy)
    across, offset = turn(-turn_deg).vector((print_to_cloth.xx, print_to_cloth.yx))
    return replace(
        laid,
        origin_mm=(print_to_cloth.dx, print_to_cloth.dy),
        turn_deg=turn_deg,
        stretch_across_percent=100 * (across - 1),
        stretch_along_percent=100 * (along - 1),
        skew_percent=100 * offset / across,
        origin_known=True,
        changes_in=len(cloth.changes),
    )
