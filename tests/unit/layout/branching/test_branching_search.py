"""Every kind of layout is listed, none twice over, and the search ends with a sure no."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from laying import ANY, cloth, flaw, piece
from samples import L_SHAPE
from searching import tables_for
from shapely.geometry import Polygon
from shapely.geometry import box as rectangle_of
from wishing import printed_cloth

from coverlayout.geometry.frames import Point, shift
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.branching.beams import first_found
from coverlayout.layout.branching.looked import Layout
from coverlayout.layout.branching.search import layouts
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, Question
from coverlayout.layout.search.effort import CutShort, Effort, OutOfSteps
from coverlayout.motif.lattice import Lattice

ZERO: Point = (0.0, 0.0)
SQUARE = Lattice((50.0, 0.0), (0.0, 40.0))
# Keeps a job from being mirrored, and is in nobody's way.
SPOT = flaw(rectangle(1, 1, 199, 149), "spot")


def found(question: Question, steps: int = 1_000_000, slack_mm: float = 0.0) -> list[Layout]:
    return list(layouts(tables_for(question, slack_mm=slack_mm), Effort(steps)))


def places(layout: Layout) -> list[tuple[float, ...]]:
    return [tuple(place) for place in np.round(layout.places, 6).tolist()]


def test_two_pieces_lie_beside_or_over_each_other_four_ways() -> None:
    question = Question((piece("a", 40, 30), piece("b", 20, 50)), (cloth(200, 150, keep_outs=(SPOT,)),))
    kinds = found(question)
    assert sorted(places(layout) for layout in kinds) == [
        [(0.0, 0.0), (0.0, 30.0)],
        [(0.0, 0.0), (40.0, 0.0)],
        [(0.0, 50.0), (0.0, 0.0)],
        [(20.0, 0.0), (0.0, 0.0)],
    ]


def test_of_mirrored_layouts_one_is_listed() -> None:
    question = Question((piece("a", 40, 30), piece("b", 20, 50)), (cloth(200, 150),))
    # a keeps to its left and upper half, where b can lie on all four sides; on a narrow cloth only right and below.
    assert len(found(question)) == 4
    narrow = Question(question.pieces, (cloth(70, 90),))
    assert sorted(places(layout) for layout in found(narrow)) == [[(0.0, 0.0), (0.0, 30.0)], [(0.0, 0.0), (40.0, 0.0)]]


def test_equal_pieces_are_not_listed_in_both_orders() -> None:
    question = Question((piece("a", 40, 30), piece("b", 40, 30)), (cloth(200, 150, keep_outs=(SPOT,)),))
    # a is never right of b: beside it, over it or under it.
    assert sorted(places(layout) for layout in found(question)) == [
        [(0.0, 0.0), (0.0, 30.0)],
        [(0.0, 0.0), (40.0, 0.0)],
        [(0.0, 30.0), (0.0, 0.0)],
    ]


def test_every_seat_is_tried() -> None:
    question = Question((piece("a", 40, 30, ANY),), (cloth(200, 150, keep_outs=(SPOT,)), cloth(40, 35, name="d")))
    assert sorted(layout.seats for layout in found(question)) == [(0,), (1,), (2,)]
    two = Question((piece("a", 40, 30, ANY), piece("b", 40, 30, ANY)), (cloth(200, 150, keep_outs=(SPOT,)),))
    seats = [layout.seats for layout in found(two)]
    # Equal pieces take their seats in order: never (1, 0).
    assert set(seats) == {(0, 0), (0, 1), (1, 1)}


def test_there_is_none_where_there_is_none() -> None:
    assert found(Question((piece("a", 60, 30), piece("b", 60, 30)), (cloth(110, 50),))) == []
    assert (
        first_found(tables_for(Question((piece("a", 60, 30), piece("b", 60, 30)), (cloth(110, 50),))), Effort(1000))
        is None
    )


def test_every_layout_is_one() -> None:
    pieces = piece("a", 40, 30, ANY), piece("b", 20, 50), piece("c", 33, 33), piece("d", 33, 33)
    stains = flaw(rectangle(10, 10, 30, 20)), flaw(((60.0, 60.0), (80.0, 65.0), (70.0, 85.0)), "wedge")
    question = Question(pieces, (cloth(120, 95, keep_outs=stains),))
    kinds = found(question)
    assert len(kinds) > 20
    sizes = {0: ((40, 30), (30, 40)), 1: ((20, 50),), 2: ((33, 33),), 3: ((33, 33),)}
    wedge = Polygon(((60.0, 60.0), (80.0, 65.0), (70.0, 85.0)))
    for layout in kinds:
        boxes = [
            (x, y, x + sizes[k][seat][0], y + sizes[k][seat][1])
            for k, (seat, (x, y)) in enumerate(zip(layout.seats, layout.places.tolist(), strict=True))
        ]
        on_cloth = rectangle_of(0, 0, 120, 95)
        shapes = [rectangle_of(*box) for box in boxes]
        assert all(on_cloth.buffer(1e-6).covers(shape) for shape in shapes)
        keep_clear = [*shapes, rectangle_of(30, 20, 40, 30), wedge]
        assert max(one.intersection(other).area for one, other in itertools.combinations(keep_clear, 2)) < 1e-3
    assert len({(layout.seats, *map(tuple, np.round(layout.places, 4).tolist())) for layout in kinds}) > len(kinds) / 3


def test_places_are_as_far_left_and_up_as_the_kind_allows() -> None:
    question = Question((piece("a", 40, 30),), (cloth(200, 150, keep_outs=(flaw(rectangle(60, 40)),)),))
    assert sorted(places(layout) for layout in found(question)) == [[(0.0, 40.0)], [(60.0, 0.0)]]


def test_a_slanted_stain_is_kept_clear_of_along_its_edge() -> None:
    # On 60 x 60 a roof over the upper left leaves x + y >= 70 to the upper left corner of a piece of 20 x 20.
    roof = flaw(((0.0, 0.0), (70.0, 0.0), (0.0, 70.0)))
    (layout,) = found(Question((piece("a", 20, 20),), (cloth(60, 60, keep_outs=(roof,)),)))
    x, y = layout.places[0]
    assert x + y >= 70 - 1e-4
    assert max(x, y) <= 40 + 1e-6
    assert found(Question((piece("a", 30.1, 20),), (cloth(60, 60, keep_outs=(roof,)),))) == []


def test_two_slanted_edges_that_leave_nothing_between_them_are_refused_by_the_program() -> None:
    # Between x + y <= 80 and x + y >= 80 nothing of 5 mm goes, though each line alone leaves plenty.
    low = flaw(((0.0, 0.0), (80.0, 0.0), (0.0, 80.0)), "low")
    high = flaw(((100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 95.0), (95.0, 0.0)), "high")
    assert found(Question((piece("a", 5, 5),), (cloth(100, 100, keep_outs=(low, high)),))) != []
    assert found(Question((piece("a", 8, 8),), (cloth(100, 100, keep_outs=(low, high)),))) == []


def lattice_places(width: float, length: float) -> list[tuple[float, float]]:
    return [
        (3.0 + 50 * i, 8.0 + 40 * k)
        for i in range(9)
        for k in range(9)
        if 33 + 50 * i <= width and 28 + 40 * k <= length
    ]


def test_a_locked_piece_lies_at_each_of_its_places() -> None:
    on = printed_cloth(160, 80, SQUARE, origin_mm=(3.0, 8.0))
    question = Question((piece("a", 30, 20),), (on,), locks=(Lock("a", ZERO, ZERO),))
    assert sorted(places(layout)[0] for layout in found(question)) == sorted(lattice_places(160, 80))


@pytest.mark.parametrize("size", [(460.0, 90.0), (260.0, 260.0)])
def test_many_places_are_halved_until_few_are_left(size: tuple[float, float]) -> None:
    fine = Lattice((10.0, 0.0), (0.0, 8.0))
    on = printed_cloth(*size, fine, origin_mm=(3.0, 4.0))
    question = Question((piece("a", 30, 20),), (on,), locks=(Lock("a", ZERO, ZERO),))
    listed = sorted(places(layout)[0] for layout in found(question))
    across, along = math.floor((size[0] - 33) / 10) + 1, math.floor((size[1] - 24) / 8) + 1
    assert listed == [(3.0 + 10 * i, 4.0 + 8 * k) for i in range(across) for k in range(along)]


def test_two_locked_pieces_take_every_pair_of_places() -> None:
    on = printed_cloth(160, 80, SQUARE, origin_mm=(3.0, 8.0))
    pieces = piece("a", 30, 20), piece("b", 30, 19)
    locks = tuple(Lock(name, ZERO, ZERO) for name in "ab")
    assert len(found(Question(pieces, (on,), locks=locks))) == 6 * 5
    equals = piece("a", 30, 20), piece("b", 30, 20)
    assert len(found(Question(equals, (on,), locks=locks))) == 6 * 5 / 2


@pytest.mark.parametrize("lattice", [SQUARE, Lattice((9.0, 0.0), (0.0, 7.0))])
def test_linked_pieces_lie_a_whole_repeat_apart(lattice: Lattice) -> None:
    link = Link(("a", "b"), (ZERO, ZERO), ((5.0, 0.0),))
    question = Question((piece("a", 30, 20), piece("b", 26, 18)), (printed_cloth(130, 60, lattice),), links=(link,))
    kinds = found(question)
    ways = {(round(x, 6), round(y, 6)) for layout in kinds for x, y in [layout.places[1] - layout.places[0]]}
    assert ways
    step = lattice.a_mm[0], (lattice.b_mm or ZERO)[1]
    expected = {
        (5.0 + step[0] * i, step[1] * k)
        for i in range(-20, 20)
        for k in range(-20, 20)
        if -100 <= 5.0 + step[0] * i <= 104 and -40 <= step[1] * k <= 42
        and (5.0 + step[0] * i >= 30 or -5.0 - step[0] * i >= 26 or step[1] * k >= 20 or -step[1] * k >= 18)
    }  # fmt: skip
    assert ways == expected


def test_plain_stripes_leave_the_way_along_them_free() -> None:
    on = printed_cloth(60, 100, Lattice((25.0, 0.0)))
    locks = tuple(Lock(name, ZERO, (7.0, 0.0)) for name in "ab")
    kinds = found(Question((piece("a", 30, 20), piece("b", 26, 18)), (on,), locks=locks))
    # 7 for a of 30 on 60, 7 and 32 for b of 26.
    across = {tuple(np.round(layout.places[:, 0], 6).tolist()) for layout in kinds}
    assert {(7.0, 7.0)} <= across <= {(7.0, 7.0), (7.0, 32.0)}
    assert {tuple(np.round(layout.places[:, 1], 6).tolist()) for layout in kinds} >= {(0.0, 20.0), (18.0, 0.0)}


def test_a_lock_on_a_repeat_here_and_on_stripes_there_is_searched_to_its_end() -> None:
    grounds = (
        Ground("g", Region.of(rectangle(100, 100)), "p", 0.0, Lattice((20.0, 0.0), (0.0, 20.0)), shift(0.0, 0.0)),
        Ground("h", Region.of(rectangle(100, 100, 100, 0)), "q", 0.0, Lattice((25.0, 0.0)), shift(0.0, 0.0)),
    )
    on = ClothAsked("c", "c", rectangle(200, 100), grounds)
    question = Question((piece("a", 30, 30), piece("b", 30, 30)), (on,), locks=(Lock("a", ZERO, ZERO),))
    kinds = found(question, steps=200_000)
    assert {layout.seats[0] for layout in kinds} == {0, 1}
    for layout in kinds:
        x, y = layout.places[0]
        step, free = (20.0, False) if layout.seats[0] == 0 else (25.0, True)
        assert x % step == pytest.approx(0.0, abs=1e-3) or x % step == pytest.approx(step, abs=1e-3)
        assert free or min(y % 20.0, 20.0 - y % 20.0) < 1e-3


def test_bent_pieces_and_grounds_are_searched_by_their_parts() -> None:
    question = Question(
        (piece("ell", 0, 0, outline=L_SHAPE), piece("b", 39, 74)), (cloth(60, 100, keep_outs=(SPOT_60,)),)
    )
    kinds = found(question)
    assert [places(layout) for layout in kinds] == [[(0.0, 0.0), (20.0, 0.0)]]
    assert found(Question((question.pieces[0], piece("b", 41, 74)), question.cloths)) == []


SPOT_60 = KeepOut("spot", "spot", Region.of(rectangle(0.5, 0.5, 59.5, 74.4)))


def test_the_effort_runs_out_and_the_watch_stops() -> None:
    pieces = tuple(piece(f"p{k}", 20.0 + k, 30.0 - k) for k in range(7))
    tables = tables_for(Question(pieces, (cloth(90, 70),)))
    with pytest.raises(OutOfSteps):
        list(layouts(tables, Effort(40)))
    with pytest.raises(CutShort):
        list(layouts(tables, Effort(10**9, watch=lambda share: True)))


def test_the_same_search_lists_the_same() -> None:
    pieces = piece("a", 40, 30, ANY), piece("b", 20, 50), piece("c", 33, 33)
    question = Question(pieces, (cloth(120, 95, keep_outs=(flaw(((60.0, 60.0), (80.0, 65.0), (70.0, 85.0))),)),))
    first, again = ([(one.seats, one.places.tolist()) for one in found(question)] for _ in range(2))
    assert first == again
