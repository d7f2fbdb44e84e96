"""Ways to cut a cloth into panels: all of it, none too large, few of them, lines where they do good."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.document.paneling.splits import Wishes, splits
from coverlayout.geometry.frames import Point
from coverlayout.geometry.shapes import Box

TURNED = ((200.0, 300.0), (300.0, 200.0))


def check(box: Box, panels: tuple[Box, ...], largest: tuple[Point, ...]) -> None:
    """They cover the box, lie on none of each other, and each is no larger than one of the sizes."""
    for panel in panels:
        assert min(panel.width_mm, panel.height_mm) > 0.0
        assert any(panel.width_mm <= w + 0.011 and panel.height_mm <= h + 0.011 for w, h in largest)
        assert panel.left_mm >= box.left_mm - 1e-6
        assert panel.right_mm <= box.right_mm + 1e-6
        assert panel.top_mm >= box.top_mm - 1e-6
        assert panel.bottom_mm <= box.bottom_mm + 1e-6
    covered = sum(panel.width_mm * panel.height_mm for panel in panels)
    assert covered == pytest.approx(box.width_mm * box.height_mm)
    for one, other in itertools.combinations(panels, 2):
        across = min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm)
        along = min(one.bottom_mm, other.bottom_mm) - max(one.top_mm, other.top_mm)
        assert min(across, along) < 1e-6


def test_a_cloth_no_larger_than_a_sheet_stays_whole() -> None:
    box = Box(3.0, 5.0, 300.0, 200.0)
    assert list(splits(box, TURNED)) == [(box,)]
    assert list(splits(box, ((math.inf, 200.0),))) == [(box,)]


def test_the_fewest_panels_come_first() -> None:
    """500 x 300: by area at least 2.5 of 200 x 300; three columns do."""
    box = Box(10.0, 20.0, 500.0, 300.0)
    found = list(splits(box, TURNED, most=40))
    counts = [len(panels) for panels in found]
    assert counts[0] == 3
    assert counts == sorted(counts)
    assert len(found) == len(set(found))
    for panels in found:
        check(box, panels, TURNED)


def test_strips_of_two_kinds_take_fewer_panels_than_a_grid() -> None:
    """500 x 500 from 200 x 300: a grid takes 3 x 2 = 6; a column 300 wide (3 panels) and one 200 wide (2) take 5."""
    box = Box(0.0, 0.0, 500.0, 500.0)
    first = next(splits(box, TURNED))
    assert len(first) == 5
    check(box, first, TURNED)


def test_a_roll_sets_no_limit_along() -> None:
    box = Box(0.0, 0.0, 1000.0, 700.0)
    ways = ((430.0, math.inf), (math.inf, 430.0))
    found = list(splits(box, ways, most=10))
    assert len(found[0]) == 2
    assert {panel.width_mm for panel in found[0]} == {1000.0}
    for panels in found:
        check(box, panels, ways)


def test_a_line_follows_the_pieces() -> None:
    """Pieces of 144 and 182 beside each other in 400 mm, strips of 3: 150 and 188, 62 to share, so 181 and 219."""
    box = Box(0.0, 0.0, 400.0, 290.0)
    wishes = Wishes(across_mm=(144.0, 182.0), along_mm=(280.0,), strip_mm=3.0)
    lines = {panels[0].width_mm for panels in splits(box, ((230.0, 300.0),), wishes) if len(panels) == 2}
    assert 181.0 in lines
    assert 219.0 in lines
    # And as far as can be from either end.
    assert {230.0, 170.0, 200.0} <= lines


def test_a_line_that_crosses_no_piece_comes_first() -> None:
    box = Box(5.0, 0.0, 400.0, 290.0)
    wishes = Wishes(across_mm=(144.0,), clear_x_mm=(100.0, 194.0, 210.0, 300.0), strip_mm=3.0)
    first = next(splits(box, ((230.0, 300.0),), wishes))
    # The farthest within 230 mm of the left edge at 5.
    assert [panel.left_mm for panel in first] == [5.0, 210.0]
    # From 100 no panel of 230 reaches the end, so that no clear line helps.
    other = next(splits(box, ((230.0, 300.0),), Wishes(clear_x_mm=(100.0,))))
    check(box, other, ((230.0, 300.0),))
    none = next(splits(box, ((230.0, 300.0),), Wishes(clear_x_mm=(300.0,))))
    check(box, none, ((230.0, 300.0),))


def test_no_panel_is_a_mere_thread_where_another_way_divides_as_well() -> None:
    for panels in splits(Box(0.0, 0.0, 401.0, 300.0), ((200.0, 300.0),), most=40):
        assert min(panel.width_mm for panel in panels) >= 10.0 or len(panels) == 3
    # Where both panels are as wide as can be, the rest is what it is.
    check(Box(0.0, 0.0, 400.0, 300.0), next(splits(Box(0.0, 0.0, 400.0, 300.0), ((200.0, 300.0),))), ((200.0, 300.0),))


def test_no_more_are_made_than_asked_for() -> None:
    assert len(list(splits(Box(0.0, 0.0, 900.0, 800.0), TURNED, most=7))) == 7


@given(
    st.floats(50.0, 1500.0),
    st.floats(50.0, 1500.0),
    st.floats(180.0, 600.0),
    st.one_of(st.floats(180.0, 900.0), st.just(math.inf)),
    st.lists(st.floats(20.0, 300.0), max_size=4),
)
def test_every_split_covers_the_cloth_with_panels_small_enough(
    width_mm: float, length_mm: float, sheet_mm: float, long_mm: float, pieces: list[float]
) -> None:
    box = Box(0.0, 0.0, width_mm, length_mm)
    largest = ((sheet_mm, long_mm), (long_mm, sheet_mm))
    wishes = Wishes(tuple(pieces), tuple(pieces), strip_mm=4.0, clear_x_mm=tuple(pieces))
    for panels in splits(box, largest, wishes, most=8):
        check(box, panels, largest)
