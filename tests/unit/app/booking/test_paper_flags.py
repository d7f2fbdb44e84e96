"""The flags of the paper: what they make, what they refuse."""

from __future__ import annotations

import pytest

from coverlayout.app.booking.paper_flags import paper_of
from coverlayout.app.flags import Given
from coverlayout.book.book import Paper, Structure
from coverlayout.book.paper.folding import folded
from coverlayout.errors import BadInput

PAD = {"--paper": "9x12in", "--sheets": "16"}


def paper(page_mm: tuple[float, float] | None = None, **values: str) -> Paper | None:
    flags = {"--" + name.replace("_", "-"): (text,) for name, text in values.items()}
    return paper_of(Given("a", flags), page_mm)


def made(page_mm: tuple[float, float] | None = None, **values: str) -> Paper:
    found = paper(page_mm, **values)
    assert found is not None
    return found


def test_no_word_of_paper_makes_none() -> None:
    assert paper() is None


def test_a_pad_of_sheets() -> None:
    found = made(paper="9x12in", sheets="16", cut="2x1", folds="1", per_section="4", sheet_thickness="0.12mm")
    assert found.sheet_mm == pytest.approx((228.6, 304.8))
    assert (found.sheets, found.pages, found.cut, found.folds, found.per_section) == (16, None, (2, 1), 1, 4)
    assert (found.thickness_mm, found.gsm, found.grain) == (0.12, None, "unknown")


def test_a_sheet_by_name_with_its_weight_and_grain() -> None:
    found = made(paper="A3", pages="120", gsm="80", bulk="1.5", grain="short", page_trim="2x3x4mm", swell="0.3mm")
    assert (found.sheet_name, found.sheet_mm) == ("A3", (297.0, 420.0))
    assert (found.pages, found.gsm, found.bulk, found.grain, found.swell_mm) == (120, 80.0, 1.5, "short", 0.3)
    assert (found.trim_head_mm, found.trim_tail_mm, found.trim_fore_edge_mm) == (2.0, 3.0, 4.0)
    assert made(paper="A3", pages="8", page_trim="1/8 in").trim_tail_mm == pytest.approx(3.175)


def test_a_basis_weight_becomes_grams() -> None:
    """70 lb book, 25 x 38 in: 103.610 g/m2 (exact units; the basic size by three glossaries of the trade)."""
    assert made(paper="letter", sheets="10", basis_weight="70 lb book").gsm == pytest.approx(103.61, abs=0.01)


@pytest.mark.parametrize("folds", ["0", "1", "2", "3"])
def test_pages_without_a_sheet_are_counted_on_paper_that_opens_to_them(folds: str) -> None:
    found = made((105.0, 148.0), pages="120", folds=folds)
    assert folded(found).page_mm == pytest.approx((105.0, 148.0))
    cut = made((105.0, 148.0), pages="120", folds=folds, cut="3x2")
    assert folded(cut).pieces_per_sheet == 6
    assert cut.sheet_mm[0] * cut.sheet_mm[1] == pytest.approx(6 * found.sheet_mm[0] * found.sheet_mm[1])


def test_trims_are_added_to_the_paper_of_a_page() -> None:
    found = made((105.0, 148.0), pages="120", page_trim="3x4x5mm")
    assert found.sheet_mm == pytest.approx((220.0, 155.0))
    assert folded(found).page_mm == pytest.approx((105.0, 148.0))


def test_a_strip_of_an_accordion_is_as_long_as_its_panels() -> None:
    flags = {"--pages": ("16",), "--folds": ("3",)}
    found = paper_of(Given("a", flags), (90.0, 140.0), "accordion")
    assert found is not None
    assert found.sheet_mm == (720.0, 140.0)
    assert folded(found, "accordion").page_mm == (90.0, 140.0)


@pytest.mark.parametrize(
    ("page_mm", "folds", "along", "structure"),
    [
        # More than twice as high as wide: the fold would halve the height.
        ((60.0, 150.0), "1", "shorter", "separate-boards"),
        ((200.0, 150.0), "2", "shorter", "separate-boards"),
        ((200.0, 150.0), "0", "longer", "side-sewn"),
        ((60.0, 150.0), "1", "shorter", "accordion"),
    ],
)
def test_a_page_that_never_comes_of_folding(
    page_mm: tuple[float, float], folds: str, along: str, structure: Structure
) -> None:
    flags = {"--pages": ("40",), "--folds": (folds,), "--spine-along": (along,)}
    with pytest.raises(BadInput, match="--pages: paper folded so never gives a page") as told:
        paper_of(Given("a", flags), page_mm, structure)
    assert told.value.code == "page-not-folded"


@pytest.mark.parametrize(
    ("words", "code", "named"),
    [
        ({"sheets": "16"}, "flag-without", "--sheets"),
        ({"paper": "9x12in", "sheets": "16", "pages": "12"}, "flags-disagree", "--pages"),
        ({"paper": "9x12in", "gsm": "80", "sheet_thickness": "0.1mm"}, "flags-disagree", "--gsm"),
        ({"paper": "9x12in", "gsm": "80", "basis_weight": "20 lb bond"}, "flags-disagree", "--gsm"),
        ({"paper": "9x12in", "sheets": "0"}, "number-wrong", "--sheets"),
        ({"paper": "9x12in", "sheets": "1.5"}, "number-wrong", "--sheets"),
        ({"paper": "9x12in", "cut": "2"}, "size-unreadable", "--cut"),
        ({"paper": "9x12in", "cut": "0x1"}, "number-wrong", "--cut"),
        ({"paper": "9x12in", "folds": "9"}, "count-out-of-range", "--folds"),
        ({"paper": "9x12in", "folds": "-1"}, "count-out-of-range", "--folds"),
        ({"paper": "9x12in", "grain": "wavy"}, "word-unknown", "--grain"),
        ({"paper": "nonsuch", "sheets": "16"}, "sheet-unknown", "--paper"),
        ({"paper": "9in", "sheets": "16"}, "sheet-unknown", "--paper"),
        ({"paper": "9x in", "sheets": "16"}, "length-unreadable", "--paper"),
        ({"paper": "9x12in", "page_trim": "1x2mm"}, "lengths-unreadable", "--page-trim"),
        ({"paper": "9x12in", "gsm": "heavy"}, "number-wrong", "--gsm"),
    ],
)
def test_what_cannot_be_read_is_told_by_its_flag(words: dict[str, str], code: str, named: str) -> None:
    with pytest.raises(BadInput) as told:
        paper(None, **words)
    assert told.value.code == code
    assert named in str(told.value)


def test_an_album_page_comes_from_a_leaf_that_lies_sideways() -> None:
    album = made((280.0, 200.0), pages="40", folds="0")
    assert (album.spine_along, folded(album).page_mm) == ("shorter", (280.0, 200.0))
    tall = made((60.0, 200.0), pages="40")
    assert (tall.spine_along, folded(tall).page_mm) == ("longer", (60.0, 200.0))
    turned = made(paper="A4", pages="40", spine_along="longer")
    assert folded(turned).page_mm == (105.0, 297.0)
    with pytest.raises(BadInput) as told:
        made((280.0, 200.0), pages="40", folds="0", spine_along="longer")
    assert told.value.code == "page-not-folded"
