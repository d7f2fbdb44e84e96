"""The process answers each kind of question that asks how much with the project's own answer."""

from __future__ import annotations

from typing import Any

import pytest

from coverlayout.app.worker_process import answer_question
from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project
from coverlayout.layout.question import never
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print
from coverlayout.ui.port import Kind

DOTS = Print("print-1", "Dots", Lattice((50.0, 0.0), (0.0, 50.0)))
BOOK = Book("book-1", "Ledger", page_mm=(60.0, 90.0), cover_turns="none", liners="none")
PROJECT = Project("Job", (DOTS,), (Cloth("cloth-1", "C", 307.0, 250.0, laid=LaidPrint("print-1")),), (BOOK,))


@pytest.mark.parametrize(
    ("kind", "field", "told"),
    [
        ("count", "books", 3),
        ("largest", "board_mm", (123.5, 185.25)),
        # Covers of 90 x 120 side by side.
        ("length", "length_mm", 120.0),
        ("scale", "best_percent", 100.0),
    ],
)
def test_each_question_of_how_much_has_its_answer(kind: Kind, field: str, told: object) -> None:
    found: list[Any] = []
    answer = answer_question(kind, PROJECT, never, found.append)
    assert getattr(answer, field) == pytest.approx(told, abs=0.02)
