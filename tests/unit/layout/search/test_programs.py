"""Linear programs against corners found by hand; asked again; impossible ones; and no word on standard output."""

from __future__ import annotations

import math

import pytest

from coverlayout.layout.search.programs import LinearProgram


def test_the_best_corner() -> None:
    program = LinearProgram([(0.0, math.inf), (0.0, 6.0)])
    program.add_row({0: 1.0, 1: 2.0}, (-math.inf, 14.0))
    program.add_row({0: 3.0, 1: -1.0}, (0.0, math.inf))
    program.add_row({0: 1.0, 1: -1.0}, (-math.inf, 2.0))
    assert program.best({0: 3.0, 1: 4.0}) == pytest.approx([6.0, 4.0])
    # Asked again for something else.
    assert program.best({1: 1.0}) == pytest.approx([2.0, 6.0], abs=1e-6)
    assert program.best({0: -1.0}) == pytest.approx([0.0, 0.0])


def test_nothing_allowed_or_no_end() -> None:
    impossible = LinearProgram([(0.0, 1.0)])
    impossible.add_row({0: 1.0}, (2.0, math.inf))
    assert impossible.best({0: 1.0}) is None
    assert LinearProgram([(0.0, math.inf)]).best({0: 1.0}) is None


def test_a_solver_that_fails_is_never_taken_for_a_no() -> None:
    program = LinearProgram([(0.0, 1.0)])
    # One process has one number of threads; asking for another is an error of the solver.
    program.best({0: 1.0})
    program._solver.setOptionValue("threads", 2)
    with pytest.raises(RuntimeError, match="solver of linear programs failed"):
        program.best({0: -1.0})


def test_nothing_is_said_where_json_stands_alone(capfd: pytest.CaptureFixture[str]) -> None:
    program = LinearProgram([(0.0, 1.0)])
    program.add_row({0: 1.0}, (-math.inf, 0.5))
    assert program.best({0: 1.0}) == [0.5]
    assert capfd.readouterr().out == ""
