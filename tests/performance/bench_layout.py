"""How long a first layout, a proved room and a proved no take; with shared instances, how many of them are settled."""

from __future__ import annotations

import json
import statistics
import time
from pathlib import Path
from typing import Any

from coverlayout.geometry.frames import IDENTITY, shift
from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import lay
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, Link, Lock, PieceAsked, Question
from coverlayout.motif.lattice import Lattice

IN = 25.4
ANY = (0.0, 90.0, 180.0, 270.0)
Json = dict[str, Any]


def job(width_mm: float, length_mm: float, books: int) -> Question:
    """Separate boards with pages of 4.5 x 6 in, 15 mm turn-in, liners inset 3 mm and free to turn."""
    pieces = []
    for number in range(1, books + 1):
        for name, size, turns in (
            ("front", (144.3, 182.4), (0.0,)),
            ("back", (144.3, 182.4), (0.0,)),
            ("liner-front", (108.3, 146.4), ANY),
            ("liner-back", (108.3, 146.4), ANY),
        ):
            outline = rectangle(*size)
            pieces.append(PieceAsked(f"{name}-{number}", outline, bounds(outline).middle, turns))
    outline = rectangle(width_mm, length_mm)
    return Question(tuple(pieces), (ClothAsked("c", "cloth", outline, (Ground("g", Region.of(outline)),)),))


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """The budgets of the layout; with the folder of shared instances also the share of them settled rightly."""
    lay(job(12 * IN, 12 * IN, 1))
    found = {
        "first_layout_1_ms": {"value": _first_ms(job(12 * IN, 12 * IN, 1)), "goal": 5.0},
        "first_layout_10_ms": {"value": _first_ms(job(54 * IN, 36 * IN, 10)), "goal": 50.0},
        "core_answer_ms": {"value": _whole_ms(job(12 * IN, 12 * IN, 1), "fits, tight"), "goal": 300.0},
        "proof_ms": {"value": _whole_ms(job(22 * IN, 18 * IN, 3), "does not fit"), "goal": 200.0},
    }
    folder = None if shared is None else shared / "benchmarks" / "packing"
    if folder is not None and folder.is_dir():
        for name, instances, goal in (("small", SMALL, 100.0), ("wider", WIDER, 60.0)):
            settled = 100 * statistics.mean(_is_settled(folder, instance) for instance in instances)
            found[f"layouts_{name}_settled_percent"] = {"value": settled, "goal": goal, "more_is_better": True}
    return found


def _first_ms(question: Question) -> float:
    return statistics.median(_once_to_first_ms(question) for _ in range(9))


def _once_to_first_ms(question: Question) -> float:
    first: list[float] = []
    start = time.perf_counter()
    lay(question, lambda _share: bool(first), lambda _answer: first.append(time.perf_counter()))
    return (first[0] - start) * 1e3


def _whole_ms(question: Question, verdict: str) -> float:
    times = []
    for _ in range(5):
        start = time.perf_counter()
        answer = lay(question)
        times.append((time.perf_counter() - start) * 1e3)
        if answer.verdict != verdict:
            return float("inf")
    return statistics.median(times)


# Instances that one or two layings settle: a few pieces, and such with locks, links, zones, polygons or many pieces.
SMALL = (*(f"own-small-{k}" for k in (1, 2, 3, 4)), "own-room-1", "three-sixes", "own-flaws-1", "own-flaws-2")
WIDER = (
    "own-flaws-3", "own-lock-1", "own-phase-48", "own-phase-50", "own-phase-64", "own-polygons-1", "own-zones-1",
    "own-zones-2", "n1", "n2", "c1-p1", "kendall-13", "own-zero-1",
)  # fmt: skip


def _is_settled(folder: Path, name: str) -> bool:
    """True when the layout says of an instance what is known to be true; nothing wrong is counted as settled."""
    instance = json.loads((folder / f"{name}.json").read_text(encoding="utf-8"))
    truth = json.loads((folder / "truth.json").read_text(encoding="utf-8"))[name]
    if "room_mm" in truth:
        answer = lay(question_of(instance))
        return answer.spare_proved and abs((answer.spare_mm or 0.0) - truth["room_mm"]) < 0.05
    if "length_mm" in truth:
        fits = lay(question_of(instance, truth["length_mm"]))
        shorter = lay(question_of(instance, truth["length_mm"] - 1.0))
        return _holds(fits) and shorter.verdict == "does not fit"
    answer = lay(question_of(instance))
    return _holds(answer) if truth["fits"] else answer.verdict == "does not fit"


def _holds(answer: Answer) -> bool:
    return answer.verdict in ("fits", "fits, tight")


def question_of(instance: Json, length_mm: float | None = None) -> Question:
    """A packing instance as a question; `length_mm` where the instance asks for it."""
    cloth = instance["cloth"]
    outline = rectangle(cloth["width_mm"], length_mm or cloth["length_mm"])
    usable = Region.of(outline).inset(instance["edge_mm"])
    keep_outs = tuple(
        KeepOut(flaw["name"], flaw["name"], Region.of(_ring(flaw["outline_mm"])), flaw.get("fine_in_turn_in", False))
        for flaw in instance.get("keep_outs", ())
    )
    zones = instance.get("zones", ())
    prints = instance.get("prints", {})
    grounds = [_ground(f"zone-{k}", Region.of(_ring(z["outline_mm"])), z["print"], prints) for k, z in enumerate(zones)]
    if not zones:
        grounds = [_ground("all", usable, next(iter(prints), None), prints)]
    asked = ClothAsked("cloth", "cloth", outline, tuple(grounds), keep_outs)
    pieces = tuple(_piece(piece, bool(zones)) for piece in instance["pieces"])
    return Question(pieces, (asked,), instance["gap_mm"], _locks(instance), _links(instance), spare_wish_mm=0.0)


def _ring(points: list[list[float]]) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in points)


def _ground(name: str, usable: Region, a_print: str | None, prints: Json) -> Ground:
    if a_print not in prints:
        return Ground(name, usable, a_print)
    record = prints[a_print]
    lattice = Lattice(tuple(record["a_mm"]), tuple(record["b_mm"]))
    return Ground(name, usable, a_print, 0.0, lattice, IDENTITY.then(shift(*record["origin_mm"])))


def _piece(record: Json, zoned: bool) -> PieceAsked:
    outline = (
        _ring(record["outline_mm"]) if "outline_mm" in record else rectangle(record["width_mm"], record["height_mm"])
    )
    seen = None
    if "board_mm" in record:
        left, top, width, height = record["board_mm"]
        seen = rectangle(width, height, left, top)
    middle = tuple(record.get("reference_mm", bounds(outline).middle))
    turns = tuple(float(turn) for turn in record["turns"])
    return PieceAsked(record["id"], outline, middle, turns, record.get("print") if zoned else None, seen_mm=seen)


def _locks(instance: Json) -> tuple[Lock, ...]:
    return tuple(
        Lock(piece["id"], _piece(piece, False).anchor_mm, tuple(piece["lock"]["offset_mm"]))
        for piece in instance.get("pieces", ())
        if "lock" in piece
    )


def _links(instance: Json) -> tuple[Link, ...]:
    points = {piece["id"]: _piece(piece, False).anchor_mm for piece in instance.get("pieces", ())}
    links = []
    for record in instance.get("phase_links", ()):
        names = tuple(record["pieces"])
        differences = record.get("differences_mm", [(0.0, 0.0)] * (len(names) - 1))
        links.append(Link(names, tuple(points[name] for name in names), tuple(map(tuple, differences))))
    return tuple(links)
