"""Cloths: changes in size move what lies on them, flaws and zones come and go."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from full_project import CLOTH, FULL, LAID, SPOILED

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.edits.cloths import (
    add_change,
    add_cloth,
    add_flaw,
    change_cloth,
    change_flaw,
    duplicate_cloth,
    lay_print,
    move_cloth,
    remove_change,
    remove_cloth,
    remove_flaw,
    rename_cloth,
    trace_outline,
)
from coverlayout.document.edits.zones import add_zone, remove_zone
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.prints import LaidPrint

SWATCH = Cloth("cloth-1", "Swatch", 304.8, 304.8)
YARD = Cloth("cloth-2", "Yard", 1100.0, 914.4)
START = Project(
    cloths=(SWATCH, YARD),
    layouts=(
        Layout("layout-1", "a", (Placed("pocket-1", "cloth-1", 100.0, 200.0), Placed("pocket-2", "cloth-2", 9.0, 9.0))),
        Layout("layout-2", "b", (Placed("pocket-1", "cloth-1", 50.0, 60.0, 30.0),)),
    ),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, count=2, source=Source(cloth_id="cloth-1")),),
    cut_pieces=(replace(SPOILED, place=Placed("front-1", "cloth-2", 200.0, 100.0)),),
)
WASHING = Change("washing", -3.0, -1.0)


def places(project: Project) -> list[tuple[float, float]]:
    return [(placed.x_mm, placed.y_mm) for layout in project.layouts for placed in layout.placements]


def code_of(edit: Edit, project: Project = START) -> str:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert str(caught.value)
    return caught.value.code


def test_a_cloth_gets_an_id_that_was_never_used() -> None:
    twice = add_cloth(SWATCH).change(add_cloth(SWATCH).change(Project()))
    assert [cloth.id for cloth in twice.cloths] == ["cloth-1", "cloth-2"]
    without = remove_cloth("cloth-2").change(twice)
    assert add_cloth(SWATCH).change(without).cloths[-1].id == "cloth-3"


def test_a_change_in_size_moves_what_lies_there_with_the_cloth() -> None:
    washed = add_change("cloth-1", WASHING).change(START)
    # 100 x 0.97, 200 x 0.99; the other cloth stays; the second layout moves as well.
    assert [pytest.approx(place) for place in places(washed)] == [(97.0, 198.0), (9.0, 9.0), (48.5, 59.4)]
    assert washed.layouts[1].placements[0].turn_deg == 30.0
    assert washed.own_pieces == START.own_pieces
    assert washed.cut_pieces == START.cut_pieces


def test_holes_of_spoiled_pieces_move_too() -> None:
    grown = add_change("cloth-2", Change("stretching", 10.0, 5.0)).change(START)
    place = grown.cut_pieces[0].place
    assert (place.x_mm, place.y_mm) == pytest.approx((220.0, 105.0))
    assert grown.cut_pieces[0].outline_mm == SPOILED.outline_mm


def test_several_changes_multiply_and_may_be_taken_back() -> None:
    """-3 %, then -1.5 %, both ways, leaves 291.2 mm of 12 in; so an anchor in the far corner ends there."""
    corner = Placed("pocket-1", "cloth-1", 304.8, 304.8)
    start = START.with_layout(Layout("layout-1", "a", (corner,)))
    both = add_change("cloth-1", Change("bonding", -1.5, -1.5)).change(
        add_change("cloth-1", Change("washing", -3.0, -3.0)).change(start)
    )
    assert places(both)[0] == pytest.approx((291.2, 291.2), abs=0.05)
    back = remove_change("cloth-1", 0).change(both)
    assert back.cloth("cloth-1").changes == (Change("bonding", -1.5, -1.5),)
    assert places(back)[0] == pytest.approx((304.8 * 0.985, 304.8 * 0.985))


def test_changing_the_list_of_changes_by_field_moves_pieces_as_well() -> None:
    washed = change_cloth("cloth-1", changes=(WASHING,)).change(START)
    assert places(washed) == places(add_change("cloth-1", WASHING).change(START))


def test_what_was_measured_after_a_change_keeps_its_figures_when_it_is_taken_back() -> None:
    """The sample's outline contains 1 change, the crease 1, the zone 2 and its print 1; the tea stain 0."""
    cloth = remove_change("cloth-1", 0).change(FULL).cloth("cloth-1")
    zone = cloth.zones[0]
    assert zone.laid is not None
    assert cloth.laid is not None
    counted = (cloth.outline_changes_in, cloth.flaws[1].changes_in, zone.changes_in, zone.laid.changes_in)
    assert (counted, cloth.flaws[0].changes_in, cloth.laid.changes_in) == ((0, 0, 1, 0), 0, 0)
    assert cloth.outline_mm == CLOTH.outline_mm
    cloth = remove_change("cloth-1", 1).change(FULL).cloth("cloth-1")
    assert (cloth.outline_changes_in, cloth.zones[0].changes_in) == (1, 1)


