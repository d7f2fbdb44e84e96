"""What pip says becomes one short line a package, and one sentence when it fails."""

from __future__ import annotations

import doctest
from pathlib import Path

import pytest
from starting import Stop, packages


def pretend_python(folder: Path, script: str) -> Path:
    python = folder / "python"
    python.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    python.chmod(0o755)
    return python


def test_packages_are_counted_as_they_come(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    talk = (
        "Collecting shapely>=2.0",
        "  Downloading shapely-2.2.0-cp311-cp311-manylinux_2_17_x86_64.whl (2.9 MB)",
        "  Using cached numpy-2.4.6-cp311.whl.metadata (6.6 kB)",
        "  Using cached numpy-2.4.6-cp311-cp311-linux.whl (16.9 MB)",
        "Installing collected packages: numpy, shapely, bench",
    )
    python = pretend_python(tmp_path, "\n".join(f"echo '{line}'" for line in talk))
    packages.install(python, tmp_path, extras="")
    assert capsys.readouterr().err.splitlines() == [
        "    1  shapely 2.2.0 (2.9 MB)",
        "    2  numpy 2.4.6 (16.9 MB)",
        "  unpacking 3 packages ...",
    ]
    assert (tmp_path / ".venv.log").read_text(encoding="utf-8").splitlines() == list(talk)


def test_silence_is_filled(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packages, "_QUIET_S", 0.05)
    packages.install(pretend_python(tmp_path, "sleep 0.5"), tmp_path, extras="")
    assert "... still working" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("WARNING: Retrying after connection broken by NewConnectionError(...)", "there is no connection"),
        ("ERROR: Could not install: [Errno 28] No space left on device", "The disk is full"),
        ("ERROR: No matching distribution found for shapely.", r"\(No matching distribution found for shapely\)"),
        (
            "error: subprocess-exited-with-error\n   error: package directory is missing",
            r"\(package directory is missing\)",
        ),
        ("all is odd", "pip gave no reason"),
    ],
)
def test_a_failure_is_one_sentence(tmp_path: Path, said: str, sentence: str) -> None:
    python = pretend_python(tmp_path, f"echo '{said}'; exit 1")
    with pytest.raises(Stop, match=sentence) as stopped:
        packages.install(python, tmp_path, extras="")
    assert "\n" not in str(stopped.value)


def test_examples_in_the_text_run() -> None:
    assert doctest.testmod(packages).failed == 0
