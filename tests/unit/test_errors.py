"""Faults and remarks: one sentence each, figures in the maker's unit, able to travel between processes."""

from __future__ import annotations

import copy
import string
import tomllib
from importlib.resources import files

import pytest

from coverlayout.errors import BadInput, CoverlayoutError, FileTrouble, Remark, sentence


def test_a_fault_says_what_is_wrong_and_what_would_be_right() -> None:
    fault = BadInput("length-too-small", where="--turn-in", found="-1mm", like="15mm")
    assert str(fault) == "--turn-in -1mm: the length must be above 0, like 15mm"
    assert isinstance(fault, CoverlayoutError)
    assert fault.remark == Remark.of("length-too-small", where="--turn-in", found="-1mm", like="15mm")


def test_lengths_are_written_in_the_makers_unit() -> None:
    figures = {"where": "--gap", "found": "9km", "limit_mm": 200_000.0, "like": "3mm"}
    assert "200000 mm" in sentence("length-absurd", figures)
    assert "200 m" in sentence("length-absurd", figures, lambda mm: f"{mm / 1000:.0f} m")


def test_a_code_without_a_sentence_is_a_fault_of_the_program() -> None:
    with pytest.raises(KeyError):
        sentence("no-such-code", {})


def test_a_remark_keeps_its_figures_in_order() -> None:
    remark = Remark.of("length-too-small", where="a", found="b", like="c")
    assert remark.figures == (("where", "a"), ("found", "b"), ("like", "c"))
    assert remark.text() == "a b: the length must be above 0, like c"
    assert hash(remark) == hash(Remark.of("length-too-small", where="a", found="b", like="c"))


@pytest.mark.parametrize("kind", [BadInput, FileTrouble])
def test_a_fault_travels_between_processes_whole(kind: type[CoverlayoutError]) -> None:
    fault = kind("outline-crosses", where="--outline")
    again = copy.copy(fault)  # copying goes the way of travelling: taken apart and made anew
    assert type(again) is kind
    assert again.code == fault.code
    assert again.figures == fault.figures
    assert str(again) == str(fault)


def test_every_sentence_is_one_line_with_readable_gaps() -> None:
    table = tomllib.loads(files("coverlayout.resources").joinpath("sentences/english.toml").read_text("utf-8"))
    for words in (words for area in table.values() for words in area.values()):
        assert "\n" not in words
        assert all(name is None or name.isidentifier() for _, name, _, _ in string.Formatter().parse(words))
