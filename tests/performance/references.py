"""What a constraint solver and a packing library make of a packing job: the references beside our own figures."""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import rectpack
from packing_solver import book_pieces, solve

__all__ = ["Reference", "by_library", "by_solver", "is_upright"]

Json = dict[str, Any]
SECONDS = 10.0
# Real numbers as hundredths of a millimetre; the solver gets whole millimetres where all figures are whole.
PER_MM = 100
ALGORITHMS = (
    rectpack.MaxRectsBl, rectpack.MaxRectsBssf, rectpack.MaxRectsBaf, rectpack.MaxRectsBlsf, rectpack.SkylineBl,
    rectpack.SkylineBlWm, rectpack.SkylineMwf, rectpack.SkylineMwfl, rectpack.SkylineMwfWm, rectpack.SkylineMwflWm,
    rectpack.GuillotineBssfSas, rectpack.GuillotineBafMinas,
)  # fmt: skip
SORTS = (
    rectpack.SORT_AREA, rectpack.SORT_PERI, rectpack.SORT_DIFF, rectpack.SORT_SSIDE, rectpack.SORT_LSIDE,
    rectpack.SORT_RATIO, rectpack.SORT_NONE,
)  # fmt: skip


@dataclass(frozen=True)
class Reference:
    """A value (length, books, board width, room; 1 = fits, 0 = does not; None = nothing said), whether it is proved."""

    value: float | None
    proved: bool
    seconds: float


def by_solver(job: Json, seconds: float = SECONDS) -> Reference:
    """The solver's answer with two workers and so many seconds for the whole job; gaps at corners are relaxed."""
    start = time.perf_counter()
    value, proved = _by_question(job, lambda: max(seconds - (time.perf_counter() - start), 0.01))
    return Reference(value, proved, time.perf_counter() - start)


def _by_question(job: Json, left: Callable[[], float]) -> tuple[float | None, bool]:
    kind: Any = "must not" if job.get("gap_mm") or job["question"] == "room" else "may"
    if job["question"] == "least_length":
        said = solve(job, per_mm=_per_mm(job), kind=kind, least_length=True, seconds=left())
        return said.length_mm, said.optimal
    if job["question"] == "lay":
        fits = solve(job, per_mm=_per_mm(job), kind=kind, seconds=left()).fits
        return None if fits is None else float(fits), fits is not None
    if job["question"] == "count":
        board = tuple(job["book"]["board_mm"])
        return _count(lambda books: _fits(_listed(job, board, books), "may", left()))
    if job["question"] == "largest":
        rw, rh = job["book"]["board_ratio"]
        step, proved = _halved(
            round(40 * PER_MM / rw),
            round(300 * PER_MM / rw),
            lambda k: _fits(_listed(job, (rw * k / PER_MM, rh * k / PER_MM), 1), "may", left()),
        )
        return rw * step / PER_MM, proved
    step, proved = _halved(
        0, 60 * PER_MM, lambda k: _fits({**job, "gap_mm": k / PER_MM, "edge_mm": k / PER_MM}, kind, left())
    )
    return step / PER_MM, proved


def _per_mm(job: Json) -> int:
    sides = [piece.get(side, 0.5) for piece in job["pieces"] for side in ("width_mm", "height_mm")]
    more = [job["cloth"]["width_mm"], job["cloth"].get("length_mm") or 0, job.get("gap_mm", 0), job.get("edge_mm", 0)]
    return 1 if all(float(figure).is_integer() for figure in sides + more) else PER_MM


def _listed(job: Json, board: tuple[float, ...], books: int) -> Json:
    return {**job, "question": "lay", "pieces": book_pieces(job["book"], (board[0], board[1]), books)}


def _fits(job: Json, kind: Any, seconds: float) -> bool | None:
    return solve(job, per_mm=PER_MM, kind=kind, seconds=seconds).fits


def _count(fits: Callable[[int], bool | None]) -> tuple[float, bool]:
    for books in itertools.count(1):
        said = fits(books)
        if not said:
            return float(books - 1), said is False
    raise AssertionError


def _halved(low: int, high: int, fits: Callable[[int], bool | None]) -> tuple[int, bool]:
    while high - low > 1:
        middle = (low + high) // 2
        said = fits(middle)
        if said is None:
            return low, False
        low, high = (middle, high) if said else (low, middle)
    return low, True


def is_upright(job: Json) -> bool:
    """True for plain rectangles on a plain rectangle, which is all the library knows."""
    more = ("keep_outs", "zones", "phase_links", "prints")
    plain = not any(job.get(name) for name in more) and "outline_mm" not in job["cloth"]
    return plain and all("outline_mm" not in piece and "lock" not in piece for piece in job.get("pieces", ()))


def by_library(job: Json, seconds: float = SECONDS) -> Reference | None:
    """The library's best over its settings, halving the length; None for what it cannot be asked."""
    if not is_upright(job) or job["question"] not in ("least_length", "lay"):
        return None
    start = time.perf_counter()
    best: float | None = None
    for algorithm, sort in itertools.product(ALGORITHMS, SORTS):
        if time.perf_counter() - start > seconds:
            break
        best = _shortest(job, algorithm, sort, best)
    took = time.perf_counter() - start
    if job["question"] == "lay":
        enough = best is not None and best <= job["cloth"]["length_mm"] + 1e-6
        return Reference(1.0 if enough else None, enough, took)
    return Reference(best, False, took)


def _shortest(job: Json, algorithm: Any, sort: Any, best: float | None) -> float | None:
    """The least length this setting reaches below the best so far, by halving."""
    area = sum(piece["width_mm"] * piece["height_mm"] for piece in job["pieces"])
    low = int(area / job["cloth"]["width_mm"] * PER_MM)
    high = int(best * PER_MM) - 1 if best is not None else 3 * low + 400 * PER_MM
    if best is not None and not _packs(job, high, algorithm, sort):
        return best
    while high - low > PER_MM // 20:
        middle = (low + high) // 2
        if _packs(job, middle, algorithm, sort):
            best, high = middle / PER_MM, middle
        else:
            low = middle
    return best


def _packs(job: Json, length: int, algorithm: Any, sort: Any) -> bool:
    """Pieces grown by the gap, cloth by one gap and less its edges; turned only when every piece may be."""
    gap, edge = round(job.get("gap_mm", 0) * PER_MM), round(job.get("edge_mm", 0) * PER_MM)
    turns = all(90 in piece["turns"] for piece in job["pieces"])
    packer = rectpack.newPacker(mode=rectpack.PackingMode.Offline, pack_algo=algorithm, sort_algo=sort, rotation=turns)
    packer.add_bin(round(job["cloth"]["width_mm"] * PER_MM) - 2 * edge + gap, max(length - 2 * edge, 1) + gap)
    for piece in job["pieces"]:
        packer.add_rect(round(piece["width_mm"] * PER_MM) + gap, round(piece["height_mm"] * PER_MM) + gap)
    packer.pack()
    return len(packer.rect_list()) == len(job["pieces"])
