"""Books and own pieces: numbers are given once, what goes takes its placements and wishes along."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.consequences import consequences
from coverlayout.document.cutting.marking import mark_cut
from coverlayout.document.edits.books import (
    add_book,
    add_own_piece,
    change_book,
    change_own_piece,
    remove_book,
    remove_own_piece,
    set_copies,
)
from coverlayout.document.edits.placements import place
from coverlayout.document.history import Edit
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

BOOK = Book("", "Ledger", page_mm=(114.3, 152.4))
START = add_book(BOOK).change(Project(cloths=(Cloth("cloth-1", "Yard", 1100.0, 914.4),)))
BOOK_ID = START.books[0].id
# Of a program that can bind more than this one.
SCROLL = replace(BOOK, structure="scroll")  # type: ignore[arg-type]  # see above


def numbers(project: Project) -> list[list[int]]:
    return [[volume.number for volume in book.volumes] for book in project.books]


def lying(project: Project) -> list[str]:
    return [placed.piece for placed in project.layout.placements]


def at(*names: str) -> tuple[Placed, ...]:
    return tuple(Placed(piece, "cloth-1", 100.0 * (k + 1), 100.0) for k, piece in enumerate(names))


def code_of(edit: Edit, project: Project = START) -> str:
    with pytest.raises(BadInput) as caught:
        edit.change(project)
    assert str(caught.value)
    return caught.value.code


def test_numbers_of_copies_are_given_once_over_all_books() -> None:
    three = set_copies(BOOK_ID, 3).change(START)
    other = add_book(replace(BOOK, volumes=(Volume(1), Volume(2)))).change(three)
    assert numbers(other) == [[1, 2, 3], [4, 5]]
    fewer = set_copies(BOOK_ID, 1).change(other)
    assert numbers(fewer) == [[1], [4, 5]]
    assert numbers(set_copies(BOOK_ID, 2).change(fewer)) == [[1, 6], [4, 5]]


def test_numbers_do_not_return_when_a_book_is_removed() -> None:
    gone = remove_book(BOOK_ID).change(set_copies(BOOK_ID, 3).change(START))
    assert gone.books == ()
    again = add_book(BOOK).change(gone)
    assert numbers(again) == [[4]]
    assert again.books[0].id != BOOK_ID


def test_a_project_made_elsewhere_keeps_its_numbers() -> None:
    made = Project(books=(replace(BOOK, id="b", volumes=(Volume(7), Volume(3)), next_volume_number=12),))
    assert numbers(set_copies("b", 3).change(made)) == [[7, 3, 12]]


def test_a_new_copy_is_as_thick_as_the_last() -> None:
    thick = change_book(BOOK_ID, volumes=(Volume(1, 18.0, unknown=(("x", "1"),)),)).change(START)
    assert set_copies(BOOK_ID, 2).change(thick).books[0].volumes[1] == Volume(2, 18.0)


def test_the_last_copies_go_first_but_for_those_begun() -> None:
    three = set_copies(BOOK_ID, 3).change(START)
    begun = mark_cut(("front-3",)).change(place((Placed("front-3", "cloth-1", 100.0, 100.0),)).change(three))
    assert numbers(set_copies(BOOK_ID, 2).change(begun)) == [[1, 3]]
    assert numbers(set_copies(BOOK_ID, 1).change(begun)) == [[3]]
    assert set_copies(BOOK_ID, 1).change(begun).cut_pieces == begun.cut_pieces


def test_what_goes_takes_placements_and_wishes_along_and_says_so() -> None:
    two = set_copies(BOOK_ID, 2).change(START)
    laid = place(at("front-1", "front-2", "liner-back-2")).change(two)
    wished = replace(
        laid,
        locks=(LockWish("wish-1", "front-1", (1.0, 2.0)), LockWish("wish-2", "front-2", (1.0, 2.0), sentence="bird")),
        links=(LinkWish("wish-3", ("front-1", "back-1")), LinkWish("wish-4", ("front-1", "front-2"))),
    )
    fewer = set_copies(BOOK_ID, 1).change(wished)
    assert lying(fewer) == ["front-1"]
    assert [wish.id for wish in fewer.wishes] == ["wish-1", "wish-3"]
    said = [remark.text() for remark in consequences(wished, fewer)]
    assert said == ["A wish went with it: bird", "A wish went with it: front-1, front-2"]


def test_liners_of_paper_take_the_cloth_liners_off() -> None:
    laid = place(at("front-1", "liner-front-1")).change(START)
    assert lying(change_book(BOOK_ID, liners="paper").change(laid)) == ["front-1"]


def test_a_structure_that_cannot_be_made_yet_is_refused() -> None:
    assert code_of(change_book(BOOK_ID, structure="scroll")) == "structure-not-built"
    assert code_of(add_book(SCROLL)) == "structure-not-built"


def test_a_structure_kept_for_a_newer_program_stands_in_nobodys_way() -> None:
    newer = START.with_book(replace(SCROLL, id=BOOK_ID))
    assert numbers(set_copies(BOOK_ID, 2).change(newer)) == [[1, 2]]
    assert add_book(BOOK).change(newer).books[0].structure == "scroll"
    assert remove_book(BOOK_ID).change(newer).books == ()


@pytest.mark.parametrize("copies", [0, -1, 100_000])
def test_copies_are_a_sensible_number(copies: int) -> None:
    assert code_of(set_copies(BOOK_ID, copies)) == "copies-out-of-range"


def test_setting_the_copies_there_are_changes_nothing() -> None:
    assert set_copies(BOOK_ID, 1).change(START) == START


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (change_book("book-9", square_mm=1.0), "id-unknown"),
        (change_book(BOOK_ID, id="book-7"), "id-fixed"),
        (change_book(BOOK_ID, page_mm=(0.0, 100.0)), "length-too-small"),
        (change_book(BOOK_ID, spine_width_mm=float("nan")), "length-unreadable"),
        (change_book(BOOK_ID, liner_inset_mm=90.0), "liner-nothing-left"),
        (set_copies("book-9", 2), "id-unknown"),
        (remove_book("book-9"), "id-unknown"),
        (add_own_piece(OwnPiece("", "pocket", 0.0, 9.0)), "length-too-small"),
        (add_own_piece(OwnPiece("", " ", 9.0, 9.0)), "piece-without-name"),
        (change_own_piece("own-9", count=2), "id-unknown"),
        (remove_own_piece("own-9"), "id-unknown"),
    ],
)
def test_what_cannot_be_is_refused(edit: Edit, code: str) -> None:
    assert code_of(edit) == code


def with_pockets() -> tuple[Project, str]:
    project = add_own_piece(OwnPiece("", "pocket", 60.0, 90.0, count=3)).change(START)
    laid = place(at("pocket-1", "pocket-3")).change(project)
    return replace(
        laid,
        locks=(LockWish("wish-1", "pocket-3", (1.0, 2.0)),),
        links=(LinkWish("wish-2", ("pocket-1", "front-1")),),
    ), project.own_pieces[0].id


def test_own_pieces_come_and_go_with_their_placements_and_wishes() -> None:
    project, own_id = with_pockets()
    fewer = change_own_piece(own_id, count=2).change(project)
    assert (lying(fewer), [wish.id for wish in fewer.wishes]) == (["pocket-1"], ["wish-2"])
    gone = remove_own_piece(own_id).change(project)
    assert (lying(gone), gone.wishes, gone.own_pieces) == ([], (), ())
    assert add_own_piece(OwnPiece("", "label", 9.0, 9.0)).change(gone).own_pieces[0].id != own_id


def test_an_own_piece_under_a_new_name_stays_where_it_lies() -> None:
    project, own_id = with_pockets()
    cut = replace(project, cut_pieces=())
    renamed = change_own_piece(own_id, name="sleeve").change(cut)
    assert lying(renamed) == ["sleeve-1", "sleeve-3"]
    assert renamed.locks[0].piece == "sleeve-3"
    assert renamed.links[0].pieces == ("sleeve-1", "front-1")


def test_a_cut_own_piece_is_called_by_its_new_name_too() -> None:
    project, own_id = with_pockets()
    from_cloth = Placed("pocket-1", "cloth-1", 100.0, 100.0)
    cut = mark_cut(("pocket-1",)).change(place((from_cloth,)).change(replace(project, cut_pieces=())))
    renamed = change_own_piece(own_id, name="sleeve").change(cut)
    assert renamed.fact_of("pocket-1") is None
    fact = renamed.fact_of("sleeve-1")
    assert fact is not None
    assert fact.place == replace(from_cloth, piece="sleeve-1")


def test_two_own_pieces_of_one_name_are_refused() -> None:
    project, own_id = with_pockets()
    assert code_of(add_own_piece(OwnPiece("", "pocket", 9.0, 9.0)), project) == "id-twice"
    assert code_of(change_own_piece(own_id, id="own-8"), project) == "id-fixed"
