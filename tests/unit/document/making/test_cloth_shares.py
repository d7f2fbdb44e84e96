"""How much of each cloth a book has."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, PartOfBook, Volume
from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.document.cutting.marking import mark_cut, mark_spoiled
from coverlayout.document.edits.books import remove_book
from coverlayout.document.edits.placements import place
from coverlayout.document.making.cloth_shares import ClothShare, cloth_shares
from coverlayout.document.project import Project
from coverlayout.layout.question import Placed

# A cover of 100 x 150 a volume.
COVER = PartOfBook("cover", 1, 15.0, "none")
ONE = Book("book-1", "One", "parts", board_mm=(70.0, 120.0), parts=(COVER,), volumes=(Volume(1), Volume(2)))
# 50 x 60.
TWO = Book("book-2", "Two", "parts", board_mm=(20.0, 30.0), parts=(COVER,), volumes=(Volume(3),))
YARD, SCRAP = Cloth("cloth-1", "Yard", 500.0, 400.0), Cloth("cloth-2", "Scrap", 100.0, 200.0)
POCKET = OwnPiece("own-1", "pocket", 40.0, 50.0, count=2)
START = Project(cloths=(YARD, SCRAP), books=(ONE, TWO), own_pieces=(POCKET,), next_volume_number=4)
LAID = place(
    (
        Placed("cover-1-1", "cloth-1", 100.0, 100.0),
        Placed("cover-2-1", "cloth-2", 50.0, 75.0),
        Placed("cover-3-1", "cloth-1", 300.0, 100.0),
        Placed("pocket-1", "cloth-1", 300.0, 300.0),
    )
).change(START)


def rows(project: Project) -> dict[tuple[str | None, str | None], ClothShare]:
    return {(row.book_id, row.cloth_id): row for row in cloth_shares(project)}


def test_shares_of_the_cloth_and_of_all_on_it() -> None:
    """On the yard of 200 000 mm2: 15 000, 3 000 and 2 000; on the scrap of 20 000 mm2 15 000."""
    found = rows(LAID)
    assert found["book-1", "cloth-1"].of_cloth_share == pytest.approx(15.0 / 200.0)
    assert found["book-1", "cloth-1"].of_pieces_share == pytest.approx(15.0 / 20.0)
    assert found["book-2", "cloth-1"].of_pieces_share == pytest.approx(3.0 / 20.0)
    assert found[None, "cloth-1"].of_pieces_share == pytest.approx(2.0 / 20.0)
    assert found["book-1", "cloth-2"] == ClothShare("book-1", "cloth-2", 1, 0.75, 1.0)
    assert found[None, None] == ClothShare(None, None, 1)
    assert len(found) == 5


def test_what_was_cut_or_spoiled_took_its_cloth() -> None:
    spoiled = mark_spoiled(("cover-2-1",)).change(mark_cut(("cover-1-1",)).change(LAID))
    found = rows(spoiled)
    assert found["book-1", "cloth-1"].of_cloth_share == pytest.approx(15.0 / 200.0)
    assert found["book-1", "cloth-2"].of_cloth_share == pytest.approx(0.75)
    # It is asked for again and waits.
    assert found["book-1", None].pieces == 1
    gone = rows(remove_book("book-1").change(spoiled))
    assert gone[None, "cloth-2"].of_pieces_share == 1.0
    assert gone[None, "cloth-1"].of_pieces_share == pytest.approx(17.0 / 20.0)


def test_the_cloth_counts_as_it_now_is() -> None:
    shrunk = replace(LAID, cloths=(replace(YARD, changes=(Change("washing", -50.0, 0.0),)), SCRAP))
    assert rows(shrunk)["book-1", "cloth-1"].of_cloth_share == pytest.approx(15.0 / 100.0)


def test_nothing_planned_has_no_shares() -> None:
    assert cloth_shares(Project(cloths=(YARD,))) == ()
