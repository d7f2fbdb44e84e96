"""What the layout answers: a verdict with its proof, where the pieces lie, and the figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from coverlayout.errors import Remark
from coverlayout.layout.question import Placed

__all__ = ["Answer", "Breach", "CheckVerdict", "LineWeights", "Proof", "ProofName", "Report", "Rule", "Verdict"]

Verdict = Literal["fits", "fits, tight", "does not fit", "not found"]
CheckVerdict = Literal["valid", "valid, tight", "not valid", "incomplete"]
ProofName = Literal["area", "fits nowhere", "side by side", "slice bound", "exhaustive"]
Rule = Literal[
    "outside",
    "overlap",
    "gap",
    "flaw",
    "zone",
    "turn",
    "lock",
    "link",
    "unknown piece",
    "placed twice",
    "not a number",
]


@dataclass(frozen=True)
class LineWeights:
    """Whole weights that show by slices that pieces need more than there is; one set of them may refute many splits.

    `sheets` names the grounds as (cloth, ground), `ways` how the lines run on each ("across" or "along", in the print's
    frame). `pieces` says of pieces that are alike what one of them weighs as it lies: sheet number, width, height (mm),
    weight.
    """

    sheets: tuple[tuple[str, str], ...]
    ways: tuple[str, ...]
    pieces: tuple[tuple[tuple[str, ...], tuple[tuple[int, float, float, int], ...]], ...]


@dataclass(frozen=True)
class Proof:
    """Why it cannot be done, or why there is no more room: a name and its few figures.

    `certificate` is what a re-check needs beyond the question and the figures; it is shown nowhere.
    """

    name: ProofName
    figures: tuple[tuple[str, float | str], ...] = ()
    certificate: tuple[LineWeights, ...] = ()


@dataclass(frozen=True)
class Breach:
    """One rule broken: by which pieces and by how much (mm; degrees for `turn`).

    `against` names what was hit where it is no piece (a flaw, a spoiled hole); `cloth` where it happened.
    """

    rule: Rule
    pieces: tuple[str, ...]
    amount_mm: float
    against: str = ""
    cloth: str = ""

    @property
    def no_ground(self) -> bool:
        """True where none of the cloth may be used for the piece, so that it is not outside by any amount.

        >>> Breach("zone", ("front-1",), 0.0).no_ground, Breach("zone", ("front-1",), 3.0).no_ground
        (True, False)
        """
        return self.rule in ("outside", "zone") and self.amount_mm <= 0


@dataclass(frozen=True)
class Report:
    """The judgement of what lies on the cloth; `clearance_mm` None when nothing is placed."""

    verdict: CheckVerdict
    breaches: tuple[Breach, ...]
    waiting: tuple[str, ...]
    used_percent: float
    clearance_mm: float | None


@dataclass(frozen=True)
class Answer:
    """The answer to a Question. `reason` is the sentence a maker can check with a ruler.

    `spare_mm` is the largest clearance found over all layouts, None when nothing fits; `spare_proved`: none has more.
    `cut_short`: a limit of seconds or a cancel ended the search, so that another run may say more. `steps` of effort it
    took, the same on every machine.
    """

    verdict: Verdict
    proved: bool
    reason: Remark
    proof: Proof | None = None
    notes: tuple[Remark, ...] = ()
    placed: tuple[Placed, ...] = ()
    used_percent: float = 0.0
    clearance_mm: float | None = None
    spare_mm: float | None = None
    spare_proved: bool = False
    cut_short: bool = False
    question_number: int = 0
    steps: int = 0
