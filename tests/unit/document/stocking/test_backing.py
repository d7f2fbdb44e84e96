"""What is bonded on the cloths: the pieces of web, tissue and paper, by the cloth as it now is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.materials.cut_item import CutItem
from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.document.project import Project
from coverlayout.document.stocking.backing import backing_items, backing_items_of, backing_of, larger_mm, materials_of

SWATCH = Cloth("cloth-1", "Swatch", 300.0, 200.0, web_short_mm=5.0)


def test_what_the_backing_is() -> None:
    assert backing_of(SWATCH) == "web"
    assert backing_of(replace(SWATCH, web_short_mm=0.0)) == "none"
    assert backing_of(replace(SWATCH, backing="none")) == "none"
    assert materials_of(replace(SWATCH, backing="web and tissue")) == ("web", "tissue")
    assert materials_of(replace(SWATCH, backing="paste and paper")) == ("paper",)
    assert materials_of(replace(SWATCH, web_short_mm=0.0)) == ()


def test_web_and_tissue_stay_short_of_the_cloth_as_it_now_is() -> None:
    """300 x 200 through -3 % and -2 %: 291 x 196; less 5 mm all round 281 x 186."""
    shrunk = replace(SWATCH, backing="web and tissue", changes=(Change("washing", -3.0, -2.0),))
    made = backing_items(Project(cloths=(shrunk, Cloth("cloth-2", "Bare", 100.0, 100.0))))
    assert [(item.name, item.material) for item in made] == [("web, Swatch", "web"), ("tissue, Swatch", "tissue")]
    for item in made:
        assert (item.width_mm, item.height_mm) == pytest.approx((281.0, 186.0))
        assert (item.count, item.grain, item.volumes) == (1, "any", ())


def test_paper_for_pasting_stands_out_on_every_side() -> None:
    """1 to 2 in larger than the cloth on all sides (a book-arts list archive, June 2001)."""
    by_mm = larger_mm(SWATCH, "paper")
    assert 25.4 <= by_mm <= 50.8
    (item,) = backing_items_of(replace(SWATCH, backing="paste and paper"))
    assert item == CutItem("paper, Swatch", "paper", 300.0 + 2 * by_mm, 200.0 + 2 * by_mm)


def test_a_crooked_cloth_counts_by_the_box_around_it() -> None:
    crooked = replace(SWATCH, outline_mm=((20.0, 0.0), (300.0, 30.0), (260.0, 200.0), (0.0, 150.0)))
    (item,) = backing_items_of(crooked)
    assert (item.width_mm, item.height_mm) == pytest.approx((290.0, 190.0))


def test_where_nothing_would_be_left_there_is_none() -> None:
    assert tuple(backing_items_of(replace(SWATCH, web_short_mm=100.0))) == ()
