"""One row of what has to be cut: a board, a piece of cloth, a sheet of paper or web; plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["BoardPiece", "CutItem", "GrainArrow", "Material"]

Material = Literal["cloth", "board", "card", "web", "tissue", "paper", "lining", "thread"]
GrainArrow = Literal["head to tail", "across", "any"]


@dataclass(frozen=True)
class BoardPiece:
    """A board (or a strip of card) of one volume, in mm as it stands on the shelf: width across, height head to tail.

    `material` is "card" for what has to bend or is thinner than board. The grain of every board runs head to tail.
    """

    name: str
    width_mm: float
    height_mm: float
    thickness_mm: float
    count: int = 1
    material: Material = "board"
    grain: GrainArrow = "head to tail"


@dataclass(frozen=True)
class CutItem:
    """So many equal pieces of one material, in mm. `volumes` are the numbers of the volumes they belong to.

    `length_mm` of a thread stands in `height_mm`, its width is 0. `note` is the code of a sentence, "" for none.
    """

    name: str
    material: Material
    width_mm: float
    height_mm: float
    count: int = 1
    grain: GrainArrow = "any"
    thickness_mm: float | None = None
    volumes: tuple[int, ...] = ()
    note: str = ""
