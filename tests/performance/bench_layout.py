"""How long a first layout, a proved room and a proved no take."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

from coverlayout.geometry.shapes import Region, bounds, rectangle
from coverlayout.layout.lay import lay
from coverlayout.layout.question import ClothAsked, Ground, PieceAsked, Question

IN = 25.4
ANY = (0.0, 90.0, 180.0, 270.0)


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
    """The budgets of the layout."""
    lay(job(12 * IN, 12 * IN, 1))
    return {
        "first_layout_1_ms": {"value": _first_ms(job(12 * IN, 12 * IN, 1)), "goal": 5.0},
        "first_layout_10_ms": {"value": _first_ms(job(54 * IN, 36 * IN, 10)), "goal": 50.0},
        "core_answer_ms": {"value": _whole_ms(job(12 * IN, 12 * IN, 1), "fits, tight"), "goal": 300.0},
        "proof_ms": {"value": _whole_ms(job(22 * IN, 18 * IN, 3), "does not fit"), "goal": 200.0},
    }


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
