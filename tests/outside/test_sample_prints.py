"""The sample prints: the committed tiles are what the generator draws, they have their size, and they join."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from source_tree import ROOT

from coverlayout.motif.cell import Floats
from coverlayout.motif.drawn import drawn_tile
from coverlayout.motif.pixels import Rgb, pixels
from coverlayout.motif.prints import Print, RepeatLayout
from coverlayout.motif.repeat import lattice_of
from coverlayout.motif.tile import open_picture

FOLDER = ROOT / "sample_prints"
# Our own invention: name, printed size in mm, layout. Sizes as the README beside the tiles gives them.
PRINTS: dict[str, tuple[tuple[float, float], RepeatLayout]] = {
    "wader": ((64.0, 96.0), "half-drop"),
    "grains": ((36.0, 36.0), "straight"),
    "tide-line": ((48.0, 12.0), "straight"),
    "wind-pump": ((120.0, 120.0), "straight"),
    "rake": ((40.0, 20.0), "brick"),
}


@pytest.fixture(scope="module")
def drawn_again(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("prints")
    command = [sys.executable, "-B", str(FOLDER / "draw_prints.py"), str(folder)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    assert [Path(line).stem for line in done.stdout.splitlines()] == list(PRINTS)
    return folder


def tile(folder: Path, name: str) -> Rgb:
    return pixels((folder / f"{name}.png").read_bytes())


@pytest.mark.parametrize("name", PRINTS)
def test_the_committed_tile_is_what_the_generator_draws(name: str, drawn_again: Path) -> None:
    committed, fresh = tile(FOLDER, name).astype(int), tile(drawn_again, name).astype(int)
    # Another version of the drawing library may round an edge otherwise: a few levels on a few pixels.
    assert np.abs(committed - fresh).mean() < 0.5
    assert (np.abs(committed - fresh).max(axis=2) > 24).mean() < 0.002


@pytest.mark.parametrize("name", PRINTS)
def test_size_and_weight(name: str) -> None:
    data = (FOLDER / f"{name}.png").read_bytes()
    assert open_picture(data, name).size_from_file_mm == pytest.approx(PRINTS[name][0], abs=1e-9)
    assert len(data) < 400_000


def columns_apart(rgb: Rgb) -> Floats:
    """Mean difference of level between each column and the next, the last one being compared with the first."""
    level = rgb.astype(int).sum(axis=2)
    return np.abs(level - np.roll(level, -1, axis=1)).mean(axis=0)


def seam_at(rgb: Rgb, column: int) -> bool:
    """True when the step after a column stands out from the usual steps of the same picture."""
    steps = columns_apart(rgb)
    return bool(steps[column] > 2 * np.median(steps) + 1)


@pytest.mark.parametrize("name", [name for name in PRINTS if name != "tide-line"])
def test_the_print_joins_without_a_seam(name: str) -> None:
    tile_mm, layout = PRINTS[name]
    print_ = Print(name, name, lattice_of(layout, tile_mm), layout, tile_mm=tile_mm)
    rgb = drawn_tile(print_, tile(FOLDER, name)).rgb
    width_px, height_px = (round(side_mm * 12) for side_mm in tile_mm)
    assert not any(seam_at(rgb, column) for column in (width_px - 1, -1))
    assert not any(seam_at(rgb.swapaxes(0, 1), row) for row in (height_px - 1, -1))


def test_stripes_run_straight_through_and_begin_and_end_on_one_colour() -> None:
    rgb = tile(FOLDER, "tide-line")
    assert (rgb == rgb[:1]).all()
    assert (rgb[:, 0] == rgb[:, -1]).all()


@pytest.mark.parametrize("name", ["grains", "wind-pump"])
def test_the_same_measure_sees_a_tile_cut_short(name: str) -> None:
    rgb = tile(FOLDER, name)
    assert seam_at(rgb[:, :-8], -1)
    assert seam_at(rgb[:-8].swapaxes(0, 1), -1)
