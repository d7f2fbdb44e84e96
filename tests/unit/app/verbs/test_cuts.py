"""`cuts`: every cut with its verdict, least first, on a short ladder of the maker's own."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main
from coverlayout.settings import cut_table_path

LADDER = """
cut = [
  {{ name = "large", width = "400 mm", length = "300 mm"{large} }},
  {{ name = "scrap", width = "100 mm", length = "100 mm"{scrap} }},
  {{ name = "strip", width = "200 mm", length = "100 mm"{strip} }},
]
"""


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    ladder()
    words = ["--cloth", "300x300mm", "--piece", "name=pocket size=60x90mm count=2 turns=none"]
    assert main(["new", "a.coverlayout", *words]) == 0
    capsys.readouterr()
    return tmp_path


def ladder(**prices: str) -> None:
    path = cut_table_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    written = {name: f", price = {prices[name]}" if name in prices else "" for name in ("large", "scrap", "strip")}
    path.write_text(LADDER.format(**written), "utf-8")


def climbed(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    code = main(["cuts", "a.coverlayout", "--json", *words])
    return code, json.loads(capsys.readouterr().out)


def test_the_least_and_the_least_with_room(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, told = climbed(capsys)
    assert code == 0
    assert [(cut["name"], cut["verdict"], cut["proved"]) for cut in told["cuts"]] == [
        ("scrap", "does not fit", True),
        ("strip", "fits, tight", True),
        ("large", "fits", True),
    ]
    assert (told["least"], told["least_with_room"]) == ("strip", "large")
    # 90 of 100 along leaves 10 for two gaps.
    assert told["cuts"][1]["spare_mm"] == pytest.approx(5.0, abs=0.01)
    assert set(told["cuts"][0]) == {"name", "width_mm", "length_mm", "verdict", "proved", "spare_mm", "price"}
    assert told["cuts"][0]["spare_mm"] is None


def test_prices_decide_where_all_are_known(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ladder(large="2.5", scrap="1", strip="4")
    _, told = climbed(capsys)
    assert [cut["name"] for cut in told["cuts"]] == ["scrap", "large", "strip"]
    assert told["least"] == told["least_with_room"] == "large"
    assert main(["cuts", "a.coverlayout"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "The least to buy: large"
    # Each scrap holds one pocket, and two of them cost less than the large cut.
    assert lines[1] == "The cheapest way to buy it: 2 x scrap, for 2.00"
    assert "2.50" in lines[4]
    assert told["cheapest"] == {
        "cuts": ["scrap", "scrap"],
        "price": 2.0,
        "area_mm2": 20_000.0,
        "verdict": "fits, tight",
        "proved": True,
    }


def test_people_read_both_names(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["cuts", "a.coverlayout", "--seconds", "60"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "The least to buy: strip; with the room you wish for: large"
    assert lines[1].split() == ["cut", "width", "length", "price", "verdict", "proved", "room"]
    assert lines[3].split()[-2:] == ["5.0", "mm"]


def test_no_cut_that_is_enough_exits_3(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "a.coverlayout", "--replace", "--piece", "name=sail size=500x90mm turns=none"]) == 0
    capsys.readouterr()
    code, told = climbed(capsys)
    assert (code, told["least"], told["least_with_room"]) == (3, None, None)
    assert main(["cuts", "a.coverlayout"]) == 3
    assert capsys.readouterr().out.startswith("No cut on the ladder is enough")


def test_nothing_to_cut_needs_no_cloth(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "a.coverlayout", "--replace", "--cloth", "300x300mm"]) == 0
    capsys.readouterr()
    assert main(["cuts", "a.coverlayout", "--json"]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert "nothing is left to cut" in err


def test_a_ladder_that_cannot_be_read_is_told(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cut_table_path().write_text("cut = 3", "utf-8")
    assert main(["cuts", "a.coverlayout"]) == 2
    assert "cuts.toml" in capsys.readouterr().err
