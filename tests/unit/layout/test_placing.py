"""Which ground a piece lies on, what is up there, and the rules it meets by itself."""

from __future__ import annotations

from dataclasses import replace

import pytest
from samples import (
    L_SHAPE,
    SMALL,
    SWATCH,
    at,
    cloth,
    flaw,
    ground,
    judged,
    only,
    piece,
)

from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked
from coverlayout.layout.rules import outline_on_cloth


def test_a_flaw_is_fine_where_it_is_hidden() -> None:
    stained = cloth(keep_outs=(flaw(rectangle(8.0, 8.0, 12.0, 12.0), seen_only=True),))
    seen = piece("cover", rectangle(100.0, 100.0), seen_mm=rectangle(80.0, 80.0, 10.0, 10.0))
    assert judged([seen], [at("cover", 10, 10)], stained).breaches == ()
    assert only(judged([seen], [at("cover", 9, 9)], stained)).amount_mm == pytest.approx(1.0)
    all_of_it = piece("cover", rectangle(100.0, 100.0))
    assert only(judged([all_of_it], [at("cover", 10, 10)], stained)).rule == "flaw"


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


def test_the_outline_on_the_cloth_turns_about_the_anchor() -> None:
    l_piece = PieceAsked("l", L_SHAPE, (20.0, 75.0))
    ring = outline_on_cloth(l_piece, at("l", 100, 100, 90.0))
    assert ring[2] == (100.0, 100.0)
    assert ring[3] == (100.0, 140.0), "the foot's upper edge, 40 long, now runs down"
