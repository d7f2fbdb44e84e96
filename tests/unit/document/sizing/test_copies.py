"""So many copies of a book or of own pieces: their names, numbers already used, and wishes for every copy."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import CutPiece, LinkWish, LockWish, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.sizing.copies import copies_of, names_by_book
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), liners="none", volumes=(Volume(1, 12.0), Volume(4, 18.0)))
PARTS = Book(
    "book-2",
    "Set",
    "parts",
    board_mm=(90.0, 120.0),
    parts=(PartOfBook("cover", 2, 15.0, "none"), PartOfBook("strip", 1, 15.0, "half", width_mm=40.0)),
)
POCKET = OwnPiece("own-1", "pocket", 60.0, 90.0, count=2)
LABEL = OwnPiece("own-2", "label", 30.0, 20.0, ids=("tag",))


def ids(project: Project) -> list[str]:
    return [piece.id for piece in planned_pieces(project)]


def test_books_are_counted_from_one_whatever_copies_there_are() -> None:
    many = copies_of(Project(books=(BOOK,), own_pieces=(POCKET,)), 3).project
    assert ids(many) == ["front-1", "back-1", "front-2", "back-2", "front-3", "back-3", "pocket-1", "pocket-2"]
    # All are copies of the first.
    assert {volume.thickness_mm for volume in many.books[0].volumes} == {12.0}


def test_volumes_of_different_size_are_counted_as_sets() -> None:
    case = replace(BOOK, structure="flat-case")
    project = Project(
        books=(case,),
        locks=(LockWish("place", "cover-4", (3.0, 5.0)),),
        links=(LinkWish("alike", ("cover-1", "cover-4"), ((0.0, 0.0),)),),
    )
    many = copies_of(project, 2)
    assert ids(many.project) == ["cover-1", "cover-2", "cover-3", "cover-4"]
    assert [volume.thickness_mm for volume in many.project.books[0].volumes] == [12.0, 18.0, 12.0, 18.0]
    assert [piece.width_mm for piece in planned_pieces(copies_of(project, 1).project)] == [
        piece.width_mm for piece in planned_pieces(project)
    ]
    # What was wished for the second volume, and for both, is so in every set.
    assert [lock.piece for lock in many.project.locks] == ["cover-2", "cover-4"]
    assert [link.pieces for link in many.project.links] == [("cover-1", "cover-2"), ("cover-3", "cover-4")]
    assert not many.left_out


def test_names_of_books_always_say_which_book_and_which_of_its_kind() -> None:
    many = copies_of(Project(books=(BOOK,)), 2).project
    assert names_by_book(many) == {
        "front-1": "front-1-1",
        "back-1": "back-1-1",
        "front-2": "front-2-1",
        "back-2": "back-2-1",
    }
    parts = copies_of(Project(books=(PARTS,)), 2).project
    assert list(names_by_book(parts).values()) == [
        *("cover-1-1", "cover-1-2", "strip-1-1"),
        *("cover-2-1", "cover-2-2", "strip-2-1"),
    ]
    assert set(names_by_book(parts)) == set(names_by_book(parts).values())


def test_several_books_make_sets_without_a_number_twice() -> None:
    many = copies_of(Project(books=(replace(BOOK, volumes=(Volume(1),)), replace(BOOK, id="book-9", name="Other"))), 2)
    assert [[volume.number for volume in book.volumes] for book in many.project.books] == [[1, 2], [3, 4]]
    assert len(set(ids(many.project))) == 8


def test_own_pieces_are_counted_in_sets_where_there_is_no_book() -> None:
    many = copies_of(Project(own_pieces=(POCKET, LABEL)), 2).project
    assert ids(many) == ["pocket-1-1", "pocket-1-2", "pocket-2-1", "pocket-2-2", "label-1-1", "label-2-1"]


def test_a_book_begun_at_the_knife_keeps_its_number() -> None:
    place = Placed("front-2", "cloth-1", 80.0, 100.0)
    begun = CutPiece("front-2", "front cover", "cut", rectangle(10.0, 20.0), (5.0, 10.0), place)
    book = replace(BOOK, volumes=(Volume(1), Volume(2)))
    many = copies_of(Project(cloths=(Cloth("cloth-1", "C", 300.0, 300.0),), books=(book,), cut_pieces=(begun,)), 2)
    assert ids(many.project) == ["front-1", "back-1", "front-3", "back-3"]


def test_a_lock_holds_for_every_copy_once() -> None:
    lock = LockWish("lock-1", "front-1", (12.0, 20.0), must=False)
    same = replace(lock, id="lock-2", piece="front-4")
    pocket = LockWish("lock-3", "pocket-1", (1.0, 2.0))
    project = Project(books=(BOOK,), own_pieces=(POCKET,), locks=(lock, same, pocket))
    many = copies_of(project, 3).project
    assert [(wish.piece, wish.place_mm, wish.must) for wish in many.locks] == [
        ("front-1", (12.0, 20.0), False),
        ("front-2", (12.0, 20.0), False),
        ("front-3", (12.0, 20.0), False),
        ("pocket-1", (1.0, 2.0), True),
    ]
    assert len({wish.id for wish in many.locks}) == 4


def test_a_link_within_a_book_is_made_in_each() -> None:
    runs_on = LinkWish("link-1", ("front-1", "back-1"), ((-131.0, 0.0),))
    again = replace(runs_on, id="link-2", pieces=("front-4", "back-4"))
    many = copies_of(Project(books=(BOOK,), links=(runs_on, again)), 2)
    assert [(wish.pieces, wish.differences_mm) for wish in many.project.links] == [
        (("front-1", "back-1"), ((-131.0, 0.0),)),
        (("front-2", "back-2"), ((-131.0, 0.0),)),
    ]
    assert many.left_out == ()


def test_copies_that_are_alike_are_so_in_all() -> None:
    alike = LinkWish("link-1", ("front-1", "front-4"), ((0.0, 0.0),))
    many = copies_of(Project(books=(BOOK,), links=(alike,)), 3)
    assert [wish.pieces for wish in many.project.links] == [("front-1", "front-2", "front-3")]
    assert many.project.links[0].differences_mm == ()


def test_running_on_from_copy_to_copy_is_left_out_and_told() -> None:
    row = LinkWish("link-1", ("front-1", "front-4"), ((140.0, 0.0),))
    many = copies_of(Project(books=(BOOK,), links=(row,)), 3)
    assert (many.project.links, many.left_out) == ((), ("link-1",))


def test_a_link_of_own_pieces_beside_books_stays_one() -> None:
    link = LinkWish("link-1", ("pocket-1", "pocket-2"))
    many = copies_of(Project(books=(BOOK,), own_pieces=(POCKET,), links=(link,)), 3)
    assert [wish.pieces for wish in many.project.links] == [("pocket-1", "pocket-2")]


@pytest.mark.parametrize("count", [0, 501])
def test_no_more_than_a_project_may_hold(count: int) -> None:
    with pytest.raises(AssertionError):
        copies_of(Project(books=(BOOK,)), count)
