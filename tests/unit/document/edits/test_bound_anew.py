"""A book bound another way, volumes of their own thickness, and where sides and label come from: one edit each."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Label, Source, TurnIns, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.asking.purchases import _sources_by_print
from coverlayout.document.consequences import consequences
from coverlayout.document.edits.books import add_book, set_copies, set_structure, set_volumes
from coverlayout.document.edits.cloths import remove_cloth
from coverlayout.document.edits.placements import place
from coverlayout.document.edits.zones import set_source
from coverlayout.document.project import Project
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed

CASE = Book(
    "",
    "Ledger",
    "flat-case",
    block_mm=(148.0, 210.0, 10.0),
    joint_mm=8.0,
    liner_inset_mm=4.0,
    turn_ins=TurnIns.all_round(17.0),
    label=Label(60.0, 30.0),
)
START = add_book(CASE).change(Project(cloths=(Cloth("cloth-1", "Yard", 1100.0, 914.4),)))
BOOK_ID = START.books[0].id


def test_what_carries_over_stays_and_the_rest_is_as_new() -> None:
    (book,) = set_structure(BOOK_ID, "separate-boards").change(START).books
    assert (book.structure, book.block_mm, book.liner_inset_mm) == ("separate-boards", (148.0, 210.0, 10.0), 4.0)
    assert book.turn_ins == TurnIns.all_round(17.0)
    assert book.joint_mm is None
    assert book.label == CASE.label


def test_pieces_of_the_old_structure_leave_the_cloth() -> None:
    laid = place([Placed("cover-1", "cloth-1", 300.0, 300.0)]).change(START)
    apart = set_structure(BOOK_ID, "separate-boards").change(laid)
    assert apart.layout.placements == ()
    assert apart.layout is not laid.layout


def test_other_figures_change_in_the_same_step() -> None:
    page = Book("", "Notes", page_mm=(100.0, 140.0))
    start = add_book(page).change(Project())
    with pytest.raises(BadInput) as caught:
        set_structure("book-1", "flat-case").change(start)
    assert caught.value.code == "book-thickness-needed"
    (book,) = set_structure("book-1", "flat-case", volumes=(Volume(1, 12.0),)).change(start).books
    assert (book.structure, book.volumes[0].thickness_mm) == ("flat-case", 12.0)
    with pytest.raises(BadInput):
        set_structure("book-1", "accordion", id="other").change(start)


def test_a_set_of_volumes_grows_keeps_its_numbers_and_shrinks() -> None:
    three = set_volumes(BOOK_ID, (12.0, 18.0, 25.0)).change(START)
    assert [(each.number, each.thickness_mm) for each in three.books[0].volumes] == [(1, 12.0), (2, 18.0), (3, 25.0)]
    fewer = set_volumes(BOOK_ID, (14.0, None)).change(three)
    assert [(each.number, each.thickness_mm) for each in fewer.books[0].volumes] == [(1, 14.0), (2, None)]
    again = set_copies(BOOK_ID, 3).change(fewer)
    assert [each.number for each in again.books[0].volumes] == [1, 2, 4]


@pytest.mark.parametrize("thicknesses", [(), (12.0, -1.0), (0.0,), (12.0,) * 501])
def test_volumes_that_cannot_be_are_refused(thicknesses: tuple[float, ...]) -> None:
    with pytest.raises(BadInput) as caught:
        set_volumes(BOOK_ID, thicknesses).change(START)
    assert str(caught.value)


def test_sides_and_label_come_from_where_they_are_told() -> None:
    sides = set_source(BOOK_ID, "sides", Source(cloth_id="cloth-1")).change(START)
    both = set_source(BOOK_ID, "label", Source(cloth_id="cloth-1")).change(sides)
    (book,) = both.books
    assert book.side_source == Source(cloth_id="cloth-1")
    assert book.label is not None
    assert book.label.source == Source(cloth_id="cloth-1")
    gone = remove_cloth("cloth-1").change(both)
    assert gone.books[0].side_source == Source()
    assert "sources-freed" in [note.code for note in consequences(both, gone)]
    bought = _sources_by_print(both).books[0]
    assert (bought.side_source, bought.label.source if bought.label else None) == (Source(), Source())


def test_a_label_that_is_not_there_comes_from_nowhere() -> None:
    bare = START.with_book(replace(START.books[0], label=None))
    with pytest.raises(BadInput) as caught:
        set_source(BOOK_ID, "label", Source()).change(bare)
    assert caught.value.code == "book-without-label"
