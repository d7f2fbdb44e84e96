"""Upright rectangles measured by plain arithmetic give what the general way gives; a drag says what a report says."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from samples import L_SHAPE, cloth, flaw, piece, printed

from coverlayout.geometry.directions import SIDES, straight_to, straight_to_edge
from coverlayout.geometry.distance import Shape
from coverlayout.geometry.shapes import area_mm2, rectangle
from coverlayout.layout.question import Link, Lock, Placed, Question
from coverlayout.layout.rules import Judge

# To a tenth of a millimetre, so that no case hangs on a tolerance of a hundredth.
tenths = st.integers(-300, 600).map(lambda n: n / 10)
sides = st.integers(5, 500).map(lambda n: n / 10)
boxes = st.builds(lambda w, h, x, y: Shape.of(rectangle(w, h, x, y)), sides, sides, tenths, tenths)


@given(boxes, boxes)
def test_both_ways_measure_the_same(one: Shape, other: Shape) -> None:
    first, second = one.general(), other.general()
    assert one.apart_mm(other) == pytest.approx(first.apart_mm(second), abs=1e-6)
    assert one.overlap_mm(other) == pytest.approx(first.overlap_mm(second), abs=2e-3)
    assert one.shared_mm2(other) == pytest.approx(first.shared_mm2(second), abs=1e-4)
    assert one.lies_on(other) == first.lies_on(second)
    assert one.holds(other) == first.holds(second)
    assert one.beyond_mm(other) == pytest.approx(first.beyond_mm(second), abs=1e-5)
    assert one.edge_mm(other) == pytest.approx(first.edge_mm(second), abs=1e-5)
    assert one.area_mm2 == pytest.approx(first.area_mm2, abs=1e-4)
    assert math.dist(*one.nearest(other)) == pytest.approx(one.apart_mm(other), abs=1e-6)


@given(boxes, boxes)
def test_both_ways_measure_the_same_to_each_side(one: Shape, other: Shape) -> None:
    for side in SIDES:
        # An edge is that of the ground a shape lies on, so the two must share some.
        for measure in (straight_to, straight_to_edge) if one.overlap_mm(other) > 0 else (straight_to,):
            quick, general = measure(one, other, side), measure(one.general(), other.general(), side)
            assert (quick is None) == (general is None)
            if quick is not None and general is not None:
                assert quick.length_mm == pytest.approx(general.length_mm, abs=1e-5)
                assert math.dist(quick.from_mm, quick.to_mm) == pytest.approx(quick.length_mm, abs=1e-9)
                assert math.dist(general.from_mm, quick.from_mm) < 1e-4


places = st.builds(
    lambda x, y, quarter: (float(x), float(y), 90.0 * quarter),
    st.integers(-20, 320),
    st.integers(-20, 320),
    st.integers(0, 3),
)


@given(st.lists(places, min_size=4, max_size=4), st.booleans(), st.integers(1, 3))
def test_a_drag_says_what_a_report_of_all_says(
    where: list[tuple[float, float, float]], with_l: bool, still: int
) -> None:
    outlines = [rectangle(60.0, 40.0), rectangle(50.0, 80.0), L_SHAPE if with_l else rectangle(30.0, 30.0), L_SHAPE]
    pieces = [piece(f"p{n}", outline, turns_deg=(0.0, 90.0)) for n, outline in enumerate(outlines)]
    hole = flaw(rectangle(20.0, 20.0, 200.0, 200.0), spoiled=True)
    link = Link(("p0", "p1"), ((0.0, 0.0), (5.0, 5.0)), ((7.0, 0.0),))
    question = Question(
        tuple(pieces),
        (cloth(keep_outs=(flaw(), replace(hole, id="hole")), **printed()),),
        gap_mm=3.0,
        locks=(Lock("p2", (1.0, 2.0), (3.0, 4.0)),),
        links=(link,),
    )
    placed = [Placed(f"p{n}", "swatch", x, y, turn_deg) for n, (x, y, turn_deg) in enumerate(where)]
    judge = Judge(question)
    report, live = judge.report(placed), judge.rest(placed[:still]).judge(placed[still:])
    assert (live.verdict, live.breaches, live.waiting) == (report.verdict, report.breaches, report.waiting)
    assert live.used_percent == pytest.approx(report.used_percent)
    assert live.clearance_mm == pytest.approx(report.clearance_mm)
    again = judge.report(placed[::-1])
    assert sorted(b.rule for b in again.breaches) == sorted(b.rule for b in report.breaches), "no order is better"
    assert again.used_percent == pytest.approx(report.used_percent, abs=1e-6)
    most = sum(area_mm2(outline) for outline in outlines)
    assert report.used_percent <= 100 * most / 304.8**2 + 1e-9
