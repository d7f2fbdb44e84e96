"""The pictures of a project: their bytes, exactly as given, by hash."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from hashlib import sha256

__all__ = ["Pictures"]


class Pictures(Mapping[str, bytes]):
    """Bytes of pictures by their SHA-256; never changed, only followed by another one.

    >>> pictures = Pictures().with_picture(b"a picture")
    >>> [(name[:8], data) for name, data in pictures.items()]
    [('92b2fa58', b'a picture')]
    """

    __slots__ = ("_data",)

    def __init__(self, data: Mapping[str, bytes] | None = None) -> None:
        """Take pictures whose hashes are known to be right; `with_picture` works a hash out."""
        self._data = dict(data or {})

    def __getitem__(self, name: str) -> bytes:
        """The bytes of that hash, KeyError when there are none."""
        return self._data[name]

    def __iter__(self) -> Iterator[str]:
        """The hashes, in the order the pictures came."""
        return iter(self._data)

    def __len__(self) -> int:
        """How many pictures there are."""
        return len(self._data)

    @staticmethod
    def hash_of(data: bytes) -> str:
        """The SHA-256 of the bytes, as 64 small hexadecimal digits."""
        return sha256(data).hexdigest()

    def with_picture(self, data: bytes) -> Pictures:
        """These pictures and one more; the same pictures when it is here already."""
        name = self.hash_of(data)
        return self if name in self._data else Pictures({**self._data, name: data})
