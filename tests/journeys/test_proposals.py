"""A maker has everything laid out in the real window, by mouse and by keys, and mends a job that does not fit."""

from __future__ import annotations

from pathlib import Path

from seat import told_by

PIECES = ["back-1", "front-1", "liner-back-1", "liner-front-1"]


def test_proposals_are_walked_taken_and_left(tmp_path: Path, window_environment: dict[str, str]) -> None:
    told = told_by("hands_on_a_proposal.py", "walk", tmp_path, window_environment)
    title, best, placed = told["proposed"]
    assert title.startswith("Fits")
    assert placed == [], "it is drawn, and the project stays as it is"
    other_title, other = told["different"]
    assert other != best
    count = other_title.rpartition(" ")[2]
    assert other_title.endswith(f"proposal {count} of {count}"), "the last one of the row"
    assert told["next"] == best, "after the last comes the first"
    assert told["before"] == other
    assert told["taken"] == [PIECES, other]
    assert told["one undone"] == other, "moved by hand, and that taken back"
    assert told["both undone"]
    assert told["left"] == [False, True]
    assert told["there and back"]
    assert told["taken by key"] == PIECES
    visible, reason, changes = told["opened"]
    assert visible
    # Two covers with turn-ins of 15 mm and a liner side by side: 2 x 144.3 + 108.3 = 396.9 mm, and 304.8 are there.
    assert "397.0 mm" in reason
    assert changes[0].startswith("Turn the liners a quarter: everything fits with 4.5 mm to spare")
    assert told["mended"]["placed"] == PIECES
    assert told["mended"]["said"] == "Fits, tight"
    assert told["shut"]
    assert told["undone"]["said"] == "Not valid", "the change and all its places in one step"
