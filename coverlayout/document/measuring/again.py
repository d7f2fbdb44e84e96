"""The edit that follows from measuring a cloth again: a change in size, with everything that lies there moved along."""

from __future__ import annotations

from coverlayout.cloth.remeasuring import MEASURED_AGAIN, Remeasured, measured_again
from coverlayout.document.edits.cloths import add_change
from coverlayout.document.history import Edit
from coverlayout.errors import Remark

__all__ = ["measure_again"]


def measure_again(
    cloth_id: str,
    across: Remeasured | None,
    along: Remeasured | None,
    *,
    change_name: str = MEASURED_AGAIN,
    name: str = "",
) -> Edit:
    """Let the cloth have become what two lengths on it say, one in each direction; None: that direction is as it was.

    The lengths are on the cloth as it is by the project now; the change comes after all others, and placements move
    with the cloth. BadInput as `measured_again`.
    """
    change = measured_again(across, along, change_name)
    return Edit(Remark.of("edit-measure-again", name=name or cloth_id), add_change(cloth_id, change).change)
