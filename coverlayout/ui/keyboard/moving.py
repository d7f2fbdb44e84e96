"""The actions that move and turn pieces, and look about, where a mouse would drag."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt

from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.canvas.work import ARROWS, STEPS_MM
from coverlayout.ui.keyboard.choosing import none_chosen
from coverlayout.ui.keyboard.rounds import go_round
from coverlayout.ui.table.bench import WAITING
from coverlayout.ui.table.neighbours import neighbour

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["looking_acts", "moving_acts"]

# Each direction: its name, the words on the table, the arrow.
_WAYS = (
    ("left", "to the left", Qt.Key.Key_Left, "←"),
    ("right", "to the right", Qt.Key.Key_Right, "→"),
    ("up", "away from you", Qt.Key.Key_Up, "↑"),
    ("down", "towards you", Qt.Key.Key_Down, "↓"),
)


def moving_acts(window: Window) -> Listed:
    """What moves and turns the chosen pieces without a mouse."""
    keys, canvas = window.canvas.keys, window.canvas

    def none_waits() -> str:
        waits = any(lying.placed.cloth == WAITING for lying in canvas.bench.lying if lying.piece.id in canvas.chosen)
        return "" if waits else sentence("act-none-waits", {})

    def no_cloth(step: int) -> str:
        found = [canvas.bench.find(each) for each in canvas.chosen]
        there = any(lying and neighbour(canvas.bench, lying.placed.cloth, step) for lying in found)
        return none_chosen(window) or ("" if there else sentence("act-no-cloth-there", {}))

    return (
        _moving(window, "turn", "Turn", partial(keys.turn, clockwise=True), "R"),
        _moving(window, "turn-back", "Turn back", partial(keys.turn, clockwise=False), "Shift+R"),
        Group("Move", tuple(_nudge(window, *way) for way in _WAYS)),
        Group("Move to the next guide", tuple(_to_guide(window, *way) for way in _WAYS)),
        Act(
            "lay-on",
            "Lay on the cloth",
            keys.lay_on,
            ("Return", "Enter"),
            tip="Lays the chosen piece that waits on the first free place.",
            why_not=none_waits,
            on_canvas=True,
        ),
        Act(
            "pieces-next-cloth",
            "Move to the next cloth",
            partial(keys.to_cloth, 1),
            ("PgDown",),
            tip="As far from its top left as it lay on this one.",
            why_not=partial(no_cloth, 1),
            on_canvas=True,
        ),
        Act(
            "pieces-previous-cloth",
            "Move to the cloth before",
            partial(keys.to_cloth, -1),
            ("PgUp",),
            tip="As far from its top left as it lay on this one.",
            why_not=partial(no_cloth, -1),
            on_canvas=True,
        ),
    )


def _moving(window: Window, name: str, words: str, do: partial[None], key: str) -> Act:
    return Act(
        name,
        words,
        do,
        (key,),
        tip="To the next way the pieces may lie; also while they are dragged.",
        why_not=partial(none_chosen, window),
        on_canvas=True,
    )


def _nudge(window: Window, name: str, words: str, key: Qt.Key, arrow: str) -> Act:
    usual, far, fine = STEPS_MM
    return Act(
        f"move-{name}",
        f"Move {words}",
        lambda: window.canvas.keys.nudge(ARROWS[key], usual),
        tip=sentence("act-move-tip", {"usual": usual, "far": far, "fine": fine}),
        why_not=partial(none_chosen, window),
        held_keys=arrow,
    )


def _to_guide(window: Window, name: str, words: str, key: Qt.Key, _arrow: str) -> Act:
    return Act(
        f"guide-{name}",
        f"Next guide {words}",
        partial(window.canvas.keys.to_guide, ARROWS[key]),
        (f"Alt+Shift+{key.name.removeprefix('Key_')}",),
        tip="To the next edge, neighbour, gap, middle or common line, and says which it is.",
        why_not=partial(none_chosen, window),
        on_canvas=True,
    )


def looking_acts(window: Window) -> Listed:
    """Looking on over the table, and going round the window."""
    return (
        Group(
            "Look on",
            tuple(
                Act(
                    f"look-{name}",
                    f"Look {words}",
                    partial(window.canvas.keys.look, ARROWS[key]),
                    (f"Ctrl+Shift+{key.name.removeprefix('Key_')}",),
                    tip="With nothing chosen the arrows alone do it.",
                    on_canvas=True,
                    repeats=True,
                )
                for name, words, key, _ in _WAYS
            ),
        ),
        Act(
            "catch-at-guides",
            "Catch at guides",
            partial(_turn_catching, window),
            ("G",),
            tip="Dragged pieces catch at edges, neighbours, gaps and the repeat. Ctrl during a drag holds that off.",
            ticked=lambda: window.canvas.hand.snapping,
            on_canvas=True,
        ),
        None,
        Act(
            "next-part",
            "Go to the next part of the window",
            partial(go_round, window, 1),
            ("F6",),
            tip="Round the line at the top, the work order, the cloth and the verdict.",
        ),
        Act(
            "previous-part",
            "Go to the part before",
            partial(go_round, window, -1),
            ("Shift+F6",),
            tip="The same way round backwards.",
        ),
    )


def _turn_catching(window: Window) -> None:
    window.canvas.hand.snapping = not window.canvas.hand.snapping
