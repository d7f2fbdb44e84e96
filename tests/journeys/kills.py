"""Kills an editing and saving program again and again, and says what of the work could not be read and what was lost.

    python tests/journeys/kills.py --kills 200 [--seed 1] [--at-once 6] [--json]

Each run is a process of its own: it opens the project that the run before left, offers itself the recovery copy, and
goes on editing (pieces moved, pictures taken in, steps undone) and saving, through the very parts the window uses:
session, recovery copies on their thread, saves over the file. At a random moment it is killed with SIGKILL. Every edit
carries its number and time; what the file or the recovery copy then holds is held against the edits that were done:
lost is the time from the oldest edit that is in neither up to the kill.
Exit 0 when nothing was unreadable and at most 2 s were lost.
"""

from __future__ import annotations

import argparse
import faulthandler
import json
import os
import random
import select
import signal
import struct
import sys
import tempfile
import time
import traceback
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import TracebackType

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ["QT_QPA_PLATFORM"] = "offscreen"

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget

from coverlayout.book.book import OwnPiece
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.edits.placements import place
from coverlayout.document.file import backup_of, load, save
from coverlayout.document.history import Edit
from coverlayout.document.project import Layout, Project
from coverlayout.document.recovery import Keeper, discard, left_behind, read
from coverlayout.document.session import Pictures, Session
from coverlayout.document.storage.claims import Claim
from coverlayout.errors import CoverlayoutError, Remark
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import PictureRef, Print
from coverlayout.ui.dialogs.banner import Banner
from coverlayout.ui.files.keeping import Keeping
from coverlayout.ui.files.recent import RecentProjects
from coverlayout.ui.theme import LIGHT

GOAL_LOST_S = 2.0
# A run is killed after this long at most: long enough for several copies and saves.
LONGEST_RUN_S = 2.4
PIECES = 12
_TOLD = struct.Struct("<qd")


@dataclass
class Figures:
    """What the kills came to; `lost_s` is one figure a kill."""

    kills: int = 0
    unreadable: list[str] = field(default_factory=list)
    lost_s: list[float] = field(default_factory=list)
    edits: int = 0
    recovered: int = 0

    @property
    def worst_lost_s(self) -> float:
        """The most work that one kill took."""
        return max(self.lost_s, default=0.0)

    @property
    def is_met(self) -> bool:
        """True when nothing was unreadable and no kill took more than 2 s of work."""
        return not self.unreadable and self.worst_lost_s <= GOAL_LOST_S


# The program that is killed


def beginning() -> tuple[Project, Pictures]:
    """Pieces of our own on one cloth under a print with a picture."""
    picture = bytes(range(256)) * 400
    pictures = Pictures().with_picture(picture)
    ref = PictureRef(Pictures.hash_of(picture), "png", "herons.png", 640, 800)
    herons = Print("print-1", "Herons", Lattice((64.0, 0.0), (0.0, 80.0)), picture=ref, tile_mm=(64.0, 80.0))
    tags = OwnPiece("own-1", "Tag", 40.0, 60.0, count=PIECES, ids=tuple(f"tag-{k}" for k in range(PIECES)))
    laid = tuple(Placed(f"tag-{k}", "cloth-1", 30.0 + 50.0 * k, 40.0) for k in range(PIECES))
    project = Project(
        name=stamped(0, 0.0),
        prints=(herons,),
        cloths=(Cloth("cloth-1", "Bolt", 1400.0, 900.0),),
        own_pieces=(tags,),
        layouts=(Layout("layout-1", "Layout 1", laid),),
    )
    return project, pictures


def stamped(number: int, at_s: float) -> str:
    """A project's name that carries the number of its last edit and the time it was made."""
    return f"edit {number} {at_s!r}"


def stamp_in(project: Project) -> tuple[int, float]:
    """Number and time of the last edit that a project holds."""
    _, number, at_s = project.name.split()
    return int(number), float(at_s)


