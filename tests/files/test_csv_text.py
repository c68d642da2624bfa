"""Text in a CSV file that no spreadsheet program runs, and that is the same text afterwards.

The characters to beware of, and the two examples of a broken-out field: OWASP, "CSV Injection",
github.com/OWASP/www-community, pages/attacks/CSV_Injection.md (read).
"""

import csv
import subprocess
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from tests.files.injection_payloads import PAYLOADS
from tests.sampling import drawn
from workbook_tools.files.csv_text import guarded, unguarded, write_csv

OWASP_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
NASTY = st.text(st.sampled_from("=+-@'\";,|\t\r\n aZ1"), max_size=12)


@given(st.one_of(NASTY, st.text(max_size=30)))
@example("'")
@example("''=1")
@example(";'=")
@example('"=1')
def test_the_text_comes_back(text):
    assert unguarded(guarded(text)) == text


@given(NASTY)
def test_no_text_begins_with_what_owasp_names(text):
    assert not guarded(text).startswith(OWASP_STARTS)


@given(NASTY, st.sampled_from(";\t|"))
@example(';"=1', ";")
@example('a;""-1', ";")
def test_no_piece_begins_so_either_where_another_separator_cuts_it(text, separator):
    line = write_csv([["T-1", text]]).decode()
    for piece in line.split(separator)[1:]:
        assert not piece.lstrip('"').startswith(("=", "+", "-", "@"))


@given(
    st.lists(st.lists(st.one_of(NASTY, st.integers(-9, 9), st.none()), min_size=2, max_size=2), max_size=4)
)
def test_the_file_is_csv_and_holds_the_rows(rows):
    read = list(csv.reader(StringIO(write_csv(rows).decode(), newline="")))
    texts = [
        ["" if cell is None else guarded(cell) if isinstance(cell, str) else str(cell) for cell in row]
        for row in rows
    ]
    assert read == texts


def test_ordinary_texts_are_left_alone():
    for text in (
        "DP-1",
        "RP-2; DP-1",
        "3'-6\"",
        "208Y/120",
        "face to block wall, 2 of 8",
        "1/2",
        "½",
        "5 - 6",
    ):
        assert guarded(text) == text


def test_numbers_stay_numbers():
    assert write_csv([["-5", -5, 0.25, None]]) == b'"\'-5",-5,0.25,""\r\n'


SEPARATORS = {"comma": "44", "semicolon": "59"}


@pytest.mark.office
@pytest.mark.sampled
@pytest.mark.parametrize("separator", drawn("separators", SEPARATORS, lambda name: "any"))
def test_a_spreadsheet_program_makes_no_formula_of_any_payload(office, tmp_path, separator):
    """LibreOffice opens the file, formulas allowed, with either separator; what it saves holds no formula."""
    from openpyxl import load_workbook

    (tmp_path / "table.csv").write_bytes(write_csv([["T-1", payload] for payload in PAYLOADS]))
    plain = "".join(f'"T-1","{payload.replace(chr(34), chr(34) * 2)}"\r\n' for payload in PAYLOADS)
    (tmp_path / "plain.csv").write_text(plain, encoding="utf-8", newline="")
    # Tokens: separator, quotation mark, UTF-8, first line, columns, language, quoted as text, detect, formulas allowed.
    subprocess.run(
        [office.program("soffice"), f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}", "--headless",
         f"--infilter=CSV:{SEPARATORS[separator]},34,76,1,,1033,false,true,false,false,false,0,true",
         "--convert-to", "xlsx", "--outdir", str(tmp_path), str(tmp_path / "table.csv"), str(tmp_path / "plain.csv")],
        check=True, capture_output=True, timeout=120,
    )  # fmt: skip
    assert formulas(load_workbook(tmp_path / "table.xlsx").active) == []
    # Without the guard the same program makes formulas, so the check can fail.
    assert formulas(load_workbook(tmp_path / "plain.xlsx").active) != []


def formulas(sheet: object) -> list[str]:
    return [cell.coordinate for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]  # type: ignore[attr-defined]


def test_the_payloads_stand_in_the_file_as_read(tmp_path: Path):
    read = [row[0] for row in csv.reader(StringIO(write_csv([[p] for p in PAYLOADS]).decode(), newline=""))]
    assert [unguarded(text) for text in read] == list(PAYLOADS)


SHAPELESS = ("a\x01b", "a\x7fb", "a\x85b", "a\u202eb", "a\u200db", "a\ufeffb")


@pytest.mark.office
def test_gnumeric_opens_whatever_is_written_but_characters_without_a_shape(office, tmp_path):
    """Its probe takes such a character for a sign of another kind of file; the whole file is refused, never a part."""
    shown = [payload for payload in PAYLOADS if all(c.isprintable() or c in "\t\r\n" for c in payload)]
    assert len(shown) > 30
    (tmp_path / "table.csv").write_bytes(
        write_csv([["row", "typed"], *([n, text] for n, text in enumerate(shown))])
    )
    assert office.gnumeric(tmp_path / "table.csv").is_file()
    for number, text in enumerate(SHAPELESS):
        path = tmp_path / f"{number}.csv"
        path.write_bytes(write_csv([["row", "typed"], [1, text]]))
        with pytest.raises(AssertionError, match="Unsupported file format"):
            office.gnumeric(path)


@pytest.mark.office
def test_gnumeric_opens_every_table_of_the_demonstration(office):
    folder = Path(__file__).resolve().parents[2] / "demo_workbooks" / "delivery" / "data"
    tables = sorted(folder.glob("*.csv"))
    assert len(tables) > 5
    for table in tables:
        assert office.gnumeric(table).is_file()
