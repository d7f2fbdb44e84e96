"""Locks to the repeat and linked pieces, on a sheared lattice and against arithmetic written here."""

from __future__ import annotations

from dataclasses import replace

import pytest
from samples import (
    L_SHAPE,
    LAID,
    SHEARED,
    SMALL,
    SWATCH,
    at,
    cloth,
    judged,
    only,
    piece,
    printed,
)

from coverlayout.layout.answer import Breach, Report
from coverlayout.layout.question import ClothAsked, Link, Lock, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

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


def test_a_planned_piece_can_be_linked_to_a_cut_one() -> None:
    cut = (piece("front-1", SMALL), at("front-1", 10, 10))
    link = Link(("front-1", "back-1"), ((0.0, 0.0), (0.0, 0.0)), ((0.0, 0.0),))
    printed_cloth = replace(cloth(**printed()), fixed=(cut,))
    assert judged([piece("back-1", SMALL)], [at("back-1", 60, 23)], printed_cloth, links=(link,)).breaches == ()
    assert only(judged([piece("back-1", SMALL)], [at("back-1", 61, 23)], printed_cloth, links=(link,))).rule == "link"


def test_pieces_that_lie_for_good_are_not_held_to_a_link_with_each_other() -> None:
    link = Link(("a", "b", "c"), ((0.0, 0.0),) * 3, ((0.0, 0.0),) * 2)
    fixed = ((piece("a", SMALL), at("a", 10, 10)), (piece("b", SMALL), at("b", 61, 10)))
    on = replace(cloth(**printed()), fixed=fixed)
    assert judged([piece("c", SMALL)], [at("c", 110, 36)], on, links=(link,)).breaches == ()
    assert only(judged([piece("c", SMALL)], [at("c", 112, 36)], on, links=(link,))).pieces == ("a", "c")


# A print that looks the same half turned about this place of its own, and a square one also turned by quarters.
ABOUT = (7.0, 11.0)
SQUARE = Lattice((40.0, 0.0), (0.0, 40.0))


def copies(
    dx: float, dy: float, turn_deg: float, first_deg: float = 0.0, alike: tuple[float, ...] = (180.0,), **fields: object
) -> Report:
    """Piece b beside a, which lies at (120, 120); b's point is to show what a shows (12, 5) further on."""
    pieces = [piece("a", SMALL, turns_deg=None), piece("b", SMALL, turns_deg=None)]
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((12.0, 5.0),))
    on = cloth(**printed(**fields))
    alike_ground = replace(on.grounds[0], alike_deg=alike, alike_about_mm=ABOUT)
    placed = [at("a", 120, 120, first_deg), at("b", dx, dy, turn_deg)]
    return judged(pieces, placed, replace(on, grounds=(alike_ground,)), links=(link,))


def test_a_half_turned_copy_lies_at_the_half_turned_place() -> None:
    # a shows print (120 - 9 + 12, 120 - 4 + 5) = (123, 121); half turned about (7, 11) that is (-109, -99). On the
    # cloth (-100, -95), and 4 a + 3 b = (200 - 51, 52 + 243) further on (49, 200).
    assert copies(49, 200, 180.0).breaches == ()
    assert only(copies(49.3, 199.6, 180.0)).amount_mm == pytest.approx(0.5)
    # The first one half turned itself: it shows (12, 5) the other way, at print (99, 111), copied at (-85, -89).
    assert copies(-85 + 9 + 149, -89 + 4 + 295, 0.0, first_deg=180.0).breaches == ()


def test_a_quarter_turned_copy_needs_a_repeat_that_lies_on_itself() -> None:
    alike = (90.0, 180.0, 270.0)
    # (123, 121) is (116, 110) from (7, 11); a quarter clockwise makes that (-110, 116): print (-103, 127), cloth
    # (-94, 131), and eight repeats to the right (226, 131).
    assert copies(226, 131, 90.0, alike=alike, lattice=SQUARE).breaches == ()
    assert only(copies(226, 131.5, 90.0, alike=alike, lattice=SQUARE)).amount_mm == pytest.approx(0.5)
    skewed = only(copies(226, 131, 90.0, alike=alike))
    assert (skewed.rule, skewed.amount_mm) == ("turn", 90.0)


def test_a_turned_copy_is_no_match_where_the_print_does_not_say_so_or_its_place_is_unknown() -> None:
    assert only(copies(49, 200, 180.0, alike=())).rule == "turn"
    assert only(copies(49, 200, 180.0, alike=(90.0,))).rule == "turn"
    assert only(copies(49, 200, 180.0, origin_known=False)).rule == "link"


def test_a_turned_copy_on_another_cloth_meets_in_the_print() -> None:
    first, second = two_cloths()
    alike = [
        replace(on, grounds=(replace(on.grounds[0], alike_deg=(180.0,), alike_about_mm=ABOUT),))
        for on in (first, second)
    ]
    pieces = (piece("a", SMALL, turns_deg=None), piece("b", SMALL, turns_deg=None))
    link = Link(("a", "b"), ((0.0, 0.0), (0.0, 0.0)), ((12.0, 5.0),))

    # a at print (31, 46) wants (43, 51) on b, copied at (-29, -29): on the second cloth (200 + 29, 10 - 29). Four a and
    # one b of the print there are (-52, 200) and (-81, -17) further on. Up is 90, and half turned from that 270.
    def off(dx: float, turn_deg: float) -> list[Breach]:
        placed = [at("a", 40, 50), at("b", 96 + dx, 164, turn_deg, on="leftover")]
        return list(Judge(Question(pieces, tuple(alike), links=(link,))).report(placed).breaches)

    assert off(0.0, 270.0) == []
    assert [breach.amount_mm for breach in off(0.4, 270.0)] == [pytest.approx(0.4)]
    assert {breach.rule for breach in off(0.0, 180.0)} == {"turn"}
