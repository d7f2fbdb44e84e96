"""The judge: each rule broken by a known amount, and kept just within the tolerance; figures worked out by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from samples import BOARD, CROOKED, L_SHAPE, LAID, SHEARED, SLIVER, SWATCH, cloth, flaw, ground, piece, printed

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Breach, Report
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, PieceAsked, Placed, Question
from coverlayout.layout.rules import Distance, Judge, outline_on_cloth

SMALL = rectangle(40.0, 30.0)


def at(piece_id: str, x: float, y: float, turn_deg: float = 0.0, on: str = "swatch") -> Placed:
    return Placed(piece_id, on, x, y, turn_deg)


def judged(pieces: list[PieceAsked], placed: list[Placed], on: ClothAsked | None = None, **more: object) -> Report:
    question = Question(tuple(pieces), (on or cloth(),), **more)  # type: ignore[arg-type] # fields by name
    return Judge(question).report(placed)


def only(report: Report) -> Breach:
    assert len(report.breaches) == 1, report.breaches
    assert report.verdict == "not valid"
    return report.breaches[0]


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


def test_a_flaw_is_fine_where_it_is_hidden() -> None:
    stained = cloth(keep_outs=(flaw(rectangle(8.0, 8.0, 12.0, 12.0), seen_only=True),))
    seen = piece("cover", rectangle(100.0, 100.0), seen_mm=rectangle(80.0, 80.0, 10.0, 10.0))
    assert judged([seen], [at("cover", 10, 10)], stained).breaches == ()
    assert only(judged([seen], [at("cover", 9, 9)], stained)).amount_mm == pytest.approx(1.0)
    all_of_it = piece("cover", rectangle(100.0, 100.0))
    assert only(judged([all_of_it], [at("cover", 10, 10)], stained)).rule == "flaw"


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


def zoned() -> ClothAsked:
    """The left half printed with birds, the right with seeds; a strip of 4.8 mm between them belongs to neither."""
    left = Ground("left", Region.of(rectangle(150.0, 304.8)), print_id="birds")
    right = Ground("right", Region.of(rectangle(150.0, 304.8, 154.8, 0.0)), print_id="seeds", up_deg=90.0)
    return ClothAsked("swatch", "Swatch", SWATCH, (left, right))


def test_a_piece_lies_within_the_ground_of_its_print() -> None:
    birds = piece("a", SMALL, print_id="birds")
    assert judged([birds], [at("a", 10, 10)], zoned()).breaches == ()
    across = only(judged([birds], [at("a", 120, 10)], zoned()))
    assert (across.rule, across.amount_mm) == ("zone", pytest.approx(10.0))
    assert only(judged([birds], [at("a", 200, 10)], zoned())).rule == "zone"
    outside = only(judged([birds], [at("a", -5, 10)], zoned()))
    assert (outside.rule, outside.amount_mm) == ("outside", pytest.approx(5.0))


def test_zone_edges_count_for_clearance() -> None:
    assert judged([piece("a", SMALL, print_id="birds")], [at("a", 108, 50)], zoned()).clearance_mm == pytest.approx(2.0)


def test_a_piece_of_no_print_lies_on_any_ground_turned_as_that_one_asks() -> None:
    assert judged([piece("a", SMALL)], [at("a", 10, 10)], zoned()).breaches == ()
    breach = only(judged([piece("a", SMALL)], [at("a", 200, 10)], zoned()))
    assert (breach.rule, breach.amount_mm) == ("turn", 90.0)
    assert judged([piece("a", SMALL)], [at("a", 250, 10, 90.0)], zoned()).breaches == ()


def test_a_piece_bound_to_a_ground_or_a_cloth_stays_there() -> None:
    assert only(judged([piece("a", SMALL, ground_ids=("right",))], [at("a", 50, 10, 90.0)], zoned())).rule == "zone"
    bound = piece("a", SMALL, cloth_ids=("leftover",))
    breach = only(judged([bound], [at("a", 10, 10)]))
    assert (breach.rule, breach.amount_mm) == ("zone", 0.0), "no ground of its own here, so no distance to it"
    assert only(judged([bound], [at("a", -10, 10)])).rule == "outside"


def test_a_print_that_is_nowhere_on_the_cloth_is_a_zone_breach() -> None:
    assert only(judged([piece("a", SMALL, print_id="waves")], [at("a", 10, 10)], zoned())).rule == "zone"


def test_bare_cloth_has_no_ground_at_all() -> None:
    bare = ClothAsked("swatch", "Swatch", SWATCH, ())
    breach = only(judged([piece("a", SMALL)], [at("a", -3, 10)], bare))
    assert (breach.rule, breach.amount_mm) == ("outside", pytest.approx(3.0))


def test_a_turn_is_counted_from_the_prints_up() -> None:
    crooked = cloth(up_deg=2.0)
    assert judged([piece("a", SMALL)], [at("a", 50, 50, 2.0)], crooked).breaches == ()
    breach = only(judged([piece("a", SMALL)], [at("a", 50, 50, 0.0)], crooked))
    assert (breach.rule, breach.amount_mm) == ("turn", pytest.approx(2.0))
    two_way = piece("a", SMALL, turns_deg=(0.0, 180.0))
    assert judged([two_way], [at("a", 150, 150, -178.0)], crooked).breaches == ()
    assert only(judged([two_way], [at("a", 150, 150, 92.0)], crooked)).amount_mm == pytest.approx(90.0)
    assert judged([piece("a", SMALL, turns_deg=None)], [at("a", 50, 50, 33.0)], crooked).breaches == ()
    assert only(judged([piece("a", SMALL, turns_deg=())], [at("a", 50, 50)])).amount_mm == 180.0


def test_where_grounds_lie_on_each_other_the_one_that_suits_the_turn_counts() -> None:
    under, over = ground(up_deg=90.0), replace(ground(), id="over")
    both = ClothAsked("swatch", "Swatch", SWATCH, (under, over))
    assert judged([piece("a", SMALL)], [at("a", 50, 50)], both).breaches == ()


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


# Half a repeat along b of the sheared lattice (50, 13), (-17, 81) laid at (9, 4), and 3 a + b on from there.
PLACE = (SHEARED.b_mm[0] / 2, SHEARED.b_mm[1] / 2) if SHEARED.b_mm else (0.0, 0.0)
LOCKED = (9 - 8.5 + 3 * 50 - 17, 4 + 40.5 + 3 * 13 + 81)


def locked(dx: float = 0.0, dy: float = 0.0, turn_deg: float = 0.0, **print_fields: object) -> Report:
    """The L's inner corner (20, 75) locked to PLACE, off it by (dx, dy)."""
    one = piece("l", L_SHAPE, turns_deg=None, print_id="birds")
    lock = Lock("l", (20.0, 75.0), PLACE)
    corner = {0.0: (20.0, 75.0), 90.0: (-75.0, 20.0), 180.0: (-20.0, -75.0)}[turn_deg]
    placed = at("l", LOCKED[0] - corner[0] + dx, LOCKED[1] - corner[1] + dy, turn_deg)
    return judged([one], [placed], cloth(**printed(**print_fields)), locks=(lock,))


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 180.0])
def test_a_locked_point_sits_at_its_place_in_the_repeat_at_every_turn(turn_deg: float) -> None:
    assert locked(turn_deg=turn_deg).breaches == ()
    assert locked(dx=0.03, dy=0.03, turn_deg=turn_deg).breaches == (), "within 0.05 mm"
    breach = only(locked(dx=0.3, dy=-0.4, turn_deg=turn_deg))
    assert (breach.rule, breach.amount_mm) == ("lock", pytest.approx(0.5))


