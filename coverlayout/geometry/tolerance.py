"""How near is equal: every tolerance of the program in one place. They are constants; no setting changes them."""

from __future__ import annotations

__all__ = ["EXACT_MM", "LOCK_MM", "NO_LOOSER_MM", "SAME_LENGTH_MM", "SAME_PAGE_MM", "SAME_TURN_DEG", "SNAP_MM"]

# Two lengths are equal, and a layout is valid, within a hundredth of a millimetre: far below any knife.
SAME_LENGTH_MM = 0.01
# A page typed in another unit than its sheet is rounded; nearer than this the two are the same page.
SAME_PAGE_MM = 0.05
# A lock to the repeat holds within this: cloth itself gives more than that under a finger.
LOCK_MM = 0.05
# Everything is this much looser when a "does not fit" is proved, so that a no survives every tolerance.
NO_LOOSER_MM = 0.01
# Coordinates are snapped to this before shapes are cut from each other, to keep slivers out.
SNAP_MM = 1e-6
# Float dust left by adding and subtracting: below it two numbers are one.
EXACT_MM = 1e-9
# Two turns are one turn within this angle: over 2 m it moves a corner by less than 0.001 mm.
SAME_TURN_DEG = 1e-5
