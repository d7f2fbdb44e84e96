"""What the strip says of a proposal and of the search for it, worked out before anything is painted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer
from coverlayout.ui.proposing.walk import Walk
from coverlayout.ui.verdict.words import Said, named
from coverlayout.units import LengthStyle

__all__ = ["proposal_said", "search_said"]

_TURNS = {
    "lay-quarter-turn": "proposal-across",
    "lay-quarter-turn-print": "proposal-across",
    "lay-head-down": "proposal-head-down",
}


def proposal_said(
    walk: Walk,
    wish_mm: float,
    names: Mapping[str, str],
    style: LengthStyle,
    note: str = "",
    *,
    length_mm: float | None = None,
    apart: str = "",
) -> Said:
    """The verdict of the layout that is shown in one sentence; `note` is said before it.

    `wish_mm`: the room the maker wishes for. Of the best layout the answer's own reason is said, of others their room.
    `length_mm`: the length of cloth it takes, where that is what counts. `apart`: what lies on several prints in it,
    though it is to match.
    """
    shown = walk.shown
    answer = shown.answer
    tight = _is_tight(answer, wish_mm) if shown.origin != "best" else answer.verdict == "fits, tight"
    if shown.origin == "best" and answer.verdict in ("fits", "fits, tight"):
        words = named(style.said(answer.reason), names)
    elif answer.clearance_mm is None:
        words = Remark("proposal-fits").text()
    else:
        words = style.said(Remark.of("tightest-place", room_mm=answer.clearance_mm))
    if length_mm is not None:
        words = f"{words}; {style.said(Remark.of('proposal-length', need_mm=length_mm))}"
    for code in dict.fromkeys(_TURNS[note.code] for note in answer.notes if note.code in _TURNS):
        count = sum(_count(each) for each in answer.notes if _TURNS.get(each.code) == code)
        words = f"{words}; {Remark.of(code, count=count).text()}"
    words = Remark.of("lies-apart", first=words, parts=apart).text() if apart else words
    words = f"{words[:1].upper()}{words[1:]}.{_missed(answer, names, style)}"
    told = Said("Fits, tight", "half ring", "tight", words) if tight else Said("Fits", "tick", "fits", words)
    return replace(told, sentence=f"{note} {told.sentence}") if note else told


def _missed(answer: Answer, names: Mapping[str, str], style: LengthStyle) -> str:
    """The wishes that the layout misses: the first of them whole, of others how many."""
    missed = [note for note in answer.notes if note.code.startswith("wish-unmet-")]
    if not missed:
        return ""
    words = named(style.said(missed[0]), names)
    more = len(missed) - 1
    said = f" {words[:1].upper()}{words[1:]}."
    if not more:
        return said
    return f"{said} {Remark.of('proposal-missed-more' if more > 1 else 'proposal-missed-one-more', more=more).text()}."


def _is_tight(answer: Answer, wish_mm: float) -> bool:
    return answer.clearance_mm is not None and answer.clearance_mm < wish_mm - SAME_LENGTH_MM


def _count(note: Remark) -> int:
    """How many pieces a note names."""
    return str(dict(note.figures).get("pieces", "")).count(",") + 1


def search_said(walk: Walk | None, share: float, style: LengthStyle, *, another: bool) -> Said:
    """How far a search is, 0 to 1, and the best it has found so far."""
    figures: dict[str, float | int] = {"percent": round(100 * min(max(share, 0.0), 1.0))}
    best = None if walk is None or another else walk.layouts[0].answer
    if best is not None and best.clearance_mm is not None:
        words = style.said(Remark.of("proposal-best-so-far", room_mm=best.clearance_mm, **figures))
    elif another:
        words = Remark.of("proposal-looking-for-another", **figures).text()
    else:
        words = Remark.of("proposal-looking", **figures).text()
    return Said("Laying out", "dots", "muted", words)
