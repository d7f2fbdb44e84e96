"""A day at the bench in the real window: from a picture to measurements, saved, closed and opened again."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from seat import told_by

HANDS = "hands_on_the_window.py"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("bench")


def rows(folder: Path) -> list[dict[str, str]]:
    with (folder / "placement.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def test_a_maker_goes_the_whole_way_and_finds_the_same_measurements_again(
    folder: Path, window_environment: dict[str, str]
) -> None:
    told = told_by(HANDS, "make", folder, window_environment)
    assert told["empty"]["said"] == "Nothing to judge yet"
    assert "does not say how large it prints" in told["file says"]
    assert told["one placed"]["placed"] == ["front-1"]
    assert told["one placed"]["said"] == "Incomplete"
    assert told["one over the other"]["said"] == "Not valid"
    assert "over front cover" in told["one over the other"]["sentence"]
    assert told["undone"]["placed"] == ["front-1"]
    assert told["laid"]["placed"] == ["back-1", "front-1", "liner-back-1", "liner-front-1"]
    assert told["laid"]["said"] == "Fits"
    assert told["laid"]["least"] not in ("–", "…", "no cut")
    assert told["laid"]["room"].endswith(" mm")
    assert "not saved" in told["laid"]["title"]
    assert told["exported"]["banner"].startswith("Written to")
    assert told["saved"]["title"].startswith("ledger –"), "the first file gives the project its name"

    opened = told_by(HANDS, "again", folder, window_environment)
    assert opened["opened"]["placed"] == told["laid"]["placed"]
    assert opened["opened"]["undo"] == "Undo"
    for side in ("print", "back"):
        first, second = ((folder / f"{name} {side}" / "placement.csv").read_bytes() for name in ("first", "second"))
        assert first == second

    # A fat quarter is 22 in wide: seen from the back, left is that width less the far edge on the print side.
    print_side = {row["piece"]: row for row in rows(folder / "first print")}
    for row in rows(folder / "first back"):
        there = print_side[row["piece"]]
        far_edge_mm = float(there["left_mm"]) + float(there["width_mm"])
        assert float(row["left_mm"]) == pytest.approx(22 * 25.4 - far_edge_mm, abs=0.011)
        assert row["top_mm"] == there["top_mm"]
    # Common practice, no source: pages of 4.5 x 6 in with a turn-in of 15 mm are covered from 144.3 x 182.4 mm.
    assert sorted((print_side["front-1"]["width_mm"], print_side["front-1"]["height_mm"])) == ["144.30", "182.40"]
    assert list((folder / "state").rglob("project.json")) == [], "no copy of work is left behind"
