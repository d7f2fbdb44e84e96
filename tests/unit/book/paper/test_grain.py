"""Grain across the pages: what is offered instead really puts it head to tail."""

import re
from dataclasses import replace

import pytest

from coverlayout.book.book import Paper
from coverlayout.book.paper.folding import folded
from coverlayout.book.paper.grain import cut_with_grain, grain_notes
from coverlayout.errors import BadInput, Remark
from coverlayout.units import LengthStyle

PAD = Paper((228.6, 304.8), cut=(2, 1))


def codes(notes: tuple[Remark, ...]) -> list[str]:
    assert all(note.text() for note in notes)
    return [note.code for note in notes]


def test_nothing_is_said_of_grain_along_the_spine() -> None:
    assert grain_notes(replace(PAD, grain="long")) == ()


def test_unknown_grain_says_how_to_find_out() -> None:
    assert codes(grain_notes(PAD)) == ["grain-not-known"]


def test_grain_across_offers_the_other_ways() -> None:
    notes = grain_notes(replace(PAD, grain="short"))
    assert codes(notes) == ["grain-across-pages", "grain-other-page", "grain-turned-pieces", "grain-other-sheets"]
    # 9 x 6 in pieces on 9 x 12 in: two as cut; turned, 9 in along the 12, only one.
    assert dict(notes[2].figures) == {"count": 1, "instead": 2}
    assert dict(notes[3].figures) == {"side": "longer"}


def test_sheets_with_the_other_grain_are_right_as_they_are_cut() -> None:
    across = replace(PAD, grain="short")
    (side,) = [dict(note.figures)["side"] for note in grain_notes(across) if note.code == "grain-other-sheets"]
    other = replace(across, grain={"longer": "long", "shorter": "short"}[str(side)])
    assert folded(other).grain_of_page == "head to tail"


def test_a_cut_with_nearly_the_same_pages() -> None:
    """24 x 36 in, grain along the 36, cut 3 x 4: pages 6 x 6 in, grain across; 6 x 2 gives them with it along."""
    sheet = Paper((609.6, 914.4), cut=(3, 4), grain="long")
    assert folded(sheet).grain_of_page == "across"
    assert cut_with_grain(sheet) == (6, 2)
    note = next(note for note in grain_notes(sheet) if note.code == "grain-other-cut")
    assert dict(note.figures) == {"cut": "6x2", "width_mm": pytest.approx(152.4), "height_mm": pytest.approx(152.4)}
    assert LengthStyle("in", inch_parts=16).said(note).endswith("on pages of 6 in x 6 in.")


def test_the_cut_offered_has_the_page_it_says() -> None:
    for grain in ("long", "short"):
        for cut in ((1, 1), (2, 1), (1, 2), (3, 2), (4, 1)):
            for folds in (0, 1, 2, 3):
                paper = Paper((500.0, 707.0), cut=cut, folds=folds, grain=grain)
                for note in grain_notes(paper):
                    if note.code in ("grain-other-cut", "grain-other-page"):
                        figures = dict(note.figures)
                        parts = tuple(int(part) for part in re.findall(r"\d+", str(figures["cut"])))
                        made = folded(replace(paper, cut=parts))  # type: ignore[arg-type]  # two of them
                        assert made.grain_of_page == "head to tail"
                        assert made.page_mm == pytest.approx((figures["width_mm"], figures["height_mm"]))


def test_cuts_that_the_trims_leave_nothing_of_are_not_offered() -> None:
    trimmed = replace(PAD, grain="short", trim_head_mm=60.0, trim_fore_edge_mm=70.0)
    cut = cut_with_grain(trimmed)
    assert cut is not None
    assert folded(replace(trimmed, cut=cut)).grain_of_page == "head to tail"


def test_no_cut_at_all() -> None:
    """Trims take all but the whole sheet's page, so nothing else than the cut itself is left to try."""
    paper = Paper((300.0, 400.0), cut=(1, 1), folds=1, grain="long", trim_head_mm=150.0, trim_fore_edge_mm=155.0)
    assert folded(paper).grain_of_page == "across"
    assert cut_with_grain(paper) is None
    assert codes(grain_notes(paper)) == ["grain-across-pages", "grain-other-sheets"]


def test_pages_of_half_the_size_are_no_way_out() -> None:
    """300 x 500 mm folded once: 250 x 300. Grain along the 500 makes the height at 2 x 1 only: 150 x 250, 1.67 : 1."""
    paper = Paper((300.0, 500.0), grain="long")
    assert cut_with_grain(paper) == (2, 1)
    # 50 mm off each head make 250 x 250 of it and 150 x 200 of the other; 110 mm off each fore-edge 140 and 40 wide.
    assert cut_with_grain(replace(paper, trim_head_mm=50.0)) == (2, 1)
    assert cut_with_grain(replace(paper, trim_fore_edge_mm=110.0)) is None


def test_pieces_that_fit_no_sheet_turned_are_not_offered() -> None:
    whole = Paper((297.0, 420.0), grain="long")
    assert codes(grain_notes(whole)) == ["grain-across-pages", "grain-other-page", "grain-other-sheets"]


def test_turned_pieces_are_counted_with_their_waste() -> None:
    """700 x 1000 mm in 4 x 2: 250 x 350 each, 8 a sheet; turned, 2 along the 1000 and 2 along the 700: 4."""
    paper = Paper((700.0, 1000.0), cut=(4, 2), grain="short")
    assert folded(paper).grain_of_page == "across"
    (figures,) = [dict(note.figures) for note in grain_notes(paper) if note.code == "grain-turned-pieces"]
    assert figures == {"count": 4, "instead": 8}


def test_grain_of_an_accordion() -> None:
    strip = Paper((150.0, 600.0), folds=2, grain="long")
    assert codes(grain_notes(strip, "accordion"))[0] == "grain-across-pages"
    assert grain_notes(replace(strip, grain="short"), "accordion") == ()


def test_a_paper_that_cannot_be_folded() -> None:
    with pytest.raises(BadInput):
        grain_notes(replace(PAD, folds=-1))
