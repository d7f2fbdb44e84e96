"""The actions of the Pieces menu."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Literal

from PySide6.QtGui import QKeySequence

from coverlayout.errors import sentence
from coverlayout.layout.guiding.aligning import Alignment, align, distribute, same_turn
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.parts.chosen import Chosen
from coverlayout.ui.parts.piece_work import PieceWork

if TYPE_CHECKING:
    from coverlayout.ui.window import Window

__all__ = ["clipboard_acts", "piece_acts"]

_Key = QKeySequence.StandardKey
_SIDES: tuple[tuple[Alignment, str], ...] = (
    ("left", "Left edges"),
    ("middle", "Middles, left and right"),
    ("right", "Right edges"),
    ("top", "Upper edges"),
    ("centre", "Middles, up and down"),
    ("bottom", "Lower edges"),
)


def piece_acts(window: Window, work: PieceWork) -> Listed:
    """What is done with the chosen pieces."""
    return (
        Act(
            "take-off",
            "Take off the cloth",
            window.canvas.keys.put_aside,
            ("Delete", "Backspace"),
            tip="The chosen pieces wait beside the cloth again.",
            why_not=_unless(work, lambda chosen: chosen.lying, "act-none-lies"),
            on_canvas=True,
        ),
        Act(
            "pin",
            "Pin where they lie",
            work.pin,
            ("P",),
            tip="No drag and no search moves a pinned piece until it is let go.",
            why_not=_unless(work, lambda chosen: chosen.lying, "act-none-lies"),
            words_now=lambda: "Let the pinned go" if work.chosen.all_pinned else "Pin where they lie",
            on_canvas=True,
        ),
        None,
        *_bench_acts(work),
        None,
        *_laying_acts(work),
        None,
        _aligning(work),
        _distributing(work),
        Act(
            "same-turn",
            "Turn them like the last chosen",
            partial(
                work.arrange,
                "edit-same-turn",
                lambda bodies, *, staying: same_turn(bodies, bodies[-1].placed.piece, staying=staying),
            ),
            ("T",),
            tip="All chosen pieces take the turn of the one chosen last.",
            why_not=_at_least(work, 2),
            on_canvas=True,
        ),
        None,
        *_remnant_acts(work),
    )


def _unless(work: PieceWork, there: Callable[[Chosen], object], code: str) -> Callable[[], str]:
    """Why it cannot be done: `code`'s sentence unless the chosen pieces have what is needed."""
    return lambda: "" if there(work.chosen) else sentence(code, {})


def _at_least(work: PieceWork, count: int) -> Callable[[], str]:
    return lambda: "" if len(work.chosen.on_cloth) >= count else sentence("act-too-few", {"count": count})


def _bench_acts(work: PieceWork) -> Listed:
    """What happened at the bench."""
    return (
        Act(
            "mark-cut",
            "Mark as cut",
            work.mark_cut,
            ("C",),
            tip="They were cut where they lie: from here on that is a fact, in every layout.",
            why_not=_unless(work, lambda chosen: chosen.lying, "act-none-lies"),
            on_canvas=True,
        ),
        Act(
            "mark-spoiled",
            "Mark as spoiled",
            work.mark_spoiled,
            ("Shift+C",),
            tip="The cut went wrong: it leaves a hole in the cloth, and the piece is planned again.",
            why_not=_unless(work, lambda chosen: chosen.lying or chosen.cut, "act-none-lies"),
            on_canvas=True,
        ),
        Act(
            "unmark",
            "Take the mark back",
            work.unmark,
            tip="For pieces marked as cut or spoiled by mistake; choose spoiled ones in the list of step 4.",
            why_not=_unless(work, lambda chosen: chosen.facts, "act-none-marked"),
        ),
    )


def _laying_acts(work: PieceWork) -> Listed:
    return (
        Act(
            "lay-rest",
            "Lay the rest",
            work.lay_rest,
            ("Ctrl+Shift+Return",),
            tip="Proposes places for what waits; everything that lies on the cloth stays where it is.",
            why_not=_unless(work, lambda chosen: chosen.any_waits, "act-none-waits-at-all"),
        ),
        Act(
            "lay-chosen",
            "Lay only the chosen",
            work.lay_chosen,
            ("Shift+Return",),
            tip="Proposes the best places for the chosen pieces; everything else stays where it lies.",
            why_not=_unless(work, lambda chosen: chosen.to_lay, "act-none-to-lay"),
            on_canvas=True,
        ),
    )


def _aligning(work: PieceWork) -> Group:
    def act(to: Alignment, words: str) -> Act:
        return Act(
            f"align-{to}",
            words,
            partial(
                work.arrange,
                "edit-align",
                lambda bodies, *, staying: align(bodies, to, back=work.seen_from_back, staying=staying),
            ),
            tip="Pinned and cut pieces stay, and the others line up with them.",
            why_not=_at_least(work, 2),
        )

    return Group("Bring to one line", tuple(act(*side) for side in _SIDES))


def _distributing(work: PieceWork) -> Group:
    def act(way: Literal["across", "along"], by: Literal["gaps", "middles"], words: str) -> Act:
        return Act(
            f"spread-{way}-{by}",
            words,
            partial(work.arrange, "edit-spread", partial(distribute, way=way, by=by)),
            tip="The first and the last stay.",
            why_not=_at_least(work, 3),
        )

    return Group(
        "Spread evenly",
        (
            act("across", "gaps", "Equal gaps, left to right"),
            act("along", "gaps", "Equal gaps, top to bottom"),
            act("across", "middles", "Equal steps between middles, left to right"),
            act("along", "middles", "Equal steps between middles, top to bottom"),
        ),
    )


def clipboard_acts(work: PieceWork) -> Listed:
    """Own pieces over the clipboard; they stand in the Edit menu."""
    return (
        Act(
            "copy-pieces",
            "Copy",
            work.copy,
            (_Key.Copy,),
            tip="Pieces of your own, also into another project.",
            why_not=_unless(work, lambda chosen: chosen.ids, "act-none-chosen"),
            on_canvas=True,
        ),
        Act(
            "cut-pieces",
            "Take out and copy",
            work.take_out,
            (_Key.Cut,),
            tip="Pieces of your own leave the job and can be pasted elsewhere.",
            why_not=_unless(work, lambda chosen: chosen.ids, "act-none-chosen"),
            on_canvas=True,
        ),
        Act(
            "paste-pieces",
            "Paste",
            work.paste,
            (_Key.Paste,),
            tip="The copied pieces wait beside the cloth, under names of their own.",
            on_canvas=True,
        ),
    )


def _remnant_acts(work: PieceWork) -> Listed:
    return (
        Act(
            "remnant",
            "Make the rest a cloth of its own",
            work.make_remnant,
            tip="What is left of this cloth beside all that was cut, with its true outline and the print in place.",
            why_not=work.no_remnant,
        ),
        Act(
            "remnant-part",
            "Make a part a cloth of its own …",
            work.draw_remnant,
            tip="Draw which part of the cloth becomes a cloth of its own.",
            why_not=lambda: "" if work.cloth is not None else sentence("act-no-cloth", {}),
        ),
    )
