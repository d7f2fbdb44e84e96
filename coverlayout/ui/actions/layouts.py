"""The actions of the Layout menu."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.proposing.questions import ASKED, Asked

if TYPE_CHECKING:
    from coverlayout.ui.layouts.around import Around
    from coverlayout.ui.proposing.proposing import Proposing
    from coverlayout.ui.window import Window

__all__ = ["layout_acts"]


def layout_acts(window: Window) -> Listed:
    """Laying out, what is left, and the named layouts."""
    around = window.around
    return (
        Act(
            "lay-out",
            "Lay out for me",
            window.proposing.lay_out,
            ("Ctrl+Return",),
            tip="Proposes places for every piece that is not pinned or cut, as good as can be.",
        ),
        Group("Proposal", _proposal_acts(window.proposing)),
        None,
        *_left_acts(around),
        None,
        *_named_acts(window),
        None,
        Act(
            "compare-layouts",
            "Compare with the next layout",
            around.compare,
            canvas_keys=("V",),
            tip="Two layouts beside each other with their figures, and in words what sets them apart.",
            why_not=around.why_only_one,
            ticked=lambda: around.comparing.under_way,
        ),
        Group("Compare with", made=lambda: _each(window, switching=False)),
        None,
        Group("Ask", _question_acts(window)),
    )


def _question_acts(window: Window) -> Listed:
    """The questions a maker asks of a cloth and a book; the opened bar shows the answers."""

    def act(kind: Asked) -> Act:
        words, tip = ASKED[kind]
        return Act(
            f"ask-{kind}",
            words,
            partial(window.asides.ask, kind),
            tip=tip,
            why_not=partial(window.questions.why_not, kind),
        )

    return tuple(act(kind) for kind in ASKED)


def _proposal_acts(proposing: Proposing) -> Listed:
    """What is done with a proposal."""

    def none() -> str:
        there = proposing.walk is not None and not proposing.search
        return "" if there else sentence("act-no-proposal", {})

    def only_one() -> str:
        one = proposing.walk is not None and proposing.walk.count < 2
        return none() or (sentence("act-one-proposal", {}) if one else "")

    return (
        Act(
            "take-proposal",
            "Take it",
            proposing.take,
            ("Ctrl+T",),
            tip="Lays the pieces as they are drawn. One step; Undo takes it back.",
            why_not=none,
        ),
        Act(
            "next-proposal",
            "Next proposal",
            partial(proposing.step, 1),
            ("N",),
            tip="A layout that was found on the way, or one that is different on purpose.",
            why_not=only_one,
            on_canvas=True,
        ),
        Act(
            "last-proposal",
            "Previous proposal",
            partial(proposing.step, -1),
            ("Shift+N",),
            tip="Before the first comes the last.",
            why_not=only_one,
            on_canvas=True,
        ),
        Act(
            "different-proposal",
            "A different one",
            proposing.another,
            ("D",),
            tip="Looks for a layout unlike all those you have seen.",
            why_not=lambda: none() or ("" if proposing.can_differ else sentence("act-no-different", {})),
            on_canvas=True,
        ),
        Act(
            "leave-proposal",
            "Leave the proposal",
            proposing.escape,
            tip="Nothing changes; everything lies as before. Escape does the same, and ends a search.",
            why_not=lambda: "" if proposing.under_way else sentence("act-no-proposal", {}),
        ),
    )


def _left_acts(around: Around) -> Listed:
    """What is left of the cloths."""
    return (
        Act(
            "what-is-left",
            "What is left",
            around.toggle_list,
            canvas_keys=("E",),
            tip="The largest free rectangles, listed with their sizes.",
            ticked=lambda: around.list_open,
        ),
        Act(
            "draw-left",
            "Draw all that is left",
            around.toggle_all,
            canvas_keys=("Shift+E",),
            tip="The free rectangles on the cloth, each with its size.",
            why_not=around.why_nothing_left,
            ticked=lambda: around.leftovers.all_drawn,
        ),
        Act(
            "cut-from-left",
            "What could I cut from what is left? …",
            around.ask_what,
            tip="Of the free rectangle chosen in the list, else of the largest: how many of each piece go in.",
            why_not=around.why_nothing_left,
        ),
    )


def _named_acts(window: Window) -> Listed:
    """Layouts by their names, in their row."""
    around, why_only_one = window.around, window.around.why_only_one
    return (
        Act("new-layout", "New layout", around.new, tip="An empty one: every piece waits beside the cloth."),
        Act("copy-layout", "Copy this layout", around.duplicate, tip="Everything lies as in this one."),
        Act("rename-layout", "Rename this layout …", around.rename, tip="By its name it is told from the others."),
        Act(
            "remove-layout",
            "Remove this layout",
            around.remove,
            tip="What was cut stays cut; Undo brings the layout back.",
            why_not=why_only_one,
        ),
        Act(
            "next-layout",
            "Next layout",
            partial(around.step, 1),
            ("Ctrl+PgDown",),
            tip="After the last comes the first.",
            why_not=why_only_one,
        ),
        Act(
            "last-layout",
            "Layout before",
            partial(around.step, -1),
            ("Ctrl+PgUp",),
            tip="Before the first comes the last.",
            why_not=why_only_one,
        ),
        Act(
            "layout-right",
            "Put this layout later in the row",
            partial(around.shift, 1),
            tip="Its place among the tabs over the cloth.",
            why_not=why_only_one,
        ),
        Act(
            "layout-left",
            "Put this layout earlier in the row",
            partial(around.shift, -1),
            tip="Its place among the tabs over the cloth.",
            why_not=why_only_one,
        ),
        Group("Switch to layout", made=lambda: _each(window, switching=True)),
    )


def _each(window: Window, *, switching: bool) -> Listed:
    """One act for each layout to switch to, or for each other one to compare with."""
    project, around = window.session.project, window.around
    if switching:
        return tuple(
            Act(
                f"switch-{layout.id}",
                f"Switch to {layout.name}",
                partial(around.switch, layout.id),
                tip="Work on it; the others stay as they are.",
                ticked=partial(_is_worked_on, window, layout.id),
            )
            for layout in project.layouts
        )
    return tuple(
        Act(
            f"compare-{layout.id}",
            f"Compare with {layout.name}",
            partial(around.compare, layout.id),
            tip="Beside the one worked on, at the same scale.",
        )
        for layout in project.layouts
        if layout.id != project.layout_id
    )


def _is_worked_on(window: Window, layout_id: str) -> bool:
    return window.session.project.layout_id == layout_id
