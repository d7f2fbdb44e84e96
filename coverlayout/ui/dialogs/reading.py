"""Things to read: how the verdict is known, what to mind at the knife, what the program is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil, floor

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from coverlayout.errors import Remark
from coverlayout.layout.answer import Answer, Proof, ProofName
from coverlayout.ui.fields.entry import label
from coverlayout.ui.verdict.words import named
from coverlayout.units import LengthStyle

__all__ = ["Reading", "how_known"]

_PROOFS: dict[ProofName, str] = {
    "area": "proof-area",
    "fits nowhere": "proof-fits-nowhere",
    "side by side": "proof-side-by-side",
    "slice bound": "proof-slice-bound",
    "exhaustive": "proof-exhaustive",
}


class Reading(QDialog):
    """A heading and a few paragraphs."""

    def __init__(self, heading: str, paragraphs: Sequence[str], parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(heading)
        self.setMinimumWidth(480)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 12)
        column.setSpacing(10)
        column.addWidget(label(heading, "title"))
        self.paragraphs = [label(words) for words in paragraphs]
        for paragraph in self.paragraphs:
            column.addWidget(paragraph)
        buttons = QDialogButtonBox()
        buttons.addButton("Close", QDialogButtonBox.ButtonRole.RejectRole)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)


def how_known(
    sentence: str,
    answer: Answer | None,
    old: bool,
    style: LengthStyle,
    names: Mapping[str, str] | None = None,
    *,
    searching: bool = False,
) -> list[str]:
    """What the verdict stands on, in plain words: the check, the search, the proof, the notes.

    `sentence` is what the bar says, with the pieces called by `names` as here. `searching`: an answer is to come.
    """
    lines = [sentence] if sentence else []
    lines.append(
        "What lies on the cloth is checked piece by piece, by rules that share nothing with the search: inside the "
        "usable cloth, clear of flaws, far enough apart, turned as allowed."
    )
    if answer is None:
        return [*lines, "The best way to lay the pieces is still being looked for."] if searching else lines
    if old:
        lines.append(
            "The job has changed since the last search; what follows is the answer to the job as it was before."
        )
    called = names or {}
    reason = named(style.said(answer.reason), called)
    if reason.lower() not in sentence.lower():
        lines.append(f"The job: {answer.verdict}: {reason}.")
    if answer.spare_mm is not None:
        sure = Remark.of("room-is-proved" if answer.spare_proved else "room-is-known", room_mm=answer.spare_mm)
        lines.append(style.said(sure))
    if answer.proof is not None:
        lines += [named(line, called) for line in _proved(answer.proof, style, no=answer.verdict == "does not fit")]
    elif answer.verdict == "does not fit":
        lines.append(Remark("proof-elsewhere").text())
    if answer.cut_short:
        lines.append("The search ran out of time; another run may find more.")
    return [*lines, *(_whole(named(style.said(note), called)) for note in answer.notes)]


def _whole(words: str) -> str:
    """Words as a sentence: with a capital, and a stop at the end."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."


def _proved(proof: Proof, style: LengthStyle, *, no: bool) -> list[str]:
    """The way it was proved in plain words, and the figures it stands on."""
    if not no:
        return [Remark("proof-most-room").text()]
    figures: dict[str, str | float] = {}
    for name, value in proof.figures:
        if name.endswith("_mm2") and isinstance(value, float):
            # As with lengths: what is needed is rounded up, what is there is rounded down.
            tenths = value / 10
            figures[name.removesuffix("_mm2") + "_cm2"] = (
                f"{(ceil if name.startswith('need') else floor)(tenths) / 10:.1f}"
            )
        elif name in ("width_mm", "height_mm"):
            figures["piece_" + name] = value
        else:
            figures[name] = f"{value:g}" if isinstance(value, float) and not name.endswith("_mm") else value
    code = _code(proof.name, figures)
    said = style.said(Remark.of(code, **figures))
    # Of these two no piece could be smaller by enough.
    return [said] if code in ("proof-no-ground", "proof-wishes") else [said, Remark("proof-still-holds").text()]


def _code(name: ProofName, figures: Mapping[str, str | float]) -> str:
    """The sentence of a proof: the same name stands for pieces alone, and for pieces that wishes tie to the print."""
    match name, figures.get("wish"):
        case "fits nowhere", "lock":
            return "proof-wish-place"
        case "fits nowhere", str():
            return "proof-wishes"
        case "fits nowhere", _ if figures.get("ground_width_mm") == 0.0:
            return "proof-no-ground"
        case "side by side", str():
            return "proof-two"
        case "side by side", _ if "need_mm" not in figures:
            return "proof-crowd"
    return _PROOFS[name]
