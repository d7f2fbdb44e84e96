"""Pieces lined up, spread and turned alike: against positions worked out in the test, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.guiding.aligning import Alignment, align, distribute, same_turn
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.question import Placed


def body(name: str, width: float, height: float, left: float, top: float, anchor: tuple[float, float]) -> Body:
    """A rectangle with its top left at (left, top); the anchor sits off its middle."""
    placed = Placed(f"{name}-1", "cloth-1", left + anchor[0], top + anchor[1])
    return Body(placed, name, rectangle(width, height), anchor, turns_deg=(0.0, 180.0))


# 40 x 30 at (10, 20), 60 x 80 at (100, 50), 20 x 20 at (70, 140); together 10..160 across and 20..160 along.
A = body("a", 40.0, 30.0, 10.0, 20.0, (7.0, 9.0))
B = body("b", 60.0, 80.0, 100.0, 50.0, (30.0, 45.0))
C = body("c", 20.0, 20.0, 70.0, 140.0, (1.0, 2.0))


def corners(bodies: tuple[Body, ...], moved: tuple[Placed, ...]) -> dict[str, tuple[float, float]]:
    """Top left corner of every upright piece after the move."""
    now = {placed.piece: placed for placed in moved}
    found = {}
    for each in bodies:
        placed = now.get(each.placed.piece, each.placed)
        found[each.name] = (placed.x_mm - each.anchor_mm[0], placed.y_mm - each.anchor_mm[1])
    return found


@pytest.mark.parametrize(
    ("to", "expected"),
    [
        ("left", {"a": (10, 20), "b": (10, 50), "c": (10, 140)}),
        # The right edge is at 160: 160 - 40, 160 - 60, 160 - 20.
        ("right", {"a": (120, 20), "b": (100, 50), "c": (140, 140)}),
        # The middle is at (10 + 160) / 2 = 85.
        ("middle", {"a": (65, 20), "b": (55, 50), "c": (75, 140)}),
        ("top", {"a": (10, 20), "b": (100, 20), "c": (70, 20)}),
        ("bottom", {"a": (10, 130), "b": (100, 80), "c": (70, 140)}),
        # (20 + 160) / 2 = 90.
        ("centre", {"a": (10, 75), "b": (100, 50), "c": (70, 80)}),
    ],
)
def test_pieces_come_to_the_edge_or_middle_of_all(to: Alignment, expected: dict[str, tuple[float, float]]) -> None:
    after = corners((A, B, C), align((A, B, C), to))
    assert after == {name: pytest.approx(at) for name, at in expected.items()}


def test_from_the_back_left_and_right_change_places() -> None:
    assert align((A, B, C), "left", back=True) == align((A, B, C), "right")
    assert align((A, B, C), "right", back=True) == align((A, B, C), "left")
    for same in ("middle", "top", "centre", "bottom"):
        assert align((A, B, C), same, back=True) == align((A, B, C), same)


def test_pieces_already_in_line_are_not_named() -> None:
    assert [placed.piece for placed in align((A, B, C), "left")] == ["b-1", "c-1"]
    lined = body("d", 10.0, 10.0, 10.0, 90.0, (0.0, 0.0))
    assert align((A, lined), "left") == ()


def test_the_others_go_to_the_piece_that_stays() -> None:
    after = corners((A, B, C), align((A, B, C), "left", staying={"c-1"}))
    assert after == {"a": pytest.approx((70, 20)), "b": pytest.approx((70, 50)), "c": (70, 140)}


def test_crooked_pieces_line_up_along_their_own_sides() -> None:
    turned = [
        replace(each, placed=replace(each.placed, turn_deg=each_deg)) for each, each_deg in ((A, 2.0), (B, 182.0))
    ]
    moved = align(turned, "top")
    # Only along the turned axis: a shift (-sin 2, cos 2) times a length.
    (placed,) = moved
    before = next(each.placed for each in turned if each.placed.piece == placed.piece)
    dx, dy = placed.x_mm - before.x_mm, placed.y_mm - before.y_mm
    assert dx / dy == pytest.approx(-math.tan(math.radians(2.0)))
    now = [replace(each, placed=placed) if each.placed.piece == placed.piece else each for each in turned]
    cos, sin = math.cos(math.radians(2.0)), math.sin(math.radians(2.0))
    tops = [min(-sin * x + cos * y for x, y in each.ring_mm) for each in now]
    assert tops[0] == pytest.approx(tops[1], abs=1e-9)


def test_pieces_turned_differently_line_up_along_the_cloth() -> None:
    turned = replace(B, placed=replace(B.placed, turn_deg=20.0))
    moved = align((A, turned), "left", staying={"a-1"})
    assert min(x for x, _ in replace(turned, placed=moved[0]).ring_mm) == pytest.approx(10.0)
    assert moved[0].y_mm == turned.placed.y_mm


def test_gaps_become_equal() -> None:
    row = (A, C, B)
    # Across: A 10..50, C 70..90, B 100..160. Between 50 and 100 C takes 20, so both gaps are 15: C begins at 65.
    assert corners(row, distribute(row, "across", "gaps")) == {"a": (10, 20), "c": (65, 140), "b": (100, 50)}


def test_middles_become_equally_far_apart() -> None:
    row = (A, C, B)
    # Middles: A 30, C 80, B 130: as they should be already. Moved by hand to 86 it goes back.
    off = replace(C, placed=replace(C.placed, x_mm=C.placed.x_mm + 6.0))
    assert distribute(row, "across", "middles") == ()
    assert corners((A, off, B), distribute((A, off, B), "across", "middles"))["c"] == pytest.approx((70, 140))


def test_pieces_too_large_for_the_room_overlap_evenly() -> None:
    wide = body("w", 90.0, 10.0, 60.0, 0.0, (0.0, 0.0))
    # 50 mm between A and B, 90 to go in: gaps of -20 each, from 50 - 20 = 30.
    assert corners((A, wide, B), distribute((A, wide, B), "across", "gaps"))["w"] == pytest.approx((30, 0))


def test_a_piece_that_stays_ends_a_row() -> None:
    d = body("d", 10.0, 10.0, 55.0, 0.0, (0.0, 0.0))
    e = body("e", 10.0, 10.0, 92.0, 0.0, (0.0, 0.0))
    bodies = (A, d, C, e, B)
    after = corners(bodies, distribute(bodies, "across", "gaps", staying={"c-1"}))
    # D between A (to 50) and C (from 70): 5 mm each side. E between C (to 90) and B (from 100): it fills the room.
    assert after["d"] == pytest.approx((55, 0))
    assert after["e"] == pytest.approx((90, 0))
    assert after["c"] == (70, 140)


def test_pieces_take_the_turn_of_one_about_their_anchors() -> None:
    leading = replace(A, placed=replace(A.placed, turn_deg=182.0), up_deg=2.0)
    follower = replace(B, placed=replace(B.placed, turn_deg=5.0), up_deg=5.0)
    # A lies half a turn from its print's up; B's print is laid at 5 degrees.
    assert same_turn((leading, follower), "a-1") == (replace(B.placed, turn_deg=185.0),)
    assert same_turn((leading, follower), "b-1") == (replace(A.placed, turn_deg=2.0),)
    assert same_turn((leading, follower), "a-1", staying={"b-1"}) == ()


def test_any_turn_may_be_taken_where_any_is_allowed() -> None:
    leading = replace(A, placed=replace(A.placed, turn_deg=33.0), turns_deg=None)
    free = replace(B, turns_deg=None)
    assert same_turn((leading, free), "a-1")[0].turn_deg == 33.0
    with pytest.raises(BadInput, match="b may not lie turned like a"):
        same_turn((leading, B), "a-1")


def test_what_cannot_be_lined_up_is_refused_in_a_sentence() -> None:
    elsewhere = replace(B, placed=replace(B.placed, cloth="cloth-2"))
    waiting = replace(B, placed=replace(B.placed, cloth=""))
    with pytest.raises(BadInput, match="choose at least 2 pieces"):
        align((A,), "left")
    with pytest.raises(BadInput, match="choose at least 3 pieces"):
        distribute((A, B), "across", "gaps")
    with pytest.raises(BadInput, match="lie on different cloths"):
        align((A, elsewhere), "left")
    with pytest.raises(BadInput, match="b waits beside the cloth"):
        align((A, waiting), "left")
    with pytest.raises(BadInput, match="all stay where they are"):
        align((A, B), "left", staying={"a-1", "b-1"})
    with pytest.raises(BadInput, match="nobody-1"):
        same_turn((A, B), "nobody-1")
    with pytest.raises(BadInput, match="choose at least 2 pieces"):
        same_turn((A,), "a-1")


def test_one_turn_reaches_over_two_cloths() -> None:
    elsewhere = replace(B, placed=replace(B.placed, cloth="cloth-2", turn_deg=180.0))
    assert same_turn((elsewhere, A), "b-1") == (replace(A.placed, turn_deg=180.0),)
