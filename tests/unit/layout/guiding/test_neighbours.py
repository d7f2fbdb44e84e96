"""The stops that outlines and gaps offer, with outlines without symmetry and rings run both ways round."""

from __future__ import annotations

from coverlayout.geometry.shapes import Box
from coverlayout.layout.guiding.neighbours import Neighbour, Side, equal_gaps, level_with, sides_of, stops_beside

# An L: a foot of 40 x 10 at the top, a leg 15 wide down to 60.
L_SHAPE = ((0.0, 0.0), (40.0, 0.0), (40.0, 10.0), (15.0, 10.0), (15.0, 60.0), (0.0, 60.0))


def test_an_l_has_three_sides_square_to_the_direction() -> None:
    expected = {Side(40.0, 0.0, 10.0, 1), Side(15.0, 10.0, 60.0, 1), Side(0.0, 0.0, 60.0, -1)}
    assert set(sides_of(L_SHAPE)) == expected
    assert set(sides_of(L_SHAPE[::-1])) == expected
    assert set(sides_of(L_SHAPE, extremes=True)) == expected


def test_along_the_other_direction_the_sides_face_out_too() -> None:
    exchanged = tuple((y, x) for x, y in L_SHAPE)
    assert set(sides_of(exchanged)) == {Side(60.0, 0.0, 15.0, 1), Side(10.0, 15.0, 40.0, 1), Side(0.0, 0.0, 40.0, -1)}


def test_slanted_and_very_short_edges_are_no_sides() -> None:
    house = ((0.0, 20.0), (15.0, 0.0), (30.0, 20.0), (30.0, 21.5), (28.0, 40.0), (0.0, 40.0))
    assert sides_of(house) == [Side(0.0, 20.0, 40.0, -1)]
    # The edge at 30 is only 1.5 mm long: what reaches farthest counts as long as the whole outline.
    assert sides_of(house, extremes=True) == [Side(0.0, 20.0, 40.0, -1), Side(30.0, 0.0, 40.0, 1)]


def test_an_edge_off_by_less_than_the_tolerance_is_square() -> None:
    near = ((0.0, 0.0), (30.0, 0.0), (30.008, 20.0), (0.0, 20.0))
    assert sides_of(near)[0] == Side((30.0 + 30.008) / 2, 0.0, 20.0, 1)


def test_stops_keep_their_length_on_the_free_side() -> None:
    sides = [Side(40.0, 0.0, 10.0, 1), Side(0.0, 0.0, 60.0, -1)]
    made = list(stops_beside(sides, [("gap", 3.0), ("room", 6.0)], ("L",)))
    assert [(part, stop.at_mm, stop.kind, stop.length_mm) for part, stop in made] == [
        ("low", 43.0, "gap", 3.0),
        ("low", 46.0, "room", 6.0),
        ("high", -3.0, "gap", 3.0),
        ("high", -6.0, "room", 6.0),
    ]
    assert all(stop.beside and stop.names == ("L",) for _, stop in made)
    (touch,) = stops_beside(sides[:1], [("touch", 0.0)], ("L",))
    assert (touch[1].at_mm, touch[1].length_mm) == (40.0, None)


def test_one_line_with_edges_middle_anchor_and_board() -> None:
    neighbour = Neighbour("L", Box(0.0, 0.0, 40.0, 60.0), 13.0, Box(4.0, 5.0, 20.0, 30.0))
    made = [(part, stop.at_mm, stop.kind) for part, stop in level_with(neighbour, sides_of(L_SHAPE))]
    assert set(made) == {
        ("low", 0.0, "level"),
        ("high", 40.0, "level"),
        ("high", 15.0, "level"),
        ("middle", 20.0, "middle"),
        ("anchor", 13.0, "anchor"),
        ("board low", 4.0, "boards"),
        ("board high", 24.0, "boards"),
    }
    assert all(stop.low_mm == 0.0 and stop.high_mm == 60.0 for _, stop in level_with(neighbour, []))
    assert len(list(level_with(neighbour._replace(board=None), []))) == 2


def neighbour(name: str, left: float, right: float, top: float = 0.0, bottom: float = 50.0) -> Neighbour:
    return Neighbour(name, Box(left, top, right - left, bottom - top), left)


def pairs(*row: Neighbour) -> set[tuple[str, ...]]:
    return {stop.names for _, stop in equal_gaps(row)}


def test_a_gap_gives_three_stops() -> None:
    made = list(equal_gaps([neighbour("a", 10.0, 40.0, 0.0, 30.0), neighbour("b", 60.0, 90.0, 20.0, 80.0)]))
    assert [(part, stop.at_mm, stop.kind, stop.low_mm, stop.high_mm) for part, stop in made] == [
        ("middle", 50.0, "between", 20.0, 30.0),
        ("low", 110.0, "like", 20.0, 80.0),
        ("high", -10.0, "like", 0.0, 30.0),
    ]
    assert made[0][1].most_mm == 20.0
    assert all(stop.pair_mm == (40.0, 60.0) for _, stop in made)


def test_only_next_neighbours_have_a_gap() -> None:
    a, b, c = neighbour("a", 0.0, 10.0), neighbour("b", 20.0, 30.0), neighbour("c", 50.0, 60.0)
    assert pairs(a, b, c) == {("a", "b"), ("b", "c")}
    assert pairs(c, a, b) == {("a", "b"), ("b", "c")}
    assert pairs(a) == set()
    assert pairs(a, neighbour("below", 20.0, 30.0, 50.0, 90.0)) == set()
    assert pairs(a, neighbour("touching", 10.0, 30.0)) == set()
    assert pairs(a, neighbour("overlapping", 5.0, 30.0)) == set()


def test_a_tall_piece_has_several_next_neighbours() -> None:
    tall = neighbour("tall", 0.0, 10.0, 0.0, 100.0)
    upper, lower = neighbour("upper", 20.0, 40.0, 0.0, 45.0), neighbour("lower", 25.0, 40.0, 50.0, 100.0)
    behind = neighbour("behind", 60.0, 80.0, 0.0, 100.0)
    assert pairs(tall, upper, lower, behind) == {
        ("tall", "upper"),
        ("tall", "lower"),
        ("upper", "behind"),
        ("lower", "behind"),
    }
