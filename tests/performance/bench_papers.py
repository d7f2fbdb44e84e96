"""How long the papers of one book take, and how large they are."""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path

from coverlayout.document.edits.placements import accept
from coverlayout.document.file import load
from coverlayout.document.questions import question_for
from coverlayout.document.session import Session
from coverlayout.exporting.sheet import write_papers
from coverlayout.layout.lay import lay

DEMO = Path(__file__).parents[2] / "sample_prints" / "salt-works.coverlayout"


def figures(shared: Path | None) -> dict[str, dict[str, float]]:
    """Median time for both sides of the demo's papers, in ms."""
    opened = load(DEMO)
    session = Session(opened.project, opened.pictures)
    session.do(accept(lay(question_for(session.project)).placed))
    taken = []
    for _ in range(3):
        with tempfile.TemporaryDirectory() as folder:
            began = time.perf_counter()
            for side in ("print", "back"):
                write_papers(session.project, session.pictures, Path(folder) / side, side)
            taken.append((time.perf_counter() - began) * 1000)
    return {"papers_ms": {"value": statistics.median(taken), "goal": 1500.0}}
