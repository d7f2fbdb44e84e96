"""Prints and the places named in their tile."""

from __future__ import annotations

from dataclasses import replace

import pytest
from full_project import FULL, HERONS, KEPT, STRIPE

from coverlayout.book.book import Source
from coverlayout.document.edits.prints import add_print, change_print, remove_print, remove_tile_mark, set_tile_mark
from coverlayout.document.history import Edit
from coverlayout.document.project import LockWish, Project
from coverlayout.errors import BadInput
from coverlayout.motif.lattice import Lattice

# Rounded cases are not made here yet, so the sample's ledger stays out where pieces are asked for.
START = replace(FULL, books=FULL.books[1:], locks=(), links=())


def code_of(edit: Edit, project: Project = START) -> str:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert str(caught.value)
    return caught.value.code


def test_a_print_gets_an_id_that_was_never_used() -> None:
    more = add_print(STRIPE).change(FULL)
    assert more.prints[-1] == replace(STRIPE, id="print-9")
    assert add_print(STRIPE).change(remove_print("print-9").change(more)).prints[-1].id == "print-10"


def test_a_print_is_changed_by_field() -> None:
    new = change_print("print-1", tile_mm=(60.0, 90.0), lattice=Lattice((60.0, 45.0), (0.0, 90.0))).change(FULL)
    assert new.print_of("print-1").tile_mm == (60.0, 90.0)
    assert new.print_of("print-1").unknown == KEPT
    assert new.prints[1] is STRIPE


def test_a_print_that_goes_leaves_plain_cloth() -> None:
    left = remove_print("print-1").change(START)
    cloth = left.cloth("cloth-1")
    assert (cloth.zones[0].laid, cloth.laid) == (None, START.cloth("cloth-1").laid)
    assert (left.marks, left.prints) == ((), (STRIPE,))
    assert left.own_pieces[0].source == Source(None, "cloth-1", "zone-1")


def test_wishes_of_pieces_from_that_print_go_with_it() -> None:
    wished = replace(START, locks=(LockWish("wish-1", "p-a", (1.0, 1.0)), LockWish("wish-2", "front-1", (1.0, 1.0))))
    assert [lock.id for lock in remove_print("print-1").change(wished).locks] == ["wish-2"]


def test_wishes_of_books_from_that_print_go_with_it() -> None:
    book = replace(START.books[0], cover_source=Source(print_id="print-2"))
    wished = replace(START.with_book(book), locks=(LockWish("wish-1", "front-1", (1.0, 1.0)),), links=FULL.links)
    assert remove_print("print-2").change(wished).wishes == ()
    assert len(remove_print("print-1").change(wished).wishes) == 2


def test_no_wish_outlives_the_last_print() -> None:
    wished = replace(START, locks=(LockWish("wish-2", "front-1", (1.0, 1.0)),))
    assert remove_print("print-2").change(remove_print("print-1").change(wished)).locks == ()


def test_places_in_the_tile_are_named_moved_and_forgotten() -> None:
    named = set_tile_mark("print-2", "seam", (3.0, 0.0)).change(FULL)
    assert [(mark.print_id, mark.name) for mark in named.marks] == [("print-1", "eye"), ("print-2", "seam")]
    moved = set_tile_mark("print-1", " eye ", (1.0, 2.0)).change(named)
    assert (moved.marks[0].at_mm, moved.marks[0].unknown, len(moved.marks)) == ((1.0, 2.0), KEPT, 2)
    assert remove_tile_mark("print-1", "eye").change(moved).marks == moved.marks[1:]


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (change_print("print-9", up="any"), "id-unknown"),
        (change_print("print-1", id="x"), "id-fixed"),
        (change_print("print-1", tile_mm=(-1.0, 3.0)), "figure-out-of-range"),
        (change_print("print-1", lattice=Lattice((0.0, 0.0), (0.0, 1.0))), "repeat-too-small"),
        (add_print(replace(HERONS, tile_mm=(float("nan"), 3.0))), "figure-not-finite"),
        (remove_print("print-9"), "id-unknown"),
        (set_tile_mark("print-9", "eye", (0.0, 0.0)), "id-unknown"),
        (set_tile_mark("print-1", " ", (0.0, 0.0)), "name-empty"),
        (remove_tile_mark("print-2", "eye"), "id-unknown"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, code: str) -> None:
    assert code_of(edit) == code
