"""Places in the repeat: found in every lattice, counted once, sparing where they are many; wishes and links."""

from __future__ import annotations

import math
import random

import pytest
from guiding_samples import bare_ground, body, cloth, printed_ground

from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.guiding.guide import said
from coverlayout.layout.guiding.places import Ground, Place, Places, ground_under, same_as_others, wished
from coverlayout.layout.phase_rules import Pair
from coverlayout.layout.placing import ClothReady
from coverlayout.layout.question import Ground as Asked
from coverlayout.layout.question import Lock
from coverlayout.motif.lattice import Lattice

SHEET = rectangle(600.0, 400.0)
STRAIGHT = Lattice((50.0, 0.0), (0.0, 60.0))


def place(x: float, y: float, name: str = "A") -> Place:
    return Place((x, y), "repeat", said("repeat", (name,)))


def under(*grounds: Asked, at: tuple[float, float] = (100.0, 100.0)) -> Ground:
    found = ground_under(ClothReady(cloth(SHEET, grounds)), at)
    assert found is not None
    return found


@pytest.mark.parametrize("lattice", [STRAIGHT, Lattice((64.0, 48.0), (0.0, 96.0)), Lattice((130.0, 7.0), (95.0, 61.0))])
def test_the_nearest_place_of_any_lattice(lattice: Lattice) -> None:
    places = Places(lattice, [place(3.0, 4.0)], sparing=False)
    for k in range(40):
        at = (11.0 * k - 150.0, 7.3 * k - 90.0)
        found = places.nearest(at, 500.0)
        assert found is not None
        (dx, dy), _ = found
        there = at[0] + dx - 3.0, at[1] + dy - 4.0
        assert lattice.off_mm(there) < 1e-9
        assert math.hypot(dx, dy) == pytest.approx(lattice.off_mm((at[0] - 3.0, at[1] - 4.0)), abs=1e-9)


def test_of_several_places_the_nearest_within_reach() -> None:
    places = Places(STRAIGHT, [place(0.0, 0.0, "A"), place(10.0, 5.0, "B")], sparing=False)
    found = places.nearest((108.0, 127.0), 5.0)
    assert found is not None
    assert found[0] == pytest.approx((2.0, -2.0))
    assert found[1].says.text() == "same place in the repeat as B"
    assert places.nearest((108.0, 127.0), 2.0) is None
    assert Places(STRAIGHT, [], sparing=True).nearest((0.0, 0.0), 9.0) is None


@pytest.mark.parametrize("lattice", [STRAIGHT, Lattice((64.0, 48.0), (0.0, 96.0)), Lattice((9.0, 12.0))])
def test_the_quick_way_finds_what_looking_at_all_finds(lattice: Lattice) -> None:
    chance = random.Random(3)
    many = [(chance.uniform(-200.0, 200.0), chance.uniform(-200.0, 200.0)) for _ in range(25)]
    places = Places(lattice, [place(*at) for at in many], sparing=False)
    caught = 0
    for _ in range(300):
        at, reach = (chance.uniform(-300.0, 300.0), chance.uniform(-300.0, 300.0)), chance.uniform(0.01, 12.0)
        nearest_mm = min(lattice.off_mm((at[0] - x, at[1] - y)) for x, y in many)
        found = places.nearest(at, reach)
        caught += found is not None
        assert (found is not None) == (nearest_mm <= reach)
        assert found is None or math.hypot(*found[0]) == pytest.approx(nearest_mm, abs=1e-9)
    assert 50 < caught <= 300


def test_pieces_at_the_same_place_count_once() -> None:
    places = Places(STRAIGHT, [place(10.0, 5.0, "A"), place(60.0, 125.0, "B"), place(-40.0, 5.0, "C")], sparing=True)
    assert [each.says.text()[-1] for each in places.places] == ["A"]


def test_many_places_catch_less_far() -> None:
    # A quarter of 50 x 60 = 750 mm2 shared by circles: one of radius 15.45, ten of 4.886.
    one = Places(STRAIGHT, [place(0.0, 0.0)], sparing=True)
    ten = Places(STRAIGHT, [place(5.0 * k, 0.0) for k in range(10)], sparing=True)
    assert one.most_mm == pytest.approx(math.sqrt(750.0 / math.pi))
    assert ten.most_mm == pytest.approx(math.sqrt(75.0 / math.pi))
    assert ten.nearest((0.0, 4.0), 20.0) is not None
    assert ten.nearest((0.0, 5.5), 20.0) is None
    assert Places(STRAIGHT, [place(0.0, 0.0)], sparing=False).most_mm == math.inf


