"""The base line: places of one motif give turn, stretch and origin of a print; what cannot be is refused."""

from __future__ import annotations

import math

import pytest

from coverlayout.cloth.base_line import (
    MotifPlace,
    base_line_now,
    check_base_line,
    cloth_to_line,
    is_lengthwise,
    laid_by,
    line_turn_deg,
    nearest_repeats,
    similarity,
    way_between,
)
from coverlayout.cloth.cloth import BaseLine, Change, Cloth
from coverlayout.cloth.usable import laid_to_cloth
from coverlayout.errors import BadInput
from coverlayout.geometry.frames import turn
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint

SHEARED = Lattice((50.0, 12.0), (7.0, 64.0))
SWATCH = Cloth("c", "Swatch", 304.8, 304.8)
PLAIN = LaidPrint("p", origin_mm=(11.0, 23.0))


def refused(*places: MotifPlace, laid: LaidPrint = PLAIN, lattice: Lattice = SHEARED) -> str:
    with pytest.raises(BadInput) as caught:
        laid_by(SWATCH, laid, lattice, places)
    assert str(caught.value)
    return caught.value.code


def test_an_edge_one_degree_off_is_three_millimetres_over_one_cover():
    # A cover for pages of 6 in has 152.4 + 2 x 15 = 182.4 mm (common practice, no source); tan 1 deg x 182.4 = 3.18.
    edge = turn(1.0).vector((0.0, 182.4 / math.cos(math.radians(1.0))))
    assert edge[1] == pytest.approx(182.4)
    assert abs(edge[0]) == pytest.approx(182.4 * math.tan(math.radians(1.0)))
    assert round(abs(edge[0]), 1) == 3.2


def test_two_motifs_give_turn_stretch_and_origin():
    # Four repeats along a, (200, 48), turned by 2 degrees clockwise about the first and grown by 1 percent.
    start = (61.0, 99.0)
    way = turn(2.0).vector((200.0, 48.0))
    end = (start[0] + 1.01 * way[0], start[1] + 1.01 * way[1])
    found = laid_by(SWATCH, PLAIN, SHEARED, (MotifPlace(start), MotifPlace(end, (4, 0))))
    assert found.turned_deg == pytest.approx(2.0)
    assert found.laid.turn_deg == pytest.approx(2.0)
    assert found.stretch_percent == pytest.approx(1.0)
    assert found.laid.stretch_across_percent == pytest.approx(1.0)
    assert found.laid.stretch_along_percent == pytest.approx(1.0)
    assert found.laid.skew_percent == pytest.approx(0.0, abs=1e-9)
    assert found.off_mm == pytest.approx(0.0, abs=1e-9)
    # The motif drawn at the start lay (50, 76) from the origin before; now it lies there still.
    assert found.laid.print_to_cloth().at((50.0, 76.0)) == pytest.approx(start)
    assert found.laid.print_to_cloth().at((250.0, 124.0)) == pytest.approx(end)


def test_the_motif_can_be_named_instead_of_the_one_drawn_at_the_start():
    found = laid_by(
        SWATCH, PLAIN, SHEARED, (MotifPlace((40.0, 60.0)), MotifPlace((47.0 + 3.0, 124.0), (0, 1))), motif_mm=(5.0, 9.0)
    )
    assert found.laid.print_to_cloth().at((5.0, 9.0)) == pytest.approx((40.0, 60.0))
    assert found.laid.print_to_cloth().at((12.0, 73.0)) == pytest.approx((50.0, 124.0))


def test_unlike_stretch_and_skew_known_before_are_kept_and_turned_along():
    laid = LaidPrint("p", (11.0, 23.0), 5.0, stretch_across_percent=-3.0, stretch_along_percent=1.0, skew_percent=2.0)
    before = laid.print_to_cloth()
    start = before.at((20.0, 30.0))
    way = turn(1.5).vector(before.vector(SHEARED.point(3, 1)))
    found = laid_by(
        SWATCH, laid, SHEARED, (MotifPlace(start), MotifPlace((start[0] + way[0], start[1] + way[1]), (3, 1)))
    )
    assert found.laid.turn_deg == pytest.approx(6.5)
    assert (found.laid.stretch_across_percent, found.laid.stretch_along_percent) == pytest.approx((-3.0, 1.0))
    assert found.laid.skew_percent == pytest.approx(2.0)


def test_after_washing_the_print_contains_all_changes_and_lies_where_it_was_found():
    washed = Cloth("c", "Swatch", 304.8, 304.8, changes=(Change("washing", -3.0, -1.0),))
    start, end = (58.0, 90.0), (250.0, 141.0)
    found = laid_by(washed, PLAIN, SHEARED, (MotifPlace(start), MotifPlace(end, (4, 0))))
    assert found.laid.changes_in == 1
    now = laid_to_cloth(washed, found.laid)
    motif = now.inverse().at(start)
    assert now.at((motif[0] + 200.0, motif[1] + 48.0)) == pytest.approx(end)
    # Washing took 0.97 across and 0.99 along: their ratio stays, the print being turned but little.
    ways = [math.hypot(*now.vector(way)) for way in ((1.0, 0.0), (0.0, 1.0))]
    before = laid_to_cloth(washed, PLAIN)
    assert ways[0] / ways[1] == pytest.approx(before.xx / before.yy)


