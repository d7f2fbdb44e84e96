"""What the operating system must bring on Linux: all names are checked first, then one command brings the missing."""

from __future__ import annotations

import ctypes
import importlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from starting import Stop, say

__all__ = ["APT", "MANAGERS", "OFFSCREEN", "VENV", "WAYLAND", "WINDOW", "XVFB", "Manager", "Part", "missing", "provide"]

# Package managers find their own tools here, which a minimal PATH may leave out.
_SYSTEM_PATHS = "/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin"


@dataclass(frozen=True)
class Part:
    """One thing the system brings, and its package for apt-get, dnf, pacman and zypper ("" = comes with Python)."""

    kind: Literal["library", "program", "module"]
    name: str
    packages: tuple[str, str, str, str]

    def is_there(self) -> bool:
        """True when it can be loaded (library), run (program) or imported (module)."""
        if self.kind == "program":
            return shutil.which(self.name, path=_paths()) is not None
        if self.kind == "module":
            importlib.invalidate_caches()
            return importlib.util.find_spec(self.name) is not None
        try:
            ctypes.CDLL(self.name)
        except OSError:
            return False
        return True


def _library(name: str, *packages: str) -> Part:
    apt, dnf, pacman, zypper = packages
    return Part("library", name, (apt, dnf, pacman, zypper))


# The Debian names were measured on a minimal Debian 12: these and no more. The other three columns are from memory.
OFFSCREEN = (
    _library("libglib-2.0.so.0", "libglib2.0-0", "glib2", "glib2", "libglib-2_0-0"),
    _library("libGL.so.1", "libgl1", "libglvnd-glx", "libglvnd", "Mesa-libGL1"),
    _library("libEGL.so.1", "libegl1", "libglvnd-egl", "libglvnd", "Mesa-libEGL1"),
    _library("libxkbcommon.so.0", "libxkbcommon0", "libxkbcommon", "libxkbcommon", "libxkbcommon0"),
    _library("libdbus-1.so.3", "libdbus-1-3", "dbus-libs", "dbus", "libdbus-1-3"),
    _library("libfontconfig.so.1", "libfontconfig1", "fontconfig", "fontconfig", "fontconfig"),
)
WINDOW = (
    _library("libxcb-cursor.so.0", "libxcb-cursor0", "xcb-util-cursor", "xcb-util-cursor", "libxcb-cursor0"),
    _library("libxcb-icccm.so.4", "libxcb-icccm4", "xcb-util-wm", "xcb-util-wm", "libxcb-icccm4"),
    _library("libxcb-keysyms.so.1", "libxcb-keysyms1", "xcb-util-keysyms", "xcb-util-keysyms", "libxcb-keysyms1"),
    _library("libxcb-image.so.0", "libxcb-image0", "xcb-util-image", "xcb-util-image", "libxcb-image0"),
    _library(
        "libxcb-render-util.so.0",
        "libxcb-render-util0",
        "xcb-util-renderutil",
        "xcb-util-renderutil",
        "libxcb-render-util0",
    ),
    _library("libxcb-shape.so.0", "libxcb-shape0", "libxcb", "libxcb", "libxcb-shape0"),
    _library("libxcb-xkb.so.1", "libxcb-xkb1", "libxcb", "libxcb", "libxcb-xkb1"),
    _library(
        "libxkbcommon-x11.so.0", "libxkbcommon-x11-0", "libxkbcommon-x11", "libxkbcommon-x11", "libxkbcommon-x11-0"
    ),
)
WAYLAND = (
    _library("libwayland-client.so.0", "libwayland-client0", "libwayland-client", "wayland", "libwayland-client0"),
    _library("libwayland-cursor.so.0", "libwayland-cursor0", "libwayland-cursor", "wayland", "libwayland-cursor0"),
)
XVFB = Part("program", "Xvfb", ("xvfb", "xorg-x11-server-Xvfb", "xorg-server-xvfb", "xorg-x11-server-Xvfb"))
VENV = Part("module", "ensurepip", (f"python{sys.version_info[0]}.{sys.version_info[1]}-venv", "", "", ""))


