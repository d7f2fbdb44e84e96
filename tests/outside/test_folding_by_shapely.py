"""The cut cloth folded over its board once more by shapely alone: nothing gapes, nothing lies double but the mitres.

Only the cut outline, the ring of the board and the lines of the mitres are taken from a piece. The cloth goes up the
board's edge by its thickness and then lies on the inside. What a mitre leaves standing out past a corner is nipped in
against the edge of the board and lies under the next turn-in; it is not looked at. Of two unequal turn-ins a cut at 45
degrees takes the end of the wider one off slantwise, inside of where the narrower ends: there the liner covers.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pytest
from shapely.affinity import affine_transform
from shapely.geometry import LineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import split, unary_union

from coverlayout.book.binding.full_cloth import pieces_of_full_cloth
from coverlayout.book.binding.separate_boards import pieces_of_separate_boards
from coverlayout.book.book import Book, TurnIns, Volume
from coverlayout.book.pieces import Piece

BOARDS = Book("b", "Ledger", board_mm=(120.0, 170.0), liners="none", volumes=(Volume(1, 20.0),))
NEAR = 1e-6


@dataclass(frozen=True)
class Folded:
    """What lies on the inside of the board, edge by edge, and what covers its edges; the board's box beside it."""

    inside: dict[str, BaseGeometry]
    edges: dict[str, float]
    board: tuple[float, float, float, float]


def fold(piece: Piece, thickness_mm: float) -> Folded:
    rings = [mark.points_mm for mark in piece.marks if mark.kind == "board"]
    left, top, right, bottom = unary_union([Polygon(ring) for ring in rings]).bounds
    cloth: BaseGeometry = Polygon(piece.outline_mm)
    for mark in piece.marks:
        if mark.kind == "mitre":
            (x0, y0), (x1, y1) = mark.points_mm
            line = LineString([(2 * x0 - x1, 2 * y0 - y1), (2 * x1 - x0, 2 * y1 - y0)])
            cloth = max(split(cloth, line).geoms, key=lambda part: part.area)
    far = 1000.0
    # For each edge: the cloth beyond it, as far as the edge is long; the edge of the board itself; and the way inside.
    beyond = {
        "head": (box(left, top - far, right, top), box(left, top - thickness_mm, right, top)),
        "tail": (box(left, bottom, right, bottom + far), box(left, bottom, right, bottom + thickness_mm)),
        "left": (box(left - far, top, left, bottom), box(left - thickness_mm, top, left, bottom)),
        "right": (box(right, top, right + far, bottom), box(right, top, right + thickness_mm, bottom)),
    }
    over = {
        "head": [1, 0, 0, -1, 0, 2 * top - thickness_mm],
        "tail": [1, 0, 0, -1, 0, 2 * bottom + thickness_mm],
        "left": [-1, 0, 0, 1, 2 * left - thickness_mm, 0],
        "right": [-1, 0, 0, 1, 2 * right + thickness_mm, 0],
    }
    face = box(left, top, right, bottom)
    inside = {edge: affine_transform(cloth & beyond[edge][0], over[edge]) & face for edge in beyond}
    bare = {edge: (beyond[edge][1] - cloth).area for edge in beyond}
    return Folded(inside, bare, (left, top, right, bottom))


def frame(folded: Folded, turn_ins: dict[str, float], thickness_mm: float) -> BaseGeometry:
    """What the turn-ins are to cover of the inside: all but the rectangle they leave free."""
    left, top, right, bottom = folded.board
    free = {edge: turn_in - thickness_mm for edge, turn_in in turn_ins.items()}
    middle = box(left + free["left"], top + free["head"], right - free["right"], bottom - free["tail"])
    return box(left, top, right, bottom) - middle


def across(shape: BaseGeometry, corner: tuple[float, float], towards: tuple[int, int], in_mm: float) -> float:
    """How wide a shape is across the line that halves a corner's angle, `in_mm` in from both edges."""
    x, y = corner[0] + towards[0] * in_mm, corner[1] + towards[1] * in_mm
    step = (towards[0] * in_mm, -towards[1] * in_mm)
    return (shape & LineString([(x - step[0], y - step[1]), (x + step[0], y + step[1])])).length


def cut_slantwise_mm2(folded: Folded, lying: dict[str, float], thickness_mm: float, distance_mm: float) -> float:
    """Triangles that the cuts take off wider turn-ins beyond the end of narrower ones (arithmetic)."""
    reach_mm = math.sqrt(2) * distance_mm - thickness_mm
    legs = (abs(lying[end] - lying[side]) - reach_mm for end, side, _, _ in corners(folded))
    return sum(max(leg, 0.0) ** 2 / 2 for leg in legs)


def bare_at_corners_mm2(folded: Folded, lying: dict[str, float], thickness_mm: float) -> float:
    """What is bare where both turn-ins of a corner reach."""
    covered = unary_union(list(folded.inside.values()))
    bare = 0.0
    for end, side, (x, y), (to_x, to_y) in corners(folded):
        reach_x, reach_y = lying[side] - thickness_mm, lying[end] - thickness_mm
        (x0, x1), (y0, y1) = sorted((x, x + to_x * reach_x)), sorted((y, y + to_y * reach_y))
        square = box(x0, y0, x1, y1)
        bare += (square - covered).area
    return bare


