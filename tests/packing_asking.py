"""Asks the program about a packing job as a person at the keyboard would, in this process, and knows what is right."""

from __future__ import annotations

import contextlib
import io
import json
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from coverlayout.app.command_line import BAD_INPUT, main
from coverlayout.document.job import project_from_job
from coverlayout.document.questions import question_for
from coverlayout.layout.answer import Answer
from coverlayout.layout.lay import first_layout, lay
from coverlayout.layout.question import Question

__all__ = ["Said", "ask", "decided", "first_seconds", "question_of", "said_by_command", "standing"]

Json = dict[str, Any]
VERBS = {"least_length": "length", "count": "count", "largest": "largest", "lay": "lay", "room": "lay"}


@dataclass(frozen=True)
class Said:
    """What the program says: a verdict, places as a job's answer has them, and the verb's own figures."""

    verdict: str
    proved: bool
    seconds: float
    placements: list[Json] = field(default_factory=list)
    figures: Json = field(default_factory=dict)
    trouble: str = ""

    @property
    def answer(self) -> Json:
        """The answer as a checker of job files reads it."""
        return {"placements": self.placements, **self.figures}


def question_of(job: Json) -> Question:
    """The question to the layout that a job file poses."""
    return question_for(project_from_job(json.dumps(job).encode(), f"{job['id']}.json"))


def said_by_command(*words: str) -> tuple[int, str, str]:
    """Exit code, standard output and standard error of the command with these words."""
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    return code, out.getvalue(), err.getvalue()


def ask(job: Json, seconds: float = 10.0) -> Said:
    """The answer of the verb that the job asks for; `trouble` holds the sentence where there is none."""
    with tempfile.TemporaryDirectory() as folder:
        file, project = Path(folder) / f"{job['id']}.json", Path(folder) / "job.coverlayout"
        file.write_text(json.dumps(job), encoding="utf-8")
        code, _, trouble = said_by_command("new", str(project), "--job", str(file))
        if code == BAD_INPUT:
            return Said("bad input", False, 0.0, trouble=trouble.strip())
        start = time.perf_counter()
        words = (VERBS[job["question"]], str(project), "--json", "--seconds", f"{seconds:g}")
        code, told, trouble = said_by_command(*words)
        took = time.perf_counter() - start
    if code == BAD_INPUT:
        return Said("bad input", False, took, trouble=trouble.strip())
    return _read(job["question"], json.loads(told), took)


def _read(question: str, told: Json, took: float) -> Said:
    keys = ("piece", "x_mm", "y_mm", "turn_deg")
    places = [{key: piece[key] for key in keys} for piece in told.get("pieces") or ()]
    if question in ("lay", "room"):
        proved = told["spare_proved"] if question == "room" else told["proved"]
        figures = {"room_mm": told["spare_mm"]} if question == "room" else {}
        return Said(told["verdict"], proved, took, places, figures)
    if question == "least_length":
        known = told["length_mm"] is not None
        return Said("fits" if known else "not found", told["proved"], took, places, {"length_mm": told["length_mm"]})
    if question == "count":
        return Said("fits", told["proved_most"], took, places, {"books": told["books"]})
    board = [told["board_width_mm"], told["board_height_mm"]]
    return Said("fits" if board[0] else "not found", told["proved"], took, places, {"board_mm": board})


def decided(job: Json) -> tuple[Answer, float]:
    """Whether all can be laid: the first layout or the proof that there is none, and the seconds it took."""
    question = question_of(job)
    start = time.perf_counter()
    answer = first_layout(question)
    return answer, time.perf_counter() - start


def first_seconds(job: Json) -> float:
    """Seconds until `lay` shows its first layout."""
    question = question_of(job)
    first: list[float] = []
    start = time.perf_counter()
    lay(question, lambda _share: bool(first), lambda _answer: first.append(time.perf_counter()))
    return first[0] - start if first else float("inf")


def standing(job: Json, truth: Json, said: Said) -> tuple[str, float]:
    """How an answer stands: "right" (with proof where one is due), "short" of the truth by a share, or "wrong".

    "short" comes with the share that is missing, 0 where only the proof is; a refusal without proof is short, too.
    """
    if said.verdict == "bad input":
        return "short", 1.0
    if "fits" in truth:
        fits = said.verdict in ("fits", "fits, tight")
        if said.verdict == "not found":
            return "short", 1.0
        return ("right" if fits == truth["fits"] and said.proved else "wrong"), 0.0
    mine, best, more_is_better = _measures(truth, said)
    if mine is None:
        return "short", 1.0
    over = (mine / best - 1.0) * (1.0 if more_is_better else -1.0) if best else 0.0
    slack = 0.11 / best if "room_mm" in truth else 0.1 / best if "board_mm" in truth else 5e-5
    if over > slack:
        return "wrong", over
    return ("right" if over >= -slack and said.proved else "short"), max(-over, 0.0)


def _measures(truth: Json, said: Said) -> tuple[float | None, float, bool]:
    if "length_mm" in truth:
        return said.figures.get("length_mm"), truth["length_mm"], False
    if "books" in truth:
        return said.figures.get("books"), truth["books"], True
    if "board_mm" in truth:
        return (said.figures.get("board_mm") or [None])[0], truth["board_mm"][0], True
    return said.figures.get("room_mm"), truth["room_mm"], True
