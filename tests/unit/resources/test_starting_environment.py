"""The environment is used only while it is whole, in its place, of this Python and of today's project table."""

from __future__ import annotations

import json
import subprocess
import sys
import time
from pathlib import Path

import pytest
from source_tree import ROOT
from starting import Stop, environment

PROJECT = """
[build-system]
requires = ["a"]
[project]
name = "bench"
dependencies = ["shapely>=2"]
[tool.setuptools]
packages = ["bench"]
package-dir = { bench = "bench" }
[tool.ruff]
line-length = 100
"""


class PretendPip:
    """Stands in for pip: notes each call and puts a package and a script where pip would."""

    def __init__(self) -> None:
        self.calls: list[str] = []
        self.fails = False

    def __call__(self, python: Path, root: Path, *, extras: str) -> None:
        self.calls.append(extras)
        if self.fails:
            raise Stop("no connection")
        folder = python.parents[1]
        packages = next(folder.glob("lib/python*/site-packages"))
        (packages / ("pytest" if extras else "shapely")).mkdir(exist_ok=True)
        (packages / "shapely").mkdir(exist_ok=True)
        (folder / "bin/bench").write_text(f"#!{folder}/bin/python\nprint('at the bench')\n", encoding="utf-8")
        (folder / "bin/bench").chmod(0o755)


@pytest.fixture
def pip(monkeypatch: pytest.MonkeyPatch) -> PretendPip:
    pretend = PretendPip()
    monkeypatch.setattr(environment, "install", pretend)
    monkeypatch.setattr(environment, "_MAKE", (*environment._MAKE, "--without-pip"))
    return pretend


@pytest.fixture
def root(tmp_path: Path) -> Path:
    folder = tmp_path / "a clone"
    folder.mkdir()
    (folder / "pyproject.toml").write_text(PROJECT, encoding="utf-8")
    return folder


def prepare(root: Path, *, with_tests: bool = False) -> None:
    environment.prepare(root, with_tests=with_tests)
    assert environment.is_ready(root, with_tests=with_tests)


def test_a_second_start_installs_nothing(root: Path, pip: PretendPip) -> None:
    prepare(root)
    prepare(root)
    assert pip.calls == [""]


def test_a_prepared_environment_runs_in_its_place(root: Path, pip: PretendPip) -> None:
    prepare(root)
    place = root / ".venv"
    asked = subprocess.run(
        [environment.python_of(root), "-c", "import sys; print(sys.prefix)"], capture_output=True, text=True, check=True
    )
    assert Path(asked.stdout.strip()) == place
    assert (place / "bin/bench").read_text(encoding="utf-8").startswith(f"#!{place}/bin/python\n")
    assert sorted(path.name for path in root.iterdir()) == [".venv", ".venv.lock", "pyproject.toml"]


def test_tests_are_added_to_what_is_there(root: Path, pip: PretendPip) -> None:
    prepare(root)
    prepare(root, with_tests=True)
    prepare(root)
    assert pip.calls == ["", "[test]"]


def test_a_half_made_environment_is_built_anew(root: Path, pip: PretendPip) -> None:
    (root / ".venv/bin").mkdir(parents=True)
    (root / ".venv-new-1").mkdir()
    (root / ".venv/left").touch()
    prepare(root)
    assert pip.calls == [""]
    assert not (root / ".venv/left").exists()
    assert not (root / ".venv-new-1").exists()


@pytest.mark.parametrize("stamp", ["", "{", "[]", "{}", '{"with_tests": true}', '{"with_tests": 1, "packages": 5}'])
def test_a_spoiled_stamp_is_no_stamp(root: Path, pip: PretendPip, stamp: str) -> None:
    prepare(root)
    (root / ".venv/coverlayout-stamp.json").write_text(stamp, encoding="utf-8")
    assert not environment.is_ready(root, with_tests=False)
    prepare(root)
    assert pip.calls == ["", ""]


def test_a_changed_table_of_packages_builds_anew_and_a_changed_tool_setting_does_not(
    root: Path, pip: PretendPip
) -> None:
    prepare(root)
    (root / "pyproject.toml").write_text(PROJECT.replace("= 100", "= 120"), encoding="utf-8")
    prepare(root)
    assert pip.calls == [""]
    (root / "pyproject.toml").write_text(PROJECT.replace("shapely>=2", "shapely>=3"), encoding="utf-8")
    prepare(root)
    assert pip.calls == ["", ""]


