"""The archive: written the same every time, read within bounds and believed in nothing."""

from __future__ import annotations

import io
import struct
import zipfile
from collections.abc import Callable

import pytest
from full_project import HASH, PICTURE, PICTURES
from hypothesis import event, given
from hypothesis import strategies as st

from coverlayout.document.storage import archive as archive_module
from coverlayout.document.storage.archive import picture_member, read_archive, write_archive
from coverlayout.errors import BadInput

TEXT = b'{"format": 1, "name": "herons"}'
MEMBER = picture_member(HASH, "png")


def written(pictures: dict[str, bytes] | None = None, text: bytes = TEXT) -> bytes:
    file = io.BytesIO()
    write_archive(file, text, {MEMBER: PICTURE} if pictures is None else pictures)
    return file.getvalue()


def zipped(members: list[tuple[str, bytes]], compression: int = zipfile.ZIP_STORED) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", compression) as archive:
        for name, data in members:
            archive.writestr(name, data)
    return file.getvalue()


def code_of(data: bytes) -> str:
    with pytest.raises(BadInput) as caught:
        read_archive(io.BytesIO(data), "herons.coverlayout")
    assert "\n" not in str(caught.value)
    return caught.value.code


def patched(data: bytes, at_signature: bytes, offset: int, figure: bytes) -> bytes:
    """The archive with a figure of its directory or end record overwritten."""
    start = data.rindex(at_signature) + offset
    return data[:start] + figure + data[start + len(figure) :]


def test_what_is_written_is_read() -> None:
    text, pictures = read_archive(io.BytesIO(written()), "x")
    assert (text, pictures) == (TEXT, PICTURES)


def test_the_same_content_gives_the_same_bytes() -> None:
    other = picture_member("ab" * 32, "jpeg")
    both = {MEMBER: PICTURE, other: b"ink"}
    assert written(both) == written(dict(reversed(both.items())))


def test_another_program_reads_the_same() -> None:
    """Read by Python's zip tool, as any unzip would: pictures stored byte for byte, the text beside them."""
    with zipfile.ZipFile(io.BytesIO(written())) as archive:
        assert archive.testzip() is None
        assert archive.namelist() == [MEMBER, "project.json"]
        assert archive.getinfo(MEMBER).compress_type == zipfile.ZIP_STORED
        assert archive.getinfo(MEMBER).date_time == (1980, 1, 1, 0, 0, 0)
        assert archive.read(MEMBER) == PICTURE


def test_odd_extensions_become_plain() -> None:
    assert picture_member("ab", ".TIFF") == "pictures/ab.tiff"
    assert picture_member("ab", "../x") == picture_member("ab", "") == "pictures/ab.bin"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "file-not-ours"),
        (b"PK", "file-not-ours"),
        (b"a picture, no zip", "file-not-ours"),
        (b"PK\x03\x04", "file-damaged"),
        (written()[:-1], "file-damaged"),
        (written()[: len(written()) // 2], "file-damaged"),
        (zipped([("pictures/" + HASH + ".png", PICTURE)]), "file-not-ours"),
        (zipped([("project.json", TEXT), ("../climbs.txt", b"out")]), "file-strange-part"),
        (zipped([("project.json", TEXT), ("/etc/absolute", b"out")]), "file-strange-part"),
        (zipped([("project.json", TEXT), ("pictures/../x.png", b"out")]), "file-strange-part"),
        (zipped([("project.json", TEXT), ("pictures/" + HASH + ".png/", b"")]), "file-strange-part"),
        (zipped([("project.json", TEXT), ("x" * 300, b"")]), "file-strange-part"),
        (zipped([("project.json", TEXT), ("run.py", b"print()")]), "file-strange-part"),
        (zipped([("project.json", TEXT), ("pictures/" + "0" * 64 + ".png", PICTURE)]), "file-picture-damaged"),
        (zipped([("project.json", TEXT), (MEMBER, PICTURE)], zipfile.ZIP_DEFLATED), "file-damaged"),
        (zipped([("project.json", TEXT)], zipfile.ZIP_LZMA), "file-damaged"),
        (zipped([("project.json", b" " * 3_000_000)], zipfile.ZIP_DEFLATED), "file-too-large"),
        (zipped([(f"pictures/{k:064x}.png", b"") for k in range(2001)]), "file-too-large"),
    ],
)
def test_what_is_no_project_is_refused(data: bytes, code: str) -> None:
    assert code_of(data) == code


