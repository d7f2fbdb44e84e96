"""Wishes come, change and go."""

from __future__ import annotations

import pytest
from full_project import FULL

from coverlayout.document.edits.wishes import add_link, add_lock, change_wish, remove_wish
from coverlayout.document.history import Edit
from coverlayout.document.project import LinkWish, LockWish
from coverlayout.errors import BadInput


def test_wishes_get_ids_of_their_own() -> None:
    new = add_link(LinkWish("", ("p-a", "p-b"))).change(add_lock(LockWish("", "p-a", (1.0, 2.0))).change(FULL))
    ids = [wish.id for wish in new.wishes]
    assert len(set(ids)) == 4
    assert (new.locks[-1].piece, new.links[-1].pieces) == ("p-a", ("p-a", "p-b"))


def test_a_wish_changes_by_field() -> None:
    assert change_wish("wish-1", must=True).change(FULL).locks[0].must
    assert change_wish("wish-2", differences_mm=((1.0, 0.0),)).change(FULL).links[0].differences_mm == ((1.0, 0.0),)


def test_a_wish_is_dropped() -> None:
    assert [wish.id for wish in remove_wish("wish-1").change(FULL).wishes] == ["wish-2"]
    assert [wish.id for wish in remove_wish("wish-2").change(FULL).wishes] == ["wish-1"]


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (add_lock(LockWish("", "p-a", (float("nan"), 2.0))), "figure-not-finite"),
        (add_link(LinkWish("", ("p-a", "p-b"), ((1e9, 0.0),))), "figure-absurd"),
        (change_wish("wish-9", must=True), "id-unknown"),
        (change_wish("wish-1", id="wish-3"), "id-fixed"),
        (remove_wish("wish-9"), "id-unknown"),
        (add_lock(LockWish("", "p-c", (1.0, 2.0))), "id-unknown"),
        (add_link(LinkWish("", ("p-a", "front-9"))), "id-unknown"),
        (change_wish("wish-2", pieces=("p-a", "front-9")), "id-unknown"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, code: str) -> None:
    with pytest.raises(BadInput) as caught:
        edit.change(FULL)
    assert caught.value.code == code
    assert str(caught.value)
