"""Taking a rung of the ladder: the cloth (of a rung that stands for several cuts, every cloth) becomes that cut."""

from __future__ import annotations

from coverlayout.cloth.cuts import Cut, ladder_in_use
from coverlayout.document.edits.cloths import change_cloth
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.ui.panels.cloth_panel import bought_as

__all__ = ["buy", "cut_of_each"]

_FIELDS = ("width_mm", "length_mm", "state", "cut_name", "outline_mm", "outline_changes_in", "laid")


def cut_of_each(name: str, project: Project) -> Cut | None:
    """The cut that a rung like `2 x half yard, 44 in` names once for each cloth; None when it names no such thing.

    The rung means one cut for each print, so the cloths must be as many and each bear a print of its own, whole.
    """
    prints = {cloth.laid.print_id for cloth in project.cloths if cloth.laid is not None and not cloth.zones}
    if len(project.cloths) < 2 or len(prints) != len(project.cloths):
        return None
    return next((cut for cut in ladder_in_use() if f"{len(prints)} x {cut.name}" == name), None)


def buy(cut: Cut, cloth_ids: tuple[str, ...]) -> Edit:
    """These cloths become this cut, still to buy, as one step; flaws of the old cloth are none of the new one's.

    The rung was judged without them as well.
    """

    def change(project: Project) -> Project:
        for cloth_id in cloth_ids:
            after = bought_as(project.cloth(cloth_id), cut)
            fields = {field: getattr(after, field) for field in _FIELDS}
            project = change_cloth(cloth_id, flaws=(), **fields).change(project)
        return project

    return Edit(Remark("edit-change-cloth"), change)