def test_a_lock_is_measured_on_the_stretched_cloth() -> None:
    # The print came out 2 % wider: the place 3 a + b + PLACE lies 2 % farther across.
    stretched = LAID.__class__(xx=1.02, dx=9.0, dy=4.0)
    x, y = LOCKED[0] - 9.0, LOCKED[1] - 4.0
    assert locked(dx=0.02 * x, to_cloth=stretched).breaches == ()
    assert only(locked(to_cloth=stretched)).amount_mm == pytest.approx(0.02 * x)
    assert y == LOCKED[1] - 4.0


def test_a_lock_on_a_print_of_unknown_origin_may_be_off_by_the_most_a_place_can_be() -> None:
    assert only(locked(origin_known=False)).amount_mm == pytest.approx(SHEARED.farthest_off_mm)
    bare = judged([piece("a", SMALL)], [at("a", 50, 50)], locks=(Lock("a", (0.0, 0.0), (0.0, 0.0)),))
    assert (only(bare).rule, only(bare).amount_mm) == ("lock", 0.0)


def test_wishes_that_are_no_musts_are_not_judged() -> None:
    pieces = [piece("a", SMALL), piece("b", SMALL)]
    lock = Lock("a", (0.0, 0.0), (0.0, 0.0), must=False)
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),), must=False)
    report = judged(pieces, [at("a", 10, 10), at("b", 71, 10)], cloth(**printed()), locks=(lock,), links=(link,))
    assert report.breaches == ()


def linked(dx: float, dy: float, turns: tuple[float, float] = (0.0, 0.0), **fields: object) -> Report:
    """Piece b runs on from a by (12, 5), turned with the pieces; b lies (dx, dy) from a."""
    pieces = [piece("a", SMALL, turns_deg=None), piece("b", SMALL, turns_deg=None)]
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((12.0, 5.0),))
    placed = [at("a", 120, 120, turns[0]), at("b", 120 + dx, 120 + dy, turns[1])]
    return judged(pieces, placed, cloth(**printed(**fields)), links=(link,))


def test_linked_pieces_run_on_over_whole_repeats() -> None:
    assert linked(50 + 12, 13 + 5).breaches == ()
    assert linked(50 + 12, 13 + 5, origin_known=False).breaches == (), "only the difference counts"
    breach = only(linked(50 + 12 + 0.3, 13 + 5 - 0.4))
    assert (breach.rule, breach.pieces, breach.amount_mm) == ("link", ("a", "b"), pytest.approx(0.5))


