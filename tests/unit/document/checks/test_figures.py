"""Every figure in its range."""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass, replace

import pytest
from full_project import CLOTH, FULL, HERONS, LAID, LEDGER, POCKET

from coverlayout.book.book import TurnIns, Volume
from coverlayout.cloth.cloth import Change
from coverlayout.document.checks import figures
from coverlayout.document.checks.figures import check_figures, free_name, name_of
from coverlayout.document.project import JobRules, Preferences, Price
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed
from coverlayout.units import LengthStyle


def fault(record: object) -> str:
    with pytest.raises(BadInput) as caught:
        check_figures(record, "here")
    assert str(caught.value)
    return caught.value.code


def test_a_project_that_can_be_passes() -> None:
    check_figures(FULL, "here")


def test_every_row_of_ranges_names_a_field_that_is_there() -> None:
    for record, rows in figures._RANGES.items():
        assert is_dataclass(record)
        assert set(rows) <= {field.name for field in fields(record)}, record


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("field", ["width_mm", "trim_mm", "doubt_percent", "price"])
def test_no_figure_is_infinite_or_missing(field: str, number: float) -> None:
    assert fault(replace(CLOTH, **{field: number})) == "figure-not-finite"


def test_figures_deep_inside_are_seen() -> None:
    assert fault(replace(CLOTH, outline_mm=((0.0, 0.0), (1.0, math.nan), (2.0, 2.0)))) == "figure-not-finite"
    assert fault(replace(CLOTH, laid=replace(LAID, turn_deg=math.inf))) == "figure-not-finite"
    assert fault(replace(CLOTH, changes=(Change("felting", -100.0, 0.0),))) == "figure-out-of-range"
    assert fault(replace(LEDGER, turn_ins=TurnIns(spine_mm=-1.0))) == "figure-out-of-range"
    assert fault(replace(LEDGER, volumes=(Volume(0),))) == "figure-out-of-range"


@pytest.mark.parametrize(
    "record",
    [
        replace(CLOTH, width_mm=1e9),
        replace(LEDGER, spine_allowance_mm=-1e6),
        Placed("front-1", "cloth-1", 0.0, 200_000.1),
        replace(FULL, next_number=10**400),
        replace(LAID, turn_deg=1e12),
    ],
)
def test_absurd_figures_are_refused(record: object) -> None:
    assert fault(record) == "figure-absurd"


@pytest.mark.parametrize(
    "record",
    [
        replace(CLOTH, width_mm=0.0),
        replace(CLOTH, length_mm=-3.0),
        replace(CLOTH, selvedge_left_mm=-0.1),
        replace(CLOTH, doubt_percent=100.0),
        replace(CLOTH, price=-1.0),
        replace(HERONS, tile_mm=(64.0, 0.0)),
        replace(HERONS, drop_parts=1),
        replace(LAID, stretch_along_percent=-100.0),
        replace(LAID, skew_percent=101.0),
        replace(LEDGER, block_mm=(114.3, 152.4, 0.0)),
        replace(POCKET, count=0),
        JobRules(gap_mm=-1.0),
        Price("yard", -0.01),
        Preferences(LengthStyle(mm_step=0.0)),
    ],
)
def test_figures_out_of_range_are_refused(record: object) -> None:
    assert fault(record) == "figure-out-of-range"


def test_the_sentence_says_what_would_be_right() -> None:
    with pytest.raises(BadInput, match=r"^Swatch: doubt is 100; it must be 0 or more, at most 99$"):
        check_figures(replace(CLOTH, doubt_percent=100.0), "Swatch")
    with pytest.raises(BadInput, match=r"^Swatch: width is 0; it must be above 0$"):
        check_figures(replace(CLOTH, width_mm=0.0), "Swatch")
    with pytest.raises(BadInput, match=r"^Swatch: across is -100; it must be above -100, at most 1000$"):
        check_figures(Change("felting", -100.0, 0.0), "Swatch")


def test_names_may_be_long_but_not_endless() -> None:
    check_figures(replace(CLOTH, name="x" * 2000), "here")
    assert fault(replace(CLOTH, name="x" * 2001)) == "text-too-long"
    check_figures(replace(CLOTH, unknown=(("note", '"' + "x" * 5000 + '"'),)), "here")


def test_half_a_letter_cannot_be_written_down() -> None:
    """As the name of a file from another system may hold it."""
    picture = HERONS.picture
    assert picture is not None
    assert fault(replace(HERONS, picture=replace(picture, name="heron\udcff.png"))) == "text-odd"
    # Signs that break a line or steer a terminal: ECMA-48 control functions begin with escape, or with 0x9b alone.
    for sign in ("\n", "\x1b[2J", "\x9b2J", "\x00"):
        assert fault(replace(HERONS, name=f"heron{sign}")) == "text-odd"
    check_figures(replace(HERONS, name="Fischreiher, \U0001f9f5 und Faden"), "here")


def test_a_name_in_a_sentence_is_on_one_line_and_not_too_long() -> None:
    assert name_of(replace(CLOTH, name="two\nlines\udcff")) == "two?lines?"
    assert name_of(replace(CLOTH, name="x" * 100)) == "x" * 57 + "..."


def test_a_record_is_called_by_what_the_maker_called_it() -> None:
    assert name_of(CLOTH) == "Crooked leftover"
    assert name_of(FULL.locks[0]) == "wish-1"
    assert name_of(Price("yard", 1.0)) == "yard"
    assert name_of(JobRules()) == "jobrules"


def test_a_name_is_counted_on_while_it_is_taken() -> None:
    assert free_name("stain", ["crease"]) == "stain"
    assert free_name("stain", ["stain", "stain 2"]) == "stain 3"
    assert free_name("zone 6", ["zone 6", "zone 7"]) == "zone 8"
    assert free_name("1", ["1"]) == "1 2"
    assert free_name("Linen 2024", ["Linen 2024"]) == "Linen 2025"
    assert free_name("lot 99999999", ["lot 99999999"]) == "lot 99999999 2"
