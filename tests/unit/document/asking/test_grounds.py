"""A cloth as the layout asks for it: grounds by print and zone, keep-outs, spoiled holes, pieces already cut."""

from dataclasses import replace

import pytest
from samples import FLAW, L_SHAPE

from coverlayout.book.book import Source
from coverlayout.cloth.cloth import Change, Cloth, Flaw, Zone
from coverlayout.document.asking.grounds import cloth_asked, grounds_of, prints_for, prints_lying
from coverlayout.document.project import CutPiece, Project
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.question import Ground, Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print, Up

# A sheared lattice: a mixed-up vector or axis shows.
BIRDS = Print("print-1", "birds", Lattice((50.0, 13.0), (-17.0, 81.0)))
SEEDS = Print("print-2", "seeds", Lattice((10.0, 0.0)))
LAID = LaidPrint("print-1", origin_mm=(9.0, 4.0), turn_deg=90.0)
CLOTH = Cloth("cloth-1", "Swatch", 300.0, 200.0, laid=LAID, trim_mm=5.0)


def only(grounds: tuple[Ground, ...]) -> Ground:
    (ground,) = grounds
    return ground


def test_a_cloth_without_zones_is_one_ground() -> None:
    ground = only(grounds_of(CLOTH, (SEEDS, BIRDS)))
    assert (ground.id, ground.print_id, ground.up_deg, ground.origin_known) == ("cloth-1", "print-1", 90.0, True)
    assert ground.usable.bounds == Box(5.0, 5.0, 290.0, 190.0)
    # A quarter turn sends (x, y) to (-y, x).
    assert ground.lattice_mm == Lattice((-13.0, 50.0), (-81.0, -17.0))
    assert ground.print_to_cloth is not None
    assert ground.print_to_cloth.at((1.0, 2.0)) == (9 - 2, 4 + 1)


def test_plain_ground_has_no_print() -> None:
    ground = only(grounds_of(replace(CLOTH, laid=None), (BIRDS,)))
    assert (ground.print_id, ground.lattice_mm, ground.print_to_cloth, ground.up_deg) == (None, None, None, 0.0)


def test_the_lattice_changes_with_the_cloth() -> None:
    washed = replace(CLOTH, changes=(Change("washing", -10.0, -20.0),))
    ground = only(grounds_of(washed, (BIRDS,)))
    assert ground.lattice_mm is not None
    assert ground.lattice_mm.a_mm == pytest.approx((-13 * 0.9, 50 * 0.8))
    measured = replace(washed, laid=replace(LAID, changes_in=1, origin_known=False))
    after = only(grounds_of(measured, (BIRDS,)))
    assert after.lattice_mm == Lattice((-13.0, 50.0), (-81.0, -17.0))
    assert not after.origin_known


def test_each_zone_is_a_ground_cut_to_the_usable_cloth() -> None:
    zones = (
        Zone("zone-1", "left", rectangle(100.0, 200.0), LAID),
        Zone("zone-2", "right", rectangle(150.0, 100.0, 150.0, 0.0), LaidPrint("print-2")),
        Zone("zone-3", "plain", rectangle(40.0, 40.0, 105.0, 150.0)),
    )
    left, right, plain = grounds_of(replace(CLOTH, zones=zones), (BIRDS, SEEDS))
    assert [ground.id for ground in (left, right, plain)] == ["zone-1", "zone-2", "zone-3"]
    assert [ground.print_id for ground in (left, right, plain)] == ["print-1", "print-2", None]
    assert left.usable.bounds == Box(5.0, 5.0, 95.0, 190.0)
    assert right.usable.bounds == Box(150.0, 5.0, 145.0, 95.0)


def test_touching_zones_of_one_print_are_a_ground_together_as_well() -> None:
    zones = (
        Zone("zone-1", "a", rectangle(100.0, 200.0), LAID),
        Zone("zone-2", "b", rectangle(100.0, 200.0, 200.0, 0.0), LAID),
        Zone("zone-3", "between", rectangle(100.0, 200.0, 100.0, 0.0), LAID),
        Zone("zone-4", "shifted", rectangle(100.0, 200.0, 100.0, 0.0), replace(LAID, origin_mm=(0.0, 0.0))),
    )
    joined, *single = grounds_of(replace(CLOTH, zones=zones), (BIRDS,))
    assert joined.usable.bounds == Box(5.0, 5.0, 290.0, 190.0)
    assert joined.usable.area_mm2 == pytest.approx(290 * 190)
    assert (joined.id, joined.print_id) == ("zone-1+zone-2+zone-3", "print-1")
    assert [ground.id for ground in single] == ["zone-1", "zone-2", "zone-3", "zone-4"]


