"""Edits of the named layouts: several ways to lay the same pieces, one of them being worked on."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.document.checks.figures import free_name
from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.errors import BadInput, Remark

__all__ = [
    "add_layout",
    "copy_name",
    "duplicate_layout",
    "move_layout",
    "new_name",
    "remove_layout",
    "rename_layout",
    "switch_layout",
]


def new_name(project: Project) -> str:
    """What an empty layout is called at first: the next number that no layout is called by.

    >>> new_name(Project())
    'Layout 2'
    """
    return free_name(f"Layout {len(project.layouts) + 1}", _names(project))


def copy_name(project: Project, layout_id: str) -> str:
    """What a copy of a layout is called at first: its name with `copy`, and a number when that is taken.

    BadInput for a layout that is not there.

    >>> copy_name(Project(), "layout-1")
    'Layout 1 copy'
    """
    return free_name(known(project.layouts, layout_id, "layout").name + " copy", _names(project))


def _names(project: Project) -> list[str]:
    return [layout.name for layout in project.layouts]


def add_layout(name: str) -> Edit:
    """Start an empty layout and work on it; BadInput for a name that is empty or another layout's."""
    return checked_edit(Remark.of("edit-add-layout", name=name), lambda old: _with_new(old, name, Layout("", name)))


def duplicate_layout(layout_id: str, name: str) -> Edit:
    """Start a layout with everything where it lies in this one, and work on it.

    BadInput for a name that is empty or another layout's.
    """
    return checked_edit(
        Remark.of("edit-duplicate-layout", name=name),
        lambda old: _with_new(old, name, known(old.layouts, layout_id, "layout")),
    )


def rename_layout(layout_id: str, name: str) -> Edit:
    """Give a layout another name; BadInput for a name that is empty or another layout's."""

    def change(old: Project) -> Project:
        layout = known(old.layouts, layout_id, "layout")
        return old.with_layout(replace(layout, name=_checked_name(old, name, layout_id)))

    return checked_edit(Remark.of("edit-rename-layout", name=name), change)


def remove_layout(layout_id: str) -> Edit:
    """Remove a layout; the one before it is worked on when it was the present one. BadInput for the last one left."""

    def change(old: Project) -> Project:
        gone = known(old.layouts, layout_id, "layout")
        if len(old.layouts) == 1:
            raise BadInput("last-layout", name=gone.name)
        index = old.layouts.index(gone)
        kept = old.layouts[:index] + old.layouts[index + 1 :]
        present = kept[max(index - 1, 0)].id if old.layout_id == layout_id else old.layout_id
        return replace(old, layouts=kept, layout_id=present)

    return checked_edit(Remark("edit-remove-layout"), change)


def move_layout(layout_id: str, place: int) -> Edit:
    """Put a layout elsewhere in the row of layouts: `place` 0 is the first; beyond either end it stops there."""

    def change(old: Project) -> Project:
        moved = known(old.layouts, layout_id, "layout")
        others = [layout for layout in old.layouts if layout.id != layout_id]
        others.insert(max(place, 0), moved)
        return replace(old, layouts=tuple(others))

    return checked_edit(Remark("edit-move-layout"), change)


def switch_layout(layout_id: str) -> Edit:
    """Work on another layout. It can be undone like any step, but is nothing to be asked about when a window closes."""
    return checked_edit(Remark("edit-switch-layout"), lambda old: replace(old, layout_id=layout_id))


def _checked_name(project: Project, name: str, layout_id: str = "") -> str:
    """The name without blanks around it, when no other layout is called so."""
    name = name.strip()
    if not name:
        raise BadInput("name-empty")
    if any(layout.name == name for layout in project.layouts if layout.id != layout_id):
        raise BadInput("layout-name-taken", name=name)
    return name


def _with_new(old: Project, name: str, like: Layout) -> Project:
    new_id, counted = old.named_anew("layout")
    layout = replace(like, id=new_id, name=_checked_name(old, name))
    return replace(counted, layouts=(*old.layouts, layout), layout_id=new_id)
