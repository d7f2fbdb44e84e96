"""`coverlayout new OUT ...`: make a project from flags, or from a job file."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from coverlayout.app.booking.book_flags import COVER_FLAGS, book_of
from coverlayout.app.booking.paper_flags import PAPER_FLAGS
from coverlayout.app.booking.stock_flags import BACKING_FLAG, STOCK_FLAGS, backing_of_flags, stocks_of
from coverlayout.app.booking.structure_flags import SEWING_FLAGS
from coverlayout.app.flags import JSON, Flag, Given, Verb
from coverlayout.app.verbs.cloth_flags import CLOTH_FLAGS, PRINT_FLAGS, cloth_of, print_of
from coverlayout.app.verbs.piece_flags import PIECE_FLAGS, WISH_FLAGS, own_pieces_of, rules_of
from coverlayout.app.verbs.telling import YES, Opened, print_json, print_lines, remarks_on, table
from coverlayout.book.structures import pieces
from coverlayout.document.asking.sentences import with_wishes_said
from coverlayout.document.checks.whole import checked
from coverlayout.document.file import SUFFIX, save
from coverlayout.document.job import project_from_job
from coverlayout.document.project import Project
from coverlayout.document.questions import planned_pieces, question_for, turns_of
from coverlayout.document.storage.job_file import ignored_fields
from coverlayout.document.storage.pictures import Pictures
from coverlayout.document.storage.writing import disk_trouble
from coverlayout.errors import BadInput, FileTrouble, Remark

__all__ = ["LATER", "VERB"]

_HEADINGS = (
    ("the print", PRINT_FLAGS),
    ("the cloth", (*CLOTH_FLAGS, BACKING_FLAG)),
    ("the paper the book is made of", PAPER_FLAGS),
    ("the book", COVER_FLAGS),
    ("its sewing", SEWING_FLAGS),
    ("pieces of your own, distances, wishes", (*PIECE_FLAGS, *WISH_FLAGS)),
    ("what boards and the like come as: width x length of a sheet, or the width of a roll", STOCK_FLAGS),
)
_MAKING = tuple(flag for _, flags in _HEADINGS for flag in flags)
LATER = frozenset(("--mark",))
# A list of pieces of this size holds more than any bench will ever cut.
_MOST_JOB_BYTES = 16 << 20


def _run(given: Given) -> int:
    out = Path(given.operand)
    with disk_trouble(out):
        _check_out(out, given)
    made = _from_job(given) if given.has("--job") else _from_flags(given)
    checked(made.project)
    question_for(made.project)
    save(out, made.project, made.pictures)
    if given.has("--json"):
        print_json(_record(out, made))
    else:
        print_lines(_lines(out, made))
    return YES


def _check_out(out: Path, given: Given) -> None:
    """Nothing is written over by mistake: no file without --replace, and never what the project is made from."""
    if out.is_dir():
        raise FileTrouble("is-a-folder", file=given.operand[:200])
    if out.exists() and not given.has("--replace"):
        raise BadInput("out-exists", file=given.operand[:200])
    for flag in ("--print", "--job"):
        source = given.one(flag)
        if source is not None and out.exists() and Path(source).exists() and out.samefile(source):
            raise BadInput("out-is-source", file=given.operand[:200], flag=flag)


def _from_job(given: Given) -> Opened:
    if (flag := given.first_of([flag.name for flag in _MAKING])) is not None:
        raise BadInput("flags-disagree", first="--job", second=flag)
    path = Path(given.one("--job") or "")
    with disk_trouble(path, reading=True):
        if not path.is_file():
            raise FileTrouble("job-not-there", file=str(path)[:200])
        if path.stat().st_size > _MOST_JOB_BYTES:
            raise BadInput("job-too-large", file=path.name)
        data = path.read_bytes()
    project = project_from_job(data, path.name)
    return Opened(project, Pictures(), (*ignored_fields(data, path.name), *remarks_on(project)))


def _from_flags(given: Given) -> Opened:
    made = print_of(given)
    cloth = cloth_of(given, made)
    backing = backing_of_flags(given, cloth)
    book, own = book_of(given), own_pieces_of(given)
    if made is None and cloth is None and book is None and not own:
        raise BadInput("nothing-to-make")
    project = Project(
        name=Path(given.operand).name.removesuffix(SUFFIX) or "Untitled",
        prints=() if made is None else (made.print,),
        cloths=() if cloth is None else (replace(cloth, backing=backing),),
        books=() if book is None else (book,),
        own_pieces=own,
        stocks=stocks_of(given),
        rules=rules_of(given),
        next_number=2,
        next_volume_number=1 if book is None else len(book.volumes) + 1,
    )
    _check_names(project)
    project = with_wishes_said(project, given.all("--wish"))
    pictures = Pictures() if made is None or made.picture is None else Pictures().with_picture(made.picture)
    of_print = () if made is None else made.notes
    return Opened(project, pictures, (*of_print, *remarks_on(project)))


def _check_names(project: Project) -> None:
    """No own piece is called like a piece of the book."""
    of_books = {piece.id for book in project.books for piece in pieces(book)}
    for own in project.own_pieces:
        if (twice := of_books.intersection(own.piece_ids)) != set():
            raise BadInput("piece-name-of-book", name=own.name, piece=min(twice))


def _record(out: Path, made: Opened) -> dict[str, object]:
    return {
        "file": str(out),
        "pieces": [
            {
                "piece": piece.id,
                "width_mm": piece.width_mm,
                "height_mm": piece.height_mm,
                "turns": turns_of(made.project, piece),
            }
            for piece in planned_pieces(made.project)
        ],
        "notes": made.texts(made.notes),
    }


def _lines(out: Path, made: Opened) -> list[str]:
    rows = [
        (piece.id, made.show(piece.width_mm, "up"), made.show(piece.height_mm, "up"), turns_of(made.project, piece))
        for piece in planned_pieces(made.project)
    ]
    cut = table(("piece", "width", "height", "turns"), rows) if rows else []
    return [made.texts([Remark.of("project-made", file=str(out))])[0], *made.texts(made.notes), *cut]


VERB = Verb(
    "new",
    "OUT",
    "Make a project. It is never written over a file without --replace.",
    (
        *_MAKING,
        Flag("--job", "a plain list of cloth, pieces, locks, flaws and zones, instead of other flags", "JOB.json"),
        Flag("--replace", "write over OUT when it is there"),
        JSON,
    ),
    _run,
    _HEADINGS,
)
