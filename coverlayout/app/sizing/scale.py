"""`coverlayout scale FILE`: at what scale of the print everything fits and the wishes hold, the best first."""

from __future__ import annotations

from coverlayout.app.flags import JSON, Given, Verb
from coverlayout.app.sizing.limits import notes_of, watch_of
from coverlayout.app.verbs.lay import SECONDS
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines, table
from coverlayout.document.sizing.scale import ScaleAsked, ScalesTried, ScaleTried, print_scales
from coverlayout.errors import Remark

__all__ = ["VERB"]


def _run(given: Given) -> int:
    job = opened(given.operand)
    found = print_scales(ScaleAsked(job.project, file=given.operand), watch_of(given))
    notes = notes_of(job, found.notes, None, {}, cut_short=found.cut_short)
    if given.has("--json"):
        print_json(_record(found, notes))
    else:
        print_lines(_lines(job, found, notes))
    return NO if found.best_percent is None else YES


def _record(found: ScalesTried, notes: list[str]) -> dict[str, object]:
    return {
        "scales": [
            {
                "scale_percent": one.scale_percent,
                "verdict": one.verdict,
                "spare_mm": one.spare_mm,
                "wishes_met": one.wishes_met,
                "least_cut": one.least_cut,
                "price": one.price,
            }
            for one in found.tried
        ],
        "best": found.best_percent,
        "wishes": found.wishes,
        "notes": notes,
    }


def _lines(job: Opened, found: ScalesTried, notes: list[str]) -> list[str]:
    best = (
        Remark.of("scale-none")
        if found.best_percent is None
        else Remark.of("scale-best", percent=f"{found.best_percent:g}")
    )
    head = ["scale", "verdict", "room", "wishes met"]
    priced = any(one.least_cut for one in found.tried)
    rows = [_row(job, one, found.wishes, priced=priced) for one in found.tried]
    return [job.said(best), *notes, *table([*head, *(["least cut", "price"] if priced else [])], rows)]


def _row(job: Opened, one: ScaleTried, wishes: int, *, priced: bool) -> list[str]:
    met = f"{one.wishes_met} of {wishes}" if one.answer.placed and wishes else "-"
    row = [f"{one.scale_percent:g} %", one.verdict, job.room(one.spare_mm), met]
    if priced:
        currency = job.project.preferences.currency
        row += [one.least_cut or "-", "-" if one.price is None else f"{one.price:.2f} {currency}".strip()]
    return row


VERB = Verb(
    "scale",
    "FILE",
    "Print scales from 50 to 200 % at which everything fits and every wish that must hold does, the best first: most "
    "wishes met, then most room, then nearest 100 %. Exit 0: there is one, 3: none was found.",
    (SECONDS, JSON),
    _run,
)
