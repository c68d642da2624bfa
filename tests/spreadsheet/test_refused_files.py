"""Files of which nothing can be used are refused with one sentence that says what to do."""

import io
import os
import struct
import zipfile
from pathlib import Path

import pytest

from tests.spreadsheet import raw_files
from tests.spreadsheet.raw_files import ods_file, sheet_xml, xlsx_file, zip_file
from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet import package, read_picture, read_workbook, xlsx_cells, xlsx_sheet

GOOD = xlsx_file({"Rooms": sheet_xml('<row r="1"><c r="A1" t="s"><v>0</v></c></row>')}, strings=["Tag"])
GOOD_ODS = ods_file('<table:table table:name="Rooms"/>')
OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504)
BOMB = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'
OUTSIDE = '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/hostname">]>'
MIME_TEXT = "application/vnd.oasis.opendocument.text"
ENCRYPTED = '<manifest><file-entry full-path="content.xml"><encryption-data/></file-entry></manifest>'


def with_doctype(part: str, declared: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(GOOD)) as archive:
        parts = {name: archive.read(name).decode() for name in archive.namelist()}
    parts[part] = parts[part].replace("?>\n", "?>" + declared)
    return zip_file(parts.items())


def with_wrong_checksum() -> bytes:
    damaged = bytearray(
        xlsx_file(
            {"Rooms": sheet_xml('<row r="1"><c r="A1"><v>1</v></c></row>')}, compression=zipfile.ZIP_STORED
        )
    )
    place = damaged.index(b"<v>1</v>") + 3
    damaged[place] ^= 1
    return bytes(damaged)


def locked_zip() -> bytes:
    """Set the zip's own flag for encrypted parts."""
    locked = bytearray(GOOD)
    place = -1
    while (place := locked.find(b"PK\x01\x02", place + 1)) >= 0:
        locked[place + 8] |= 1
    return bytes(locked)


