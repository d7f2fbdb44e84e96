"""The base line against a least-squares similarity that numpy alone works out."""

from __future__ import annotations

import numpy as np
import pytest

from coverlayout.cloth.base_line import MotifPlace, laid_by, similarity
from coverlayout.cloth.cloth import Change, Cloth
from coverlayout.cloth.usable import laid_to_cloth
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint

LATTICE = Lattice((64.0, 48.0), (0.0, 96.0))


def by_numpy(was: np.ndarray, now: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Matrix and shift of x' = p x - q y + s, y' = q x + p y + t with the least sum of squares, as a linear system."""
    rows, wanted = [], []
    for (x, y), (to_x, to_y) in zip(was, now, strict=True):
        rows += [[x, -y, 1.0, 0.0], [y, x, 0.0, 1.0]]
        wanted += [to_x, to_y]
    (p, q, s, t), *_ = np.linalg.lstsq(np.array(rows), np.array(wanted), rcond=None)
    return np.array([[p, -q], [q, p]]), np.array([s, t])


@pytest.mark.parametrize("seed", range(20))
def test_the_similarity_is_the_one_of_least_squares(seed):
    chance = np.random.default_rng(seed)
    count = int(chance.integers(2, 7))
    was = chance.uniform(0, 900, (count, 2))
    now = was @ np.array([[0.99, 0.03], [-0.03, 0.99]]) + chance.normal(0, 1.5, (count, 2)) + [12.0, -7.0]
    matrix, moved = by_numpy(was, now)
    ours = similarity([tuple(place) for place in was], [tuple(place) for place in now])
    assert (ours.xx, ours.xy, ours.yx, ours.yy) == pytest.approx(tuple(matrix.ravel()), abs=1e-9)
    assert (ours.dx, ours.dy) == pytest.approx(tuple(moved), abs=1e-6)


@pytest.mark.parametrize("seed", range(20))
def test_a_print_laid_by_its_motifs_is_the_print_before_and_then_that_similarity(seed):
    chance = np.random.default_rng(100 + seed)
    laid = LaidPrint("p", (12.0, 5.5), float(chance.uniform(-180, 180)), -1.0, 0.5, 0.25)
    cloth = Cloth("c", "Swatch", 1100.0, 900.0, changes=(Change("washing", -3.0, -2.0),))
    before = laid_to_cloth(cloth, laid)
    count = int(chance.integers(2, 5))
    repeats = [(0, 0), *((int(i) + 1, int(k)) for i, k in chance.integers(-4, 5, (count - 1, 2)) if i >= 0)]
    repeats = repeats if len(repeats) > 1 else [*repeats, (3, -1)]
    motif = (20.0, 30.0)
    steps = np.array([(i * 64.0, i * 48.0 + k * 96.0) for i, k in repeats]) + motif
    old = np.array([[before.xx, before.xy], [before.yx, before.yy]])
    was = steps @ old.T + [before.dx, before.dy]
    now = was @ np.array([[1.02, 0.04], [-0.04, 1.02]]) + chance.normal(0, 0.8, was.shape)
    matrix, moved = by_numpy(was, now)
    found = laid_by(
        cloth, laid, LATTICE, [MotifPlace(tuple(at), of) for at, of in zip(now, repeats, strict=True)], motif_mm=motif
    )
    wanted = matrix @ old
    ours = laid_to_cloth(cloth, found.laid)
    assert (ours.xx, ours.xy, ours.yx, ours.yy) == pytest.approx(tuple(wanted.ravel()), abs=1e-9)
    assert (ours.dx, ours.dy) == pytest.approx(tuple(matrix @ [before.dx, before.dy] + moved), abs=1e-6)
    assert found.stretch_percent == pytest.approx(100 * (np.sqrt(np.linalg.det(matrix)) - 1))
    assert found.turned_deg == pytest.approx(np.degrees(np.arctan2(matrix[1, 0], matrix[0, 0])))
    off = np.linalg.norm(was @ matrix.T + moved - now, axis=1).max()
    assert found.off_mm == pytest.approx(off, abs=1e-6)
