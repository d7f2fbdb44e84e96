"""Cloth to buy in place of what there is: least first, and beside it where pieces are cut or pinned."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Source
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder
from coverlayout.document.changing import cuts
from coverlayout.document.changing.cuts import kept_cloths, on_cuts
from coverlayout.document.checks.whole import checked
from coverlayout.document.project import CutPiece, Layout, Price, Project
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

HALF_YARD = Cut("half yard, 44 in", 1100.0, 450.0, "44 in", price=5.0)
QUARTER = Cut("fat quarter, 44 in", 550.0, 450.0, "44 in", price=6.0)
SWATCH = Cloth("cloth-7", "Swatch", 304.8, 304.8)
OTHER = Cloth("cloth-8", "half yard, 44 in", 200.0, 200.0)
BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), turn_ins=Book("b", "").turn_ins)
LYING = (Placed("front-1", "cloth-7", 90.0, 110.0), Placed("back-1", "cloth-8", 90.0, 110.0))
PROJECT = Project(cloths=(SWATCH, OTHER), books=(BOOK,), layouts=(Layout("layout-1", "Layout 1", LYING),))
SPOILED = CutPiece(
    "front-1", "front cover", "spoiled", rectangle(144.3, 182.4), (72.15, 91.2), Placed("front-1", "cloth-8", 80, 100)
)


def test_the_least_comes_first_by_price_where_all_are_known() -> None:
    assert [bought.name for bought, _ in on_cuts(PROJECT, (QUARTER, HALF_YARD))] == [HALF_YARD.name, QUARTER.name]
    unpriced = (replace(HALF_YARD, price=None), QUARTER)
    assert [bought.name for bought, _ in on_cuts(PROJECT, unpriced)] == [QUARTER.name, HALF_YARD.name]
    told = replace(PROJECT, prices=(Price(HALF_YARD.name, 9.0),))
    assert [bought.name for bought, _ in on_cuts(told, (HALF_YARD, QUARTER))] == [QUARTER.name, HALF_YARD.name]


def test_what_is_bought_takes_the_place_of_all_cloths_under_a_new_id() -> None:
    ((_, bought), *_) = on_cuts(PROJECT, (HALF_YARD,))
    (cloth,) = bought.cloths
    assert (cloth.id, cloth.name, cloth.width_mm, cloth.length_mm) == ("cloth-9", HALF_YARD.name, 1100.0, 450.0)
    assert cloth.state == "to-buy"
    assert bought.named_anew("cloth")[0] == "cloth-10", "the id is not given again"
    assert bought.layout.placements == ()
    assert checked(bought) == bought


def test_a_cloth_with_a_spoiled_or_pinned_piece_stays() -> None:
    begun = replace(PROJECT, cut_pieces=(SPOILED,))
    assert kept_cloths(begun) == (OTHER,)
    ((_, bought),) = on_cuts(begun, (HALF_YARD,))
    assert [(cloth.id, cloth.name) for cloth in bought.cloths] == [
        ("cloth-8", "half yard, 44 in"),
        ("cloth-9", "half yard, 44 in 2"),
    ]
    assert bought.layout.placements == LYING[1:]
    assert checked(bought) == bought
    pinned = replace(PROJECT, layouts=(Layout("layout-1", "Layout 1", LYING, ("front-1",)),))
    assert kept_cloths(pinned) == (SWATCH,)
    ((_, bought),) = on_cuts(pinned, (HALF_YARD,))
    assert bought.layout.pinned == ("front-1",)
    assert kept_cloths(PROJECT) == ()


def test_a_cut_of_each_print_is_bought() -> None:
    birds, seeds = (Print(name, name, Lattice((50.0, 13.0), (-17.0, 81.0))) for name in ("birds", "seeds"))
    sources = {"cover_source": Source("birds"), "liner_source": Source("seeds")}
    two = replace(
        PROJECT,
        prints=(birds, seeds),
        cloths=(replace(SWATCH, laid=LaidPrint("birds")), replace(OTHER, laid=LaidPrint("seeds"))),
        books=(replace(BOOK, **sources),),
    )
    ((purchase, bought),) = on_cuts(two, (QUARTER,))
    assert (purchase.count, purchase.price) == (2, 12.0)
    assert [(cloth.id, cloth.name) for cloth in bought.cloths] == [
        ("cloth-9", "fat quarter, 44 in"),
        ("cloth-10", "fat quarter, 44 in 2"),
    ]
    assert [cloth.laid.print_id for cloth in bought.cloths if cloth.laid] == ["birds", "seeds"]


def test_nothing_left_to_cut_needs_no_cloth() -> None:
    assert list(on_cuts(Project(cloths=(SWATCH,)), (QUARTER,))) == []
    label = OwnPiece("own-1", "label", 30.0, 20.0)
    assert len(list(on_cuts(Project(own_pieces=(label,)), (QUARTER,)))) == 1


def test_a_ladder_of_the_makers_own_that_cannot_be_read_is_passed_over(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken() -> tuple[Cut, ...]:
        raise BadInput("cuts-no-rows", where="cuts.toml", most=1000)

    monkeypatch.setattr(cuts, "ladder_in_use", lambda: (QUARTER,))
    assert [bought.name for bought, _ in on_cuts(PROJECT)] == [QUARTER.name]
    monkeypatch.setattr(cuts, "ladder_in_use", broken)
    assert len(list(on_cuts(PROJECT))) == len(ladder())
