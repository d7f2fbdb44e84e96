"""How long the thread has to be, by which rule, of which colour, and how many needles."""

from __future__ import annotations

from dataclasses import dataclass

from coverlayout.book.book import Book, ThreadRule, Volume
from coverlayout.book.measures import measures
from coverlayout.book.rules.table import rule
from coverlayout.book.sewing.stations import is_sewn, page_height_mm, pairs_mm, sewing_figure
from coverlayout.errors import BadInput, Remark

__all__ = ["ThreadNeeded", "default_thread_rule", "thread"]

_BY_SECTIONS = ("sections and two", "sections and a tail")


@dataclass(frozen=True)
class ThreadNeeded:
    """The thread of one volume, in mm; a length is None while the number of sections it hangs on is not known.

    `by_colour` is the thread of each colour, () where no colours are given. `threads` are the threads each colour is
    cut into: one, or one a pair of stations, each with a needle at both ends. `said` is all this in words.
    """

    total_mm: float | None
    rule: ThreadRule
    by_colour: tuple[tuple[str, float | None], ...]
    needles: int
    source: str
    threads: int
    said: tuple[Remark, ...]


def default_thread_rule(book: Book) -> ThreadRule:
    """The rule of a structure: six heights side-sewn, three for the single section of a limp wrap, else by sections."""
    by_structure: dict[str, ThreadRule] = {"side-sewn": "six heights", "limp-wrap": "three heights"}
    return by_structure.get(book.structure, "sections and two")


def thread(book: Book, volume: Volume, sections: int | None) -> ThreadNeeded | None:
    """The thread of a volume of so many sections (None: not known); None for a structure that is not sewn.

    `sections and two`: one page height for each section and two more. `sections and a tail`: one for each section and
    the tail. `six`, `five`, `three heights`: so many times the height, however many sections. Each colour is a thread
    with ends of its own, so the rule counts for each by itself; the last colour takes the sections that are left.
    Stations in pairs: the length is shared out among the pairs, each sewn with a thread of its own and a needle at both
    ends (common practice, no source). BadInput: colours for more sections than there are, a tail out of range.

    >>> book = Book("b", "Ledger", page_mm=(4 * 25.4, 6 * 25.4))
    >>> round(thread(book, book.volumes[0], 13).total_mm / 25.4, 6)
    90.0
    """
    if not is_sewn(book):
        return None
    height_mm = page_height_mm(measures(book, volume))
    name = book.sewing.thread_rule or default_thread_rule(book)
    colours = tuple(
        (colour, _length_mm(book, name, height_mm, count)) for colour, count in _sections_by_colour(book, sections)
    )
    lengths = [length for _, length in colours] or [_length_mm(book, name, height_mm, sections)]
    known = [length for length in lengths if length is not None]
    total_mm = sum(known) if len(known) == len(lengths) else None
    pairs = pairs_mm(book, volume)
    return ThreadNeeded(
        total_mm=total_mm,
        rule=name,
        by_colour=colours,
        needles=2 * len(pairs) or 1,
        source=_source(book, name),
        threads=len(pairs) or 1,
        said=(_said(book, name, total_mm, sections), *_said_of_pairs(book, len(pairs))),
    )


def _length_mm(book: Book, name: ThreadRule, height_mm: float, sections: int | None) -> float | None:
    """The rule for one thread; nothing for no sections."""
    if sections == 0:
        return 0.0
    if name not in _BY_SECTIONS:
        return rule(name, book.structure).figure() * height_mm
    if sections is None:
        return None
    if name == "sections and a tail":
        return sections * height_mm + _tail_mm(book)
    return (sections + rule(name, book.structure).figure()) * height_mm


def _tail_mm(book: Book) -> float:
    return sewing_figure(book, "thread tail", book.sewing.tail_mm)


def _sections_by_colour(book: Book, sections: int | None) -> tuple[tuple[str, int | None], ...]:
    """Each colour with its sections; the last takes what is left, and is not known while the sections are not."""
    colours = book.sewing.colours
    for colour in colours:
        if colour.sections < 0:
            raise BadInput("colour-sections", book=book.name, colour=colour.name, found=colour.sections)
    if not colours:
        return ()
    named = sum(colour.sections for colour in colours)
    if sections is not None and named > sections:
        raise BadInput("colours-too-many-sections", book=book.name, found=named, sections=sections)
    first = tuple((colour.name, colour.sections) for colour in colours[:-1])
    left = None if sections is None else sections - sum(count for _, count in first)
    return (*first, (colours[-1].name, left))


def _source(book: Book, name: ThreadRule) -> str:
    return rule("thread tail" if name == "sections and a tail" else name, book.structure).source


def _said(book: Book, name: ThreadRule, total_mm: float | None, sections: int | None) -> Remark:
    if total_mm is None:
        return Remark.of("thread-sections-not-known", book=book.name)
    source, count = _source(book, name), sections or 0
    if name == "sections and a tail":
        tail_mm = _tail_mm(book)
        return Remark.of(
            "thread-sections-and-a-tail",
            book=book.name,
            total_mm=total_mm,
            sections=count,
            tail_mm=tail_mm,
            source=source,
        )
    times = round(rule(name, book.structure).figure())
    if name == "sections and two":
        return Remark.of(
            "thread-sections-and-two",
            book=book.name,
            total_mm=total_mm,
            sections=count,
            more=times,
            source=source,
        )
    return Remark.of("thread-heights", book=book.name, total_mm=total_mm, times=times, source=source)


def _said_of_pairs(book: Book, pairs: int) -> tuple[Remark, ...]:
    return (Remark.of("thread-pairs", book=book.name, pairs=pairs, needles=2 * pairs),) if pairs else ()
