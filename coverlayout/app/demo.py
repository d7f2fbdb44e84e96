"""The demo without a window: lays the sample project out, writes its papers and a picture, and says where they lie."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from coverlayout.app.verbs.lay import laid_around_pins
from coverlayout.document.edits.placements import accept
from coverlayout.document.file import load, write_safely
from coverlayout.document.questions import placed_now, planned_pieces
from coverlayout.document.session import Session
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.exporting.picture import page_png
from coverlayout.exporting.sheet import write_papers

__all__ = ["main", "run"]


def run(project: Path, folder: Path) -> list[str]:
    """Lay the project out and write papers for both sides and a picture into `folder`; returns what to tell the maker.

    The project file itself is not changed. Raises BadInput or FileTrouble as reading and writing do.
    """
    opened = load(project)
    session = Session(opened.project, opened.pictures, project)
    answer = laid_around_pins(session.project, 20.0)
    reason = session.project.preferences.length_style.said(answer.reason)
    said = [
        Remark.of("demo-job", name=session.project.name, pieces=len(planned_pieces(session.project))).text(),
        Remark.of("demo-verdict", verdict=answer.verdict, reason=reason).text(),
    ]
    if answer.placed:
        session.do(accept(answer.placed))
    if not placed_now(session.project):
        return said
    for side in ("print", "back"):
        written = write_papers(session.project, session.pictures, folder / side, side)
        said += [Remark.of("demo-wrote", path=str(path)).text() for path in written]
    picture = folder / "cloth.png"
    write_safely(picture, page_png((folder / "print" / "placement.pdf").read_bytes()))
    return [*said, Remark.of("demo-picture", path=str(picture)).text()]


def _sample() -> Path:
    """The one project among the sample prints of this copy of the program."""
    return next((Path(__file__).parents[2] / "sample_prints").glob("*.coverlayout"), Path("demo.coverlayout"))


def main(arguments: list[str] | None = None) -> int:
    """`[PROJECT [FOLDER]]`: the sample project and a fresh folder for papers unless given; 0 when all is written."""
    given = [Path(argument) for argument in (sys.argv[1:] if arguments is None else arguments)]
    try:
        folder = given[1] if len(given) > 1 else Path(tempfile.mkdtemp(prefix="coverlayout-demo-"))
        print("\n".join(run(given[0] if given else _sample(), folder)))
    except CoverlayoutError as fault:
        print(fault, file=sys.stderr)
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