REFUSED = {
    "empty": (b"", "is empty"),
    "half a zip": (GOOD[: len(GOOD) // 2], "cut short"),
    "zip without its end": (GOOD[:-30], "cut short"),
    "four bytes": (b"PK\x03\x04", "cut short"),
    "zip of nothing": (b"PK\x05\x06" + bytes(18), "holds no workbook"),
    "old workbook": (OLD, "old .xls"),
    "older workbook": (b"\x09\x08\x10\x00\x00\x06\x05\x00" + bytes(99), "old .xls"),
    "old workbook with a zip in it": (OLD + GOOD, "old .xls"),
    "password": (OLD + "EncryptedPackage".encode("utf-16-le"), "password"),
    "password of the zip": (locked_zip(), "password"),
    "password, ods": (ods_file("", replace={"META-INF/manifest.xml": ENCRYPTED}), "password"),
    "binary workbook": (zip_file([("xl/workbook.bin", "x")]), ".xlsb"),
    "numbers": (zip_file([("Index/Document.iwa", "x")]), "Numbers"),
    "comma list": (b"Tag,Rating (A)\nMDP,1600\n", "plain text"),
    "comma list of another program": ("Tag,Rating\n".encode("utf-16"), "plain text"),
    "comma list, latin-1": ("Höhe,½\n".encode("latin-1"), "plain text"),
    "web page": (b"\xef\xbb\xbf <HTML><table><tr><td>Tag</td></tr></table></HTML>", "web page"),
    "flat ods": (b'<?xml version="1.0"?><office:document xmlns:office="x"/>', "flat XML"),
    "flat xml": (b'<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?><Workbook/>', "flat XML"),
    "other xml": (b'<?xml version="1.0"?><note/>', "XML file"),
    "picture": (b"\x89PNG\r\n\x1a\n" + bytes(99), "picture"),
    "photo": (b"\xff\xd8\xff\xe0" + bytes(99), "picture"),
    "phone photo": (b"\0\0\0\x18ftypheic" + bytes(99), "picture"),
    "pdf": (b"%PDF-1.7\n", "PDF"),
    "noise": (bytes(range(256)) * 4, "no workbook that can be read"),
    "text document": (zip_file([("word/document.xml", "<x/>")]), "text document"),
    "text document, odt": (ods_file("", replace={"mimetype": MIME_TEXT}), "text document"),
    "zipped workbook": (zip_file([("returned/Survey.xlsx", GOOD)]), "survey.xlsx"),
    "other zip": (zip_file([("notes.txt", "x")]), "holds no workbook"),
    "workbook without sheets": (xlsx_file({}), "holds no sheets"),
    "ods without sheets": (ods_file(""), "holds no sheets"),
    "ods content that is none": (ods_file("", content="<x"), "holds no sheets"),
    "wrong checksum": (with_wrong_checksum(), "damaged"),
    "entity bomb in a sheet": (with_doctype("xl/worksheets/sheet1.xml", BOMB), "do not trust"),
    "entity bomb in the texts": (with_doctype("xl/sharedStrings.xml", BOMB), "do not trust"),
    "entity from outside": (with_doctype("xl/workbook.xml", OUTSIDE), "do not trust"),
    "doctype in the links": (with_doctype("_rels/.rels", OUTSIDE), "do not trust"),
}


def sentence_for(path) -> str:
    with pytest.raises(Unusable) as caught:
        read_workbook(path)
    sentence = str(caught.value)
    assert sentence.endswith(".")
    assert ": " in sentence  # what it is: what to do
    assert "\n" not in sentence
    assert len(sentence) < 300
    return sentence


@pytest.mark.parametrize("kind", REFUSED)
def test_what_is_no_workbook_is_named(tmp_path, kind):
    content, words = REFUSED[kind]
    path = tmp_path / "survey.xlsx"
    path.write_bytes(content)
    sentence = sentence_for(path)
    assert sentence.startswith("survey.xlsx ")
    assert words in sentence
    assert path.read_bytes() == content


def test_a_file_that_is_not_there(tmp_path):
    assert "was not found" in sentence_for(tmp_path / "survey.xlsx")


@pytest.mark.parametrize("name", ["x" * 5000, "survey\0.xlsx", ""])
def test_a_name_no_file_can_have(name):
    with pytest.raises(Unusable, match=r"cannot be opened|was not found|is a folder"):
        read_workbook(name)


def test_a_folder(tmp_path):
    assert "is a folder" in sentence_for(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes on this system")
def test_a_pipe_does_not_hang(tmp_path):
    os.mkfifo(tmp_path / "survey.xlsx")
    assert "no ordinary file" in sentence_for(tmp_path / "survey.xlsx")


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    (tmp_path / "survey.xlsx").write_bytes(GOOD)

    def refuse(*_: object, **__: object):
        raise PermissionError(13, "denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert "may not be read" in sentence_for(tmp_path / "survey.xlsx")


def test_a_zip_bomb_is_refused_by_the_size_it_declares(tmp_path):
    spaces = sheet_xml("").replace("<sheetData>", "<sheetData>" + " " * 1_000_000)
    content = zip_file([(f"xl/worksheets/sheet{n}.xml", spaces) for n in range(301)])
    (tmp_path / "survey.xlsx").write_bytes(content)
    assert "300 MB" in sentence_for(tmp_path / "survey.xlsx")


def test_the_limit_holds_for_what_comes_out_of_the_zip(tmp_path, monkeypatch):
    """Parts whose names say nothing of XML are not declared as such, but counted when read."""
    monkeypatch.setattr(package, "MOST_XML_BYTES", 50_000)
    monkeypatch.setattr(package.Package.chunks, "__defaults__", (50_000,))
    links = raw_files.xlsx_file({"Rooms": None})
    with zipfile.ZipFile(io.BytesIO(links)) as archive:
        parts = {name: archive.read(name).decode() for name in archive.namelist()}
    parts["xl/_rels/workbook.xml.rels"] = parts["xl/_rels/workbook.xml.rels"].replace(
        "sheet1.xml", "rooms.data"
    )
    parts["xl/worksheets/rooms.data"] = sheet_xml(" " * 60_000)
    (tmp_path / "survey.xlsx").write_bytes(zip_file(parts.items()))
    assert "MB of sheet data" in sentence_for(tmp_path / "survey.xlsx")


@pytest.mark.parametrize("packing", [zipfile.ZIP_DEFLATED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
@pytest.mark.parametrize("place", range(4, 400, 9))
def test_a_damaged_packing_is_refused(tmp_path, packing, place):
    rows = "".join(f'<row r="{n}"><c r="A{n}"><v>{n * n}</v></c></row>' for n in range(1, 200))
    damaged = bytearray(xlsx_file({"Rooms": sheet_xml(rows)}, compression=packing))
    start = damaged.index(b"xl/worksheets/sheet1.xml") + len("xl/worksheets/sheet1.xml")
    damaged[start + place] ^= 0x55
    (tmp_path / "survey.xlsx").write_bytes(damaged)
    assert "cannot be unpacked" in sentence_for(tmp_path / "survey.xlsx")


def test_a_size_that_lies_is_found_out(tmp_path):
    honest = xlsx_file({"Rooms": sheet_xml('<row r="1"><c r="A1"><v>1</v></c></row>' + " " * 100_000)})
    lying = bytearray(honest)
    place = lying.rindex(b"xl/worksheets/sheet1.xml") - 46
    lying[place + 24 : place + 28] = struct.pack("<I", 500)
    (tmp_path / "survey.xlsx").write_bytes(lying)
    assert "damaged" in sentence_for(tmp_path / "survey.xlsx")


def test_too_many_cells(tmp_path, monkeypatch):
    monkeypatch.setattr(xlsx_sheet, "MOST_CELLS", 5_000)
    rows = "".join(f'<row r="{n}"><c r="A{n}"><v>1</v></c></row>' for n in range(1, 5_002))
    (tmp_path / "survey.xlsx").write_bytes(xlsx_file({"Rooms": sheet_xml(rows)}))
    assert "filled cells" in sentence_for(tmp_path / "survey.xlsx")


def test_too_many_cells_by_repeats(tmp_path):
    row = '<table:table-row table:number-rows-repeated="1048576"><table:table-cell office:value-type="float" '
    row += 'office:value="1" table:number-columns-repeated="16384"/></table:table-row>'
    (tmp_path / "survey.ods").write_bytes(ods_file(f'<table:table table:name="Rooms">{row}</table:table>'))
    assert f"more than {xlsx_cells.MOST_CELLS // 1_000_000} million" in sentence_for(tmp_path / "survey.ods")


def test_ten_million_rows(tmp_path):
    (tmp_path / "survey.xlsx").write_bytes(xlsx_file({"Rooms": sheet_xml("<row/>" * 10_000_000)}))
    assert "more rows on a sheet" in sentence_for(tmp_path / "survey.xlsx")


def test_a_picture_of_a_file_that_changed(tmp_path):
    path = tmp_path / "survey.ods"
    frame = '<draw:frame><draw:image xlink:href="Pictures/a.png"/></draw:frame>'
    table = f'<table:table table:name="Rooms"><table:shapes>{frame}</table:shapes></table:table>'
    path.write_bytes(ods_file(table, replace={"Pictures/a.png": b"\x89PNG"}))
    workbook = read_workbook(path)
    assert read_picture(workbook, workbook.pictures[0]) == b"\x89PNG"
    path.write_bytes(GOOD_ODS)
    with pytest.raises(Unusable, match="no longer holds the picture"):
        read_picture(workbook, workbook.pictures[0])
