"""A project of every structure: figures that all differ, a sheared print, cloth enough; one builder for all tests."""

from __future__ import annotations

from dataclasses import replace

from drawn_books import STRUCTURES, drawn_book

from coverlayout.book.book import Book, Label, Structure, TurnIns
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.books import add_book
from coverlayout.document.project import Project
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

__all__ = ["CASES_OF_BOOKS", "STRUCTURES", "book_of", "project_of"]

# No right angle, no equal sides.
SHEARED = Lattice((50.0, 13.0), (-17.0, 81.0))
TURN_INS = TurnIns(head_mm=14.0, tail_mm=17.0, spine_mm=12.5, fore_edge_mm=15.5)
TITLE = Label(42.0, 27.0, "window", from_head_mm=31.0, from_spine_mm=24.0)
_WITHOUT_LABEL = ("limp-wrap", "slipcase")

# Every structure, and the ways of one structure whose pieces differ.
CASES_OF_BOOKS: dict[str, tuple[Structure, dict[str, object]]] = {
    **{structure: (structure, {}) for structure in STRUCTURES},
    "opens right": ("half-case", {"opens": "right"}),
    "limp with a flap": ("limp-wrap", {"fore_edge_flap_mm": 45.0}),
    "limp turned in": ("limp-wrap", {"turned_in_flap_mm": 60.0, "opens": "right"}),
    "scored slipcase": ("slipcase", {"slipcase_of": "one scored board"}),
}


def book_of(name: str, **more: object) -> Book:
    """A book of that structure (or way of one), with a window for its title where it has a front board."""
    structure, own = CASES_OF_BOOKS[name]
    given: dict[str, object] = {"turn_ins": TURN_INS}
    if structure not in _WITHOUT_LABEL:
        given["label"] = TITLE
    book, _ = drawn_book(structure, **(given | own | more))
    return book


def project_of(name: str, *, width_mm: float = 900.0, length_mm: float = 700.0, **more: object) -> Project:
    """One such book, its print and a cloth on which it fits."""
    printed = Print("birds", "Birds", SHEARED, up="one-way")
    cloth = Cloth("cloth", "Yard", width_mm, length_mm, laid=LaidPrint("birds", (9.0, 4.0), turn_deg=0.0))
    empty = Project(name=name, prints=(printed,), cloths=(cloth,))
    return add_book(replace(book_of(name, **more), id="")).change(empty)
