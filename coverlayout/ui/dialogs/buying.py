"""Taking a rung of the ladder: the cloth (of a rung that stands for several cuts, every cloth) becomes that cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from coverlayout.cloth.cloth import Cloth
from coverlayout.cloth.cuts import Cut, ladder_in_use
from coverlayout.document.checks.figures import free_name
from coverlayout.document.edits.cloths import add_cloth, change_cloth
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.errors import Remark
from coverlayout.motif.prints import LaidPrint

__all__ = ["bought_as", "buy", "buy_together", "cut_of_each", "laid_as"]

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


def buy_together(cuts: Sequence[Cut], cloth_id: str) -> Edit:
    """The cloth becomes the first of these cuts, still to buy, and the others come beside it, as one step."""

    def change(project: Project) -> Project:
        project = buy(cuts[0], (cloth_id,)).change(project)
        like = project.cloth(cloth_id)
        for cut in cuts[1:]:
            name = free_name(cut.name, [cloth.name for cloth in project.cloths])
            project = add_cloth(replace(bought_as(like, cut), id="", name=name)).change(project)
        return project

    return Edit(Remark("edit-change-cloth"), change)


def bought_as(cloth: Cloth, cut: Cut) -> Cloth:
    """The cloth as a cut still to buy: the cut's size, no outline of its own, the print's place not known."""
    return replace(
        cloth,
        width_mm=cut.width_mm,
        length_mm=cut.length_mm,
        state="to-buy",
        cut_name=cut.name,
        outline_mm=None,
        outline_changes_in=0,
        laid=laid_as(cloth.laid, "to-buy"),
    )


def laid_as(laid: LaidPrint | None, state: str) -> LaidPrint | None:
    """How the print lies, its origin known only when the cloth is at hand or printed to order."""
    return None if laid is None else replace(laid, origin_known=state != "to-buy")
