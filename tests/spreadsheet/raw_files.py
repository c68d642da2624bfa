"""Workbooks written part by part, for what no library will write.

    xlsx_file(...)    bytes of an .xlsx from the XML of its sheets
    ods_file(...)     bytes of an .ods from the XML of its tables
    zip_file(parts)   bytes of a zip from its parts

Everything a healthy file needs is there unless an argument replaces or drops it.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Mapping, Sequence

__all__ = [
    "HEAD",
    "MAIN",
    "NAMESPACES",
    "PACKAGE",
    "RELATIONS",
    "Part",
    "ods_file",
    "sheet_xml",
    "styles_xml",
    "xlsx_file",
    "zip_file",
]

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml."
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'

Part = str | bytes | None


def zip_file(parts: Iterable[tuple[str, Part]], compression: int = zipfile.ZIP_DEFLATED) -> bytes:
    """Zip of the parts in their order; None leaves one out."""
    written = io.BytesIO()
    with zipfile.ZipFile(written, "w", compression) as archive:
        for name, content in parts:
            if content is not None:
                entry = zipfile.ZipInfo(name, (2026, 11, 3, 9, 0, 0))
                entry.compress_type = compression
                archive.writestr(entry, content)
    return written.getvalue()


def sheet_xml(rows: str, before: str = "", after: str = "") -> str:
    """XML of a sheet around its rows."""
    return (
        f'{HEAD}<worksheet xmlns="{MAIN}" xmlns:r="{RELATIONS}">{before}'
        f"<sheetData>{rows}</sheetData>{after}</worksheet>"
    )


def styles_xml(formats: Sequence[str] = (), more: str = "", xfs: str | None = None) -> str:
    """Styles: number 0 is General, then one for each number format code."""
    codes = "".join(
        f'<numFmt numFmtId="{164 + index}" formatCode="{code}"/>' for index, code in enumerate(formats)
    )
    if xfs is None:
        xfs = '<xf numFmtId="0"/>' + "".join(f'<xf numFmtId="{164 + i}"/>' for i in range(len(formats)))
    return f'{HEAD}<styleSheet xmlns="{MAIN}"><numFmts>{codes}</numFmts>{more}<cellXfs>{xfs}</cellXfs></styleSheet>'


def _strings_xml(strings: Sequence[str]) -> str:
    items = "".join(
        s if s.startswith("<si") else f'<si><t xml:space="preserve">{s}</t></si>' for s in strings
    )
    return f'{HEAD}<sst xmlns="{MAIN}">{items}</sst>'


def _links(*links: tuple[str, str, str]) -> str:
    items = "".join(
        f'<Relationship Id="{name}" Type="{RELATIONS}/{kind}" Target="{target}"/>'
        for name, kind, target in links
    )
    return f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">{items}</Relationships>'


def xlsx_file(
    sheets: Mapping[str, Part],
    *,
    strings: Sequence[str] = (),
    styles: Part = None,
    states: Mapping[str, str] | None = None,
    book: str = "",
    replace: Mapping[str, Part] | None = None,
    compression: int = zipfile.ZIP_DEFLATED,
    rename: Mapping[str, str] | None = None,
) -> bytes:
    """Write an .xlsx of the given sheets; `replace` puts other content, or None, in a part's place."""
    states = states or {}
    listed = "".join(
        f'<sheet name="{name.partition("|")[0]}" sheetId="{n}" {states.get(name, "")} r:id="rId{n}"/>'
        for n, name in enumerate(sheets, start=1)
    )
    count = len(sheets)
    links = [(f"rId{n}", "worksheet", f"worksheets/sheet{n}.xml") for n in range(1, count + 1)]
    links += [
        (f"rId{count + 1}", "styles", "styles.xml"),
        (f"rId{count + 2}", "sharedStrings", "sharedStrings.xml"),
    ]
    overrides = "".join(
        f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{TYPES}worksheet+xml"/>'
        for n in range(1, count + 1)
    )
    parts: dict[str, Part] = {
        "[Content_Types].xml": f'{HEAD}<Types xmlns="{PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        '<Default Extension="png" ContentType="image/png"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{TYPES}sheet.main+xml"/>{overrides}'
        f'<Override PartName="/xl/styles.xml" ContentType="{TYPES}styles+xml"/>'
        f'<Override PartName="/xl/sharedStrings.xml" ContentType="{TYPES}sharedStrings+xml"/></Types>',
        "_rels/.rels": _links(("rId1", "officeDocument", "xl/workbook.xml")),
        "xl/workbook.xml": f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}">{book}'
        f"<sheets>{listed}</sheets></workbook>",
        "xl/_rels/workbook.xml.rels": _links(*links),
        "xl/styles.xml": styles if styles is not None else styles_xml(),
        "xl/sharedStrings.xml": _strings_xml(strings),
    }
    for number, content in enumerate(sheets.values(), start=1):
        parts[f"xl/worksheets/sheet{number}.xml"] = content
    parts.update(replace or {})
    names = rename or {}
    return zip_file([(names.get(name, name), content) for name, content in parts.items()], compression)


SPACES = {
    "office": "office:1.0", "table": "table:1.0", "text": "text:1.0", "style": "style:1.0", "draw": "drawing:1.0",
    "svg": "svg-compatible:1.0", "meta": "meta:1.0", "dc": "dc:1.0",
}  # fmt: skip
NAMESPACES = (
    "".join(
        f' xmlns:{prefix}="urn:oasis:names:tc:opendocument:xmlns:{name}"' for prefix, name in SPACES.items()
    )
    + ' xmlns:xlink="http://www.w3.org/1999/xlink"'
    + ' xmlns:calcext="urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0"'
)


def ods_file(
    tables: str,
    *,
    styles: str = "",
    replace: Mapping[str, Part] | None = None,
    content: Part = None,
) -> bytes:
    """Write an .ods of the given tables."""
    parts: dict[str, Part] = {
        "mimetype": "application/vnd.oasis.opendocument.spreadsheet",
        "content.xml": content
        or f"{HEAD}<office:document-content{NAMESPACES}><office:automatic-styles>{styles}</office:automatic-styles>"
        f"<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>",
        "META-INF/manifest.xml": f'{HEAD}<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns'
        ':manifest:1.0"><manifest:file-entry manifest:full-path="/"/></manifest:manifest>',
    }
    parts.update(replace or {})
    return zip_file(parts.items())
