"""Places that keep slanted lines, and the most room a layout has: linear programs over the places of all pieces."""

from __future__ import annotations

import math

import numpy as np

from coverlayout.layout.branching.nodes import Nodes, Numbers
from coverlayout.layout.exact.apart import Floats
from coverlayout.layout.search.programs import LinearProgram

__all__ = ["slanted_places"]

# Lines are kept by as much as possible up to this, so that dust breaks none (mm).
_MARGIN_MM = 0.5


def slanted_places(nodes: Nodes, row: int, choices: Numbers, normals: Numbers, bounds: Floats) -> Floats | None:
    """Places of all nodes (node, axis) that keep what a node knows and the slanted lines it has; None for none."""
    apart = nodes.tables.apart
    places = nodes.tables.pieces + 1
    margin = 2 * places
    fixed = [(0.0, 0.0), *[(-math.inf, math.inf)] * (places - 1)]
    program = LinearProgram([*fixed, *fixed, (0.0, _MARGIN_MM)])
    for axis in (0, 1):
        paths = nodes.paths[axis][row]
        for i, j in zip(*np.nonzero(np.isfinite(paths) & ~np.eye(places, dtype=np.bool_)), strict=True):
            program.add_row({axis * places + int(j): 1.0, axis * places + int(i): -1.0}, (float(paths[i, j]), math.inf))
    for choice, normal, bound in zip(choices, normals, bounds, strict=True):
        line: dict[int, float] = {margin: -1.0}
        for axis in (0, 1):
            along = float(apart.normals[normal, axis])
            for node, sign in ((int(apart.second[choice]), 1.0), (int(apart.first[choice]), -1.0)):
                if node:
                    line[axis * places + node] = sign * along
        program.add_row(line, (float(bound), math.inf))
    best = program.best({margin: 1.0})
    if best is None:
        return None
    return np.array(best[: 2 * places]).reshape(2, places).T
