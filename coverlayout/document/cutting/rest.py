"""The question that lays what waits while the rest stays where it lies, and what is said of its answer.

Planned pieces that stay are still to be cut, so they count for the room. The search itself is in still_had.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from coverlayout.book.pieces import Piece
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for, placed_now, planned_pieces, question_for
from coverlayout.errors import Remark
from coverlayout.geometry.tolerance import SAME_LENGTH_MM
from coverlayout.layout.answer import Answer, Report
from coverlayout.layout.question import Question
from coverlayout.layout.rules import Judge

__all__ = ["RestAsked", "Staying", "StillHad", "WholeBook", "rest_asked", "staying_in", "told", "with_staying"]


@dataclass(frozen=True)
class WholeBook:
    """A copy of a book of which pieces are asked for: laying these makes it whole."""

    name: str
    pieces: tuple[str, ...]


@dataclass(frozen=True)
class RestAsked:
    """Lay the pieces of the question; `books` are the copies they belong to. `staying` counts what stays uncut.

    `moved` asks the same with all that stays uncut, pinned pieces aside, free to move; None where nothing could.
    """

    question: Question
    books: tuple[WholeBook, ...] = ()
    staying: int = 0
    moved: Question | None = None


@dataclass(frozen=True)
class StillHad:
    """What was found: `answer` places all that room was found for, `whole` answers for everything asked.

    `books` are the names of the copies that become whole, `pieces` the ids placed beyond those, `missing` the ids that
    go without a place. `cut_short`: time ran out, or somebody stopped it. `staying` as in RestAsked: what cannot be
    done cannot be done while these stay. `moved` answers for everything when the `loose` ones of those may move too;
    None when it was not asked, or its search was ended.
    """

    answer: Answer
    whole: Answer
    books: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    cut_short: bool = False
    staying: int = 0
    loose: int = 0
    moved: Answer | None = None


def rest_asked(
    project: Project, pieces: Iterable[str] | None = None, *, steps: int | None = None, seconds: float | None = None
) -> RestAsked:
    """Lay what waits, or only the pieces named, while everything else that lies on a cloth stays where it is.

    A named piece that lies already may be laid elsewhere, unless it is pinned. Raises BadInput as `question_for` does.
    """
    lying = {placed.piece for placed in placed_now(project)}
    planned = planned_pieces(project)
    if pieces is None:
        wanted = frozenset(piece.id for piece in planned if piece.id not in lying)
    else:
        wanted = frozenset(pieces) - set(project.layout.pinned)
    staying = lying - wanted
    question = question_for(project, pieces=wanted, staying=staying)
    question = replace(question, steps=question.steps if steps is None else steps, seconds=seconds)
    moved = _with_loose(project, question, wanted | staying) if staying - set(project.layout.pinned) else None
    return RestAsked(question, _whole_books(project, planned, wanted, lying), len(staying), moved)


def _with_loose(project: Project, question: Question, pieces: frozenset[str]) -> Question:
    """The question for these pieces, of which only the pinned ones stay."""
    asked = question_for(project, pieces=pieces, staying=project.layout.pinned)
    return replace(asked, steps=question.steps, seconds=question.seconds)


def _whole_books(
    project: Project, planned: tuple[Piece, ...], wanted: frozenset[str], lying: set[str]
) -> tuple[WholeBook, ...]:
    """The copies that become whole with what is asked for, those that need the fewest pieces first."""
    needed: dict[tuple[str, int], list[str]] = {}
    never_whole: set[tuple[str, int]] = set()
    for piece in planned:
        if piece.book_id is None or piece.volume is None:
            continue
        copy = piece.book_id, piece.volume
        if piece.id in wanted:
            needed.setdefault(copy, []).append(piece.id)
        elif piece.id not in lying:
            never_whole.add(copy)
    books = {book.id: book for book in project.books}
    found = [
        WholeBook(_copy_name(books[book_id].name, volume, len(books[book_id].volumes)), tuple(ids))
        for (book_id, volume), ids in needed.items()
        if (book_id, volume) not in never_whole
    ]
    return tuple(sorted(found, key=lambda book: len(book.pieces)))


def _copy_name(name: str, volume: int, copies: int) -> str:
    return f"{name} {volume}" if copies > 1 else name


def told(had: StillHad, said: Callable[[Remark], str] = Remark.text) -> str:
    """What the maker should be told, as `said` words it; pieces stand in it by their ids.

    That it cannot be done is only said where that is proved.
    """
    if not had.missing:
        count = len(had.answer.placed)
        return said(Remark.of("rest-laid-one" if count == 1 else "rest-laid", count=count))
    found = _told_missing(had, said)
    return found if had.moved is None else f"{found} {said(_if_moved(had.moved, had.loose))}"


def _if_moved(answer: Answer, loose: int) -> Remark:
    if answer.placed:
        return Remark.of("rest-moved-fits-one" if loose == 1 else "rest-moved-fits", count=loose)
    return Remark("rest-moved-no" if answer.verdict == "does not fit" else "rest-moved-open")


def _told_missing(had: StillHad, said: Callable[[Remark], str]) -> str:
    found = ", ".join([*(f"{name} (whole)" for name in had.books), *had.pieces])
    if had.whole.verdict == "does not fit":
        some, none = ("rest-no-staying", "rest-no-none-staying") if had.staying else ("rest-no", "rest-no-none")
        figures = {"reason": said(had.whole.reason), "found": found, "staying": said(_stay(had.staying))}
        return said(Remark.of(some if found else none, **figures))
    return said(Remark.of("rest-found", found=found) if found else Remark("rest-found-none"))


@dataclass(frozen=True)
class Staying:
    """Planned pieces that stay where they lie: how many, the room they have, and which of them break a rule there.

    `lost_if_smaller` are those that break one only when the cloth comes out smaller by its doubt.
    """

    count: int = 0
    room_mm: float | None = None
    broken: tuple[str, ...] = ()
    lost_if_smaller: tuple[str, ...] = ()


def staying_in(project: Project, pieces: Iterable[str]) -> Staying:
    """Those of the pieces that lie in the layout being worked on, judged by themselves.

    Their room is the least distance among them, and from them to the edge: no layout in which they stay has more.
    """
    wanted = frozenset(pieces)
    lying = [placed for placed in placed_now(project) if placed.piece in wanted]
    if not lying:
        return Staying()
    judge = judge_for(project)
    report = judge.report(lying)
    broken = _breaking(report)
    lost: set[str] = set()
    if judge.question.cloths_if_smaller:
        smaller = replace(judge.question, cloths=judge.question.cloths_if_smaller, cloths_if_smaller=())
        lost = _breaking(Judge(smaller).report(lying)) - broken

    def of(some: set[str]) -> tuple[str, ...]:
        return tuple(one.piece for one in lying if one.piece in some)

    return Staying(len(lying), report.clearance_mm, of(broken), of(lost))


def _stay(count: int) -> Remark:
    return Remark.of("stays-one" if count == 1 else "stay-several", count=count)


def _breaking(report: Report) -> set[str]:
    return {piece for breach in report.breaches for piece in breach.pieces}


def with_staying(answer: Answer, staying: Staying, wish_mm: float) -> Answer:
    """The answer to a question in which pieces stay: its room is no more than theirs, and that is then proved.

    The verdict turns tight when their room is below `wish_mm` or they are lost on cloth smaller by its doubt, and `not
    found` when they break a rule where they lie.
    """
    if not staying.count:
        return answer
    told = replace(answer, notes=(*answer.notes, _stay(staying.count)))
    if answer.verdict not in ("fits", "fits, tight"):
        return told
    if staying.broken:
        reason = Remark.of("stay-wrong", pieces=", ".join(staying.broken))
        return replace(told, verdict="not found", proved=False, reason=reason, proof=None)
    # Where every piece stays there was none to lay, and so no room was found yet.
    if staying.room_mm is not None and (answer.spare_mm is None or answer.spare_mm >= staying.room_mm):
        told = _capped(told, staying.room_mm, wish_mm)
    return _in_doubt(told, staying) if staying.lost_if_smaller else told


def _capped(answer: Answer, room_mm: float, wish_mm: float) -> Answer:
    clearance_mm = room_mm if answer.clearance_mm is None else min(answer.clearance_mm, room_mm)
    capped = replace(
        answer,
        reason=_no_more_than(answer.reason, room_mm),
        notes=(*answer.notes, Remark.of("stay-with-room", room_mm=room_mm)),
        spare_mm=room_mm,
        spare_proved=True,
        clearance_mm=clearance_mm,
        proof=None,
    )
    if room_mm >= wish_mm - SAME_LENGTH_MM:
        return capped
    return replace(capped, verdict="fits, tight", reason=Remark.of("lay-tight", spare_mm=room_mm, wish_mm=wish_mm))


def _no_more_than(reason: Remark, room_mm: float) -> Remark:
    """The reason, where it tells of room, with no more of it than there is."""
    figures = tuple(
        (name, min(figure, room_mm) if name in ("spare_mm", "clearance_mm") and isinstance(figure, float) else figure)
        for name, figure in reason.figures
    )
    return replace(reason, figures=figures)


def _in_doubt(answer: Answer, staying: Staying) -> Answer:
    """The answer when pieces that stay are lost on cloth smaller by its doubt."""
    note = Remark.of("stay-lost-if-smaller", pieces=", ".join(staying.lost_if_smaller))
    told = replace(answer, notes=(*answer.notes, note))
    if answer.verdict != "fits":
        return told
    return replace(told, verdict="fits, tight", reason=Remark.of("lay-tight-doubt", spare_mm=answer.spare_mm or 0.0))
