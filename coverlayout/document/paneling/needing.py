"""Which cloths are larger than what their backing comes as, and so have to be cut into panels."""

from __future__ import annotations

from coverlayout.cloth.cloth import Cloth
from coverlayout.document.paneling.limits import largest_panels, need_no_cut, stocks_of
from coverlayout.document.project import Project
from coverlayout.errors import BadInput

__all__ = ["cloths_too_large"]


def cloths_too_large(project: Project) -> tuple[Cloth, ...]:
    """The cloths that no sheet and no roll of their backing covers whole, in the order of the project.

    Empty where no backing is in the stock; a cloth that pieces were cut from already is told only when asked about.

    >>> from coverlayout.document.project import Stock
    >>> web = Stock("stock-1", "web", "web", 430.0, 300.0)
    >>> swatches = Cloth("a", "swatch", 300.0, 250.0, backing="web"), Cloth("b", "yard", 900.0, 600.0, backing="web")
    >>> [cloth.id for cloth in cloths_too_large(Project(cloths=swatches, stocks=(web,)))]
    ['b']
    """
    return tuple(cloth for cloth in project.cloths if _is_too_large(project, cloth))


def _is_too_large(project: Project, cloth: Cloth) -> bool:
    try:
        stocks = stocks_of(project, cloth)
    except BadInput:
        return False
    return not need_no_cut(cloth, largest_panels(cloth, stocks))
