"""Named layouts: several ways to lay the same pieces."""

from __future__ import annotations

from dataclasses import replace

import pytest
from full_project import FULL

from coverlayout.document.history import Edit
from coverlayout.document.layouts.named import (
    add_layout,
    copy_name,
    duplicate_layout,
    move_layout,
    new_name,
    remove_layout,
    rename_layout,
    switch_layout,
)
from coverlayout.document.project import Project
from coverlayout.document.session import Session
from coverlayout.errors import BadInput


def test_a_new_layout_is_empty_and_worked_on() -> None:
    new = add_layout(" Upright ").change(FULL)
    assert (new.layout.name, new.layout.placements, len(new.layouts)) == ("Upright", (), 3)
    assert new.layouts[:2] == FULL.layouts


def test_a_copy_holds_everything_and_parts_from_its_model() -> None:
    copy = duplicate_layout("layout-2", "On the slant, other way").change(FULL)
    assert copy.layout.id not in ("layout-1", "layout-2")
    assert copy.layout.placements == FULL.layout.placements
    assert copy.layout.name == "On the slant, other way"


def test_ids_of_layouts_are_never_given_twice() -> None:
    one = add_layout("a").change(Project())
    gone = remove_layout(one.layout_id).change(one)
    assert add_layout("b").change(gone).layout_id not in (one.layout_id, "layout-1")


def test_a_layout_is_renamed_and_switched_to() -> None:
    assert rename_layout("layout-1", "Upright ").change(FULL).layouts[0].name == "Upright"
    assert switch_layout("layout-1").change(FULL).layout.name == "Layout 1"


def test_the_layout_before_is_worked_on_when_the_present_one_goes() -> None:
    assert remove_layout("layout-2").change(FULL).layout_id == "layout-1"
    assert remove_layout("layout-1").change(FULL).layout_id == "layout-2"
    assert remove_layout("layout-1").change(switch_layout("layout-1").change(FULL)).layout_id == "layout-2"


def test_names_offered_are_free() -> None:
    one = Project()
    assert new_name(one) == "Layout 2"
    second = duplicate_layout("layout-1", copy_name(one, "layout-1")).change(one)
    assert second.layout.name == "Layout 1 copy"
    third = duplicate_layout("layout-1", copy_name(second, "layout-1")).change(second)
    assert third.layout.name == "Layout 1 copy 2"
    # A third is "Layout 4" already when one of that name was made by hand.
    assert new_name(rename_layout(third.layout_id, "Layout 4").change(third)) == "Layout 5"


def test_a_copy_keeps_its_pins() -> None:
    pinned = FULL.with_layout(replace(FULL.layout, pinned=(FULL.layout.placements[0].piece,)))
    assert duplicate_layout(pinned.layout_id, "With pins").change(pinned).layout.pinned == pinned.layout.pinned


def test_a_layout_may_keep_its_own_name_but_take_no_other() -> None:
    assert rename_layout("layout-1", "Layout 1").change(FULL) == FULL


def test_layouts_are_put_in_order_and_the_one_in_hand_stays_in_hand() -> None:
    three = add_layout("Third").change(FULL)
    ids = [layout.id for layout in three.layouts]
    moved = move_layout(ids[2], 0).change(three)
    assert [layout.id for layout in moved.layouts] == [ids[2], ids[0], ids[1]]
    assert moved.layout_id == three.layout_id
    assert [layout.id for layout in move_layout(ids[0], 1).change(three).layouts] == [ids[1], ids[0], ids[2]]
    assert move_layout(ids[0], -5).change(three) == three
    assert [layout.id for layout in move_layout(ids[0], 99).change(three).layouts] == [ids[1], ids[2], ids[0]]


def test_looking_at_another_layout_and_back_is_undone_in_steps_and_is_no_unsaved_work() -> None:
    session = Session(FULL)
    session.do(switch_layout("layout-1"))
    assert (session.project.layout_id, session.undo_name, session.unsaved) == ("layout-1", "Switch layout", False)
    session.undo()
    assert session.project == FULL


@pytest.mark.parametrize(
    ("edit", "project", "code"),
    [
        (add_layout(" "), FULL, "name-empty"),
        (rename_layout("layout-1", ""), FULL, "name-empty"),
        (rename_layout("layout-9", "x"), FULL, "id-unknown"),
        (duplicate_layout("layout-9", "x"), FULL, "id-unknown"),
        (switch_layout("layout-9"), FULL, "id-unknown"),
        (remove_layout("layout-9"), FULL, "id-unknown"),
        (move_layout("layout-9", 0), FULL, "id-unknown"),
        (add_layout(" Layout 1"), FULL, "layout-name-taken"),
        (duplicate_layout("layout-2", "Layout 1 "), FULL, "layout-name-taken"),
        (rename_layout("layout-2", "Layout 1"), FULL, "layout-name-taken"),
        (remove_layout("layout-1"), Project(), "last-layout"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, project: Project, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert caught.value.code == code
    assert str(caught.value)
