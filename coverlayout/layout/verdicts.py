"""From what a search knows to an answer: the verdict, its reason in one sentence, and the notes."""

from __future__ import annotations

from collections.abc import Mapping

from coverlayout.errors import Remark
from coverlayout.geometry.frames import Point, turns_apart_deg
from coverlayout.geometry.tolerance import SAME_LENGTH_MM, SAME_TURN_DEG
from coverlayout.layout.answer import Answer, Proof, Report, Verdict
from coverlayout.layout.question import Ground, Placed, Question

__all__ = ["answer_of"]

_WISH_CODES = {
    "lock": "lay-no-locked",
    "two locks": "lay-no-two-locks",
    "two links": "lay-no-two-links",
    "locks and link": "lay-no-locks-and-link",
    "no turn": "lay-no-turn",
    "ring of links": "lay-no-ring",
    "chain between locks": "lay-no-chain",
}
# More pieces than this are counted in a sentence, not named.
_MOST_NAMED = 6


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
    """The sentence of a proof."""
    figures = dict(proof.figures)
    match proof.name:
        case "fits nowhere":
            return _nowhere_code(figures)
        case "side by side":
            return _beside_code(figures)
        case "slice bound":
            return "lay-no-slices-cloths" if _several(figures) else "lay-no-slices"
        case "area":
            return "lay-no-area"
        case "exhaustive":
            return "lay-no-way"


def _several(figures: Mapping[str, float | str]) -> bool:
    return float(figures.get("sheets", 1.0)) > 1.0


def _nowhere_code(figures: Mapping[str, float | str]) -> str:
    """A piece that fits nowhere may be held by wishes, be too large, lack any ground, or find no clear spot."""
    wish = figures.get("wish")
    if wish == "no repeat":
        return "lay-no-repeat-both" if "other" in figures else "lay-no-repeat"
    if wish == "lock" and not figures.get("tried"):
        return "lay-no-locked-none"
    if wish is not None:
        return _WISH_CODES[str(wish)]
    if "covered_by" in figures:
        return "lay-no-clear-ground"
    piece, ground = (sorted(float(figures[f"{of}{side}_mm"]) for side in ("width", "height")) for of in ("", "ground_"))
    if ground[0] <= 0.0:
        return "lay-no-ground"
    larger = any(mine > there for mine, there in zip(piece, ground, strict=True))
    return "lay-no-place" if larger else "lay-no-place-between"


def _beside_code(figures: Mapping[str, float | str]) -> str:
    """Pieces in a row, a pair, linked ones, or more than there are grounds."""
    sides = [(figures.get(f"need_{side}_mm"), figures.get(f"have_{side}_mm")) for side in ("width", "height")]
    over = [float(need) > float(have) for need, have in sides if need is not None and have is not None]
    match figures.get("wish"):
        case "link":
            return "lay-no-match" if any(over) else "lay-no-match-clear"
        case "pair":
            return "lay-no-pair" if over and all(over) else "lay-no-pair-clear"
    if "need_mm" not in figures:
        return "lay-no-row-most" if "way" in figures else "lay-no-crowd"
    return "lay-no-row-cloths" if _several(figures) else "lay-no-row"


def _shown_figures(proof: Proof) -> tuple[tuple[str, float | str], ...]:
    """The proof's figures for its sentence: areas in square centimetres, counts whole, long lists of names cut."""
    shown: list[tuple[str, float | str]] = []
    for name, value in proof.figures:
        if name in ("width_mm", "height_mm"):
            shown.append((f"piece_{name}", value))
        elif name.endswith("_mm2") and isinstance(value, float):
            shown.append((name.removesuffix("_mm2") + "_cm2", f"{value / 100:.{_area_digits(proof)}f}"))
        elif isinstance(value, float) and not name.endswith("_mm"):
            shown.append((name, f"{value:g}"))
        elif name == "pieces" and isinstance(value, str):
            shown.append((name, _named(value.split(", "))))
        else:
            shown.append((name, "lengthwise" if (name, value) == ("way", "along") else value))
    return tuple(shown)


def _area_digits(proof: Proof) -> int:
    """One digit of a square centimetre, or as many more as it takes to show that more is needed than there is."""
    areas = [value / 100 for name, value in proof.figures if name.endswith("_mm2") and isinstance(value, float)]
    return next((digits for digits in range(1, 5) if len({f"{area:.{digits}f}" for area in areas}) == len(areas)), 4)


def _named(pieces: list[str]) -> str:
    """A list of pieces as it is read: all of a few, the first of many with how many more there are."""
    if len(pieces) > _MOST_NAMED:
        return f"{', '.join(pieces[: _MOST_NAMED - 1])} and {len(pieces) - _MOST_NAMED + 1} more"
    return " and ".join([", ".join(pieces[:-1]), pieces[-1]]) if len(pieces) > 1 else pieces[0]


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
