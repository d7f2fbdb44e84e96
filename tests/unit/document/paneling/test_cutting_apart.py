"""A cloth cut into panels: everything on it stays where it was on the stuff, pieces go with their panel."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import BaseLine, Change, Cloth, Flaw, Zone
from coverlayout.cloth.usable import flaw_region, laid_to_cloth, outline_region, usable
from coverlayout.document.checks.whole import checked
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.history import History
from coverlayout.document.layouts.named import duplicate_layout
from coverlayout.document.paneling.cutting_apart import Panel, cut_apart, cut_into_panels, in_cloth_frame
from coverlayout.document.project import Price, Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import Box, Region, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

HERONS = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)), "half-drop")
STAIN = Flaw("flaw-1", "tea", ((170.0, 30.0), (195.0, 36.0), (180.0, 55.0)))
CLOTH = Cloth(
    "cloth-1",
    "Swatch",
    300.0,
    200.0,
    web_short_mm=4.0,
    backing="web",
    flaws=(STAIN,),
    laid=LaidPrint("print-1", (12.0, 5.5)),
    price=6.0,
    cut_name="swatch",
)
# An L of one wide panel on the left, two on the right.
PANELS = (Box(0.0, 0.0, 160.0, 200.0), Box(160.0, 0.0, 140.0, 120.0), Box(160.0, 120.0, 140.0, 80.0))
LABEL = OwnPiece("own-1", "label", 30.0, 20.0, turns="none", count=3)
START = Project(prints=(HERONS,), cloths=(CLOTH,), own_pieces=(LABEL,), next_number=7)
LAID = place(
    (
        Placed("label-1", "cloth-1", 40.0, 30.0),
        # Across the line at 160.
        Placed("label-2", "cloth-1", 160.0, 90.0),
        Placed("label-3", "cloth-1", 220.0, 150.0),
    )
).change(START)


def panels_of(project: Project, panels: tuple[Box, ...] = PANELS) -> tuple[Project, tuple[Cloth, ...]]:
    made = cut_into_panels("cloth-1", panels).change(project)
    assert checked(made) is made
    return made, made.cloths


def test_each_panel_is_a_cloth_of_its_own_with_the_strip_all_round() -> None:
    made, cloths = panels_of(START)
    assert [cloth.name for cloth in cloths] == ["Swatch, panel 1", "Swatch, panel 2", "Swatch, panel 3"]
    assert len({cloth.id for cloth in cloths} | {"cloth-1"}) == 4
    for cloth, box in zip(cloths, PANELS, strict=True):
        assert (cloth.width_mm, cloth.length_mm, cloth.outline_mm) == (box.width_mm, box.height_mm, None)
        inside = usable(cloth).bounds
        assert (inside.left_mm, inside.top_mm) == pytest.approx((4.0, 4.0))
        assert (inside.width_mm, inside.height_mm) == pytest.approx((box.width_mm - 8.0, box.height_mm - 8.0))
        assert (cloth.backing, cloth.web_short_mm, cloth.state, cloth.cut_name) == ("web", 4.0, "measured", None)
    # By area 160 x 200, 140 x 120 and 140 x 80 of 60000 mm2.
    assert [cloth.price for cloth in cloths] == pytest.approx([3.2, 1.68, 1.12])
    assert made.own_pieces == START.own_pieces


def test_the_print_and_the_flaws_keep_their_place_on_the_stuff() -> None:
    """The motif at (25, 43) of the tile, two repeats along a and one back along b: by hand at (165, 48.5)."""
    on_cloth = (25.0 + 2 * 64.0 + 12.0, 43.0 + 2 * 48.0 - 96.0 + 5.5)
    assert on_cloth == (165.0, 48.5)
    _, cloths = panels_of(START)
    for cloth, box in zip(cloths, PANELS, strict=True):
        assert cloth.laid is not None
        found = laid_to_cloth(cloth, cloth.laid).at((25.0 + 2 * 64.0, 43.0))
        assert found == pytest.approx((165.0 - box.left_mm, 48.5 - box.top_mm))
    assert [len(cloth.flaws) for cloth in cloths] == [0, 1, 0]
    stain = flaw_region(cloths[1], cloths[1].flaws[0])
    assert (stain.bounds.left_mm, stain.bounds.top_mm) == pytest.approx((10.0, 30.0))


def test_pieces_go_with_their_panel_and_those_on_a_line_wait() -> None:
    two = duplicate_layout("layout-1", "Other").change(pin(("label-1", "label-2")).change(LAID))
    made, cloths = panels_of(two)
    for layout in made.layouts:
        assert layout.placements == (
            Placed("label-1", cloths[0].id, 40.0, 30.0),
            Placed("label-3", cloths[2].id, 60.0, 30.0),
        )
    assert made.layouts[0].pinned == ("label-1",)
    assert judge_for(made).report(placed_now(made)).breaches == ()


def test_one_step_cuts_and_lays() -> None:
    laid = (Placed("label-2", "cloth-1", 100.0, 90.0), Placed("label-1", "cloth-1", 190.0, 140.0))
    edit = cut_into_panels("cloth-1", PANELS, laid)
    history = History(LAID).after(edit)
    assert edit.name.text() == "Cut into 3 panels"
    lying = {
        one.piece: (history.present.cloth(one.cloth).name, one.x_mm, one.y_mm) for one in placed_now(history.present)
    }
    assert lying == {
        "label-1": ("Swatch, panel 3", 30.0, 20.0),
        "label-2": ("Swatch, panel 1", 100.0, 90.0),
        "label-3": ("Swatch, panel 3", 60.0, 30.0),
    }
    assert history.undone().present == LAID


def test_places_go_back_to_the_uncut_cloth() -> None:
    made, panels = cut_apart(LAID, "cloth-1", PANELS)
    back = in_cloth_frame("cloth-1", panels, (*placed_now(made), Placed("x", "cloth-9", 1.0, 2.0)))
    assert back == (LAID.layout.placements[0], LAID.layout.placements[2], Placed("x", "cloth-9", 1.0, 2.0))
    assert all(isinstance(panel, Panel) for panel in panels)


def test_a_wider_trim_stays_along_the_old_edges_only() -> None:
    trimmed = replace(START, cloths=(replace(CLOTH, trim_mm=10.0, selvedge_right_mm=15.0, flaws=()),))
    _, cloths = panels_of(trimmed)
    for cloth, box in zip(cloths, PANELS, strict=True):
        assert cloth.trim_mm == 0.0
        kept = Region.union(flaw_region(cloth, flaw) for flaw in cloth.flaws)
        free = usable(cloth).minus(kept).bounds
        # By hand: 10 along old edges (15 at the selvedge on the right), 4 along new ones.
        left = 10.0 if box.left_mm == 0.0 else 4.0
        top = 10.0 if box.top_mm == 0.0 else 4.0
        right = box.width_mm - (15.0 if box.right_mm == 300.0 else 4.0)
        bottom = box.height_mm - (10.0 if box.bottom_mm == 200.0 else 4.0)
        assert (free.left_mm, free.top_mm, free.right_mm, free.bottom_mm) == pytest.approx((left, top, right, bottom))
    narrow = replace(START, cloths=(replace(CLOTH, trim_mm=3.0, flaws=()),))
    assert all(cloth.flaws == () for cloth in panels_of(narrow)[1])


def test_a_changed_and_crooked_cloth_is_cut_as_it_now_is() -> None:
    """300 x 200 shrunk by 10 and 20 %: 270 x 160, less a corner on the right; the base line stays in one panel."""
    crooked = replace(
        CLOTH,
        changes=(Change("washing", -10.0, -20.0),),
        outline_mm=((0.0, 0.0), (200.0, 0.0), (300.0, 100.0), (300.0, 200.0), (0.0, 200.0)),
        base_line=BaseLine((10.0, 10.0), (90.0, 40.0)),
        flaws=(),
    )
    half = (Box(0.0, 0.0, 135.0, 160.0), Box(135.0, 0.0, 135.0, 160.0))
    _, cloths = panels_of(replace(START, cloths=(crooked,)), half)
    assert (cloths[0].outline_mm, cloths[0].width_mm) == (None, pytest.approx(150.0))
    assert outline_region(cloths[0]).bounds.width_mm == pytest.approx(135.0)
    # The whole is 270 x 160 less a corner of 90 x 80 / 2.
    areas = [outline_region(cloth).area_mm2 for cloth in cloths]
    assert areas == pytest.approx([135.0 * 160.0, 135.0 * 160.0 - 90.0 * 80.0 / 2])
    assert cloths[0].base_line is not None
    assert cloths[1].base_line is None


def test_a_hole_makes_no_cloth() -> None:
    gone = Flaw("flaw-2", "gone: rest", rectangle(160.0, 200.0), gone=True)
    beside = replace(START, cloths=(replace(CLOTH, flaws=(gone,)),))
    _, cloths = panels_of(beside)
    assert [(cloth.width_mm, cloth.length_mm) for cloth in cloths] == [(140.0, 120.0), (140.0, 80.0)]


def test_cloth_to_buy_keeps_its_doubt_where_it_falls() -> None:
    """2 % of 300 x 200 is 6 mm across and 4 along, lost at the right and lower edges."""
    bought = replace(START, cloths=(replace(CLOTH, state="to-buy", doubt_percent=2.0, price=None),))
    priced = replace(bought, prices=(Price("swatch", 9.0),))
    _, cloths = panels_of(priced)
    assert [cloth.state for cloth in cloths] == ["to-buy"] * 3
    # Panel 1: below 4 of 200 mm; panel 2: right 6 of 140; panel 3: right 6 of 140, below 4 of 80.
    assert [cloth.doubt for cloth in cloths] == pytest.approx([2.0, 100 * 6.0 / 140.0, 100 * 4.0 / 80.0])
    assert [cloth.price for cloth in cloths] == pytest.approx([4.8, 2.52, 1.68])
    top = (Box(0.0, 0.0, 150.0, 100.0), Box(150.0, 0.0, 150.0, 100.0), Box(0.0, 100.0, 300.0, 100.0))
    assert panels_of(bought, top)[1][0].doubt == 0.0


def test_pieces_bound_to_the_cloth_are_bound_to_its_print() -> None:
    bound = replace(START, own_pieces=(replace(LABEL, source=Source(cloth_id="cloth-1")),))
    assert panels_of(bound)[0].own_pieces[0].source == Source(print_id="print-1")
    plain = replace(bound, cloths=(replace(CLOTH, laid=None),), prints=())
    assert panels_of(plain)[0].own_pieces[0].source == Source()
    elsewhere = replace(START, cloths=(CLOTH, replace(CLOTH, id="cloth-2", name="Other", flaws=())))
    other = replace(elsewhere, own_pieces=(replace(LABEL, source=Source(cloth_id="cloth-2")),))
    made, cloths = panels_of(other)
    assert made.own_pieces[0].source == Source(cloth_id="cloth-2")
    assert [cloth.name for cloth in cloths][-1] == "Other"


def test_zones_go_with_their_panels() -> None:
    whole = Zone("zone-1", "left", rectangle(100.0, 200.0), LaidPrint("print-1"))
    split = Zone("zone-2", "right", rectangle(150.0, 200.0, 120.0), LaidPrint("print-1"))
    zoned = replace(START, cloths=(replace(CLOTH, zones=(whole, split), flaws=(), laid=None),))
    for zone_id, cloth_id, wanted in (
        ("zone-1", "cloth-1", True),
        ("zone-1", None, True),
        ("zone-2", "cloth-1", False),
    ):
        source = Source(cloth_id=cloth_id, zone_id=zone_id)
        made, cloths = panels_of(replace(zoned, own_pieces=(replace(LABEL, source=source),)))
        found = made.own_pieces[0].source
        if wanted:
            (zone,) = (zone for zone in cloths[0].zones if zone.name == "left")
            assert found == Source(cloth_id=None if cloth_id is None else cloths[0].id, zone_id=zone.id)
        else:
            assert found == Source(print_id="print-1")
    areas = [sum(Region.of(z.outline_mm).area_mm2 for z in cloth.zones) for cloth in cloths]
    assert areas == pytest.approx([100.0 * 200.0 + 40.0 * 200.0, 110.0 * 120.0, 110.0 * 80.0])


@pytest.mark.parametrize(
    ("panels", "said"),
    [
        ((Box(0.0, 0.0, 300.0, 200.0),), "at least two"),
        ((), "at least two"),
        ((PANELS[0], PANELS[1]), "cover the whole cloth"),
        ((*PANELS, Box(10.0, 10.0, 50.0, 50.0)), "not lie over each other"),
        ((*PANELS, Box(10.0, 10.0, 0.0, 50.0)), "some size"),
        ((*PANELS, Box(10.0, 10.0, 50.0, -1.0)), "some size"),
        ((*PANELS, Box(10.0, 10.0, float("nan"), 50.0)), "some size"),
    ],
)
def test_panels_that_are_none(panels: tuple[Box, ...], said: str) -> None:
    with pytest.raises(BadInput, match=said):
        cut_into_panels("cloth-1", panels).change(START)


def test_what_was_cut_from_is_not_cut_into_panels() -> None:
    cut = mark_cut(("label-1",)).change(LAID)
    with pytest.raises(BadInput, match="make its rest a cloth of its own first"):
        cut_into_panels("cloth-1", PANELS).change(cut)
    with pytest.raises(BadInput, match="cloth-8"):
        cut_into_panels("cloth-8", PANELS).change(LAID)
