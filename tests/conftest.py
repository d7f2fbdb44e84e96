"""What every test may count on: no display unless it asks for one, a home of its own, even-handed random checks."""

from __future__ import annotations

import gc
import os
import shutil
import subprocess
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

# Before Qt is loaded: tests stay off screen unless the person asks for a platform by name.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# A busy machine is slow, not wrong; the same examples come every time, so that a failure can be repeated.
settings.register_profile(
    "house", deadline=None, derandomize=True, print_blob=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("wide", settings.get_profile("house"), derandomize=False, max_examples=2000)
settings.load_profile("house")


def pytest_collection_finish(session: pytest.Session) -> None:
    """What was loaded stays: no search for rubbish or for timers left running need go through all of it again."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session", autouse=True)
def own_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Settings, caches and recovery copies of a test run lie in a folder of its own, never in the person's."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for kind in ("CONFIG", "DATA", "CACHE", "STATE"):
            folder = home / kind.lower()
            folder.mkdir()
            patch.setenv(f"XDG_{kind}_HOME", str(folder))
        yield


@pytest.fixture(scope="session")
def x_display() -> Iterator[str]:
    """The name of a display of our own, 1600 x 1000 dots, for windows that must be real; skips without Xvfb."""
    program = shutil.which("Xvfb", path=f"{os.environ.get('PATH', '')}:/usr/bin")
    if program is None:
        pytest.skip("needs Xvfb, which --setup installs")
    reading, writing = os.pipe()
    command = [program, "-displayfd", str(writing), "-screen", "0", "1600x1000x24", "-nolisten", "tcp", "-noreset"]
    with subprocess.Popen(command, pass_fds=[writing], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) as server:
        os.close(writing)
        with os.fdopen(reading) as answer:
            number = answer.readline().strip()
        try:
            assert number, "Xvfb ended before it named its display"
            yield f":{number}"
        finally:
            server.terminate()


@pytest.fixture
def window_environment(x_display: str) -> dict[str, str]:
    """The environment for a process of the program whose window shall be real."""
    return {**os.environ, "DISPLAY": x_display, "QT_QPA_PLATFORM": "xcb"}