@pytest.mark.filterwarnings("ignore:Duplicate name")  # the odd archive is made on purpose
def test_a_member_twice_is_refused() -> None:
    assert code_of(zipped([("project.json", TEXT), ("project.json", TEXT)])) == "file-damaged"


HUGE = struct.pack("<L", 3 << 30)


@pytest.mark.parametrize(
    ("change", "code"),
    [
        # Places in the records: APPNOTE 4.3.12 (directory: flags 8, packed size 20, size 24) and 4.3.16 (end record).
        (lambda data: patched(data, b"PK\x01\x02", 24, HUGE), "file-too-large"),
        (lambda data: patched(data, b"PK\x01\x02", 20, HUGE), "file-damaged"),
        (lambda data: patched(data, b"PK\x01\x02", 8, b"\x01\x00"), "file-damaged"),
        (lambda data: patched(data, b"PK\x05\x06", 10, b"\xff\xff"), "file-too-large"),
        (lambda data: patched(data, b"PK\x05\x06", 12, HUGE), "file-too-large"),
        (lambda data: patched(data, b"PK\x05\x06", 16, HUGE), "file-damaged"),
        (lambda data: patched(data, b"PK\x05\x06", 20, b"\x05\x00"), "file-damaged"),
        (lambda data: data.replace(PICTURE, PICTURE[:-1] + b"!"), "file-damaged"),
        (lambda data: data + b"more", "file-damaged"),
    ],
)
def test_figures_that_lie_are_not_believed(change: Callable[[bytes], bytes], code: str) -> None:
    assert code_of(change(written())) == code


def test_members_over_each_other_are_refused() -> None:
    """Two entries of the directory that name the same bytes would let a small file hold much."""
    data = written()
    start, end = data.index(b"PK\x01\x02"), data.rindex(b"PK\x05\x06")
    directory = data[start:end]
    first = directory[: directory.index(b"PK\x01\x02", 4)]
    other = first.replace(HASH.encode(), b"0" * 64)
    twice = data[:start] + first + other + directory[len(first) :] + data[end:]
    for offset, figure in ((8, struct.pack("<HH", 3, 3)), (12, struct.pack("<L", len(directory) + len(first)))):
        twice = patched(twice, b"PK\x05\x06", offset, figure)
    assert code_of(twice) in ("file-damaged", "file-picture-damaged")


def test_a_file_larger_than_any_project_is_not_read() -> None:
    class Endless(io.BytesIO):
        def seek(self, offset: int, whence: int = 0) -> int:
            return 1 << 40

    with pytest.raises(BadInput) as caught:
        read_archive(Endless(), "x")
    assert caught.value.code == "file-too-large"


def test_trusted_hashes_still_leave_the_checksum() -> None:
    wrong = zipped([("pictures/" + "0" * 64 + ".png", PICTURE), ("project.json", TEXT)])
    assert read_archive(io.BytesIO(wrong), "x", trust_hashes=True)[1]["0" * 64] == PICTURE
    with pytest.raises(BadInput):
        read_archive(io.BytesIO(wrong.replace(PICTURE, PICTURE[:-1] + b"!")), "x", trust_hashes=True)


def test_what_could_not_be_read_again_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    for bound in ("MOST_PICTURE_BYTES", "_MOST_PROJECT_BYTES", "_MOST_FILE_BYTES", "_MOST_MEMBERS"):
        with monkeypatch.context() as patch:
            patch.setattr(archive_module, bound, 1)
            with pytest.raises(BadInput) as caught:
                written()
        assert caught.value.code == "project-too-large"


@given(st.data())
def test_a_changed_byte_is_seen_or_does_no_harm(data: st.DataObject) -> None:
    """Whatever byte flips: the file is refused in one sentence, or it still says the same."""
    whole = written()
    place = data.draw(st.integers(0, len(whole) - 1))
    changed = bytearray(whole)
    changed[place] ^= data.draw(st.integers(1, 255))
    try:
        found = read_archive(io.BytesIO(bytes(changed)), "x")
    except BadInput:
        event("refused")
    else:
        assert found == (TEXT, PICTURES)


@given(st.integers(0, len(written()) - 1))
def test_a_file_cut_short_anywhere_is_refused(length: int) -> None:
    with pytest.raises(BadInput):
        read_archive(io.BytesIO(written()[:length]), "x")
