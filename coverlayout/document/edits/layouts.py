"""Edits of the named layouts: several ways to lay the same pieces, one of them being worked on."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.document.checks.whole import checked_edit, known
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.errors import BadInput, Remark

__all__ = ["add_layout", "duplicate_layout", "remove_layout", "rename_layout", "switch_layout"]


def add_layout(name: str) -> Edit:
    """Start an empty layout and work on it."""
    return checked_edit(Remark.of("edit-add-layout", name=name), lambda old: _with_new(old, name, Layout("", name)))


def duplicate_layout(layout_id: str, name: str) -> Edit:
    """Start a layout with everything where it lies in this one, and work on it."""
    return checked_edit(
        Remark.of("edit-duplicate-layout", name=name),
        lambda old: _with_new(old, name, known(old.layouts, layout_id, "layout")),
    )


def rename_layout(layout_id: str, name: str) -> Edit:
    """Give a layout another name; BadInput for an empty name."""

    def change(old: Project) -> Project:
        return old.with_layout(replace(known(old.layouts, layout_id, "layout"), name=_checked_name(name)))

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


def switch_layout(layout_id: str) -> Edit:
    """Work on another layout."""
    return checked_edit(Remark("edit-switch-layout"), lambda old: replace(old, layout_id=layout_id))


def _checked_name(name: str) -> str:
    if not name.strip():
        raise BadInput("name-empty")
    return name.strip()


def _with_new(old: Project, name: str, like: Layout) -> Project:
    new_id, counted = old.named_anew("layout")
    layout = replace(like, id=new_id, name=_checked_name(name))
    return replace(counted, layouts=(*old.layouts, layout), layout_id=new_id)
