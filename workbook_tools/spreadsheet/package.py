"""The file around a workbook: what it is, whether it can be used, its parts.

    open_package(path)    a Package, or Unusable with one sentence
    Package               the parts of a zip file, found whatever their case or slashes

A file is judged by its content, never by its ending. The limits hold for the bytes
that really come out of the zip, not only for those it declares.

Not here: what the parts mean (xlsx, ods).
"""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from types import TracebackType
from typing import BinaryIO, Self

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.not_a_workbook import (
    is_something_else,
    say_cut_short,
    say_protected,
    say_what_it_is,
)
from workbook_tools.spreadsheet.xml_stream import Node, read_tree

__all__ = ["MOST_PICTURE_BYTES", "MOST_XML_BYTES", "Package", "open_package"]

MOST_XML_BYTES = 300_000_000
MOST_PICTURE_BYTES = 200_000_000
MOST_PARTS = 50_000
CHUNK = 1 << 17

# Errors of the packings that zipfile knows only where this Python was built with them.
MORE_PACKINGS = (("lzma", "LZMAError"), ("zstd", "ZstdError"))

# What zipfile and zlib raise on damaged, encrypted or unknown content.
ZIP_ERRORS: tuple[type[Exception], ...] = (
    zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError, NotImplementedError,
    ValueError, OverflowError, IndexError, KeyError,
    *(vars(vars(zipfile)[module])[error] for module, error in MORE_PACKINGS if vars(zipfile).get(module)),
)  # fmt: skip


class Package:
    """An open zip file, with its parts by normalised name.

    Use it in a `with` block. `name` is the file's name, for sentences.
    """

    def __init__(self, path: Path, stream: BinaryIO) -> None:
        self.path = path
        self.name = path.name
        self._stream = stream
        self._unpacked = 0
        try:
            self._zip = zipfile.ZipFile(stream)
            entries = self._zip.infolist()
        except ZIP_ERRORS as error:
            raise Unusable(say_cut_short(self.name)) from error
        if len(entries) > MOST_PARTS:
            raise Unusable(
                f"{self.name} holds {len(entries)} parts, more than any workbook has: pick another file."
            )
        self.parts: dict[str, zipfile.ZipInfo] = {}
        for entry in entries:
            if not entry.is_dir():
                self.parts[_normal(entry.filename)] = entry
        self._by_last_name: dict[str, list[str]] = {}
        for part in self.parts:
            self._by_last_name.setdefault(part.rpartition("/")[2], []).append(part)
        declared = sum(e.file_size for n, e in self.parts.items() if n.endswith((".xml", ".rels", ".vml")))
        if declared > MOST_XML_BYTES:
            raise self.too_large()

    def __enter__(self) -> Self:
        """Give the package itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close the file."""
        self._zip.close()
        self._stream.close()

    def find(self, name: str) -> str | None:
        """Normalised name of a part, also when the whole tree sits in a folder of its own."""
        wanted = _normal(name)
        if wanted in self.parts:
            return wanted
        alike = self._by_last_name.get(wanted.rpartition("/")[2], ())
        ends = [part for part in alike if part.endswith("/" + wanted)]
        return ends[0] if len(ends) == 1 else None

    def chunks(self, part: str, most: int = MOST_XML_BYTES) -> Iterator[bytes]:
        """Bytes of a part, piece by piece, counted against the limit for the whole file."""
        try:
            with self._zip.open(self.parts[part]) as stream:
                while piece := stream.read(CHUNK):
                    self._unpacked += len(piece)
                    if self._unpacked > most:
                        raise self.too_large()
                    yield piece
        except ZIP_ERRORS as error:
            if self.parts[part].flag_bits & 0x1:
                raise Unusable(say_protected(self.name)) from error
            raise Unusable(
                f"{self.name} is damaged (its part {self.parts[part].filename} cannot be unpacked): "
                "get a fresh copy of the file and try again."
            ) from error

    def bytes_of(self, part: str, most: int) -> bytes:
        """All bytes of a part."""
        return b"".join(self.chunks(part, most))

    def tree(self, part: str) -> tuple[Node, list[str]]:
        """Elements of a small part, and what broke in it."""
        return read_tree(self.chunks(part))

    def without_sheets(self) -> Unusable:
        """Sentence for a workbook that lists no sheet and holds none."""
        return Unusable(f"{self.name} holds no sheets: get a fresh copy of the file and try again.")

    def too_large(self) -> Unusable:
        """Sentence for a file over the limit."""
        return Unusable(
            f"{self.name} unpacks to more than {MOST_XML_BYTES // 1_000_000} MB of sheet data, "
            "too much for a survey: copy the filled sheets into a new workbook and try again."
        )


def _normal(name: str) -> str:
    """Part names compare without case, with forward slashes, from the root."""
    pieces: list[str] = []
    for piece in name.replace("\\", "/").lower().split("/"):
        if piece == "..":
            del pieces[-1:]
        elif piece not in ("", "."):
            pieces.append(piece)
    return "/".join(pieces)


def open_package(path: Path) -> Package:
    """Open a file that is a zip; say in one sentence what it is when it is none.

    Raises
    ------
    Unusable
        No such file, no permission, a folder, or content that is no zip.
    """
    name = path.name or str(path)
    try:
        if path.is_dir():
            raise Unusable(f"{name} is a folder: name the workbook inside it.")
        if not path.exists():
            raise Unusable(f"{name} was not found: check its name and its folder.")
        if not path.is_file():
            raise Unusable(f"{name} is no ordinary file: name a workbook.")
        stream = path.open("rb")
    except PermissionError as error:
        raise Unusable(
            f"{name} may not be read: close it in other programs, or ask for permission to read it."
        ) from error
    except (OSError, ValueError) as error:
        raise Unusable(f"{name} cannot be opened: check its name and its folder.") from error
    try:
        if is_something_else(stream.read(8)) or not zipfile.is_zipfile(stream):
            raise Unusable(say_what_it_is(name, stream))
        stream.seek(0)
        return Package(path, stream)
    except OSError as error:
        stream.close()
        raise Unusable(f"{name} cannot be read: copy it to this computer and try again.") from error
    except BaseException:
        stream.close()
        raise
