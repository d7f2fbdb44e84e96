"""The edit that takes a change into the project: one step with all pieces laid, what else was edited stays."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, TurnIns
from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut
from coverlayout.document.changing.change import FittingChange, take_change
from coverlayout.document.changing.changing import what_would_fit
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.books import change_book
from coverlayout.document.edits.job import rename_project
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.document.questions import judge_for, placed_now
from coverlayout.document.session import Session
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

# Common practice, no source: covers 144.3 x 182.4 and liners 108.3 x 146.4 do not all fit upright on 12 x 12 in.
BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), cover_turns="none", liner_turns="none")
SWATCH = Cloth("cloth-1", "Swatch", 304.8, 304.8)
LYING = (Placed("front-1", "cloth-1", 80.0, 100.0), Placed("liner-back-1", "cloth-1", 220.0, 220.0))
OTHER_LAYOUT = Layout("layout-2", "Layout 2", LYING)
PROJECT = Project(
    cloths=(SWATCH,), books=(BOOK,), layouts=(Layout("layout-1", "Layout 1", LYING), OTHER_LAYOUT), next_number=3
)
CUTS = (Cut("half yard, 44 in", 1117.6, 457.2, price=5.0),)


@pytest.fixture(scope="module")
def changes() -> dict[str, FittingChange]:
    return {change.kind: change for change in what_would_fit(PROJECT, cuts=CUTS)}


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("turn liners", "Turn liners"),
        ("paper liners", "Line with paper"),
        ("smaller book", "Make the book smaller"),
        ("next cut", "Buy other cloth"),
    ],
)
def test_a_change_is_one_step_with_everything_laid(kind: str, name: str, changes: dict[str, FittingChange]) -> None:
    session = Session(PROJECT)
    session.do(take_change(changes[kind], PROJECT))
    report = judge_for(session.project).report(placed_now(session.project))
    assert (report.breaches, report.waiting) == ((), ())
    assert session.undo_name == name
    session.undo()
    assert session.project == PROJECT
    assert session.undo_name is None


def test_only_what_went_with_the_change_leaves_the_other_layouts(changes: dict[str, FittingChange]) -> None:
    def other(kind: str) -> Layout:
        return take_change(changes[kind], PROJECT).change(PROJECT).layouts[1]

    assert other("turn liners") == OTHER_LAYOUT
    assert [placed.piece for placed in other("paper liners").placements] == ["front-1"]
    assert other("next cut").placements == ()


def test_new_cloth_comes_under_a_number_never_given_before(changes: dict[str, FittingChange]) -> None:
    bought = take_change(changes["next cut"], PROJECT).change(PROJECT)
    assert [cloth.id for cloth in bought.cloths] == ["cloth-3"]
    assert bought.next_number == 4
    later = replace(PROJECT, next_number=9)
    assert take_change(changes["next cut"], PROJECT).change(later).next_number == 9


def test_what_was_edited_beside_it_stays(changes: dict[str, FittingChange]) -> None:
    moved = place((Placed("front-1", "cloth-1", 83.0, 104.0),)).change(rename_project("Mine").change(PROJECT))
    taken = take_change(changes["turn liners"], PROJECT).change(moved)
    assert taken.name == "Mine"
    assert taken.books[0].liner_turns == "quarter"


@pytest.mark.parametrize(
    "edit", [change_book("book-1", turn_ins=TurnIns.all_round(14.0)), pin(("front-1",)), mark_cut(("front-1",))]
)
def test_a_change_for_another_job_is_refused(edit: Edit, changes: dict[str, FittingChange]) -> None:
    other = edit.change(PROJECT)
    session = Session(other)
    with pytest.raises(BadInput, match="the job has changed since"):
        session.do(take_change(changes["turn liners"], PROJECT))
    assert session.project == other
