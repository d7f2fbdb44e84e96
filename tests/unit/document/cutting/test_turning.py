"""A typed angle: only ways in which the piece may lie, as they are seen on the side shown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coverlayout.book.book import OwnPiece, Turns
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.cutting.turning import turn_to, turns_allowed
from coverlayout.document.edits.placements import pin, place
from coverlayout.document.project import Preferences, Project
from coverlayout.errors import BadInput
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, Print

# The print lies 12.5 degrees crooked; the pocket has no symmetry.
HERONS = Print("print-1", "Herons", Lattice((64.0, 48.0), (0.0, 96.0)))
CLOTH = Cloth("cloth-1", "Swatch", 400.0, 300.0, laid=LaidPrint("print-1", turn_deg=12.5))
L_SHAPE = ((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0))
AT = Placed("pocket-1", "cloth-1", 150.0, 150.0, 12.5)


def project(turns: Turns | None, side: str = "print") -> Project:
    own = OwnPiece("own-1", "pocket", outline_mm=L_SHAPE, turns=turns)
    start = Project(prints=(HERONS,), cloths=(CLOTH,), own_pieces=(own,))
    sided = replace(start, preferences=Preferences(side=side))  # type: ignore[arg-type]  # one of its two words
    return place((AT,)).change(sided)


def turn_after(start: Project, shown_deg: float) -> float:
    lying = turn_to("pocket-1", shown_deg, "pocket").change(start).layout.place_of("pocket-1")
    assert lying is not None
    return lying.turn_deg


@pytest.mark.parametrize(
    ("turns", "allowed"),
    [
        ("none", (12.5,)),
        (None, (12.5,)),
        ("half", (12.5, 192.5)),
        ("quarter", (12.5, 102.5, 192.5, 282.5)),
        ("free", None),
    ],
)
def test_turns_are_counted_from_the_up_of_the_print(turns: Turns | None, allowed: tuple[float, ...] | None) -> None:
    assert turns_allowed(project(turns), AT) == allowed


def test_any_angle_is_taken_only_where_any_is_allowed() -> None:
    assert turn_after(project("free"), 33.3) == 33.3
    assert turn_after(project("half"), 192.5) == 192.5
    assert turn_after(project("half"), -167.5) == 192.5
    with pytest.raises(BadInput) as caught:
        turn_after(project("quarter"), 90.0)
    assert str(caught.value) == (
        "pocket may not lie at 90°: the print or the grain allows 12.5°, 102.5°, -167.5° or -77.5°"
    )
    with pytest.raises(BadInput, match=r"may not lie at 12\.6°: the print or the grain allows 12\.5°$"):
        turn_after(project("none"), 12.6)


def test_an_angle_as_near_as_it_is_shown_is_the_angle_allowed() -> None:
    assert turn_after(project("half"), 192.504) == 192.5
    with pytest.raises(BadInput):
        turn_after(project("half"), 192.506)


def test_seen_from_the_back_a_turn_runs_the_other_way() -> None:
    """12.5 degrees clockwise on the print side are 12.5 the other way round, or 347.5, from the back."""
    assert turn_after(project("half", "back"), 347.5) == 12.5
    assert turn_after(project("free", "back"), 33.0) == 327.0
    with pytest.raises(BadInput, match=r"allows 167\.5° or -12\.5°$"):
        turn_after(project("half", "back"), 12.5)


def test_an_angle_may_be_counted_from_the_up_of_the_print() -> None:
    def turned(start: Project, shown_deg: float, zero_deg: float) -> float:
        lying = turn_to("pocket-1", shown_deg, zero_deg=zero_deg).change(start).layout.place_of("pocket-1")
        assert lying is not None
        return lying.turn_deg

    assert turned(project("quarter"), -90.0, 12.5) == 282.5
    # From behind the print's up is seen turned by -12.5, and a quarter clockwise there is one the other way in front.
    assert turned(project("quarter", "back"), 90.0, -12.5) == 282.5
    assert turned(project("free", "back"), 10.0, -12.5) == pytest.approx(2.5)
    with pytest.raises(BadInput, match=r"allows 0° or 180°$"):
        turned(project("half"), 12.5, 12.5)


def test_what_waits_or_is_pinned_or_unknown_is_not_turned() -> None:
    waits = replace(project("free"), layouts=Project().layouts)
    with pytest.raises(BadInput, match="pocket does not lie on the cloth yet"):
        turn_after(waits, 10.0)
    with pytest.raises(BadInput, match="pocket is pinned"):
        turn_after(pin(("pocket-1",)).change(project("free")), 10.0)
    with pytest.raises(BadInput, match="front-9"):
        turns_allowed(waits, replace(AT, piece="front-9"))
    assert turn_to("pocket-1", 3.0).name.text() == "Turn pocket-1"


def test_without_ground_the_thread_counts() -> None:
    start = replace(project("half"), cloths=(replace(CLOTH, trim_mm=150.0),))
    assert turns_allowed(start, AT) == (12.5, 192.5)
    bare = replace(project("half"), cloths=(replace(CLOTH, laid=None),))
    assert turns_allowed(bare, AT) == (0.0, 180.0)
