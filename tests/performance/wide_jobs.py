"""Larger questions that a maker waits for: whole ladders, print scales, every print origin, ten books, 200 pieces."""

from __future__ import annotations

import json
import math
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from packing_asking import decided, first_seconds, said_by_command

from coverlayout.app.command_line import BAD_INPUT
from coverlayout.document.job import project_from_job
from coverlayout.document.project import Project
from coverlayout.document.questions import question_for
from coverlayout.layout.lay import lay

__all__ = ["books_on", "many_pieces", "ten_books", "wide_figures"]

Json = dict[str, Any]
ANY = [0, 90, 180, 270]
IN = 25.4
BOOK = ("--structure", "separate-boards", "--page", "4.5x6in", "--liner-turns", "quarter")


def wide_figures() -> dict[str, dict[str, float]]:
    """Seconds (and MB) of the larger questions; infinite where the answer is not what it must be."""
    seconds, megabytes = _in_a_child()
    return {
        "every_origin_s": {"value": _every_origin_s(), "goal": 1.0},
        "scale_50_s": {"value": _verb_s("scale", _scales_right, "--repeat", "50mm x 64mm"), "goal": 5.0},
        "cuts_ladder_s": {"value": _verb_s("cuts", _cuts_right), "goal": 2.0},
        "ten_books_two_prints_first_s": {"value": first_seconds(ten_books()), "goal": 0.2},
        "many_pieces_200_s": {"value": seconds, "goal": 2.0},
        "many_pieces_200_mb": {"value": megabytes, "goal": 500.0},
        "six_books_refused_s": {"value": _refused_s(books_on(6, 44 * IN, 18 * IN)), "goal": 0.2},
    }


def _book(number: int, of_print: str | None = None) -> list[Json]:
    """A book of separate boards, pages 4.5 x 6 in, turn-in 15 mm, liners inset 3 mm and free to turn."""
    more = {} if of_print is None else {"print": of_print}
    covers = [("front", 144.3, 182.4, [0]), ("back", 144.3, 182.4, [0])]
    liners = [("liner-front", 108.3, 146.4, ANY), ("liner-back", 108.3, 146.4, ANY)]
    return [
        {"id": f"{name}-{number}", "width_mm": width, "height_mm": height, "turns": turns, **more}
        for name, width, height, turns in covers + liners
    ]


def _ring(left: float, top: float, width: float, height: float) -> list[list[float]]:
    return [[left, top], [left + width, top], [left + width, top + height], [left, top + height]]


def books_on(books: int, width_mm: float, length_mm: float) -> Json:
    """So many books on a cut of plain cloth, covers and liners free to turn."""
    pieces = [{**piece, "turns": ANY} for number in range(1, books + 1) for piece in _book(number)]
    return _job("books", width_mm, length_mm, pieces)


def _job(name: str, width_mm: float, length_mm: float, pieces: list[Json], **more: Any) -> Json:
    cloth = {"width_mm": width_mm, "length_mm": length_mm}
    return {"format": "packing-instance-1", "id": name, "question": "lay", "cloth": cloth, "pieces": pieces, **more}


def ten_books() -> Json:
    """Five books from each of two prints on one cloth, each book's covers in one phase, three flaws in the way."""
    pieces = [piece for number in range(1, 11) for piece in _book(number, "waves" if number <= 5 else "seeds")]
    zones = [
        {"print": "waves", "outline_mm": _ring(0, 0, 740, 880)},
        {"print": "seeds", "outline_mm": _ring(760, 0, 740, 880)},
    ]
    prints = {
        "waves": {"a_mm": [64, 0], "b_mm": [0, 48], "origin_mm": [5, 3]},
        "seeds": {"a_mm": [50, 24], "b_mm": [0, 48], "origin_mm": [765, 7]},
    }
    stains = [(330, 210, 9), (520, 610, 7), (1_100, 400, 12)]
    flaws = [
        {"name": f"stain-{k}", "outline_mm": [[x, y - r], [x + r, y], [x, y + r], [x - r, y]]}
        for k, (x, y, r) in enumerate(stains)
    ]
    links = [{"pieces": [f"front-{number}", f"back-{number}"]} for number in range(1, 11)]
    return _job("ten-books", 1_500, 880, pieces, zones=zones, prints=prints, keep_outs=flaws, phase_links=links)


