"""What the verdict bar says, worked out from the judgement and the last answer before anything is painted."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Breach, Report
from coverlayout.layout.rules import Live
from coverlayout.ui.verdict.chips import State, Symbol
from coverlayout.units import LengthStyle

__all__ = ["Said", "breach_words", "first_step", "named", "said", "spare_words"]

# Reasons of an answer that is tight because the cloth may come out smaller: the judge cannot see that.
_DOUBTED = "lay-tight-doubt"


@dataclass(frozen=True)
class Said:
    """The largest word on the screen, its sign, and one sentence why."""

    word: str
    symbol: Symbol
    state: State
    sentence: str


def named(sentence: str, names: Mapping[str, str]) -> str:
    """A sentence with the pieces called by their names instead of their ids; a long list of them is cut short.

    >>> named("front-1, front-12: turned", {"front-1": "Front cover"})
    'front cover, front-12: turned'
    """
    if not names:
        return sentence
    one = "|".join(re.escape(each) for each in sorted(names, key=len, reverse=True))
    found = re.compile(rf"(?<![\w-])(?:{one})(?![\w-])")
    return re.sub(
        rf"(?<![\w-])(?:{one})(?:, (?:{one}))*(?![\w-])(?: and (\d+) more\b)?",
        lambda run: _short_list([names[each].lower() for each in found.findall(run[0])], len(names), int(run[1] or 0)),
        sentence,
    )


def _short_list(called: list[str], pieces: int, more: int = 0) -> str:
    """At most three names; of more the first two and how many others, or all. `more` are not called by name."""
    if len(called) <= 3 and not more:
        return ", ".join(called)
    if len(called) + more == pieces:
        return f"all {pieces} pieces"
    return f"{', '.join(called[:2])} and {len(called[2:]) + more} more"


def first_step(project: Project) -> Said | None:
    """What a newcomer does next when there is nothing to judge yet; None when there is."""
    if not project.cloths and (project.books or project.own_pieces):
        code = "next-only-cloth"
    elif not project.cloths and not project.prints:
        code = "next-print"
    elif not project.cloths:
        code = "next-cloth"
    elif not project.books and not project.own_pieces:
        code = "next-book"
    else:
        return None
    return Said("Nothing to judge yet", "ring", "muted", Remark.of(code).text())


def said(
    judged: Report | Live,
    answer: Answer | None,
    *,
    searching: bool,
    names: Mapping[str, str],
    style: LengthStyle,
    quarters: int = 0,
    heads_down: int = 0,
    apart: str = "",
    moved: Sequence[str] = (),
    spoiled: Collection[str] = (),
) -> Said:
    """The verdict on what lies on the cloth; while pieces wait, that of the job where it says more.

    `names` are the pieces' labels by id. `answer` is the job's last answer, None when there is none for this job.
    `quarters` pieces lie turned a quarter, across the grain, `heads_down` head down, and what is named in `apart` on
    several prints though it is to match: that is said as well. What is wrong with the pieces in `moved`, those the
    maker has in hand, is said before all else. `spoiled` names the planned pieces that were spoiled once: when one of
    them waits, it waits again.
    """
    if judged.breaches:
        wrong = _breaches(judged.breaches, moved, names, style)
        if answer is not None and answer.verdict == "does not fit":
            # Moving pieces about cannot mend it: that is what the maker needs to know first.
            reason = _capital(named(style.said(answer.reason), names))
            wrong = Remark.of("no-and-breach", reason=reason, breach=wrong[:1].lower() + wrong[1:]).text()
        return Said("Not valid", "cross", "no", wrong)
    if judged.waiting:
        waiting = _waiting(judged, answer, names, style, searching=searching, spoiled=spoiled)
        return replace(waiting, sentence=_capital(waiting.sentence))
    room = style.said(Remark.of("tightest-place", room_mm=judged.clearance_mm or 0.0))
    sideways = Remark.of("quarter-turned", first=room, count=quarters).text() if quarters else room
    sideways = Remark.of("head-down", first=sideways, count=heads_down).text() if heads_down else sideways
    sideways = Remark.of("lies-apart", first=sideways, parts=apart).text() if apart else sideways
    if judged.verdict == "valid" and (answer is None or not answer.reason.code.startswith(_DOUBTED)):
        return Said("Fits", "tick", "fits", sideways)
    doubt = Remark.of("room-in-doubt", first=sideways).text() if judged.verdict == "valid" else sideways
    return Said("Fits, tight", "half ring", "tight", doubt)


def _waiting(
    judged: Report | Live,
    answer: Answer | None,
    names: Mapping[str, str],
    style: LengthStyle,
    *,
    searching: bool,
    spoiled: Collection[str],
) -> Said:
    waiting, pieces = len(judged.waiting), len(names)
    none_placed = waiting >= pieces
    again = all(piece in spoiled for piece in judged.waiting)
    if answer is not None and ((none_placed and not again) or answer.verdict == "does not fit"):
        return _of_the_job(answer, names, style)
    if searching and none_placed and not again:
        return Said("Searching", "dots", "muted", Remark.of("searching").text())
    return Said("Incomplete", "half ring", "muted", _who_waits(judged.waiting, names, spoiled).text())


def _who_waits(waiting: Sequence[str], names: Mapping[str, str], spoiled: Collection[str]) -> Remark:
    """How many wait, and that spoiled ones do so again."""
    again = [piece for piece in waiting if piece in spoiled]
    figures = {"waiting": len(waiting), "pieces": len(names)}
    if again:
        what = _short_list([names.get(piece, piece).lower() for piece in again], len(names) + 1)
        if more := len(waiting) - len(again):
            return Remark.of("spoiled-waits-too" if len(again) == 1 else "spoiled-wait-too", what=what, more=more)
        return Remark.of("spoiled-waits" if len(again) == 1 else "spoiled-wait", what=what)
    if len(waiting) == len(names):
        return Remark.of("piece-waits" if len(waiting) == 1 else "pieces-wait", **figures)
    return Remark.of("rest-waits" if len(waiting) == 1 else "rest-wait", **figures)


def _of_the_job(answer: Answer, names: Mapping[str, str], style: LengthStyle) -> Said:
    """The verdict of the last answer, while there is nothing on the cloth to judge."""
    if answer.verdict == "does not fit":
        return Said("Does not fit", "cross", "no", named(style.said(answer.reason), names))
    if answer.verdict == "not found":
        ahead = Remark.of("looked-ahead", reason=named(style.said(answer.reason), names)).text()
        return Said("No layout found", "dots", "tight", ahead)
    reason = Remark.of("nothing-placed", reason=named(style.said(answer.reason), names)).text()
    if answer.verdict == "fits":
        return Said("Fits", "tick", "fits", reason)
    return Said("Fits, tight", "half ring", "tight", reason)


def spare_words(answer: Answer | None, style: LengthStyle) -> tuple[str, str]:
    """The room to spare and what kind of figure it is: the most there is, or the most that was found."""
    if answer is None or answer.spare_mm is None:
        return "–", "room to spare"
    kind = "the most room there is" if answer.spare_proved else "the most room we know"
    return style.show(answer.spare_mm, "down"), kind


def breach_words(breach: Breach, names: Mapping[str, str], style: LengthStyle) -> str:
    """One broken rule as a sentence without a full stop."""
    pieces = [names.get(piece, piece) for piece in breach.pieces] or ["?"]
    against = breach.against or (pieces[1].lower() if len(pieces) > 1 else "")
    code = "breach-no-ground" if breach.no_ground else "breach-" + breach.rule.replace(" ", "-")
    turn = f"{breach.amount_mm:.1f}"
    return style.said(Remark.of(code, piece=pieces[0], other=against, amount_mm=breach.amount_mm, turn=turn))


def _breaches(breaches: tuple[Breach, ...], moved: Sequence[str], names: Mapping[str, str], style: LengthStyle) -> str:
    """The first broken rule, that of a moved piece before others, and how many more pieces break one.

    Pieces are counted, not rules: two that overlap and lie over a stain are two pieces to mend.
    """
    chosen = next((each for each in breaches if not set(moved).isdisjoint(each.pieces)), breaches[0])
    # Each of the two is as much to blame; the one in hand is the one to move.
    pieces = tuple(sorted(chosen.pieces, key=lambda piece: piece not in moved))
    first = breach_words(replace(chosen, pieces=pieces), names, style)
    others = {piece for each in breaches for piece in each.pieces} - set(pieces)
    if others:
        return Remark.of(
            "and-more-piece" if len(others) == 1 else "and-more-pieces", first=first, more=len(others)
        ).text()
    return first if len(breaches) == 1 else Remark.of("and-more", first=first, more=len(breaches) - 1).text()


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
