"""The runner of the benchmarks: goals compared, broken benchmarks told, one JSON object."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path
from types import ModuleType

import pytest
from source_tree import ROOT


@pytest.fixture(scope="module")
def run() -> ModuleType:
    spec = importlib.util.spec_from_file_location("performance_run", ROOT / "tests/performance/run.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def bench_folder(run: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(run, "HERE", tmp_path)
    measure = run.measure
    monkeypatch.setattr(run, "measure", lambda name, shared: measure(name, shared, tmp_path))
    return tmp_path


def put(folder: Path, name: str, body: str) -> None:
    (folder / f"bench_{name}.py").write_text(f"def figures(shared):\n    {body}\n", encoding="utf-8")


def test_smaller_is_better_unless_said_otherwise(run: ModuleType) -> None:
    assert run.is_met({"value": 2.0, "goal": 2.0})
    assert not run.is_met({"value": 2.1, "goal": 2.0})
    assert run.is_met({"value": 2.1, "goal": 2.0, "more_is_better": True})
    assert not run.is_met({"value": 1.9, "goal": 2.0, "more_is_better": True})


def test_json_is_one_object_with_value_and_goal(
    run: ModuleType, bench_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    put(bench_folder, "cut", 'return {"cut_ms": {"value": 3, "goal": 5}}')
    put(bench_folder, "fold", 'return {"used_percent": {"value": 7, "goal": 5, "more_is_better": True}}')
    assert run.main(["--json"]) == 0
    assert json.loads(capfd.readouterr().out) == {
        "cut_ms": {"value": 3, "goal": 5},
        "used_percent": {"value": 7, "goal": 5},
    }


def test_a_value_never_reached_is_null_and_missed(
    run: ModuleType, bench_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    put(bench_folder, "cut", 'return {"cut_ms": {"value": float("inf"), "goal": 5}}')
    assert run.main(["--json"]) == 1
    assert json.loads(capfd.readouterr().out) == {"cut_ms": {"value": None, "goal": 5}}


def test_a_missed_goal_is_shown_and_fails(
    run: ModuleType, bench_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    put(bench_folder, "cut", 'return {"cut_ms": {"value": 6, "goal": 5}}')
    assert run.main([]) == 1
    assert "MISSED" in capfd.readouterr().out


def test_a_broken_benchmark_is_named_and_the_others_still_run(
    run: ModuleType, bench_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    put(bench_folder, "cut", "raise ValueError")
    put(bench_folder, "fold", 'return {"fold_ms": {"value": 1, "goal": 5}}')
    assert run.main(["--json"]) == 1
    said = capfd.readouterr()
    assert json.loads(said.out) == {"fold_ms": {"value": 1, "goal": 5}}
    assert "cut broke" in said.err


def test_the_shared_folder_reaches_the_benchmark(
    run: ModuleType, bench_folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    put(bench_folder, "cut", 'return {"files": {"value": len(list(shared.iterdir())), "goal": 1}}')
    shared = bench_folder / "shared"
    shared.mkdir()
    (shared / "print").touch()
    assert run.main(["--json", "--only", "cut", "--shared", str(shared)]) == 0
    assert json.loads(capfd.readouterr().out)["files"]["value"] == 1


def test_an_unknown_benchmark_is_refused(run: ModuleType, bench_folder: Path) -> None:
    with pytest.raises(SystemExit) as stopped:
        run.main(["--only", "nothing"])
    assert stopped.value.code == 2
