"""What catches carried pieces, what comes first, and what catches nothing."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from guiding_samples import at_corner, bare_ground, body, cloth, guides, printed_ground

from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.guiding.guide import Caught
from coverlayout.layout.guiding.guides import Guides
from coverlayout.layout.question import Lock, Placed
from coverlayout.motif.lattice import Lattice

SHEET = rectangle(600.0, 400.0)
PLAIN = cloth(SHEET, [bare_ground(SHEET)])
STRAIGHT = Lattice((50.0, 0.0), (0.0, 60.0))
COVER = at_corner("cover", 90.0, 120.0, 100.0, 80.0)
LABEL = at_corner("label", 60.0, 40.0, 0.0, 0.0)


def held(found: Guides, moving: Body, left: float, top: float, reach: float = 3.0, only: Point | None = None) -> Caught:
    """What catches an upright piece held with its top left corner there."""
    dx, dy = moving.anchor_mm
    return found.catch([replace(moving.placed, x_mm=left + dx, y_mm=top + dy)], reach, only)


def kinds(caught: Caught) -> list[str]:
    return [guide.kind for guide in caught.guides]


def test_a_place_in_the_repeat_comes_before_nearer_lines() -> None:
    ground = printed_ground(SHEET, STRAIGHT)
    cover = replace(COVER, placed=replace(COVER.placed, x_mm=130.0, y_mm=110.0))
    found = guides(cloth(SHEET, [ground]), [cover], LABEL)
    # The label's anchor belongs at 130 + 200, 110 + 120; its corner then at 310, 220. Held 2 mm off both ways; the
    # cover's lower edge at 200 and middle are further away, the middle of the cloth (270) too.
    caught = held(found, LABEL, 308.0, 222.0)
    assert kinds(caught) == ["repeat"]
    assert caught.by_mm == pytest.approx((2.0, -2.0))
    assert caught.guides[0].offset_mm == caught.by_mm
    # With the wish elsewhere, the wish comes first although the cover's place is nearer.
    lock = Lock("label-1", (0.0, 0.0), (7.0, 42.0))
    wishing = guides(cloth(SHEET, [ground]), [cover], LABEL, locks=[lock])
    caught = held(wishing, LABEL, 308.2, 221.5)
    assert kinds(caught) == ["wish"]
    assert caught.by_mm == pytest.approx((307.0 - 308.2, 222.0 - 221.5))


def test_a_place_in_the_repeat_among_neighbours_is_passed_over() -> None:
    ground = printed_ground(SHEET, STRAIGHT)
    # The other's anchor lies at 315. Of 75 mm a third lies left of the anchor: at 365 the carried piece would begin at
    # 340, 5 mm within the other, which ends at 345; at 415 it begins at 390, clear of it.
    other = at_corner("other", 45.0, 120.0, 300.0, 200.0)
    carried = at_corner("carried", 75.0, 120.0, 0.0, 0.0)
    found = guides(cloth(SHEET, [ground]), [other], carried)
    assert "repeat" not in kinds(held(found, carried, 345.5, 200.0, reach=6.0))
    assert kinds(held(found, carried, 395.5, 200.0, reach=6.0)) == ["repeat"]


def test_stripes_leave_the_other_direction_to_lines() -> None:
    ground = printed_ground(SHEET, Lattice((40.0, 0.0)))
    cover = replace(COVER, placed=replace(COVER.placed, x_mm=130.0))
    found = guides(cloth(SHEET, [ground]), [cover], LABEL)
    # Anchors 130 + 160 = 290 across; along, level with the cover's head at 80.
    caught = held(found, LABEL, 268.5, 81.0)
    assert sorted(kinds(caught)) == ["level", "repeat"]
    assert caught.by_mm == pytest.approx((1.5, -1.0))
    assert held(found, LABEL, 268.5, 333.0).by_mm == pytest.approx((1.5, 0.0))
    lying = printed_ground(SHEET, Lattice((0.0, 40.0)))
    along = guides(cloth(SHEET, [lying]), [cover], LABEL)
    # Along: 110 + 120 = 230, corner at 220; across level with the cover's left edge at 100.
    assert held(along, LABEL, 101.0, 221.5).by_mm == pytest.approx((-1.0, -1.5))


def test_slanted_stripes_catch_across_themselves_alone() -> None:
    ground = printed_ground(SHEET, Lattice((24.0, 32.0)))
    cover = replace(COVER, placed=replace(COVER.placed, x_mm=130.0, y_mm=110.0))
    found = guides(cloth(SHEET, [ground]), [cover], LABEL)
    # 5 steps of 40 mm along (0.6, 0.8): (250, 270); held 1 mm further along that way.
    caught = found.catch([replace(LABEL.placed, x_mm=250.6, y_mm=270.8)], 3.0)
    assert kinds(caught) == ["repeat"]
    assert caught.by_mm == pytest.approx((-0.6, -0.8))


def test_what_would_collide_is_passed_over_for_the_next() -> None:
    # Level with the shelf's left edge (62) the label would run 2 mm into the cover; the cover's own edge is further.
    shelf = at_corner("shelf", 300.0, 30.0, 42.0, 300.0)
    found = guides(PLAIN, [COVER, shelf], LABEL)
    caught = held(found, LABEL, 39.5, 130.0, reach=4.0)
    assert kinds(caught) == ["touch"]
    assert caught.by_mm == pytest.approx((0.5, 0.0))
    # What overlaps already may be laid on any line.
    assert kinds(held(found, LABEL, 101.0, 130.0)) == ["level"]


def test_nothing_leads_off_the_ground() -> None:
    ledge = at_corner("ledge", 200.0, 30.0, -2.0, 300.0)
    caught = held(guides(PLAIN, [ledge], LABEL), LABEL, 0.5, 130.0)
    assert kinds(caught) == ["edge"]
    assert caught.by_mm == pytest.approx((-0.5, 0.0))


def test_only_along_a_line_where_that_is_asked() -> None:
    found = guides(PLAIN, [COVER], LABEL)
    assert held(found, LABEL, 191.0, 81.0).by_mm == pytest.approx((-1.0, -1.0))
    assert held(found, LABEL, 191.0, 81.0, only=(1.0, 0.0)).by_mm == pytest.approx((-1.0, 0.0))
    assert held(found, LABEL, 191.0, 81.0, only=(0.0, -2.0)).by_mm == pytest.approx((0.0, -1.0))
    assert held(found, LABEL, 191.0, 81.0, only=(1.0, 1.0)).guides[0].kind == "touch"
    assert held(found, LABEL, 191.0, 82.0, only=(1.0, 1.0)).guides == ()


def test_the_line_is_drawn_over_both_it_joins() -> None:
    caught = held(guides(PLAIN, [COVER], LABEL), LABEL, 400.0, 81.0)
    (guide,) = caught.guides
    assert guide.lines_mm == (((100.0, 80.0), (460.0, 80.0)),)
    assert guide.offset_mm == pytest.approx((0.0, -1.0))
    beside = held(guides(PLAIN, [COVER], LABEL), LABEL, 191.0, 150.0)
    assert beside.guides[0].lines_mm == (((190.0, 80.0), (190.0, 200.0)),)


def test_a_piece_comes_over_another_cloth_and_is_caught_there() -> None:
    away = cloth(rectangle(300.0, 300.0), [bare_ground(rectangle(300.0, 300.0))], "d")
    there = replace(COVER, placed=replace(COVER.placed, cloth="d"))
    found = guides([PLAIN, away], [there], LABEL)
    placed = replace(LABEL.placed, x_mm=191.0 + 20.0, y_mm=134.0)
    assert found.catch([placed], 3.0).guides == ()
    assert kinds(found.catch([replace(placed, cloth="d")], 3.0)) == ["touch"]


def test_what_is_not_over_one_cloth_is_not_caught() -> None:
    second = at_corner("second", 50.0, 50.0, 0.0, 0.0)
    found = guides(PLAIN, [COVER], [LABEL, second])
    on = replace(LABEL.placed, x_mm=211.0, y_mm=130.0)
    away = replace(second.placed, x_mm=280.0, y_mm=130.0)
    assert found.catch([on, away], 3.0).guides
    assert found.catch([on, replace(away, cloth="")], 3.0) == Caught()
    assert found.catch([replace(on, cloth=""), replace(away, cloth="")], 3.0) == Caught()
    assert found.catch([away], 3.0) == Caught()
    assert found.catch([], 3.0) == Caught()


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_a_place_that_is_no_number_is_not_caught(wrong: float) -> None:
    found = guides(PLAIN, [COVER], LABEL)
    assert found.catch([replace(LABEL.placed, x_mm=wrong)], 3.0) == Caught()
    assert found.catch([replace(LABEL.placed, x_mm=211.0, y_mm=130.0)], wrong) == Caught()


def lying(moving: Body, left: float, top: float) -> Placed:
    dx, dy = moving.anchor_mm
    return replace(moving.placed, x_mm=left + dx, y_mm=top + dy)


def test_on_to_the_next_guide_however_far() -> None:
    found = guides(PLAIN, [COVER], LABEL)
    # From corner (400, 150), between head and lower edge of the cover (100 to 190 across): to the left the label's
    # middle comes to that of the cloth at 300 first (corner 270), then its left edge to 190. What would lie on the
    # cover is left out: next come its far side (100 - 60 = 40) and the edge.
    stops, left = [], 400.0
    for _ in range(5):
        caught = found.onward([lying(LABEL, left, 150.0)], (-1.0, 0.0))
        left += caught.by_mm[0]
        stops.append((round(left, 6), kinds(caught)))
    assert stops == [(270.0, ["middle-cloth"]), (190.0, ["touch"]), (40.0, ["touch"]), (0.0, ["edge"]), (0.0, [])]
    down = found.onward([lying(LABEL, 400.0, 150.0)], (0.1, 1.0))
    # Level with the cover's lower edge: 200 - 40 = 160.
    assert (down.by_mm[0], kinds(down)) == (0.0, ["level"])
    assert down.by_mm[1] == pytest.approx(10.0)


def test_along_a_turned_piece_the_next_guide_lies_its_own_way() -> None:
    cover = body("cover", 90.0, 120.0, (200.0, 150.0), turn_deg=2.0)
    label = body("label", 60.0, 40.0, (400.0, 160.0), turn_deg=2.0)
    caught = guides(PLAIN, [cover], label).onward([label.placed], (-1.0, 0.0))
    assert caught.by_mm[1] / caught.by_mm[0] == pytest.approx(math.tan(math.radians(2.0)))


def test_there_is_no_next_guide_for_what_does_not_lie_on_one_cloth() -> None:
    second = at_corner("second", 50.0, 50.0, 0.0, 0.0)
    found = guides(PLAIN, [COVER], [LABEL, second])
    assert found.onward([second.placed], (1.0, 0.0)) == Caught()
    assert found.onward([LABEL.placed, replace(second.placed, cloth="d")], (1.0, 0.0)) == Caught()
    assert found.onward([replace(LABEL.placed, cloth="")], (1.0, 0.0)) == Caught()


def test_a_turn_on_the_way_changes_what_is_caught() -> None:
    found = guides(PLAIN, [COVER], LABEL)
    upright = found.catch([replace(LABEL.placed, x_mm=211.0, y_mm=150.0)], 2.0)
    turned = found.catch([replace(LABEL.placed, x_mm=221.0, y_mm=150.0, turn_deg=90.0)], 2.0)
    # A third of 60 lies left of the anchor; turned a quarter clockwise, three quarters of 40.
    assert upright.by_mm[0] == pytest.approx(190.0 + 20.0 - 211.0)
    assert turned.by_mm[0] == pytest.approx(190.0 + 30.0 - 221.0)


def test_a_catch_that_would_hand_on_is_let_be() -> None:
    # The cover's print place lies 1.2 mm off the line that is nearer: on the line, the place would pull it on. Neither
    # catches where the place itself is out of reach.
    ground = printed_ground(SHEET, Lattice((50.0, 0.0), (0.0, 60.0)))
    shelf = body("shelf", 30.0, 20.0, (133.0, 360.0), turn_deg=180.0)
    cover = replace(COVER, placed=replace(COVER.placed, x_mm=130.0, y_mm=110.0))
    found = guides(cloth(SHEET, [ground]), [cover, shelf], LABEL)
    for k in range(60):
        placed = replace(LABEL.placed, x_mm=326.0 + 0.1 * k, y_mm=226.0 + 0.13 * k)
        caught = found.catch([placed], 2.0)
        there = replace(placed, x_mm=placed.x_mm + caught.by_mm[0], y_mm=placed.y_mm + caught.by_mm[1])
        assert math.hypot(*found.catch([there], 2.0).by_mm) < 1e-6
