"""The whole job by keyboard alone in the real window; the papers and the file are measured again by arithmetic."""

from __future__ import annotations

import csv
import json
import math
import zipfile
from pathlib import Path
from typing import Any

import pytest
from seat import told_by

PIECES = ["back-1", "front-1", "liner-back-1", "liner-front-1"]
# Common practice, no source: pages of 4.5 x 6 in, turn-ins of 15 mm, liners 3 mm from each edge of the board.
COVER_MM = (114.3 + 2 * 15.0, 152.4 + 2 * 15.0)
LINER_MM = (114.3 - 2 * 3.0, 152.4 - 2 * 3.0)
# A fat quarter.
WIDTH_MM, LENGTH_MM = 22 * 25.4, 18 * 25.4


def test_a_job_from_the_empty_window_to_the_papers(tmp_path: Path, window_environment: dict[str, str]) -> None:
    told = told_by("hands_on_the_keys.py", "job", tmp_path, window_environment)
    assert told["presses of the mouse"] == 0
    assert told["empty"]["said"] == "Nothing to judge yet"
    assert told["picture leads to"] == "Printed size"
    drawn(told)
    moved_and_pinned(told)
    assert told["side"] == "back"
    # 50 mm and 20 mm by arrows: the root of 2900 is 53.85, shown to 0.5; its slope is 21.80 degrees.
    assert told["measured"].startswith("54.0 mm: 50.0 mm across, 20.0 mm along, 21.8° off")
    assert (told["flip found"], told["side again"]) == ("Turn the cloth over", "print")
    assert told["take off found"] == "Take off the cloth"
    assert told["one waits"]["placed"] == ["back-1", "front-1", "liner-front-1"]
    assert told["one waits"]["said"] == "Incomplete"
    assert told["all lie"]["placed"] == PIECES
    assert told["all lie"]["said"] == "Fits"
    assert told["pinned lies"] == told["at guide"], "what is pinned stays while the rest is laid"
    assert told["saved"]["title"].startswith("keys –")
    papers(tmp_path, told)


def drawn(told: dict[str, Any]) -> None:
    """A stain of 4 steps of 10 mm and 5 of 0.1 mm across, 3 of 10 mm along."""
    assert told["flaw found"] == "Draw a stain"
    assert "R rectangle" in told["drawing says"]
    xs, ys = sorted({x for x, _ in told["flaw"]}), sorted({y for _, y in told["flaw"]})
    assert (len(told["flaw"]), len(xs), len(ys)) == (4, 2, 2)
    assert xs[1] - xs[0] == pytest.approx(40.5)
    assert ys[1] - ys[0] == pytest.approx(30.0)
    assert xs[0] > 0.0
    assert ys[0] > 0.0
    assert xs[1] < WIDTH_MM
    assert ys[1] < LENGTH_MM


def moved_and_pinned(told: dict[str, Any]) -> None:
    assert told["laid"]["placed"] == PIECES
    assert told["laid"]["said"] == "Fits"
    assert told["chosen"] == ["front-1"]
    (x, y), (moved_x, moved_y) = told["before"], told["moved"]
    assert (moved_x - x, moved_y - y) == pytest.approx((-10.0 + 2 * 0.1, -3.0))
    # The next guide to the left is the room wished for at the edge: 6 mm.
    assert told["guide"] == "Front cover: 6.0 mm room to the edge."
    assert told["at guide"] == pytest.approx([COVER_MM[0] / 2 + 6.0, moved_y])
    assert told["pinned"] == ["front-1"]
    assert told["pin says"].startswith("Front cover is pinned where it lies")
    assert told["held"] == told["at guide"]


def papers(folder: Path, told: dict[str, Any]) -> None:
    """Every row of the table against the places in the saved file: corner, place in the repeat, room to the others."""
    with zipfile.ZipFile(folder / "keys.coverlayout") as file:
        project = json.loads(file.read("project.json"))
    (layout,) = project["layouts"]
    places = {place["piece"]: place for place in layout["placements"]}
    assert layout["pinned"] == ["front-1"]
    assert {piece: [place["x_mm"], place["y_mm"]] for piece, place in places.items()} == told["places"]
    assert (project["cloths"][0]["width_mm"], project["cloths"][0]["length_mm"]) == pytest.approx((WIDTH_MM, LENGTH_MM))
    (a_print,) = project["prints"]
    assert a_print["lattice"] == {"a_mm": [64.0, 48.0], "b_mm": [0.0, 96.0]}, "64 x 96 mm in half-drop"
    with (folder / "papers" / "placement.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = {row["piece"]: row for row in csv.DictReader(file)}
    assert sorted(rows) == PIECES
    xs, ys = zip(*told["flaw"], strict=True)
    stain = min(xs), min(ys), max(xs), max(ys)
    lying = []
    for piece, row in rows.items():
        width, height = LINER_MM if piece.startswith("liner") else COVER_MM
        x, y = places[piece]["x_mm"], places[piece]["y_mm"]
        left, top = x - width / 2, y - height / 2
        assert (row["side"], row["state"], float(row["turn_deg"])) == ("print", "planned", 0.0)
        figures = [float(row[name]) for name in ("left_mm", "top_mm", "width_mm", "height_mm")]
        assert figures == pytest.approx([left, top, width, height], abs=0.0051), piece
        # The middle of the board less its place in the repeat is a whole number of repeats: 64 k across, 48 k + 96 j.
        off_x, off_y = x - float(row["repeat_x_mm"]), y - float(row["repeat_y_mm"])
        assert off_x / 64.0 == pytest.approx(round(off_x / 64.0), abs=1e-3)
        down = (off_y - 48.0 * round(off_x / 64.0)) / 96.0
        assert down == pytest.approx(round(down), abs=1e-3)
        lying.append((left, top, left + width, top + height))
    assert rows["front-1"]["left_mm"] == "6.00"
    for at, one in enumerate(lying):
        assert min(one[0], one[1], WIDTH_MM - one[2], LENGTH_MM - one[3]) >= 6.0 - 0.01
        assert all(apart(one, other) >= 6.0 - 0.01 for other in lying[at + 1 :])
        assert apart(one, stain) > 0.0


def apart(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """The straight-line distance between two upright rectangles; 0 where they touch or overlap."""
    across = max(one[0] - other[2], other[0] - one[2], 0.0)
    along = max(one[1] - other[3], other[1] - one[3], 0.0)
    return math.hypot(across, along)
