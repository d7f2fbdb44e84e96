"""`coverlayout book FILE`: the book worked out, from paper to boards, pieces, what to cut, stations and thread."""

from __future__ import annotations

from typing import Any

from coverlayout.app.booking.lines import lines_of
from coverlayout.app.flags import JSON, Flag, Given, Verb
from coverlayout.app.verbs.telling import YES, Opened, opened, print_json, print_lines
from coverlayout.book.materials.cut_item import CutItem
from coverlayout.book.materials.plan import plan
from coverlayout.book.materials.record import as_record, row_of
from coverlayout.document.making.costs import Costs, costs
from coverlayout.document.making.tally import tally
from coverlayout.document.paneling.needing import cloths_too_large
from coverlayout.document.paneling.panels import PanelsAsked, PanelsFound, panels_for
from coverlayout.document.project import Project
from coverlayout.document.questions import turns_of
from coverlayout.document.stocking.backing import backing_items_of
from coverlayout.document.stocking.on_stock import OnStock
from coverlayout.document.stocking.sheets import all_on_stock
from coverlayout.errors import BadInput, Remark, sentence

__all__ = ["VERB"]

_BOOK = Flag("--book", "which book, by its number in the project (1); --json tells every book", "2")

_NOT_THERE = ("stock-none", "stock-none-thick")


def _run(given: Given) -> int:
    job = opened(given.operand)
    if not job.project.books:
        raise BadInput("no-book", file=given.operand[:200])
    chosen = _chosen(given, len(job.project.books))
    panels, no_panels = _panels(job.project)
    backing = _backing(job.project, panels)
    items = (*(item for book in job.project.books for item in plan(book).cut_list), *backing)
    of_stock, missing = all_on_stock(job.project, items) if job.project.stocks else ((), ())
    missing = tuple(dict.fromkeys((*missing, *no_panels)))
    if given.has("--json"):
        last = {
            "backing": [row_of(item) for item in backing],
            "panels": [_panels_record(job, one) for one in panels],
            "stock_missing": job.texts(missing),
        }
        print_json(_record(job, chosen, of_stock) | last)
    else:
        # What nobody spoke of is no news at the bench: that a material has no sheets is told to programs only.
        missing = tuple(remark for remark in missing if remark.code not in _NOT_THERE)
        said = [*(remark for one in of_stock for remark in one.said), *missing]
        also = (said, *_of_panels(job, panels), _of_costs(job, costs(job.project, of_stock)), _of_others(job, chosen))
        print_lines(lines_of(job, plan(job.project.books[chosen]), backing, also))
    return YES


def _panels(project: Project) -> tuple[tuple[PanelsFound, ...], tuple[Remark, ...]]:
    """For each cloth larger than its backing comes the panels to cut it into; remarks where none can be."""
    found: list[PanelsFound] = []
    why_not: list[Remark] = []
    for cloth in cloths_too_large(project):
        try:
            found.append(panels_for(PanelsAsked(project, cloth.id)))
        except BadInput as fault:
            why_not.append(fault.remark)
    return tuple(found), tuple(why_not)


def _backing(project: Project, panels: tuple[PanelsFound, ...]) -> tuple[CutItem, ...]:
    """What is bonded on the cloths: on the panels of those that are cut into some, on the others as they are."""
    of_panels = {one.cloth_id: [item for laid in one.backing for item in laid.items] for one in panels if one.backing}
    return tuple(item for cloth in project.cloths for item in of_panels.get(cloth.id) or tuple(backing_items_of(cloth)))


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


def _panels_record(job: Opened, one: PanelsFound) -> dict[str, Any]:
    """The panels in the cloth's frame, whether the pieces fit on them, and the sheets of their backing."""
    return {
        "cloth": one.cloth_id,
        "verdict": one.verdict,
        "panels": [
            {"x_mm": box.left_mm, "y_mm": box.top_mm, "width_mm": box.width_mm, "height_mm": box.height_mm}
            for box in one.panels
        ],
        "stock": [_stock(job, laid) for laid in one.backing],
        "notes": job.texts(one.said),
    }


def _of_panels(job: Opened, panels: tuple[PanelsFound, ...]) -> list[list[Remark]]:
    """A group of remarks for each cloth: its panels, then whether all pieces fit on them."""
    groups = []
    for one in panels:
        name = job.project.cloth(one.cloth_id).name
        boxes = [
            Remark.of(
                "book-panel",
                cloth=name,
                number=number,
                width_mm=box.width_mm,
                height_mm=box.height_mm,
                left_mm=box.left_mm,
                top_mm=box.top_mm,
            )
            for number, box in enumerate(one.panels, 1)
        ]
        groups.append([*boxes, one.reason])
    return groups


def _of_costs(job: Opened, found: Costs) -> list[Remark]:
    """What each book costs, and what is in no sum; nothing while nothing has a price."""
    currency = job.project.preferences.currency
    priced = [book for book in found.books if book.lines]
    said = [
        Remark.of(
            "cost-of-book",
            name=book.name or sentence("cost-of-own", {}),
            price=f"{book.whole_price:.2f} {currency}".strip(),
            each=f"{book.whole_price_each:.2f} {currency}".strip(),
            share=f"{book.share_price / max(book.copies, 1):.2f} {currency}".strip(),
        )
        for book in priced
    ]
    return [*said, *found.missing] if priced else []


def _of_others(job: Opened, chosen: int) -> list[Remark]:
    """That there are more books than the one told."""
    books = job.project.books
    return [
        Remark.of("book-other", name=book.name, number=number)
        for number, book in enumerate(books, 1)
        if number != chosen + 1
    ]


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
