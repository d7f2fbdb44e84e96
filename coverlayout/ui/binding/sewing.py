"""Sewing: where the holes lie, how long the thread is and of which colours; answers in sentences."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QVBoxLayout, QWidget

from coverlayout.book.book import Book, ThreadColour
from coverlayout.book.paper.block import block_of
from coverlayout.book.rules.belonging import SEWN_BY_RULE
from coverlayout.book.rules.table import rule
from coverlayout.book.sewing.clearances import clearance_notes
from coverlayout.book.sewing.stations import mirrored_mm, page_height_mm, stations_mm
from coverlayout.book.sewing.thread import ThreadNeeded, default_thread_rule, thread
from coverlayout.errors import CoverlayoutError, sentence
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.ui.binding.copies import lengths_text, read_lengths
from coverlayout.ui.binding.part import Part
from coverlayout.ui.fields.choice import Choice
from coverlayout.ui.fields.entry import Entry, label
from coverlayout.ui.fields.figures import exact_length, read_count
from coverlayout.ui.fields.rows import RowList, button, side_by_side
from coverlayout.ui.ruled.entries import rule_tip, ruled, ruled_number
from coverlayout.ui.ruled.owner import BookOwner
from coverlayout.ui.ruled.pairs import Pairs
from coverlayout.ui.ruled.shown import Shown, measures_or_none, worded
from coverlayout.units import LengthStyle

__all__ = ["SewingPart", "sewing_answers"]

_RULES = (("even", "evenly"), ("pairs", "in pairs"), ("ends", "at the ends"), ("own", "where I say"))
_THREAD_RULES = (
    (None, "by the rule"),
    ("sections and two", "sections + 2"),
    ("sections and a tail", "with a tail"),
    ("six heights", "6 heights"),
    ("five heights", "5 heights"),
    ("three heights", "3 heights"),
)


class SewingPart(Part):
    """Stations, holes and thread."""

    def make(self) -> None:
        """The fields; those that the rule of the stations has no use for are hidden."""
        give = self.owner.change_part
        self.rule = Choice(
            "Stations",
            _RULES,
            self._choose_rule,
            tip="Where along the fold the thread goes through: spaced evenly, in pairs, one pair near each end, "
            "or your own list.",
        )
        self.count = ruled_number(
            "How many", read_count("How many", 1, 200), lambda value: give("sewing", count=value), tip=""
        )
        self.end = ruled(self.owner, "From head and tail", lambda value: self._give("end_mm", value), like="19mm")
        self.pair = ruled(
            self.owner, "Apart in a pair", lambda value: self._give("pair_mm", value), like="15mm", least="above 0"
        )
        self.own = Entry(
            "From the head of the page",
            lambda text: read_lengths(text, self.owner.style_of_lengths, "Stations", "20 60 110 mm"),
            lambda lengths: lengths_text(lengths, self.owner.style_of_lengths),
            lambda lengths: give("sewing", own_mm=lengths),
            tip="Each station from the head of the page, spaces between them: 20 60 110 mm.",
            unit=self.owner.style_of_lengths.unit,
        )
        self.hole = ruled(
            self.owner, "Holes from spine", lambda value: self._give("hole_from_spine_mm", value), like="6.5mm"
        )
        self.thread_rule = Choice(
            "Thread is",
            _THREAD_RULES,
            lambda value: give("sewing", thread_rule=value),
            tip="How long the thread has to be, in heights of the page: one for each section and two more, "
            "one for each and a tail, or so many in all.",
        )
        self.tail = ruled(self.owner, "Tail of thread", lambda value: self._give("tail_mm", value), like="127mm")
        self.pairs = Pairs(
            (self.rule, self.count, self.own, self.end, self.pair, self.hole, self.thread_rule, self.tail)
        )
        self.colours = RowList(
            lambda at: _ColourRow(self.owner, self, at),
            "Add a colour of thread",
            self._add_colour,
            tip="Sections sewn with another colour; each thread is counted by itself.",
        )
        self.colours.none.setText("")
        self.answers = label()
        self.notes = label(role="muted")
        self.caution = label(sentence("caution-awl", {}), "muted")
        for widget in (self.pairs, self.colours, self.answers, self.notes, self.caution):
            self.body.addWidget(widget)

    def _give(self, field: str, value_mm: float | None) -> None:
        """A figure of the sewing; cleared, it is the rule's again, in inches its nice number."""
        if value_mm is None and self._shown is not None and self._shown.style.unit == "in":
            value_mm = rule(SEWN_BY_RULE[field], self._shown.book.structure).nice_mm("in")
        self.owner.change_part("sewing", **{field: value_mm})

    def _choose_rule(self, value: str) -> None:
        """Own stations begin as those there are."""
        own: tuple[float, ...] = ()
        if value == "own" and self._shown is not None:
            try:
                own = stations_mm(self._shown.book, self._shown.volume)
            except CoverlayoutError:
                own = ()
        self.owner.change_part("sewing", rule=value, own_mm=own)

    def with_colour(self, at: int, colour: ThreadColour | None) -> None:
        """Another colour in that place, or none there any more."""
        colours = () if self._shown is None else self._shown.book.sewing.colours
        put = () if colour is None else (colour,)
        self.owner.change_part("sewing", colours=(*colours[:at], *put, *colours[at + 1 :]))

    def _add_colour(self) -> None:
        colours = () if self._shown is None else self._shown.book.sewing.colours
        self.owner.trying(lambda: self.with_colour(len(colours), ThreadColour(f"colour {len(colours) + 1}", 1)))

    def summed_up(self, shown: Shown) -> str:
        """How many stations."""
        try:
            count = len(stations_mm(shown.book, shown.volume))
        except CoverlayoutError:
            return ""
        return f"{count} station{'' if count == 1 else 's'}"

    def show_book(self, shown: Shown) -> None:
        """Show the sewing and what comes of it."""
        sewing, structure, unit = shown.book.sewing, shown.book.structure, shown.style.unit
        self.rule.show_value(sewing.rule)
        self.count.show_ruled(sewing.count, round(rule("stations", structure).value))
        self.count.explain(rule("stations", structure).hint)
        for entry, value, name in (
            (self.end, sewing.end_mm, "station end"),
            (self.pair, sewing.pair_mm, "station pair"),
            (self.hole, sewing.hole_from_spine_mm, "hole from spine"),
            (self.tail, sewing.tail_mm, "thread tail"),
        ):
            nice_mm = rule(name, structure).nice_mm(unit)
            follows_nice = value is not None and abs(value - nice_mm) <= SAME_LENGTH_MM
            entry.show_ruled(value, nice_mm if follows_nice else rule(name, structure).figure(), unit)
            entry.explain(rule_tip(name, shown))
        self.own.show_value(sewing.own_mm, unit)
        self.thread_rule.show_value(sewing.thread_rule)
        self.pairs.show_only(self._fields_of(shown.book))
        self.colours.show_values(dict(enumerate(sewing.colours)))
        self.colours.none.hide()
        answers, notes = sewing_answers(shown.book, shown.style)
        self.answers.setText("\n".join(answers))
        self.notes.setText("\n".join(notes))
        self.notes.setVisible(bool(notes))

    def _fields_of(self, book: Book) -> list[QWidget]:
        of_rule: dict[str, list[QWidget]] = {
            "even": [self.count, self.end],
            "pairs": [self.count, self.end, self.pair],
            "ends": [self.end, self.pair],
            "own": [self.own],
        }
        fields: list[QWidget] = [self.rule, *of_rule[book.sewing.rule], self.thread_rule]
        if book.structure in ("separate-boards", "exposed-spine-wrap", "side-sewn"):
            fields.append(self.hole)
        if (book.sewing.thread_rule or default_thread_rule(book)) == "sections and a tail":
            fields.append(self.tail)
        return fields