class Editing:
    """Edits and saves without a pause, as fast as a hurried hand: an edit every 5 to 60 ms, a save now and then."""

    def __init__(self, folder: Path, tell: int, seed: int) -> None:
        self.path, self._tell, self._chance = folder / "work.coverlayout", tell, random.Random(seed)
        self._number = 0
        self.session = Session()
        self._holder = QWidget()
        banner = Banner(LIGHT, self._holder)
        recent = RecentProjects(folder / "settings", folder / "pictures")
        self.keeping = Keeping(self.session, banner, self._holder, Keeper(folder / "recovery"), recent)
        self.keeping.watching._claim = Claim(folder / "claims")
        self.session.listen(lambda old, new: self.keeping.look_at())
        self._begin(folder)
        self._timer = QTimer(singleShot=True)
        self._timer.timeout.connect(self._step)
        self._timer.start(0)

    def _begin(self, folder: Path) -> None:
        """Go on where the run before was killed: its recovery copy when there is one, else the file."""
        copies = [copy for copy in left_behind(folder / "recovery") if not copy.damaged]
        if copies:
            assert self.keeping._recover(copies[0], read(copies[0]))
            for copy in copies:
                discard(copy)
        else:
            found = load(self.path)
            self.session.replace_all(found.project, found.pictures, self.path)
        self._number, _ = stamp_in(self.session.project)

    def _step(self) -> None:
        chance = self._chance.random()
        if chance < 0.06:
            self.keeping.save_to(self.path, over=True)
        elif chance < 0.1 and self.session.undo_name:
            self.session.undo()
            self._edit()
        elif chance < 0.12:
            self.session.add_picture(self._chance.randbytes(20_000))
        else:
            self._edit()
        self._timer.start(self._chance.randrange(5, 60))

    def _edit(self) -> None:
        """Move a piece, and write number and time into the name in the same step; then tell that it is done."""
        self._number += 1
        number, at_s = self._number, time.monotonic()
        piece = f"tag-{self._chance.randrange(PIECES)}"
        moved = place([Placed(piece, "cloth-1", self._chance.uniform(30, 1300), self._chance.uniform(40, 800))])
        self.session.do(
            Edit(
                Remark.of("edit-move", piece=piece),
                lambda project: replace(moved.change(project), name=stamped(number, at_s)),
            )
        )
        os.write(self._tell, _TOLD.pack(number, at_s))


def run_until_killed(folder: Path, tell: int, seed: int) -> None:
    """The program: edits until it is killed. A fault of its own ends it at once, and with it the whole measurement."""
    sys.excepthook = _end_at_once
    faulthandler.enable()
    application = QApplication(["kills"])
    editing = Editing(folder, tell, seed)
    application.exec()
    editing.keeping.leave()