@dataclass(frozen=True)
class Manager:
    """A package manager: its program, its column in `Part.packages`, and how it refreshes its lists and installs."""

    program: str
    column: int
    refresh: tuple[str, ...]
    install: tuple[str, ...]

    def names(self, parts: Iterable[Part]) -> list[str]:
        """The packages that bring the parts, each once, in the order of the parts."""
        return list(dict.fromkeys(part.packages[self.column] for part in parts if part.packages[self.column]))

    def command(self, parts: Iterable[Part]) -> str:
        """The one line a person may copy: lists are refreshed first only where there are none yet."""
        install = f"sudo {self.program} {' '.join([*self.install, *self.names(parts)])}"
        return f"sudo {self.program} {' '.join(self.refresh)} && {install}" if self._has_no_lists() else install

    def bring(self, parts: Sequence[Part]) -> None:
        """Install the packages of the parts as root; Stop when the manager fails even with fresh lists."""
        names = self.names(parts)
        say(f"Installing {len(names)} system packages with {self.program}: {' '.join(names)}")
        if self._has_no_lists():
            self._run(self.refresh)
        trouble = self._run((*self.install, *names))
        if trouble:
            trouble = self._run(self.refresh) or self._run((*self.install, *names))
        if trouble:
            raise Stop(
                f"{self.program} could not install {' '.join(names)} ({trouble}); "
                f"check the connection and start again, or run: {self.command(parts)}"
            )

    def _has_no_lists(self) -> bool:
        lists = Path("/var/lib/apt/lists")
        return self == APT and not (lists.is_dir() and any(lists.glob("*Packages*")))

    def _run(self, arguments: Sequence[str]) -> str:
        """Run the manager, one line a package set up; "" when all went well, else its last words."""
        environment = {**os.environ, "PATH": _paths(), "DEBIAN_FRONTEND": "noninteractive", "LC_ALL": "C.UTF-8"}
        last, progress = "no reason given", Progress()
        with subprocess.Popen(
            [self.program, *arguments],
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            errors="replace",
        ) as process:
            assert process.stdout is not None
            for line in process.stdout:
                shown = progress.told(line)
                if shown:
                    say(shown)
                if line.startswith(("E:", "Error", "error")):
                    last = line.strip().removeprefix("E: ").rstrip(".")
        return "" if process.returncode == 0 else last


class Progress:
    """Counts what the manager fetches and sets up; speaks at every tenth package and at the last."""

    def __init__(self) -> None:
        """Nothing done, nothing known yet."""
        self.total = 0
        self.done = {"fetched": 0, "set up": 0}

    def told(self, line: str) -> str | None:
        """The line to show for one line of the manager, or None.

        >>> progress = Progress()
        >>> progress.told("0 upgraded, 2 newly installed, 0 to remove and 0 not upgraded.")
        >>> progress.told("Get:1 a bookworm/main amd64 libgl1")
        >>> progress.told("Get:2 a bookworm/main amd64 libegl1")
        '  fetched 2 of 2 system packages'
        """
        counted = re.search(r"(\d+) upgraded, (\d+) newly installed", line)
        if counted:
            self.total = int(counted[1]) + int(counted[2])
        step = "fetched" if line.startswith("Get:") else "set up" if line.startswith("Setting up ") else None
        if step is None or not self.total:
            return None
        self.done[step] += 1
        count = self.done[step]
        return f"  {step} {count} of {self.total} system packages" if count % 10 == 0 or count == self.total else None


APT = Manager("apt-get", 0, ("update",), ("install", "--yes", "--no-install-recommends"))
MANAGERS = (
    APT,
    Manager("dnf", 1, ("makecache",), ("install", "--assumeyes")),
    Manager("pacman", 2, ("-Sy",), ("-S", "--needed", "--noconfirm")),
    Manager("zypper", 3, ("refresh",), ("--non-interactive", "install")),
)


def _paths() -> str:
    return f"{os.environ.get('PATH', '')}:{_SYSTEM_PATHS}".strip(":")


def missing(parts: Iterable[Part]) -> list[Part]:
    """Those of the parts that are not there, all of them, so that one command is enough."""
    return [part for part in parts if not part.is_there()]


def provide(parts: Iterable[Part], *, is_root: bool | None = None) -> None:
    """See that all parts are there: root installs what is missing, anyone else is told the one command to run."""
    if not sys.platform.startswith("linux"):
        return
    lacking = missing(parts)
    if not lacking:
        return
    named = " ".join(part.name for part in lacking)
    manager = next((known for known in MANAGERS if shutil.which(known.program, path=_paths())), None)
    if manager is None or not manager.names(lacking):
        raise Stop(f"This system lacks {named}; install them with its package manager, then start again.")
    if not (os.geteuid() == 0 if is_root is None else is_root):
        rootless = "" if shutil.which("sudo", path=_paths()) else " (there is no sudo here: as root, without that word)"
        raise Stop(
            f"Some parts of the system are missing; run this once{rootless}, then start again:\n\n"
            f"    {manager.command(lacking)}\n"
        )
    manager.bring(lacking)
    still = " ".join(part.name for part in missing(lacking))
    if still:
        raise Stop(
            f"{manager.program} ran well, yet {still} cannot be loaded; look whether the packages fit this Python."
        )
