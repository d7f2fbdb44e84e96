"""What a window stands on is loaded before Qt."""

from __future__ import annotations

import json
import subprocess
import sys

# Loads the ground, then the window's own modules, and tells what was there between the two and what came after.
LOADS = """
import json, sys
from coverlayout.app.desktop import load_ground
load_ground()
before = sorted(sys.modules)
import coverlayout.app.wiring
print(json.dumps([before, sorted(set(sys.modules) - set(before))]))
"""


def test_nearly_all_that_needs_no_qt_comes_before_it() -> None:
    done = subprocess.run([sys.executable, "-c", LOADS], stdout=subprocess.PIPE, text=True, check=True)
    before, after = json.loads(done.stdout)
    assert {"numpy", "shapely", "PIL.Image"} <= set(before)
    assert [name for name in before if name.startswith(("PySide6", "coverlayout.ui"))] == []
    ours = [name for name in before if name.startswith("coverlayout.")]
    late = [
        name
        for name in after
        if name.startswith("coverlayout.") and not name.startswith(("coverlayout.ui", "coverlayout.app"))
    ]
    assert len(late) < len(ours) / 3, late
