"""The tolerances stand in a sane order: dust below snapping, snapping below equal lengths, those below a lock."""

from __future__ import annotations

from coverlayout.geometry import tolerance


def test_tolerances_grow_from_dust_to_locks() -> None:
    steps = [tolerance.EXACT_MM, tolerance.SNAP_MM, tolerance.SAME_LENGTH_MM, tolerance.LOCK_MM]
    assert steps == sorted(steps)
    assert tolerance.NO_LOOSER_MM >= tolerance.SAME_LENGTH_MM, "a no must survive the tolerance of a yes"
    assert 2000.0 * tolerance.SAME_TURN_DEG * 3.1416 / 180 < 0.001, "over 2 m a corner moves by less than 0.001 mm"