def corners(folded: Folded) -> list[tuple[str, str, tuple[float, float], tuple[int, int]]]:
    left, top, right, bottom = folded.board
    return [
        ("head", "left", (left, top), (1, 1)),
        ("head", "right", (right, top), (-1, 1)),
        ("tail", "right", (right, bottom), (-1, -1)),
        ("tail", "left", (left, bottom), (1, -1)),
    ]


def covers(turn_ins: TurnIns, thickness_mm: float, distance_mm: float | None) -> list[tuple[Piece, dict[str, float]]]:
    """A front cover of separate boards, the cloth of a case that opens right; each with its turn-ins as they lie."""
    board = replace(BOARDS, turn_ins=turn_ins, board_thickness_mm=thickness_mm, mitre_distance_mm=distance_mm)
    case = replace(board, structure="flat-case", opens="right")
    ends = {"head": turn_ins.head_mm, "tail": turn_ins.tail_mm}
    return [
        (
            pieces_of_separate_boards(board, board.volumes[0])[0],
            {**ends, "left": turn_ins.spine_mm, "right": turn_ins.fore_edge_mm},
        ),
        (
            pieces_of_full_cloth(case, case.volumes[0])[0],
            {**ends, "left": turn_ins.fore_edge_mm, "right": turn_ins.fore_edge_mm},
        ),
    ]


CLOSED = [
    (TurnIns.all_round(15.0), 2.0, None, 3.171573),
    (TurnIns.all_round(15.0), 2.0, 2.0, 1.171573),
    (TurnIns(14.0, 19.0, 16.0, 22.0), 2.0, 3.0, 3.171573),
    (TurnIns(25.0, 12.0, 20.0, 15.0), 3.0, 2.5, 2 * 2.5 - 3 * math.sqrt(2)),
    (TurnIns(12.0, 30.0, 18.0, 13.0), 1.5, 1.5, 3.0 - 1.5 * math.sqrt(2)),
    (TurnIns(20.0, 17.0, 24.0, 18.0), 4.0, None, 12.0 - 4 * math.sqrt(2)),
]


@pytest.mark.parametrize(("turn_ins", "thickness_mm", "distance_mm", "overlap_mm"), CLOSED)
def test_corners_close_and_only_the_mitres_lie_double(
    turn_ins: TurnIns, thickness_mm: float, distance_mm: float | None, overlap_mm: float
) -> None:
    """The overlap is 2 d - sqrt2 b (3.1716 for 3 mm, 1.1716 for 2 mm, both on board of 2 mm), and nothing is bare."""
    for piece, lying in covers(turn_ins, thickness_mm, distance_mm):
        folded = fold(piece, thickness_mm)
        assert max(folded.edges.values()) < NEAR
        covered = unary_union(list(folded.inside.values()))
        assert bare_at_corners_mm2(folded, lying, thickness_mm) < NEAR
        cut_mm = 1.5 * thickness_mm if distance_mm is None else distance_mm
        left_bare = frame(folded, lying, thickness_mm) - covered
        assert left_bare.area == pytest.approx(cut_slantwise_mm2(folded, lying, thickness_mm, cut_mm), abs=NEAR)
        assert (covered - frame(folded, lying, thickness_mm)).area < NEAR
        double = 0.0
        for end, side, corner, towards in corners(folded):
            mitre = folded.inside[end] & folded.inside[side]
            in_mm = (min(lying[end], lying[side]) - thickness_mm) / 2
            assert across(mitre, corner, towards, in_mm) == pytest.approx(overlap_mm, abs=1e-6)
            double += mitre.area
        assert sum(flap.area for flap in folded.inside.values()) - covered.area == pytest.approx(double, abs=NEAR)


@pytest.mark.parametrize("thickness_mm", [1.5, 2.0, 3.0])
def test_the_least_distance_just_closes_a_corner(thickness_mm: float) -> None:
    """At b / sqrt2 the turn-ins meet: no gap, and nothing lies double at all."""
    least_mm = thickness_mm / math.sqrt(2)
    for piece, lying in covers(TurnIns(14.0, 19.0, 16.0, 22.0), thickness_mm, least_mm):
        folded = fold(piece, thickness_mm)
        covered = unary_union(list(folded.inside.values()))
        assert bare_at_corners_mm2(folded, lying, thickness_mm) < NEAR
        assert sum(flap.area for flap in folded.inside.values()) == pytest.approx(covered.area, abs=NEAR)


@pytest.mark.parametrize(("thickness_mm", "distance_mm"), [(2.0, 1.0), (3.0, 2.0), (2.0, 1.4)])
def test_a_mitre_cut_too_near_gapes(thickness_mm: float, distance_mm: float) -> None:
    """Nearer than b / sqrt2 each corner is bare across sqrt2 b - 2 d, and so is the edge of the board beside it."""
    for piece, lying in covers(TurnIns(14.0, 19.0, 16.0, 22.0), thickness_mm, distance_mm):
        folded = fold(piece, thickness_mm)
        bare = frame(folded, lying, thickness_mm) - unary_union(list(folded.inside.values()))
        assert bare.area > 0.1
        for end, side, corner, towards in corners(folded):
            in_mm = (min(lying[end], lying[side]) - thickness_mm) / 2
            gap_mm = math.sqrt(2) * thickness_mm - 2 * distance_mm
            assert across(bare, corner, towards, in_mm) == pytest.approx(gap_mm, abs=1e-6)
        assert min(folded.edges.values()) > 0.0