def many_pieces(count: int = 200) -> Json:
    """Fifty books, or pieces for as many, on a wide cloth: about four fifths of it are used."""
    pieces = [piece for number in range(1, count // 4 + 1) for piece in _book(number)]
    return _job("many-pieces", 1_500, 3_500, pieces)


def _every_origin() -> Project:
    """One book with both covers in one phase and the front locked to the print, on cloth whose origin is not known."""
    pieces = [{**piece, "print": "waves"} for piece in _book(1)]
    pieces[0] = {**pieces[0], "lock": {"offset_mm": [12, 20]}}
    prints = {"waves": {"a_mm": [50, 0], "b_mm": [0, 64], "origin_mm": [0, 0]}}
    job = _job("origins", 22 * IN, 18 * IN, pieces, prints=prints, phase_links=[{"pieces": ["front-1", "back-1"]}])
    project = project_from_job(json.dumps(job).encode(), "origins.json")
    cloth = project.cloths[0]
    assert cloth.laid is not None
    return replace(project, cloths=(replace(cloth, laid=replace(cloth.laid, origin_known=False)),))


def _every_origin_s() -> float:
    question = question_for(_every_origin())
    start = time.perf_counter()
    answer = lay(question)
    took = time.perf_counter() - start
    return took if answer.verdict != "not found" else math.inf


def _refused_s(job: Json) -> float:
    answer, took = decided(job)
    return took if answer.verdict == "does not fit" else math.inf


def _verb_s(verb: str, right: Callable[[Json], bool], *more: str) -> float:
    """Seconds of a verb about one book on a foot of cloth; infinite when it says nothing or something else."""
    with tempfile.TemporaryDirectory() as folder:
        project = str(Path(folder) / "book.coverlayout")
        new = ("new", project, "--cloth", "12x12in", *BOOK, *_printed(folder, more))
        code, _, trouble = said_by_command(*new)
        assert code == 0, trouble
        start = time.perf_counter()
        code, told, _ = said_by_command(verb, project, "--json")
        took = time.perf_counter() - start
    return took if code != BAD_INPUT and right(json.loads(told)) else math.inf


def _printed(folder: str, more: tuple[str, ...]) -> tuple[str, ...]:
    if not more:
        return ()
    from PIL import Image  # noqa: PLC0415  only where a print is needed

    tile = Path(folder) / "tile.png"
    Image.new("RGB", (50, 64), (180, 90, 40)).save(tile)
    return ("--print", str(tile), *more, "--wish", "back the same as front")


def _scales_right(told: Json) -> bool:
    """At 100 % a repeat of 50 x 64 mm holds both covers in one phase on a foot of cloth; some scale is the best."""
    return len(told["scales"]) >= 50 and told["best"] is not None


def _cuts_right(told: Json) -> bool:
    return told["least"] is not None and all(cut["verdict"] != "not found" for cut in told["cuts"])


def _in_a_child() -> tuple[float, float]:
    """Seconds to an answer about 200 pieces, and the most memory of a process that does nothing else."""
    done = subprocess.run([sys.executable, __file__], stdout=subprocess.PIPE, text=True, check=True)
    seconds, megabytes = json.loads(done.stdout)
    return (math.inf if seconds is None else seconds), megabytes


def _measure_many() -> None:
    answer, seconds = decided(many_pieces())
    lay(replace(question_for(project_from_job(json.dumps(many_pieces()).encode(), "many")), seconds=5.0))
    megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    laid = answer.verdict in ("fits", "fits, tight")
    sys.stdout.write(json.dumps([seconds if laid else None, megabytes]))


if __name__ == "__main__":
    _measure_many()
