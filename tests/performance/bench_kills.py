"""What 200 kills in the middle of editing and saving leave: files that cannot be read, and seconds of work lost."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

KILLS = 200
PROGRAM = Path(__file__).parents[1] / "journeys" / "kills.py"


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """How many files or recovery copies could not be read, and the most work that one kill took."""
    command = [sys.executable, str(PROGRAM), "--kills", str(KILLS), "--json"]
    done = subprocess.run(command, stdout=subprocess.PIPE, text=True, stdin=subprocess.DEVNULL, check=False)
    told = json.loads(done.stdout)
    assert told["kills"] == KILLS
    return {
        "kills_unreadable": {"value": float(told["unreadable"]), "goal": 0.0},
        "kills_worst_lost_s": {"value": told["worst_lost_s"], "goal": 2.0},
    }
