"""Finds out whether there is a display that a window can be opened on."""

from __future__ import annotations

import ctypes
import os
import re
import socket
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Literal

__all__ = ["answering_display", "lets_us_in"]

Display = Literal["x11", "wayland", "own"]


def answering_display(environment: Mapping[str, str] | None = None) -> Display | None:
    """The kind of display that answers, or None: not set, set but gone, or Qt was told to stay off screen.

    Systems that always have a display answer "own".
    """
    env = os.environ if environment is None else environment
    if env.get("QT_QPA_PLATFORM", "").split(":")[0] in ("offscreen", "minimal"):
        return None
    if not sys.platform.startswith("linux"):
        return "own"
    if env.get("DISPLAY") and _x_answers(env["DISPLAY"]):
        return "x11"
    if env.get("WAYLAND_DISPLAY") and _answers(_wayland_socket(env)):
        return "wayland"
    return None


def lets_us_in(display: Display) -> bool:
    """True unless the X server turns us away (another person's session); asks through libxcb, which must be there."""
    if display != "x11":
        return True
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return False
    xcb.xcb_connect.restype = ctypes.c_void_p
    xcb.xcb_connect.argtypes = [ctypes.c_char_p, ctypes.c_void_p]
    xcb.xcb_connection_has_error.argtypes = [ctypes.c_void_p]
    xcb.xcb_disconnect.argtypes = [ctypes.c_void_p]
    connection = xcb.xcb_connect(None, None)
    refused = bool(xcb.xcb_connection_has_error(connection))
    xcb.xcb_disconnect(connection)
    return not refused


def _x_answers(name: str) -> bool:
    """True when something listens where `host:number` or `:number` points."""
    match = re.fullmatch(r"(?:(?P<host>[^:/]*):)(?P<number>\d{1,5})(?:\.\d+)?", name)
    if match is None:
        return name.startswith("/") and _answers(name.removesuffix(".0"))
    number = int(match["number"])
    if match["host"] in ("", "unix"):
        path = f"/tmp/.X11-unix/X{number}"
        return _answers(path) or _answers("\0" + path)
    try:
        with socket.create_connection((match["host"], 6000 + number), timeout=2):
            return True
    except OSError:
        return False


def _wayland_socket(env: Mapping[str, str]) -> str:
    name = env["WAYLAND_DISPLAY"]
    return name if name.startswith("/") else str(Path(env.get("XDG_RUNTIME_DIR", "/nowhere")) / name)


def _answers(path: str) -> bool:
    try:
        with socket.socket(socket.AF_UNIX) as line:
            line.settimeout(2)
            line.connect(path)
    except OSError:
        return False
    return True
