"""One family of sample shapes for all tests: none is symmetric where a slip in mirroring or turning could hide."""

from __future__ import annotations

from coverlayout.geometry.frames import Affine, Ring, shift, turn
from coverlayout.geometry.shapes import Region, rectangle
from coverlayout.layout.answer import Breach, Report
from coverlayout.layout.question import ClothAsked, Ground, KeepOut, PieceAsked, Placed, Question
from coverlayout.layout.rules import Judge
from coverlayout.motif.lattice import Lattice

# A board of a 4.5 x 6 in page, as common practice has it: the board is the size of the page.
BOARD: Ring = rectangle(114.3, 152.4)
# The same board's cover with its corners mitred at 3 mm from the board's corners (15 mm turn-in).
MITRED_COVER: Ring = (
    (12.0, 0.0),
    (132.3, 0.0),
    (144.3, 12.0),
    (144.3, 170.4),
    (132.3, 182.4),
    (12.0, 182.4),
    (0.0, 170.4),
    (0.0, 12.0),
)
# Far longer than wide, and thinner than a thread.
SLIVER: Ring = rectangle(200.0, 0.005)
# An L without any symmetry: 60 wide, 100 high, the foot 25 high, the stem 20 wide.
L_SHAPE: Ring = ((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0))
EMPTY: Ring = ()
SMALL: Ring = rectangle(40.0, 30.0)

# Twelve inches square, as swatches are sold.
SWATCH: Ring = rectangle(304.8, 304.8)
FLAW: Ring = ((70.0, 30.0), (95.0, 36.0), (80.0, 55.0))
# A swatch cut 7 degrees off the straight: its corners lie on no axis.
CROOKED: Ring = shift(-152.4, -152.4).then(turn(7.0)).then(shift(175.0, 180.0)).ring(SWATCH)
# A sheared lattice: no right angle, no equal sides.
SHEARED = Lattice((50.0, 13.0), (-17.0, 81.0))
# Where its origin lies on the swatch.
LAID = shift(9.0, 4.0)


def piece(piece_id: str, outline: Ring = BOARD, **more: object) -> PieceAsked:
    """A piece anchored at its origin, one-way unless `turns_deg` says otherwise."""
    return PieceAsked(piece_id, outline, (0.0, 0.0), **more)  # type: ignore[arg-type] # tests give fields by name


def ground(outline: Ring = SWATCH, **more: object) -> Ground:
    """A ground over the whole outline."""
    return Ground("ground", Region.of(outline), **more)  # type: ignore[arg-type] # tests give fields by name


def cloth(outline: Ring = SWATCH, *, keep_outs: tuple[KeepOut, ...] = (), **of_ground: object) -> ClothAsked:
    """One cloth with one ground over all of it."""
    return ClothAsked("swatch", "Swatch", outline, (ground(outline, **of_ground),), keep_outs)


def flaw(outline: Ring = FLAW, **more: object) -> KeepOut:
    """A stain off the middle."""
    return KeepOut("stain", "stain", Region.of(outline), **more)  # type: ignore[arg-type] # tests give fields by name


def printed(lattice: Lattice = SHEARED, to_cloth: Affine = LAID, **more: object) -> dict[str, object]:
    """The fields of a ground that carries a print."""
    return {"print_id": "birds", "lattice_mm": lattice.mapped(to_cloth), "print_to_cloth": to_cloth, **more}


def at(piece_id: str, x: float, y: float, turn_deg: float = 0.0, on: str = "swatch") -> Placed:
    """Where a piece's anchor lies."""
    return Placed(piece_id, on, x, y, turn_deg)


def judged(pieces: list[PieceAsked], placed: list[Placed], on: ClothAsked | None = None, **more: object) -> Report:
    question = Question(tuple(pieces), (on or cloth(),), **more)  # type: ignore[arg-type] # fields by name
    return Judge(question).report(placed)


def only(report: Report) -> Breach:
    assert len(report.breaches) == 1, report.breaches
    assert report.verdict == "not valid"
    return report.breaches[0]
