"""What is bonded on the back of a cloth: the pieces of web, tissue or paper, and what a sheet of it allows a cloth."""

from __future__ import annotations

from collections.abc import Iterator

from coverlayout.book.materials.cut_item import CutItem, Material
from coverlayout.book.rules.table import rule
from coverlayout.cloth.cloth import Backing, Cloth
from coverlayout.cloth.usable import outline_region
from coverlayout.document.project import Project
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["backing_items", "backing_items_of", "backing_of", "larger_mm", "materials_of"]

_MATERIALS: dict[Backing, tuple[Material, ...]] = {
    "none": (),
    "web": ("web",),
    "web and tissue": ("web", "tissue"),
    "paste and paper": ("paper",),
}


def backing_of(cloth: Cloth) -> Backing:
    """What is bonded on; where nothing is said, web when it stops short of the edge.

    >>> backing_of(Cloth("c", "swatch", 300.0, 300.0, web_short_mm=3.0)), backing_of(Cloth("c", "swatch", 9.0, 9.0))
    ('web', 'none')
    """
    if cloth.backing is not None:
        return cloth.backing
    return "web" if cloth.web_short_mm > 0.0 else "none"


def materials_of(cloth: Cloth) -> tuple[Material, ...]:
    """The materials of its backing, the one next to the cloth first."""
    return _MATERIALS[backing_of(cloth)]


def larger_mm(cloth: Cloth, material: Material) -> float:
    """How much larger on every side than the cloth its backing of that material is; below 0, how much it stays short.

    Web and tissue stay short by the cloth's own strip; paper for pasting is larger by the rule of the table.
    """
    if material == "paper":
        return rule("backing paper larger", "flat-case").value
    return -cloth.web_short_mm


def backing_items(project: Project) -> tuple[CutItem, ...]:
    """The pieces of web, tissue and paper to cut for all cloths as they now are, named after their cloths.

    Of a cloth with a crooked outline the box around it counts. A cloth so small that nothing would be left needs none.
    """
    return tuple(item for cloth in project.cloths for item in backing_items_of(cloth))


def backing_items_of(cloth: Cloth) -> Iterator[CutItem]:
    """The pieces of web, tissue and paper to cut for one cloth."""
    box = outline_region(cloth).bounds
    for material in materials_of(cloth):
        by_mm = 2 * larger_mm(cloth, material)
        width_mm, height_mm = box.width_mm + by_mm, box.height_mm + by_mm
        if min(width_mm, height_mm) > SAME_LENGTH_MM:
            yield CutItem(f"{material}, {cloth.name}", material, width_mm, height_mm)
