"""Rows of what has to be cut: plain values that know their usual grain."""

import pickle
from dataclasses import FrozenInstanceError, replace

import pytest

from coverlayout.book.materials.cut_item import BoardPiece, CutItem


def test_the_grain_of_a_board_runs_head_to_tail_unless_it_is_said() -> None:
    assert BoardPiece("cover board", 144.5, 216.0, 2.0).grain == "head to tail"
    assert BoardPiece("head and tail", 25.0, 131.5, 2.0, 2, grain="any").grain == "any"


def test_rows_are_values_that_compare_and_travel() -> None:
    row = CutItem("front cover", "cloth", 144.3, 182.4, volumes=(1,))
    assert pickle.loads(pickle.dumps(row)) == row
    assert len({row, replace(row), replace(row, count=2)}) == 2
    with pytest.raises(FrozenInstanceError):
        row.count = 3  # type: ignore[misc]  # that it cannot be written is what is tested
