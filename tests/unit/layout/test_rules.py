"""The judge: each rule broken by a known amount, and kept just within the tolerance; figures worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from samples import (
    BOARD,
    CROOKED,
    L_SHAPE,
    SLIVER,
    SMALL,
    at,
    cloth,
    flaw,
    judged,
    only,
    piece,
    printed,
)

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Report
from coverlayout.layout.question import ClothAsked, KeepOut, Link, Placed, Question
from coverlayout.layout.rules import Distance, Judge


def test_a_piece_with_room_all_round_is_valid() -> None:
    report = judged([piece("board-1")], [at("board-1", 10, 20)])
    assert report.verdict == "valid"
    assert report.breaches == ()
    assert report.waiting == ()
    assert report.clearance_mm == pytest.approx(10.0)
    assert report.used_percent == pytest.approx(100 * 114.3 * 152.4 / 304.8**2)


def test_room_below_the_wish_is_tight() -> None:
    assert judged([piece("board-1")], [at("board-1", 5.98, 20)]).verdict == "valid, tight"
    assert judged([piece("board-1")], [at("board-1", 5.995, 20)]).verdict == "valid"
    assert judged([piece("board-1")], [at("board-1", 2, 20)], spare_wish_mm=2.0).verdict == "valid"


def test_a_piece_not_placed_waits() -> None:
    report = judged([piece("a"), piece("b", SMALL)], [at("a", 10, 10)])
    assert report.verdict == "incomplete"
    assert report.waiting == ("b",)


def test_nothing_placed_has_no_clearance() -> None:
    report = judged([piece("a")], [])
    assert report == Report("incomplete", (), ("a",), 0.0, None)
    assert judged([], []).verdict == "valid"


@pytest.mark.parametrize(("x", "y", "beyond"), [(-2.0, 10.0, 2.0), (267.8, 278.8, 5.0), (1e9, 10.0, 1e9 + 40 - 304.8)])
def test_a_piece_off_the_cloth_is_outside_by_its_farthest_corner(x: float, y: float, beyond: float) -> None:
    breach = only(judged([piece("a", SMALL)], [at("a", x, y)]))
    assert (breach.rule, breach.pieces, breach.cloth) == ("outside", ("a",), "swatch")
    assert breach.amount_mm == pytest.approx(beyond, rel=1e-12, abs=1e-9)


def test_a_hundredth_of_a_millimetre_outside_is_within() -> None:
    assert judged([piece("a", SMALL)], [at("a", -0.0099, 10)]).breaches == ()
    assert judged([piece("a", SMALL)], [at("a", -0.0101, 10)]).breaches != ()


def test_a_piece_larger_than_the_cloth_is_outside() -> None:
    assert only(judged([piece("a", rectangle(400.0, 10.0))], [at("a", 0, 0)])).amount_mm == pytest.approx(95.2)


def test_a_crooked_swatch_holds_what_lies_within_its_slanted_edges() -> None:
    crooked = cloth(CROOKED)
    box_corner = at("a", min(x for x, _ in CROOKED), min(y for _, y in CROOKED))
    assert only(judged([piece("a", SMALL)], [box_corner], crooked)).rule == "outside"
    middle = judged([piece("a", SMALL)], [at("a", 155, 165)], crooked)
    assert middle.breaches == ()
    # The nearest slanted edge seen from the piece's corner, in the swatch's own straight frame.
    angle = math.radians(7)
    corners = [(155 - 175 + dx, 165 - 180 + dy) for dx in (0, 40) for dy in (0, 30)]
    straight = [
        (x * math.cos(angle) + y * math.sin(angle), -x * math.sin(angle) + y * math.cos(angle)) for x, y in corners
    ]
    assert middle.clearance_mm == pytest.approx(152.4 - max(abs(n) for point in straight for n in point), abs=1e-4)


def test_two_pieces_overlap_by_the_lesser_way_they_share() -> None:
    breach = only(judged([piece("b", SMALL), piece("a", SMALL)], [at("b", 10, 10), at("a", 47, 12)]))
    assert (breach.rule, breach.pieces) == ("overlap", ("a", "b"))
    assert breach.amount_mm == pytest.approx(3.0)


@pytest.mark.parametrize(("over_mm", "rules"), [(0.0099, []), (0.0101, ["overlap"]), (0.5, ["overlap"])])
def test_a_hundredth_of_a_millimetre_over_another_is_beside_it(over_mm: float, rules: list[str]) -> None:
    # SMALL is 40 mm wide; one beside the other, then shoved over it.
    placed = [at("a", 50, 50), at("b", 90 - over_mm, 50)]
    report = judged([piece("a", SMALL), piece("b", SMALL)], placed)
    assert [breach.rule for breach in report.breaches] == rules


def test_pieces_may_touch_when_no_gap_is_asked() -> None:
    assert judged([piece("a", SMALL), piece("b", SMALL)], [at("a", 10, 10), at("b", 50, 10)]).verdict == "valid, tight"
    almost = [at("a", 10, 10), at("b", 49.991, 10)]
    assert judged([piece("a", SMALL), piece("b", SMALL)], almost).breaches == ()


def test_a_gap_is_straight_line_distance() -> None:
    pieces = [piece("a", SMALL), piece("b", SMALL)]
    corner = [at("a", 10, 10), at("b", 53, 44)]
    assert judged(pieces, corner, gap_mm=5.0).breaches == (), "3 across and 4 along make 5"
    breach = only(judged(pieces, corner, gap_mm=6.0))
    assert (breach.rule, breach.pieces) == ("gap", ("a", "b"))
    assert breach.amount_mm == pytest.approx(1.0)
    assert only(judged(pieces, [at("a", 10, 10), at("b", 50, 10)], gap_mm=3.0)).amount_mm == pytest.approx(3.0)


def test_an_l_takes_a_piece_into_its_corner_only_as_it_is_turned() -> None:
    pieces = [piece("l", L_SHAPE, turns_deg=None), piece("a", rectangle(30.0, 60.0))]
    assert judged(pieces, [at("l", 10, 10), at("a", 35, 15)]).breaches == ()
    turned = judged(pieces, [at("l", 70, 110, 180.0), at("a", 35, 15)])
    assert [breach.rule for breach in turned.breaches] == ["overlap"]


def test_a_flaw_may_be_touched_and_not_covered() -> None:
    # The stain's left corner is at (70, 30).
    stained = cloth(keep_outs=(flaw(),))
    assert judged([piece("a", SMALL)], [at("a", 30, 15)], stained).breaches == ()
    breach = only(judged([piece("a", SMALL)], [at("a", 34, 15)], stained))
    assert (breach.rule, breach.against) == ("flaw", "stain")
    assert 0 < breach.amount_mm < 4


def test_a_flaw_mirrored_would_be_missed() -> None:
    stained = cloth(keep_outs=(flaw(),))
    assert judged([piece("a", SMALL)], [at("a", 304.8 - 70 - 40, 30)], stained).breaches == ()


def test_drawn_flaws_do_not_count_for_clearance_and_spoiled_holes_do() -> None:
    by_it = at("a", 50, 50)
    stain = flaw(rectangle(10.0, 10.0, 92.0, 50.0))
    assert judged([piece("a", SMALL)], [by_it], cloth(keep_outs=(stain,))).clearance_mm == pytest.approx(50.0)
    hole = cloth(keep_outs=(replace(stain, spoiled=True),))
    assert judged([piece("a", SMALL)], [by_it], hole).clearance_mm == pytest.approx(2.0)
    breach = only(judged([piece("a", SMALL)], [by_it], hole, gap_mm=3.0))
    assert (breach.rule, breach.against, breach.amount_mm) == ("gap", "stain", pytest.approx(1.0))
    on_it = judged([piece("a", SMALL)], [at("a", 55, 50)], hole, gap_mm=3.0)
    assert [breach.rule for breach in on_it.breaches] == ["flaw"]
    assert on_it.clearance_mm == 0.0


def test_a_flaw_with_nothing_in_it_is_no_flaw() -> None:
    empty = KeepOut("none", "none", Region.nothing())
    assert judged([piece("a", SMALL)], [at("a", 50, 50)], cloth(keep_outs=(empty,))).breaches == ()


@pytest.mark.parametrize(
    ("placed", "rule"),
    [
        (at("a", math.nan, 0), "not a number"),
        (at("a", 0, math.inf), "not a number"),
        (at("a", 0, 0, math.nan), "not a number"),
        (at("stranger", 0, 0), "unknown piece"),
        (at("a", 10, 10, on="elsewhere"), "outside"),
    ],
)
def test_what_cannot_be_judged_is_named(placed: Placed, rule: str) -> None:
    report = judged([piece("a", SMALL)], [placed])
    assert only(report).rule == rule
    assert report.waiting == ("a",)
    assert report.used_percent == 0.0
    assert report.clearance_mm is None


def test_a_piece_placed_twice_is_named_once() -> None:
    breach = only(judged([piece("a", SMALL)], [at("a", 10, 10), at("a", 100, 100)]))
    assert (breach.rule, breach.pieces) == ("placed twice", ("a",))


def test_cut_pieces_are_neighbours_and_count_as_used() -> None:
    cut = (piece("cut-1", SMALL), at("cut-1", 0, 0))
    also = (piece("cut-2", SMALL), at("cut-2", 40, 0))
    beside = replace(cloth(), fixed=(cut, also))
    report = judged([piece("a", SMALL)], [at("a", 50, 33)], beside)
    assert report.breaches == (), "cut pieces touch each other and the edge: that is done"
    assert report.clearance_mm == pytest.approx(3.0)
    assert report.used_percent == pytest.approx(100 * 3 * 40 * 30 / 304.8**2)
    assert only(judged([piece("a", SMALL)], [at("a", 50, 28)], beside)).pieces == ("a", "cut-2")
    assert judged([], [], beside).clearance_mm is None


def test_used_counts_overlaps_once_and_all_cloths() -> None:
    pieces = [piece(name, SMALL) for name in "abc"]
    heap = [at("a", 10, 10), at("b", 30, 10), at("c", 20, 20)]
    report = judged(pieces, heap)
    # a and b together 60 x 30; c (20..60, 20..50) adds its lowest 10 mm: 40 x 10.
    assert report.used_percent == pytest.approx(100 * (60 * 30 + 40 * 10) / 304.8**2)
    two = Question(tuple(pieces[:1]), (cloth(), replace(cloth(rectangle(304.8, 100.0)), id="leftover")))
    assert Judge(two).report(heap[:1]).used_percent == pytest.approx(100 * 1200 / (304.8 * 404.8))
    assert Judge(Question(tuple(pieces), ())).report(heap).used_percent == 0.0


def test_pieces_on_different_cloths_do_not_meet() -> None:
    both = Question((piece("a", SMALL), piece("b", SMALL)), (cloth(), replace(cloth(), id="leftover")))
    assert Judge(both).report([at("a", 10, 10), at("b", 10, 10, on="leftover")]).breaches == ()


def test_a_sliver_is_judged_like_any_piece() -> None:
    assert judged([piece("s", SLIVER)], [at("s", 10, 10)]).breaches == ()
    assert only(judged([piece("s", SLIVER)], [at("s", 200, 10)])).rule == "outside"


def test_a_move_is_judged_like_a_report_of_all() -> None:
    pieces = [piece("a", SMALL), piece("b", SMALL), piece("c", BOARD)]
    judge = Judge(Question(tuple(pieces), (cloth(keep_outs=(flaw(),)),), gap_mm=2.0))
    rest = judge.rest([at("a", 10, 10), at("c", 100, 100)])
    for move in (at("b", 60, 11), at("b", 45, 12), at("b", 95, 90), at("b", 290, 10), at("b", 51, 10)):
        live, report = rest.judge((move,)), judge.report([at("a", 10, 10), at("c", 100, 100), move])
        assert (live.verdict, live.breaches, live.waiting) == (report.verdict, report.breaches, report.waiting)
        assert live.used_percent == pytest.approx(report.used_percent)
        assert live.clearance_mm == report.clearance_mm
    assert rest.judge(()).waiting == ("b",)


def test_a_link_between_resting_pieces_stays_judged_while_another_moves() -> None:
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    pieces = tuple(piece(name, SMALL) for name in "abc")
    judge = Judge(Question(pieces, (cloth(**printed()),), links=(link,)))
    live = judge.rest([at("a", 10, 10), at("b", 100, 10)]).judge((at("c", 200, 200),))
    assert [breach.rule for breach in live.breaches] == ["link"]
    moving = judge.rest([at("a", 10, 10)]).judge((at("b", 60, 23),))
    assert moving.breaches == ()


def distances(moving: list[Placed], resting: list[Placed], on: ClothAsked | None = None) -> dict[str, Distance]:
    pieces = tuple(piece(placed.piece, SMALL) for placed in moving + resting)
    live = Judge(Question(pieces, (on or cloth(),))).rest(resting).judge(moving)
    return {distance.kind: distance for distance in live.distances}


def test_distances_lead_to_the_nearest_on_each_side_and_of_all() -> None:
    found = distances([at("m", 100, 100)], [at("a", 50, 110), at("b", 143, 134)])
    assert {kind: round(distance.length_mm, 6) for kind, distance in found.items()} == {
        "left": 10.0,
        "edge-right": 164.8,
        "edge-above": 100.0,
        "edge-below": 174.8,
        "nearest": 5.0,
    }
    assert found["left"] == Distance("left", (100.0, 120.0), (90.0, 120.0), 10.0, "a")
    assert found["nearest"] == Distance("nearest", (140.0, 130.0), (143.0, 134.0), 5.0, "b")
    assert found["edge-above"].to_mm == (120.0, 0.0)


def test_distances_to_holes_cut_pieces_and_edges() -> None:
    hole = flaw(rectangle(20.0, 20.0, 144.0, 100.0), spoiled=True)
    around = replace(cloth(keep_outs=(hole,)), fixed=((piece("cut", SMALL), at("cut", 100, 60)),))
    found = distances([at("m", 100, 100)], [], around)
    assert (found["right"].length_mm, found["right"].to) == (4.0, "stain")
    assert (found["above"].length_mm, found["above"].to) == (10.0, "cut")
    near_edge = distances([at("m", 2, 100)], [])
    assert near_edge["nearest"] == Distance("nearest", (2.0, 115.0), (0.0, 115.0), 2.0)


def test_a_flaw_in_the_way_stops_the_distance_and_is_named() -> None:
    stain = flaw(rectangle(10.0, 60.0, 160.0, 90.0))
    found = distances([at("m", 100, 100)], [at("a", 200, 110)], cloth(keep_outs=(stain,)))
    assert found["right"] == Distance("right", (140.0, 115.0), (160.0, 115.0), 20.0, "stain")
    assert "nearest" not in found, "its line to a would run over the stain"
    alone = distances([at("m", 100, 100)], [], cloth(keep_outs=(stain,)))
    assert alone["nearest"].length_mm == 100.0, "a drawn flaw is no part of the room"
    # The edge is 5 mm away, but a crease 2 mm away lies across the line to it.
    crease = flaw(rectangle(1.0, 200.0, 2.0, 10.0))
    found = distances([at("m", 5, 100)], [], cloth(keep_outs=(crease,)))
    assert (found["left"].length_mm, found["left"].to) == (2.0, "stain")
    assert "nearest" not in found
    # What the piece lies on already is no wall before it.
    under = distances([at("m", 5, 100)], [], cloth(keep_outs=(flaw(rectangle(20.0, 8.0, 2.0, 110.0)),)))
    assert under["nearest"].length_mm == 5.0


def test_a_slanted_flaw_beside_the_line_leaves_the_nearest_distance() -> None:
    # The L-shape's foot reaches 20 mm to the right of the piece at its lower end only.
    bent = flaw(tuple((160.0 + x, 60.0 + y) for x, y in ((0, 60), (0, 100), (60, 100), (60, 90), (10, 90), (10, 60))))
    found = distances([at("m", 100, 100)], [at("a", 143, 60)], cloth(keep_outs=(bent,)))
    assert (found["right"].length_mm, found["right"].to) == (20.0, "stain")
    assert (found["nearest"].length_mm, found["nearest"].to) == (pytest.approx(math.hypot(3, 10)), "a")


def test_pieces_that_move_together_measure_to_the_others_only() -> None:
    found = distances([at("m", 100, 100), at("n", 141, 100)], [at("a", 200, 100), at("b", 95, 200)])
    assert (found["right"].length_mm, found["right"].to) == (19.0, "a")
    assert (found["below"].length_mm, found["below"].to) == (70.0, "b")
    assert found["nearest"].length_mm == 19.0


def test_a_piece_off_the_cloth_has_no_room_and_no_nearest() -> None:
    found = distances([at("m", 400, 100)], [])
    assert found == {}
    assert Judge(Question((piece("m", SMALL),), (cloth(),))).rest([]).judge((at("zz", 1, 1),)).distances == ()


def test_used_counts_an_overlap_of_what_lies_for_good_once() -> None:
    """Two pieces of 40 x 30, one 10 mm over the other: 40 x 30 + 30 x 30."""
    over = replace(cloth(), fixed=((piece("one", SMALL), at("one", 0, 0)), (piece("two", SMALL), at("two", 30, 0))))
    assert judged([], [], over).used_percent == pytest.approx(100 * (1200 + 900) / 304.8**2)


def test_ground_that_is_gone_was_not_bought_here() -> None:
    """Half of the swatch became a cloth of its own: the piece is twice the share of what is left."""
    half = replace(cloth(), gone_mm2=304.8**2 / 2)
    report = judged([piece("a", SMALL)], [at("a", 50, 33)], half)
    assert report.used_percent == pytest.approx(100 * 2 * 40 * 30 / 304.8**2)


def test_a_judge_that_judged_before_says_what_a_new_one_says() -> None:
    stained = cloth(keep_outs=(flaw(),))
    question = Question((piece("a", L_SHAPE), piece("b", SMALL), piece("c", SMALL)), (stained,), gap_mm=2.0)
    judge = Judge(question)
    resting = (at("a", 30, 30), at("b", 150, 40))
    rules = set()
    for x in (-5.0, 31.0, 100.0, 151.0, 180.0, 260.0, 31.0):
        for turn_deg in (0.0, 90.0):
            layout = (*resting, at("c", x, 45, turn_deg))
            found = judge.report(layout)
            assert found == Judge(question).report(layout)
            assert judge.rest(resting).judge(layout[2:]).breaches == found.breaches
            rules |= {breach.rule for breach in found.breaches}
    assert {"outside", "overlap", "turn"} <= rules
