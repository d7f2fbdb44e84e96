"""`lay`: the verdict with its figures in JSON and in words, what it saves, and when it says no."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from coverlayout.app.command_line import main
from coverlayout.cloth import cuts
from coverlayout.document.edits.placements import pin, place, take_off, unpin
from coverlayout.document.file import load, save
from coverlayout.document.questions import placed_now
from coverlayout.layout.question import Placed


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    made("--cloth", "200x100mm", "--piece", "name=pocket size=60x90mm count=2 turns=none")
    return tmp_path


def made(*words: str) -> None:
    assert main(["new", "a.coverlayout", "--replace", *words]) == 0


def laid(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, Any]:
    capsys.readouterr()
    code = main(["lay", "a.coverlayout", "--json", *words])
    out, err = capsys.readouterr()
    assert err == ""
    assert out.count("\n") == 1
    return code, json.loads(out, parse_constant=lambda name: pytest.fail(f"{name} in JSON"))


def test_two_pockets_on_a_strip(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, answer = laid(capsys)
    assert code == 0
    # 60 + 60 of 200 across leaves 80 for three gaps, 90 of 100 along leaves 10 for two: 5.
    assert (answer["verdict"], answer["proved"], answer["spare_proved"]) == ("fits, tight", True, True)
    assert answer["spare_mm"] == pytest.approx(5.0, abs=0.01)
    assert answer["used_percent"] == pytest.approx(100 * 2 * 60 * 90 / (200 * 100))
    assert [piece["piece"] for piece in answer["pieces"]] == ["pocket-1", "pocket-2"]
    assert set(answer["pieces"][0]) == {"piece", "cloth", "x_mm", "y_mm", "width_mm", "height_mm", "turn_deg"}
    assert answer["pieces"][0]["y_mm"] == pytest.approx(5.0, abs=0.01)
    assert answer["changes_that_fit"] == []
    assert set(answer) == {
        *("verdict", "proved", "reason", "proof", "notes", "used_percent", "clearance_mm", "spare_mm"),
        *("spare_proved", "pieces", "changes_that_fit"),
    }


def test_a_no_is_proved_and_exits_3(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made("--cloth", "100x100mm", "--piece", "name=pocket size=120x20mm turns=none")
    code, answer = laid(capsys, "--save", "b.coverlayout")
    assert code == 3
    assert (answer["verdict"], answer["proved"], answer["pieces"]) == ("does not fit", True, [])
    assert answer["proof"]["name"] == "fits nowhere"
    assert (answer["spare_mm"], answer["clearance_mm"]) == (None, None)
    assert any("b.coverlayout" in note for note in answer["notes"])
    assert not Path("b.coverlayout").exists()


def test_the_layout_is_saved_where_asked(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = Path("a.coverlayout").read_bytes()
    laid(capsys, "--save", "b.coverlayout")
    assert Path("a.coverlayout").read_bytes() == before
    assert {placed.piece for placed in placed_now(load(Path("b.coverlayout")).project)} == {"pocket-1", "pocket-2"}


def test_people_read_lines_in_the_projects_unit(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["lay", "a.coverlayout", "--seconds", "20"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("fits, tight: ")
    assert "5.0 mm" in lines[1]
    assert any(line.startswith("pocket-2") and line.endswith("0°") for line in lines)


def test_a_no_is_told_in_one_line(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made("--cloth", "100x100mm", "--piece", "name=pocket size=120x20mm turns=none")
    capsys.readouterr()
    assert main(["lay", "a.coverlayout"]) == 3
    assert capsys.readouterr().out.startswith("does not fit: pocket-1")


@pytest.mark.parametrize("seconds", ["0", "-1", "nan", "inf", "1e9", "soon", "100000000"])
def test_seconds_are_a_number_above_nothing(seconds: str, bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["lay", "a.coverlayout", "--seconds", seconds]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith(f"--seconds {seconds}")


def test_a_project_without_cloth_has_nothing_to_lay_on(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made("--piece", "name=pocket size=60x90mm")
    capsys.readouterr()
    assert main(["lay", "a.coverlayout"]) == 2
    assert "--cloth" in capsys.readouterr().err


def test_a_project_without_pieces_has_nothing_to_lay(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made("--cloth", "200x100mm")
    capsys.readouterr()
    assert main(["lay", "a.coverlayout", "--json"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "no piece is left to lay" in err


def test_a_save_never_writes_over_anything_but_a_project(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("letter.txt").write_text("Dear aunt", "utf-8")
    for name, why in (("letter.txt", "no project"), (".", "a folder has this name"), ("x" * 300, "was not saved")):
        capsys.readouterr()
        assert main(["lay", "a.coverlayout", "--save", name]) == 2
        assert why in capsys.readouterr().err
    assert Path("letter.txt").read_text("utf-8") == "Dear aunt"
    before = Path("a.coverlayout").read_bytes()
    assert main(["lay", "a.coverlayout", "--save", "a.coverlayout"]) == 0
    assert Path("a.coverlayout.bak").read_bytes() == before


def test_a_table_of_cuts_that_cannot_be_read_is_said_and_stops_no_layout(
    bench: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cuts, "own_cut_table", lambda: "no table")
    code, answer = laid(capsys)
    assert code == 0
    assert any("is not a table this program can read" in note for note in answer["notes"])


def test_a_save_that_is_refused_says_so(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["lay", "a.coverlayout", "--json", "--save", "no/b.coverlayout"]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert "folder" in err


def test_what_is_no_project_is_told_by_its_name(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("cut.coverlayout").write_bytes(Path("a.coverlayout").read_bytes()[:100])
    for name in ("none.coverlayout", "cut.coverlayout", "."):
        capsys.readouterr()
        assert main(["lay", name]) == 2
        assert name.removesuffix(".coverlayout") in capsys.readouterr().err


def pinned_at(x_mm: float, path: Path) -> None:
    """The first pocket (60 x 90, its middle at 45 along) pinned there; the second waits."""
    opened = load(path)
    where = Placed("pocket-1", opened.project.cloths[0].id, x_mm, 48.0)
    save(path, pin(("pocket-1",)).change(place((where,)).change(opened.project)), opened.pictures)


def test_a_pinned_piece_stays_and_its_room_counts(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pinned_at(70.0, bench / "a.coverlayout")
    code, answer = laid(capsys, "--save", "b.coverlayout")
    assert code == 0
    first, second = answer["pieces"]
    # 70 - 30 from the left, 48 - 45 from the top: 3 mm, and no layout in which it stays has more.
    assert (first["piece"], first["x_mm"], first["y_mm"]) == ("pocket-1", pytest.approx(40.0), pytest.approx(3.0))
    assert second["x_mm"] >= 100.0
    assert (answer["verdict"], answer["spare_mm"], answer["spare_proved"]) == ("fits, tight", pytest.approx(3.0), True)
    assert "1 piece stays where it lies" in answer["notes"]
    saved = load(bench / "b.coverlayout").project
    assert {placed.piece for placed in placed_now(saved)} == {"pocket-1", "pocket-2"}
    assert saved.layout.pinned == ("pocket-1",)


def test_a_piece_pinned_where_it_breaks_a_rule_is_no_yes(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pinned_at(20.0, bench / "a.coverlayout")
    code, answer = laid(capsys)
    assert code == 3
    assert (answer["verdict"], answer["proved"]) == ("not found", False)
    assert answer["reason"] == "where it stays, a rule is broken: pocket-1"


def test_where_all_are_pinned_they_are_judged_and_told(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = bench / "a.coverlayout"
    for x_mm, code_wanted, verdict in ((70.0, 0, "fits, tight"), (20.0, 3, "not found")):
        pinned_at(x_mm, path)
        opened = load(path)
        beside = Placed("pocket-2", opened.project.cloths[0].id, 140.0, 48.0)
        save(path, pin(("pocket-2",)).change(place((beside,)).change(opened.project)), opened.pictures)
        code, answer = laid(capsys)
        assert (code, answer["verdict"]) == (code_wanted, verdict)
        assert {piece["piece"] for piece in answer["pieces"]} == {"pocket-1", "pocket-2"}
        opened = load(path)
        save(
            path,
            take_off(("pocket-2",)).change(unpin(("pocket-1", "pocket-2")).change(opened.project)),
            opened.pictures,
        )


SWATCH_BOOK = ("--cloth", "12x12in", "--page", "4.5x6in", "--structure", "separate-boards", "--cover-turns", "none")


def test_a_no_offers_what_would_make_it_fit(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # Common practice, no source: upright it does not fit, with turned liners 4.7 mm are to spare.
    made(*SWATCH_BOOK, "--liner-turns", "none")
    code, answer = laid(capsys, "--seconds", "30")
    assert (code, answer["verdict"], answer["pieces"]) == (3, "does not fit", [])
    first, *others = answer["changes_that_fit"]
    assert set(first) == {"kind", "said", "amount_mm", "spare_mm"}
    assert (first["kind"], first["amount_mm"]) == ("turn liners", None)
    assert first["spare_mm"] == pytest.approx(4.7, abs=0.01)
    # Shown to half a millimetre, room never larger than it is.
    assert first["said"].startswith("Turn the liners a quarter: everything fits with 4.5 mm to spare")
    assert [change["kind"] for change in others] == ["paper liners", "smaller book", "next cut"]
    assert others[1]["amount_mm"] == 12.0


def test_people_read_what_would_make_it_fit(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(*SWATCH_BOOK, "--liner-turns", "none")
    capsys.readouterr()
    assert main(["lay", "a.coverlayout"]) == 3
    lines = capsys.readouterr().out.splitlines()
    start = lines.index("What would make it fit:")
    assert lines[start + 1].startswith("- Turn the liners a quarter: ")
    assert all(line.startswith("- ") for line in lines[start + 1 :])
    assert lines[start - 1].startswith("does not fit: ")


def test_where_no_single_change_helps_that_is_said(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made("--cloth", "100x100mm", "--piece", "name=poster size=9000x9000mm turns=none")
    capsys.readouterr()
    assert main(["lay", "a.coverlayout"]) == 3
    assert capsys.readouterr().out.splitlines()[-1] == "No single change was found that would make it fit"


def test_a_yes_offers_nothing(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(*SWATCH_BOOK, "--liner-turns", "quarter")
    assert laid(capsys)[1]["changes_that_fit"] == []
    assert main(["lay", "a.coverlayout"]) == 0
    assert "What would make it fit" not in capsys.readouterr().out


def test_no_time_is_left_for_changes_when_there_is_none(bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    made(*SWATCH_BOOK, "--liner-turns", "none")
    code, answer = laid(capsys, "--seconds", "0.0001")
    assert (code, answer["changes_that_fit"]) == (3, [])
