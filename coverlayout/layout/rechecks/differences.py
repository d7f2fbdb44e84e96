"""Least differences between places on one axis, kept with all that follows from them; whole numbers."""

from __future__ import annotations

__all__ = ["Differences"]

_FAR = 10**12


class Differences:
    """How much further some places are than others at the least.

    >>> apart = Differences(3)
    >>> apart.add(0, 1, 5), apart.add(1, 2, 4), apart.least(0, 2), apart.add(2, 0, -8)
    (True, True, 9, False)
    """

    def __init__(self, nodes: int) -> None:
        """So many places, of which nothing is known."""
        self._least = [[0 if u == v else -_FAR for v in range(nodes)] for u in range(nodes)]

    def copy(self) -> Differences:
        """Others that know the same."""
        other = Differences(0)
        other._least = [row[:] for row in self._least]
        return other

    def least(self, u: int, v: int) -> int:
        """How much further v is than u at the least."""
        return self._least[u][v]

    def may(self, u: int, v: int, least: int) -> bool:
        """Whether v may be that much further than u."""
        return self._least[v][u] + least <= 0

    def add(self, u: int, v: int, least: int) -> bool:
        """Put v at least so much further than u; False when that cannot be."""
        if not self.may(u, v, least):
            return False
        if self._least[u][v] < least:
            rows = self._least
            from_v = rows[v]
            for row in rows:
                start = row[u] + least
                for end, further in enumerate(from_v):
                    row[end] = max(row[end], start + further)
        return True
