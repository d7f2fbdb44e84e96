"""Whatever is asked at the command line: one plain answer within seconds, never a hang, never a traceback."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import pytest
from packing_asking import said_by_command

Json = dict[str, Any]
# Seconds of the processor, so that a busy machine changes nothing; most answers take a tenth of one.
AT_ONCE_S = 8.0
PRINT = {"A": {"a_mm": [50, 0], "b_mm": [0, 50], "origin_mm": [0, 0]}}
CROSSING = [[0, 0], [100, 100], [100, 0], [0, 100]]
LOCK = {"offset_mm": [0, 0]}


def box(name: str, width: float = 50, height: float = 50, **more: Any) -> Json:
    return {"id": name, "width_mm": width, "height_mm": height, **more}


def ring(left: float, top: float, width: float, height: float) -> list[list[float]]:
    return [[left, top], [left + width, top], [left + width, top + height], [left, top + height]]


def job(*pieces: Json, size: tuple[float, float] = (300, 300), outline: Any = None, **more: Any) -> Json:
    cloth = {"width_mm": size[0], "length_mm": size[1], **({} if outline is None else {"outline_mm": outline})}
    return {"format": "packing-instance-1", "id": "bad", "cloth": cloth, "pieces": list(pieces), **more}


def made(folder: Path, given: Json) -> tuple[int, str, Path]:
    """What `new --job` says: its exit code, its sentence, and the project."""
    file, project = folder / "job.json", folder / "job.coverlayout"
    file.write_text(json.dumps(given), encoding="utf-8")
    code, _, trouble = said_by_command("new", str(project), "--job", str(file))
    return code, trouble, project


def laid(folder: Path, given: Json, *more: str, verb: str = "lay") -> tuple[int, Json]:
    """What a verb answers in JSON; within seconds, on one line and with nothing on standard error."""
    code, trouble, project = made(folder, given)
    assert code == 0, trouble
    start = time.process_time()
    code, told, trouble = said_by_command(verb, str(project), "--json", *more)
    assert time.process_time() - start < AT_ONCE_S
    assert trouble == ""
    return code, json.loads(told)


REFUSED = {
    "a zone without area": (job(box("a", print="A"), prints=PRINT,
                                zones=[{"print": "A", "outline_mm": [[0, 0], [100, 0], [50, 0]]}]), "area"),
    "a piece that crosses itself": (job({"id": "a", "outline_mm": CROSSING}), "crosses itself"),
    "cloth that crosses itself": (job(box("a", 5, 5), size=(100, 100), outline=CROSSING), "crosses itself"),
    "a flaw that crosses itself": (job(box("a"), keep_outs=[{"name": "ink", "outline_mm": CROSSING}]), "ink"),
    "a zone that crosses itself": (job(box("a", print="A"), prints=PRINT,
                                       zones=[{"print": "A", "outline_mm": CROSSING}]), "crosses itself"),
    "a piece without size": (job({"id": "lost"}), "lost"),
    "a width that is not a number": (job(box("a", float("nan"))), "job.json"),
    "cloth of no width": (job(box("a"), size=(0, 300)), "above 0"),
    "cloth shorter than nothing": (job(box("a"), size=(300, -5)), "above 0"),
    "a lock without a repeat": (job(box("a", print="A", lock=LOCK)), "a"),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_used_is_refused_in_one_sentence(name: str, tmp_path: Path) -> None:
    given, word = REFUSED[name]
    code, trouble, project = made(tmp_path, given)
    assert code == 2
    assert word in trouble
    assert trouble.count("\n") == 1
    assert not project.exists()


def test_no_cloth_at_all_is_said(tmp_path: Path) -> None:
    project = str(tmp_path / "book.coverlayout")
    assert said_by_command("new", project, "--structure", "separate-boards", "--page", "4.5x6in")[0] == 0
    code, told, trouble = said_by_command("lay", project, "--json")
    assert (code, told) == (2, "")
    assert "cloth" in trouble
    assert trouble.count("\n") == 1


QUARREL = job(
    box("front", print="A", lock=LOCK),
    box("back", print="A", lock={"offset_mm": [10, 0]}),
    prints=PRINT,
    phase_links=[{"pieces": ["front", "back"]}],
)
NOES = {
    "a flaw that covers everything": (
        job(box("a"), keep_outs=[{"name": "ink", "outline_mm": ring(-10, -10, 400, 400)}]), "ink"),
    "a flaw that leaves a strip too narrow": (
        job(box("a"), keep_outs=[{"name": "ink", "outline_mm": ring(0, 0, 300, 280)}]), "nowhere"),
    "a piece larger than any cloth": (job(box("wall", 5_000, 9_000)), "wall"),
    "a locked piece larger than any cloth": (
        job(box("wall", 5_000, 9_000, print="A", lock=LOCK), prints=PRINT), "wall"),
    "a zone beside the cloth": (
        job(box("a", print="A"), prints=PRINT, zones=[{"print": "A", "outline_mm": ring(400, 0, 90, 90)}]), "a"),
    "a trim that leaves nothing": (job(box("a"), edge_mm=150), "a"),
    "a gap wider than the cloth": (job(box("a"), box("b"), gap_mm=5_000), "a"),
    "two musts that quarrel": (QUARREL, "back and front"),
}  # fmt: skip


@pytest.mark.parametrize("name", NOES)
def test_what_can_never_be_laid_is_refused_with_proof(name: str, tmp_path: Path) -> None:
    given, word = NOES[name]
    code, told = laid(tmp_path, given)
    assert code == 3
    assert told["verdict"] == "does not fit"
    assert told["proved"]
    assert word in told["reason"]
    assert told["pieces"] == []


@pytest.mark.parametrize("verb", ["cuts", "length"])
def test_a_piece_larger_than_any_cloth_has_no_cut_and_no_length(verb: str, tmp_path: Path) -> None:
    code, told = laid(tmp_path, job(box("wall", 5_000, 9_000)), verb=verb)
    assert code == 3
    if verb == "cuts":
        assert told["least"] is None
        assert {cut["verdict"] for cut in told["cuts"]} == {"does not fit"}
    else:
        assert told["length_mm"] is None
        assert told["proved"]


def many(count: int, **more: Any) -> list[Json]:
    return [box(f"piece-{k}", **more) for k in range(count)]


@pytest.mark.slow
def test_ten_thousand_pieces_are_refused_by_area(tmp_path: Path) -> None:
    code, told = laid(tmp_path, job(*many(10_000)), "--seconds", "5")
    assert code == 3
    assert told["verdict"] == "does not fit"
    assert told["proof"]["name"] == "area"


@pytest.mark.slow
def test_ten_thousand_pieces_are_laid_where_there_is_cloth(tmp_path: Path) -> None:
    code, told = laid(tmp_path, job(*many(10_000), size=(5_000, 6_000)), "--seconds", "5")
    assert code == 0
    assert len(told["pieces"]) == 10_000
    # A row holds a hundred, and no two lie in one place.
    assert len({(piece["x_mm"], piece["y_mm"]) for piece in told["pieces"]}) == 10_000
