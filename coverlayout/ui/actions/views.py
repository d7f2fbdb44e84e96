"""The actions of the View menu."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence

from coverlayout.document.edits.job import change_preferences
from coverlayout.errors import sentence
from coverlayout.ui.actions.act import Act, Group, Listed
from coverlayout.ui.seeing.looking_through import look_through, look_through_size
from coverlayout.ui.tasks.measuring import Measuring
from coverlayout.units import LengthStyle

if TYPE_CHECKING:
    from coverlayout.ui.binding.part import Part
    from coverlayout.ui.window import Window

__all__ = ["UNITS", "view_acts"]

_Key = QKeySequence.StandardKey
UNITS = (
    ("Millimetres, to 0.5", LengthStyle("mm", 0.5)),
    ("Millimetres, to 0.1", LengthStyle("mm", 0.1)),
    ("Millimetres, whole", LengthStyle("mm", 1.0)),
    ("Inches, decimals", LengthStyle("in")),
    ("Inches, to 1/16", LengthStyle("in", inch_parts=16)),
    ("Inches, to 1/32", LengthStyle("in", inch_parts=32)),
)
# In the order of the panel.
_BOOK_PARTS = (
    ("paper", "Paper: sheets, cuts and folds"),
    ("cover", "Cover: boards, joints and turn-ins"),
    ("sides", "Sides and corners"),
    ("flaps", "Flaps of a wrap"),
    ("slipcase", "How the slipcase is built"),
    ("liners", "Liners and endpapers"),
    ("label", "Label"),
    ("sewing", "Sewing: stations and thread"),
    ("volumes", "Copies and volumes"),
    ("cut-list", "What to cut"),
    ("tally", "What is made, and what it costs"),
)
_STEPS = ("Print", "Cloth", "Book", "Placement", "Cutting")


def view_acts(window: Window) -> Listed:
    """How the table is seen, which step is open, units and look."""
    return (
        *_size_acts(window),
        None,
        *_seeing_acts(window),
        None,
        *(
            Act(
                f"step-{number}",
                f"Step {number}: {words}",
                partial(window.open_step, number - 1),
                (f"Alt+{number}",),
                tip="Opens the step of the work order and gives it the keys.",
            )
            for number, words in enumerate(_STEPS, start=1)
        ),
        Group("In the book step", _book_acts(window)),
        None,
        Group("Lengths in", tuple(_unit(window, words, style) for words, style in UNITS)),
        Group("Look", tuple(_look(window, at, words) for at, words in enumerate(("As the system", "Light", "Dark")))),
    )


def _book_acts(window: Window) -> Listed:
    """Each part of the book step, opened with the keys in its first field."""
    panel = window.panels.book

    def act(part: Part, name: str, words: str) -> Act:
        def not_here() -> str:
            return "" if panel.has(part, panel.shown_book) else sentence("act-part-not-here", {})

        return Act(f"book-{name}", words, partial(_open_part, window, part), tip=part.tip, why_not=not_here)

    parts = tuple(act(part, name, words) for part, (name, words) in zip(panel.parts, _BOOK_PARTS, strict=True))
    sources = Act(
        "book-sources",
        "Pieces come from: which print",
        partial(_open_sources, window),
        tip="Which print, cloth or zone each kind of piece is cut from: the spine and corners, the sides, the label.",
        why_not=lambda: "" if panel.sources.isVisibleTo(panel) else sentence("act-one-source", {}),
    )
    larger = Act(
        "book-pictures",
        "Pictures of the book, larger",
        panel.drawing.open_larger,
        tip="The cut through it and its cover laid flat; they follow every figure.",
        why_not=lambda: "" if window.session.project.books else sentence("act-no-book", {}),
    )
    return (*parts, sources, None, larger)


def _open_part(window: Window, part: Part) -> None:
    """Open the book step at one of its parts and give that the keys."""
    window.steps.open(2)
    part.open()
    window.steps.bring(part.first)


def _open_sources(window: Window) -> None:
    """Open the book step where prints and cloths are chosen for its pieces."""
    window.steps.open(2)
    sources = window.panels.book.sources
    sources.head.setChecked(True)
    window.steps.bring(sources.first)


def _size_acts(window: Window) -> Listed:
    """How large the table is seen."""
    sight, asides = window.canvas.sight, window.asides
    return (
        Act(
            "fit",
            "Show everything",
            sight.fit,
            ("Ctrl+0",),
            tip="All cloths and all that waits beside them.",
            canvas_keys=("F",),
        ),
        Act(
            "nearer",
            "Nearer",
            sight.zoom_in,
            (_Key.ZoomIn, "Ctrl+="),
            tip="Everything larger; so does the wheel, about the pointer.",
            canvas_keys=("+", "="),
            repeats=True,
        ),
        Act(
            "farther",
            "Further away",
            sight.zoom_out,
            (_Key.ZoomOut,),
            tip="Everything smaller; so does the wheel, about the pointer.",
            canvas_keys=("-",),
            repeats=True,
        ),
        Act(
            "true-size",
            "True size",
            partial(_true_size, window),
            ("Ctrl+1",),
            tip="As large on the screen as on the table.",
            words_now=lambda: "True size" if window.true_size.matched else "True size (a guess on this screen)",
        ),
        Act(
            "match-screen",
            "Match true size to this screen …",
            asides.ask_for_card,
            tip="Hold a bank card to the screen once; it is remembered for this screen.",
        ),
    )


def _seeing_acts(window: Window) -> Listed:
    """Measuring, looking closer, and looking at the print alone."""
    canvas, loupe = window.canvas, window.loupe
    return (
        Act(
            "measure",
            "Measure",
            lambda: canvas.work.begin(Measuring(canvas)),
            canvas_keys=("M",),
            tip="From one place to another: length, across, along and lean. Nothing changes.",
        ),
        Act(
            "loupe",
            "Loupe",
            loupe.toggle,
            canvas_keys=("L",),
            tip="A glass beside the pointer; the wheel makes it stronger.",
            ticked=lambda: loupe.on,
        ),
        Act(
            "loupe-strength",
            "Loupe: another strength",
            loupe.next_strength,
            canvas_keys=("Shift+L",),
            tip="The next stronger; after the strongest the weakest.",
            why_not=lambda: "" if loupe.on else sentence("loupe-not-held", {}),
        ),
        Act(
            "covers-only",
            "Only what will be on the book",
            partial(_covers_only, window),
            canvas_keys=("O",),
            tip="The faces of the pieces in full colour, and nothing else of the cloth.",
            ticked=lambda: canvas.shown.covers_only,
        ),
        Act(
            "window-template",
            "Window template",
            partial(look_through, canvas),
            canvas_keys=("W",),
            tip="A hole as large as the chosen piece's board, to find its place on the print.",
            why_not=lambda: "" if window.session.project.cloths else sentence("window-no-cloth", {}),
        ),
        Act(
            "window-template-size",
            "Window template of a size …",
            partial(look_through_size, canvas),
            canvas_keys=("Shift+W",),
            tip="A hole of any size you type, such as 4.5 x 6 in.",
            why_not=lambda: "" if window.session.project.cloths else sentence("window-no-cloth", {}),
        ),
    )


def _true_size(window: Window) -> None:
    window.canvas.sight.true_size()
    if not window.true_size.matched:
        ways = (("Match with a card …", window.asides.ask_for_card), ("Close", lambda: None))
        window.banner.say(sentence("true-size-guess", {}), "remark", ways)


def _covers_only(window: Window) -> None:
    shown = window.canvas.shown
    shown.covers_only = not shown.covers_only
    window.canvas.repaint_all()


def _unit(window: Window, words: str, style: LengthStyle) -> Act:
    session = window.session
    return Act(
        f"unit-{style.unit}-{style.inch_parts or style.mm_step:g}",
        words,
        lambda: session.do(change_preferences(length_style=style)),
        tip="How lengths are shown and what a bare number means; any unit can be typed.",
        ticked=lambda: session.project.preferences.length_style == style,
    )


def _look(window: Window, at: int, words: str) -> Act:
    return Act(
        f"look-{words.rsplit(maxsplit=1)[-1].lower()}",
        words,
        partial(window.choose_look, at),
        tip="The colours of the window.",
        ticked=lambda: window.look_chosen == at,
    )
