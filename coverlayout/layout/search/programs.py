"""Linear programs for bounds and corners, solved by HiGHS without a word on standard output."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import highspy
import numpy as np

__all__ = ["LinearProgram"]


class LinearProgram:
    """Maximise a sum of variables under rows of sums; a thin cover over the solver.

    >>> program = LinearProgram([(0.0, 10.0), (0.0, 10.0)])
    >>> program.add_row({0: 1.0, 1: 2.0}, (0.0, 8.0))
    >>> program.best({0: 1.0, 1: 1.0})
    [8.0, 0.0]
    """

    def __init__(self, bounds: list[tuple[float, float]]) -> None:
        """Start with one variable for each pair of bounds, infinite ones allowed."""
        # The solver's outer class greets on standard output when it is made, where JSON must stand alone.
        self._solver: Any = highspy._Highs()  # type: ignore[attr-defined]  # its stub leaves the inner class out
        self._solver.setOptionValue("output_flag", False)
        self._solver.setOptionValue("threads", 1)
        self._variables = len(bounds)
        for low, high in bounds:
            self._solver.addVar(low, high)
        self._solver.changeObjectiveSense(highspy.ObjSense.kMaximize)

    def add_row(self, factors: Mapping[int, float], within: tuple[float, float]) -> None:
        """Keep a sum of factors (by variable number) times variables within two bounds, infinite ones allowed."""
        numbers = np.array(list(factors), dtype=np.int32)
        values = np.array(list(factors.values()), dtype=np.float64)
        self._solver.addRow(*within, len(numbers), numbers, values)

    def best(self, gains: Mapping[int, float]) -> list[float] | None:
        """The values of the variables that make the sum of gains times variables largest; None when nothing is allowed.

        Asked again with other gains it starts from where it was. RuntimeError when the solver itself fails, or it would
        be taken for proved that nothing is allowed.
        """
        for number in range(self._variables):
            self._solver.changeColCost(number, gains.get(number, 0.0))
        if self._solver.run() == highspy.HighsStatus.kError:
            raise RuntimeError("the solver of linear programs failed")
        if self._solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        return list(self._solver.getSolution().col_value)
