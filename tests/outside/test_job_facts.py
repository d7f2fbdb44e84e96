"""Job files with a known valid answer, read and judged: what is valid stays valid, a shift is named.

The instances are our own (packing instances with proved or witnessed answers; a validator that shares nothing with this
program accepts the answers and names the fault of each shifted one). Answers give the top-left of the turned piece.
"""

import json
from typing import Any

import pytest

from coverlayout.document.job import project_from_job
from coverlayout.document.questions import judge_for, planned_pieces
from coverlayout.geometry.frames import turn
from coverlayout.geometry.shapes import bounds
from coverlayout.layout.answer import Report
from coverlayout.layout.question import Placed

ANY = [0, 90, 180, 270]


def piece(piece_id: str, width: float, height: float, **more: Any) -> dict[str, Any]:
    return {"id": piece_id, "width_mm": width, "height_mm": height, "turns": [0], **more}


FIELDS = {"lock": {"offset_mm": [12, 20]}, "reference_mm": [69, 70], "print": "A"}
LOCKED = {
    "cloth": {"width_mm": 304.8, "length_mm": 304.8},
    "pieces": [
        piece("front", 138, 178, **FIELDS),
        piece("back", 138, 178, **FIELDS),
        piece("liner-1", 100, 136, turns=ANY),
        piece("liner-2", 100, 136, turns=ANY),
    ],
    "prints": {"A": {"a_mm": [72, 0], "b_mm": [36, 40], "origin_mm": [3, 8]}},
}
LOCKED_ANSWER = {
    "front": (18.0, 118.0, 0.0),
    "back": (162.0, 118.0, 0.0),
    "liner-1": (0.0, 0.0, 90.0),
    "liner-2": (136.0, 0.0, 90.0),
}
STAINED = {
    "cloth": {"width_mm": 312, "length_mm": 312},
    "pieces": [
        piece("front-1", 140, 178, print="A"),
        piece("back-1", 140, 178, print="A"),
        piece("liner-1-1", 100, 138, turns=ANY, print="A"),
        piece("liner-1-2", 100, 138, turns=ANY, print="A"),
    ],
    "keep_outs": [{"name": "stain", "outline_mm": [[156, 177], [165, 186], [156, 195], [147, 186]]}],
    "prints": {"A": {"a_mm": [48, 0], "b_mm": [0, 60], "origin_mm": [0, 0]}},
    "phase_links": [{"pieces": ["front-1", "back-1"]}],
}
STAINED_ANSWER = {
    "front-1": (13.0, 0.0, 0.0),
    "back-1": (157.0, 0.0, 0.0),
    "liner-1-1": (20.0, 197.0, 90.0),
    "liner-1-2": (158.0, 195.0, 270.0),
}
SPACED = {
    "question": "least_length",
    "cloth": {"width_mm": 340, "length_mm": 167},
    "gap_mm": 2,
    "edge_mm": 3,
    "pieces": [
        piece("spine-1", 39, 138, turns=ANY),
        piece("spine-2", 47, 175, turns=ANY),
        piece("liner-3", 80, 100, turns=ANY),
        piece("liner-4", 80, 100, turns=ANY),
        piece("spine-5", 38, 145, turns=ANY),
        piece("liner-6", 103, 101, turns=ANY),
    ],
}
SPACED_ANSWER = {
    "spine-1": (189.0, 85.0, 90.0),
    "spine-2": (12.0, 108.0, 90.0),
    "liner-3": (106.0, 3.0, 0.0),
    "liner-4": (188.0, 3.0, 90.0),
    "spine-5": (189.0, 126.0, 90.0),
    "liner-6": (3.0, 3.0, 90.0),
}


def judged(job: dict[str, Any], answer: dict[str, tuple[float, float, float]]) -> Report:
    project = project_from_job(json.dumps({"format": "packing-instance-1", **job}).encode(), "job.json")
    placed = []
    for made in planned_pieces(project):
        left_mm, top_mm, turn_deg = answer[made.id]
        box = bounds(turn(turn_deg).ring(made.outline_mm))
        x_mm, y_mm = turn(turn_deg).at(made.anchor_mm)
        placed.append(Placed(made.id, "cloth-1", left_mm - box.left_mm + x_mm, top_mm - box.top_mm + y_mm, turn_deg))
    return judge_for(project).report(placed)


@pytest.mark.parametrize(
    ("job", "answer"), [(LOCKED, LOCKED_ANSWER), (STAINED, STAINED_ANSWER), (SPACED, SPACED_ANSWER)]
)
def test_known_answers_are_valid(job: dict[str, Any], answer: dict[str, tuple[float, float, float]]) -> None:
    report = judged(job, answer)
    assert report.breaches == ()
    assert report.waiting == ()


@pytest.mark.parametrize(
    ("job", "answer", "moved", "by", "rule"),
    [
        (LOCKED, LOCKED_ANSWER, "back", (0.2, 0.0), "lock"),
        (STAINED, STAINED_ANSWER, "back-1", (0.2, 0.0), "link"),
        (STAINED, STAINED_ANSWER, "liner-1-1", (30.0, -12.0), "flaw"),
        (SPACED, SPACED_ANSWER, "liner-4", (-0.5, 0.0), "gap"),
        (SPACED, SPACED_ANSWER, "liner-6", (-0.5, 0.0), "outside"),
        (SPACED, SPACED_ANSWER, "liner-3", (0.0, 10.0), "overlap"),
    ],
)
def test_a_shifted_piece_breaks_the_rule_it_should(
    job: dict[str, Any],
    answer: dict[str, tuple[float, float, float]],
    moved: str,
    by: tuple[float, float],
    rule: str,
) -> None:
    left_mm, top_mm, turn_deg = answer[moved]
    report = judged(job, {**answer, moved: (left_mm + by[0], top_mm + by[1], turn_deg)})
    assert rule in {breach.rule for breach in report.breaches if moved in breach.pieces}