def test_the_difference_of_linked_pieces_turns_with_them() -> None:
    # Turned a quarter clockwise (12, 5) becomes (-5, 12).
    assert linked(50 - 5, 13 + 12, (90.0, 90.0)).breaches == ()
    assert only(linked(50 + 12, 13 + 5, (90.0, 90.0))).rule == "link"


def test_linked_pieces_have_the_same_turn() -> None:
    breach = only(linked(100, 0, (0.0, 180.0)))
    assert (breach.rule, breach.pieces, breach.amount_mm) == ("turn", ("a", "b"), 180.0)


def test_linked_pieces_on_cloth_without_a_print_cannot_hold() -> None:
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    pieces = [piece("a", SMALL), piece("b", SMALL)]
    assert only(judged(pieces, [at("a", 10, 10), at("b", 100, 10)], links=(link,))).amount_mm == 0.0
    assert judged(pieces, [at("a", 10, 10)], links=(link,)).breaches == (), "the other one waits"


def two_cloths(**second: object) -> tuple[ClothAsked, ClothAsked]:
    """The same print on two cloths: at (9, 4) on the first; on the second, turned a quarter, at (200, 10)."""
    turned = LAID.__class__(0.0, -1.0, 1.0, 0.0, 200.0, 10.0)
    first = cloth(**printed())
    fields = {**printed(to_cloth=turned), "up_deg": 90.0, **second}
    return first, replace(cloth(**fields), id="leftover")


def link_over_two_cloths(dx: float = 0.0, turn_deg: float = 90.0, **second: object) -> tuple[Breach, ...]:
    pieces = (piece("a", SMALL), piece("b", SMALL))
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((12.0, 5.0),))
    # a lies at print (31, 46); b must lie at print (43, 51) and whole repeats: here one b, (26, 132); turned a quarter
    # and shifted that is (200 - 132, 10 + 26).
    placed = [at("a", 40, 50), at("b", 68 + dx, 36, turn_deg, on="leftover")]
    return Judge(Question(pieces, two_cloths(**second), links=(link,))).report(placed).breaches


def test_linked_pieces_on_two_cloths_meet_in_the_print() -> None:
    assert link_over_two_cloths() == ()
    (off,) = link_over_two_cloths(dx=0.5)
    assert (off.rule, off.cloth, off.amount_mm) == ("link", "leftover", pytest.approx(0.5))
    turn, _ = sorted(link_over_two_cloths(turn_deg=0.0), key=lambda breach: len(breach.pieces), reverse=True)
    assert (turn.rule, turn.amount_mm) == ("turn", 90.0)
    (unknown,) = link_over_two_cloths(origin_known=False)
    assert unknown.amount_mm == pytest.approx(SHEARED.farthest_off_mm)
    (other_print,) = link_over_two_cloths(print_id="seeds")
    assert other_print.rule == "link"


def test_a_linked_piece_off_every_ground_is_out_of_phase() -> None:
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    bare = ClothAsked("swatch", "Swatch", SWATCH, ())
    report = judged([piece("a", SMALL), piece("b", SMALL)], [at("a", 10, 10), at("b", 90, 10)], bare, links=(link,))
    assert [breach.rule for breach in report.breaches] == ["link", "outside", "outside"]


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


def test_a_planned_piece_can_be_linked_to_a_cut_one() -> None:
    cut = (piece("front-1", SMALL), at("front-1", 10, 10))
    link = Link(("front-1", "back-1"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    printed_cloth = replace(cloth(**printed()), fixed=(cut,))
    assert judged([piece("back-1", SMALL)], [at("back-1", 60, 23)], printed_cloth, links=(link,)).breaches == ()
    assert only(judged([piece("back-1", SMALL)], [at("back-1", 61, 23)], printed_cloth, links=(link,))).rule == "link"


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


def test_the_outline_on_the_cloth_turns_about_the_anchor() -> None:
    l_piece = PieceAsked("l", L_SHAPE, (20.0, 75.0))
    ring = outline_on_cloth(l_piece, at("l", 100, 100, 90.0))
    assert ring[2] == (100.0, 100.0)
    assert ring[3] == (100.0, 140.0), "the foot's upper edge, 40 long, now runs down"


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


def test_pieces_that_move_together_measure_to_the_others_only() -> None:
    found = distances([at("m", 100, 100), at("n", 141, 100)], [at("a", 200, 100), at("b", 95, 200)])
    assert (found["right"].length_mm, found["right"].to) == (19.0, "a")
    assert (found["below"].length_mm, found["below"].to) == (70.0, "b")
    assert found["nearest"].length_mm == 19.0


def test_a_piece_off_the_cloth_has_no_room_and_no_nearest() -> None:
    found = distances([at("m", 400, 100)], [])
    assert found == {}
    assert Judge(Question((piece("m", SMALL),), (cloth(),))).rest([]).judge((at("zz", 1, 1),)).distances == ()
