"""How many books, counted on a project: what is counted, what stands besides, doubt, wishes, bad input."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from coverlayout.book.book import Book, OwnPiece, PartOfBook
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import CutPiece, LinkWish, Project
from coverlayout.document.questions import question_for
from coverlayout.document.sizing import count as count_module
from coverlayout.document.sizing.count import CountAsked, count_books
from coverlayout.errors import BadInput
from coverlayout.geometry.shapes import rectangle
from coverlayout.layout.question import Placed
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# One book: two covers of 100 x 150 that must stay upright, so that one needs 200 x 150.
PARTS = Book("book-1", "Set", "parts", board_mm=(70.0, 120.0), parts=(PartOfBook("cover", 2, 15.0, "none"),))
WIDE = Cloth("cloth-1", "Cloth", 450.0, 310.0)


def project(**more: object) -> Project:
    return replace(Project(cloths=(WIDE,), books=(PARTS,)), **more)  # type: ignore[arg-type] # fields by name


def test_the_most_books_with_their_layout() -> None:
    found = count_books(CountAsked(project()))
    # Four covers beside each other, two rows of them.
    assert (found.books, found.counted, found.proved_most) == (4, "books", True)
    assert found.answer is not None
    assert found.notes == ()
    assert Judge(question_for(found.project)).report(found.answer.placed).verdict in ("valid", "valid, tight")
    assert pickle.loads(pickle.dumps(found)) == found


def test_several_cloths_are_filled_together() -> None:
    second = Cloth("cloth-2", "Scrap", 210.0, 160.0)
    assert count_books(CountAsked(project(cloths=(WIDE, second)))).books == 5


def test_different_books_are_counted_in_sets() -> None:
    other = replace(PARTS, id="book-2", name="Small", board_mm=(20.0, 20.0))
    found = count_books(CountAsked(project(books=(PARTS, other))))
    assert found.counted == "sets of books"
    assert found.books >= 3


def test_without_a_book_sets_of_own_pieces() -> None:
    pocket = OwnPiece("own-1", "pocket", 140.0, 150.0, count=2, turns="none")
    found = count_books(CountAsked(project(books=(), own_pieces=(pocket,))))
    assert (found.books, found.counted, found.proved_most) == (3, "sets of pieces", True)


def test_own_pieces_take_their_cloth_once() -> None:
    pocket = OwnPiece("own-1", "pocket", 440.0, 150.0, turns="none")
    found = count_books(CountAsked(project(own_pieces=(pocket,))))
    assert found.books == 2
    assert found.answer is not None
    assert sum(one.piece == "pocket-1" for one in found.answer.placed) == 1


def test_pieces_already_cut_stay() -> None:
    fact = CutPiece("x", "x", "cut", rectangle(440.0, 150.0), (0.0, 0.0), Placed("x", "cloth-1", 0.0, 0.0))
    assert count_books(CountAsked(project(cut_pieces=(fact,)))).books == 2


def test_none_fits() -> None:
    found = count_books(CountAsked(project(cloths=(replace(WIDE, width_mm=90.0),))))
    assert (found.books, found.answer, found.proved_most) == (0, None, True)
    assert found.refused is not None
    assert found.refused.verdict == "does not fit"


def test_doubt_about_the_cloth_is_told() -> None:
    tight = replace(WIDE, width_mm=400.5, state="to-buy")
    found = count_books(CountAsked(project(cloths=(tight,))))
    assert (found.books, [note.code for note in found.notes]) == (4, ["count-in-doubt"])
    roomy = replace(WIDE, state="to-buy")
    assert count_books(CountAsked(project(cloths=(roomy,)))).notes == ()


def test_a_wish_holds_for_every_copy() -> None:
    a_print = Print("print-1", "Leaves", Lattice((110.0, 0.0), (0.0, 30.0)))
    on = replace(WIDE, laid=LaidPrint("print-1"))
    link = LinkWish("link-1", ("cover-1-1", "cover-1-2"))
    found = count_books(CountAsked(project(prints=(a_print,), cloths=(on,), links=(link,))))
    # 110 apart four still go side by side: 3 x 110 + 100 = 430.
    assert found.books == 4
    assert len(found.project.links) == 4
    row = LinkWish("link-1", ("cover-1-1", "cover-2-1"), ((50.0, 0.0),))
    two = replace(PARTS, volumes=(PARTS.volumes[0], replace(PARTS.volumes[0], number=2)))
    told = count_books(CountAsked(project(prints=(a_print,), cloths=(on,), books=(two,), links=(row,))))
    assert [note.code for note in told.notes] == ["count-wish-left-out"]


def test_counting_ends_somewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(count_module, "_MOST_PIECES", 4)
    found = count_books(CountAsked(project()))
    assert (found.books, found.proved_most) == (2, False)
    assert [note.code for note in found.notes] == ["count-most"]


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        (Project(books=(PARTS,)), "no cloth"),
        (Project(cloths=(WIDE,)), "neither a book nor a piece"),
        (Project(cloths=(WIDE,), books=(replace(PARTS, board_mm=None, board_ratio=(3.0, 4.0)),)), "proportion"),
    ],
)
def test_bad_input_in_one_sentence(bad: Project, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        count_books(CountAsked(bad, "a.coverlayout"))


def test_a_stopped_count_says_so() -> None:
    found = count_books(CountAsked(project()), lambda _share: True)
    assert found.cut_short or found.proved_most