def test_a_moved_clone_builds_anew(root: Path, pip: PretendPip) -> None:
    prepare(root)
    moved = root.with_name("moved")
    root.rename(moved)
    assert not environment.is_ready(moved, with_tests=False)
    prepare(moved)
    assert pip.calls == ["", ""]


def test_another_python_builds_anew(root: Path, pip: PretendPip) -> None:
    prepare(root)
    path = root / ".venv/coverlayout-stamp.json"
    stamp = json.loads(path.read_text(encoding="utf-8"))
    stamp["python"][1] -= 1
    path.write_text(json.dumps(stamp), encoding="utf-8")
    assert not environment.is_ready(root, with_tests=False)


def test_a_python_that_went_away_is_seen(root: Path, pip: PretendPip) -> None:
    prepare(root)
    python = environment.python_of(root)
    python.unlink()
    python.symlink_to(root / "gone")
    prepare(root)
    assert pip.calls == ["", ""]


def test_a_package_that_went_away_is_seen(root: Path, pip: PretendPip) -> None:
    prepare(root)
    next((root / ".venv").glob("lib/python*/site-packages/shapely")).rmdir()
    prepare(root)
    assert pip.calls == ["", ""]


def test_a_failed_build_keeps_the_old_environment_and_leaves_nothing(root: Path, pip: PretendPip) -> None:
    prepare(root)
    (root / "pyproject.toml").write_text(PROJECT.replace("shapely>=2", "shapely>=3"), encoding="utf-8")
    pip.fails = True
    with pytest.raises(Stop, match="no connection"):
        environment.prepare(root, with_tests=False)
    assert (root / ".venv/bin/bench").exists()
    assert sorted(path.name for path in root.iterdir()) == [".venv", ".venv.lock", "pyproject.toml"]


def test_a_break_while_tests_are_added_is_seen_at_the_next_start(root: Path, pip: PretendPip) -> None:
    prepare(root)
    pip.fails = True
    with pytest.raises(Stop):
        environment.prepare(root, with_tests=True)
    assert not environment.is_ready(root, with_tests=False)
    pip.fails = False
    prepare(root, with_tests=True)


def test_a_link_in_the_place_is_replaced_and_its_target_kept(root: Path, pip: PretendPip, tmp_path: Path) -> None:
    target = tmp_path / "elsewhere"
    target.mkdir()
    (target / "mine").touch()
    (root / ".venv").symlink_to(target)
    prepare(root)
    assert (target / "mine").exists()
    assert not (root / ".venv").is_symlink()


def test_a_python_without_its_venv_module_gives_one_sentence(
    root: Path, pip: PretendPip, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "executable", "/bin/false")
    with pytest.raises(Stop, match="cannot make an environment"):
        environment.prepare(root, with_tests=False)
    assert not (root / ".venv").exists()


def test_a_place_that_cannot_be_written_gives_one_sentence(root: Path, pip: PretendPip) -> None:
    (root / ".venv.lock").mkdir()  # stands for a folder without write permission, which root would not notice
    with pytest.raises(Stop, match=r"cannot be written: Is a directory \(.*\.venv\.lock\)"):
        environment.prepare(root, with_tests=False)


def test_a_second_start_waits_for_the_first(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lock = tmp_path / ".venv.lock"
    code = (
        f"import sys, time; sys.path.insert(0, {str(ROOT / 'resources')!r}); from pathlib import Path;"
        "from starting import environment\n"
        f"with environment._alone(Path({str(lock)!r})): print('taken', flush=True); time.sleep(1.0);"
        "print(time.monotonic(), flush=True)"
    )
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE) as first:
        assert first.stdout is not None
        assert first.stdout.readline() == b"taken\n"
        with environment._alone(lock):
            let_in_s = time.monotonic()
        # One clock for the whole machine; the first says when it was about to give the lock back.
        assert let_in_s > float(first.stdout.readline())
    assert "Another start" in capsys.readouterr().err
