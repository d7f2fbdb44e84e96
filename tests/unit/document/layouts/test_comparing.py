"""The figures of layouts beside each other, and what is said of two."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.layouts.comparing import LayoutFigures, differences, figures_of, lying_elsewhere
from coverlayout.document.project import Layout, Project
from coverlayout.layout.question import Placed

CLOTH = Cloth("cloth-1", "Swatch", 300.0, 200.0)
POCKETS = OwnPiece("own-1", "pocket", 100.0, 80.0, count=2)
# Anchors are the pieces' middles: 20 from the left, 10 from the top; then 10 apart from each other.
FIRST = (Placed("pocket-1", "cloth-1", 70.0, 50.0), Placed("pocket-2", "cloth-1", 180.0, 50.0))
# The second lies 30 from the first and 20 from the lower edge.
SECOND = (Placed("pocket-1", "cloth-1", 70.0, 50.0), Placed("pocket-2", "cloth-1", 200.0, 140.0))


def project(*layouts: tuple[Placed, ...]) -> Project:
    named = tuple(Layout(f"layout-{k}", f"Layout {k}", placed) for k, placed in enumerate(layouts, 1))
    return Project(cloths=(CLOTH,), own_pieces=(POCKETS,), layouts=named)


def said(of: Project) -> list[str]:
    first, second = figures_of(of, "layout-1"), figures_of(of, "layout-2")
    return [remark.text() for remark in differences(of, first, second)]


def test_figures_of_both_whichever_is_worked_on() -> None:
    of = project(FIRST, SECOND)
    first, second = figures_of(of, "layout-1"), figures_of(of, "layout-2")
    assert (first.name, first.verdict, first.placed, first.waiting, first.breaches) == ("Layout 1", "valid", 2, (), ())
    # Two of 100 x 80 on 300 x 200.
    assert first.used_percent == pytest.approx(100 * 16000 / 60000)
    assert (first.clearance_mm, second.clearance_mm) == (pytest.approx(10.0), pytest.approx(10.0))
    assert first.largest is not None
    assert (first.largest.rectangle.width_mm, first.largest.rectangle.height_mm) == (300.0, 110.0)
    assert figures_of(replace(of, layout_id="layout-2"), "layout-1") == first


def test_what_is_left_is_only_worked_out_when_asked_for() -> None:
    assert figures_of(project(FIRST), "layout-1", with_left_over=False).largest is None


def test_a_layout_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        figures_of(project(FIRST), "layout-9")


def test_layouts_that_lay_every_piece_alike() -> None:
    assert said(project(FIRST, FIRST)) == ["Layout 1 and Layout 2 lay every piece alike"]


def test_a_piece_that_lies_elsewhere_and_what_it_leaves() -> None:
    """The first leaves 300 x 110 or 33000; the second 180 right of the first piece, 90 high: 120 x 110 is less."""
    assert lying_elsewhere(project(FIRST, SECOND), "layout-1", "layout-2") == ("pocket-2",)
    assert said(project(FIRST, SECOND)) == [
        "Layout 1 leaves the larger piece: 300 mm x 110 mm, more than Layout 2 does",
        "One piece lies in both, but elsewhere",
    ]


def test_turned_or_on_another_cloth_is_elsewhere_and_a_hair_is_not() -> None:
    turned = replace(FIRST[0], turn_deg=180.0)
    hair = replace(FIRST[1], x_mm=180.005)
    assert lying_elsewhere(project(FIRST, (turned, hair)), "layout-1", "layout-2") == ("pocket-1",)
    other = replace(project(FIRST, (replace(FIRST[0], cloth="cloth-2"),)), cloths=(CLOTH, replace(CLOTH, id="cloth-2")))
    assert lying_elsewhere(other, "layout-1", "layout-2") == ("pocket-1",)


def test_waiting_used_and_room() -> None:
    """With one piece alone, 10 from the upper edge; the other layout has two, moved to 4 from that edge."""
    closer = tuple(replace(placed, y_mm=44.0) for placed in FIRST)
    assert said(project(FIRST[:1], closer)) == [
        "Layout 1 is incomplete, Layout 2 is valid, tight",
        "In Layout 1 one piece more waits than in Layout 2",
        "Layout 1 has 6 mm more at its tightest place than Layout 2",
        "Layout 1 leaves the larger piece: 180 mm x 200 mm, more than Layout 2 does",
        "Layout 2 uses 14 % more of the cloth than Layout 1",
        "One piece lies in both, but elsewhere",
    ]
    assert "In Layout 1 2 more pieces wait than in Layout 2" in said(project((), FIRST))


def test_rules_broken_are_counted_where_both_break_some() -> None:
    out = replace(FIRST[0], x_mm=40.0)
    over = replace(FIRST[1], x_mm=90.0)
    assert said(project((out, over), (out, FIRST[1])))[0] == "Layout 1 breaks 1 more of the rules than Layout 2"
    assert said(project(FIRST, (out, FIRST[1])))[0] == "Layout 1 is valid, Layout 2 is not valid"


def test_nothing_worth_keeping_in_one_of_them() -> None:
    """Two of 150 x 200 take the whole cloth."""
    half = replace(POCKETS, width_mm=150.0, height_mm=200.0)
    full = (Placed("pocket-1", "cloth-1", 75.0, 100.0), Placed("pocket-2", "cloth-1", 225.0, 100.0))
    of = replace(project(full, full[:1]), own_pieces=(half,))
    assert "Layout 2 leaves a piece of 150 mm x 200 mm, Layout 1 none worth keeping" in said(of)
    none = figures_of(of, "layout-1")
    assert isinstance(none, LayoutFigures)
    assert none.largest is None
