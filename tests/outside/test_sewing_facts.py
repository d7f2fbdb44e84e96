"""Sewing against published figures: stations, thread, holes; each with its source."""

import pytest

from coverlayout.book.book import Book, Sewing, ThreadRule
from coverlayout.book.materials.spine_lining import spine_lining
from coverlayout.book.rules.table import rule
from coverlayout.book.sewing.clearances import clearance_notes
from coverlayout.book.sewing.holes import holes
from coverlayout.book.sewing.stations import mirrored_mm, stations_mm
from coverlayout.book.sewing.thread import default_thread_rule, thread
from coverlayout.errors import sentence

IN = 25.4
SIX_INCHES = Book("b", "Ledger", page_mm=(4.125 * IN, 6 * IN), sewing=Sewing(count=5, end_mm=0.75 * IN))
NINE_INCHES = Book(
    "b", "Ledger", "side-sewn", block_mm=(6 * IN, 9 * IN, 0.5 * IN), sewing=Sewing(count=4, end_mm=0.25 * IN)
)


def _thread_in(book: Book, sections: int | None) -> float:
    needed = thread(book, book.volumes[0], sections)
    assert needed is not None
    assert needed.total_mm is not None
    return needed.total_mm / IN


def test_five_stations_on_six_inches() -> None:
    """Five, 3/4 in from head and tail: a web article on covered sewn boards, July 2018; equal spacing is assumed."""
    stations = stations_mm(SIX_INCHES, SIX_INCHES.volumes[0])
    assert [station / IN for station in stations] == pytest.approx([0.75, 1.875, 3.0, 4.125, 5.25], abs=1e-9)
    assert mirrored_mm(stations, 6 * IN) == pytest.approx(stations)


def test_the_rules_agree_with_the_article_within_half_a_millimetre() -> None:
    by_rule = Book("b", "Ledger", page_mm=(4.125 * IN, 6 * IN))
    assert stations_mm(by_rule, by_rule.volumes[0]) == pytest.approx(
        [0.75 * IN, 1.875 * IN, 76.2, 104.8, 133.4], abs=0.5
    )
    assert rule("station end", "separate-boards").nice_mm("in") == pytest.approx(0.75 * IN)


@pytest.mark.parametrize(("sections", "inches"), [(13, 90.0), (12, 84.0)])
def test_thread_of_sewn_boards(sections: int, inches: float) -> None:
    """(n + 2) x height: common practice, no source. The article of July 2018 uses 90 in for 12 to 13 sections."""
    assert _thread_in(SIX_INCHES, sections) == pytest.approx(inches)
    assert _thread_in(SIX_INCHES, sections) <= 90.0 + 1e-9


def test_thread_with_a_tail() -> None:
    """Section height times sections plus 5 in (a web tutorial): 13 x 6 + 5 = 83 in."""
    book = Book("b", "Ledger", page_mm=(100.0, 6 * IN), sewing=Sewing(thread_rule="sections and a tail"))
    assert _thread_in(book, 13) == pytest.approx(83.0)


def test_holes_of_the_covers() -> None:
    """1/4 in from the spine edge of the board, 3/4 in from head and tail: the article of July 2018."""
    book = Book(
        "b",
        "Ledger",
        page_mm=(4.125 * IN, 6 * IN),
        sewing=Sewing(count=5, end_mm=0.75 * IN, hole_from_spine_mm=0.25 * IN),
    )
    made = holes(book, book.volumes[0])
    assert {hole.x_mm / IN for hole in made} == {0.25}
    for board in ("front", "back"):
        heights = [hole.y_mm / IN for hole in made if hole.board == board]
        assert (heights[0], 6 - heights[-1]) == pytest.approx((0.75, 0.75))
    assert clearance_notes(book, book.volumes[0]) == ()


def test_two_holes_at_each_end_three_quarters_of_an_inch_in() -> None:
    """About 3/4 in from the edge, two at each end: common practice, no source."""
    book = Book("b", "Ledger", page_mm=(100.0, 6 * IN), sewing=Sewing("ends", end_mm=0.75 * IN, pair_mm=0.5 * IN))
    inches = [station / IN for station in stations_mm(book, book.volumes[0])]
    assert inches == pytest.approx([0.75, 1.25, 4.75, 5.25])


def test_four_holes_of_side_sewing() -> None:
    """1/4 in from head and tail, the rest in thirds, 1/4 in from the spine: a public textbook on bookbinding."""
    stations = stations_mm(NINE_INCHES, NINE_INCHES.volumes[0])
    assert [station / IN for station in stations] == pytest.approx([0.25, 3.083333, 5.916667, 8.75], abs=1e-6)
    assert rule("stations", "side-sewn").value == 4
    for name in ("station end", "hole from spine"):
        assert rule(name, "side-sewn").nice_mm("in") == pytest.approx(0.25 * IN)


@pytest.mark.parametrize(("name", "inches"), [("six heights", 54.0), ("five heights", 45.0)])
def test_thread_of_side_sewing(name: ThreadRule, inches: float) -> None:
    """6 x height of 9 in: a public textbook on bookbinding; 5 x: a web article on side sewing."""
    book = Book("b", "Ledger", "side-sewn", page_mm=(6 * IN, 9 * IN), sewing=Sewing(thread_rule=name))
    assert _thread_in(book, None) == pytest.approx(inches)
    assert default_thread_rule(NINE_INCHES) == "six heights"


@pytest.mark.parametrize("inches", [0.25, 0.5, 0.75])
def test_side_sewing_a_quarter_to_three_quarters_of_an_inch_from_the_spine(inches: float) -> None:
    """Holes 1/4 to 3/4 in from the spine edge (a dictionary of bookbinding, 1982), on a strip wide enough."""
    book = Book(
        "b",
        "Ledger",
        "side-sewn",
        page_mm=(6 * IN, 9 * IN),
        hinge_mm=IN,
        sewing=Sewing(hole_from_spine_mm=inches * IN),
    )
    assert clearance_notes(book, book.volumes[0]) == ()


def test_end_stations_near_head_and_tail_link_the_sections() -> None:
    """The kettle stitch lies near head and tail (a dictionary of bookbinding, 1982): in the outer eighths here."""
    stations = stations_mm(SIX_INCHES, SIX_INCHES.volumes[0])
    assert stations[0] <= 6 * IN / 8
    assert stations[-1] >= 6 * IN * 7 / 8


def test_the_paper_of_a_hollow_tube() -> None:
    """Three times the spine, folded twice: a thesaurus of bindings, and a university library's manual of 1986.

    24 mm make 72 mm; makers cut slightly under, so it is the upper bound.
    """
    case = Book("b", "Ledger", "flat-case", block_mm=(148.0, 210.0, 24.0), spine_lining="hollow tube")
    lining = spine_lining(case, case.volumes[0])
    assert lining is not None
    assert lining.width_mm == pytest.approx(72.0)
    assert sentence(lining.note, {}).startswith("Fold it twice")
