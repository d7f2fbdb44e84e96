"""Where things lie on the open book of a quarter or half case, each figure a different one."""

from dataclasses import replace

from half_case import HALF, plan

from coverlayout.geometry.shapes import Box


def test_edges_from_the_middle_of_the_spine_out() -> None:
    made = plan(HALF)
    assert (made.gap_edge_mm, made.side_edge_mm, made.strip_edge_mm, made.fore_edge_mm) == (16, 42, 46, 116)
    assert made.height_mm == 150.0


def test_a_liner_hides_turn_ins_from_board_and_inset_on() -> None:
    made = plan(HALF)
    assert made.hidden_from_mm == 5.0
    assert (made.seen_beyond_mm(14.0), made.seen_beyond_mm(4.0)) == (5.0, 4.0)
    bare = plan(replace(HALF, liners="none"))
    assert (bare.hidden_from_mm, bare.seen_beyond_mm(14.0)) == (None, 14.0)
    assert plan(replace(HALF, liners="paper")).hidden_from_mm == 5.0


def test_lines_across_stay_on_the_cloth() -> None:
    assert [mark.points_mm for mark in plan(HALF).across("turn-in", -46.0, 46.0, 2.0)] == [
        ((-46.0, -2.0), (46.0, -2.0)),
        ((-46.0, 152.0), (46.0, 152.0)),
    ]
    assert [mark.points_mm[0][1] for mark in plan(HALF).across("liner", -46.0, 46.0, 15.0)] == [-14.0, 165.0]
    assert plan(HALF).box(1.0, 4.0, 2.0, 3.0) == Box(1.0, -2.0, 3.0, 155.0)


def test_corners_only_on_a_half_case_each_with_its_own_turn_in() -> None:
    head, tail = plan(HALF).corners
    assert (head.at_mm, head.low, head.end_mm, head.side_mm) == ((116.0, 0.0), False, 14.0, 20.0)
    assert (tail.at_mm, tail.low, tail.end_mm, tail.side_mm) == ((116.0, 150.0), True, 17.0, 20.0)
    assert (head.leg_mm, head.lap_mm, head.thickness_mm, head.mitre_mm, head.hidden_from_mm) == (25, 4, 2, 3, 5)
    assert plan(replace(HALF, structure="quarter-case")).corners == ()
