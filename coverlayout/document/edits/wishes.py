"""Edits of wishes: a point of a piece at a place in the repeat, pieces alike in the repeat or running on."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from coverlayout.document.checks.whole import checked_edit, known, planned_ids
from coverlayout.document.history import Edit
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.errors import BadInput, Remark

__all__ = ["add_link", "add_lock", "change_wish", "remove_wish"]


def add_lock(wish: LockWish) -> Edit:
    """Add a wish for a place in the repeat, under an id of its own; it comes last."""

    def change(old: Project) -> Project:
        _check_planned(old, (wish.piece,))
        new_id, counted = old.named_anew("wish")
        return replace(counted, locks=(*old.locks, replace(wish, id=new_id)))

    return checked_edit(Remark("edit-add-wish"), change)


def add_link(wish: LinkWish) -> Edit:
    """Add a wish that pieces be alike or run on, under an id of its own; it comes last."""

    def change(old: Project) -> Project:
        _check_planned(old, wish.pieces)
        new_id, counted = old.named_anew("wish")
        return replace(counted, links=(*old.links, replace(wish, id=new_id)))

    return checked_edit(Remark("edit-add-wish"), change)


def change_wish(wish_id: str, **fields: Any) -> Edit:
    """Change a wish by the field names of LockWish or LinkWish."""

    def change(old: Project) -> Project:
        new = replace(known(old.wishes, wish_id, "wish"), **fields)
        if new.id != wish_id:
            raise BadInput("id-fixed", kind="wish", id=wish_id)
        _check_planned(old, (new.piece,) if isinstance(new, LockWish) else new.pieces)
        if isinstance(new, LockWish):
            return replace(old, locks=tuple(new if lock.id == wish_id else lock for lock in old.locks))
        return replace(old, links=tuple(new if link.id == wish_id else link for link in old.links))

    return checked_edit(Remark("edit-change-wish"), change)


def _check_planned(project: Project, pieces: tuple[str, ...]) -> None:
    """A wish speaks of pieces that there are."""
    planned = planned_ids(project)
    for piece in pieces:
        if piece not in planned:
            raise BadInput("id-unknown", kind="piece", id=piece)


def remove_wish(wish_id: str) -> Edit:
    """Drop a wish."""

    def change(old: Project) -> Project:
        gone = known(old.wishes, wish_id, "wish")
        return replace(
            old,
            locks=tuple(lock for lock in old.locks if lock is not gone),
            links=tuple(link for link in old.links if link is not gone),
        )

    return checked_edit(Remark("edit-remove-wish"), change)
