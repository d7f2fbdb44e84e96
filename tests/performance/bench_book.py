"""Working a book out as one types: an edition of twelve, its pictures, and its boards laid on sheets.

The goals are of our own: what happens at every key must stay within a frame or two.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from coverlayout.book.book import Book, Label, Paper, Volume
from coverlayout.book.materials.plan import plan
from coverlayout.book.picturing.cut_through import cut_through
from coverlayout.book.picturing.flat_plan import flat_plan
from coverlayout.document.project import Project, Stock
from coverlayout.document.stocking.sheets import all_on_stock, items_of

ROUNDS = 15
PAPER = Paper((320.0, 450.0), sheets=24, cut=(2, 1), per_section=4, thickness_mm=0.12, grain="long")
EDITION = Book(
    "book-1",
    "Edition",
    "half-case",
    paper=PAPER,
    label=Label(60.0, 25.0, "window"),
    volumes=tuple(Volume(number) for number in range(1, 13)),
)


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """Medians in milliseconds; every round asks for a book that was never seen before."""
    board = Stock("stock-1", "board", "board", 700.0, 1000.0, 2.0, "long")
    return {
        "book_plan_12_ms": {"value": _median_ms(plan), "goal": 60.0},
        "book_pictures_ms": {"value": _median_ms(_pictures), "goal": 30.0},
        "boards_on_sheets_ms": {
            "value": _median_ms(lambda book: _laid(Project(books=(book,), stocks=(board,)))),
            "goal": 1000.0,
        },
    }


def _pictures(book: Book) -> None:
    cut_through(book, book.volumes[0])
    flat_plan(book, book.volumes[0])


def _laid(project: Project) -> None:
    (found,), missing = all_on_stock(project, [item for item in items_of(project) if item.material == "board"])
    assert found.sheets, missing


def _median_ms(ask: Callable[[Book], object]) -> float:
    times = []
    for number in range(ROUNDS):
        book = replace(EDITION, board_thickness_mm=2.0, square_mm=3.0 + number / 1000)
        start = time.perf_counter()
        ask(book)
        times.append((time.perf_counter() - start) * 1e3)
    return statistics.median(times)
