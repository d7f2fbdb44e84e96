"""What else came with an edit is said."""

from __future__ import annotations

from dataclasses import replace

from full_project import FULL

from coverlayout.book.book import OwnPiece, Source
from coverlayout.cloth.cloth import Cloth, Zone
from coverlayout.document.consequences import consequences
from coverlayout.document.edits.cloths import remove_cloth
from coverlayout.document.edits.placements import take_off
from coverlayout.document.edits.zones import remove_all_zones
from coverlayout.document.layouts.named import switch_layout
from coverlayout.document.project import Layout, Project
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed

LOOSE = FULL.with_layout(replace(FULL.layout, pinned=()))


def test_nothing_is_said_of_what_was_asked_for() -> None:
    assert consequences(FULL, FULL) == ()
    assert consequences(LOOSE, take_off(("p-a",)).change(LOOSE)) == ()
    assert consequences(FULL, switch_layout("layout-1").change(FULL)) == ()
    assert consequences(FULL, replace(FULL, locks=(replace(FULL.locks[0], must=True),))) == ()


def test_a_dropped_wish_is_said_in_the_makers_words() -> None:
    said = consequences(FULL, replace(FULL, locks=(), links=()))
    assert [remark.text() for remark in said] == [
        "A wish went with it: eye on front",
        "A wish went with it: the back runs on from the front",
    ]


def test_a_wish_without_words_is_told_by_its_pieces() -> None:
    silent = replace(FULL, locks=(replace(FULL.locks[0], sentence=""),), links=(replace(FULL.links[0], sentence=""),))
    said = consequences(silent, replace(silent, locks=(), links=()))
    assert [remark.text() for remark in said] == [
        "A wish went with it: front-1",
        "A wish went with it: front-1, back-1",
    ]


TWO_LAYOUTS = Project(
    cloths=(Cloth("cloth-1", "Yard", 500.0, 400.0, zones=(Zone("zone-1", "left", rectangle(200.0, 400.0)),)),),
    own_pieces=(OwnPiece("own-1", "pocket", 60.0, 90.0, count=2, source=Source(cloth_id="cloth-1")),),
    layouts=(
        Layout("layout-1", "a", (Placed("pocket-1", "cloth-1", 50.0, 50.0), Placed("pocket-2", "cloth-1", 99.0, 99.0))),
        Layout("layout-2", "b", (Placed("pocket-2", "cloth-1", 50.0, 50.0),)),
    ),
)


def test_a_cloth_that_goes_tells_which_pieces_wait_and_what_they_may_come_from_now() -> None:
    said = consequences(TWO_LAYOUTS, remove_cloth("cloth-1").change(TWO_LAYOUTS))
    assert [remark.text() for remark in said] == [
        "2 waiting beside the cloth again: pocket-1, pocket-2",
        "Waiting again in other layouts: 1",
        "Pieces that had to come from what is gone may come from anywhere now.",
    ]


def test_zones_that_go_tell_it_only_when_pieces_had_to_come_from_them() -> None:
    assert consequences(TWO_LAYOUTS, remove_all_zones("cloth-1").change(TWO_LAYOUTS)) == ()
    held = TWO_LAYOUTS.with_own_piece(replace(TWO_LAYOUTS.own_pieces[0], source=Source(zone_id="zone-1")))
    (said,) = consequences(held, remove_all_zones("cloth-1").change(held))
    assert said.code == "sources-freed"
