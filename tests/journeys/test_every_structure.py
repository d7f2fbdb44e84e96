"""A book of every structure made in the real window from nothing, in well under a minute each; the same in inches."""

from __future__ import annotations

from pathlib import Path

import pytest
from seat import told_by

HANDS = "hands_on_every_structure.py"
LINERS = ["liner-back-1", "liner-front-1"]
CORNERS = ["corner-back-head-1", "corner-back-tail-1", "corner-front-head-1", "corner-front-tail-1"]
SIDES = ["side-back-1", "side-front-1"]
PIECES = {
    "separate-boards": ["back-1", "front-1", *LINERS],
    "exposed-spine-wrap": ["cover-1", *LINERS],
    "flat-case": ["cover-1", *LINERS],
    "rounded-case": ["cover-1", *LINERS],
    "quarter-case": [*LINERS, *SIDES, "spine-1"],
    "half-case": [*CORNERS, *LINERS, *SIDES, "spine-1"],
    "side-sewn": ["back-1", "front-1", *LINERS],
    "accordion": ["back-1", "front-1", *LINERS],
    "slipcase": ["wall-back-1", "wall-front-1", "wrap-1"],
}
IN_MM = 25.4


def test_each_structure_is_made_in_well_under_a_minute(tmp_path: Path, window_environment: dict[str, str]) -> None:
    told = told_by(HANDS, "structures", tmp_path, window_environment)["told"]
    assert set(told) == {*PIECES, "limp-wrap"}
    for structure, made in told.items():
        assert made["seconds"] < 20.0, structure
        assert made["pieces"] == PIECES.get(structure, made["pieces"]), structure
        assert made["pieces"]
        assert made["steps"] <= 3, "each gesture is one step of undo"
        assert "148 × 210 mm" in made["summary"]
        assert "turn-in 15.0 mm" in made["picture"] or structure == "slipcase"
    assert told["flat-case"]["summary"] == "Flat-back case, page 148 × 210 mm"
    assert "joint 10.0 mm" in told["flat-case"]["picture"]
    assert "cover-1" in told["limp-wrap"]["pieces"]


def test_in_inches_a_book_has_nice_figures_and_its_known_room(
    tmp_path: Path, window_environment: dict[str, str]
) -> None:
    told = told_by(HANDS, "inches", tmp_path, window_environment)["told"]
    # Two covers of 5 3/4 in and gaps on both sides and between: (12 - 11.5) / 3 = 1/6 in, 4.23 mm.
    assert told["spare_mm"] == pytest.approx(0.5 / 3 * IN_MM, abs=0.02)
    assert told["summary"] == "Separate boards, 8 sections, 128 pages"
    assert "folded to pages of 4 1/2 × 6 in" in told["answers"]
    # 5/8 in of turn-in on each side, 1/8 in of inset.
    assert told["sizes"]["front-1"] == pytest.approx([(4.5 + 1.25) * IN_MM, (6 + 1.25) * IN_MM])
    assert told["sizes"]["liner-front-1"] == pytest.approx([(4.5 - 0.25) * IN_MM, (6 - 0.25) * IN_MM])
    assert told["seconds"] < 60.0
