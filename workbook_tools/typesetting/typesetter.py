"""A document set in type: a PDF that a screen reader can read, with the same bytes for the same document.

    typeset(document, pictures, day, path)    writes the PDF; returns what is to be said about it

The texts go into one file of data, which the template `schedule.typ` shows and never runs. The fonts are
those of the typesetter and of the font package beside it, never those of the machine.

Not here: what the document says (content), how it looks (schedule.typ).
"""

from __future__ import annotations

import datetime
import json
import re
import tempfile
from collections.abc import Iterable
from dataclasses import asdict
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

from workbook_tools.rules.plain_english import listed
from workbook_tools.typesetting.characters import BOX, characters_of, on_paper
from workbook_tools.typesetting.model import Document

if TYPE_CHECKING:
    from typst import Compiler

__all__ = ["FAMILIES", "NO_TYPESETTER", "typeset"]

NO_TYPESETTER = (
    "No PDF was made: the library typst is not installed here (pip install typst). "
    "Print the workbook from any spreadsheet program."
)
NOT_SET = "No PDF was made: it could not be typeset. Print the workbook from any spreadsheet program."
NOT_ACCESSIBLE = (
    "The PDF could not be made so that a screen reader can read it: for that, hand over the workbook."
)

FAMILIES = ("IBM Plex Sans", "Libertinus Serif", "DejaVu Sans Mono", "New Computer Modern Math")
"""The first that has a character shows it; all but the first are the typesetter's own."""

_FONT_PACKAGE = "fontpkg_ibm_plex_sans"
_TEMPLATE, _DATA = "schedule.typ", "content.json"
_STANDARDS: list[Any] = ["ua-1", "a-2a"]
"""For screen readers, and for an archive."""
_MOST_NAMED = 8
_LINE = re.compile(r"\.typ:(\d+):")


def typeset(
    document: Document, pictures: Iterable[tuple[str, bytes]], day: datetime.date, path: Path
) -> tuple[str, ...]:
    """Set a document in type and write it as a PDF, where that is possible; return sentences for the terminal.

    Parameters
    ----------
    document : Document
        What is printed.
    pictures : iterable of (name, JPEG)
        The files that it names.
    day : date
        The day that the PDF says it was made on; the clock is not asked.
    path : Path
        The PDF to write.
    """
    try:
        import typst
    except ImportError:
        return (NO_TYPESETTER,)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as made:
        folder = Path(made)
        compiler = typst.Compiler(
            root=folder, font_paths=typst.Fonts(include_system_fonts=False, font_paths=_fonts())
        )
        content = asdict(document)
        missing = _without_a_shape(compiler, characters_of(content))
        said = [_not_shown(missing)] if missing else []
        data = {**on_paper(content, missing), "families": FAMILIES}
        (folder / _DATA).write_text(json.dumps(data), encoding="utf-8")
        template = resources.files("workbook_tools.typesetting").joinpath(_TEMPLATE)
        (folder / _TEMPLATE).write_text(template.read_text(encoding="utf-8"), encoding="utf-8")
        for name, picture in pictures:
            (folder / name).write_bytes(picture)
        moment = datetime.datetime.combine(day, datetime.time(), datetime.UTC)
        for standards in (_STANDARDS, []):
            try:
                # Written by the library itself: a hundred megabytes are not handed to and fro.
                compiler.compile(
                    folder / _TEMPLATE, path, format="pdf", pdf_standards=standards, timestamp=moment
                )
            except typst.TypstError:
                continue
            return tuple(said if standards else [*said, NOT_ACCESSIBLE])
    return (NOT_SET,)


def _fonts() -> list[Path]:
    """Return the folder of the font package, where it is installed."""
    try:
        return [Path(str(resources.files(_FONT_PACKAGE).joinpath("files")))]
    except ModuleNotFoundError:
        return []


def _without_a_shape(compiler: Compiler, characters: Iterable[str]) -> list[str]:
    """Return the characters that no font can show, as the typesetter itself says: each stands on a line of its own."""
    import typst

    asked = sorted(characters)
    families = ", ".join(f'"{name}"' for name in FAMILIES)
    first = f'#set document(title: "x"); #set text(lang: "en", font: ({families}))'
    lines = [first, *(f'#"\\u{{{ord(c):x}}}" #parbreak()' for c in asked)]
    try:
        compiler.compile("\n".join(lines).encode(), format="pdf", pdf_standards=_STANDARDS)
    except typst.TypstError as error:
        numbers = {int(number) - 2 for number in _LINE.findall(error.diagnostic)}
        return [asked[number] for number in sorted(numbers) if 0 <= number < len(asked)]
    return []


def _not_shown(missing: list[str]) -> str:
    few = missing[:_MOST_NAMED]
    named = listed(few) if len(few) == len(missing) else f"{', '.join(few)}, ..."
    if len(missing) == 1:
        return f"1 character cannot be shown in the PDF ({named}): {BOX} stands in its place. The workbook has it."
    return (
        f"{len(missing)} characters cannot be shown in the PDF ({named}): {BOX} stands in their place. "
        "The workbook has them."
    )
