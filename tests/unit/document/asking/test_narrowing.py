"""A question for some pieces only: what speaks of the others is left out, differences of links are kept."""

from __future__ import annotations

from coverlayout.book.book import Book, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.asking.narrowing import narrowed
from coverlayout.document.project import LinkWish, LockWish, Project
from coverlayout.document.questions import question_for
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

BOOK = Book("book-1", "Ledger", page_mm=(114.3, 152.4), liners="none", volumes=(Volume(1), Volume(2)))
PROJECT = Project(
    prints=(Print("print-1", "Herons", Lattice((70.0, 0.0), (0.0, 70.0))),),
    cloths=(Cloth("cloth-1", "Swatch", 900.0, 190.0, laid=LaidPrint("print-1")),),
    books=(BOOK,),
    links=(LinkWish("wish-1", ("front-1", "back-1", "front-2"), ((10.0, 0.0), (35.0, 5.0))),),
    locks=(LockWish("wish-2", "front-1", (10.0, 25.0)),),
)


def test_a_narrowed_question_keeps_only_what_speaks_of_its_pieces() -> None:
    question = question_for(PROJECT)
    less = narrowed(question, ("back-1", "front-2"))
    assert [piece.id for piece in less.pieces] == ["back-1", "front-2"]
    assert less.locks == ()
    assert [(link.pieces, link.differences_mm) for link in less.links] == [(("back-1", "front-2"), ((25.0, 5.0),))]
    assert narrowed(question, ("front-2",)).links == ()
    assert narrowed(question, ("front-1",)).locks == question.locks
