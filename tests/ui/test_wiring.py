"""The desktop put together: the worker's answers on the window's thread, one sentence without a display."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot
from worker_answers import answer_as_told

from coverlayout.app import desktop
from coverlayout.app.desktop import _tell_fault, run
from coverlayout.app.wiring import Desktop, WorkerPort, program_icon
from coverlayout.app.worker import Worker
from coverlayout.document.file import save
from coverlayout.document.project import Project
from coverlayout.document.session import Pictures
from coverlayout.errors import BadInput
from coverlayout.ui.port import Heard


@pytest.fixture
def port(qtbot: QtBot) -> Iterator[WorkerPort]:
    port = WorkerPort()
    port._worker = Worker(port.take, answer_as_told)
    port.start()
    qtbot.waitUntil(lambda: port.worker.warm == 2, timeout=20_000)
    yield port
    port.close()


def test_answers_come_on_the_windows_thread(qtbot: QtBot, port: WorkerPort) -> None:
    heard: list[tuple[Heard, bool]] = []
    port.heard.connect(lambda each: heard.append((each, threading.current_thread() is threading.main_thread())))
    number = port.ask("lay", ("echo", "laid"))
    qtbot.waitUntil(lambda: bool(heard) and heard[-1][0].state == "done", timeout=10_000)
    assert (heard[-1][0].number, heard[-1][0].answer) == (number, "laid")
    assert all(on_main for _, on_main in heard)


def test_nothing_is_heard_of_a_cancelled_question(qtbot: QtBot, port: WorkerPort) -> None:
    heard: list[Heard] = []
    port.heard.connect(heard.append)
    port.ask("lay", ("improve", 50))
    qtbot.waitUntil(lambda: bool(heard), timeout=10_000)
    port.cancel()
    count = len(heard)
    qtbot.wait(200)
    assert len(heard) == count


def test_a_worker_is_made_only_when_it_is_needed() -> None:
    port = WorkerPort()
    port.cancel()
    port.close()
    assert port._worker is None


def test_the_desktop_opens_a_project_and_ends_clean(qtbot: QtBot, qapp: object, tmp_path: Path) -> None:
    save(tmp_path / "salt.coverlayout", Project(name="Salt works"), Pictures())
    desktop = Desktop(qapp)  # type: ignore[arg-type]  # pytest-qt's application
    desktop.window.painted.connect(desktop.begin)
    desktop.show(tmp_path / "salt.coverlayout")
    qtbot.waitUntil(lambda: desktop.window._painted)
    assert desktop.session.project.name == "Salt works"
    qtbot.waitUntil(lambda: len(desktop.port.worker.pids) == 2, timeout=20_000)
    window, free = desktop.window, desktop.window.screen().availableSize()
    assert window.frameGeometry().height() <= free.height()
    assert window.width() == min(1440, max(free.width(), window.minimumWidth())), "as wide as it has to be for use"
    assert desktop.window.close()
    desktop.close()
    assert desktop.port.worker.pids == ()
    desktop.window.deleteLater()
    desktop.look.deleteLater()


def test_without_a_display_it_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    with pytest.raises(BadInput) as fault:
        run()
    assert "no display" in str(fault.value)


def test_the_first_paint_is_told_and_ends_the_program() -> None:
    words = [sys.executable, "-m", "coverlayout", "--first-paint"]
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(words, env=environment, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stdout) == (0, "painted\n")
    assert "Traceback" not in done.stderr


def test_a_fault_of_the_program_is_one_sentence_with_its_details_in_a_log(tmp_path: Path) -> None:
    said: list[tuple[str, bool]] = []
    try:
        raise KeyError("nowhere")
    except KeyError as fault:
        _tell_fault(lambda sentence, trouble: said.append((sentence, trouble)), KeyError, fault, fault.__traceback__)
    ((words, trouble),) = said
    assert trouble
    assert "KeyError" in words
    assert "your work is still here" in words
    log = Path(words.rsplit("The details are in ", 1)[1].removesuffix("."))
    assert "nowhere" in log.read_text(encoding="utf-8")


def test_the_programs_sign_is_drawn_at_every_size(qapp: object) -> None:
    icon = program_icon()
    assert {size.width() for size in icon.availableSizes()} == {16, 24, 32, 48, 64, 128, 256}
    small = icon.pixmap(32, 32).toImage()
    # The board in the middle is white, the ground beside it is not, and outside the round corner there is nothing.
    assert small.pixelColor(12, 9).lightness() > small.pixelColor(4, 24).lightness()
    assert small.pixelColor(0, 0).alpha() == 0


def test_a_fault_beside_the_window_goes_into_the_log(monkeypatch: pytest.MonkeyPatch) -> None:
    kept: list[BaseException] = []
    monkeypatch.setattr(desktop, "logged", lambda fault: kept.append(fault) or "log")
    monkeypatch.setattr(threading, "excepthook", desktop._log_fault)
    fault = RuntimeError("no picture")

    def fail() -> None:
        raise fault

    beside = threading.Thread(target=fail)
    beside.start()
    beside.join()
    assert kept == [fault]
