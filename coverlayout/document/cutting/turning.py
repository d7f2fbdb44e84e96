"""The edit that turns a piece to an angle the maker types: only ways in which the piece may lie."""

from __future__ import annotations

from coverlayout.document.checks.whole import checked_edit
from coverlayout.document.edits.placements import turn_piece
from coverlayout.document.history import Edit
from coverlayout.document.project import Project
from coverlayout.document.questions import judge_for
from coverlayout.errors import BadInput, Remark
from coverlayout.geometry.frames import signed_deg, turns_apart_deg
from coverlayout.layout.placing import Laid
from coverlayout.layout.question import Placed

__all__ = ["turn_to", "turns_allowed"]

# A typed angle is one of the turns allowed when it is this near: angles are shown to a thousandth.
_TYPED_DEG = 0.005


def turns_allowed(project: Project, placed: Placed) -> tuple[float, ...] | None:
    """The turns on the cloth, from 0 up to 360, that the piece may have where it lies; None: any.

    They are counted from the print's up there, or from the lengthwise thread where there is no print.
    """
    piece = judge_for(project).pieces.get(placed.piece)
    if piece is None:
        raise BadInput("id-unknown", kind="piece", id=placed.piece)
    if piece.turns_deg is None:
        return None
    laid = judge_for(project).laid(placed, ())
    ground = laid.nearest_ground if isinstance(laid, Laid) else None
    up_deg = 0.0 if ground is None else ground.ground.up_deg
    return tuple(sorted((up_deg + turn_deg) % 360.0 for turn_deg in piece.turns_deg))


def turn_to(piece: str, shown_deg: float, label: str | None = None, *, zero_deg: float = 0.0) -> Edit:
    """Turn a piece to an angle as it is seen on the side of the cloth that is shown, clockwise.

    `zero_deg` is the turn, as seen there, that the angle is counted from: 0 has the head up on the cloth.
    BadInput when it waits or is pinned, or when it may not lie so: the sentence names the angles that are allowed.
    """

    def change(old: Project) -> Project:
        lying = old.layout.place_of(piece)
        if lying is None:
            raise BadInput("piece-not-on-cloth", piece=label or piece)
        turn_deg = _as_allowed(old, lying, shown_deg, label or piece, zero_deg)
        return turn_piece(piece, turn_deg, label).change(old)

    return checked_edit(Remark.of("edit-turn", piece=label or piece), change)


def _as_allowed(project: Project, lying: Placed, shown_deg: float, label: str, zero_deg: float) -> float:
    """The angle on the cloth, exactly that of the turn allowed where it is only as near as it is shown."""
    sign = -1.0 if project.preferences.side == "back" else 1.0
    allowed = turns_allowed(project, lying)
    if allowed is None:
        return sign * (shown_deg + zero_deg)
    wanted = sign * (shown_deg + zero_deg)
    near = [turn_deg for turn_deg in allowed if turns_apart_deg(turn_deg, wanted) <= _TYPED_DEG]
    if near:
        return near[0]
    shown = sorted((round(signed_deg(sign * turn_deg - zero_deg), 3) + 0.0 for turn_deg in allowed), key=_clockwise)
    raise BadInput("turn-not-allowed", piece=label, found=f"{shown_deg:g}", turns=_listed(shown))


def _clockwise(turn_deg: float) -> float:
    """The turn from 0 up to 360."""
    return turn_deg % 360.0


def _listed(turns: list[float]) -> str:
    """Angles in words.

    >>> _listed([0.0]), _listed([0.0, 90.0, 182.5])
    ('0°', '0°, 90° or 182.5°')
    """
    said = [f"{turn_deg:g}°" for turn_deg in turns]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} or {said[-1]}"
