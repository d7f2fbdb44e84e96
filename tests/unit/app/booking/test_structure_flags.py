"""Which flags go with which structure; the others are refused by name."""

from __future__ import annotations

import pytest

from coverlayout.app.booking.structure_flags import SEWING_FLAGS, STRUCTURE_FLAGS, STRUCTURES, check_flags_for
from coverlayout.app.flags import Given
from coverlayout.book.book import Structure
from coverlayout.errors import BadInput

CASES = {"flat-case", "rounded-case", "quarter-case", "half-case"}
BOARDS = CASES | {"separate-boards", "exposed-spine-wrap", "side-sewn", "accordion"}
SEWN = (BOARDS | {"limp-wrap"}) - {"accordion"}
PARTLY = {"quarter-case", "half-case"}
ALL: set[str] = set(STRUCTURES)

# Written down once more from how each structure is made.
GOES_WITH: dict[str, set[str]] = {
    "--board-setback": BOARDS - {"accordion"},
    "--square": ALL - {"slipcase"},
    "--tail-square": ALL - {"slipcase"},
    "--joint": CASES | {"side-sewn"},
    "--spine-piece": CASES,
    "--spine-width": CASES | {"exposed-spine-wrap", "limp-wrap"},
    "--spine-allowance": CASES | {"exposed-spine-wrap", "limp-wrap"},
    "--spine-rise": {"rounded-case"},
    "--spine-lining": CASES,
    "--spine-on-board": PARTLY,
    "--side-lap": PARTLY,
    "--sides": PARTLY | {"slipcase"},
    "--side-turns": PARTLY | {"slipcase"},
    "--corner-leg": {"half-case"},
    "--hinge": {"side-sewn"},
    "--flap": {"limp-wrap"},
    "--turned-in-flap": {"limp-wrap"},
    "--slipcase-of": {"slipcase"},
    "--clearance": {"slipcase"},
    "--endpapers": SEWN,
    "--label": BOARDS,
    "--stations": SEWN,
    "--station-end": SEWN,
    "--hole-distance": {"separate-boards", "exposed-spine-wrap", "side-sewn"},
    "--thread": SEWN,
    "--paper": ALL - {"slipcase"},
    "--pages": ALL - {"slipcase"},
    "--page": ALL - {"slipcase"},
    "--board-size": BOARDS,
    "--board-thickness": BOARDS | {"slipcase"},
    "--liners": ALL - {"slipcase"},
    "--liner-turns": ALL - {"slipcase"},
    "--liner-inset": ALL,
    "--turn-in": ALL,
    "--block": ALL,
}


def test_every_flag_of_a_structure_is_in_the_list_above() -> None:
    assert {flag.name for flag in (*STRUCTURE_FLAGS, *SEWING_FLAGS)} <= set(GOES_WITH)


@pytest.mark.parametrize("flag", GOES_WITH)
@pytest.mark.parametrize("structure", STRUCTURES)
def test_a_flag_goes_with_its_structures_and_no_other(flag: str, structure: Structure) -> None:
    given = Given("a", {flag: ("1mm",)})
    if structure in GOES_WITH[flag]:
        check_flags_for(given, structure)
        return
    with pytest.raises(BadInput) as told:
        check_flags_for(given, structure)
    assert str(told.value) == f"{flag} does not go with {structure}; leave it out"
