"""Seeded damage to workbooks: what a bad stick, a bad program or a bad person does to a file.

    mutate(workbook, random)      one mutant, by one of the ways below
    way_of(number)                which way mutate takes for Random(number)
    MUTATIONS                     name -> function(bytes, random.Random) -> bytes
    rewritten(workbook, change)   the zip again, each part's bytes passed through `change`

Every function takes the bytes of a workbook (.xlsx, .xlsm or .ods) and a
random.Random, returns the bytes of another file, and gives the same for the same seed.
Half of the ways break the zip, where checksums catch them; the rest write a sound zip
around changed parts, which is what reaches the reader.
"""

from __future__ import annotations

import io
import lzma
import re
import zipfile
import zlib
from collections.abc import Callable
from random import Random

__all__ = ["MUTATIONS", "mutate", "rewritten", "way_of"]

Mutation = Callable[[bytes, Random], bytes]
Parts = list[tuple[str, bytes]]

# What zipfile raises for a file that is no sound zip any more.
DAMAGED = (
    *(zipfile.BadZipFile, zlib.error, lzma.LZMAError, OSError, EOFError),
    *(ValueError, NotImplementedError, RuntimeError, IndexError, OverflowError),
)

TAG = re.compile(rb"<[^<>]+>")
ATTRIBUTE = re.compile(rb'\s[\w:.-]+="[^"]*"')
ATTRIBUTE_VALUE = re.compile(rb'="([^"]*)"')
TEXT_BETWEEN = re.compile(rb">([^<>]+)<")
CELL = re.compile(
    rb"<(?:\w+:)?c [^>]*>.*?</(?:\w+:)?c>|<table:table-cell[^>]*>.*?</table:table-cell>", re.DOTALL
)
ROW = re.compile(rb"<(?:\w+:)?row[ >].*?</(?:\w+:)?row>|<table:table-row[ >].*?</table:table-row>", re.DOTALL)
NUMBER = re.compile(rb'(?<=")[0-9]+(?=")')

ODD_VALUES = (
    b"", b" ", b"NaN", b"INF", b"-1", b"0", b"1E400", b"999999999999999999999", b"abc", b"1_000", b"0x1F", b"true",
    b"XFD1048576", b"XFE1048577", b"A0", b"1A", b"$A$1", b"A1:B2", b"#SPILL!", b"Err:508", b"../../etc/x.xml",
    b"&#1;", b"&amp;", b"&lt;", b"&nope;", b"\xff\xfe", b"\xc3\x28", b"\xef\xbf\xbe", b"_x000D_", b"_xD83D_", b"_x0000_",
    "’½₂".encode(), "\U0001f50c".encode(), b"2026-13-45", b"PT99999999H", b"x" * 40_000, b"9" * 400,
)  # fmt: skip
ENCODINGS = ("utf-16", "utf-16-le", "utf-16-be", "utf-32", "latin-1", "cp037")


def mutate(workbook: bytes, random: Random) -> bytes:
    """One mutant of a workbook, by a way that the seed picks."""
    return MUTATIONS[_pick(random)](workbook, random)


def way_of(number: int) -> str:
    """Return the way by which this number's mutant of any workbook is made."""
    return _pick(Random(number))


def _pick(random: Random) -> str:
    return random.choice(sorted(MUTATIONS))


def rewritten(
    workbook: bytes, change: Callable[[Parts], Parts], compression: int = zipfile.ZIP_DEFLATED
) -> bytes:
    """Write the workbook again with changed parts; as it was when it is no zip."""
    try:
        with zipfile.ZipFile(io.BytesIO(workbook)) as archive:
            parts = [(entry.filename, archive.read(entry)) for entry in archive.infolist()]
    except DAMAGED:
        return workbook
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", compression) as archive:
        for name, content in change(parts):
            archive.writestr(_entry(name, compression), content)
    return written.getvalue()


def _entry(name: str, compression: int) -> zipfile.ZipInfo:
    """Zip entry with a fixed time, so that a mutant depends on its seed alone."""
    entry = zipfile.ZipInfo(name or "nameless", (2026, 11, 3, 9, 0, 0))
    entry.compress_type = compression
    return entry


def _in_one_part(
    workbook: bytes,
    random: Random,
    change: Callable[[bytes], bytes],
    ending: tuple[str, ...] = (".xml", ".rels"),
) -> bytes:
    """Change one part; sheets and the ods content twice as likely as the rest."""

    def changed(parts: Parts) -> Parts:
        choices = [index for index, (name, _) in enumerate(parts) if name.lower().endswith(ending)]
        choices += [
            index for index in choices if "sheet" in parts[index][0] or "content" in parts[index][0]
        ] * 2
        if not choices:
            return parts
        index = random.choice(choices)
        name, content = parts[index]
        return [*parts[:index], (name, change(content)), *parts[index + 1 :]]

    return rewritten(workbook, changed)


