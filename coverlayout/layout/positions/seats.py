"""The numbers of the exhaustive search: how long every piece is along each axis and how far apart every two must be."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import numpy as np

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.positions.axes import Arc, Matrix, largest_room, longest_paths
from coverlayout.layout.positions.corners import Corner, Order, most_room_at_corners
from coverlayout.layout.search.sheets import Pose, Sheet

__all__ = ["Seats"]


class Seats:
    """The poses of all pieces on one sheet, as matrices over the nodes: 0 the origin, then pieces, then blocks.

    Two nodes must be `least` apart, and where `per_room` is 1 as far as the room. `slack_mm`: every demand is this much
    looser, for a no that must survive the tolerances.
    """

    def __init__(self, sheet: Sheet, poses: Sequence[Pose], gap_mm: float, slack_mm: float = 0.0) -> None:
        """Work the matrices out."""
        self.sheet, self.poses = sheet, tuple(poses)
        self.pieces, self.nodes = len(poses), 1 + len(poses) + len(sheet.blocks)
        self.size = np.zeros((2, self.nodes, self.nodes))
        self.least = np.full((self.nodes, self.nodes), gap_mm - slack_mm)
        self.per_room = np.ones((self.nodes, self.nodes))
        for k, pose in enumerate(poses, start=1):
            self.size[0, k, :], self.size[1, k, :] = pose.width_mm, pose.height_mm
        for b, block in enumerate(sheet.blocks, start=1 + self.pieces):
            self.size[0, b, :], self.size[1, b, :] = block.box.width_mm, block.box.height_mm
            if not block.neighbour:
                self.least[b, :] = self.least[:, b] = -slack_mm
                self.per_room[b, :] = self.per_room[:, b] = 0.0
            if block.seen_only:
                self._only_the_seen(b)
        nodes = range(1, self.nodes)
        self.pairs = [(i, j) for i, j in itertools.combinations(nodes, 2) if i <= self.pieces]
        self.firsts = np.array([i for i, _ in self.pairs], dtype=np.intp)
        self.seconds = np.array([j for _, j in self.pairs], dtype=np.intp)
        shapes = [pose.shape_key() for pose in self.poses]
        self.alike = {(i, j) for i, j in self.pairs if j <= self.pieces and shapes[i - 1] == shapes[j - 1]}

    def _only_the_seen(self, b: int) -> None:
        for k, pose in enumerate(self.poses, start=1):
            self.size[0, k, b], self.size[1, k, b] = pose.seen.right_mm, pose.seen.bottom_mm
            self.size[0, b, k] -= pose.seen.left_mm
            self.size[1, b, k] -= pose.seen.top_mm

    def needs(self, room_mm: float) -> Matrix:
        """How far apart every two nodes must be for this room."""
        needs: Matrix = np.maximum(self.least, np.where(self.per_room > 0.0, room_mm, -np.inf))
        return needs

    def ground(self, axis: int) -> list[Arc]:
        """The ground's edges and the fixed places along an axis (0 across, 1 along)."""
        low, high = self._ends(axis)
        arcs = []
        for k in range(1, self.pieces + 1):
            arcs += [Arc(0, k, low, 1.0), Arc(k, 0, -(high - float(self.size[axis, k, 0])), 1.0)]
        for b, block in enumerate(self.sheet.blocks, start=1 + self.pieces):
            place = block.box.left_mm if axis == 0 else block.box.top_mm
            arcs += [Arc(0, b, place), Arc(b, 0, -place)]
        return arcs

    def without_repeats(self, axis: int) -> list[Arc]:
        """Arcs that leave one of several layouts that differ only by swapping equal pieces or by mirroring the sheet.

        Equal pieces lie in the order of their numbers from left to right. On a sheet without blocks the first piece
        lies in the upper half (mirroring up and down keeps that order), and of some equal pieces the middle one, or the
        one left of the middle, in the left half (mirroring left and right turns the order round).
        """
        arcs = [Arc(i, j, 0.0) for i, j in sorted(self.alike)] if axis == 0 else []
        if self.sheet.blocks:
            return arcs
        low, high = self._ends(axis)
        first = 1 if axis == 1 else self._middle_of_equals()
        return [*arcs, Arc(first, 0, -(low + high - float(self.size[axis, first, 0])) / 2)]

    def _middle_of_equals(self) -> int:
        """The piece that is the middle one of its equals, or left of their middle; of an odd number if there is one."""
        groups: dict[object, list[int]] = {}
        for k, pose in enumerate(self.poses, start=1):
            groups.setdefault(pose.shape_key(), []).append(k)
        group = max(groups.values(), key=lambda members: (len(members) % 2, -members[0]))
        return group[(len(group) - 1) // 2]

    def _ends(self, axis: int) -> tuple[float, float]:
        box = self.sheet.box
        return (box.left_mm, box.right_mm) if axis == 0 else (box.top_mm, box.bottom_mm)

    def most_room(self) -> float:
        """A room that no layout can have: what every single piece leaves of the ground, and what the areas leave."""
        box = self.sheet.box
        across = min(box.width_mm - pose.width_mm for pose in self.poses) / 2
        along = min(box.height_mm - pose.height_mm for pose in self.poses) / 2
        return min(across, along, self._most_by_area())

    def _most_by_area(self) -> float:
        """The room g at which all pieces, each grown by g / 2 all round, fill the ground less g / 2 all round.

        Grown pieces of a layout with room g do not overlap: area + perimeter g / 2 + pi g^2 / 4 each (Steiner).
        """
        box = self.sheet.box
        area = sum(pose.width_mm * pose.height_mm for pose in self.poses) - box.width_mm * box.height_mm
        edge = sum(pose.width_mm + pose.height_mm for pose in self.poses) + box.width_mm + box.height_mm
        square = len(self.poses) * math.pi / 4 - 1.0
        inside = edge * edge - 4 * square * area
        return math.inf if inside < 0.0 else (math.sqrt(inside) - edge) / (2 * square)

    def widened(self, x: Matrix, y: Matrix, needs: Matrix) -> tuple[float, Matrix, Matrix]:
        """The largest room a layout's own relations allow, and places of all nodes then.

        A pair that is apart only from corner to corner keeps to that.
        """
        arcs, corners = self._relations(x, y, needs)
        most = self.most_room()
        if corners:
            return most_room_at_corners(arcs, corners, (x, y), most)
        room = min(largest_room(self.nodes, axis_arcs, most) for axis_arcs in arcs)
        wide_x, wide_y = (self._earliest(axis_arcs, room) for axis_arcs in arcs)
        return room, wide_x, wide_y

    def _earliest(self, arcs: list[Arc], room_mm: float) -> Matrix:
        """The earliest places with a room that the arcs allow, up to float dust."""
        paths = longest_paths(self.nodes, arcs, room_mm)
        if paths is None:
            paths = longest_paths(self.nodes, arcs, room_mm - EXACT_MM)
        assert paths is not None, "a room that is allowed has places"
        earliest: Matrix = paths[0]
        return earliest

    def _relations(self, x: Matrix, y: Matrix, needs: Matrix) -> tuple[tuple[list[Arc], list[Arc]], list[Corner]]:
        """The arcs of a layout's relations along both axes, and the pairs that are apart from corner to corner."""
        arcs = self.ground(0), self.ground(1)
        corners: list[Corner] = []
        for i, j in self.pairs:
            gap_x, *across = max((x[b] - x[a] - self.size[0, a, b], a, b) for a, b in ((i, j), (j, i)))
            gap_y, *along = max((y[b] - y[a] - self.size[1, a, b], a, b) for a, b in ((i, j), (j, i)))
            if max(gap_x, gap_y) < needs[i, j] - EXACT_MM and min(gap_x, gap_y) > 0.0:
                corners.append(Corner(self._order(0, *across), self._order(1, *along), float(self.least[i, j])))
            else:
                axis, order = (0, across) if gap_x >= gap_y else (1, along)
                arcs[axis].extend(self._apart(self._order(axis, *order)))
        return arcs, corners

    def _order(self, axis: int, before: int, after: int) -> Order:
        return float(self.size[axis, before, after]), before, after

    def _apart(self, order: Order) -> list[Arc]:
        size, before, after = order
        arcs = [Arc(before, after, size + float(self.least[before, after]))]
        return [*arcs, Arc(before, after, size, 1.0)] if self.per_room[before, after] else arcs
