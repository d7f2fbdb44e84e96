"""Every row of the table of rules can be read, lies in its own range and tells its source."""

import math

import pytest

from coverlayout.book.book import Structure
from coverlayout.book.rules.table import Rule, all_rules, rule
from coverlayout.errors import BadInput

ROWS = all_rules()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.name}, {' '.join(row.structures) or 'all'}")
def test_a_row_holds_together(row: Rule) -> None:
    assert row.source.strip()
    assert row.hint.endswith(".")
    assert row.least <= row.usual_least < row.usual_most <= row.most
    if row.times is None:
        assert not row.unusual(row.value)
        assert row.accepts(row.value)
    else:
        assert row.of
        assert row.times > 0


@pytest.mark.parametrize("row", [row for row in ROWS if row.is_length and row.times is None], ids=lambda row: row.name)
def test_the_inch_figure_is_a_nice_one_near_the_metric(row: Rule) -> None:
    """Whole 128ths of an inch, and no more than 3 mm or a quarter away from the metric figure."""
    parts = row.inch_mm / 25.4 * 128
    assert math.isclose(parts, round(parts), abs_tol=1e-9)
    assert abs(row.inch_mm - row.value) <= max(3.0, row.value / 4)
    assert not row.unusual(row.inch_mm)


def test_the_first_row_that_fits_wins() -> None:
    assert rule("joint", "flat-case", "board").value == 10.0
    assert rule("joint", "flat-case", "none").value == 3.0
    assert rule("joint", "rounded-case", "strip").value == 5.0
    assert rule("square", "accordion").value == 3.0


@pytest.mark.parametrize("structure", ["flat-case", "half-case", "side-sewn", "slipcase"])
def test_a_row_that_is_not_there_is_a_fault_of_the_program(structure: Structure) -> None:
    with pytest.raises(KeyError):
        rule("wingspan", structure)


def test_a_length_that_cannot_be_used_names_its_range() -> None:
    turn_in = rule("turn-in", "flat-case")
    assert turn_in.check(0.0, where="Ledger: turn-in") == 0.0
    with pytest.raises(BadInput) as told:
        turn_in.check(301.0, where="Ledger: turn-in")
    assert str(told.value) == "Ledger: turn-in 301 mm: it must be from 0 mm to 300 mm"
    with pytest.raises(BadInput) as told:
        turn_in.check(math.nan, where="Ledger: turn-in")
    assert told.value.code == "length-unreadable"


def test_what_is_unusual_is_called_by_its_name_or_as_it_is_told() -> None:
    turn_in = rule("turn-in", "flat-case")
    assert turn_in.unusual_said(4.0, book="Ledger").text().startswith("Ledger: turn-in 4 mm is unusual; 10 mm to 25.4")
    said = turn_in.unusual_said(4.0, book="Ledger", figure="turn-in at the head").text()
    assert said.startswith("Ledger: turn-in at the head 4 mm")


def test_what_is_out_of_range_is_not_accepted() -> None:
    turn_in = rule("turn-in", "flat-case")
    assert not turn_in.accepts(-1.0)
    assert not turn_in.accepts(turn_in.most + 1)
    assert turn_in.unusual(60.0)
    assert turn_in.accepts(60.0)