class _ColourRow(QWidget):
    """One colour of thread: its name and its sections."""

    def __init__(self, owner: BookOwner, part: SewingPart, at: int) -> None:
        super().__init__()
        self._shown = ThreadColour("", 0)
        self.name = Entry(
            "Colour",
            str.strip,
            str,
            lambda name: part.with_colour(at, replace(self._shown, name=name)),
            tip="What you call this thread.",
        )
        self.sections = Entry(
            "Sections",
            read_count("Sections", 1, 100_000),
            str,
            lambda count: part.with_colour(at, replace(self._shown, sections=count)),
            tip="How many sections are sewn with it; the last colour takes the sections that are left.",
        )
        self.remove = button(
            "Remove", lambda: owner.trying(lambda: part.with_colour(at, None)), tip="Sew without it.", role="more"
        )
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(side_by_side(self.name, self.sections, self.remove))

    def show_value(self, colour: ThreadColour) -> None:
        """Show the colour."""
        self._shown = colour
        self.name.show_value(colour.name)
        self.sections.show_value(colour.sections)


def sewing_answers(book: Book, style: LengthStyle) -> tuple[list[str], list[str]]:
    """Stations from head and from tail, thread and needles; then how that was found, and what is too close to an edge.

    What is wrong is said in its place.
    """
    volume, made = book.volumes[0], measures_or_none(book, book.volumes[0])
    if made is None:
        return [], []
    try:
        stations = stations_mm(book, volume)
        from_head = _listed(stations, style)
        lines = [worded("stations-from-head", style, list=from_head, unit=style.unit)]
        from_tail = _listed(mirrored_mm(stations, page_height_mm(made)), style)
        alike = from_tail == from_head
        words = worded("stations-from-tail", style, list=from_tail, unit=style.unit)
        lines.append(worded("stations-alike", style) if alike else words)
        needed = thread(book, volume, sections_of(book))
        notes = [style.said(note) for note in (*(needed.said if needed else ()), *clearance_notes(book, volume))]
        return [*lines, *(_thread_words(needed, style) if needed else ())], notes
    except CoverlayoutError as fault:
        return [style.said(fault.remark)], []


def _listed(places_mm: tuple[float, ...], style: LengthStyle) -> str:
    return ", ".join(exact_length(place, style) for place in places_mm)


def _thread_words(needed: ThreadNeeded, style: LengthStyle) -> list[str]:
    """How long in all, how many needles, and each colour."""
    needles = f"{needed.needles} needle" if needed.needles == 1 else f"{needed.needles} needles"
    if needed.total_mm is None:
        return [worded("thread-not-yet", style, needles=needles)]
    lines = [worded("thread-in-all", style, need_mm=needed.total_mm, needles=needles)]
    by_colour = ((colour, length) for colour, length in needed.by_colour if length is not None)
    return [*lines, *(worded("thread-of-colour", style, colour=colour, need_mm=length) for colour, length in by_colour)]


def sections_of(book: Book) -> int | None:
    """How many sections the paper makes, None while that is not known."""
    if book.paper is None or (book.paper.sheets is None and book.paper.pages is None):
        return None
    return block_of(book.paper, book.structure).sections
