"""The five prints of the salt works: what is drawn on each, in mm, from the bottom layer up."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from press import Tile, curve, disc, mixed, petal, placed, stroke

__all__ = ["PRINTS"]

Points = npt.NDArray[np.float64]

SALT = "#f5f0e4"
CLAY = "#e6d8bf"
OCHRE = "#c2924f"
INK = "#1e3440"
BRINE = "#3d6571"
SHALLOW = "#7fa3a3"
MIST = "#b8cdc6"
SAMPHIRE = "#a5404c"
ROSE = "#d79a90"


def _sprig(tile: Tile, at: tuple[float, float], turn_deg: float, size: float, colours: tuple[str, str]) -> None:
    """A stem of glasswort: plump joints one above the other, pairs of side shoots on the lower ones."""
    stem = _joints(11, 3.6, 2.5, 1.5)
    shoots = [_shoot(stem[joint], side, count) for joint, count in ((1, 8), (3, 6), (5, 5), (7, 3)) for side in (-1, 1)]
    for joint in [joint for shoot in shoots for joint in shoot] + stem:
        tile.fill(placed(joint, at, turn_deg, size), colours[0])
        x, y = joint.mean(axis=0)
        tile.fill(placed(disc((x - 0.1, y), 0.3, 2.0), at, turn_deg, size), colours[1])


def _shoot(joint: Points, side: int, count: int) -> list[Points]:
    """A side shoot that leaves the stem at a joint and bends upward."""
    x, y = joint.mean(axis=0)
    return [placed(part, (x, y), side * 52.0) for part in _joints(count, 2.9, 2.05, side * 9.0)]


def _joints(count: int, length_mm: float, width_mm: float, bend_deg: float) -> list[Points]:
    """A chain of joints from (0, 0) upward that bends a little and grows thinner."""
    joints, at, turn_deg = [], np.zeros(2), 0.0
    for number in range(count):
        slim = 1 - 0.4 * number / count
        joint = curve(
            [
                (-0.32 * width_mm, 0.0),
                (-0.52 * width_mm, -0.66 * length_mm),
                (0.0, -1.02 * length_mm),
                (0.52 * width_mm, -0.66 * length_mm),
                (0.32 * width_mm, 0.0),
            ]
        )
        joints.append(placed(joint, (at[0], at[1]), turn_deg, slim))
        turn = math.radians(turn_deg)
        at = at + 0.94 * length_mm * slim * np.array([math.sin(turn), -math.cos(turn)])
        turn_deg -= bend_deg
    return joints


def _wader(tile: Tile, at: tuple[float, float], size: float = 1.0) -> None:
    """A long-legged wading bird facing left, its feet in the water at `at`."""

    def ink(points: Points, colour: str) -> None:
        tile.fill(placed(points, at, 0.0, size), colour)

    for hip, knee, foot in (((3.5, -18.5), (6.6, -9.5), (4.6, 0.6)), ((0.0, -18.0), (0.6, -9.2), (-1.6, 0.6))):
        ink(stroke(curve([hip, knee, foot], closed=False), 1.1, 0.75, 0.65), MIST)
        ink(disc(knee, 0.75), MIST)
    bill = [(-13.0, -41.2), (-17.5, -40.4), (-21.5, -41.0), (-25.0, -43.4)]
    ink(stroke(curve(bill, closed=False), 1.25, 0.62, 0.2), INK)
    body = [(-13.6, -41.8), (-12.9, -43.5), (-11.0, -44.3), (-9.0, -43.0), (-8.2, -39.5), (-7.9, -36.0), (-6.2, -33.0)]
    body += [(-1.5, -31.4), (5.5, -29.6), (13.0, -26.6), (21.5, -22.9), (14.5, -21.9), (7.0, -18.6), (0.0, -16.9)]
    body += [(-6.6, -18.6), (-10.8, -22.8), (-12.0, -27.8), (-11.6, -33.0), (-11.9, -37.6), (-12.9, -40.2)]
    ink(curve(body), SALT)
    cap = [(-13.9, -41.4), (-13.1, -43.5), (-11.0, -44.5), (-8.8, -43.2), (-7.8, -39.6), (-7.3, -35.2), (-7.9, -33.4)]
    cap += [(-8.8, -36.6), (-9.4, -39.8), (-10.6, -41.2), (-12.2, -41.0)]
    ink(curve(cap), INK)
    ink(stroke(curve([(-5.0, -31.6), (1.5, -29.3), (7.5, -26.4), (12.5, -23.6)], closed=False), 0.4, 2.5, 0.3), INK)
    ink(stroke(curve([(-7.2, -26.8), (-2.0, -24.2), (4.0, -22.4), (10.5, -22.2)], closed=False), 0.4, 2.3, 0.3), INK)
    ink(stroke(curve([(9.0, -25.6), (15.0, -24.4), (23.6, -21.8)], closed=False), 0.5, 2.2, 0.2), INK)
    ink(disc((-11.9, -42.3), 0.42), SALT)


def _ripple(tile: Tile, at: tuple[float, float], width_mm: float, colour: str) -> None:
    x, y = at
    line = [
        (x - width_mm / 2, y),
        (x - width_mm / 6, y - 0.5),
        (x + width_mm / 6, y + 0.35),
        (x + width_mm / 2, y - 0.1),
    ]
    tile.fill(stroke(curve(line, closed=False), 0.15, 0.75, 0.15), colour)


def wader() -> Tile:
    """Half-drop, one way up: a wading bird in the shallows and a clump of glasswort."""
    tile = Tile((64.0, 96.0), BRINE, drop_mm=(48.0, 0.0))
    for x, y, width_mm in ((32, 55.2, 42), (29, 58.2, 26), (39, 60.6, 16), (9, 52.6, 13), (55, 57.4, 12)):
        _ripple(tile, (x, y), width_mm, SHALLOW)
    for x, y in ((4.5, 27.0), (59.0, 16.5), (10.0, 71.0), (54.0, 69.0)):
        for shift_x, shift_y, radius_mm in ((0.0, 0.0, 0.8), (2.6, -1.7, 0.55), (2.1, 1.6, 0.4)):
            tile.fill(disc((x + shift_x, y + shift_y), radius_mm), SHALLOW)
    shade = mixed(SAMPHIRE, INK, 0.35)
    for turn_deg in (-30.0, 31.0):
        _sprig(tile, (32.0, 97.0), turn_deg, 0.78, (shade, mixed(SAMPHIRE, ROSE, 0.15)))
    _sprig(tile, (32.0, 98.0), 0.0, 1.12, (SAMPHIRE, ROSE))
    _wader(tile, (33.5, 54.0))
    return tile


def _crystal(tile: Tile, at: tuple[float, float], side_mm: float, turn_deg: float, colours: tuple[str, ...]) -> None:
    """A hopper crystal of salt as seen from above: squares inside squares."""
    square = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    for share, colour in zip((1.0, 0.72, 0.46, 0.2), colours, strict=False):
        tile.fill(placed(square, at, turn_deg, side_mm * share), colour)


def grains() -> Tile:
    """Straight, any way up: salt grains of three sizes strewn evenly."""
    side_mm = 36.0
    tile = Tile((side_mm, side_mm), SALT)
    random = np.random.default_rng(20)
    put: list[tuple[float, float, float]] = []
    for radius_mm, wanted in ((2.6, 11), (1.6, 22), (0.75, 60)):
        found = 0
        for _ in range(6000):
            x, y = random.uniform(0, side_mm, 2)
            if found < wanted and all(_apart(x - px, y - py, side_mm) > radius_mm + pr + 0.75 for px, py, pr in put):
                put.append((x, y, radius_mm))
                found += 1
    for number, (x, y, radius_mm) in enumerate(put):
        turn_deg = float(random.uniform(0, 90))
        if radius_mm > 2:
            _crystal(tile, (x, y), 3.7, turn_deg, (BRINE, SALT, BRINE, SALT))
        elif radius_mm > 1:
            _crystal(
                tile, (x, y), 2.3, turn_deg, (SAMPHIRE, SALT, SAMPHIRE) if number % 4 == 0 else (SHALLOW, SALT, SHALLOW)
            )
        else:
            _crystal(tile, (x, y), 0.85, turn_deg, (OCHRE,) if number % 3 == 0 else (INK,))
    return tile


def _apart(x: float, y: float, side_mm: float) -> float:
    """Distance of two grains, the tile wrapping round."""
    return math.hypot((x + side_mm / 2) % side_mm - side_mm / 2, (y + side_mm / 2) % side_mm - side_mm / 2)


def tide_line() -> Tile:
    """Plain stripes along the cloth, two ways up: the marks the tide leaves on the sluice gate."""
    tile = Tile((48.0, 12.0), SALT)
    bands = [(5.0, 9.0, BRINE), (6.25, 0.5, SALT), (12.25, 0.5, SALT), (16.0, 0.75, BRINE), (18.0, 0.5, SHALLOW)]
    bands += [
        (22.5, 5.0, MIST),
        (24.75, 0.5, SAMPHIRE),
        (31.5, 0.5, SHALLOW),
        (33.25, 0.75, BRINE),
        (36.5, 6.5, SHALLOW),
    ]
    bands += [(37.5, 0.5, SALT), (39.5, 0.5, SALT), (41.5, 0.5, SALT), (45.5, 0.5, OCHRE), (47.0, 0.5, OCHRE)]
    for left_mm, width_mm, colour in bands:
        right_mm = left_mm + width_mm
        tile.fill(np.array([(left_mm, -1.0), (right_mm, -1.0), (right_mm, 13.0), (left_mm, 13.0)]), colour)
    return tile


def _ring(tile: Tile, at: tuple[float, float], radius_mm: float, colours: tuple[str, str], width_mm: float) -> None:
    tile.fill(disc(at, radius_mm), colours[0])
    tile.fill(disc(at, radius_mm - width_mm), colours[1])


def wind_pump() -> Tile:
    """Straight, any quarter: a large medallion after the wheel of a wind pump, a small one between four."""
    side_mm = 120.0
    tile = Tile((side_mm, side_mm), CLAY)
    _wheel(tile, (side_mm / 2, side_mm / 2))
    _small_wheel(tile, (0.0, 0.0))
    for x, y in ((side_mm / 2, 0.0), (0.0, side_mm / 2)):
        for turn_deg in (0.0, 90.0, 180.0, 270.0):
            tile.fill(placed(petal(5.2, 2.6), (x, y), turn_deg + 45.0), OCHRE)
            tile.fill(placed(disc((0.0, -3.4), 0.8), (x, y), turn_deg), SAMPHIRE)
        tile.fill(disc((x, y), 1.1), BRINE)
    return tile


def _wheel(tile: Tile, at: tuple[float, float]) -> None:
    for number in range(32):
        tile.fill(placed(disc((0.0, -51.0), 3.0), at, number * 11.25), mixed(CLAY, OCHRE, 0.55))
        tile.fill(placed(disc((0.0, -51.4), 1.1), at, number * 11.25), SAMPHIRE)
    _ring(tile, at, 50.0, (INK, BRINE), 1.2)
    for number in range(48):
        tile.fill(
            placed(petal(6.6, 3.6, 0.6), _on(at, 40.4, number * 7.5), number * 7.5), MIST if number % 2 else SHALLOW
        )
    _ring(tile, at, 40.6, (INK, SALT), 0.8)
    for number in range(12):
        turn_deg = number * 30.0
        _sprig(tile, _on(at, 23.6, turn_deg), turn_deg, 0.5, (SAMPHIRE, ROSE))
        _crystal(tile, _on(at, 33.6, turn_deg + 15), 4.0, turn_deg + 60, (BRINE, SALT, BRINE, SALT))
        tile.fill(disc(_on(at, 28.4, turn_deg + 15), 0.7), OCHRE)
        tile.fill(disc(_on(at, 38.0, turn_deg + 15), 0.6), OCHRE)
    _ring(tile, at, 23.2, (INK, OCHRE), 0.9)
    _ring(tile, at, 20.6, (INK, CLAY), 0.7)
    for number in range(16):
        turn_deg = number * 22.5
        sail = curve([(0.0, -5.0), (1.9, -11.0), (2.8, -17.6), (0.2, -17.2), (-0.9, -11.0)])
        tile.fill(placed(sail, at, turn_deg), BRINE if number % 2 else INK)
    _ring(tile, at, 6.4, (SAMPHIRE, CLAY), 1.1)
    for number in range(8):
        tile.fill(placed(petal(4.6, 1.9), at, number * 45.0), SAMPHIRE)
    tile.fill(disc(at, 1.2), INK)


def _on(at: tuple[float, float], radius_mm: float, turn_deg: float) -> tuple[float, float]:
    """The point of a circle that lies `turn_deg` clockwise from straight up."""
    turn = math.radians(turn_deg)
    return at[0] + radius_mm * math.sin(turn), at[1] - radius_mm * math.cos(turn)


def _small_wheel(tile: Tile, at: tuple[float, float]) -> None:
    for number in range(16):
        tile.fill(
            placed(petal(7.0, 3.2, 0.6), _on(at, 11.0, number * 22.5), number * 22.5), BRINE if number % 2 else SHALLOW
        )
    _ring(tile, at, 12.4, (INK, SALT), 0.8)
    for number in range(8):
        tile.fill(placed(petal(10.0, 4.2), at, number * 45.0), SAMPHIRE)
        tile.fill(placed(petal(7.0, 1.6), at, number * 45.0), ROSE)
        tile.fill(disc(_on(at, 9.6, number * 45.0 + 22.5), 0.8), OCHRE)
    _ring(tile, at, 2.6, (INK, SALT), 0.8)


def rake() -> Tile:
    """Brick, two ways up: the lines a rake leaves in a pan of drying salt."""
    tile = Tile((40.0, 20.0), mixed(CLAY, SALT, 0.35), drop_mm=(0.0, 20.0))
    bend = np.linspace(0, 2 * math.pi, 60)
    for number in range(5):
        offset_mm = (number - 2) * 1.55
        x = np.linspace(0, 40, 60)
        y = 10.0 + offset_mm + 3.2 * np.sin(bend)
        colour = (OCHRE, mixed(OCHRE, CLAY, 0.4), ROSE, mixed(OCHRE, CLAY, 0.4), OCHRE)[number]
        tile.fill(stroke(np.stack([x, y], axis=1), 0.45, 0.45, 0.45), colour)
    for x in (10.0, 30.0):
        tile.fill(disc((x, 20.0), 0.8), SAMPHIRE)
    return tile


PRINTS = {"wader": wader, "grains": grains, "tide-line": tide_line, "wind-pump": wind_pump, "rake": rake}
