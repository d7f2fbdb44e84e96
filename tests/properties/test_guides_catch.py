"""Whatever lies around: what is caught is near, stays caught, keeps the rules it kept, and is a number."""

from __future__ import annotations

import math
from dataclasses import replace

from guiding_samples import bare_ground, body, cloth, guides, printed_ground
from hypothesis import given, settings
from hypothesis import strategies as st

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.guiding.aligning import align, distribute
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.guiding.guides import Guides
from coverlayout.layout.question import Ground, Placed
from coverlayout.motif.lattice import Lattice

SHEET = rectangle(500.0, 400.0)
WITHIN_MM = 1e-5
places = st.tuples(st.floats(0.0, 500.0), st.floats(0.0, 400.0))
sides = st.floats(10.0, 120.0)
turns = st.sampled_from([0.0, 90.0, 180.0, 270.0, 2.0, 92.0, 358.0, 31.0])
STRIPES = (Lattice((40.0, 0.0)), Lattice((24.0, 32.0)))
CELLS = (Lattice((64.0, 0.0), (0.0, 96.0)), Lattice((64.0, 48.0), (0.0, 96.0)), Lattice((50.0, 9.0), (-13.0, 71.0)))
lattices = st.sampled_from([*CELLS, *STRIPES])


@st.composite
def bodies(draw: st.DrawFn, most: int = 6) -> list[Body]:
    found = []
    for k in range(draw(st.integers(0, most))):
        width, height = draw(sides), draw(sides)
        board = Box(5.0, 5.0, width - 8.0, height - 7.0) if draw(st.booleans()) else None
        found.append(body(f"p{k}", width, height, draw(places), turn_deg=draw(turns), board=board))
    return found


@st.composite
def grounds(draw: st.DrawFn) -> Ground:
    if draw(st.booleans()):
        return bare_ground(SHEET, draw(st.sampled_from([0.0, 5.0])))
    return printed_ground(SHEET, draw(lattices), origin_mm=(7.0, 3.0), turn_deg=draw(st.sampled_from([0.0, 2.0])))


@st.composite
def drags(draw: st.DrawFn) -> tuple[Guides, Placed, float, float]:
    moving = body("m", draw(sides), draw(sides), (0.0, 0.0), turn_deg=draw(turns), board=Box(2.0, 3.0, 5.0, 4.0))
    gap, room = draw(st.sampled_from([0.0, 3.0])), draw(st.sampled_from([0.0, 6.0]))
    made = guides(cloth(SHEET, [draw(grounds())]), draw(bodies()), moving, gap_mm=gap, room_mm=room)
    at = draw(places)
    return made, replace(moving.placed, x_mm=at[0], y_mm=at[1]), draw(st.floats(0.1, 25.0)), gap


def there(placed: Placed, by_mm: Point) -> Placed:
    return replace(placed, x_mm=placed.x_mm + by_mm[0], y_mm=placed.y_mm + by_mm[1])


@settings(max_examples=300, deadline=None)
@given(drags())
def test_what_is_caught_is_near_and_stays_caught(drag: tuple[Guides, Placed, float, float]) -> None:
    made, placed, reach, _ = drag
    caught = made.catch([placed], reach)
    assert all(math.isfinite(number) for number in caught.by_mm)
    assert math.hypot(*caught.by_mm) <= reach * math.sqrt(2) + WITHIN_MM
    for guide in caught.guides:
        assert math.hypot(*guide.offset_mm) <= reach + WITHIN_MM
        assert all(math.isfinite(number) for line in guide.lines_mm for end in line for number in end)
    # Across and along are square to each other, and together they are the way that was gone.
    assert len(caught.guides) <= 2
    total = [sum(guide.offset_mm[k] for guide in caught.guides) for k in (0, 1)]
    assert math.dist(total, caught.by_mm) <= WITHIN_MM
    again = made.catch([there(placed, caught.by_mm)], reach)
    assert math.hypot(*again.by_mm) <= WITHIN_MM
    assert made.catch([placed], reach) == caught


@settings(max_examples=200, deadline=None)
@given(drags())
def test_nothing_upright_is_caught_into_what_it_was_clear_of(drag: tuple[Guides, Placed, float, float]) -> None:
    made, placed, reach, gap = drag
    moving = made._moving["m-1"]
    if placed.turn_deg % 90.0 or any(each.placed.turn_deg % 90.0 for each in made._resting):
        return
    caught = made.catch([placed], reach)
    before, after = (Region.of(replace(moving, placed=each).ring_mm) for each in (placed, there(placed, caught.by_mm)))
    others = [Region.of(each.ring_mm) for each in made._resting]
    clear = all(before.distance_mm(other) >= gap and not before.overlaps(other) for other in others)
    if clear and Region.of(rectangle(490.0, 390.0, 5.0, 5.0)).covers(before):
        # The gap is kept straight across; around a corner the boxes are measured, so nothing is nearer than that.
        assert all(after.distance_mm(other) >= gap - 0.02 for other in others)
        assert not any(after.meet(other).area_mm2 > 0.02 * 200 for other in others)


@given(bodies(most=7), st.sampled_from(["left", "middle", "right", "top", "centre", "bottom"]), st.booleans())
def test_what_is_in_line_stays_as_it_is(found: list[Body], to: str, back: bool) -> None:
    if len(found) < 2:
        return
    moved = {each.piece: each for each in align(found, to, back=back)}  # type: ignore[arg-type]  # the six words above
    after = [replace(each, placed=moved.get(each.placed.piece, each.placed)) for each in found]
    for placed in align(after, to, back=back):  # type: ignore[arg-type]  # the six words above
        now = next(each.placed for each in after if each.placed.piece == placed.piece)
        assert math.dist((placed.x_mm, placed.y_mm), (now.x_mm, now.y_mm)) < 1e-6


@given(bodies(most=7), st.sampled_from(["gaps", "middles"]), st.sampled_from(["across", "along"]))
def test_what_is_spread_evenly_keeps_its_ends(found: list[Body], by: str, way: str) -> None:
    if len(found) < 3:
        return
    moved = distribute(found, way, by)  # type: ignore[arg-type]  # the words above
    assert len(moved) <= len(found) - 2
    assert {each.cloth for each in moved} <= {"c"}
