"""Sections, pages, sheets and thickness, counted by hand in the test; odd cases and what is said of them."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.block import BlockMade, block_of, counted_block
from coverlayout.errors import BadInput

PAD = Paper((228.6, 304.8), cut=(2, 1), sheets=16, per_section=4, thickness_mm=0.12, swell_mm=0.0)


def codes(block: BlockMade) -> list[str]:
    assert all(note.text() for note in block.notes)
    return [note.code for note in block.notes]


def test_sixteen_sheets_cut_in_half_folded_four_to_a_section() -> None:
    block = block_of(PAD)
    assert block == BlockMade(
        sections=8,
        pages=128,
        blank_pages=0,
        sheets_needed=16,
        leftover_sheets=0,
        leftover_pieces=0,
        pieces_per_section=4,
        leaves=64,
        paper_thickness_mm=0.12,
        swell_mm=0.0,
        thickness_mm=pytest.approx(7.68),
    )


def test_thread_swells_each_section() -> None:
    block = block_of(replace(PAD, swell_mm=0.25))
    assert block.swell_mm == pytest.approx(2.0)
    assert block.thickness_mm == pytest.approx(9.68)


def test_without_a_thickness_there_is_none_of_the_block() -> None:
    block = block_of(replace(PAD, thickness_mm=None))
    assert (block.paper_thickness_mm, block.thickness_mm) == (None, None)
    assert (block.sections, block.leaves) == (8, 64)
    assert codes(block) == ["thickness-not-known"]


def test_what_is_assumed_is_told() -> None:
    assert codes(block_of(replace(PAD, thickness_mm=None, swell_mm=None, gsm=80.0))) == [
        "bulk-assumed",
        "swell-assumed",
    ]


@pytest.mark.parametrize(
    ("sheets", "sections", "left_sheets", "left_pieces"),
    [(2, 1, 0, 0), (3, 1, 1, 0), (7, 3, 1, 0), (17, 8, 1, 0), (16, 8, 0, 0)],
)
def test_only_full_sections_are_bound(sheets: int, sections: int, left_sheets: int, left_pieces: int) -> None:
    block = block_of(replace(PAD, sheets=sheets))
    assert (block.sections, block.leftover_sheets, block.leftover_pieces) == (sections, left_sheets, left_pieces)
    assert ("paper-left-over" in codes(block)) == bool(left_sheets or left_pieces)


def test_pieces_of_a_cut_sheet_are_left_beside_whole_sheets() -> None:
    """Five sheets in six: 30 pieces, 28 bound at 7 a section, 2 pieces over. Eight: 48, 42 of 7 sheets, one over."""
    in_six = replace(PAD, cut=(3, 2), per_section=7)
    five, eight = block_of(replace(in_six, sheets=5)), block_of(replace(in_six, sheets=8))
    assert (five.sections, five.sheets_needed, five.leftover_sheets, five.leftover_pieces) == (4, 5, 0, 2)
    assert (eight.sections, eight.sheets_needed, eight.leftover_sheets, eight.leftover_pieces) == (6, 7, 1, 0)
    assert "Left over, whole sheets: 0, cut pieces: 2; another section takes 7 pieces." in [
        n.text() for n in five.notes
    ]


@pytest.mark.parametrize(
    ("pages", "sections", "total", "blank", "sheets"),
    [(120, 8, 128, 8, 16), (128, 8, 128, 0, 16), (129, 9, 144, 15, 18), (1, 1, 16, 15, 2), (16, 1, 16, 0, 2)],
)
def test_pages_wanted(pages: int, sections: int, total: int, blank: int, sheets: int) -> None:
    block = block_of(replace(PAD, sheets=None, pages=pages))
    assert (block.sections, block.pages, block.blank_pages, block.sheets_needed) == (sections, total, blank, sheets)
    assert block.leftover_sheets == 0
    assert ("pages-left-blank" in codes(block)) == (blank > 0)


def test_pages_wanted_can_leave_pieces_of_the_last_sheet() -> None:
    """Four folios of a sheet cut in three: two sheets, two pieces over."""
    block = block_of(replace(PAD, sheets=None, pages=16, cut=(3, 1)))
    assert (block.sheets_needed, block.leftover_sheets, block.leftover_pieces) == (2, 0, 2)


def test_neither_sheets_nor_pages() -> None:
    with pytest.raises(BadInput) as caught:
        block_of(replace(PAD, sheets=None))
    assert caught.value.code == "no-sheets-no-pages"


def test_a_block_is_counted_once_there_is_something_to_count() -> None:
    assert counted_block(PAD) == block_of(PAD)
    assert counted_block(PAD, "limp-wrap") == block_of(PAD, "limp-wrap")
    assert counted_block(None) is None
    assert counted_block(replace(PAD, sheets=None)) is None
    with pytest.raises(BadInput) as caught:
        counted_block(replace(PAD, sheets=0), where="Ledger: paper")
    assert str(caught.value).startswith("Ledger: paper: 0 sheets")


def test_the_book_is_named_in_every_sentence() -> None:
    for change in ({"sheets": None}, {"sheets": 1}, {"trim_head_mm": 200.0}, {"folds": 7}):
        with pytest.raises(BadInput) as caught:
            block_of(replace(PAD, **change), where="Ledger: paper")  # type: ignore[arg-type]  # fields by name
        assert str(caught.value).startswith("Ledger: paper")


@pytest.mark.parametrize("change", [{"sheets": 0}, {"sheets": None, "pages": 0}, {"pages": 16}, {"folds": 7}])
def test_what_cannot_be_used_makes_no_block(change: dict[str, int | None]) -> None:
    with pytest.raises(BadInput):
        block_of(replace(PAD, **change))  # type: ignore[arg-type]  # fields by name


def test_too_few_sheets_for_the_section_asked_for() -> None:
    with pytest.raises(BadInput) as caught:
        block_of(replace(PAD, sheets=1))
    assert caught.value.code == "section-not-filled"
    assert caught.value.figures == {"where": "paper", "pieces": 2, "per": 4, "least": 2}
    with pytest.raises(BadInput) as caught:
        block_of(replace(PAD, sheets=1, cut=(1, 1), per_section=5))
    assert caught.value.figures["least"] == 5


def test_one_sheet_by_the_rule_makes_one_small_section() -> None:
    block = block_of(replace(PAD, sheets=1, per_section=None))
    assert (block.sections, block.pieces_per_section, block.pages, block.leaves) == (1, 2, 8, 4)
    assert codes(block) == ["section-shortened", "one-section"]
    limp = block_of(replace(PAD, sheets=1, per_section=None), "limp-wrap")
    assert (limp.sections, limp.pages) == (1, 8)
    assert codes(limp) == []


def test_a_limp_wrap_holds_all_in_one_section() -> None:
    block = block_of(replace(PAD, sheets=5, per_section=None), "limp-wrap")
    assert (block.sections, block.pieces_per_section, block.pages) == (1, 10, 40)
    assert codes(block) == []
    several = block_of(replace(PAD, sheets=4), "limp-wrap")
    assert (several.sections, codes(several)) == (2, ["limp-many-sections"])


@pytest.mark.parametrize(("per", "folds", "told"), [(12, 1, False), (13, 1, True), (3, 3, False), (4, 3, True)])
def test_too_many_sheets_in_one_fold(per: int, folds: int, told: bool) -> None:
    block = block_of(replace(PAD, sheets=60, per_section=per, folds=folds))
    assert ("section-thick" in codes(block)) == told


@pytest.mark.parametrize(
    ("structure", "told"),
    [("separate-boards", True), ("flat-case", True), ("side-sewn", False), ("slipcase", False), ("limp-wrap", False)],
)
def test_single_leaves(structure: Structure, told: bool) -> None:
    block = block_of(replace(PAD, folds=0, per_section=None), structure)
    assert (block.sections, block.pieces_per_section, block.leaves, block.pages) == (1, 32, 32, 64)
    assert ("leaves-without-fold" in codes(block)) == (told or structure == "limp-wrap")
    assert block.thickness_mm == pytest.approx(3.84)


def test_single_leaves_make_no_sections() -> None:
    block = block_of(replace(PAD, folds=0), "side-sewn")
    assert (block.sections, block.pieces_per_section) == (1, 32)
    assert codes(block) == ["pile-no-sections"]


def test_an_odd_page_of_single_leaves_leaves_one_blank() -> None:
    block = block_of(replace(PAD, folds=0, sheets=None, pages=7, per_section=None, cut=(1, 1)), "side-sewn")
    assert (block.leaves, block.pages, block.blank_pages, block.sheets_needed) == (4, 8, 1, 4)


def test_an_accordion_has_two_pages_a_panel() -> None:
    strip = Paper((150.0, 600.0), sheets=3, folds=3, thickness_mm=0.2)
    block = block_of(strip, "accordion")
    assert (block.sections, block.leaves, block.pages, block.swell_mm) == (3, 24, 48, 0.0)
    assert block.thickness_mm == pytest.approx(24 * 0.2)
    assert codes(block) == ["accordion-joins", "paper-heavy"]
    one = block_of(replace(strip, sheets=1, per_section=2, thickness_mm=0.1), "accordion")
    assert codes(one) == ["accordion-no-sections"]
    wanted = block_of(replace(strip, sheets=None, pages=20), "accordion")
    assert (wanted.sections, wanted.pages, wanted.blank_pages, wanted.sheets_needed) == (2, 32, 12, 2)


@pytest.mark.parametrize(
    ("folds", "trims", "edges"),
    [
        (1, {}, None),
        (2, {}, "head"),
        (3, {}, "head and fore-edge"),
        (4, {}, "head, tail and fore-edge"),
        (3, {"trim_head_mm": 3.0}, "fore-edge"),
        (3, {"trim_head_mm": 3.0, "trim_fore_edge_mm": 3.0}, None),
        (4, {"trim_fore_edge_mm": 3.0}, "head and tail"),
    ],
)
def test_untrimmed_edges_stay_closed(folds: int, trims: dict[str, float], edges: str | None) -> None:
    paper = Paper((640.0, 900.0), sheets=4, folds=folds, per_section=1, thickness_mm=0.1, **trims)
    told = [dict(note.figures)["edges"] for note in block_of(paper).notes if note.code == "folds-closed"]
    assert told == ([] if edges is None else [edges])


def test_trims_change_neither_pages_nor_thickness() -> None:
    trimmed = block_of(replace(PAD, trim_head_mm=3.0, trim_tail_mm=3.0, trim_fore_edge_mm=3.0))
    assert trimmed == block_of(PAD)
