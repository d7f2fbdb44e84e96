"""The process answers each kind of question that asks how much with the project's own answer."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coverlayout.app.worker_process import answer_question
from coverlayout.book.book import Book
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Project, Stock
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


def test_stock_is_told_for_every_material_of_the_project() -> None:
    grey = Stock("stock-1", "grey board", "board", 300.0, 400.0, 2.0)
    laid, missing = answer_question("stock", replace(PROJECT, stocks=(grey,)), never, _nothing)
    # Two boards of 60 x 90, the only things to cut besides cloth, on one sheet.
    assert [(on.material, on.count, len(on.sheets[0].pieces)) for on in laid] == [("board", 1, 2)]
    assert missing == ()
    assert [one.code for one in answer_question("stock", PROJECT, never, _nothing)[1]] == ["stock-none-thick"]


def test_panels_are_told_for_the_cloth_that_is_named() -> None:
    web = Stock("stock-1", "web", "web", 307.0, 200.0)
    cloths = (replace(PROJECT.cloths[0], backing="web"),)
    found = answer_question("panels", (replace(PROJECT, cloths=cloths, stocks=(web,)), "cloth-1"), never, _nothing)
    assert len(found.panels) == 2
    assert sum(panel.width_mm * panel.height_mm for panel in found.panels) == pytest.approx(307.0 * 250.0)


def _nothing(found: object) -> None:
    raise AssertionError(f"found on the way: {found}")
