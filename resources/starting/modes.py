"""The ways to start: the demo in a window, the demo on paper, the tests, setting up only, the benchmarks."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from starting import Stop, gates, say, system
from starting.display import answering_display, lets_us_in
from starting.environment import prepare, python_of

__all__ = ["USAGE", "Wish", "main", "read_flags"]

ROOT = Path(__file__).resolve().parents[2]
USAGE = """\
python3 resources/start.py                 open the demo; without a display, lay it out and write its papers
python3 resources/start.py --test          run everything that CI runs
python3 resources/start.py --setup         set up all that both need, and nothing else
python3 resources/start.py --bench [--json] [--shared FOLDER]
                                           run the benchmarks; FOLDER adds prints and packing jobs to measure with
"""


@dataclass(frozen=True)
class Wish:
    """What the flags ask for."""

    mode: Literal["demo", "help", "test", "setup", "bench"] = "demo"
    bench_flags: tuple[str, ...] = ()


def read_flags(flags: Sequence[str]) -> Wish:
    """The wish behind the flags; Stop with one sentence for a flag that is unknown or does not fit."""
    if not flags:
        return Wish()
    first, *rest = flags
    if first in ("--help", "-h"):
        return Wish("help")
    if first == "--bench":
        return Wish("bench", _bench_flags(rest))
    if first not in ("--test", "--setup"):
        raise Stop(f"{first}: there is no such flag; use --test, --setup, --bench, --help or none at all.")
    if rest:
        raise Stop(f"{rest[0]}: nothing may follow {first}.")
    return Wish("test" if first == "--test" else "setup")


def _bench_flags(flags: Sequence[str]) -> tuple[str, ...]:
    """The flags of the benchmarks, checked; the folder made absolute."""
    left, kept = list(flags), list[str]()
    while left:
        flag = left.pop(0)
        name, _, value = flag.partition("=")
        if flag == "--json":
            kept.append(flag)
        elif name == "--shared" and (value or left):
            folder = Path(value or left.pop(0)).resolve()
            if not folder.is_dir():
                raise Stop(f"--shared {folder}: there is no such folder; give one with prints and packing jobs.")
            kept += ["--shared", str(folder)]
        else:
            raise Stop(f"{flag}: --bench takes --json and --shared FOLDER.")
    return tuple(kept)


def main(flags: Sequence[str]) -> int:
    """Do what the flags ask; 0 when all went well, 2 with one sentence when starting is not possible."""
    try:
        wish = read_flags(flags)
        if wish.mode == "help":
            print(USAGE, end="")
            return 0
        return _start(wish)
    except Stop as stop:
        say(str(stop))
        return 2
    except KeyboardInterrupt:
        say("Stopped. Whatever was half-made is made anew at the next start.")
        return 130


def _start(wish: Wish) -> int:
    with_tests = wish.mode != "demo"
    display = answering_display()
    parts = [*system.OFFSCREEN]
    if with_tests or display == "x11":
        parts += system.WINDOW
    if display == "wayland":
        parts += system.WAYLAND
    if with_tests:
        parts.append(system.XVFB)
    if not python_of(ROOT).exists():
        parts.append(system.VENV)
    system.provide(parts)
    prepare(ROOT, with_tests=with_tests)
    python = python_of(ROOT)
    if wish.mode == "setup":
        say("All is set up.")
        return 0
    if wish.mode == "test":
        return gates.run_all(python, ROOT, gates.gates())
    if wish.mode == "bench":
        return _run(python, "tests/performance/run.py", *wish.bench_flags, platform=None)
    if display is not None and lets_us_in(display):
        return _run(python, "-m", "coverlayout", str(_demo_project()), platform=None)
    if os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"):
        say("The display that is set cannot be opened, so the demo runs without a window.")
    return _run(python, "-m", "coverlayout.app.demo", platform="offscreen")


def _demo_project() -> Path:
    """The one project among the sample prints."""
    found = sorted((ROOT / "sample_prints").glob("*.coverlayout"))
    if not found:
        raise Stop("The demo project is missing from sample_prints; fetch the whole repository again.")
    return found[0]


def _run(python: Path, *arguments: str, platform: str | None) -> int:  # noqa: RET503 - execv never returns
    """Let the environment's Python take over, in the place of this process where the system can do that."""
    if platform is not None:
        os.environ["QT_QPA_PLATFORM"] = platform
    os.chdir(ROOT)
    command = [str(python), *arguments]
    sys.stdout.flush()
    if os.name == "nt":
        return subprocess.run(command, check=False).returncode
    os.execv(command[0], command)
