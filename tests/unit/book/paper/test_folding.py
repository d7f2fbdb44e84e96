"""A sheet is cut, folded and trimmed: sizes against a fold done step by step on paper, grain, closed edges."""

from dataclasses import replace

import pytest

from coverlayout.book.book import Grain, Paper, Structure
from coverlayout.book.paper.folding import folded, pieces_in_section, pieces_there, usual_in_section
from coverlayout.errors import BadInput

# A sheet without any simple proportion, so that no side can be mistaken for another.
ODD = Paper((310.0, 470.0))


def test_the_pad_cut_once_and_folded_once() -> None:
    made = folded(Paper((228.6, 304.8), cut=(2, 1)))
    assert made.leaf_mm == pytest.approx((228.6, 152.4))
    assert made.page_mm == made.untrimmed_mm == pytest.approx((114.3, 152.4))
    assert (made.leaves_per_piece, made.pages_per_piece, made.pieces_per_sheet) == (2, 4, 2)


def test_it_does_not_matter_which_side_of_the_sheet_is_named_first() -> None:
    for grain in ("long", "short", "unknown"):
        for cut in ((1, 1), (2, 1), (1, 3)):
            one = replace(ODD, grain=grain, cut=cut)
            assert folded(one) == folded(replace(one, sheet_mm=(470.0, 310.0)))


@pytest.mark.parametrize(
    ("cut", "folds", "leaf", "page"),
    [
        ((1, 1), 0, (470.0, 310.0), (310.0, 470.0)),
        ((1, 1), 1, (470.0, 310.0), (235.0, 310.0)),
        ((1, 1), 2, (470.0, 310.0), (155.0, 235.0)),
        ((1, 1), 3, (470.0, 310.0), (117.5, 155.0)),
        ((1, 1), 4, (470.0, 310.0), (77.5, 117.5)),
        ((2, 1), 0, (310.0, 235.0), (235.0, 310.0)),
        ((2, 1), 1, (310.0, 235.0), (155.0, 235.0)),
        ((1, 2), 1, (470.0, 155.0), (235.0, 155.0)),
        ((1, 2), 2, (470.0, 155.0), (117.5, 155.0)),
        ((3, 2), 1, (470 / 3, 155.0), (470 / 6, 155.0)),
    ],
)
def test_each_fold_halves_the_longer_side(
    cut: tuple[int, int], folds: int, leaf: tuple[float, float], page: tuple[float, float]
) -> None:
    made = folded(replace(ODD, cut=cut, folds=folds))
    assert made.leaf_mm == pytest.approx(leaf)
    assert made.page_mm == pytest.approx(page)
    assert made.leaves_per_piece == 2**folds


def test_the_width_is_the_side_halved_last_even_when_it_is_the_longer() -> None:
    """A strip 470 x 155 folded once: pages wider than high, the fold along the short side."""
    width, height = folded(replace(ODD, cut=(1, 2))).page_mm
    assert width > height


@pytest.mark.parametrize(
    ("grain", "cut", "folds", "page_grain"),
    [
        ("long", (1, 1), 0, "head to tail"),
        ("short", (1, 1), 0, "across"),
        # The grain runs along the 470: halved by the first fold and again by the third, so it is the width then.
        ("long", (1, 1), 1, "across"),
        ("long", (1, 1), 2, "head to tail"),
        ("long", (1, 1), 3, "across"),
        ("short", (1, 1), 1, "head to tail"),
        ("short", (1, 1), 2, "across"),
        ("long", (2, 1), 1, "head to tail"),
        ("short", (2, 1), 1, "across"),
        ("long", (1, 2), 1, "across"),
        ("unknown", (2, 1), 1, "unknown"),
    ],
)
def test_grain_after_cut_and_folds(grain: Grain, cut: tuple[int, int], folds: int, page_grain: str) -> None:
    assert folded(replace(ODD, grain=grain, cut=cut, folds=folds)).grain_of_page == page_grain


@pytest.mark.parametrize("folds", range(6))
@pytest.mark.parametrize("grain", ["long", "short"])
def test_a_square_piece_is_folded_with_the_grain_along_the_spine(grain: Grain, folds: int) -> None:
    made = folded(Paper((600.0, 600.0), grain=grain, folds=folds))
    assert made.grain_of_page == "head to tail"


def test_a_square_piece_is_turned_between_two_folds() -> None:
    made = folded(Paper((600.0, 600.0), folds=2))
    assert (made.page_mm, made.closed_edges) == ((300.0, 300.0), ("head",))


def test_a_double_square_reaches_a_tie_at_its_second_fold() -> None:
    """200 x 400: the first fold leaves a square; the second one follows the grain, or turns where it is not known."""
    sheet = Paper((200.0, 400.0), folds=2)
    assert folded(replace(sheet, grain="long")).closed_edges == ("head",)
    assert folded(replace(sheet, grain="short")).closed_edges == ("fore-edge",)
    assert folded(sheet).closed_edges == ("head",)
    assert {folded(replace(sheet, grain=g)).grain_of_page for g in ("long", "short")} == {"head to tail"}


@pytest.mark.parametrize(
    ("folds", "edges"),
    [(0, ()), (1, ()), (2, ("head",)), (3, ("head", "fore-edge")), (4, ("head", "tail", "fore-edge"))],
)
def test_edges_that_stay_closed(folds: int, edges: tuple[str, ...]) -> None:
    assert folded(replace(ODD, folds=folds)).closed_edges == edges


