"""Which flag mends a book that cannot be made, so that the sentence names what was typed and not a field inside."""

from __future__ import annotations

from coverlayout.app.flags import Given
from coverlayout.book.book import Structure
from coverlayout.errors import BadInput

__all__ = ["blamed"]

_SHEET = ("--paper", "--page", "--block")
# By what is wrong with the book as a whole: the flags that mend it, the likeliest first.
_BY_CODE: dict[str, tuple[str, ...]] = {
    "page-not-of-paper": ("--page", "--block"),
    "section-not-filled": ("--per-section", "--sheets"),
    "trim-leaves-nothing": ("--page-trim",),
    "trim-cuts-folds": ("--page-trim",),
    "spine-too-round": ("--spine-rise",),
    "setback-leaves-nothing": ("--board-setback",),
    "turn-in-too-wide": ("--turn-in",),
    "flap-too-wide": ("--turned-in-flap",),
    "joint-too-wide": ("--joint",),
    "spine-too-thin": ("--spine-width", "--spine-allowance"),
    "spine-nothing-left": ("--spine-allowance", "--spine-width"),
    "wrap-boards-too-thick": ("--volumes", "--block", "--board-thickness"),
    "hinge-too-wide": ("--hinge", "--joint"),
    "spine-on-board-too-wide": ("--spine-on-board",),
    "corner-too-long": ("--corner-leg", "--spine-on-board"),
    "lap-hides-spine": ("--spine-on-board", "--side-lap"),
    "lap-hides-corner": ("--corner-leg", "--spine-on-board", "--side-lap"),
    "slipcase-wall-bare": ("--turn-in", "--liner-inset"),
    "liner-nothing-left": ("--liner-inset",),
    "label-outside": ("--label",),
    "stations-odd": ("--stations",),
    "stations-none": ("--stations",),
    "station-off-page": ("--stations",),
    "station-twice": ("--stations",),
    "stations-no-room": ("--station-end", "--stations"),
    "colour-sections": ("--thread",),
    "colours-too-many-sections": ("--thread",),
}
# By the figure that lies out of range, as the sentence names it after the book or the paper; the first that fits.
_BY_FIGURE: dict[str, tuple[str, ...]] = {
    "board thickness": ("--board-thickness",),
    "board setback": ("--board-setback",),
    "square at the tail": ("--tail-square",),
    "tail square": ("--tail-square",),
    "square": ("--square",),
    "joint": ("--joint",),
    "spine allowance": ("--spine-allowance",),
    "spine on board": ("--spine-on-board",),
    "spine width": ("--spine-width",),
    "spine rise": ("--spine-rise",),
    "rise of the spine": ("--spine-rise",),
    "corner leg": ("--corner-leg",),
    "side lap": ("--side-lap",),
    "hinge": ("--hinge",),
    "fore-edge flap": ("--flap",),
    "turned-in flap": ("--turned-in-flap",),
    "slipcase clearance": ("--clearance",),
    "turn-in": ("--turn-in",),
    "liner inset": ("--liner-inset",),
    "label": ("--label",),
    "stations": ("--stations",),
    "station pair": ("--stations",),
    "station end": ("--station-end",),
    "hole from spine": ("--hole-distance",),
    "page": ("--page",),
    "board": ("--board-size",),
    "block": ("--block",),
    "thickness of volume": ("--volumes",),
    "books": ("--books", "--volumes"),
    "width of the sheet": _SHEET,
    "height of the sheet": _SHEET,
    "cut": ("--cut",),
    "folds": ("--folds",),
    "pieces in a section": ("--per-section",),
    "sheets": ("--sheets",),
    "pages": ("--pages",),
    "thickness of a sheet": ("--sheet-thickness",),
    "weight": ("--gsm", "--basis-weight"),
    "bulk": ("--bulk",),
    "trim": ("--page-trim",),
    "swell": ("--swell",),
}


def blamed(fault: BadInput, given: Given, structure: Structure) -> BadInput:
    """The same fault in terms of the flag that mends it: of those that would, the first given, else the likeliest."""
    if fault.code == "book-thickness-needed":
        return _without_thickness(given, structure)
    flags = _BY_CODE.get(fault.code) or _of_figure(str(fault.figures.get("where", "")))
    flag = given.first_of(flags) or flags[0]
    if flags is _SHEET and flag != "--paper":
        # The sheet was worked out from the page, so its size is none that was typed.
        return BadInput(fault.code, **{**fault.figures, "where": f"{flag}: the paper for it,"})
    for subject in ("where", "book"):
        if subject in fault.figures:
            return BadInput(fault.code, **{**fault.figures, subject: flag})
    return BadInput("flag-why", flag=flag, why=str(fault))


def _of_figure(where: str) -> tuple[str, ...]:
    name = where.partition(": ")[2]
    found = (flags for figure, flags in _BY_FIGURE.items() if name == figure or name.startswith(figure + " "))
    return next(found, ("--structure",))


def _without_thickness(given: Given, structure: Structure) -> BadInput:
    """Cloth goes round the spine and nothing tells how thick the block is: what is missing hangs on what is there."""
    if not given.has("--paper") and not given.has("--pages") and not given.has("--sheets"):
        flag = given.first_of(("--page", "--board-size")) or "--structure"
        mend = "--block 6x9x1in in its place" if flag == "--page" else "--volumes 12mm as well"
        return BadInput("thickness-needed", flag=flag, structure=structure, mend=mend)
    has_weight = any(given.has(flag) for flag in ("--sheet-thickness", "--gsm", "--basis-weight"))
    mend = "--sheets 16 or --pages 120 as well" if has_weight else "--sheet-thickness 0.12mm as well"
    flag = given.first_of(("--paper", "--sheets", "--pages")) or "--paper"
    return BadInput("thickness-needed", flag=flag, structure=structure, mend=mend)