@pytest.mark.parametrize("index", [-1, 2])
def test_a_change_that_is_not_there_cannot_be_taken_back(index: int) -> None:
    assert code_of(remove_change("cloth-1", index), FULL) == "id-unknown"


def test_flaws_come_change_and_go() -> None:
    stain = Flaw("", "stain", ((70.0, 30.0), (95.0, 36.0), (80.0, 55.0)))
    one = add_flaw("cloth-1", stain).change(START)
    two = add_flaw("cloth-1", stain).change(one)
    ids = [flaw.id for flaw in two.cloth("cloth-1").flaws]
    assert len(set(ids)) == 2
    hidden = change_flaw("cloth-1", ids[1], fine_where_hidden=True).change(two)
    assert [flaw.fine_where_hidden for flaw in hidden.cloth("cloth-1").flaws] == [False, True]
    left = remove_flaw("cloth-1", ids[0]).change(hidden)
    assert [flaw.id for flaw in left.cloth("cloth-1").flaws] == [ids[1]]
    assert add_flaw("cloth-1", stain).change(left).cloth("cloth-1").flaws[-1].id not in ids


def test_zones_come_and_go_and_free_the_pieces_that_named_them() -> None:
    zoned = add_zone("cloth-1", Zone("", "left half", rectangle(150.0, 300.0))).change(START)
    zone_id = zoned.cloth("cloth-1").zones[0].id
    source = Source(cloth_id="cloth-1", zone_id=zone_id)
    zoned = zoned.with_own_piece(replace(zoned.own_pieces[0], source=source))
    freed = remove_zone("cloth-1", zone_id).change(zoned)
    assert freed.cloth("cloth-1").zones == ()
    assert freed.own_pieces[0].source == Source(cloth_id="cloth-1")


def test_a_print_is_laid_on_a_cloth_or_a_zone() -> None:
    plain = lay_print("cloth-1", None).change(FULL)
    assert plain.cloth("cloth-1").laid is None
    assert plain.cloth("cloth-1").zones == CLOTH.zones
    laid = LaidPrint("print-2", (3.0, 4.0), 90.0)
    assert lay_print("cloth-1", laid, "zone-1").change(FULL).cloth("cloth-1").zones[0].laid == laid


def test_a_cloth_that_goes_lets_its_pieces_wait_in_every_layout() -> None:
    left = remove_cloth("cloth-1").change(START)
    assert [cloth.id for cloth in left.cloths] == ["cloth-2"]
    assert places(left) == [(9.0, 9.0)]
    assert left.own_pieces[0].source == Source()


def test_a_piece_that_waits_again_is_not_pinned() -> None:
    pinned = START.with_layout(replace(START.layouts[0], pinned=("pocket-1", "pocket-2")))
    assert remove_cloth("cloth-1").change(pinned).layouts[0].pinned == ("pocket-2",)


def test_a_cloth_that_goes_takes_its_zones_out_of_the_sources() -> None:
    left = remove_cloth("cloth-1").change(replace(FULL, cut_pieces=()))
    assert left.books[0].cover_source == Source(print_id="print-1")


