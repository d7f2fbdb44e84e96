"""Where carried pieces are caught, against figures worked out by hand; the arithmetic stands beside each.

No source: the cases and their figures are our own.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from guiding_samples import at_corner, bare_ground, body, cloth, guides, printed_ground

from coverlayout.geometry.frames import Affine, Point, turn
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.guiding.body import Body
from coverlayout.layout.guiding.guide import Caught
from coverlayout.layout.guiding.guides import Guides
from coverlayout.layout.question import Link, Lock
from coverlayout.motif.lattice import Lattice

# Cloth 600 x 400 with a strip of 5 mm all round that is not used: usable from 5 to 595 and from 5 to 395.
SHEET = rectangle(600.0, 400.0)
PLAIN = cloth(SHEET, [bare_ground(SHEET, 5.0)])
# A cover 90 x 120 at left 100, top 80: right edge 190, lower edge 200. The carried label is 60 x 40.
COVER = at_corner("cover", 90.0, 120.0, 100.0, 80.0)
LABEL = at_corner("label", 60.0, 40.0, 0.0, 0.0)


def held(found: Guides, moving: Body, left_mm: float, top_mm: float, reach_mm: float = 3.0) -> tuple[Point, Caught]:
    """The top left corner of an upright piece after it was held at that one, and what caught it."""
    dx, dy = moving.anchor_mm
    placed = replace(moving.placed, x_mm=left_mm + dx, y_mm=top_mm + dy)
    caught = found.catch([placed], reach_mm)
    return (left_mm + caught.by_mm[0], top_mm + caught.by_mm[1]), caught


def said(caught: Caught) -> list[str]:
    return [guide.says.text() for guide in caught.guides]


@pytest.mark.parametrize(
    ("at", "comes_to", "words"),
    [
        # Usable cloth begins at 5; the label's right edge 2 mm short of 595 comes to it: 595 - 60 = 535.
        ((6.5, 300.0), (5.0, 300.0), ["at the edge"]),
        ((533.0, 300.0), (535.0, 300.0), ["at the edge"]),
        # Both at the lower right corner: 395 - 40 = 355.
        ((536.0, 353.0), (535.0, 355.0), ["at the edge", "at the edge"]),
        # Beside the cover, right edge 190; before it, left edge 100: 100 - 60 = 40.
        ((191.5, 130.0), (190.0, 130.0), ["touching Cover"]),
        ((38.0, 130.0), (40.0, 130.0), ["touching Cover"]),
        # Touching and level with its head at 80.
        ((192.0, 81.0), (190.0, 80.0), ["level with Cover", "touching Cover"]),
        # Level with its lower edge at 200, far away: 200 - 40 = 160.
        ((400.0, 158.5), (400.0, 160.0), ["level with Cover"]),
        # On its middle, along: the cover's is 80 + 60 = 140, so the label's top comes to 120.
        ((400.0, 121.0), (400.0, 120.0), ["middle of Cover"]),
        # The middle of the cloth is 300, 200: the label's corner comes to 270, 180. The usable cloth has the same.
        ((271.0, 178.0), (270.0, 180.0), ["middle of the cloth", "middle of the cloth"]),
        # Nothing within 3 mm of (320, 250).
        ((320.0, 250.0), (320.0, 250.0), []),
    ],
)
def test_edges_neighbours_lines_and_middles(at: Point, comes_to: Point, words: list[str]) -> None:
    place, caught = held(guides(PLAIN, [COVER], LABEL), LABEL, *at)
    assert place == pytest.approx(comes_to, abs=1e-9)
    assert sorted(said(caught)) == sorted(words)


def test_the_gap_that_was_set_and_the_room_wished_for() -> None:
    found = guides(PLAIN, [COVER], LABEL, gap_mm=3.0, room_mm=6.0)
    # 190 + 3 = 193 and 190 + 6 = 196; on the other side 100 - 60 - 6 = 34. Above: 80 - 40 - 3 = 37.
    place, caught = held(found, LABEL, 193.8, 130.0)
    assert place == pytest.approx((193.0, 130.0))
    assert said(caught) == ["3 mm gap to Cover"]
    place, caught = held(found, LABEL, 195.1, 130.0)
    assert place == pytest.approx((196.0, 130.0))
    assert said(caught) == ["6 mm room to Cover"]
    place, caught = held(found, LABEL, 33.0, 130.0)
    assert place == pytest.approx((34.0, 130.0))
    assert said(caught) == ["6 mm room to Cover"]
    place, caught = held(found, LABEL, 115.3, 38.2)
    assert place == pytest.approx((115.0, 37.0))  # across: the cover's middle 145, less half a label
    # The edge at 5 and its room at 5 + 6 = 11.
    assert held(found, LABEL, 9.0, 300.0)[0] == pytest.approx((11.0, 300.0))
    assert held(found, LABEL, 7.0, 300.0)[0] == pytest.approx((5.0, 300.0))


def test_gaps_made_equal_and_repeated() -> None:
    # A from 50 to 120, B from 200 to 280, both from 100 to 220 along: 80 mm between them. C is the label, 60 wide.
    a, b = at_corner("a", 70.0, 120.0, 50.0, 100.0), at_corner("b", 80.0, 120.0, 200.0, 100.0)
    found = guides(PLAIN, [a, b], LABEL)
    # Half-way: (120 + 200) / 2 - 30 = 130, which leaves 10 on both sides.
    place, caught = held(found, LABEL, 132.0, 127.0)
    assert place == pytest.approx((130.0, 127.0))
    assert said(caught) == ["same gap on both sides, 10 mm"]
    # Beyond B at 280 + 80 = 360. Before A there is no room for another 80.
    place, caught = held(found, LABEL, 358.0, 125.0)
    assert place == pytest.approx((360.0, 125.0))
    assert said(caught) == ["same gap again, 80 mm"]
    # Not beside the row: 230 along is below both, so their gap means nothing there.
    assert held(found, LABEL, 358.0, 230.0)[1].guides == ()


def test_boards_and_anchors_come_to_one_line() -> None:
    # The cover's board begins 15 mm in: at 115, 95 and is 60 x 90. The other cover's board begins 20 in, 10 down.
    covered = replace(COVER, board=Box(15.0, 15.0, 60.0, 90.0), anchor_mm=(45.0, 60.0))
    covered = replace(covered, placed=replace(covered.placed, x_mm=145.0, y_mm=140.0))
    other = at_corner("other", 110.0, 100.0, 0.0, 0.0, board=Box(20.0, 10.0, 70.0, 83.0))
    found = guides(PLAIN, [covered], other)
    # Boards' heads level: 95 - 10 = 85. That the outlines are 5 mm off does not matter.
    place, caught = held(found, other, 300.0, 86.0, reach_mm=1.5)
    assert place == pytest.approx((300.0, 85.0))
    assert said(caught) == ["boards level with Cover"]
    # Anchors level: the cover's lies at 140, the other's a quarter of 100 below its top.
    place, caught = held(found, other, 300.0, 114.5, reach_mm=1.5)
    assert place == pytest.approx((300.0, 115.0))
    assert said(caught) == ["in line with the board of Cover"]


def test_the_same_place_in_a_half_drop() -> None:
    # Half-drop 64 x 96: a = (64, 48), b = (0, 96). The cover's anchor lies at 130, 110.
    ground = printed_ground(SHEET, Lattice((64.0, 48.0), (0.0, 96.0)), origin_mm=(11.0, 7.0))
    cover = body("cover", 90.0, 120.0, (130.0, 110.0))
    label = body("label", 60.0, 40.0, (0.0, 0.0))
    found = guides(cloth(SHEET, [ground]), [cover], label)
    # Three steps of a and one back of b: 130 + 192, 110 + 144 - 96 = (322, 158). Held 2 mm left and 1.5 above.
    caught = found.catch([replace(label.placed, x_mm=320.0, y_mm=156.5)], 3.0)
    assert caught.by_mm == pytest.approx((2.0, 1.5), abs=1e-9)
    assert said(caught) == ["same place in the repeat as Cover"]
    here, there = caught.guides[0].marks_mm
    assert here == pytest.approx((322.0, 158.0))
    assert there == (130.0, 110.0)
    # A straight repeat would have (322, 206) too; in a half-drop that is half a step off.
    assert found.catch([replace(label.placed, x_mm=322.0, y_mm=207.0)], 0.9).guides == ()


def test_the_same_place_in_a_print_laid_crooked_and_skewed() -> None:
    # Straight 50 x 70, skewed (y grows by 0.1 x) and turned by 2 degrees: a = T(50, 5), b = T(0, 70).
    skew = Affine(yx=0.1)
    ground = printed_ground(SHEET, Lattice((50.0, 0.0), (0.0, 70.0)), origin_mm=(9.0, 4.0), turn_deg=2.0, skew=skew)
    cover = body("cover", 90.0, 120.0, (130.0, 110.0), turn_deg=2.0)
    label = body("label", 60.0, 40.0, (0.0, 0.0), turn_deg=2.0)
    cos, sin = math.cos(math.radians(2.0)), math.sin(math.radians(2.0))
    # Four steps of a and one of b: (200, 20 + 70) turned.
    x, y = 130.0 + 200.0 * cos - 90.0 * sin, 110.0 + 200.0 * sin + 90.0 * cos
    found = guides(cloth(SHEET, [ground]), [cover], label)
    caught = found.catch([replace(label.placed, x_mm=x - 1.0, y_mm=y + 2.0)], 3.0)
    assert caught.by_mm == pytest.approx((1.0, -2.0), abs=1e-9)
    # Turned otherwise than the cover there is no same place.
    upright = replace(label.placed, x_mm=x - 1.0, y_mm=y + 2.0, turn_deg=0.0)
    assert [guide.kind for guide in found.catch([upright], 3.0).guides if guide.kind == "repeat"] == []


def test_where_a_wish_puts_a_point_of_the_piece() -> None:
    # The print's place (20, 30) falls at (20 + 10, 30 + 5) = (30, 35) and every (50, 60) on: (280, 215) for one.
    ground = printed_ground(SHEET, Lattice((50.0, 0.0), (0.0, 60.0)), origin_mm=(10.0, 5.0))
    label = body("label", 60.0, 40.0, (0.0, 0.0), anchor=(30.0, 20.0))
    lock = Lock("label-1", (50.0, 15.0), (20.0, 30.0), must=False)
    found = guides(cloth(SHEET, [ground]), [], label, locks=[lock])
    # The point is 20 right and 5 above the anchor: the anchor belongs at (260, 220).
    caught = found.catch([replace(label.placed, x_mm=258.0, y_mm=221.0)], 4.0)
    assert caught.by_mm == pytest.approx((2.0, -1.0), abs=1e-9)
    assert said(caught) == ["where the wish puts it"]


def test_where_the_print_runs_on() -> None:
    # The second piece's point lies 17 mm further than the first's, whole repeats of (50, 60) aside.
    ground = printed_ground(SHEET, Lattice((50.0, 0.0), (0.0, 60.0)), origin_mm=(10.0, 5.0))
    first = body("first", 60.0, 40.0, (100.0, 100.0))
    second = body("second", 60.0, 40.0, (0.0, 0.0))
    link = Link(("first-1", "second-1"), (first.anchor_mm, second.anchor_mm), ((17.0, 0.0),), must=False)
    found = guides(cloth(SHEET, [ground]), [first], second, links=[link])
    # 100 + 17 + 4 x 50 = 317, 100 + 2 x 60 = 220.
    caught = found.catch([replace(second.placed, x_mm=316.0, y_mm=221.5)], 4.0)
    assert caught.by_mm == pytest.approx((1.0, -1.5), abs=1e-9)
    assert said(caught) == ["print runs on from First"]
    # The first after the second: 17 mm before it, 300 - 17 = 283.
    back = guides(
        cloth(SHEET, [ground]), [replace(second, placed=replace(second.placed, x_mm=300.0, y_mm=40.0))], first
    )
    assert all(
        guide.kind == "repeat" for guide in back.catch([replace(first.placed, x_mm=251.0, y_mm=100.0)], 2.0).guides
    )
    mirrored = guides(
        cloth(SHEET, [ground]),
        [replace(second, placed=replace(second.placed, x_mm=300.0, y_mm=40.0))],
        first,
        links=[link],
    )
    caught = mirrored.catch([replace(first.placed, x_mm=234.0, y_mm=101.0)], 4.0)
    assert caught.by_mm == pytest.approx((-1.0, -1.0), abs=1e-9)  # (283 - 50, 40 + 60)


def test_crooked_pieces_are_caught_along_their_own_sides() -> None:
    # Both turned by 2 degrees about their anchors. Along those axes the cover's right edge lies 60 from its anchor
    # (90 less a third), the label's left edge a third of 60 = 20 before its own: touching puts anchors 80 apart.
    cover = body("cover", 90.0, 120.0, (200.0, 150.0), turn_deg=2.0)
    label = body("label", 60.0, 40.0, (0.0, 0.0), turn_deg=92.0)
    cos, sin = math.cos(math.radians(2.0)), math.sin(math.radians(2.0))
    # Turned a quarter more the label's side towards the cover is 40 long: 3/4 of it, 30 mm, on the left of its anchor.
    across, along = 60.0 + 30.0, 7.0
    x, y = 200.0 + across * cos - along * sin, 150.0 + across * sin + along * cos
    found = guides(PLAIN, [cover], label)
    caught = found.catch([replace(label.placed, x_mm=x + 1.5 * cos, y_mm=y + 1.5 * sin)], 2.0)
    assert said(caught) == ["touching Cover"]
    assert caught.by_mm == pytest.approx((-1.5 * cos, -1.5 * sin), abs=1e-9)


def test_the_corner_of_a_crooked_piece_meets_the_straight_edge() -> None:
    # A label 60 x 40 turned by 2 degrees about its top left corner: the lower left one reaches 40 sin 2 further left.
    label = body("label", 60.0, 40.0, (0.0, 0.0), anchor=(0.0, 0.0), turn_deg=2.0)
    reaches = 40.0 * math.sin(math.radians(2.0))
    caught = guides(PLAIN, [], label).catch([replace(label.placed, x_mm=7.0, y_mm=300.0)], 2.0)
    assert said(caught) == ["at the edge"]
    assert caught.by_mm == pytest.approx((5.0 + reaches - 7.0, 0.0), abs=1e-9)


def test_several_pieces_are_caught_by_the_box_around_them() -> None:
    # The label held at 300, 300 and another 50 x 50 at 380, 310: together 300 to 430 across, 300 to 360 along.
    second = at_corner("second", 50.0, 50.0, 380.0, 310.0)
    first = at_corner("label", 60.0, 40.0, 300.0, 300.0)
    found = guides(PLAIN, [COVER], [first, second])
    # Carried 163 to the right the box ends at 593: 2 more to the edge at 595.
    there = [replace(each.placed, x_mm=each.placed.x_mm + 163.0) for each in (first, second)]
    caught = found.catch(there, 3.0)
    assert caught.by_mm == pytest.approx((2.0, 0.0), abs=1e-9)
    assert said(caught) == ["at the edge"]


def test_a_quarter_turned_label_shows_its_other_side() -> None:
    # Turned a quarter clockwise about its anchor (20, 10) the 60 x 40 label reaches 30 to the left and 20 up.
    turned = replace(LABEL, placed=replace(LABEL.placed, turn_deg=90.0))
    box = [turn(90.0).vector((x - 20.0, y - 10.0)) for x, y in LABEL.outline_mm]
    assert (min(x for x, _ in box), min(y for _, y in box)) == (-30.0, -20.0)
    caught = guides(PLAIN, [COVER], turned).catch([replace(turned.placed, x_mm=221.0, y_mm=140.0)], 3.0)
    # Its left edge at 191 comes to 190; along, its anchor... its middle (140 - 20 + 30) is far from 140.
    assert caught.by_mm[0] == pytest.approx(-1.0)
