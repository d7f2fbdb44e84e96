"""Places where a piece touches two things at once, checked by shapely; places that a repeat allows, by arithmetic."""

from __future__ import annotations

import numpy as np
import pytest
from laying import cloth, flaw, piece
from shapely.geometry import Polygon

from coverlayout.geometry.frames import Ring
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.filling.fields import Field, Stand, first_field, obstacles_of, stand_of
from coverlayout.layout.question import ClothAsked, PieceAsked, Placed
from coverlayout.motif.lattice import Lattice

ELL = ((0.0, 0.0), (110.0, 0.0), (110.0, 38.0), (40.0, 38.0), (40.0, 90.0), (0.0, 90.0))


def stand_at(asked: PieceAsked, on: ClothAsked, turn_deg: float = 0.0) -> Stand:
    stand = stand_of(asked, on, on.grounds[0], turn_deg)
    assert stand is not None
    return stand


def field_of(
    asked: PieceAsked, on: ClothAsked, turn_deg: float = 0.0, room_mm: float = 0.0, apart_mm: float = 0.0
) -> tuple[Stand, Field | None]:
    stand = stand_at(asked, on, turn_deg)
    return stand, first_field(stand, obstacles_of(on, on.grounds[0]), room_mm, apart_mm)


def places(field: Field | None) -> set[tuple[float, float]]:
    assert field is not None
    return {(round(x, 3), round(y, 3)) for x, y in field.places.tolist()}


def at(ring: Ring, x: float, y: float) -> Polygon:
    return Polygon([(u + x, v + y) for u, v in ring])


def test_on_empty_cloth_the_corners_are_the_places() -> None:
    asked = piece("a", 60, 40, anchor=(10.0, 5.0))
    _, field = field_of(asked, cloth(200, 100))
    assert places(field) == {(10, 5), (150, 5), (10, 65), (150, 65)}
    # A quarter clockwise the anchor is 35 from the left and 10 from the top of a box of 40 x 60; room on all sides.
    _, field = field_of(asked, cloth(200, 100), 90.0, room_mm=3.0)
    assert places(field) == {(38, 13), (192, 13), (38, 47), (192, 47)}


def test_a_piece_that_just_fits_has_a_place_and_a_larger_one_none() -> None:
    corner = (0.0, 0.0)
    _, field = field_of(piece("a", 200, 40, anchor=corner), cloth(200, 100))
    assert places(field) == {(0, 0), (0, 60)}
    assert field_of(piece("a", 200.01, 40), cloth(200, 100))[1] is None
    bare = ClothAsked("c", "c", rectangle(9, 9), (cloth(9, 9).grounds[0],))
    empty = Region.nothing()
    nothing = obstacles_of(bare, type(bare.grounds[0])("g", empty))
    assert first_field(stand_at(piece("a", 2, 2), bare), nothing, 0.0, 0.0) is None


def test_every_place_beside_an_ell_touches_it_or_the_edge_and_overlaps_nothing() -> None:
    on = cloth(300, 200)
    corner = (0.0, 0.0)
    standing, _ = field_of(piece("ell", 0, 0, outline=ELL, anchor=corner), on)
    wedge: Ring = ((0.0, 0.0), (60.0, 0.0), (40.0, 50.0), (0.0, 50.0))
    moving, field = field_of(piece("b", 0, 0, outline=wedge, anchor=corner), on)
    assert field is not None
    behind = field.behind([(standing.barrier(moving, 0.0), np.array([20.0, 30.0]))])
    ell, edge = at(ELL, 20.0, 30.0), Polygon(rectangle(300, 200))
    found = places(behind)
    for x, y in found:
        there = at(wedge, x, y)
        assert there.buffer(-0.01).disjoint(ell)
        assert edge.buffer(0.01).covers(there)
        assert there.distance(ell) < 0.01 or there.distance(edge.exterior) < 0.01
    # In the corner of the L, at its ends, and where it was on empty cloth.
    assert {(60.0, 68.0), (130.0, 68.0), (20.0, 120.0), (240.0, 0.0), (240.0, 150.0)} <= found


