"""One cloth along axes of one turn: its stops, and what is in the way."""

from __future__ import annotations

import pytest
from guiding_samples import at_corner, bare_ground, body, cloth

from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.guiding.axes import Axes, Keeping
from coverlayout.layout.guiding.stops import Extent, Part
from coverlayout.layout.placing import ClothReady
from coverlayout.layout.question import KeepOut

SHEET = rectangle(600.0, 400.0)
NO_ROOM = Keeping(0.0, 0.0)
COVER = at_corner("cover", 90.0, 120.0, 100.0, 80.0)


def caught(axes: Axes, way: int, part: Part, at: float, other: tuple[float, float]) -> tuple[float, str] | None:
    """Where one part is caught within 2 mm, and by which kind of guide."""
    parts: dict[Part, float] = {"low": at, "high": at, part: at}
    found = axes.stops[way].nearest(Extent(parts, *other), 2.0, lambda by_mm: True)
    return None if found is None else (round(found.stop.at_mm, 6), found.stop.kind)


@pytest.mark.parametrize(
    ("keeping", "pieces", "edges"),
    [
        (Keeping(0.0, 0.0), [("touch", 0.0)], [("edge", 0.0)]),
        (Keeping(3.0, 6.0), [("gap", 3.0), ("room", 6.0)], [("edge", 0.0), ("room-edge", 6.0)]),
        (Keeping(6.0, 6.0), [("gap", 6.0)], [("edge", 0.0), ("room-edge", 6.0)]),
        (Keeping(8.0, 6.0), [("gap", 8.0)], [("edge", 0.0), ("room-edge", 6.0)]),
    ],
)
def test_what_stops_keep(keeping: Keeping, pieces: list[object], edges: list[object]) -> None:
    assert keeping.beside_pieces() == pieces
    assert keeping.beside_edges(zoned=False) == edges
    assert keeping.beside_edges(zoned=True)[0][0] == "zone"


def test_edges_stop_from_inside_only() -> None:
    axes = Axes(ClothReady(cloth(SHEET, [bare_ground(SHEET, 5.0)])), 0.0, [], NO_ROOM, own=True)
    assert caught(axes, 0, "low", 6.0, (100.0, 140.0)) == (5.0, "edge")
    assert caught(axes, 1, "low", 394.0, (100.0, 140.0)) == (395.0, "edge")


def test_a_hole_in_the_ground_and_a_flaw_stop_from_outside() -> None:
    holed = bare_ground(SHEET)
    holed = type(holed)("all", holed.usable.minus(Region.of(rectangle(50.0, 40.0, 300.0, 100.0))))
    stain = KeepOut("f", "Stain", Region.of(rectangle(30.0, 20.0, 100.0, 200.0)))
    spoiled = KeepOut("s", "Cover", Region.of(rectangle(30.0, 20.0, 200.0, 300.0)), spoiled=True)
    axes = Axes(ClothReady(cloth(SHEET, [holed], keep_outs=[stain, spoiled])), 0.0, [], Keeping(3.0, 0.0), own=True)
    assert caught(axes, 0, "low", 351.0, (110.0, 130.0)) == (350.0, "edge")
    assert caught(axes, 0, "low", 131.0, (205.0, 215.0)) == (130.0, "touch")
    assert caught(axes, 0, "low", 232.0, (305.0, 315.0)) == (233.0, "gap")
    assert caught(axes, 0, "low", 351.0, (150.0, 170.0)) is None


def test_zones_have_edges_of_their_own() -> None:
    left, right = rectangle(280.0, 400.0), rectangle(320.0, 400.0, 280.0)
    ready = ClothReady(cloth(SHEET, [bare_ground(left, name="l"), bare_ground(right, name="r")]))
    axes = Axes(ready, 0.0, [], NO_ROOM, own=True)
    assert caught(axes, 0, "low", 281.0, (10.0, 20.0)) == (280.0, "zone")
    assert axes.in_the_way((10.0, 270.0, 10.0, 90.0)) == 0
    assert axes.in_the_way((270.0, 290.0, 10.0, 90.0)) == 1


def test_along_turned_axes_only_what_is_turned_alike_lines_up() -> None:
    crooked = body("crooked", 60.0, 40.0, (300.0, 200.0), turn_deg=2.0, anchor=(0.0, 0.0))
    ready = ClothReady(cloth(SHEET, [bare_ground(SHEET)]))
    own = Axes(ready, 2.0, [COVER, crooked], NO_ROOM, own=True)
    u, v = turn(-2.0).at((300.0, 200.0))
    assert caught(own, 0, "low", u + 61.0, (v, v + 40.0)) == (round(u + 60.0, 6), "touch")
    foreign = Axes(ready, 0.0, [COVER, crooked], NO_ROOM, own=False)
    # Along the cloth the cover's edge stops corners; its middle and head are no lines to a crooked piece.
    assert caught(foreign, 0, "low", 191.0, (100.0, 140.0)) == (190.0, "touch")
    assert caught(foreign, 1, "low", 80.5, (400.0, 440.0)) is None
    assert caught(foreign, 0, "middle", 300.0, (300.0, 340.0)) is None


def test_what_is_in_the_way_counts_the_gap() -> None:
    axes = Axes(ClothReady(cloth(SHEET, [bare_ground(SHEET)])), 0.0, [COVER], Keeping(3.0, 0.0), own=True)
    assert axes.in_the_way((193.0, 253.0, 100.0, 140.0)) == 0
    assert axes.in_the_way((192.9, 252.9, 100.0, 140.0)) == 1
    assert axes.in_the_way((189.0, 249.0, -1.0, 39.0)) == 1
    assert axes.in_the_way((180.0, 240.0, 100.0, 140.0)) == 1


def test_an_odd_ground_is_no_hindrance_of_its_own() -> None:
    odd = ((0.0, 0.0), (600.0, 0.0), (500.0, 400.0), (0.0, 400.0))
    axes = Axes(ClothReady(cloth(odd, [bare_ground(odd)])), 0.0, [], NO_ROOM, own=True)
    assert axes.in_the_way((-50.0, 10.0, 0.0, 40.0)) == 0
    assert caught(axes, 0, "low", 1.0, (100.0, 140.0)) == (0.0, "edge")
    nothing = Axes(ClothReady(cloth(odd, [bare_ground(SHEET, 900.0)])), 0.0, [], NO_ROOM, own=True)
    assert caught(nothing, 0, "low", 1.0, (100.0, 140.0)) is None
