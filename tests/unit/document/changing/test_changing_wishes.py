"""Wishes dropped one at a time, and how near the one that went can still be held."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.changing.trying import answer_around_pins
from coverlayout.document.changing.wishes import missed_by_mm, without_one_wish
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.layout.lay import first_layout
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# A strip with room for a label at one place across only: 100 wide, the label 90. The print repeats every 40 x 30.
SEEDS = Print("seeds", "seeds", Lattice((40.0, 0.0), (0.0, 30.0)))
STRIP = Cloth("cloth-1", "Strip", 100.0, 200.0, laid=LaidPrint("seeds"))
LABEL = OwnPiece("own-1", "label", 90.0, 50.0, turns="none")
PROJECT = Project(prints=(SEEDS,), cloths=(STRIP,), own_pieces=(LABEL,))


def test_only_what_must_hold_is_dropped_one_at_a_time() -> None:
    asked = LockWish("wish-1", "label-1", (1.0, 1.0))
    hoped = replace(asked, id="wish-2", must=False)
    alike = LinkWish("wish-3", ("label-1", "label-2"))
    project = replace(PROJECT, locks=(asked, hoped), links=(alike,))
    rests = dict(without_one_wish(project))
    assert [wish.id for wish in rests] == ["wish-1", "wish-3"]
    assert rests[asked].wishes == (hoped, alike)
    assert rests[alike].wishes == (asked, hoped)
    assert list(without_one_wish(PROJECT)) == []


def test_what_one_sentence_asks_goes_as_a_whole() -> None:
    first, second = (
        LinkWish(f"wish-{k}", (f"front-{k}", f"back-{k}"), sentence="back the same as front") for k in (1, 2)
    )
    hoped = replace(second, id="wish-3", must=False)
    project = replace(PROJECT, links=(first, second, hoped, replace(first, id="wish-4", sentence="")))
    found = [(wish.id, [left.id for left in rest.wishes]) for wish, rest in without_one_wish(project)]
    assert found == [("wish-1", ["wish-3", "wish-4"]), ("wish-4", ["wish-1", "wish-2", "wish-3"])]


def test_a_wish_is_missed_by_the_least_it_must_give() -> None:
    # The label's middle can lie from 45 to 55 across. The wish wants 17 + 40 k, so 57 at the nearest: 2 off.
    project = replace(PROJECT, locks=(LockWish("wish-1", "label-1", (17.0, 4.0)),))
    ((_, rest),) = without_one_wish(project)
    answer = answer_around_pins(rest, first_layout)
    assert missed_by_mm(project, rest, answer, first_layout) == pytest.approx(2.0, abs=0.1)


def test_where_no_print_lies_nothing_is_measured() -> None:
    project = replace(PROJECT, cloths=(replace(STRIP, laid=None),), locks=(LockWish("wish-1", "label-1", (17.0, 4.0)),))
    ((_, rest),) = without_one_wish(project)
    answer = answer_around_pins(rest, first_layout)
    assert answer.placed
    assert missed_by_mm(project, rest, answer, first_layout) == 0.0
