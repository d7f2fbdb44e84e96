"""What else came with an edit is said."""

from __future__ import annotations

from dataclasses import replace

from full_project import FULL

from coverlayout.document.consequences import consequences
from coverlayout.document.edits.layouts import switch_layout
from coverlayout.document.edits.placements import take_off


def test_nothing_is_said_of_what_was_asked_for() -> None:
    assert consequences(FULL, FULL) == ()
    assert consequences(FULL, take_off(("p-a",)).change(FULL)) == ()
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
