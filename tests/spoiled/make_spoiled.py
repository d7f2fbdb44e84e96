"""Makes the small broken files beside it, each named for what is wrong with it. `python tests/spoiled/make_spoiled.py`.

A bug report with a file adds a file here; the test that opens them all finds it by itself.
"""

from __future__ import annotations

import hashlib
import io
import struct
import zipfile
from pathlib import Path

HERE = Path(__file__).parent
PLAIN = b'{"format": 1, "name": "Herons"}'
PICTURE = b"no picture, but the project does not ask"
MEMBER = f"pictures/{hashlib.sha256(PICTURE).hexdigest()}.png"


def zipped(*members: tuple[str, bytes], compression: int = zipfile.ZIP_STORED) -> bytes:
    """A zip with these members, the same bytes every time."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in members:
            archive.writestr(zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0)), data, compression)
    return file.getvalue()


def project(text: bytes) -> bytes:
    """A project file with that text."""
    return zipped(("project.json", text), compression=zipfile.ZIP_DEFLATED)


def with_size(data: bytes, size: int) -> bytes:
    """The first member's size in the directory overwritten (APPNOTE 4.3.12, offset 24)."""
    start = data.index(b"PK\x01\x02") + 24
    return data[:start] + struct.pack("<L", size) + data[start + 4 :]


def with_members(data: bytes, number: int) -> bytes:
    """The number of members in the end record overwritten (APPNOTE 4.3.16, offsets 8 and 10)."""
    start = data.index(b"PK\x05\x06") + 8
    return data[:start] + struct.pack("<HH", number, number) + data[start + 4 :]


def spoiled() -> dict[str, bytes]:
    """Every broken file by its name."""
    whole = zipped((MEMBER, PICTURE), ("project.json", PLAIN))
    flat = b'{"format": 1, "cloths": [{"id": "c", "name": "c", "width_mm": %s, "length_mm": 300}]}'
    return {
        "empty": b"",
        "not_a_zip": b"Herons on indigo, half-drop, 64 x 96 mm\n",
        "cut_short": whole[: len(whole) * 2 // 3],
        "one_byte_short": whole[:-1],
        "wrong_checksum": whole.replace(PICTURE, PICTURE.replace(b"ask", b"asK")),
        "wrong_hash": zipped((MEMBER, PICTURE[:-1]), ("project.json", PLAIN)),
        "another_zip": zipped(("mimetype", b"application/other"), ("content.xml", b"<a/>")),
        "no_project": zipped((MEMBER, PICTURE)),
        "climbs_out": zipped(("../../climbs_out.txt", b"out"), ("project.json", PLAIN)),
        "absolute_path": zipped(("/absolute.txt", b"out"), ("project.json", PLAIN)),
        "strange_part": zipped(("run.py", b"raise SystemExit"), ("project.json", PLAIN)),
        "huge_claim": with_size(whole, 3 << 30),
        "unpacks_huge": project(b'{"format": 1, "name": "' + b"0" * 8_000_000 + b'"}'),
        "many_parts": with_members(whole, 60_000),
        "deep_nesting": project(b'{"format": 1, "later": ' + b"[" * 100_000 + b"]" * 100_000 + b"}"),
        "too_new": project(b'{"format": 99, "name": "Herons"}'),
        "no_format": project(b'{"name": "Herons"}'),
        "no_json": project(b"name: Herons"),
        "not_a_number": project(flat % b"NaN"),
        "infinite": project(flat % b"1e999"),
        "no_width": project(flat % b"0"),
        "absurd_width": project(flat % b"1e9"),
        "wrong_kind": project(flat % b'"wide"'),
        "no_such_layout": project(b'{"format": 1, "layout_id": "layout-9"}'),
        "no_such_picture": project(
            b'{"format": 1, "prints": [{"id": "p", "name": "p", "lattice": {"a_mm": [9, 0]}, "picture": {"sha256": "'
            + b"0" * 64
            + b'", "extension": "png", "name": "herons.png", "width_px": 9, "height_px": 9}}]}'
        ),
    }


if __name__ == "__main__":
    for name, data in spoiled().items():
        (HERE / f"{name}.coverlayout").write_bytes(data)
