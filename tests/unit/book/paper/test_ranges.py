"""Which papers can be used, and the sentence for each that cannot."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Paper
from coverlayout.book.paper.ranges import MOST_FOLDS, MOST_PARTS, MOST_PER_SECTION, MOST_SHEETS, check_paper
from coverlayout.errors import BadInput

PAD = Paper((228.6, 304.8), cut=(2, 1), sheets=16, per_section=4)


def code_of(paper: Paper, structure: str = "separate-boards") -> str:
    with pytest.raises(BadInput) as caught:
        check_paper(paper, structure, where="Ledger: paper")  # type: ignore[arg-type]  # a word of the list in text
    assert str(caught.value).startswith("Ledger: paper")
    return caught.value.code


@pytest.mark.parametrize(
    "paper",
    [
        PAD,
        replace(PAD, sheets=None),
        replace(PAD, sheets=None, pages=1),
        replace(PAD, sheets=1, per_section=1),
        replace(PAD, sheets=MOST_SHEETS, cut=(MOST_PARTS, MOST_PARTS), folds=0),
        replace(PAD, folds=MOST_FOLDS, per_section=MOST_PER_SECTION),
        replace(PAD, sheet_mm=(20.0, 10_000.0)),
        replace(PAD, thickness_mm=0.01, gsm=5.0, bulk=0.3, swell_mm=0.0, price=0.0),
        replace(PAD, thickness_mm=5.0, gsm=2000.0, bulk=5.0, swell_mm=3.0, price=12.5),
        replace(PAD, trim_head_mm=3.0, trim_tail_mm=3.0, trim_fore_edge_mm=5.0),
    ],
)
def test_these_can_be_used(paper: Paper) -> None:
    assert check_paper(paper) is None


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"sheet_mm": (0.0, 300.0)}, "paper-length-range"),
        ({"sheet_mm": (300.0, 19.9)}, "paper-length-range"),
        ({"sheet_mm": (300.0, 10_001.0)}, "paper-length-range"),
        ({"sheet_mm": (float("nan"), 300.0)}, "length-unreadable"),
        ({"sheet_mm": (1e9, 300.0)}, "length-absurd"),
        ({"cut": (0, 1)}, "count-out-of-range"),
        ({"cut": (1, MOST_PARTS + 1)}, "count-out-of-range"),
        ({"folds": -1}, "count-out-of-range"),
        ({"folds": MOST_FOLDS + 1}, "count-out-of-range"),
        ({"per_section": 0}, "count-out-of-range"),
        ({"per_section": MOST_PER_SECTION + 1}, "count-out-of-range"),
        ({"sheets": 0}, "no-sheets"),
        ({"sheets": -1}, "count-out-of-range"),
        ({"sheets": MOST_SHEETS + 1}, "count-out-of-range"),
        ({"sheets": None, "pages": 0}, "no-pages"),
        ({"sheets": None, "pages": -8}, "count-out-of-range"),
        ({"pages": 32}, "sheets-and-pages"),
        ({"thickness_mm": 0.009}, "paper-length-range"),
        ({"thickness_mm": 5.1}, "paper-length-range"),
        ({"thickness_mm": float("inf")}, "length-unreadable"),
        ({"gsm": 4.0}, "paper-figure-range"),
        ({"bulk": 6.0}, "paper-figure-range"),
        ({"trim_head_mm": -0.1}, "length-negative"),
        ({"trim_tail_mm": float("nan")}, "length-unreadable"),
        ({"trim_fore_edge_mm": -1.0}, "length-negative"),
        ({"swell_mm": -0.1}, "paper-length-range"),
        ({"swell_mm": 3.1}, "paper-length-range"),
        ({"price": -0.01}, "paper-price"),
        ({"price": float("nan")}, "paper-price"),
    ],
)
def test_these_cannot(change: dict[str, object], code: str) -> None:
    assert code_of(replace(PAD, **change)) == code  # type: ignore[arg-type]  # fields by name


def test_a_trim_at_the_fore_edge_cuts_the_folds_of_an_accordion() -> None:
    trimmed = replace(PAD, trim_fore_edge_mm=2.0)
    assert code_of(trimmed, "accordion") == "trim-cuts-folds"
    check_paper(replace(trimmed, folds=0), "accordion")
    check_paper(replace(PAD, trim_head_mm=2.0), "accordion")


def test_the_range_stands_in_the_sentence() -> None:
    with pytest.raises(BadInput) as caught:
        check_paper(replace(PAD, sheet_mm=(15.0, 300.0)))
    assert str(caught.value) == "paper: width of the sheet 15mm: give a length from 20mm to 10000mm"
    with pytest.raises(BadInput) as caught:
        check_paper(replace(PAD, folds=9))
    assert str(caught.value) == "paper: folds 9: give a whole number from 0 to 6"
