"""CSV text as spreadsheet programs and databases save it, into texts by (row, column).

    read_csv(path)         the file as a Grid named after it
    decode(data, name)     bytes to text: UTF-8 with or without a mark, UTF-16, else Windows-1252

The delimiter is the one that parts the most rows into the same number of columns; a first
line "sep=;" decides it. Every field is text, as it stands in the file.
"""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from workbook_tools.errors import Unusable
from workbook_tools.survey.headings import Grid

__all__ = ["decode", "read_csv"]

_DELIMITERS = ",;\t|"
_MOST_BYTES = 64_000_000
_ROWS_TRIED = 60
_LONGEST_FIELD = 10_000_000

MOST_CHARACTERS = 32_767
"""What one cell of a workbook can hold (OI29500 and XLSXWRITER-DOC in sources.csv)."""


def read_csv(path: Path) -> Grid:
    r"""Read one CSV file.

    Raises
    ------
    Unusable
        It cannot be read, holds no text, or is no CSV.

    Examples
    --------
    >>> path = getfixture("tmp_path") / "panels.csv"
    >>> _ = path.write_bytes("\ufeffPanel;Amps\r\nLP-1;225\r\n".encode())
    >>> read_csv(path).texts
    {(1, 1): 'Panel', (1, 2): 'Amps', (2, 1): 'LP-1', (2, 2): '225'}
    """
    try:
        if path.stat().st_size > _MOST_BYTES:
            raise Unusable(f"{path.name} is over {_MOST_BYTES // 1_000_000} MB: fill from a smaller list.")
        data = path.read_bytes()
    except OSError as error:
        raise Unusable(
            f"{path.name} cannot be read ({error.strerror}): check the file and try again."
        ) from None
    text = decode(data, path.name)
    delimiter, text = _stated_delimiter(text)
    texts = {}
    try:
        for row, fields in enumerate(_rows(text, delimiter or _likely_delimiter(text)), 1):
            for column, field in enumerate(fields, 1):
                if len(field) > MOST_CHARACTERS:
                    raise Unusable(
                        f"{path.name} has a field of {len(field)} characters in row {row}; a cell of a workbook holds "
                        f"{MOST_CHARACTERS}: shorten it, or look for a quotation mark that is never closed."
                    )
                if field.strip():
                    texts[row, column] = field
    except csv.Error as error:
        raise Unusable(f"{path.name} cannot be read as CSV ({error}): save it as CSV again.") from None
    return Grid(path.stem, texts)


def decode(data: bytes, name: str) -> str:
    """Return the text of a file, whatever of the usual encodings it was saved in."""
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        encodings = ["utf-16"]
    else:
        encodings = ["utf-8-sig", "cp1252", "latin-1"]
    for encoding in encodings:
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" in text:
            break
        return text
    raise Unusable(f"{name} holds no text that can be read: save it as CSV (UTF-8) and try again.")


def _stated_delimiter(text: str) -> tuple[str, str]:
    first, _, rest = text.partition("\n")
    stated = first.strip().strip('"').casefold()
    if stated.startswith("sep=") and len(stated) <= 5:
        return first.strip().strip('"')[4:] or "\t", rest
    return "", text


def _likely_delimiter(text: str) -> str:
    def evenness(delimiter: str) -> tuple[int, int]:
        try:
            rows = [row for row, _ in zip(_rows(text, delimiter), range(_ROWS_TRIED), strict=False)]
        except csv.Error:
            return (0, 0)
        widths = Counter(len(row) for row in rows if len(row) > 1)
        width, often = max(widths.items(), key=lambda pair: (pair[1], pair[0]), default=(0, 0))
        return often, width

    return max(_DELIMITERS, key=evenness)


def _rows(text: str, delimiter: str) -> Iterator[list[str]]:
    if csv.field_size_limit() < _LONGEST_FIELD:
        csv.field_size_limit(_LONGEST_FIELD)
    return csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
