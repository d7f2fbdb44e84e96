"""What a change in size did, in one sentence: figures worked out by hand beside each."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.edits.cloths import add_change, change_cloth, remove_change
from coverlayout.document.edits.job import change_rules, rename_project
from coverlayout.document.measuring.changed import what_changed
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# Two pockets of 60 x 90 side by side on 200 x 150: 20 from the left, 30 apart, 30 to the right, 30 above and below.
PROJECT = Project(
    cloths=(Cloth("cloth-1", "Swatch", 200.0, 150.0),),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, count=2),),
    layouts=(
        Layout(
            "layout-1", "a", (Placed("pocket-1", "cloth-1", 50.0, 75.0), Placed("pocket-2", "cloth-1", 140.0, 75.0))
        ),
    ),
)


def said(change: Change, project: Project = PROJECT) -> list[str]:
    return [remark.text() for remark in what_changed(project, add_change("cloth-1", change).change(project))]


def test_less_room_is_told_with_what_it_was():
    # 50 x 0.98 - 30 = 19 at the left.
    assert said(Change("washing", -2.0, 0.0)) == ["after washing, the tightest place has 19 mm; before it had 20 mm"]


def test_room_that_falls_below_the_wish_is_told_as_such():
    # 50 x 0.7 - 30 = 5 at the left; between the two 90 x 0.7 - 60 = 3, the least of all.
    assert said(Change("washing", -30.0, 0.0)) == [
        "after washing, only 3 mm is left at the tightest place, less than you wish for; before it was 20 mm"
    ]


def test_a_piece_that_reaches_outside_is_told_with_what_it_had_to_spare():
    # Along 75 x 0.5 - 45 = -7.5 above, and as much below, for both; each had 30 above and below, and the first 20 left.
    words = said(Change("washing", 0.0, -50.0))
    assert words == [
        "after washing, pocket-1 reaches 7.5 mm outside; before there was 20 mm to spare",
        "more pieces that lie wrong since: 1",
    ]


def test_pieces_that_come_to_overlap_are_told_with_how_far_apart_they_lay():
    # Between the two 90 x 0.6 - 60 = -6; at the left 50 x 0.6 - 30 = 0 and at the right 60 x 0.6 - 30 = 6.
    words = said(Change("washing", -40.0, 0.0))
    assert words == ["after washing, pocket-1 and pocket-2 overlap by 6 mm; before they lay 30 mm apart"]


def test_a_gap_that_is_lost_is_told():
    spaced = change_rules(gap_mm=10.0).change(PROJECT)
    # Between the two 90 x 0.75 - 60 = 7.5, which lacks 2.5 of 10.
    assert said(Change("washing", -25.0, 0.0), spaced) == [
        "after washing, pocket-1 and pocket-2 lack 2.5 mm of the gap; before they lay 30 mm apart"
    ]


def test_a_flaw_that_moves_under_a_piece_is_told():
    tea = Flaw("flaw-1", "tea", ((172.0, 40.0), (180.0, 43.0), (175.0, 60.0)))
    stained = change_cloth("cloth-1", flaws=(tea,)).change(PROJECT)
    # The second pocket ends at 140 x 0.85 + 30 = 149, the stain begins at 172 x 0.85 = 146.2.
    assert said(Change("washing", -15.0, 0.0), stained) == ["after washing, pocket-2 lies on tea; before it lay clear"]


def test_a_cloth_measured_again_is_called_so():
    assert said(Change("measured again", -2.0, 0.0)) == [
        "after measuring again, the tightest place has 19 mm; before it had 20 mm"
    ]


def test_growing_back_is_told_as_right_again():
    tight = add_change("cloth-1", Change("washing", -50.0, 0.0)).change(PROJECT)
    back = remove_change("cloth-1", 0).change(tight)
    assert [remark.text() for remark in what_changed(tight, back)] == [
        "after the change in size, everything lies right, with 20 mm at the tightest place; before it did not"
    ]


def test_what_stays_wrong_or_stays_as_it_was_is_told_so():
    over = add_change("cloth-1", Change("washing", -50.0, 0.0)).change(PROJECT)
    assert said(Change("bonding", -1.0, 0.0), over)[0].startswith("after bonding, ")
    wide = replace(PROJECT, layouts=(Layout("layout-1", "a", (Placed("pocket-1", "cloth-1", 30.0, 75.0),)),))
    still = replace(wide, layouts=(Layout("layout-1", "a", (Placed("pocket-1", "cloth-1", -80.0, 75.0),)),))
    assert said(Change("bonding", 0.0, -1.0), still) == ["after bonding, what lay wrong before lies wrong still"]
    # The first pocket touches the left edge; along the cloth there is room whatever happens.
    assert said(Change("bonding", 0.0, -1.0), wide) == ["after bonding, the tightest place has 0 mm as before"]


def test_a_lost_zone_or_turn_is_told_in_plain_words():
    trimmed = change_cloth("cloth-1", trim_mm=0.0, width_mm=120.0).change(PROJECT)
    words = [remark.text() for remark in what_changed(PROJECT, trimmed)]
    # The second pocket reaches to 170 on a cloth of 120: 50 outside, where it had 30 to spare.
    assert words == ["after the change in size, pocket-2 reaches 50 mm outside; before there was 30 mm to spare"]


def test_a_piece_that_leaves_its_zone_is_told_in_plain_words():
    left = Zone("zone-1", "left", rectangle(175.0, 150.0), LaidPrint("p"))
    right = Zone("zone-2", "right", rectangle(25.0, 150.0, 175.0), LaidPrint("p", (5.0, 5.0)))
    printed = replace(PROJECT, prints=(Print("p", "Dots", Lattice((40.0, 0.0), (0.0, 40.0))),))
    zoned = change_cloth("cloth-1", zones=(left, right)).change(printed)
    assert judge_for(zoned).report(placed_now(zoned)).breaches == ()
    # The second pocket reaches to 140 x 0.8 + 30 = 142, its zone to 175 x 0.8 = 140: it lies on two zones.
    words = said(Change("washing", -20.0, 0.0), zoned)
    assert words[-1] == "after washing, not as it may lie: pocket-2; before it lay right"


def test_nothing_is_said_when_no_size_changed_or_nothing_lies_there():
    assert what_changed(PROJECT, rename_project("Six").change(PROJECT)) == ()
    assert what_changed(PROJECT, change_cloth("cloth-1", name="Other").change(PROJECT)) == ()
    bare = replace(PROJECT, layouts=(Layout("layout-1", "a"),))
    assert said(Change("washing", -2.0, 0.0), bare) == []
    other = replace(PROJECT, layouts=(*PROJECT.layouts, Layout("layout-2", "b")), layout_id="layout-2")
    assert what_changed(PROJECT, add_change("cloth-1", Change("washing", -2.0, 0.0)).change(other)) == ()


def test_a_job_that_cannot_be_judged_says_nothing():
    twice = replace(PROJECT, own_pieces=(*PROJECT.own_pieces, replace(PROJECT.own_pieces[0], id="own-2")))
    washed = twice.with_cloth(replace(twice.cloths[0], changes=(Change("washing", -2.0, 0.0),)))
    assert what_changed(twice, washed) == ()
