"""How far the work is: every piece asked for in one state, spoiled ones besides, names and totals."""

from __future__ import annotations

from dataclasses import replace

from coverlayout.book.book import Book, OwnPiece, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.edits.books import remove_book, set_copies
from coverlayout.document.edits.placements import place
from coverlayout.document.making.tally import Totals, VolumeTally, tally, totals
from coverlayout.document.project import Project
from coverlayout.layout.question import Placed

# Two volumes of two covers each, and a single one of a book of its own.
LEDGER = Book("book-1", "Ledger", page_mm=(100.0, 140.0), liners="none", volumes=(Volume(1), Volume(2)))
DIARY = Book("book-2", "Diary", page_mm=(90.0, 120.0), liners="none", volumes=(Volume(3),))
POCKET = OwnPiece("own-1", "pocket", 40.0, 50.0, count=2)
START = Project(
    cloths=(Cloth("cloth-1", "Yard", 900.0, 900.0),),
    books=(LEDGER, DIARY),
    own_pieces=(POCKET,),
    next_volume_number=4,
)
LAID = place(
    (
        Placed("front-1", "cloth-1", 100.0, 100.0),
        Placed("back-1", "cloth-1", 300.0, 100.0),
        Placed("front-3", "cloth-1", 500.0, 100.0),
        Placed("pocket-2", "cloth-1", 700.0, 100.0),
    )
).change(START)
CUT = mark_cut(("front-1", "pocket-2")).change(LAID)


def by_name(rows: tuple[VolumeTally, ...]) -> dict[str, VolumeTally]:
    return {row.name: row for row in rows}


def test_before_anything_is_done_everything_waits() -> None:
    rows = tally(START)
    assert [(row.kind, row.name, row.book_id, row.number) for row in rows] == [
        ("volume", "Ledger 1", "book-1", 1),
        ("volume", "Ledger 2", "book-1", 2),
        ("volume", "Diary", "book-2", 3),
        ("own", "pocket", None, None),
    ]
    assert rows[0].waiting == ("front-1", "back-1")
    assert rows[3].waiting == ("pocket-1", "pocket-2")
    assert totals(rows) == Totals(planned=8, waiting=8)


def test_each_piece_is_in_one_state() -> None:
    rows = by_name(tally(CUT))
    assert (rows["Ledger 1"].cut, rows["Ledger 1"].laid, rows["Ledger 1"].waiting) == (("front-1",), ("back-1",), ())
    assert (rows["Ledger 2"].cut, rows["Ledger 2"].laid) == ((), ())
    assert (rows["Diary"].laid, rows["Diary"].waiting) == (("front-3",), ("back-3",))
    assert (rows["pocket"].cut, rows["pocket"].waiting) == (("pocket-2",), ("pocket-1",))
    assert rows["pocket"].totals == Totals(planned=2, waiting=1, cut=1)
    assert totals(tally(CUT)) == Totals(planned=8, laid=2, waiting=4, cut=2)
    for row in tally(CUT):
        assert len(set(row.planned)) == len(row.planned)


def test_a_spoiled_piece_is_asked_for_again_and_counts_besides() -> None:
    spoiled = mark_spoiled(("back-1",)).change(LAID)
    row = by_name(tally(spoiled))["Ledger 1"]
    assert (row.waiting, row.spoiled) == (("back-1",), ("back-1",))
    assert row.totals == Totals(planned=2, laid=1, waiting=1, spoiled=1)
    twice = mark_spoiled(("back-1",)).change(place((Placed("back-1", "cloth-1", 300.0, 500.0),)).change(spoiled))
    assert by_name(tally(twice))["Ledger 1"].spoiled == ("back-1", "back-1")


def test_a_volume_is_made_when_all_is_cut() -> None:
    done = mark_cut(("back-1",)).change(CUT)
    rows = by_name(tally(done))
    assert rows["Ledger 1"].totals.is_made
    assert not rows["Ledger 2"].totals.is_made
    assert not Totals().is_made


def test_what_was_cut_for_what_is_there_no_more_is_not_lost() -> None:
    gone = remove_book("book-1").change(mark_spoiled(("back-1",)).change(CUT))
    row = tally(gone)[-1]
    assert (row.kind, row.name, row.number, row.cut, row.spoiled) == ("gone", "", None, ("front-1",), ("back-1",))
    assert row.planned == ()
    assert totals(tally(gone)) == Totals(planned=4, laid=1, waiting=2, cut=2, spoiled=1)


def test_numbers_stay_when_a_volume_goes() -> None:
    fewer = set_copies("book-1", 1).change(mark_cut(("front-2",)).change(_laid_second()))
    rows = by_name(tally(fewer))
    # The volume that was begun stays; alone, the book's name is enough.
    assert rows["Ledger"].number == 2
    assert rows["Ledger"].cut == ("front-2",)


def _laid_second() -> Project:
    return place((Placed("front-2", "cloth-1", 100.0, 600.0),)).change(START)


def test_only_the_layout_being_worked_on_counts() -> None:
    other = replace(LAID, layouts=(replace(LAID.layout, placements=()),))
    assert totals(tally(other)).laid == 0
