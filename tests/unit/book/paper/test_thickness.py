"""How thick a sheet is, by what it is known, and what is said of it."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.thickness import paper_thickness_mm, swell_notes, swell_of_section_mm, thickness_notes
from coverlayout.book.rules.table import rule
from coverlayout.errors import BadInput, Remark
from coverlayout.units import LengthStyle

SHEET = Paper((210.0, 297.0))


def codes(notes: tuple[Remark, ...]) -> list[str]:
    assert all(note.text() for note in notes)
    return [note.code for note in notes]


def test_a_typed_thickness_wins() -> None:
    assert paper_thickness_mm(replace(SHEET, thickness_mm=0.14, gsm=80.0, bulk=1.5)) == 0.14


def test_weight_and_bulk() -> None:
    assert paper_thickness_mm(replace(SHEET, gsm=80.0, bulk=1.5)) == pytest.approx(0.12)
    assert codes(thickness_notes(replace(SHEET, gsm=80.0, bulk=1.5))) == []


def test_weight_alone_takes_the_usual_bulk_and_says_so() -> None:
    weighed = replace(SHEET, gsm=90.0)
    assert paper_thickness_mm(weighed) == pytest.approx(0.09 * rule("bulk", "flat-case").value)
    (note,) = thickness_notes(weighed)
    assert note.code == "bulk-assumed"
    assert dict(note.figures)["bulk"] == f"{rule('bulk', 'flat-case').value:g}"
    assert LengthStyle().said(note).startswith("The thickness 0.113 mm takes a bulk of 1.25 cm3/g for 90 g/m2")


def test_a_thickness_worked_out_from_pounds_is_said_to_a_thousandth() -> None:
    """80 lb text is 118.42 g/m2 (1406.139 x 80 / 25 / 38): by 1.25 cm3/g 0.14802 mm, no 0.14."""
    (note,) = thickness_notes(replace(SHEET, gsm=1406.139 * 80 / 25 / 38))
    assert LengthStyle().said(note).startswith("The thickness 0.148 mm takes a bulk of 1.25 cm3/g for 118.4 g/m2")
    (two,) = thickness_notes(replace(SHEET, gsm=118.42, bulk=1.25, thickness_mm=0.1284))
    assert "0.128 mm thick as typed, and 0.148 mm by weight" in LengthStyle().said(two)


def test_nothing_tells_how_thick_it_is() -> None:
    assert paper_thickness_mm(SHEET) is None
    assert codes(thickness_notes(SHEET)) == ["thickness-not-known"]
    assert paper_thickness_mm(replace(SHEET, bulk=1.5)) is None
    assert codes(thickness_notes(replace(SHEET, bulk=1.5))) == ["bulk-alone", "thickness-not-known"]


def test_a_weight_out_of_range_makes_no_thickness() -> None:
    with pytest.raises(BadInput):
        paper_thickness_mm(replace(SHEET, gsm=3.0))


@pytest.mark.parametrize(
    ("thickness_mm", "gsm", "bulk", "told"),
    [
        (0.12, 80.0, 1.5, []),
        (0.125, 80.0, 1.5, []),
        (0.14, 80.0, 1.5, ["thickness-two-ways"]),
        (0.14, 80.0, None, []),
        (0.10, None, 1.5, []),
    ],
)
def test_two_ways_that_disagree(thickness_mm: float, gsm: float | None, bulk: float | None, told: list[str]) -> None:
    assert codes(thickness_notes(replace(SHEET, thickness_mm=thickness_mm, gsm=gsm, bulk=bulk))) == told


@pytest.mark.parametrize(
    ("thickness_mm", "told"),
    [
        (0.02, []),
        (0.15, []),
        (0.1525, ["paper-heavy"]),
        (0.3047, ["paper-heavy"]),
        (0.305, ["paper-is-board"]),
        (2.0, ["paper-is-board"]),
    ],
)
def test_what_is_thicker_than_paper(thickness_mm: float, told: list[str]) -> None:
    assert codes(thickness_notes(replace(SHEET, thickness_mm=thickness_mm))) == told


def test_board_is_told_in_the_makers_unit() -> None:
    (note,) = thickness_notes(replace(SHEET, thickness_mm=0.508))
    said = LengthStyle("in", inch_parts=16).said(note)
    assert said == "At 0.0200 in this is board rather than paper: it begins at about 0.0120 in."


@pytest.mark.parametrize(
    ("folds", "structure", "by_rule"),
    [
        (1, "flat-case", True),
        (1, "separate-boards", True),
        (3, "limp-wrap", True),
        (0, "flat-case", False),
        (1, "side-sewn", False),
        (2, "accordion", False),
    ],
)
def test_swell_by_the_rule(folds: int, structure: Structure, by_rule: bool) -> None:
    paper = replace(SHEET, folds=folds)
    each_mm = swell_of_section_mm(paper, structure)
    assert each_mm == (rule("swell", structure).value if by_rule else 0.0)
    assert codes(swell_notes(paper, structure, 8)) == (["swell-assumed"] if by_rule else [])
    assert swell_of_section_mm(replace(paper, swell_mm=0.4), structure) == 0.4


def test_the_assumed_swell_says_each_and_all() -> None:
    (note,) = swell_notes(SHEET, "flat-case", 12)
    each_mm = rule("swell", "flat-case").value
    assert dict(note.figures) == {"each_exact_mm": each_mm, "total_exact_mm": pytest.approx(12 * each_mm)}


@pytest.mark.parametrize(
    ("swell_mm", "told"), [(0.0, []), (0.3, []), (0.02, ["swell-unusual"]), (1.5, ["swell-unusual"])]
)
def test_a_given_swell(swell_mm: float, told: list[str]) -> None:
    assert codes(swell_notes(replace(SHEET, swell_mm=swell_mm), "flat-case", 8)) == told
