"""`coverlayout cuts FILE`: every cut on the ladder with its verdict, least first, the least and the cheapest to buy."""

from __future__ import annotations

from coverlayout.app.flags import JSON, Given, Verb
from coverlayout.app.sizing.limits import watch_of
from coverlayout.app.verbs.lay import SECONDS
from coverlayout.app.verbs.telling import NO, YES, Opened, opened, print_json, print_lines, table
from coverlayout.cloth.cuts import ladder_in_use
from coverlayout.document.questions import ladder_for
from coverlayout.errors import BadInput, Remark
from coverlayout.layout.ladder import Bundle, Ladder, Rung, climb

__all__ = ["VERB"]


def _run(given: Given) -> int:
    job = opened(given.operand)
    asked = ladder_for(job.project, ladder_in_use())
    if not asked:
        raise BadInput("nothing-to-cut", file=given.operand)
    ladder = climb(asked, watch_of(given))
    if given.has("--json"):
        print_json(_record(ladder))
    else:
        print_lines(_lines(job, ladder))
    return NO if ladder.cheapest is None and ladder.least is None else YES


def _record(ladder: Ladder) -> dict[str, object]:
    return {
        "cuts": [
            {
                "name": rung.name,
                "width_mm": rung.width_mm,
                "length_mm": rung.length_mm,
                "verdict": rung.verdict,
                "proved": rung.proved,
                "spare_mm": rung.spare_mm,
                "price": rung.price,
            }
            for rung in ladder.rungs
        ],
        "least": ladder.least,
        "least_with_room": ladder.least_with_room,
        "cheapest": None if ladder.cheapest is None else _cheapest(ladder.cheapest),
    }


def _cheapest(bundle: Bundle) -> dict[str, object]:
    return {
        "cuts": list(bundle.cuts),
        "price": bundle.price,
        "area_mm2": bundle.area_mm2,
        "verdict": bundle.verdict,
        "proved": bundle.proved,
    }


def _lines(job: Opened, ladder: Ladder) -> list[str]:
    least = (
        Remark.of("cuts-none")
        if ladder.least is None
        else Remark.of("cuts-least", name=ladder.least)
        if ladder.least_with_room in (None, ladder.least)
        else Remark.of("cuts-least-and-room", name=ladder.least, roomy=ladder.least_with_room)
    )
    bundle = ladder.cheapest
    told = bundle is None or bundle.cuts == (ladder.least,)
    together = [] if bundle is None or told else [_cheapest_said(job, bundle)]
    head = ("cut", "width", "length", "price", "verdict", "proved", "room")
    return [*job.texts([least, *together, *job.notes]), *table(head, [_row(job, rung) for rung in ladder.rungs])]


def _cheapest_said(job: Opened, bundle: Bundle) -> Remark:
    names = ", ".join(f"{count} x {name}" if count > 1 else name for name, count in bundle.counted)
    code = "cuts-cheapest" if bundle.proved else "cuts-cheapest-known"
    if bundle.price is not None:
        return Remark.of(code, names=names, price=_price(job, bundle.price))
    return Remark.of(f"{code}-by-area", names=names)


def _price(job: Opened, price: float | None) -> str:
    return "-" if price is None else f"{price:.2f} {job.project.preferences.currency}".strip()


def _row(job: Opened, rung: Rung) -> tuple[str, ...]:
    size = (job.show(rung.width_mm, "down"), job.show(rung.length_mm, "down"))
    return (
        rung.name,
        *size,
        _price(job, rung.price),
        rung.verdict,
        "yes" if rung.proved else "no",
        job.room(rung.spare_mm),
    )


VERB = Verb(
    "cuts",
    "FILE",
    "Every cut on the ladder with its verdict, least first, and the cheapest cuts together. Exit 0: some cut is "
    "enough, alone or with others, 3: none is.",
    (SECONDS, JSON),
    _run,
)
