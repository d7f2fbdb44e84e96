"""`coverlayout book FILE`: the book worked out, from paper to boards, pieces, what to cut, stations and thread."""

from __future__ import annotations

from typing import Any

from coverlayout.app.booking.lines import lines_of
from coverlayout.app.flags import JSON, Flag, Given, Verb
from coverlayout.app.verbs.telling import YES, Opened, opened, print_json, print_lines
from coverlayout.book.materials.plan import plan
from coverlayout.book.materials.record import as_record, row_of
from coverlayout.document.making.costs import Costs, costs
from coverlayout.document.making.tally import tally
from coverlayout.document.questions import turns_of
from coverlayout.document.stocking.backing import backing_items
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.sheets import all_on_stock, items_of
from coverlayout.errors import BadInput

__all__ = ["VERB"]

_BOOK = Flag("--book", "which book, by its number in the project (1); --json tells every book", "2")


def _run(given: Given) -> int:
    job = opened(given.operand)
    if not job.project.books:
        raise BadInput("no-book", file=given.operand[:200])
    chosen = _chosen(given, len(job.project.books))
    items = items_of(job.project)
    laid, missing = all_on_stock(job.project, items) if job.project.stocks else ((), ())
    backing = tuple(backing_items(job.project))
    if given.has("--json"):
        record = _record(job, chosen, laid)
        print_json(record | {"backing": [row_of(item) for item in backing], "stock_missing": job.texts(missing)})
    else:
        made = plan(job.project.books[chosen])
        print_lines(lines_of(job, made, backing, (*(remark for one in laid for remark in one.said), *missing)))
    return YES


def _chosen(given: Given, count: int) -> int:
    """The place of the book that is asked for."""
    text = given.one("--book")
    if text is None:
        return 0
    if not (text.strip().isdecimal() and text.strip().isascii() and 1 <= int(text) <= count):
        raise BadInput("no-such-book", found=text.strip()[:20], count=count)
    return int(text) - 1


def _record(job: Opened, chosen: int, laid: tuple[OnStock, ...]) -> dict[str, Any]:
    """The book chosen, then what counts for the whole project; `books` where there are several."""
    project = job.project
    made = [as_record(plan(book), lambda piece: turns_of(project, piece), job.said) for book in project.books]
    record: dict[str, Any] = dict(made[chosen])
    if len(made) > 1:
        record["books"] = made
    record["stock"] = [_stock(job, one) for one in laid]
    record["made"] = [
        {"name": row.name, "number": row.number, **vars(row.totals), "spoiled_pieces": list(row.spoiled)}
        for row in tally(project)
    ]
    return record | _costs(job, costs(project, laid))


def _stock(job: Opened, one: OnStock) -> dict[str, Any]:
    return {
        "name": one.stock.name,
        "material": one.material,
        "thickness_mm": one.thickness_mm,
        "sheets": None if one.is_roll else one.count,
        "length_mm": one.length_mm,
        "proved": one.proved,
        "price": one.price,
        "notes": job.texts(one.said),
        "laid": [
            [
                {
                    "piece": piece.name,
                    "x_mm": piece.box.left_mm,
                    "y_mm": piece.box.top_mm,
                    "width_mm": piece.box.width_mm,
                    "height_mm": piece.box.height_mm,
                }
                for piece in sheet.pieces
            ]
            for sheet in one.sheets
        ],
    }


def _costs(job: Opened, found: Costs) -> dict[str, Any]:
    """Prices only where some are known; what is in no sum is told."""
    if not any(book.lines for book in found.books):
        return {"cost": None}
    books = [
        {
            "name": book.name,
            "copies": book.copies,
            "price_each": book.whole_price_each,
            "lines": [
                {"material": line.material, "name": line.name, "share": line.share_price, "whole": line.whole_price}
                for line in book.lines
            ],
        }
        for book in found.books
    ]
    return {"cost": {"whole": found.whole_price, "books": books, "missing": job.texts(found.missing)}}


VERB = Verb(
    "book",
    "FILE",
    "The book worked out: paper, sections, boards, pieces, what to cut, stations, thread.",
    (_BOOK, JSON),
    _run,
)
