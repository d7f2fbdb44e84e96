"""Nothing that a reader of pictures says reaches the terminal, and everything else still does."""

from __future__ import annotations

import logging
import os
import threading
import warnings

import pytest
from picture_samples import encoded, lopsided

from coverlayout.errors import BadInput
from coverlayout.motif.picture import quiet
from coverlayout.motif.pixels import pixels


def _warn_like_pillow():
    warnings.warn_explicit("noise", UserWarning, "PngImagePlugin.py", 1, module="PIL.PngImagePlugin")


def test_pillows_warnings_stay_inside_and_others_come_through():
    with warnings.catch_warnings(record=True) as heard:
        warnings.simplefilter("always")
        with quiet.quiet():
            _warn_like_pillow()
            warnings.warn("ours", UserWarning, stacklevel=1)
        _warn_like_pillow()
    assert [str(one.message) for one in heard] == ["ours", "noise"]


def test_overlapping_threads_put_the_filters_back():
    before = list(warnings.filters)
    inside, leave = threading.Event(), threading.Event()

    def work() -> None:
        with quiet.quiet():
            inside.set()
            leave.wait(10)
            _warn_like_pillow()

    thread = threading.Thread(target=work)
    with quiet.quiet():
        thread.start()
        assert inside.wait(10)
    leave.set()
    thread.join()
    assert warnings.filters == before
    assert quiet._quiet_count == 0


def test_what_a_c_library_says_stays_off_the_terminal(capfd):
    with quiet.hushed():
        os.write(2, b"LZWDecode: noise\n")
    os.write(2, b"after\n")
    assert capfd.readouterr().err == "after\n"


def test_without_a_standard_error_there_is_nothing_to_hush(monkeypatch):
    def gone(_number: int) -> int:
        raise OSError

    monkeypatch.setattr(os, "dup", gone)
    with quiet.hushed():
        assert not quiet._hush_lock.acquire(blocking=False)


def test_a_damaged_packed_tiff_says_one_sentence_and_nothing_else(capfd):
    data = bytearray(encoded(lopsided(60, 60), "TIFF", compression="tiff_lzw"))
    data[100:400] = b"\xff" * 300
    with pytest.raises(BadInput, match="damaged"):
        pixels(bytes(data), name="scan.tif")
    assert capfd.readouterr() == ("", "")


def test_what_pillow_logs_has_a_handler():
    assert any(isinstance(handler, logging.NullHandler) for handler in logging.getLogger("PIL").handlers)
