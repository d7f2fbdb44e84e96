"""The archive that a project file is: a zip with `project.json` and `pictures/SHA256.EXT`, and nothing else.

Read within bounds and believed in nothing: names, sizes, sums and hashes are looked at before a byte is kept.
"""

from __future__ import annotations

import re
import struct
import zlib
from collections.abc import Iterable, Mapping
from typing import BinaryIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from coverlayout.document.storage.pictures import Pictures
from coverlayout.errors import BadInput

__all__ = ["MOST_PICTURE_BYTES", "PROJECT", "picture_member", "read_archive", "write_archive"]

PROJECT = "project.json"
MOST_PICTURE_BYTES = 1 << 30
_MOST_PROJECT_BYTES = 64 << 20
_MOST_FILE_BYTES = (1 << 32) - (64 << 20)
_MOST_MEMBERS = 2000
_MOST_DIRECTORY_BYTES = 1 << 20
# Deflate cannot go beyond 1032 to 1 (zlib's own figure); a project of many equal pieces stays far below 200.
_MOST_RATIO = 200
_RATIO_COUNTS_FROM_BYTES = 1 << 20
_PICTURE = re.compile(r"pictures/([0-9a-f]{64})\.[a-z0-9]{1,8}")
# The end record of a zip (APPNOTE 4.3.16): signature, disks, entries, size and place of the directory, comment length.
_END = struct.Struct("<4s4H2LH")
# Bytes must not depend on the clock: the first moment that a zip can tell.
_NO_DATE = (1980, 1, 1, 0, 0, 0)


def picture_member(name: str, extension: str) -> str:
    """The member that holds a picture of that hash; an extension that is no plain word becomes `bin`.

    >>> picture_member("ab" * 32, "PNG")[-8:]
    'abab.png'
    """
    plain = extension.lower().removeprefix(".")
    return f"pictures/{name}.{plain if re.fullmatch('[a-z0-9]{1,8}', plain) else 'bin'}"


def write_archive(file: BinaryIO, project_json: bytes, pictures: Mapping[str, bytes]) -> None:
    """Write a project file: `pictures` by member name. The same bytes for the same content.

    Pictures are stored as they are: they are compressed already, and saving stays fast. BadInput when it grows larger
    than could be read again.
    """
    sizes = [len(data) for data in pictures.values()]
    if max(sizes, default=0) > MOST_PICTURE_BYTES or len(project_json) > _MOST_PROJECT_BYTES:
        raise BadInput("project-too-large")
    if sum(sizes) + len(project_json) > _MOST_FILE_BYTES or len(sizes) >= _MOST_MEMBERS:
        raise BadInput("project-too-large")
    with ZipFile(file, "w", ZIP_STORED, allowZip64=False) as archive:
        for name, data in sorted(pictures.items()):
            archive.writestr(_member(name, ZIP_STORED), data)
        archive.writestr(_member(PROJECT, ZIP_DEFLATED), project_json)


def _member(name: str, compression: int) -> ZipInfo:
    info = ZipInfo(name, _NO_DATE)
    info.compress_type = compression
    info.create_system = 3
    info.external_attr = 0o100644 << 16
    return info


def read_archive(file: BinaryIO, where: str, *, trust_hashes: bool = False) -> tuple[bytes, Pictures]:
    """What a project file holds: the text of `project.json`, and the pictures. `where` names it in the sentence.

    BadInput: not a zip, cut short, a checksum or hash that is wrong, a member that does not belong there or whose name
    climbs out, more or larger members than a project has. With `trust_hashes` pictures are only held against the
    checksum of the zip, which is four times as fast.
    """
    size = file.seek(0, 2)
    _check_end(file, size, where)
    try:
        with ZipFile(file) as archive:
            members = archive.infolist()
            _check_members(members, size, where)
            parts = {member.filename: archive.read(member) for member in members}
    except (BadZipFile, EOFError, zlib.error, struct.error, NotImplementedError, ValueError) as fault:
        raise BadInput("file-damaged", file=where) from fault
    project_json = parts.pop(PROJECT, None)
    if project_json is None:
        raise BadInput("file-not-ours", file=where)
    return project_json, _checked_pictures(parts, where, trust_hashes)


def _check_end(file: BinaryIO, size: int, where: str) -> None:
    """The end record tells how much there is to come, before anything of it is read."""
    if size > _MOST_FILE_BYTES + _MOST_DIRECTORY_BYTES:
        raise BadInput("file-too-large", file=where)
    file.seek(0)
    if file.read(4) != b"PK\x03\x04":
        raise BadInput("file-not-ours", file=where)
    file.seek(max(size - _END.size, 0))
    end = file.read(_END.size)
    if len(end) < _END.size or not end.startswith(b"PK\x05\x06"):
        raise BadInput("file-damaged", file=where)
    _, _, _, _, entries, directory_bytes, _, comment_bytes = _END.unpack(end)
    if entries > _MOST_MEMBERS or directory_bytes > _MOST_DIRECTORY_BYTES:
        raise BadInput("file-too-large", file=where)
    if comment_bytes:
        raise BadInput("file-damaged", file=where)
    file.seek(0)


def _check_members(members: Iterable[ZipInfo], size: int, where: str) -> None:
    """Every member is one that a project has, once, in the clear, and no larger than it may be."""
    seen: set[str] = set()
    stored = 0
    for member in members:
        if member.filename != PROJECT and not _PICTURE.fullmatch(member.filename):
            raise BadInput("file-strange-part", file=where, part=_shown(member.filename))
        if member.filename in seen or member.flag_bits & 1:
            raise BadInput("file-damaged", file=where)
        seen.add(member.filename)
        stored += member.compress_size
        _check_size(member, where)
    # Members that lie over each other would let a small file claim to hold much.
    if stored > size:
        raise BadInput("file-damaged", file=where)


def _check_size(member: ZipInfo, where: str) -> None:
    is_project = member.filename == PROJECT
    if member.file_size > (_MOST_PROJECT_BYTES if is_project else MOST_PICTURE_BYTES):
        raise BadInput("file-too-large", file=where)
    if member.file_size > max(_RATIO_COUNTS_FROM_BYTES, member.compress_size * _MOST_RATIO):
        raise BadInput("file-too-large", file=where)
    if member.compress_type not in ((ZIP_STORED, ZIP_DEFLATED) if is_project else (ZIP_STORED,)):
        raise BadInput("file-damaged", file=where)


def _shown(name: str) -> str:
    """A member's name, printable and short enough for a sentence."""
    plain = "".join(letter if letter.isprintable() else "?" for letter in name)
    return plain if len(plain) <= 60 else plain[:57] + "..."


def _checked_pictures(parts: Mapping[str, bytes], where: str, trust_hashes: bool) -> Pictures:
    found: dict[str, bytes] = {}
    for member, data in parts.items():
        name = member.removeprefix("pictures/").partition(".")[0]
        if not trust_hashes and Pictures.hash_of(data) != name:
            raise BadInput("file-picture-damaged", file=where)
        found[name] = data
    return Pictures(found)
