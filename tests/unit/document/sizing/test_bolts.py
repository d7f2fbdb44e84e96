"""Cloth off the bolt: what it takes over, one for each print, the bolt of a job file as it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import Book, Source
from coverlayout.cloth.cloth import Change, Cloth, Flaw
from coverlayout.document.project import JobRules, Project
from coverlayout.document.questions import planned_pieces
from coverlayout.document.sizing.bolts import Bolt, bolts_for
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

BOOK = Book("book-1", "Ledger", page_mm=(60.0, 90.0))
STAIN = Flaw("flaw-1", "stain", ((5.0, 5.0), (9.0, 5.0), (5.0, 9.0)))
CLOTH = Cloth("cloth-1", "Cloth", 307.0, 250.0, trim_mm=4.0, flaws=(STAIN,), laid=LaidPrint("print-1", (3.0, 5.0)))
LEAVES = Print("print-1", "Leaves", Lattice((40.0, 0.0), (0.0, 30.0)))
DOTS = Print("print-2", "Dots", Lattice((7.0, 0.0), (0.0, 9.0)))
PROJECT = Project(prints=(LEAVES, DOTS), cloths=(CLOTH,), books=(BOOK,))


def bolts(project: Project, width_mm: float | None = None) -> tuple[Bolt, ...]:
    return bolts_for(project, planned_pieces(project), width_mm)


def test_as_wide_as_the_cloth_or_as_said() -> None:
    (bolt,) = bolts(PROJECT)
    (cloth,) = bolt.project.cloths
    assert (cloth.width_mm, cloth.trim_mm, cloth.flaws, cloth.state) == (307.0, 4.0, (), "to-buy")
    assert cloth.laid is not None
    assert not cloth.laid.origin_known
    assert bolt.print_name == "Leaves"
    assert bolt.pieces == ("front-1", "back-1", "liner-front-1", "liner-back-1")
    assert bolts(PROJECT, 1400.0)[0].project.cloths[0].width_mm == 1400.0
    # Long enough for all four, the diagonals one below the other.
    assert cloth.length_mm > 4 * 90.0


def test_without_a_cloth_the_width_is_enough() -> None:
    (bolt,) = bolts(replace(PROJECT, prints=(), cloths=()), 1400.0)
    assert bolt.project.cloths[0].laid is None
    assert bolt.print_name == ""


def test_one_bolt_for_each_print() -> None:
    book = replace(BOOK, cover_source=Source("print-1"), liner_source=Source("print-2"))
    first, second = bolts(replace(PROJECT, books=(book,)))
    assert (first.print_name, first.pieces) == ("Leaves", ("front-1", "back-1"))
    assert (second.print_name, second.pieces) == ("Dots", ("liner-front-1", "liner-back-1"))
    assert len(first.project.cloths) == len(second.project.cloths) == 1


def test_the_bolt_of_a_job_is_taken_as_it_is() -> None:
    job = replace(PROJECT, rules=JobRules(objective="least length"))
    (bolt,) = bolts(job)
    (cloth,) = bolt.project.cloths
    assert cloth == replace(CLOTH, length_mm=cloth.length_mm)
    assert cloth.length_mm > 4 * 90.0
    # With a width asked for it is cloth to buy after all.
    assert bolts(job, 500.0)[0].project.cloths[0].flaws == ()
    outlined = replace(CLOTH, outline_mm=((0.0, 0.0), (307.0, 0.0), (0.0, 250.0)))
    assert bolts(replace(job, cloths=(outlined,)))[0].project.cloths == (outlined,)


def test_cloth_that_shrinks_is_bought_longer() -> None:
    washed = replace(CLOTH, changes=(Change("washing", -5.0, -20.0),))
    assert bolts(replace(PROJECT, cloths=(washed,)))[0].bought_factor == pytest.approx(1.25)
    assert bolts(PROJECT)[0].bought_factor == 1.0