def test_trims_come_off_the_page() -> None:
    made = folded(replace(ODD, trim_head_mm=3.0, trim_tail_mm=4.0, trim_fore_edge_mm=5.5))
    assert made.untrimmed_mm == (235.0, 310.0)
    assert made.page_mm == (235.0 - 5.5, 310.0 - 7.0)


@pytest.mark.parametrize(
    ("change", "side"),
    [
        ({"trim_fore_edge_mm": 235.0}, "width"),
        ({"trim_head_mm": 150.0, "trim_tail_mm": 160.0}, "height"),
        ({"trim_head_mm": 309.995}, "height"),
    ],
)
def test_a_trim_that_leaves_nothing(change: dict[str, float], side: str) -> None:
    with pytest.raises(BadInput) as caught:
        folded(replace(ODD, **change))  # type: ignore[arg-type]  # fields by name
    assert (caught.value.code, caught.value.figures["side"]) == ("trim-leaves-nothing", side)


def test_a_paper_that_cannot_be_used_is_not_folded() -> None:
    with pytest.raises(BadInput):
        folded(replace(ODD, folds=-1))


@pytest.mark.parametrize(("folds", "panels"), [(0, 1), (1, 2), (2, 4), (3, 8)])
def test_the_folds_of_an_accordion_are_parallel(folds: int, panels: int) -> None:
    made = folded(replace(ODD, folds=folds), "accordion")
    assert made.leaves_per_piece == panels
    assert made.page_mm == ((310.0, 470.0) if folds == 0 else (470.0 / panels, 310.0))
    assert made.closed_edges == ()
    assert made.pages_per_section == 2 * panels


def test_grain_of_an_accordion_runs_along_its_folds() -> None:
    strip = replace(ODD, folds=2)
    assert folded(replace(strip, grain="short"), "accordion").grain_of_page == "head to tail"
    assert folded(replace(strip, grain="long"), "accordion").grain_of_page == "across"
    square = Paper((300.0, 300.0), folds=3)
    assert folded(replace(square, grain="long"), "accordion").grain_of_page == "head to tail"
    assert folded(replace(square, grain="short"), "accordion").grain_of_page == "head to tail"


def test_pieces_there() -> None:
    assert pieces_there(ODD) is None
    assert pieces_there(replace(ODD, sheets=5, cut=(2, 3))) == 30
    assert pieces_there(replace(ODD, pages=9, folds=1)) == 3
    assert pieces_there(replace(ODD, pages=8, folds=1)) == 2
    assert pieces_there(replace(ODD, pages=3, folds=0)) == 2


@pytest.mark.parametrize(("folds", "pieces"), [(1, 4), (2, 2), (3, 1), (6, 1)])
def test_pieces_in_a_section_by_the_rule(folds: int, pieces: int) -> None:
    assert usual_in_section(folds) == pieces
    assert pieces_in_section(replace(ODD, folds=folds)) == pieces
    assert pieces_in_section(replace(ODD, folds=folds, sheets=40)) == pieces
    assert folded(replace(ODD, folds=folds)).pages_per_section == 2 * 2**folds * pieces


@pytest.mark.parametrize(
    ("change", "structure", "pieces"),
    [
        ({"sheets": 40, "per_section": 6}, "flat-case", 6),
        ({"sheets": 3}, "flat-case", 3),
        ({"pages": 8}, "flat-case", 2),
        ({"sheets": 7}, "limp-wrap", 7),
        ({"pages": 30}, "limp-wrap", 8),
        ({"sheets": 7, "per_section": 3}, "limp-wrap", 3),
        ({}, "limp-wrap", 4),
        ({"sheets": 7, "folds": 0}, "side-sewn", 7),
        ({"sheets": 7, "folds": 0, "per_section": 2}, "flat-case", 7),
        ({"folds": 0}, "flat-case", 1),
        ({"sheets": 7, "per_section": 2}, "accordion", 1),
    ],
)
def test_pieces_in_a_section_by_structure(change: dict[str, int], structure: Structure, pieces: int) -> None:
    assert pieces_in_section(replace(ODD, **change), structure) == pieces  # type: ignore[arg-type]  # fields by name


def test_the_spine_may_lie_along_the_other_side() -> None:
    """A4 folded the long way: tall pages; a single leaf laid sideways: an album. Both by arithmetic."""
    sheet = Paper((297.0, 210.0), grain="long")
    assert folded(sheet).page_mm == (148.5, 210.0)
    tall = folded(replace(sheet, spine_along="longer"))
    assert (tall.page_mm, tall.grain_of_page) == ((105.0, 297.0), "head to tail")
    assert folded(replace(sheet, spine_along="shorter")) == folded(sheet)
    leaf = replace(sheet, folds=0)
    assert folded(leaf).page_mm == (210.0, 297.0)
    album = folded(replace(leaf, spine_along="shorter"))
    assert (album.page_mm, album.grain_of_page) == ((297.0, 210.0), "across")
    assert folded(replace(leaf, spine_along="longer")) == folded(leaf)


def test_only_the_last_fold_turns() -> None:
    twice = folded(Paper((420.0, 297.0), folds=2, spine_along="longer"))
    assert twice.page_mm == (105.0, 297.0)
    assert twice.closed_edges == ("fore-edge",)
    panels = folded(Paper((420.0, 100.0), folds=2, spine_along="longer"), "accordion")
    assert panels.page_mm == (25.0, 420.0)
