"""Installs the project with pip and turns pip's talk into one short line a package."""

from __future__ import annotations

import os
import re
import subprocess
import threading
from pathlib import Path

from starting import Stop, say

__all__ = ["Progress", "install", "trouble_in"]

# A person who sees nothing for longer than this thinks that it hangs.
_QUIET_S = 10.0


class Progress:
    """Counts packages as pip fetches them."""

    def __init__(self) -> None:
        """Nothing fetched yet."""
        self.count = 0

    def told(self, line: str) -> str | None:
        """The line to show for one line of pip, or None.

        >>> progress = Progress()
        >>> progress.told("  Downloading shapely-2.2.0-cp311-cp311-linux.whl (2.9 MB)")
        '    1  shapely 2.2.0 (2.9 MB)'
        >>> progress.told("  Downloading numpy-2.4.6-cp311.whl.metadata (6 kB)") is None
        True
        >>> progress.told("Installing collected packages: numpy, shapely")
        '  unpacking 2 packages ...'
        """
        fetched = re.match(
            r"\s*(?:Downloading|Using cached|Processing) (?:\S*/)?(?P<name>[\w.]+)-(?P<version>[\w.+]+)-\S+\.whl"
            r"(?P<size> \([^)]*\))?\s*$",
            line,
        )
        if fetched:
            self.count += 1
            return f"  {self.count:3d}  {fetched['name']} {fetched['version']}{fetched['size'] or ''}"
        unpacked = re.match(r"Installing collected packages: (.*)", line)
        if unpacked:
            return f"  unpacking {len(unpacked[1].split(','))} packages ..."
        return None


def install(python: Path, root: Path, *, extras: str) -> None:
    """Install the project at `root` in place, with its `extras` ("" or "[test]"); Stop when pip fails.

    The whole talk of pip is kept in `.venv.log`.
    """
    command = [str(python), "-I", "-m", "pip", "install", "--no-input", "--disable-pip-version-check"]
    command += ["--progress-bar", "off", "--editable", f"{root}{extras}"]
    progress, lines, heard = Progress(), list[str](), threading.Event()
    with subprocess.Popen(
        command,
        cwd=root,
        env={**os.environ, "PIP_USER": "0", "PYTHONUNBUFFERED": "1"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
    ) as process:
        assert process.stdout is not None
        threading.Thread(target=_keep_company, args=(process, heard), daemon=True).start()
        for line in process.stdout:
            lines.append(line)
            shown = progress.told(line)
            if shown:
                heard.set()
                say(shown)
    (root / ".venv.log").write_text("".join(lines), encoding="utf-8")
    if process.returncode:
        raise Stop(trouble_in(lines))


def _keep_company(process: subprocess.Popen[str], heard: threading.Event) -> None:
    """Show that work goes on while pip is silent."""
    quiet_s = 0.0
    while process.poll() is None:
        if heard.wait(_QUIET_S):
            heard.clear()
            quiet_s = 0.0
        elif process.poll() is None:
            quiet_s += _QUIET_S
            say(f"  ... still working ({quiet_s:.0f} s)")


def trouble_in(lines: list[str]) -> str:
    """One sentence for a failed run of pip.

    >>> trouble_in(["ERROR: No room for numpy"])
    'The packages could not be installed (No room for numpy); see .venv.log for all that was said.'
    """
    talk = "".join(lines)
    if re.search(
        r"NewConnectionError|NameResolutionError|ConnectTimeout|Read timed out|ProxyError|Network is unreach", talk
    ):
        return (
            "The packages could not be fetched because there is no connection; connect to the network and start again."
        )
    if re.search(r"No space left on device|Errno 28", talk):
        return "The disk is full: the environment needs about 1 GB; make room and start again."
    errors = [
        match[1] for line in lines if (match := re.match(r"\s*error: (?!subprocess-exited)(.+)", line, re.IGNORECASE))
    ]
    reason = errors[0].rstrip(".") if errors else "pip gave no reason"
    return f"The packages could not be installed ({reason}); see .venv.log for all that was said."
