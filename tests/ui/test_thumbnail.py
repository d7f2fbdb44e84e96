"""A project seen small: cloth, print and pieces where they lie; whatever cannot be read is done without."""

from __future__ import annotations

import io
import threading
from dataclasses import replace

import pytest
from PIL import Image
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from coverlayout.book.book import Book, OwnPiece, TurnIns, Volume
from coverlayout.cloth.cloth import Cloth
from coverlayout.document.project import Layout, Preferences, Project
from coverlayout.document.session import Pictures
from coverlayout.layout.question import Placed
from coverlayout.motif.lattice import Lattice
from coverlayout.motif.prints import LaidPrint, PictureRef, Print
from coverlayout.ui.seeing.thumbnail import png_of, small_image
from coverlayout.ui.theme import DARK, LIGHT

SIZE = QSize(212, 112)


def red() -> bytes:
    kept = io.BytesIO()
    Image.new("RGB", (64, 64), (200, 30, 30)).save(kept, "PNG")
    return kept.getvalue()


PICTURES = Pictures().with_picture(red())
HERONS = Print(
    "print-1",
    "Herons",
    Lattice((64.0, 0.0), (0.0, 64.0)),
    picture=PictureRef(Pictures.hash_of(red()), "png", "herons.png", 64, 64),
    tile_mm=(64.0, 64.0),
)
# 200 x 100 mm of cloth in 200 x 100 px: a millimetre is a pixel, and the cloth begins 6 px from the edge.
JOB = Project(
    prints=(HERONS,),
    cloths=(Cloth("cloth-1", "Cloth", 200.0, 100.0, laid=LaidPrint("print-1")),),
    own_pieces=(OwnPiece("own-1", "Tag", 40.0, 60.0, ids=("tag-1",)),),
    layouts=(Layout("layout-1", "Layout 1", (Placed("tag-1", "cloth-1", 40.0, 50.0),)),),
)


def seen(image: QImage, x_mm: float, y_mm: float) -> QColor:
    ratio = image.devicePixelRatio()
    return QColor(image.pixel(round((6 + x_mm) * ratio), round((6 + y_mm) * ratio)))


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("pixel_ratio", [1.0, 2.0])
def test_the_print_is_bright_on_the_piece_and_veiled_beside_it(pixel_ratio: float) -> None:
    image = small_image(JOB, PICTURES, SIZE, LIGHT, pixel_ratio)
    assert image.size() == SIZE * pixel_ratio
    assert seen(image, 40, 50).getRgb()[:3] == (200, 30, 30), "the middle of the piece"
    beside = seen(image, 120, 50)
    assert beside.red() > 200
    assert beside.green() > 100
    assert seen(image, -4, -4) == QColor(LIGHT.canvas)


@pytest.mark.usefixtures("qapp")
def test_a_cover_is_bright_on_both_boards_and_pale_where_it_is_turned_in() -> None:
    # Boards 56.5 x 76, between them 6 + 4 - 0.5 and two joints of 10; turn-ins of 5: 152.5 x 86 about its middle.
    case = Book(
        "book-1", "Log", "flat-case", page_mm=(60.0, 70.0), liners="none", turn_ins=TurnIns.all_round(5.0),
        volumes=(Volume(1, 6.0),),
    )  # fmt: skip
    lying = Layout("layout-1", "Layout 1", (Placed("cover-1", "cloth-1", 130.0, 50.0),))
    image = small_image(replace(JOB, own_pieces=(), books=(case,), layouts=(lying,)), PICTURES, SIZE, LIGHT)
    back_mm = 130.0 - 56.5 - 29.5
    for middle_mm in (130.0, (130.0 + back_mm) / 2, back_mm):
        assert seen(image, middle_mm, 50).getRgb()[:3] == (200, 30, 30)
        assert seen(image, middle_mm, 50.0 + 38.0 + 2.5).green() > 60, "under the tail's turn-in"


@pytest.mark.usefixtures("qapp")
def test_from_the_back_it_is_mirrored_and_in_the_dark_dark() -> None:
    back = replace(JOB, preferences=Preferences(side="back"))
    image = small_image(back, PICTURES, SIZE, DARK)
    assert seen(image, 160, 50).getRgb()[:3] == (200, 30, 30)
    assert seen(image, 40, 50).getRgb()[:3] != (200, 30, 30)
    assert seen(image, -4, -4) == QColor(DARK.canvas)


@pytest.mark.usefixtures("qapp")
def test_a_picture_that_is_missing_or_damaged_gives_a_plain_print() -> None:
    damaged = Pictures({Pictures.hash_of(red()): b"no picture"})
    for pictures in (Pictures(), damaged):
        colour = seen(small_image(JOB, pictures, SIZE, LIGHT), 40, 50)
        assert min(colour.getRgb()[:3]) > 120


@pytest.mark.usefixtures("qapp")
def test_a_project_without_cloth_is_the_bare_table_and_waiting_pieces_are_left_out() -> None:
    bare = small_image(replace(JOB, cloths=(), layouts=Project().layouts), PICTURES, SIZE, LIGHT)
    assert {bare.pixel(x, y) for x in range(0, 212, 7) for y in range(0, 112, 7)} == {QColor(LIGHT.canvas).rgb()}
    waiting = small_image(replace(JOB, layouts=Project().layouts), PICTURES, SIZE, LIGHT)
    assert seen(waiting, 40, 50) == seen(waiting, 120, 50)


def test_it_is_drawn_on_any_thread_and_comes_as_an_image_or_a_file(qtbot: QtBot) -> None:
    made: list[bytes] = []
    thread = threading.Thread(target=lambda: made.append(png_of(JOB, PICTURES, SIZE, LIGHT)))
    thread.start()
    thread.join(10.0)
    with Image.open(io.BytesIO(made[0])) as picture:
        assert (picture.format, picture.size) == ("PNG", (424, 224))
        assert picture.convert("RGB").getpixel((92, 112)) == (200, 30, 30)
    assert small_image(JOB, PICTURES, SIZE, LIGHT, 2.0).deviceIndependentSize().toSize() == SIZE
