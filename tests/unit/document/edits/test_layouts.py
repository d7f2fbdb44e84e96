"""Named layouts: several ways to lay the same pieces."""

from __future__ import annotations

import pytest
from full_project import FULL

from coverlayout.document.edits.layouts import add_layout, duplicate_layout, remove_layout, rename_layout, switch_layout
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
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


@pytest.mark.parametrize(
    ("edit", "project", "code"),
    [
        (add_layout(" "), FULL, "name-empty"),
        (rename_layout("layout-1", ""), FULL, "name-empty"),
        (rename_layout("layout-9", "x"), FULL, "id-unknown"),
        (duplicate_layout("layout-9", "x"), FULL, "id-unknown"),
        (switch_layout("layout-9"), FULL, "id-unknown"),
        (remove_layout("layout-9"), FULL, "id-unknown"),
        (remove_layout("layout-1"), Project(), "last-layout"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, project: Project, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert caught.value.code == code
    assert str(caught.value)
