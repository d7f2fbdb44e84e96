"""What holds for any paper: nothing is lost, pages wanted are there, grain is told right, any text has an answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.block import BlockMade, block_of
from coverlayout.book.paper.folding import folded
from coverlayout.book.paper.grain import cut_with_grain, grain_notes
from coverlayout.book.paper.ranges import MOST_PER_SECTION
from coverlayout.book.paper.sheets import NamedSheet, known_sheets, sheet_named
from coverlayout.book.paper.weight import basis_weight, gsm_of_basis_weight, thickness_of, thickness_of_pages_per_inch
from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import EXACT_MM, SAME_LENGTH_MM

SIDES = st.floats(50.0, 1500.0)
PARTS = st.integers(1, 6)
STRUCTURES = st.sampled_from(["separate-boards", "flat-case", "limp-wrap", "side-sewn", "accordion"])
PAPERS = st.builds(
    Paper,
    sheet_mm=st.tuples(SIDES, SIDES),
    grain=st.sampled_from(["long", "short", "unknown"]),
    cut=st.tuples(PARTS, PARTS),
    folds=st.integers(0, 5),
    per_section=st.none() | st.integers(1, 12),
    thickness_mm=st.floats(0.02, 0.5),
    swell_mm=st.none() | st.floats(0.0, 1.0),
)
SHEETS = st.integers(1, 400)
PAGES = st.integers(1, 2000)


def bound_of(paper: Paper, structure: Structure) -> BlockMade:
    """The block; an example with too little paper for one section of the size asked for does not count."""
    asked = paper.per_section if paper.folds and structure != "accordion" else None
    assume(asked is None or (paper.sheets or 0) * paper.cut[0] * paper.cut[1] >= asked)
    return block_of(paper, structure)


def code_of(call: Callable[[], object]) -> str:
    """What the call is refused for, in one line; "" for an answer."""
    try:
        call()
    except BadInput as fault:
        return "" if "\n" in str(fault) else fault.code
    return ""


@given(PAPERS, STRUCTURES)
def test_no_paper_is_lost_by_cutting_and_folding(paper: Paper, structure: Structure) -> None:
    made = folded(paper, structure)
    area = made.untrimmed_mm[0] * made.untrimmed_mm[1] * made.leaves_per_piece * made.pieces_per_sheet
    assert area == pytest.approx(paper.sheet_mm[0] * paper.sheet_mm[1])


@given(PAPERS)
def test_the_last_fold_was_across_the_longer_side(paper: Paper) -> None:
    width, height = folded(paper).untrimmed_mm
    if paper.folds:
        assert 2 * width >= height - EXACT_MM
    else:
        assert height >= width


@given(PAPERS)
def test_one_fold_more_halves_the_longer_side_of_the_page(paper: Paper) -> None:
    now, next_one = folded(paper).untrimmed_mm, folded(replace(paper, folds=paper.folds + 1)).untrimmed_mm
    assert sorted(next_one) == pytest.approx(sorted((max(now) / 2, min(now))))
    assert next_one[0] == pytest.approx(max(now) / 2)


@given(PAPERS, STRUCTURES, SHEETS)
def test_sheets_in_hand_are_bound_or_left_over(paper: Paper, structure: Structure, sheets: int) -> None:
    made, block = folded(paper, structure), bound_of(replace(paper, sheets=sheets), structure)
    bound = block.sections * block.pieces_per_section
    assert (
        bound + block.leftover_pieces + block.leftover_sheets * made.pieces_per_sheet == sheets * made.pieces_per_sheet
    )
    assert block.sheets_needed + block.leftover_sheets == sheets
    assert 0 <= block.leftover_pieces < made.pieces_per_sheet
    left = block.leftover_pieces + block.leftover_sheets * made.pieces_per_sheet
    assert left < block.pieces_per_section
    assert block.pages == 2 * block.leaves == bound * made.pages_per_piece
    assert block.blank_pages == 0


@given(PAPERS, STRUCTURES, SHEETS)
def test_one_sheet_more_makes_no_fewer_pages(paper: Paper, structure: Structure, sheets: int) -> None:
    fewer, more = (bound_of(replace(paper, sheets=number), structure) for number in (sheets, sheets + 1))
    # By the rule two or three pieces make one small section, and the fourth fills it.
    assert more.pages >= fewer.pages


@given(PAPERS, STRUCTURES, PAGES)
def test_pages_wanted_are_there_and_no_section_is_too_many(paper: Paper, structure: Structure, pages: int) -> None:
    made, block = folded(paper, structure), block_of(replace(paper, pages=pages), structure)
    in_section = block.pages // block.sections
    assert block.pages - block.blank_pages == pages
    assert 0 <= block.blank_pages < in_section
    assert (block.sheets_needed - 1) * made.pieces_per_sheet < block.sections * block.pieces_per_section
    assert block.leftover_sheets == 0


@given(PAPERS, STRUCTURES, PAGES)
def test_the_sheets_to_buy_make_the_pages(paper: Paper, structure: Structure, pages: int) -> None:
    """What was bought for the pages, taken as sheets in hand with the same sections, makes at least those pages."""
    wanted = block_of(replace(paper, pages=pages), structure)
    assume(wanted.pieces_per_section <= MOST_PER_SECTION or paper.folds == 0)
    in_sections = structure != "accordion" and paper.folds > 0
    fixed = replace(paper, per_section=wanted.pieces_per_section) if in_sections else paper
    in_hand = block_of(replace(fixed, sheets=wanted.sheets_needed), structure)
    assert in_hand.pages >= wanted.pages


@given(PAPERS, STRUCTURES, SHEETS)
def test_thickness_is_leaves_and_swell(paper: Paper, structure: Structure, sheets: int) -> None:
    block = bound_of(replace(paper, sheets=sheets), structure)
    assert paper.thickness_mm is not None
    assert block.thickness_mm == pytest.approx(block.leaves * paper.thickness_mm + block.swell_mm)
    if paper.swell_mm is not None:
        assert block.swell_mm == pytest.approx(block.sections * paper.swell_mm)


@given(PAPERS, st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_trims_come_off_or_are_refused(paper: Paper, head: float, tail: float, fore_edge: float) -> None:
    width, height = folded(paper).untrimmed_mm
    trims = {"trim_head_mm": head * height, "trim_tail_mm": tail * height, "trim_fore_edge_mm": fore_edge * width}
    trimmed = replace(paper, **trims)  # type: ignore[arg-type]  # fields by name
    left = width * (1 - fore_edge), height * (1 - head - tail)
    assume(abs(min(left) - SAME_LENGTH_MM) > EXACT_MM)
    if min(left) <= SAME_LENGTH_MM:
        assert code_of(lambda: folded(trimmed)) == "trim-leaves-nothing"
    else:
        assert folded(trimmed).page_mm == pytest.approx(left, abs=1e-6)


@given(PAPERS, STRUCTURES)
def test_the_other_grain_lies_the_other_way(paper: Paper, structure: Structure) -> None:
    """Unless a square lets the folds follow the grain, one of the two sheets is right and the other is not."""
    long, short = (folded(replace(paper, grain=grain), structure).grain_of_page for grain in ("long", "short"))
    assume(abs(paper.sheet_mm[0] / paper.cut[0] - paper.sheet_mm[1] / paper.cut[1]) > 1.0)
    sides = {long, short}
    assert sides in ({"head to tail", "across"}, {"head to tail"})


@given(PAPERS, STRUCTURES)
def test_a_cut_that_is_offered_has_the_grain_right(paper: Paper, structure: Structure) -> None:
    cut = cut_with_grain(paper, structure)
    if cut is not None:
        assert folded(replace(paper, cut=cut), structure).grain_of_page == "head to tail"
    right = folded(paper, structure).grain_of_page == "head to tail"
    assert (grain_notes(paper, structure) == ()) == right


@given(st.floats(0.1, 900.0), st.floats(1.0, 100.0), st.floats(1.0, 100.0))
def test_a_basis_weight_said_with_its_size_is_that_weight(pounds: float, width_in: float, height_in: float) -> None:
    said = basis_weight(f"{pounds:.3f} lb {width_in:.3f}x{height_in:.3f}in")
    expected = gsm_of_basis_weight(round(pounds, 3), (round(width_in, 3), round(height_in, 3)))
    assert said == pytest.approx(expected, rel=1e-6)


@given(st.text(max_size=30))
def test_any_text_is_a_weight_or_one_sentence(text: str) -> None:
    assert code_of(lambda: basis_weight(text)) or basis_weight(text) > 0


@given(st.text(max_size=30))
def test_any_text_is_a_sheet_or_one_sentence(text: str) -> None:
    assert code_of(lambda: sheet_named(text)) or min(sheet_named(text).size_mm) > 0


@given(st.sampled_from(known_sheets()), st.sampled_from([str.upper, str.lower, str.title]), st.sampled_from(["", " "]))
def test_a_name_is_found_however_it_is_written(sheet: NamedSheet, case: Callable[[str], str], space: str) -> None:
    assert sheet_named(space + case(sheet.name) + space) == sheet


@given(st.floats(5.0, 2000.0), st.floats(0.3, 5.0))
def test_weight_and_bulk_multiply(gsm: float, bulk: float) -> None:
    assert thickness_of(gsm, bulk) == pytest.approx(gsm * bulk / 1000)


@given(st.floats(10.0, 3000.0))
def test_so_many_pages_make_an_inch(pages_per_inch: float) -> None:
    assert pages_per_inch / 2 * thickness_of_pages_per_inch(pages_per_inch) == pytest.approx(25.4)