def _end_at_once(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
    traceback.print_exception(kind, fault, trace)
    os._exit(1)


# Killing it, and what is left


def begun(folder: Path, seed: int) -> tuple[int, int]:
    """A run in a process of its own, everything loaded already; its id, and where it tells of its edits."""
    reading, writing = os.pipe()
    child = os.fork()
    if child:
        os.close(writing)
        return child, reading
    os.close(reading)
    try:
        run_until_killed(folder, writing, seed)
    except BaseException:  # noqa: BLE001  the run ends here whatever it was; nothing of it may go on in the parent's place
        traceback.print_exc()
    finally:
        os._exit(1)


@dataclass
class Lane:
    """One project that is killed again and again."""

    folder: Path
    chance: random.Random
    child: int = 0
    reading: int = -1
    ends_s: float = 0.0
    told: bytes = b""

    def begin(self) -> None:
        """Begin a run that will be killed at a random moment after its first edit."""
        self.child, self.reading = begun(self.folder, self.chance.randrange(1 << 30))
        self.told, self.ends_s = b"", 0.0

    def listen(self) -> bool:
        """Take in what the run tells; False when it ended by itself."""
        data = os.read(self.reading, 1 << 16)
        if data and not self.ends_s:
            self.ends_s = time.monotonic() + self.chance.uniform(0.0, LONGEST_RUN_S)
        self.told += data
        return bool(data)

    def kill(self) -> float:
        """Kill the run; the moment it was killed."""
        killed_s = time.monotonic()
        os.kill(self.child, signal.SIGKILL)
        _, status = os.waitpid(self.child, 0)
        while data := os.read(self.reading, 1 << 16):
            self.told += data
        os.close(self.reading)
        self.child = 0
        assert os.WIFSIGNALED(status), f"the run had ended by itself with {status}"
        return killed_s

    def end(self) -> None:
        """End a run that nobody judges any more."""
        if self.child:
            with suppress(ProcessLookupError, ChildProcessError):
                os.kill(self.child, signal.SIGKILL)
                os.waitpid(self.child, 0)

    def judge(self, figures: Figures, killed_s: float) -> None:
        """Hold what is left against the edits that were done: the age of the oldest one lost is what was lost."""
        done = list(_TOLD.iter_unpack(self.told))
        figures.kills += 1
        figures.edits += len(done)
        newest = max((stamp_in(project)[0] for project in self._left(figures)), default=-1)
        if done and newest < done[0][0] - 1:
            figures.unreadable.append(f"work of the run before, up to edit {done[0][0] - 1}, was lost again")
        figures.lost_s.append(max((killed_s - at_s for number, at_s in done if number > newest), default=0.0))

    def _left(self, figures: Figures) -> Iterator[Project]:
        """The projects in the file, its backup and the recovery copies."""
        file = self.folder / "work.coverlayout"
        for path in (file, backup_of(file)):
            if path == file or path.exists():
                try:
                    yield load(path).project
                except CoverlayoutError as fault:
                    figures.unreadable.append(str(fault))
        for copy in left_behind(self.folder / "recovery"):
            try:
                yield read(copy).project
                figures.recovered += 1
            except CoverlayoutError as fault:
                figures.unreadable.append(str(fault))


def kill_often(kills: int, *, seed: int = 1, at_once: int = 6) -> Figures:
    """Kill so many runs, `at_once` of them side by side on projects of their own."""
    figures = Figures()
    with tempfile.TemporaryDirectory(dir=_disk(), prefix="coverlayout-kills-") as folder:
        lanes = [_lane(Path(folder) / str(k), random.Random(seed * 1000 + k)) for k in range(min(at_once, kills))]
        try:
            _kill_all(lanes, kills, figures)
        finally:
            for lane in lanes:
                lane.end()
    return figures


def _kill_all(lanes: list[Lane], kills: int, figures: Figures) -> None:
    """Keep every lane busy until so many runs were killed; a lane that is done leaves the list."""
    for lane in lanes:
        lane.begin()
    to_begin = kills - len(lanes)
    while lanes:
        ready, _, _ = select.select([lane.reading for lane in lanes], [], [], 0.002)
        for lane in list(lanes):
            if lane.reading in ready:
                assert lane.listen(), "a run ended by itself; what it said stands above"
            if lane.ends_s and time.monotonic() >= lane.ends_s:
                lane.judge(figures, lane.kill())
                if to_begin:
                    to_begin -= 1
                    lane.begin()
                else:
                    lanes.remove(lane)


def _lane(folder: Path, chance: random.Random) -> Lane:
    folder.mkdir()
    save(folder / "work.coverlayout", *beginning())
    return Lane(folder, chance)


def _disk() -> str | None:
    """Where a person's files would lie: a passing folder in memory would flatter the figures."""
    home = Path.home()
    return str(home) if os.access(home, os.W_OK) else None


def main(arguments: Sequence[str] | None = None) -> int:
    """Kill as often as asked and print the figures."""
    parser = argparse.ArgumentParser(prog="kills.py", allow_abbrev=False)
    parser.add_argument("--kills", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--at-once", type=int, default=6)
    parser.add_argument("--json", action="store_true", help="one JSON object and nothing else on standard output")
    wish = parser.parse_args(arguments)
    began_s = time.monotonic()
    figures = kill_often(wish.kills, seed=wish.seed, at_once=wish.at_once)
    told = {
        "kills": figures.kills,
        "unreadable": len(figures.unreadable),
        "worst_lost_s": round(figures.worst_lost_s, 3),
        "median_lost_s": round(sorted(figures.lost_s)[len(figures.lost_s) // 2], 3) if figures.lost_s else 0.0,
        "edits": figures.edits,
        "recovery_copies": figures.recovered,
        "took_s": round(time.monotonic() - began_s, 1),
    }
    sys.stdout.write(json.dumps(told) + "\n" if wish.json else "".join(f"{name:16} {told[name]}\n" for name in told))
    for line in figures.unreadable:
        sys.stderr.write(line + "\n")
    return 0 if figures.is_met else 1


if __name__ == "__main__":
    sys.exit(main())
