"""A display counts only when something answers there."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from starting.display import answering_display, lets_us_in

# No server takes this number by itself.
UNUSED = ":64999"


@pytest.fixture
def wayland_socket(tmp_path: Path) -> Iterator[Path]:
    path = tmp_path / "wayland-7"
    with socket.socket(socket.AF_UNIX) as server:
        server.bind(str(path))
        server.listen()
        yield path


@pytest.mark.parametrize("name", [UNUSED, "nonsense", ":", "/no/such/socket", "127.0.0.1:59000"])
def test_a_display_that_is_gone_is_none(name: str) -> None:
    assert answering_display({"DISPLAY": name}) is None


def test_nothing_set_is_none() -> None:
    assert answering_display({}) is None
    assert answering_display({"DISPLAY": "", "WAYLAND_DISPLAY": ""}) is None


def test_wayland_answers_by_name_and_by_path(wayland_socket: Path) -> None:
    by_name = {"WAYLAND_DISPLAY": wayland_socket.name, "XDG_RUNTIME_DIR": str(wayland_socket.parent)}
    assert answering_display(by_name) == "wayland"
    assert answering_display({"WAYLAND_DISPLAY": str(wayland_socket)}) == "wayland"
    assert answering_display({"WAYLAND_DISPLAY": "wayland-9", "XDG_RUNTIME_DIR": "/nowhere"}) is None


def test_a_stale_x_display_leaves_wayland(wayland_socket: Path) -> None:
    assert answering_display({"DISPLAY": UNUSED, "WAYLAND_DISPLAY": str(wayland_socket)}) == "wayland"


def test_qt_told_to_stay_off_screen_is_heeded(wayland_socket: Path) -> None:
    asked = {"WAYLAND_DISPLAY": str(wayland_socket), "QT_QPA_PLATFORM": "offscreen"}
    assert answering_display(asked) is None


def test_a_real_display_answers_and_lets_us_in(x_display: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert answering_display({"DISPLAY": x_display}) == "x11"
    assert answering_display({"DISPLAY": f"{x_display}.0"}) == "x11"
    monkeypatch.setenv("DISPLAY", x_display)
    assert lets_us_in("x11")
    monkeypatch.setenv("DISPLAY", UNUSED)
    assert not lets_us_in("x11")


def test_systems_with_a_display_of_their_own_are_trusted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.platform", "darwin")
    assert answering_display({}) == "own"
    assert lets_us_in("own")
