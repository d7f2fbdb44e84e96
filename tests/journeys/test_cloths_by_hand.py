"""Cloths divided, traced and stained by hand in the real window, then laid out: figures checked against the hand's."""

from __future__ import annotations

from pathlib import Path

import pytest
from seat import told_by

HANDS = "hands_on_the_cloths.py"
PIECES = ["back-1", "front-1", "liner-back-1", "liner-front-1"]
# 42 x 36 in divided by 3 x 2.
WIDTH_MM, LENGTH_MM = 42 * 25.4 / 3, 36 * 25.4 / 2


def test_a_yard_with_six_areas(tmp_path: Path, window_environment: dict[str, str]) -> None:
    told = told_by(HANDS, "yard", tmp_path, window_environment)
    reeds = [[f"zone {k}", "print-1", 0.0] for k in (1, 2, 3, 4)]
    assert told["zones"] == [*reeds, ["shells", "print-2", 90.0], ["zone 6", "print-1", 0.0]]
    assert told["elsewhere"]["said"] == "Not valid"
    assert "front cover" in told["elsewhere"]["sentence"].lower()
    assert told["laid"]["placed"] == PIECES
    assert told["laid"]["said"] == "Fits"
    for piece, (x_mm, y_mm) in told["places"].items():
        # Covers in the first area; liners in the second of the second row, which bears shells.
        column, row = (1, 1) if piece.startswith("liner") else (0, 0)
        assert (x_mm // WIDTH_MM, y_mm // LENGTH_MM) == (column, row), piece
    assert told["one undo"] == ["front-1"]
    # Half of 36 in is 457.2: the line at 228.6 halves the first area; the new half takes the next number.
    assert told["cut"] == ["zone 1", "zone 5", "zone 2", "zone 3", "zone 4", "shells", "zone 6"]


def test_a_crooked_stained_leftover(tmp_path: Path, window_environment: dict[str, str]) -> None:
    told = told_by(HANDS, "leftover", tmp_path, window_environment)
    # Traced at 10, 15 / 470, 5 / 480, 430 / 20, 440: the box begins at 10, 5.
    assert told["outline"] == [[0.0, 10.0], [460.0, 0.0], [470.0, 425.0], [10.0, 435.0]]
    (stain, crease) = told["flaws"]
    assert stain[:2] == ["stain", 0.0]
    # Pressed by mouse, so within a pixel (2 mm at this size); the third point was then typed.
    for at, meant in zip(stain[2], ((200.0, 205.0), (250.0, 212.0), (230.0, 240.0)), strict=True):
        assert at == pytest.approx(meant, abs=2.0)
    assert stain[2][2] == [230.0, 240.0]
    assert crease == ["crease", 4.0, [[-5.0, 420.0], [300.0, 425.0]]]
    assert told["laid"]["placed"] == PIECES
    assert told["laid"]["said"] == "Fits"
    assert "wholly beside" in told["refused"]
    assert told["flaws kept"] == 2
    assert told["all undone"]