def test_three_motifs_meet_in_the_middle_and_the_worst_is_told():
    # A square of repeats whose third corner lies 3 mm low: two of the three motifs cannot both agree with it.
    dots = Lattice((100.0, 0.0), (0.0, 100.0))
    places = (
        MotifPlace((50.0, 50.0)),
        MotifPlace((150.0, 50.0), (1, 0)),
        MotifPlace((50.0, 153.0), (0, 1)),
    )
    found = laid_by(SWATCH, LaidPrint("p"), dots, places)
    assert 0.5 < found.off_mm < 3.0
    assert found.laid.stretch_across_percent == pytest.approx(found.laid.stretch_along_percent)


def test_a_cloth_of_unknown_origin_is_known_after_its_base_line():
    unknown = LaidPrint("p", origin_known=False)
    found = laid_by(SWATCH, unknown, SHEARED, (MotifPlace((10.0, 10.0)), MotifPlace((17.0, 74.0), (0, 1))))
    assert found.laid.origin_known


def test_what_is_no_base_line_is_refused():
    assert refused(MotifPlace((10.0, 10.0)), MotifPlace((10.0, 10.0), (1, 0))) == "base-line-one-point"
    assert refused(MotifPlace((10.0, 10.0)), MotifPlace((60.0, 10.0))) == "base-line-no-repeat"
    assert refused(MotifPlace((10.0, 10.0)), MotifPlace((60.0, 10.0), (3, 0))) == "base-line-stretch"
    stripes = Lattice((0.0, 7.5))
    assert refused(MotifPlace((1.0, 1.0)), MotifPlace((1.0, 16.0), (2, 0)), lattice=stripes) == "base-line-stripes"


def test_a_fifth_more_or_less_is_the_limit():
    dots = Lattice((50.0, 0.0), (0.0, 50.0))
    for end, allowed in (((69.9, 10.0), True), ((70.1, 10.0), False), ((50.1, 10.0), True), ((49.9, 10.0), False)):
        places = (MotifPlace((10.0, 10.0)), MotifPlace(end, (1, 0)))
        if allowed:
            assert abs(laid_by(SWATCH, LaidPrint("p"), dots, places).stretch_percent) < 20.0
        else:
            assert refused(*places, laid=LaidPrint("p"), lattice=dots) == "base-line-stretch"


def test_repeats_between_are_guessed_from_the_print_as_laid():
    laid = LaidPrint("p", (3.0, 4.0), turn_deg=90.0)
    # 2 a - 1 b = (93, -40); turned a quarter clockwise (40, 93); some millimetres off.
    assert nearest_repeats(SWATCH, laid, SHEARED, (5.0, 6.0), (49.0, 95.0)) == (2, -1)
    assert nearest_repeats(SWATCH, PLAIN, SHEARED, (5.0, 6.0), (9.0, 9.0)) == (0, 0)
    assert nearest_repeats(SWATCH, PLAIN, Lattice((0.0, 7.5)), (0.0, 0.0), (100.0, 16.0)) == (2, 0)
    assert way_between(SWATCH, laid, SHEARED, (2, -1)) == pytest.approx((40.0, 93.0))


def test_repeats_of_a_slanted_cell_are_guessed_by_the_nearest_motif():
    # The same motifs as those of (10, 0) and (0, 10): 4 and 4 off, the motif itself is nearest.
    slanted = Lattice((10.0, 0.0), (90.0, 10.0))
    for i in range(-3, 4):
        x, y = slanted.point(i, 1)
        assert nearest_repeats(SWATCH, LaidPrint("p"), slanted, (0.0, 0.0), (x + 4.0, y - 4.0)) == (i, 1)


def test_the_line_moves_with_the_cloth_and_has_its_own_frame():
    line = BaseLine((100.0, 50.0), (100.0, 250.0), changes_in=1)
    cloth = Cloth(
        "c", "s", 304.8, 304.8, changes=(Change("washing", -3.0, -1.0), Change("bonding", 0.0, -10.0)), base_line=line
    )
    assert base_line_now(cloth) == ((100.0, 45.0), (100.0, 225.0))
    assert base_line_now(SWATCH) is None
    to_line = cloth_to_line((100.0, 45.0), (100.0, 225.0))
    assert to_line.at((90.0, 65.0)) == pytest.approx((20.0, -10.0))
    assert line_turn_deg((0.0, 0.0), (1.0, -1.0)) == pytest.approx(-45.0)


@pytest.mark.parametrize(
    ("start", "end", "place"),
    [
        # 7 to the right of a line that runs down, then up; 7 below one that runs to the right, then to the left.
        ((50.0, 20.0), (50.0, 90.0), (57.0, 30.0)),
        ((50.0, 90.0), (50.0, 20.0), (57.0, 80.0)),
        ((20.0, 50.0), (90.0, 50.0), (30.0, 57.0)),
        ((90.0, 50.0), (20.0, 50.0), (80.0, 57.0)),
    ],
)
def test_across_grows_to_the_right_or_downward_whichever_end_a_line_begins_at(start, end, place):
    assert cloth_to_line(start, end).at(place) == pytest.approx((10.0, 7.0))
    assert is_lengthwise(start, end) == (start[0] == end[0])


def test_ends_on_one_point_are_no_line():
    with pytest.raises(BadInput) as caught:
        check_base_line(BaseLine((5.0, 5.0), (5.0, 5.005)), "Swatch")
    assert caught.value.code == "base-line-one-point"
    check_base_line(BaseLine((5.0, 5.0), (5.0, 6.0)), "Swatch")


def test_a_similarity_from_one_point_is_refused():
    with pytest.raises(BadInput) as caught:
        similarity([(1.0, 1.0), (1.0, 1.0)], [(0.0, 0.0), (9.0, 0.0)])
    assert caught.value.code == "base-line-one-motif"
