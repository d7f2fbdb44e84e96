"""Whatever the page: stations lie sorted on it, mirror into themselves by a rule, and holes follow them."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from coverlayout.book.book import Book, Sewing, ThreadColour
from coverlayout.book.sewing.clearances import clearance_notes
from coverlayout.book.sewing.holes import holes, on_outside_mm
from coverlayout.book.sewing.stations import mirrored_mm, stations_mm
from coverlayout.book.sewing.thread import thread
from coverlayout.errors import BadInput

HEIGHTS = st.floats(60.0, 600.0)
SEWINGS = st.builds(
    Sewing,
    rule=st.sampled_from(("even", "pairs", "ends", "own")),
    count=st.one_of(st.none(), st.integers(1, 12)),
    end_mm=st.one_of(st.none(), st.floats(0.0, 60.0)),
    pair_mm=st.one_of(st.none(), st.floats(1.0, 40.0)),
    own_mm=st.lists(st.floats(-5.0, 300.0), max_size=6).map(tuple),
    hole_from_spine_mm=st.one_of(st.none(), st.floats(0.0, 60.0)),
)


def _book(height_mm: float, sewing: Sewing, square_mm: float = 0.0) -> Book:
    return Book("b", "Ledger", page_mm=(100.0, height_mm), square_mm=square_mm, sewing=sewing)


def _stations(book: Book) -> tuple[float, ...]:
    """The stations, or a sample that is left out because they cannot be."""
    try:
        return stations_mm(book, book.volumes[0])
    except BadInput:
        reject()


@given(HEIGHTS, SEWINGS)
def test_stations_are_sorted_apart_and_on_the_page(height_mm: float, sewing: Sewing) -> None:
    stations = _stations(_book(height_mm, sewing))
    assert all(0.0 <= station <= height_mm for station in stations)
    assert all(after > before for before, after in pairwise(stations))


@given(HEIGHTS, SEWINGS.filter(lambda sewing: sewing.rule != "own"))
def test_stations_by_a_rule_are_the_same_from_the_tail(height_mm: float, sewing: Sewing) -> None:
    stations = _stations(_book(height_mm, sewing))
    assert mirrored_mm(stations, height_mm) == pytest.approx(stations, abs=1e-9)


@given(HEIGHTS, SEWINGS)
def test_mirrored_twice_is_as_before(height_mm: float, sewing: Sewing) -> None:
    stations = _stations(_book(height_mm, sewing))
    assert mirrored_mm(mirrored_mm(stations, height_mm), height_mm) == pytest.approx(stations, abs=1e-9)


@given(HEIGHTS, SEWINGS, st.floats(0.0, 10.0))
def test_holes_follow_the_stations_one_square_lower_on_both_boards(
    height_mm: float, sewing: Sewing, square_mm: float
) -> None:
    book = _book(height_mm, sewing, square_mm)
    stations = _stations(book)
    made = holes(book, book.volumes[0])
    front, back = made[: len(stations)], made[len(stations) :]
    assert [hole.y_mm for hole in front] == pytest.approx([station + square_mm for station in stations])
    assert [(hole.x_mm, hole.y_mm) for hole in front] == [(hole.x_mm, hole.y_mm) for hole in back]
    for one, other in zip(front, back, strict=True):
        x_front, y_front = on_outside_mm(one, 100.0, "left")
        x_back, y_back = on_outside_mm(other, 100.0, "left")
        assert (x_front + x_back, y_front) == (pytest.approx(100.0), y_back)


@given(HEIGHTS, SEWINGS)
def test_remarks_can_be_read(height_mm: float, sewing: Sewing) -> None:
    book = _book(height_mm, sewing)
    _stations(book)
    assert all(remark.text().startswith("Ledger: ") for remark in clearance_notes(book, book.volumes[0]))


@given(HEIGHTS, st.integers(1, 40), st.lists(st.integers(0, 10), min_size=1, max_size=4))
def test_colours_share_all_sections_and_each_has_its_ends(height_mm: float, sections: int, shares: list[int]) -> None:
    """Two heights more for every colour that sews anything: the sum is that of the sections and of those."""
    colours = tuple(ThreadColour(f"colour {k}", share) for k, share in enumerate(shares))
    book = _book(height_mm, Sewing(thread_rule="sections and two", colours=colours))
    if sum(shares) > sections:
        with pytest.raises(BadInput):
            thread(book, book.volumes[0], sections)
        return
    needed = thread(book, book.volumes[0], sections)
    assert needed is not None
    used = sum(1 for _, length_mm in needed.by_colour if length_mm)
    assert needed.total_mm == pytest.approx((sections + 2 * used) * height_mm)


@given(HEIGHTS, st.integers(1, 40))
def test_more_sections_never_take_less_thread(height_mm: float, sections: int) -> None:
    book = _book(height_mm, Sewing())
    tailed = replace(book, sewing=Sewing(thread_rule="sections and a tail"))
    for each in (book, tailed):
        few, many = (thread(each, each.volumes[0], count) for count in (sections, sections + 1))
        assert few is not None
        assert many is not None
        assert (many.total_mm or 0.0) - (few.total_mm or 0.0) == pytest.approx(height_mm)
