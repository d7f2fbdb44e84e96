"""The one map from millimetres on the table to pixels: zoom on the pointer, pan, fit, limits."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coverlayout.geometry.shapes import Box
from coverlayout.ui.table.view import LEAST_PX_PER_MM, MOST_PX_PER_MM, View, fitted

SIZES = st.floats(0.01, 50.0)
PLACES = st.floats(-5000.0, 5000.0)
VIEWS = st.builds(View, SIZES, PLACES, PLACES)


@given(VIEWS, PLACES, PLACES)
def test_there_and_back_is_the_same_place(view: View, x: float, y: float) -> None:
    at_x, at_y = view.mm_at(view.to_screen.at((x, y)))
    assert at_x == pytest.approx(x, abs=1e-6)
    assert at_y == pytest.approx(y, abs=1e-6)


@given(VIEWS, st.floats(0.2, 5.0), st.floats(0.0, 1600.0), st.floats(0.0, 1000.0))
def test_what_lies_under_the_pointer_stays_there_while_zooming(view: View, factor: float, x: float, y: float) -> None:
    before = view.mm_at((x, y))
    after = view.zoomed(factor, (x, y)).mm_at((x, y))
    assert after == pytest.approx(before, abs=1e-6 / view.px_per_mm + 1e-6)


def test_zoom_by_arithmetic() -> None:
    # 10 mm right of the origin lies at 5 + 2 x 10 = 25 px; twice as large about px 5 it lies at 5 + 4 x 10.
    assert View(2.0, 5.0, 7.0).zoomed(2.0, (5.0, 7.0)).to_screen.at((10.0, 0.0)) == (45.0, 7.0)


def test_zoom_stops_at_its_limits() -> None:
    assert View().zoomed(1e9, (3.0, 3.0)).px_per_mm == MOST_PX_PER_MM
    assert View().zoomed(1e-9, (3.0, 3.0)).px_per_mm == LEAST_PX_PER_MM


def test_pan_moves_the_table_by_whole_device_pixels() -> None:
    view = View(3.0, 10.0, 20.0).panned((0.4, -0.9)).on_whole_pixels(1.5)
    assert (view.x_px * 1.5, view.y_px * 1.5) == (16.0, 29.0)  # 15.6 and 28.65 device pixels before


def test_fit_shows_all_with_its_margin() -> None:
    view = fitted(Box(100.0, 50.0, 400.0, 100.0), Box(20.0, 20.0, 464.0, 300.0), 32.0)
    assert view.px_per_mm == 1.0
    assert view.to_screen.at((100.0, 100.0)) == (52.0, 170.0)
    assert view.to_screen.at((500.0, 100.0)) == (452.0, 170.0)


def test_fit_of_nothing_and_in_no_room_stays_within_the_limits() -> None:
    nothing = fitted(Box(0.0, 0.0, 0.0, 0.0), Box(0.0, 0.0, 800.0, 600.0))
    assert nothing.px_per_mm == MOST_PX_PER_MM
    assert fitted(Box(0.0, 0.0, 1e9, 10.0), Box(0.0, 0.0, 1.0, 1.0)).px_per_mm == LEAST_PX_PER_MM


def test_a_box_on_the_table_as_a_box_on_the_screen() -> None:
    assert View(2.0, 1.0, 3.0).box_px(Box(10.0, 20.0, 5.0, 4.0)) == Box(21.0, 43.0, 10.0, 8.0)


@pytest.mark.parametrize(
    ("x_px", "y_px", "wanted"),
    [
        (-900.0, 0.0, (-52.0, 0.0)),  # the right edge of 100 px comes back to 48
        (900.0, 0.0, (752.0, 0.0)),  # the left edge goes no further than 800 - 48
        (0.0, -900.0, (0.0, -52.0)),
        (0.0, 900.0, (0.0, 552.0)),
        (300.0, 200.0, (300.0, 200.0)),
    ],
)
def test_some_of_the_table_stays_in_sight(x_px: float, y_px: float, wanted: tuple[float, float]) -> None:
    room, content = Box(0.0, 0.0, 800.0, 600.0), Box(0.0, 0.0, 100.0, 100.0)
    view = View(1.0, x_px, y_px).kept_in_sight(content, room)
    assert (view.x_px, view.y_px) == wanted


def test_a_box_is_brought_into_sight_by_the_least_movement() -> None:
    view, room = View(2.0, 10.0, 5.0), Box(24.0, 24.0, 400.0, 300.0)
    assert view.showing(Box(20.0, 20.0, 60.0, 40.0), room) == view
    # Seen from 450 to 570 across: its right side goes to 424 - 16.
    assert view.showing(Box(220.0, 20.0, 60.0, 40.0), room) == View(2.0, 10.0 - (570.0 - 408.0), 5.0)
    # Seen from -95 to -15 along: its upper side goes to 24 + 16.
    assert view.showing(Box(20.0, -50.0, 60.0, 40.0), room) == View(2.0, 10.0, 5.0 + 95.0 + 40.0)
    assert view.fits(Box(0.0, 0.0, 184.0, 134.0), room)
    assert not view.fits(Box(0.0, 0.0, 185.0, 134.0), room)
    assert not view.fits(Box(0.0, 0.0, 184.0, 135.0), room)


def test_what_is_brought_into_sight_keeps_the_size_when_it_can() -> None:
    view, room = View(2.0, 10.0, 5.0), Box(24.0, 24.0, 400.0, 300.0)
    near, far = Box(220.0, 20.0, 60.0, 40.0), Box(900.0, 20.0, 60.0, 40.0)
    assert view.bringing(Box(20.0, 20.0, 60.0, 40.0), far, room) == view
    both = Box(120.0, 20.0, 160.0, 40.0)
    assert view.bringing(near, both, room) == view.showing(both, room)
    whole = Box(20.0, 20.0, 940.0, 40.0)
    seen = view.bringing(far, whole, room)
    assert seen == fitted(whole, room)
    assert seen.px_per_mm < view.px_per_mm