def test_zones_apart_or_beside_the_cloth_are_not_joined() -> None:
    zones = (
        Zone("zone-1", "a", rectangle(100.0, 200.0), LAID),
        Zone("zone-2", "b", rectangle(100.0, 200.0, 100.5, 0.0), LAID),
        Zone("zone-3", "off", rectangle(100.0, 200.0, 400.0, 0.0), LAID),
    )
    grounds = grounds_of(replace(CLOTH, zones=zones), (BIRDS,))
    assert [ground.id for ground in grounds] == ["zone-1", "zone-2", "zone-3"]
    assert grounds[2].usable.is_empty


def test_flaws_and_spoiled_pieces_are_kept_clear_of() -> None:
    stain = Flaw("flaw-1", "stain", FLAW, fine_where_hidden=True)
    spoiled = CutPiece(
        "front-1", "front cover", "spoiled", L_SHAPE, (10.0, 20.0), Placed("front-1", "cloth-1", 100, 100, 90)
    )
    elsewhere = replace(spoiled, place=Placed("front-1", "cloth-2", 100.0, 100.0, 90.0))
    asked = cloth_asked(replace(CLOTH, flaws=(stain,)), (BIRDS,), (elsewhere, spoiled))
    seen, hole = asked.keep_outs
    assert (seen.id, seen.name, seen.seen_only, seen.spoiled) == ("flaw-1", "stain", True, False)
    assert (hole.name, hole.seen_only, hole.spoiled) == ("front cover", False, True)
    # L 60 x 100 turned a quarter about (10, 20): (x, y) goes to (100 - (y - 20), 100 + (x - 10)).
    assert hole.region.bounds == Box(100 - 80, 100 - 10, 100.0, 60.0)
    assert hole.region.area_mm2 == pytest.approx(20 * 75 + 60 * 25)
    assert not hole.region.contains((100.0, 120.0))
    assert asked.fixed == ()


def test_a_cut_piece_stays_and_asks_for_nothing() -> None:
    place = Placed("back-1", "cloth-1", 100.0, 100.0, 180.0)
    cut = CutPiece("back-1", "back cover", "cut", L_SHAPE, (10.0, 20.0), place, seen_mm=L_SHAPE[:3])
    asked = cloth_asked(CLOTH, (BIRDS,), (cut,))
    ((piece, where),) = asked.fixed
    assert (piece.id, piece.outline_mm, piece.anchor_mm, piece.turns_deg) == ("back-1", L_SHAPE, (10.0, 20.0), None)
    assert where == place
    assert asked.keep_outs == ()


def test_the_outline_is_that_of_the_changed_cloth() -> None:
    asked = cloth_asked(replace(CLOTH, changes=(Change("washing", -50.0, 0.0),)), (BIRDS,))
    assert (asked.id, asked.name) == ("cloth-1", "Swatch")
    assert asked.outline_mm == rectangle(150.0, 200.0)


def test_the_prints_of_a_cloth_are_its_zones_or_its_own() -> None:
    zones = (Zone("zone-1", "a", rectangle(9.0, 9.0), LAID), Zone("zone-2", "b", rectangle(9.0, 9.0)))
    assert prints_lying(CLOTH) == (LAID,)
    assert prints_lying(replace(CLOTH, zones=zones)) == (LAID, None)
    assert prints_lying(replace(CLOTH, zones=zones), "zone-1") == (LAID,)
    assert prints_lying(CLOTH, "zone-9") == ()


def test_a_source_left_open_may_meet_every_print_that_lies_somewhere() -> None:
    zones = (Zone("zone-1", "a", rectangle(9.0, 9.0), LaidPrint("print-2")), Zone("zone-2", "b", rectangle(9.0, 9.0)))
    project = Project(prints=(BIRDS, SEEDS), cloths=(CLOTH, replace(CLOTH, id="cloth-2", zones=zones)))
    assert prints_for(project, Source()) == {"print-1", "print-2"}
    assert prints_for(project, Source("print-9")) == {"print-9"}
    assert prints_for(project, Source(cloth_id="cloth-1")) == {"print-1"}
    assert prints_for(project, Source(cloth_id="cloth-2", zone_id="zone-2")) == set()


@pytest.mark.parametrize(("up", "turns_deg"), [("one-way", ()), ("two-way", (180.0,)), ("any", (90.0, 180.0, 270.0))])
def test_ground_knows_by_which_turns_its_print_looks_alike_where_the_place_is_known(
    up: Up, turns_deg: tuple[float, ...]
) -> None:
    ground = only(grounds_of(CLOTH, (replace(BIRDS, up=up, alike_about_mm=(7.0, 11.0)),)))
    assert (ground.alike_deg, ground.alike_about_mm) == (turns_deg, (7.0, 11.0))
    assert only(grounds_of(CLOTH, (replace(BIRDS, up=up),))).alike_deg == ()
