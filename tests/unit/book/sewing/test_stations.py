"""Stations of every rule, measured from the head of the page, and the figures that cannot be used."""

import math
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Paper, Sewing, Structure
from coverlayout.book.measures import measures
from coverlayout.book.sewing.stations import is_sewn, mirrored_mm, page_height_mm, pairs_mm, sewing_figure, stations_mm
from coverlayout.errors import BadInput

LEDGER = Book("b", "Ledger", page_mm=(100.0, 150.0))


def _stations(sewing: Sewing, book: Book = LEDGER) -> tuple[float, ...]:
    book = replace(book, sewing=sewing)
    return stations_mm(book, book.volumes[0])


def _fault(sewing: Sewing, book: Book = LEDGER) -> str:
    with pytest.raises(BadInput) as caught:
        _stations(sewing, book)
    return str(caught.value)


def test_without_a_word_there_are_five_nineteen_from_the_ends() -> None:
    """The table of rules: five holes, 19 mm from head and tail; (150 - 38) / 4 = 28 apart."""
    assert _stations(Sewing()) == pytest.approx((19.0, 47.0, 75.0, 103.0, 131.0))


def test_other_structures_follow_their_own_rows() -> None:
    side = replace(LEDGER, structure="side-sewn", block_mm=(100.0, 150.0, 8.0), page_mm=None)
    assert _stations(Sewing(), side) == pytest.approx((6.5, 6.5 + 137 / 3, 6.5 + 2 * 137 / 3, 143.5))
    limp = replace(side, structure="limp-wrap")
    assert _stations(Sewing(), limp) == pytest.approx((19.0, 75.0, 131.0))


@pytest.mark.parametrize(("count", "expected"), [(1, (75.0,)), (2, (20.0, 130.0)), (3, (20.0, 75.0, 130.0))])
def test_few_even_stations(count: int, expected: tuple[float, ...]) -> None:
    assert _stations(Sewing(count=count, end_mm=20.0)) == expected


def test_one_station_alone_asks_for_no_room_at_the_ends() -> None:
    assert _stations(Sewing(count=1, end_mm=140.0)) == (75.0,)


def test_even_stations_begin_and_end_exactly_where_they_are_said_to() -> None:
    stations = _stations(Sewing(count=7, end_mm=0.1))
    assert (stations[0], stations[-1]) == (0.1, 150.0 - 0.1)


def test_pairs_are_spread_as_wholes() -> None:
    """Three pairs 10 apart, ends 20: the pairs begin at 20, 70 and 120, so that the last hole lies at 130."""
    assert _stations(Sewing("pairs", count=6, end_mm=20.0, pair_mm=10.0)) == (20.0, 30.0, 70.0, 80.0, 120.0, 130.0)


def test_one_pair_lies_in_the_middle_wherever_the_ends_are() -> None:
    assert _stations(Sewing("pairs", count=2, end_mm=140.0, pair_mm=10.0)) == (70.0, 80.0)


def test_pairs_by_the_rule_are_an_even_number() -> None:
    assert len(_stations(Sewing("pairs"))) == 6
    side = replace(LEDGER, structure="side-sewn")
    assert len(_stations(Sewing("pairs", pair_mm=10.0), side)) == 4


def test_ends_are_two_holes_at_each_end_whatever_the_count() -> None:
    assert _stations(Sewing("ends", count=9, end_mm=12.0, pair_mm=16.0)) == (12.0, 28.0, 122.0, 138.0)


def test_twos_are_told_only_where_stations_are_paired() -> None:
    paired = replace(LEDGER, sewing=Sewing("pairs", count=4, end_mm=20.0, pair_mm=10.0))
    assert pairs_mm(paired, paired.volumes[0]) == ((20.0, 30.0), (120.0, 130.0))
    for book in (LEDGER, replace(paired, structure="accordion"), replace(LEDGER, sewing=Sewing("own", own_mm=(9.0,)))):
        assert pairs_mm(book, book.volumes[0]) == ()


def test_own_stations_are_sorted_and_may_lie_on_the_very_edge() -> None:
    assert _stations(Sewing("own", own_mm=(131.0, 0.0, 40.0, 150.0))) == (0.0, 40.0, 131.0, 150.0)


@pytest.mark.parametrize(
    ("own", "words"),
    [
        ((), "need at least one"),
        ((10.0, 150.5), "150.5 mm from the head lies off the page, which is 150 mm high"),
        ((-1.0,), "lies off the page"),
        ((math.nan,), "lies off the page"),
        ((40.0, 10.0, 40.005), "two stations lie at 40 mm"),
    ],
)
def test_own_stations_that_cannot_be(own: tuple[float, ...], words: str) -> None:
    assert words in _fault(Sewing("own", own_mm=own))


@pytest.mark.parametrize(
    ("sewing", "words"),
    [
        (Sewing(count=0), "Ledger: stations 0: give a whole number from 1 to 200"),
        (Sewing(count=201), "from 1 to 200"),
        (Sewing("pairs", count=5), "5 stations cannot be paired"),
        (Sewing(end_mm=-1.0), "Ledger: station end -1 mm: it must be from 0 mm to 1000 mm"),
        (Sewing(end_mm=math.inf), "this is not a length"),
        (Sewing("ends", pair_mm=0.5), "station pair 0.5 mm: it must be from 1 mm to 500 mm"),
        (Sewing(count=2, end_mm=75.0), "take 150 mm of a page 150 mm high"),
        (Sewing(count=3, end_mm=80.0), "no room between them"),
        (Sewing("ends", end_mm=50.0, pair_mm=25.0), "no room between them"),
        (Sewing("pairs", count=6, end_mm=20.0, pair_mm=40.0), "take 160 mm"),
        (Sewing("pairs", count=2, pair_mm=150.0), "no room between them"),
    ],
)
def test_figures_that_leave_no_stations(sewing: Sewing, words: str) -> None:
    assert words in _fault(sewing)


@pytest.mark.parametrize("structure", ["accordion", "slipcase", "parts"])
def test_what_is_not_sewn_has_no_stations(structure: Structure) -> None:
    book = Book("b", "Ledger", structure, block_mm=(100.0, 150.0, 9.0), sewing=Sewing(count=0))
    assert not is_sewn(book)
    assert stations_mm(book, book.volumes[0]) == ()


def test_mirrored_stations_count_from_the_tail() -> None:
    assert mirrored_mm((10.0, 25.0, 131.0), 150.0) == (19.0, 125.0, 140.0)
    assert mirrored_mm((), 150.0) == ()


def test_the_page_is_what_the_paper_makes_or_the_boards_less_their_squares() -> None:
    pad = Paper((228.6, 304.8), sheets=16, cut=(2, 1))
    folded = Book("b", "Ledger", paper=pad)
    assert page_height_mm(measures(folded, folded.volumes[0])) == pytest.approx(152.4)
    boards = Book("b", "Ledger", board_mm=(110.0, 160.0), square_mm=3.0, tail_square_mm=5.0)
    assert page_height_mm(measures(boards, boards.volumes[0])) == pytest.approx(152.0)


def test_a_figure_of_the_sewing_is_the_makers_or_the_rules() -> None:
    assert sewing_figure(LEDGER, "station pair", None) == 15.0
    assert sewing_figure(LEDGER, "station pair", 9.0) == 9.0
