"""From what a search knows to an answer: the verdict, its reason in one sentence, and the notes."""

from __future__ import annotations

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point, turns_apart_deg
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Answer, Proof, Report, Verdict
from coverlayout.layout.question import Ground, Placed, Question

__all__ = ["answer_of"]

_NO_CODES = {
    "area": "lay-no-area",
    "fits nowhere": "lay-no-place",
    "side by side": "lay-no-row",
    "slice bound": "lay-no-slices",
    "exhaustive": "lay-no-way",
}


def answer_of(
    question: Question,
    *,
    shown: tuple[tuple[Placed, ...], Report] | None,
    spare_mm: float | None,
    spare_proved: bool,
    proof: Proof | None,
    lost_if_smaller: str | None = None,
    cut_short: bool = False,
) -> Answer:
    """The answer to the question. `shown`: the layout and the judge's report on it, None when none is known.

    `spare_mm`: the most room known; `lost_if_smaller`: "proved" or "not found" when the job is lost on the cloths
    smaller by their doubt.
    """
    if shown is None:
        return _none(question, proof, cut_short)
    placed, report = shown
    verdict, reason = _verdict(question, report, spare_mm, spare_proved, lost_if_smaller)
    return Answer(
        verdict,
        proved=True,
        reason=reason,
        proof=Proof("exhaustive") if spare_proved else None,
        notes=(*_smaller_note(lost_if_smaller), *_turns(question, placed)),
        placed=placed,
        used_percent=report.used_percent,
        clearance_mm=report.clearance_mm,
        spare_mm=spare_mm,
        spare_proved=spare_proved,
        cut_short=cut_short,
        question_number=question.number,
    )


def _none(question: Question, proof: Proof | None, cut_short: bool) -> Answer:
    number = question.number
    if proof is not None:
        reason = Remark(_no_code(proof), _shown_figures(proof))
        return Answer("does not fit", True, reason, proof, cut_short=cut_short, question_number=number)
    code = "lay-not-found-yet" if cut_short else "lay-not-found"
    notes = _unknown_origin(question)
    return Answer("not found", False, Remark.of(code), None, notes, cut_short=cut_short, question_number=number)


def _no_code(proof: Proof) -> str:
    """The sentence of a proof: a piece that fits nowhere may be too large, lack any ground, or find no clear spot."""
    if proof.name != "fits nowhere":
        return _NO_CODES[proof.name]
    figures = dict(proof.figures)
    piece, ground = (sorted(float(figures[f"{of}{side}_mm"]) for side in ("width", "height")) for of in ("", "ground_"))
    if ground[0] <= 0.0:
        return "lay-no-ground"
    larger = any(mine > there for mine, there in zip(piece, ground, strict=True))
    return _NO_CODES[proof.name] if larger else "lay-no-place-between"


def _shown_figures(proof: Proof) -> tuple[tuple[str, float | str], ...]:
    """The proof's figures for its sentence: areas in square centimetres, counts whole."""
    shown: list[tuple[str, float | str]] = []
    for name, value in proof.figures:
        if name in ("width_mm", "height_mm"):
            shown.append((f"piece_{name}", value))
        elif name.endswith("_mm2") and isinstance(value, float):
            shown.append((name.removesuffix("_mm2") + "_cm2", f"{value / 100:.1f}"))
        elif isinstance(value, float) and not name.endswith("_mm"):
            shown.append((name, f"{value:g}"))
        else:
            shown.append((name, value))
    return tuple(shown)


def _verdict(
    question: Question, report: Report, spare_mm: float | None, spare_proved: bool, lost_if_smaller: str | None
) -> tuple[Verdict, Remark]:
    wish_mm = question.spare_wish_mm
    if spare_mm is None:
        return "fits", Remark.of("lay-nothing-asked")
    if spare_mm < wish_mm - SAME_LENGTH_MM:
        code = "lay-tight" if spare_proved else "lay-tight-known"
        return "fits, tight", Remark.of(code, spare_mm=spare_mm, wish_mm=wish_mm)
    if lost_if_smaller is not None:
        code = "lay-tight-doubt" if lost_if_smaller == "proved" else "lay-tight-doubt-open"
        return "fits, tight", Remark.of(code, spare_mm=spare_mm)
    clearance_mm = spare_mm if report.clearance_mm is None else report.clearance_mm
    return "fits", Remark.of("lay-fits", clearance_mm=clearance_mm)


def _smaller_note(lost_if_smaller: str | None) -> tuple[Remark, ...]:
    if lost_if_smaller is None:
        return ()
    return (Remark.of("lay-smaller-no" if lost_if_smaller == "proved" else "lay-smaller-not-found"),)


def _turns(question: Question, placed: tuple[Placed, ...]) -> tuple[Remark, ...]:
    """Which pieces lie turned from the ground's up in a way that tells.

    By a quarter: across the grain, and with a print the motif sideways. By a half on a one-way print: head down.
    """
    noted: dict[str, list[str]] = {"lay-quarter-turn": [], "lay-quarter-turn-print": [], "lay-head-down": []}
    grounds = {cloth.id: cloth.grounds for cloth in question.cloths}
    pieces = {piece.id: piece for piece in question.pieces}
    for one in placed:
        ground = _ground_of(grounds[one.cloth], pieces[one.piece].print_id, (one.x_mm, one.y_mm))
        off_deg = 0.0 if ground is None else turns_apart_deg(one.turn_deg, ground.up_deg)
        if ground is not None and abs(off_deg - 90.0) <= SAME_TURN_DEG:
            noted["lay-quarter-turn" if ground.print_id is None else "lay-quarter-turn-print"].append(one.piece)
        elif ground is not None and ground.one_way and off_deg >= 180.0 - SAME_TURN_DEG:
            noted["lay-head-down"].append(one.piece)
    return tuple(Remark.of(code, pieces=", ".join(names)) for code, names in noted.items() if names)


def _ground_of(grounds: tuple[Ground, ...], print_id: str | None, at_mm: Point) -> Ground | None:
    """The ground a piece of this print lies on: where several carry the print, the one under its anchor."""
    own = [ground for ground in grounds if print_id in (None, ground.print_id)]
    return next((ground for ground in own if len(own) > 1 and ground.usable.contains(at_mm)), next(iter(own), None))


def _unknown_origin(question: Question) -> tuple[Remark, ...]:
    locked = any(lock.must for lock in question.locks)
    unknown = any(not ground.origin_known for cloth in question.cloths for ground in cloth.grounds)
    return (Remark.of("lay-origin-unknown"),) if locked and unknown else ()