def _replace_one(
    found: list[re.Match[bytes]], content: bytes, random: Random, new: bytes, group: int = 0
) -> bytes:
    if not found:
        return content
    place = random.choice(found)
    return content[: place.start(group)] + new + content[place.end(group) :]


# --- the file and its zip


def flip_bits(workbook: bytes, random: Random) -> bytes:
    """Flip one to sixteen bits anywhere."""
    damaged = bytearray(workbook)
    for _ in range(random.randint(1, 16)):
        if damaged:
            damaged[random.randrange(len(damaged))] ^= 1 << random.randrange(8)
    return bytes(damaged)


def flip_directory_bits(workbook: bytes, random: Random) -> bytes:
    """Flip bits in the zip's directory, where names, sizes and places stand."""
    start = workbook.find(b"PK\x01\x02")
    if start < 0:
        return workbook
    damaged = bytearray(workbook)
    for _ in range(random.randint(1, 4)):
        damaged[random.randrange(start, len(damaged))] ^= 1 << random.randrange(8)
    return bytes(damaged)


def cut_off(workbook: bytes, random: Random) -> bytes:
    """Keep the beginning only."""
    return workbook[: random.randrange(len(workbook) + 1)]


def cut_out(workbook: bytes, random: Random) -> bytes:
    """Lose a stretch in the middle."""
    start = random.randrange(len(workbook) + 1)
    return workbook[:start] + workbook[start + random.randint(1, 2_000) :]


def zero_block(workbook: bytes, random: Random) -> bytes:
    """Zero a disk block."""
    start = random.randrange(len(workbook) + 1) // 512 * 512
    return workbook[:start] + bytes(len(workbook[start : start + 512])) + workbook[start + 512 :]


def junk_around(workbook: bytes, random: Random) -> bytes:
    """Put stray bytes before or behind the file, as mail programs do."""
    junk = random.randbytes(random.randint(1, 300))
    return junk + workbook if random.random() < 0.5 else workbook + junk


def swap_parts(workbook: bytes, random: Random) -> bytes:
    """Give two parts each other's content."""

    def changed(parts: Parts) -> Parts:
        if len(parts) < 2:
            return parts
        one, other = random.sample(range(len(parts)), 2)
        parts[one], parts[other] = (parts[one][0], parts[other][1]), (parts[other][0], parts[one][1])
        return parts

    return rewritten(workbook, changed)


def drop_part(workbook: bytes, random: Random) -> bytes:
    """Lose one part."""

    def changed(parts: Parts) -> Parts:
        lost = random.randrange(len(parts) or 1)
        return parts[:lost] + parts[lost + 1 :]

    return rewritten(workbook, changed)


def rename_part(workbook: bytes, random: Random) -> bytes:
    """Name a part otherwise: other case, backslashes, a folder, a stray ending."""
    renamings: list[Callable[[str], str]] = [
        str.upper, str.title, lambda name: name.replace("/", "\\"), lambda name: "/" + name,
        lambda name: "copy of/" + name, lambda name: name + ".bak", lambda name: "./" + name,
    ]  # fmt: skip
    rename = random.choice(renamings)
    every = random.random() < 0.5

    def changed(parts: Parts) -> Parts:
        chosen = random.randrange(len(parts) or 1)
        return [(rename(n) if every or i == chosen else n, content) for i, (n, content) in enumerate(parts)]

    return rewritten(workbook, changed)


