"""What the system must bring is checked all at once and asked for in one command."""

from __future__ import annotations

import doctest
import shutil
from pathlib import Path

import pytest
from starting import Stop, system
from starting.system import APT, MANAGERS, OFFSCREEN, VENV, WAYLAND, WINDOW, XVFB, Part

HERE = Part("library", "libc.so.6", ("libc6", "glibc", "glibc", "glibc"))
GONE = Part("library", "libno-such-thing.so.9", ("libno9", "libno", "libno", "libno9"))
ALSO_GONE = Part("program", "no-such-program", ("prog", "prog", "prog", "prog"))
NO_MODULE = Part("module", "no_such_module", ("python3-no", "", "", ""))


@pytest.fixture
def only_apt(monkeypatch: pytest.MonkeyPatch) -> None:
    """A Linux where apt-get is the package manager and lists are there."""
    monkeypatch.setattr("sys.platform", "linux")
    known = {"apt-get": "/usr/bin/apt-get", "sudo": "/usr/bin/sudo"}
    monkeypatch.setattr(shutil, "which", lambda name, path=None: known.get(name))
    monkeypatch.setattr(system.Manager, "_has_no_lists", lambda self: False)


def pretend_manager(monkeypatch: pytest.MonkeyPatch, folder: Path, script: str) -> system.Manager:
    program = folder / "apt-get"
    program.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{folder}:/usr/bin:/bin")
    monkeypatch.setattr(system.Manager, "_has_no_lists", lambda self: False)
    return APT


def test_each_kind_of_part_is_looked_up() -> None:
    assert Part("library", "libc.so.6", HERE.packages).is_there()
    assert Part("program", "sh", HERE.packages).is_there()
    assert Part("module", "json", HERE.packages).is_there()
    assert system.missing([HERE, GONE, ALSO_GONE, NO_MODULE]) == [GONE, ALSO_GONE, NO_MODULE]


def test_debian_names_are_those_measured_on_a_minimal_system() -> None:
    offscreen = "libglib2.0-0 libgl1 libegl1 libxkbcommon0 libdbus-1-3 libfontconfig1"
    window = (
        "libxcb-cursor0 libxcb-icccm4 libxcb-keysyms1 libxcb-image0 libxcb-render-util0 libxcb-shape0 libxcb-xkb1 "
        "libxkbcommon-x11-0"
    )
    assert " ".join(APT.names(OFFSCREEN)) == offscreen
    assert " ".join(APT.names(WINDOW)) == window
    assert APT.names([XVFB]) == ["xvfb"]
    assert APT.names([VENV])[0].endswith("-venv")


def test_every_manager_names_every_library_once() -> None:
    for manager in MANAGERS:
        names = manager.names([*OFFSCREEN, *WINDOW, *WAYLAND, XVFB])
        assert len(names) == len(set(names))
        assert all(part.packages[manager.column] for part in [*OFFSCREEN, *WINDOW, *WAYLAND, XVFB])


@pytest.mark.usefixtures("only_apt")
def test_nobody_is_asked_when_nothing_is_missing() -> None:
    system.provide([HERE], is_root=False)


@pytest.mark.usefixtures("only_apt")
def test_another_user_gets_one_command_with_everything_missing() -> None:
    with pytest.raises(Stop) as stopped:
        system.provide([GONE, HERE, ALSO_GONE, NO_MODULE], is_root=False)
    commands = [line.strip() for line in str(stopped.value).splitlines() if "apt-get" in line]
    assert commands == ["sudo apt-get install --yes --no-install-recommends libno9 prog python3-no"]


def test_lists_that_were_never_fetched_are_fetched_in_the_same_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system.Manager, "_has_no_lists", lambda self: True)
    assert APT.command([GONE]) == ("sudo apt-get update && sudo apt-get install --yes --no-install-recommends libno9")


def test_without_a_known_manager_the_names_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda name, path=None: None)
    with pytest.raises(Stop, match=r"lacks libno-such-thing\.so\.9 no-such-program;"):
        system.provide([GONE, ALSO_GONE], is_root=True)


def test_root_installs_what_is_missing(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    made = tmp_path / "no-such-program"
    script = f"echo \"$@\" >> {tmp_path}/calls; printf '#!/bin/sh\\n' > {made}; chmod +x {made}"
    pretend_manager(monkeypatch, tmp_path, script)
    system.provide([ALSO_GONE], is_root=True)
    assert (tmp_path / "calls").read_text(encoding="utf-8") == "install --yes --no-install-recommends prog\n"


def test_root_fetches_lists_and_tries_again_then_gives_the_reason(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    pretend_manager(
        monkeypatch, tmp_path, f'echo $1 >> {tmp_path}/calls; echo "E: No room on the shelf."; test $1 = update'
    )
    with pytest.raises(Stop, match=r"could not install prog \(No room on the shelf\); check the connection"):
        system.provide([ALSO_GONE], is_root=True)
    assert (tmp_path / "calls").read_text(encoding="utf-8").split() == ["install", "update", "install"]


def test_a_package_that_does_not_bring_the_part_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    pretend_manager(monkeypatch, tmp_path, "exit 0")
    with pytest.raises(Stop, match="yet no-such-program cannot be loaded"):
        system.provide([ALSO_GONE], is_root=True)


def test_other_systems_bring_their_own_libraries(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "darwin")
    system.provide([GONE], is_root=False)


def test_examples_in_the_text_run() -> None:
    assert doctest.testmod(system) == doctest.TestResults(failed=0, attempted=4)
