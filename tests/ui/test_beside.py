"""Work beside the window: in order, results in the window's thread, nothing after the end."""

from __future__ import annotations

import threading

import pytest
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot

from coverlayout.ui import beside as beside_module
from coverlayout.ui.beside import Beside


def test_work_is_done_in_order_and_told_in_the_windows_thread(qtbot: QtBot) -> None:
    beside, told = Beside(), []
    where: list[threading.Thread] = []

    def work() -> int:
        where.append(threading.current_thread())
        return len(where)

    for _ in range(3):
        beside.ask(work, lambda number: told.append((number, threading.current_thread())))
    qtbot.waitUntil(lambda: len(told) == 3)
    main = threading.main_thread()
    assert told == [(1, main), (2, main), (3, main)]
    assert main not in where
    beside.end()


def test_what_was_asked_is_done_but_not_told_once_the_window_has_closed(qtbot: QtBot) -> None:
    beside, told = Beside(), []
    done: list[str] = []
    begun, go_on = threading.Event(), threading.Event()

    def work() -> bool:
        begun.set()
        return go_on.wait(5.0)

    beside.ask(work, told.append)
    beside.ask(lambda: done.append("remembered"), told.append)
    assert begun.wait(5.0)
    later = threading.Timer(0.05, go_on.set)
    later.start()
    beside.end()
    QCoreApplication.processEvents()
    assert (done, told) == (["remembered"], [])
    later.join()


def test_a_disk_that_hangs_does_not_keep_the_window_open(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(beside_module, "_LONGEST_WAIT_S", 0.05)
    beside, go_on = Beside(), threading.Event()
    beside.ask(lambda: go_on.wait(5.0))
    beside.end()
    hanging = beside._thread
    assert hanging is not None
    go_on.set()
    hanging.join(5.0)


def test_a_fault_in_one_piece_of_work_does_not_stop_the_next(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    beside, told, faults = Beside(), [], []
    monkeypatch.setattr(threading, "excepthook", lambda fault: faults.append(str(fault.exc_value)))

    def broken() -> None:
        raise RuntimeError("no picture")

    beside.ask(broken, told.append)
    qtbot.waitUntil(lambda: faults == ["no picture"] and beside._thread is None)
    beside.ask(lambda: "a picture", told.append)
    qtbot.waitUntil(lambda: told == ["a picture"])
    beside.end()