def store_plainly(workbook: bytes, random: Random) -> bytes:
    """Pack the parts in another order and another way."""
    compression = random.choice([zipfile.ZIP_STORED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
    return rewritten(workbook, lambda parts: random.sample(parts, len(parts)), compression)


# --- the XML


def cut_xml(workbook: bytes, random: Random) -> bytes:
    """Break a part off, in a sound zip."""
    return _in_one_part(workbook, random, lambda content: content[: random.randrange(len(content) + 1)])


def flip_xml_bits(workbook: bytes, random: Random) -> bytes:
    """Flip bits of a part, in a sound zip."""
    return _in_one_part(workbook, random, lambda content: flip_bits(content, random))


def drop_tag(workbook: bytes, random: Random) -> bytes:
    """Lose one tag of a part."""
    return _in_one_part(workbook, random, lambda c: _replace_one(list(TAG.finditer(c)), c, random, b""))


def double_tag(workbook: bytes, random: Random) -> bytes:
    """Write one tag twice."""

    def change(content: bytes) -> bytes:
        tags = list(TAG.finditer(content))
        tag = random.choice(tags) if tags else None
        return content if tag is None else content[: tag.end()] + tag.group() + content[tag.end() :]

    return _in_one_part(workbook, random, change)


def drop_attribute(workbook: bytes, random: Random) -> bytes:
    """Lose one attribute."""
    return _in_one_part(workbook, random, lambda c: _replace_one(list(ATTRIBUTE.finditer(c)), c, random, b""))


def odd_attribute(workbook: bytes, random: Random) -> bytes:
    """Give one attribute an odd value."""
    odd = random.choice(ODD_VALUES)
    return _in_one_part(
        workbook, random, lambda c: _replace_one(list(ATTRIBUTE_VALUE.finditer(c)), c, random, odd, 1)
    )


def odd_text(workbook: bytes, random: Random) -> bytes:
    """Put an odd value where a text or a number stands."""
    odd = random.choice(ODD_VALUES)
    return _in_one_part(
        workbook, random, lambda c: _replace_one(list(TEXT_BETWEEN.finditer(c)), c, random, odd, 1)
    )


def other_encoding(workbook: bytes, random: Random) -> bytes:
    """Write a part in another encoding, said or not."""
    encoding = random.choice(ENCODINGS)

    def change(content: bytes) -> bytes:
        text = content.decode("utf-8", "replace")
        if random.random() < 0.5:
            text = text.replace("UTF-8", encoding, 1)
        return text.encode(encoding, "replace")

    return _in_one_part(workbook, random, change)


def doctype(workbook: bytes, random: Random) -> bytes:
    """Declare entities that grow, or that reach outside."""
    bomb = b'<!DOCTYPE z [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
    outside = b'<!DOCTYPE z [<!ENTITY a SYSTEM "file:///etc/hostname">]>'
    chosen = random.choice([bomb, outside])

    def change(content: bytes) -> bytes:
        end = content.find(b"?>") + 2 if content.startswith(b"<?xml") else 0
        return content[:end] + chosen + content[end:]

    return _in_one_part(workbook, random, change)


# --- cells and sizes


def shuffle_rows(workbook: bytes, random: Random) -> bytes:
    """Put two rows in each other's place."""
    return _in_one_part(
        workbook, random, lambda content: _exchange(content, list(ROW.finditer(content)), random)
    )


def shuffle_cells(workbook: bytes, random: Random) -> bytes:
    """Put two cells in each other's place."""
    return _in_one_part(
        workbook, random, lambda content: _exchange(content, list(CELL.finditer(content)), random)
    )


def _exchange(content: bytes, found: list[re.Match[bytes]], random: Random) -> bytes:
    if len(found) < 2:
        return content
    one, other = sorted(random.sample(found, 2), key=lambda match: match.start())
    between = content[one.end() : other.start()]
    return content[: one.start()] + other.group() + between + one.group() + content[other.end() :]


def double_cell(workbook: bytes, random: Random) -> bytes:
    """State a cell twice, or lose it."""
    again = random.random() < 0.5

    def change(content: bytes) -> bytes:
        found = list(CELL.finditer(content))
        chosen = random.choice(found) if found else None
        if chosen is None:
            return content
        return (
            content[: chosen.end() if again else chosen.start()]
            + content[chosen.start() if again else chosen.end() :]
        )

    return _in_one_part(workbook, random, change)


def odd_number(workbook: bytes, random: Random) -> bytes:
    """Give an index, a count or a place a number that is far off."""
    number = random.choice(
        [b"0", b"1", b"16384", b"16385", b"1048576", b"1048577", b"4294967296", b"99999999999999999"]
    )
    return _in_one_part(workbook, random, lambda c: _replace_one(list(NUMBER.finditer(c)), c, random, number))


def swell(workbook: bytes, random: Random) -> bytes:
    """Make a part large with what packs small: spaces, blank rows, empty elements."""
    filling = random.choice([b" ", b"<row/>", b"<si/>", b"<c/>", b"<table:table-row/>", b"<!-- -->"])
    times = random.choice([1_000, 20_000, 200_000])

    def change(content: bytes) -> bytes:
        tags = list(TAG.finditer(content))
        place = random.choice(tags).end() if tags else len(content)
        return content[:place] + filling * times + content[place:]

    return _in_one_part(workbook, random, change)


MUTATIONS: dict[str, Mutation] = {
    mutation.__name__: mutation
    for mutation in (
        flip_bits, flip_directory_bits, cut_off, cut_out, zero_block, junk_around,
        swap_parts, drop_part, rename_part, store_plainly,
        cut_xml, flip_xml_bits, drop_tag, double_tag, drop_attribute, odd_attribute, odd_text, other_encoding, doctype,
        shuffle_rows, shuffle_cells, double_cell, odd_number, swell,
    )
}  # fmt: skip