def test_a_cloth_that_was_cut_stays() -> None:
    assert code_of(remove_cloth("cloth-2")) == "cloth-was-cut"


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (change_cloth("cloth-9", trim_mm=1.0), "id-unknown"),
        (change_cloth("cloth-1", id="cloth-7"), "id-fixed"),
        (change_cloth("cloth-1", trim_mm=-1.0), "figure-out-of-range"),
        (change_cloth("cloth-1", width_mm=0.0), "figure-out-of-range"),
        (change_cloth("cloth-1", length_mm=float("inf")), "figure-not-finite"),
        (change_cloth("cloth-1", outline_mm=((0.0, 0.0), (5.0, 0.0), (9.0, 0.0))), "outline-no-area"),
        (add_change("cloth-1", Change("felting", -100.0, 0.0)), "figure-out-of-range"),
        (add_flaw("cloth-1", Flaw("", "spot", ((1.0, 1.0),))), "outline-no-area"),
        (add_flaw("cloth-1", Flaw("", "spot", rectangle(9.0, 9.0, 400.0))), "flaw-off-cloth"),
        (change_cloth("cloth-1", outline_mm=rectangle(305.0, 200.0)), "outline-larger"),
        (change_cloth("cloth-1", outline_mm=rectangle(200.0, 200.0, 3.0)), "outline-off-corner"),
        (add_cloth(Cloth("", "Rest", 90.0, 90.0, outline_mm=rectangle(91.0, 90.0))), "outline-larger"),
        (trace_outline("cloth-1", rectangle(310.0, 200.0, -3.0)), "outline-larger"),
        (trace_outline("cloth-1", ((0.0, 0.0), (90.0, 90.0), (90.0, 0.0), (0.0, 80.0))), "outline-crosses"),
        (trace_outline("cloth-9", rectangle(9.0, 9.0)), "id-unknown"),
        (duplicate_cloth("cloth-9"), "id-unknown"),
        (rename_cloth("cloth-1", "  "), "name-empty"),
        (move_cloth("cloth-9", 0), "id-unknown"),
        (change_flaw("cloth-1", "flaw-9", name="x"), "id-unknown"),
        (remove_flaw("cloth-1", "flaw-9"), "id-unknown"),
        (remove_zone("cloth-1", "zone-9"), "id-unknown"),
        (lay_print("cloth-1", LaidPrint("print-9")), "id-unknown"),
        (lay_print("cloth-1", LAID), "changes-in-unknown"),
        (lay_print("cloth-1", None, "zone-9"), "id-unknown"),
        (remove_cloth("cloth-9"), "id-unknown"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, code: str) -> None:
    assert code_of(edit) == code


@pytest.mark.parametrize(
    ("fields", "shown"), [({"name": "Swatch of linen"}, "Change cloth"), ({"trim_mm": 2.0}, "Change cloth")]
)
def test_changing_a_field_changes_nothing_else(fields: dict[str, Any], shown: str) -> None:
    edit = change_cloth("cloth-1", **fields)
    new = edit.change(START)
    assert new == START.with_cloth(replace(SWATCH, **fields))
    assert edit.name.text() == shown


def test_cloth_that_is_gone_is_gone_from_the_first_only() -> None:
    gone = Flaw("flaw-7", "cut away", rectangle(50.0, 60.0), gone=True)
    crease = Flaw("flaw-8", "crease", ((0.0, 0.0), (90.0, 90.0)), line_width_mm=4.0)
    cut = replace(START, cloths=(replace(SWATCH, flaws=(gone, crease)), YARD))
    first, twin = duplicate_cloth("cloth-1").change(cut).cloths[:2]
    assert first.flaws == (gone, crease)
    assert [flaw.name for flaw in twin.flaws] == ["crease"]


def test_a_copied_cloth_lies_behind_the_first_with_ids_of_its_own() -> None:
    twice = duplicate_cloth("cloth-1").change(FULL)
    first, twin = twice.cloths[:2]
    assert first == CLOTH
    assert twin.name == "Crooked leftover 2"
    assert replace(twin, id=first.id, name=first.name, flaws=first.flaws, zones=first.zones) == first
    there = [replace(flaw, id="") for flaw in first.flaws if not flaw.gone]
    assert there == [replace(flaw, id="") for flaw in twin.flaws]
    ids = [one.id for cloth in (first, twin) for one in (cloth, *cloth.flaws, *cloth.zones)]
    assert len(set(ids)) == len(ids)
    assert places(twice) == places(FULL)
    assert duplicate_cloth("cloth-1").change(twice).cloths[1].name == "Crooked leftover 3"


