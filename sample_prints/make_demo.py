"""Makes the demo project of the salt works from the sample prints: `python sample_prints/make_demo.py`."""

from __future__ import annotations

from pathlib import Path

from coverlayout.book.book import Book, Source, TurnIns
from coverlayout.cloth.cloth import Change, Cloth, Flaw
from coverlayout.document.edits.books import add_book, set_copies
from coverlayout.document.edits.cloths import add_cloth
from coverlayout.document.edits.job import change_rules, rename_project
from coverlayout.document.edits.placements import accept
from coverlayout.document.edits.prints import add_print
from coverlayout.document.file import save
from coverlayout.document.questions import planned_pieces, question_for
from coverlayout.document.session import Session
from coverlayout.layout.lay import lay
from coverlayout.motif.prints import LaidPrint, Print, RepeatLayout, Up
from coverlayout.motif.repeat import lattice_of
from coverlayout.motif.tile import open_picture

HERE = Path(__file__).parent
DEMO = HERE / "salt-works.coverlayout"

PRINTS: tuple[tuple[str, str, RepeatLayout, Up, tuple[float, float]], ...] = (
    ("wader", "Wader", "half-drop", "one-way", (64.0, 96.0)),
    ("tide-line", "Tide line", "straight", "two-way", (48.0, 12.0)),
    ("grains", "Grains", "straight", "any", (36.0, 36.0)),
    ("wind-pump", "Wind pump", "straight", "any", (120.0, 120.0)),
    ("rake", "Rake", "brick", "two-way", (40.0, 20.0)),
)

# The leftover of a metre and a half: 140 cm between the selvedges, cut crooked for a lampshade at one corner.
LEFTOVER = ((0.0, 0.0), (1400.0, 0.0), (1400.0, 478.0), (1015.0, 462.0), (990.0, 735.0), (0.0, 720.0))
BRINE = ((0.0, 300.0), (70.0, 288.0), (128.0, 320.0), (142.0, 365.0), (96.0, 420.0), (0.0, 435.0))


def make(session: Session) -> None:
    """Fill an empty session with the five ledgers, the stained leftover and a remnant of the stripe."""
    session.do(rename_project("Five ledgers for the salt works"))
    for name, title, layout, up, tile_mm in PRINTS:
        data = (HERE / f"{name}.png").read_bytes()
        session.add_picture(data)
        ref = open_picture(data, f"{name}.png").ref
        lattice = lattice_of(layout, tile_mm)
        session.do(add_print(Print("", title, lattice, layout, up=up, picture=ref, tile_mm=tile_mm)))
    wader, stripe = (a_print.id for a_print in session.project.prints[:2])
    session.do(add_cloth(_leftover(wader)))
    session.do(add_cloth(_remnant(stripe)))
    session.do(add_book(_ledgers(wader, stripe)))
    session.do(set_copies(session.project.books[0].id, 5))
    session.do(change_rules(gap_mm=3.0))
    _lay_four(session)


def _lay_four(session: Session) -> None:
    """Lay the first four ledgers as the program would; the fifth waits beside the cloth to be dragged by hand."""
    fifth = {piece.id for piece in planned_pieces(session.project) if piece.volume == 5}
    answer = lay(question_for(session.project))
    session.do(accept(place for place in answer.placed if place.piece not in fifth))


def _leftover(wader: str) -> Cloth:
    return Cloth(
        "",
        "Wader leftover",
        1430.0,
        745.0,
        outline_mm=LEFTOVER,
        selvedge_left_mm=12.0,
        selvedge_right_mm=12.0,
        changes=(Change("washed", -2.0, -1.0),),
        outline_changes_in=1,
        flaws=(Flaw("flaw-1", "brine stain", BRINE, changes_in=1),),
        laid=LaidPrint(wader, origin_mm=(21.0, 34.0), changes_in=1),
    )


def _remnant(stripe: str) -> Cloth:
    return Cloth("", "Tide line remnant", 760.0, 440.0, trim_mm=5.0, laid=LaidPrint(stripe, (8.0, 0.0)))


def _ledgers(wader: str, stripe: str) -> Book:
    return Book(
        "",
        "Ledgers",
        page_mm=(148.0, 210.0),
        turn_ins=TurnIns.all_round(15.0),
        cover_source=Source(print_id=wader),
        liner_source=Source(print_id=stripe),
    )


def main() -> None:
    """Write the demo project beside the prints."""
    session = Session()
    make(session)
    DEMO.unlink(missing_ok=True)  # made anew, so that no copy of the old one is kept beside it
    save(DEMO, session.project, session.pictures)
    print(f"wrote {DEMO.name}")


if __name__ == "__main__":
    main()
