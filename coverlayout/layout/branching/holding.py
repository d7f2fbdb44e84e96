"""What follows for pieces held to places of the print: places left, and what one place tells of all others."""

from __future__ import annotations

import numpy as np

from coverlayout.geometry.tolerance import EXACT_MM
from coverlayout.layout.branching.nodes import OPEN, Flags, Nodes, Numbers

__all__ = ["keep_held"]


def keep_held(nodes: Nodes) -> Flags:
    """Leave every held piece only places that are still possible; the nodes in which something new came of it."""
    held = nodes.tables.held
    if not held.piece:
        return np.zeros(len(nodes), dtype=np.bool_)
    before = nodes.left.sum(axis=(1, 2))
    for number in range(len(held.piece)):
        _within_bounds(nodes, number)
    moved = _tell_others(nodes)
    counts = nodes.left.sum(axis=2)
    nodes.alive &= (counts > 0).all(axis=1)
    rows = np.flatnonzero(nodes.alive)
    for number in range(len(held.piece)):
        moved[rows[_tell_bounds(nodes, number, rows)]] = True
    return np.asarray(moved | (counts.sum(axis=1) < before))


def _loose_mm(nodes: Nodes, number: int) -> float:
    """How far a held piece may be off its places, over all the locks and links that they come of."""
    return nodes.tables.loose_mm * nodes.tables.held.musts[number]


def _within_bounds(nodes: Nodes, number: int) -> None:
    held, piece, left = nodes.tables.held, nodes.tables.held.piece[number], nodes.left[:, number]
    loose = _loose_mm(nodes, number) + EXACT_MM
    seat = nodes.seat[:, piece, None]
    left &= (seat == OPEN) | (held.seat[number] == seat)
    for axis in (0, 1):
        place = held.place[number, :, axis]
        low, high = nodes.paths[axis][:, 0, piece + 1, None], -nodes.paths[axis][:, piece + 1, 0, None]
        left &= (place >= low - loose) & (place <= high + loose)


def _tell_others(nodes: Nodes) -> Flags:
    """Pieces with one place left strike out, once, what does not go together with it."""
    held = nodes.tables.held
    told = np.zeros(len(nodes), dtype=np.bool_)
    for number in range(len(held.piece)):
        rows = np.flatnonzero((nodes.left[:, number].sum(axis=1) == 1) & ~nodes.told[:, number] & nodes.alive)
        if not len(rows):
            continue
        told[rows] = True
        nodes.told[rows, number] = True
        only = nodes.left[rows, number].argmax(axis=1)
        for other in range(len(held.piece)):
            fit = held.together.get((number, other))
            if fit is not None:
                nodes.left[rows, other] &= fit[only]
    return told


def _tell_bounds(nodes: Nodes, number: int, rows: Numbers) -> Flags:
    """The outermost places left bound the piece; a seat that all of them share is its seat."""
    held, loose = nodes.tables.held, _loose_mm(nodes, number)
    piece, left = held.piece[number], nodes.left[rows, number]
    moved = _tell_seat(nodes, number, rows, left)
    for axis in (0, 1):
        place = held.place[number, :, axis]
        low = np.where(left, place, np.inf).min(axis=1) - loose
        high = np.where(left, place, -np.inf).max(axis=1) + loose
        paths = nodes.paths[axis]
        news = (paths[rows, 0, piece + 1] + EXACT_MM < low) | (-paths[rows, piece + 1, 0] - EXACT_MM > high)
        moved = moved | news
        if news.any():
            nodes.add(axis, rows[news], 0, piece + 1, low[news])
            nodes.add(axis, rows[news], piece + 1, 0, -high[news])
    return moved


def _tell_seat(nodes: Nodes, number: int, rows: Numbers, left: Flags) -> Flags:
    held = nodes.tables.held
    piece = held.piece[number]
    seats = np.where(left, held.seat[number], -1).max(axis=1)
    least = np.where(left, held.seat[number], np.iinfo(np.intp).max).min(axis=1)
    alone = (seats == least) & (nodes.seat[rows, piece] == OPEN)
    if alone.any():
        nodes.seat_at(piece, rows[alone], seats[alone])
    return np.asarray(alone)
