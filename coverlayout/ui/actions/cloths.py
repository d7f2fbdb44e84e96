"""The actions of the Cloth menu."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.cloths.flaws import KINDS, flaw_wanted
from coverlayout.ui.cloths.outline import outline_wanted
from coverlayout.ui.cloths.zones import cut_wanted, zone_wanted
from coverlayout.ui.tasks.base_line import BaseLineTask
from coverlayout.ui.tasks.drawing import Drawing, Wanted
from coverlayout.ui.tasks.points import ChangePoints

if TYPE_CHECKING:
    from coverlayout.ui.stock.dialog import StockPart
    from coverlayout.ui.window import Window

__all__ = ["cloth_acts"]


def cloth_acts(window: Window) -> Listed:
    """What is done with the cloths."""
    return (
        Act(
            "turn-over",
            "Turn the cloth over",
            window.turn_over,
            ("Ctrl+B",),
            tip="See its other side; on the back left and right change.",
            canvas_keys=("B",),
        ),
        None,
        *_drawing_acts(window),
        None,
        Group("Cloths of this job", _row_acts(window)),
        None,
        *_measuring_acts(window),
        None,
        *_stock_acts(window),
    )


def _needs_cloth(window: Window) -> str:
    return "" if window.session.project.cloths else sentence("needs-a-cloth", {})


def _needs_zone(window: Window) -> str:
    zoned = any(cloth.zones for cloth in window.session.project.cloths)
    return "" if zoned else sentence("needs-a-zone", {})


def _needs_several(window: Window) -> str:
    return "" if len(window.session.project.cloths) > 1 else sentence("needs-several-cloths", {})


def _draw(window: Window, wanted: Wanted) -> None:
    window.canvas.work.begin(Drawing(window.canvas, wanted))


def _trace(window: Window) -> None:
    cloth = window.panels.cloth.cloth
    if cloth is not None:
        _draw(window, outline_wanted(cloth.id))


def _flaw_acts(window: Window) -> Listed:
    """Each usual flaw, on whichever cloth the hand begins."""
    return tuple(
        Act(
            f"draw-{kind.name.replace(' ', '-')}",
            f"Draw a {kind.name}",
            partial(_draw, window, flaw_wanted(kind)),
            tip="Press its points on the cloth, or type them: 120, 45.",
            why_not=partial(_needs_cloth, window),
        )
        for kind in KINDS
    )


def _drawing_acts(window: Window) -> Listed:
    """Flaws, zones and outlines by hand."""
    no_cloth = partial(_needs_cloth, window)
    return (
        Group("Draw a flaw", _flaw_acts(window)),
        Act(
            "draw-zone",
            "Draw a zone",
            partial(_draw, window, zone_wanted()),
            tip="A part of the cloth with a print of its own.",
            why_not=no_cloth,
        ),
        Act(
            "divide-cloth",
            "Divide the cloth into zones",
            partial(_open_dividing, window),
            tip="Equal zones in columns and rows.",
            why_not=no_cloth,
        ),
        Act(
            "cut-zone",
            "Cut a zone in two",
            partial(_draw, window, cut_wanted()),
            tip="Draw a line across it; both parts keep its print.",
            why_not=partial(_needs_zone, window),
        ),
        Act(
            "trace-outline",
            "Trace the outline",
            partial(_trace, window),
            tip="Press the corners of what is left of the cloth shown in step 2.",
            why_not=no_cloth,
        ),
        Act(
            "change-points",
            "Change points of a flaw, zone or outline",
            lambda: window.canvas.work.begin(ChangePoints(window.canvas)),
            ("Ctrl+Shift+P",),
            tip="Drag points, add some between, take some out.",
            why_not=no_cloth,
        ),
    )


def _row_acts(window: Window) -> Listed:
    """Which cloths there are, and in what order."""
    row = window.panels.cloth.row
    no_cloth, no_other = partial(_needs_cloth, window), partial(_needs_several, window)
    return (
        Act("add-cloth", "Add another cloth", row.add, tip="It comes to lie beside the others.", why_not=no_cloth),
        Act(
            "copy-cloth",
            "Copy the cloth",
            row.copy,
            tip="Its size, print, zones and flaws once more; no piece comes along.",
            why_not=no_cloth,
        ),
        Act(
            "rename-cloth",
            "Rename the cloth",
            partial(_open_name, window),
            tip="The name is typed in step 2, and stands over the cloth and on the papers.",
            why_not=no_cloth,
        ),
        Act(
            "next-cloth",
            "Show the next cloth in step 2",
            row.show_next,
            ("Ctrl+Shift+N",),
            tip="Its size, flaws and zones; after the last comes the first.",
            why_not=no_other,
        ),
        Act(
            "cloth-earlier",
            "Put the cloth earlier in the row",
            row.move_earlier,
            tip="The one before it comes after it; the pieces stay on their cloths.",
            why_not=no_other,
        ),
        Act(
            "cloth-later",
            "Put the cloth later in the row",
            row.move_later,
            tip="The one after it comes before it; the pieces stay on their cloths.",
            why_not=no_other,
        ),
        Act(
            "remove-cloth",
            "Remove the cloth",
            row.take_away,
            tip="The cloth shown in step 2; the pieces on it wait again. Undo brings all of it back.",
            why_not=no_cloth,
        ),
    )


def _open_dividing(window: Window) -> None:
    """How many columns and rows, in the Cloth step."""
    window.open_step(1)
    zones = window.panels.cloth.zones
    zones.head.setChecked(True)
    window.steps.bring(zones.columns.line)
    zones.columns.line.selectAll()


def _open_name(window: Window) -> None:
    """The name of the cloth, in the Cloth step."""
    window.open_step(1)
    window.steps.bring(window.panels.cloth.row.name.line)
    window.panels.cloth.row.name.line.selectAll()


def _measuring_acts(window: Window) -> Listed:
    """The base line, and measuring a cloth again."""

    def no_cloth() -> str:
        return "" if window.session.project.cloths else sentence("needs-a-cloth", {})

    def no_line() -> str:
        cloth = window.panels.cloth.cloth
        return "" if cloth is not None and cloth.base_line is not None else sentence("needs-a-base-line", {})

    def measured_from() -> bool:
        cloth = window.panels.cloth.cloth
        return cloth is not None and cloth.base_line is not None and cloth.base_line.measured_from

    return (
        Act(
            "base-line",
            "Set the base line",
            lambda: window.canvas.work.begin(BaseLineTask(window.canvas)),
            ("Ctrl+Shift+B",),
            tip="Two places of the same motif tell how the print lies, and what to measure from.",
            why_not=no_cloth,
        ),
        Act(
            "measure-from-line",
            "Measure from the base line",
            lambda: window.panels.cloth.base_line.measure(not measured_from()),
            tip="Places along and across the base line, instead of from the cloth's edges.",
            why_not=no_line,
            ticked=measured_from,
        ),
        Act(
            "measure-again",
            "Measure the cloth again",
            lambda: _open_measuring_again(window),
            ("Ctrl+M",),
            tip="After washing or bonding: two lengths tell how much the cloth changed.",
            why_not=no_cloth,
        ),
    )


def _stock_acts(window: Window) -> Listed:
    """What everything else comes as, and what the books cost."""
    return (
        Act(
            "stock",
            "Sheets and rolls …",
            partial(_open_stock, window),
            ("Ctrl+R",),
            tip="What board, web, tissue and paper come as, and how many sheets are needed.",
        ),
        Act(
            "book-costs",
            "What the books cost …",
            partial(_open_stock, window, "costs"),
            tip="By the prices of cloth, board, paper and thread, line by line.",
        ),
    )


def _open_measuring_again(window: Window) -> None:
    """The lengths to type, in the Cloth step."""
    window.open_step(1)
    part = window.panels.cloth.remeasure
    part.head.setChecked(True)
    window.steps.bring(part.now["across"].line)


def _open_stock(window: Window, part: StockPart = "sheets") -> None:
    from coverlayout.ui.stock.dialog import open_stock  # noqa: PLC0415  the window starts sooner without it

    open_stock(window, part)