def test_stripes_count_across_themselves_only() -> None:
    stripes = Places(Lattice((30.0, 40.0)), [place(0.0, 0.0)], sparing=True)
    # The way across is (0.6, 0.8), a step 50 long: (65, 80) is 39 + 64 = 103 along it, 3 past two steps.
    found = stripes.nearest((65.0, 80.0), 5.0)
    assert stripes.one_way
    assert found is not None
    assert found[0] == pytest.approx((-1.8, -2.4))
    assert stripes.most_mm == 50.0 / 8


def test_the_ground_under_a_point() -> None:
    left, right = rectangle(300.0, 400.0), rectangle(300.0, 400.0, 300.0)
    printed = printed_ground(left, STRAIGHT, name="left")
    ready = ClothReady(cloth(SHEET, [printed, bare_ground(right, name="right")]))
    found = ground_under(ready, (100.0, 100.0))
    assert found is not None
    assert found.ready.ground.id == "left"
    assert ground_under(ready, (400.0, 100.0)) is None
    assert ground_under(ready, (-5.0, 100.0)) is None
    assert ground_under(ClothReady(cloth(SHEET, [bare_ground(SHEET)])), (100.0, 100.0)) is None


def test_the_same_print_on_another_cloth_knows_the_same_places() -> None:
    here = under(printed_ground(SHEET, STRAIGHT, origin_mm=(10.0, 5.0)))
    there = under(printed_ground(SHEET, STRAIGHT, origin_mm=(3.0, 8.0), turn_deg=90.0))
    moving, other = body("m", 60.0, 40.0, (0.0, 0.0)), body("o", 60.0, 40.0, (100.0, 50.0), turn_deg=90.0)
    (found,) = same_as_others(here, moving, [(other, there)])
    # There (100, 50) is (97, 42) from the origin; turned back by a quarter (42, -97); here it lies at (52, -92).
    assert found.at_mm == pytest.approx((52.0, -92.0))
    assert found.beside_mm is None
    assert same_as_others(here, moving, [(body("o", 60.0, 40.0, (100.0, 50.0)), there)]) == []


def test_where_the_place_cannot_be_known_there_is_none() -> None:
    here = under(printed_ground(SHEET, STRAIGHT))
    moving, other = body("m", 60.0, 40.0, (0.0, 0.0)), body("o", 60.0, 40.0, (100.0, 50.0))
    unknown = under(printed_ground(SHEET, STRAIGHT, origin_known=False))
    another = under(printed_ground(SHEET, STRAIGHT, print_id="q"))
    assert same_as_others(here, moving, [(other, unknown), (other, another)]) == []
    assert same_as_others(unknown, moving, [(other, here)]) == []
    # On one cloth only the difference counts, wherever the print falls.
    assert [each.at_mm for each in same_as_others(unknown, moving, [(other, unknown)])] == [(100.0, 50.0)]
    lock = Lock("m-1", (0.0, 0.0), (1.0, 1.0))
    assert wished(unknown, moving, [lock], [], []) == []
    assert wished(here, moving, [Lock("x-1", (0.0, 0.0), (1.0, 1.0))], [], []) == []


def test_a_lock_turns_with_the_piece() -> None:
    here = under(printed_ground(SHEET, STRAIGHT, origin_mm=(10.0, 5.0)))
    turned = body("m", 60.0, 40.0, (0.0, 0.0), anchor=(30.0, 20.0), turn_deg=90.0)
    (found,) = wished(here, turned, [Lock("m-1", (50.0, 15.0), (20.0, 30.0))], [], [])
    # (20, -5) from the anchor becomes (5, 20) after the quarter turn; the place lies at (30, 35).
    assert found.at_mm == pytest.approx((25.0, 15.0))
    assert found.kind == "wish"


def test_links_go_both_ways_and_only_between_pieces_turned_alike() -> None:
    here = under(printed_ground(SHEET, STRAIGHT))
    first, second = body("a", 60.0, 40.0, (100.0, 50.0)), body("b", 60.0, 40.0, (200.0, 80.0))
    running = Pair(("a-1", "b-1"), (first.anchor_mm, second.anchor_mm), (17.0, 4.0))
    (after,) = wished(here, second, [], [running], [(first, here)])
    assert after.at_mm == pytest.approx((117.0, 54.0))
    assert after.kind == "runs-on"
    (before,) = wished(here, first, [], [running], [(second, here)])
    assert before.at_mm == pytest.approx((183.0, 76.0))
    alike = Pair(("a-1", "b-1"), (first.anchor_mm, second.anchor_mm), (0.0, 0.0))
    assert wished(here, second, [], [alike], [(first, here)])[0].kind == "repeat"
    turned = body("b", 60.0, 40.0, (200.0, 80.0), turn_deg=180.0)
    assert wished(here, turned, [], [running], [(first, here)]) == []
    assert wished(here, second, [], [running], []) == []
