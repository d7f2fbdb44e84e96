"""The strip over the spine: size, faces, what the sides and liners hide, marks."""

from dataclasses import replace

import pytest
from half_case import HALF, plan

from coverlayout.book.covering.laid_flat import clockwise
from coverlayout.book.covering.spine_strip import spine_strip
from coverlayout.geometry.shapes import Box, area_mm2, bounds


def test_the_strip_is_the_gap_and_twice_what_lies_on_the_boards_and_turned_in_at_both_ends() -> None:
    strip = spine_strip(plan(HALF))
    assert bounds(strip.outline_mm) == Box(-46.0, -14.0, 92.0, 150 + 14 + 17)
    assert strip.anchor_mm == (0.0, 75.0)
    assert (strip.id, strip.kind, strip.board) == ("spine", "spine piece", Box(-42.0, 0.0, 84.0, 150.0))


def test_its_faces_end_where_the_sides_begin() -> None:
    faces = {face.name: bounds(face.outline_mm) for face in spine_strip(plan(HALF)).faces}
    assert faces == {
        "front": Box(16.0, 0.0, 26.0, 150.0),
        "spine": Box(-16.0, 0.0, 32.0, 150.0),
        "back": Box(-42.0, 0.0, 26.0, 150.0),
    }


def test_between_the_boards_the_whole_turn_in_stays_seen() -> None:
    """On the boards a rim of 5 mm beyond head and tail; between them 14 and 17 mm; nothing under the sides."""
    seen = spine_strip(plan(HALF)).seen_mm
    assert seen is not None
    assert clockwise(seen) == seen
    assert area_mm2(seen) == pytest.approx(84 * (150 + 5 + 5) + 32 * (14 - 5 + 17 - 5))
    assert bounds(seen) == Box(-42.0, -14.0, 84.0, 181.0)
    bare = spine_strip(plan(replace(HALF, liners="none"))).seen_mm
    assert bare is not None
    assert area_mm2(bare) == pytest.approx(84 * 181)


def test_marks_show_boards_joints_laps_and_folds() -> None:
    lines = [(mark.kind, mark.points_mm[0]) for mark in spine_strip(plan(HALF)).marks]
    assert lines == [
        ("board", (16.0, 0.0)),
        ("board", (-46.0, 0.0)),
        ("turn-in", (-46.0, -2.0)),
        ("turn-in", (-46.0, 152.0)),
        ("liner", (-46.0, -5.0)),
        ("liner", (-46.0, 155.0)),
        ("liner", (16.0, -5.0)),
        ("liner", (16.0, 155.0)),
        ("joint", (-16.0, 0.0)),
        ("joint", (16.0, 0.0)),
        ("lap", (-42.0, 0.0)),
        ("lap", (42.0, 0.0)),
        ("head", (-46.0, 0.0)),
    ]


def test_a_spine_piece_of_board_is_marked_in_the_middle() -> None:
    """20 mm of block and two boards of 2 mm, less the usual half millimetre: 23.5 mm."""
    stiff = spine_strip(plan(replace(HALF, spine_piece="board", liners="none")))
    boxes = [bounds(mark.points_mm) for mark in stiff.marks if mark.kind == "board"]
    assert boxes[1] == Box(-11.75, 0.0, 23.5, 150.0)
    assert "liner" not in [mark.kind for mark in stiff.marks]
