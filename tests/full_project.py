"""A project in which every field of every record says something else than its default; our own invention throughout."""

from __future__ import annotations

from coverlayout.book.book import (
    Book,
    Label,
    OwnPiece,
    Paper,
    PartOfBook,
    Sewing,
    Source,
    ThreadColour,
    TurnIns,
    Volume,
)
from coverlayout.cloth.cloth import BaseLine, Change, Cloth, Flaw, Zone
from coverlayout.document.project import (
    CutPiece,
    JobRules,
    Layout,
    LinkWish,
    LockWish,
    Preferences,
    Price,
    Project,
    Stock,
    TileMark,
)
from coverlayout.document.storage.pictures import Pictures
from coverlayout.geometry.shapes import Box, rectangle
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, PictureRef, Print
from coverlayout.units import LengthStyle

# No program reads these as a picture; a project keeps bytes and asks nothing of them.
PICTURE = bytes(range(256)) * 3
PICTURES = Pictures().with_picture(PICTURE)
HASH = Pictures.hash_of(PICTURE)
KEPT = (("glue", '{"kind": "paste", "days": [1, 2.50]}'),)

HERONS = Print(
    "print-1",
    "Herons",
    Lattice((64.0, 48.0), (0.0, 96.0)),
    "half-drop",
    drop_parts=3,
    up="two-way",
    picture=PictureRef(HASH, "png", "herons, ink.png", 640, 960, unknown=KEPT),
    tile_mm=(64.0, 96.0),
    size_from="percent",
    alike_about_mm=(7.0, 11.0),
    unknown=KEPT,
)
STRIPE = Print("print-2", "Ticking", Lattice((0.0, 7.5)))
LAID = LaidPrint(
    "print-1",
    origin_mm=(12.0, 5.5),
    turn_deg=2.0,
    stretch_across_percent=-1.0,
    stretch_along_percent=0.5,
    skew_percent=0.25,
    origin_known=False,
    changes_in=1,
    unknown=KEPT,
)
CLOTH = Cloth(
    "cloth-1",
    "Crooked leftover",
    420.0,
    380.0,
    state="to-order",
    outline_mm=((0.0, 0.0), (420.0, 11.0), (405.0, 380.0), (7.0, 360.0)),
    outline_changes_in=1,
    trim_mm=3.0,
    selvedge_left_mm=10.0,
    selvedge_right_mm=8.0,
    web_short_mm=2.5,
    backing="web and tissue",
    doubt_percent=1.5,
    changes=(Change("washing", -3.0, -2.0, unknown=KEPT), Change("bonding", -1.5, -1.0)),
    flaws=(
        Flaw("flaw-1", "tea", ((70.0, 30.0), (95.0, 36.0), (80.0, 55.0)), fine_where_hidden=True, unknown=KEPT),
        Flaw("flaw-2", "crease", ((0.0, 200.0), (420.0, 190.0)), line_width_mm=4.0, changes_in=1, gone=True),
    ),
    zones=(Zone("zone-1", "upper half", rectangle(400.0, 180.0), laid=LAID, changes_in=2, unknown=KEPT),),
    laid=LaidPrint("print-2"),
    cut_name="half yard, 44in",
    price=6.5,
    base_line=BaseLine((30.0, 40.0), (350.0, 52.0), repeats=(4, 1), measured_from=True, changes_in=1, unknown=KEPT),
    unknown=KEPT,
)
SOURCE = Source("print-1", "cloth-1", "zone-1")
PAD = Paper(
    (230.6, 308.8),
    sheet_name="pad",
    grain="long",
    thickness_mm=0.12,
    sheets=16,
    cut=(2, 1),
    spine_along="shorter",
    per_section=4,
    trim_head_mm=0.5,
    trim_tail_mm=1.5,
    trim_fore_edge_mm=1.0,
    swell_mm=0.3,
    price=0.25,
    unknown=KEPT,
)
QUARTO = Paper((320.0, 450.0), gsm=90.0, bulk=1.4, pages=120, folds=2)
TITLE = Label(
    60.0,
    25.0,
    kind="window",
    material="paper",
    from_head_mm=30.0,
    from_spine_mm=20.0,
    margin_mm=4.0,
    turns="none",
    source=SOURCE,
    unknown=KEPT,
)
CHAIN = Sewing(
    rule="own",
    count=3,
    end_mm=20.0,
    pair_mm=12.0,
    own_mm=(25.0, 76.0, 127.0),
    hole_from_spine_mm=8.0,
    thread_rule="sections and a tail",
    tail_mm=200.0,
    colours=(ThreadColour("rust", 5, 0.1, unknown=KEPT), ThreadColour("teal", 3)),
    unknown=KEPT,
)
LEDGER = Book(
    "book-1",
    "Ledger",
    structure="rounded-case",
    block_mm=(114.3, 152.4, 18.0),
    board_thickness_mm=2.5,
    board_setback_mm=3.5,
    square_mm=3.0,
    tail_square_mm=2.5,
    joint_mm=7.0,
    spine_piece="strip",
    spine_width_mm=13.5,
    spine_allowance_mm=-0.5,
    spine_rise_mm=4.0,
    spine_lining="hollow tube",
    turn_ins=TurnIns(14.0, 16.0, 13.0, 17.0),
    liners="paper",
    liner_inset_mm=2.0,
    opens="right",
    cover_turns="none",
    liner_turns="quarter",
    cover_source=SOURCE,
    liner_source=Source(print_id="print-2"),
    endpapers="none",
    label=TITLE,
    paper=PAD,
    sewing=CHAIN,
    volumes=(Volume(4, 12.0, unknown=KEPT), Volume(6)),
    next_volume_number=7,
    mitre_distance_mm=4.5,
    unknown=KEPT,
)
POCKETBOOK = Book("book-2", "Pocketbook", page_mm=(100.0, 140.0), volumes=(Volume(1),))
SLIM = Book("book-3", "Slim", board_mm=(80.0, 120.0), volumes=(Volume(2),))
LIST = Book(
    "book-4",
    "List",
    structure="parts",
    board_ratio=(3.0, 4.0),
    volumes=(Volume(3),),
    parts=(PartOfBook("spine", 2, 15.0, "half", width_mm=40.0, unknown=KEPT),),
)
HALF = Book(
    "book-5",
    "Half",
    structure="half-case",
    page_mm=(160.0, 225.0),
    spine_on_board_mm=40.0,
    corner_leg_mm=30.0,
    side_lap_mm=4.0,
    sides="paper",
    side_turns="half",
    side_source=Source(print_id="print-2"),
    paper=QUARTO,
    volumes=(Volume(9),),
)
PIERCED = Book("book-6", "Pierced", "side-sewn", page_mm=(150.0, 100.0), hinge_mm=18.0, volumes=(Volume(10),))
LIMP = Book(
    "book-7",
    "Limp",
    "limp-wrap",
    block_mm=(105.0, 148.0, 3.0),
    fore_edge_flap_mm=45.0,
    turned_in_flap_mm=35.0,
    volumes=(Volume(11),),
)
SLIP = Book(
    "book-8",
    "Slipcase",
    "slipcase",
    block_mm=(130.0, 203.0, 22.0),
    slipcase_of="one scored board",
    slipcase_clearance_mm=4.0,
    volumes=(Volume(12),),
)
# What books were before they knew paper, labels, sewing and every structure.
FIRST_BOOKS = (LEDGER, POCKETBOOK, SLIM, LIST)
POCKET = OwnPiece(
    "own-1",
    "pocket",
    width_mm=60.0,
    height_mm=100.0,
    outline_mm=((0.0, 0.0), (20.0, 0.0), (20.0, 75.0), (60.0, 75.0), (60.0, 100.0), (0.0, 100.0)),
    count=2,
    turns="free",
    source=SOURCE,
    reference_mm=(10.0, 80.0),
    seen_mm=rectangle(15.0, 60.0, 2.0, 5.0),
    ids=("p-a", "p-b"),
    unknown=KEPT,
)
SPOILED = CutPiece(
    "front-1",
    "front cover",
    "spoiled",
    rectangle(130.0, 170.0),
    (65.0, 85.0),
    Placed("front-1", "cloth-1", 200.0, 150.0, 90.0),
    seen_mm=rectangle(100.0, 140.0, 15.0, 15.0),
    board=Box(15.0, 15.0, 100.0, 140.0),
    unknown=KEPT,
)
FULL = Project(
    name="Six ledgers",
    prints=(HERONS, STRIPE),
    cloths=(CLOTH,),
    books=(*FIRST_BOOKS, HALF, PIERCED, LIMP, SLIP),
    own_pieces=(POCKET,),
    marks=(TileMark("eye", "print-1", (25.0, 43.0), unknown=KEPT),),
    locks=(
        LockWish("wish-1", "front-1", (25.0, 43.0), (65.0, 85.0), must=False, sentence="eye on front", unknown=KEPT),
    ),
    links=(
        LinkWish(
            "wish-2",
            ("front-1", "back-1"),
            ((-154.5, 0.0),),
            must=False,
            sentence="the back runs on from the front",
            unknown=KEPT,
        ),
    ),
    cut_pieces=(SPOILED,),
    layouts=(
        Layout("layout-1", "Layout 1"),
        Layout("layout-2", "On the slant", (Placed("p-a", "cloth-1", 40.0, 60.0, 12.5, unknown=KEPT),), ("p-a",), KEPT),
    ),
    layout_id="layout-2",
    prices=(Price("half yard, 44in", 6.5, unknown=KEPT),),
    stocks=(Stock("stock-1", "grey board", "board", 700.0, 1000.0, 2.5, grain="long", price=4.2, unknown=KEPT),),
    rules=JobRules(gap_mm=1.0, spare_wish_mm=8.0, objective="least length", unknown=KEPT),
    preferences=Preferences(LengthStyle("in", 0.1, 16), currency="EUR", side="back", unknown=KEPT),
    next_number=9,
    next_volume_number=13,
    unknown=KEPT,
)