def test_a_cloth_is_called_something_else() -> None:
    edit = rename_cloth("cloth-1", "  Linen, blue ")
    assert edit.change(START) == START.with_cloth(replace(SWATCH, name="Linen, blue"))


def test_cloths_change_their_order() -> None:
    three = duplicate_cloth("cloth-1").change(START)
    names = [cloth.name for cloth in three.cloths]
    assert names == ["Swatch", "Swatch 2", "Yard"]
    assert [cloth.name for cloth in move_cloth("cloth-1", 1).change(three).cloths] == ["Swatch 2", "Swatch", "Yard"]
    assert [cloth.name for cloth in move_cloth("cloth-1", 9).change(three).cloths][-1] == "Swatch"
    assert move_cloth("cloth-1", -3).change(three) == three


TRACED = ((12.0, 40.0), (250.0, 20.0), (300.0, 280.0), (30.0, 300.0))


def test_a_traced_outline_moves_the_frame_and_nothing_on_the_cloth() -> None:
    """Its box begins at 12, 20: everything is counted 12 and 20 less."""
    stained = add_flaw("cloth-1", Flaw("", "stain", ((70.0, 60.0), (95.0, 66.0), (80.0, 85.0)))).change(START)
    printed = stained.with_cloth(replace(stained.cloth("cloth-1"), laid=LaidPrint("print-1", (5.0, 7.0), 2.0)))
    cloth = trace_outline("cloth-1", TRACED).change(replace(printed, prints=FULL.prints)).cloth("cloth-1")
    assert cloth.outline_mm == ((0.0, 20.0), (238.0, 0.0), (288.0, 260.0), (18.0, 280.0))
    assert cloth.flaws[0].points_mm == ((58.0, 40.0), (83.0, 46.0), (68.0, 65.0))
    assert cloth.laid == LaidPrint("print-1", (-7.0, -13.0), 2.0)
    assert (cloth.width_mm, cloth.length_mm) == (304.8, 304.8)
    traced = trace_outline("cloth-1", TRACED).change(START)
    assert places(traced) == [(88.0, 180.0), (9.0, 9.0), (38.0, 40.0)]
    assert traced.cut_pieces == START.cut_pieces


def test_an_outline_is_traced_on_the_washed_cloth() -> None:
    """By hand on the cloth as it is, 295.656 wide: the whole of it may be traced, a millimetre more may not."""
    washed = add_change("cloth-1", WASHING).change(START)
    cloth = trace_outline("cloth-1", rectangle(295.6, 301.7)).change(washed).cloth("cloth-1")
    assert cloth.outline_changes_in == 1
    assert cloth.outline_now_mm() == rectangle(295.6, 301.7)
    assert code_of(trace_outline("cloth-1", rectangle(296.7, 301.7)), washed) == "outline-larger"


def test_what_older_work_holds_can_be_renamed_all_the_same() -> None:
    off = replace(
        SWATCH, outline_mm=rectangle(400.0, 300.0), flaws=(Flaw("flaw-1", "off", rectangle(9.0, 9.0, 500.0)),)
    )
    older = START.with_cloth(off)
    assert change_cloth("cloth-1", name="Old").change(older).cloth("cloth-1").name == "Old"
    assert change_flaw("cloth-1", "flaw-1", name="Far").change(older).cloth("cloth-1").flaws[0].name == "Far"
    assert code_of(change_flaw("cloth-1", "flaw-1", line_width_mm=3.0), older) == "flaw-off-cloth"
    assert code_of(change_cloth("cloth-1", width_mm=350.0), older) == "outline-larger"
    assert change_cloth("cloth-1", width_mm=400.0).change(older).cloth("cloth-1").width_mm == 400.0