def test_flaws_holes_cut_pieces_and_dents_of_the_ground_are_kept_clear_of() -> None:
    ground: Ring = ((0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (100.0, 100.0), (100.0, 200.0), (0.0, 200.0))
    cut = piece("cut-1", 20, 50, anchor=(0.0, 0.0)), Placed("cut-1", "c", 200.0, 0.0)
    stain, hole = flaw(rectangle(10, 10, 62, 0)), flaw(rectangle(10, 10, 0, 100), "hole", spoiled=True)
    on = cloth(0, 0, outline=ground, keep_outs=(stain, hole), fixed=(cut,))
    _, field = field_of(piece("a", 60, 40, anchor=(0.0, 0.0)), on, room_mm=2.0, apart_mm=5.0)
    found = places(field)
    assert {(2.0, 2.0), (2.0, 55.0), (2.0, 115.0)} <= found
    usable = Polygon(ground).buffer(-1.99, join_style="mitre")
    for x, y in found:
        there = at(rectangle(60, 40), x, y)
        assert usable.covers(there)
        assert there.buffer(-0.01).disjoint(stain.region.shape)
        assert there.distance(hole.region.shape) >= 4.99
        assert there.distance(Polygon(rectangle(20, 50, 200, 0))) >= 4.99


def test_only_what_is_seen_keeps_clear_of_a_flaw_that_may_be_hidden() -> None:
    on = cloth(200, 100, keep_outs=(flaw(rectangle(5, 5), "dot", seen_only=True),))
    hidden = piece("a", 60, 40, anchor=(0.0, 0.0), seen=rectangle(40, 20, 10, 10))
    assert (0, 0) in places(field_of(hidden, on)[1])
    assert (0, 0) not in places(field_of(piece("b", 60, 40, anchor=(0.0, 0.0)), on)[1])


def test_a_held_piece_has_the_places_of_its_repeat() -> None:
    on = cloth(200, 100)
    stand, field = field_of(piece("a", 60, 40, anchor=(0.0, 0.0)), on)
    assert field is not None
    held = field.held_at(Lattice((50.0, 0.0), (25.0, 30.0)), (3.0, 4.0))
    expected = {(3 + 50 * i + 25 * k, 4 + 30 * k) for i in range(-3, 4) for k in range(2)}
    assert places(held) == {(x, y) for x, y in expected if 0 <= x <= 140 and y <= 60}
    blocked = held.behind([(stand.barrier(stand, 0.0), np.array([0.0, 0.0]))])
    assert places(blocked) == {(x, y) for x, y in places(held) if x >= 60 or y >= 40}


def test_on_stripes_a_piece_touches_along_their_lines() -> None:
    on = cloth(200, 100)
    stand, field = field_of(piece("a", 60, 40, anchor=(0.0, 0.0)), on)
    assert field is not None
    held = field.held_at(Lattice((0.0, 45.0)), (3.0, 10.0))
    assert places(held) == {(0, 10), (140, 10), (0, 55), (140, 55)}
    beside = held.behind([(stand.barrier(stand, 0.0), np.array([30.0, 10.0]))])
    assert places(beside) == {(90, 10), (140, 10), (0, 55), (140, 55)}


@pytest.mark.parametrize(("first", "second", "same"), [(0.0, 180.0, True), (0.0, 90.0, False)])
def test_turns_that_make_no_difference_have_one_key(first: float, second: float, same: bool) -> None:
    on = cloth(200, 100)
    asked = piece("a", 60, 40, anchor=(10.0, 5.0))
    keys = [stand_at(asked, on, turn_deg).shape_key for turn_deg in (first, second)]
    assert (keys[0] == keys[1]) is same
    seen = piece("a", 60, 40, anchor=(10.0, 5.0), seen=rectangle(20, 20, 5, 5))
    keys = [stand_at(seen, on, turn_deg).shape_key for turn_deg in (first, second)]
    assert keys[0] != keys[1]
