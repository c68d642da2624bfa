"""What a file is that cannot be read as a survey workbook, in one sentence.

    is_something_else(head)             a picture, an old .xls: certain from the first bytes
    say_what_it_is(name, stream)        for a file that is no zip
    say_cut_short, say_protected        for one that cannot be unpacked
    say_which_package(name, parts)      for a zip that is no .xlsx, .xlsm or .ods

Not here: damage inside a workbook. That is local and leaves the rest readable.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import BinaryIO

__all__ = [
    "is_something_else",
    "say_cut_short",
    "say_protected",
    "say_what_it_is",
    "say_which_package",
]

SAVE_AS = "open it in a spreadsheet program, save it as .xlsx and try again."
HEAD = 4096
MOST_SEARCHED = 64_000_000

OLD_BINARY = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"II*\0", b"MM\0*")


def is_something_else(head: bytes) -> bool:
    """Tell content that is no workbook even when a zip hides further back in it."""
    return head.startswith((OLD_BINARY, b"%PDF", *PICTURES))


def say_what_it_is(name: str, stream: BinaryIO) -> str:
    """Sentence for a file whose content is no zip."""
    stream.seek(0)
    head = stream.read(HEAD)
    if not head:
        return f"{name} is empty: get a fresh copy of the file and try again."
    if head.startswith(b"PK"):
        return say_cut_short(name)
    if head.startswith(OLD_BINARY):
        if ENCRYPTED in head + stream.read(MOST_SEARCHED):
            return say_protected(name)
        return f"{name} is an old .xls workbook: {SAVE_AS}"
    if head[:2] == b"\x09\x08" or head[:4] in (b"\x09\x02\x06\x00", b"\x09\x04\x06\x00"):
        return f"{name} is an old .xls workbook: {SAVE_AS}"
    if head.startswith(PICTURES) or head[4:8] == b"ftyp":
        return f"{name} is a picture, not a workbook: pick the survey workbook."
    if head.startswith(b"%PDF"):
        return f"{name} is a PDF document, not a workbook: pick the survey workbook."
    text = _as_text(head)
    if text is None:
        return (
            f"{name} is no workbook that can be read here: pick the .xlsx, .xlsm or .ods file of the survey."
        )
    return _say_which_text(name, text.lstrip("\ufeff \t\r\n").lower())


def say_cut_short(name: str) -> str:
    """Sentence for a zip file whose directory is missing or wrong."""
    return f"{name} is damaged or was cut short: get a fresh copy of the file and try again."


def say_protected(name: str) -> str:
    """Sentence for a file that nobody opens without its password."""
    return f"{name} is protected with a password: remove the password, save it and try again."


def _say_which_text(name: str, text: str) -> str:
    if text.startswith("<"):
        if "<html" in text or "<!doctype html" in text or "<table" in text:
            return f"{name} is a web page, not a workbook: {SAVE_AS}"
        if "office:document" in text or 'progid="excel.sheet"' in text or ":spreadsheet" in text:
            return f"{name} is a workbook saved as one flat XML file: {SAVE_AS}"
        return f"{name} is an XML file, not a workbook: pick the .xlsx, .xlsm or .ods file of the survey."
    return f"{name} is plain text, such as a .csv list, not a workbook: {SAVE_AS}"


def _as_text(head: bytes) -> str | None:
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return head.decode("utf-16", "replace")
    if b"\0" in head or sum(byte < 32 and byte not in b"\t\n\r\f" for byte in head) > len(head) // 50:
        return None
    return head.decode("utf-8", "replace")


def say_which_package(name: str, parts: Collection[str]) -> str:
    """Sentence for a zip that holds no readable workbook; part names are lower case."""
    if any(part.endswith("workbook.bin") for part in parts):
        return f"{name} is a binary .xlsb workbook: {SAVE_AS}"
    if any(part.endswith(".iwa") for part in parts) or "index.zip" in parts:
        return f"{name} is a Numbers spreadsheet: export it as .xlsx from Numbers and try again."
    if "content.xml" in parts or any(part.startswith(("word/", "ppt/")) for part in parts):
        return f"{name} is a text document or a presentation, not a workbook: pick the survey workbook."
    inside = sorted(part for part in parts if part.endswith((".xlsx", ".xlsm", ".ods")))
    if inside:
        return f"{name} is a zip folder that holds {inside[0]}: take the workbook out of it and name that."
    return f"{name} is a zip file that holds no workbook: pick the .xlsx, .xlsm or .ods file of the survey."
