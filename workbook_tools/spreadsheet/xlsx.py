"""The parts of an .xlsx or .xlsm file, and how they hang together.

    find_workbook_part(package)     the part that lists the sheets, or None
    read_xlsx(package, part)        the Workbook

Not here: the cells of a sheet (xlsx_sheet), pictures (xlsx_pictures).
"""

from __future__ import annotations

import posixpath
from typing import Literal

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.cells import Damage, Sheet, Workbook
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xlsx_cells import CellMaker
from workbook_tools.spreadsheet.xlsx_pictures import InCellPictures, Relation, floating_pictures, relations
from workbook_tools.spreadsheet.xlsx_sheet import read_sheet
from workbook_tools.spreadsheet.xlsx_tables import read_formats, read_strings
from workbook_tools.spreadsheet.xml_stream import Node

__all__ = ["find_workbook_part", "read_xlsx"]

MOST_SHEETS = 10_000
WITHOUT_CELLS = ("chartsheet", "dialogsheet", "xlMacrosheet", "xlIntlMacrosheet")


def find_workbook_part(package: Package) -> str | None:
    """Name the part that lists the sheets: by the package's relations, else by its name."""
    if (top := package.find("_rels/.rels")) is not None:
        for relation in relations(package, top, ""):
            part = package.find(relation.target)
            if relation.kind == "officeDocument" and part and _may_list_sheets(part):
                return part
    named = [part for part in package.parts if part.rpartition("/")[2] == "workbook.xml"]
    return named[0] if named else None


def _may_list_sheets(part: str) -> bool:
    return not part.endswith(".bin") and not part.startswith(("word/", "ppt/"))


def read_xlsx(package: Package, part: str) -> Workbook:
    """Read all sheets of the workbook whose list of sheets is `part`."""
    listing, breaks = package.tree(part)
    folder = posixpath.dirname(part)
    linked = {relation.id: relation for relation in _relations_of(package, part)}
    macros = any(name.endswith("vbaproject.bin") for name in package.parts)
    form: Literal["xlsx", "xlsm"] = "xlsm" if macros or _says_macros(package) else "xlsx"
    workbook = Workbook(package.path, form, has_macros=macros)
    workbook.properties = _custom_properties(package)

    worksheets = _worksheets(package, listing, linked, folder)
    if breaks or not worksheets:
        says = (
            "The list of sheets is damaged; sheets it does not name are read under the names of their parts."
        )
        workbook.damage.append(Damage("", None, "", says))
        known = {where for _, _, where in worksheets}
        worksheets += _unlisted(package, folder, known)
    if not worksheets:
        raise Unusable(f"{package.name} holds no sheets: get a fresh copy of the file and try again.")
    if len(worksheets) > MOST_SHEETS:
        raise Unusable(
            f"{package.name} has {len(worksheets)} sheets, too many for a survey: pick another file."
        )

    properties = listing.first("workbookPr")
    from_1904 = properties is not None and properties.attributes.get("date1904", "0") in ("1", "true", "on")
    strings, formats = _tables(package, workbook, linked, folder)
    pictures = InCellPictures(package, folder)
    maker = CellMaker(strings, formats, pictures, from_1904=from_1904)
    for name, hidden, where in worksheets:
        sheet = Sheet(name, hidden)
        workbook.sheets.append(sheet)
        if where is None:
            sheet.note_damage(
                None, "", "The cells of this sheet are missing from the file; get a fresh copy of it."
            )
            continue
        drawings = read_sheet(package, where, sheet, maker)
        if drawings:
            floating_pictures(package, where, sheet, drawings)
    return workbook


def _relations_of(package: Package, part: str) -> list[Relation]:
    folder, _, name = part.rpartition("/")
    beside = package.find(f"{folder}/_rels/{name}.rels")
    return [] if beside is None else relations(package, beside, folder)


def _says_macros(package: Package) -> bool:
    types = package.find("[content_types].xml")
    if types is None:
        return False
    tree, _ = package.tree(types)
    return any(
        "macroenabled" in node.attributes.get("ContentType", "").lower() for node in tree.walk("Override")
    )


def _worksheets(
    package: Package, listing: Node, linked: dict[str, Relation], folder: str
) -> list[tuple[str, bool, str | None]]:
    """Name, hidden, part of every sheet with cells; chart sheets hold none."""
    found: list[tuple[str, bool, str | None]] = []
    taken: set[str] = set()
    for number, node in enumerate(listing.walk("sheet"), start=1):
        relation = linked.get(node.attributes.get("id", ""))
        if relation is not None and relation.kind in WITHOUT_CELLS:
            continue
        part = package.find(relation.target) if relation is not None else None
        if part is None:
            part = package.find(f"{folder}/worksheets/sheet{number}.xml")
        if part in taken:
            part = None
        if part is not None:
            taken.add(part)
        hidden = node.attributes.get("state", "visible") in ("hidden", "veryHidden")
        found.append((node.attributes.get("name") or f"Sheet{number}", hidden, part))
    return found


def _unlisted(package: Package, folder: str, known: set[str | None]) -> list[tuple[str, bool, str | None]]:
    inside = f"{folder}/worksheets/" if folder else "worksheets/"
    parts = sorted(
        (
            part
            for part in package.parts
            if part.startswith(inside) and part.endswith(".xml") and part not in known
        ),
        key=lambda part: (len(part), part),
    )
    return [(posixpath.basename(part)[:-4], False, part) for part in parts]


def _tables(
    package: Package, workbook: Workbook, linked: dict[str, Relation], folder: str
) -> tuple[list[str], list[str]]:
    def part_of(kind: str, usual: str) -> str | None:
        for relation in linked.values():
            if relation.kind == kind and (part := package.find(relation.target)) is not None:
                return part
        return package.find(f"{folder}/{usual}")

    strings: list[str] = []
    if (part := part_of("sharedStrings", "sharedStrings.xml")) is not None:
        strings, breaks = read_strings(package, part)
        if breaks:
            says = "The table of texts is damaged; cells whose text is lost are listed with their places."
            workbook.damage.append(Damage("", None, "", says))
    formats: list[str] = []
    if (part := part_of("styles", "styles.xml")) is not None:
        formats, breaks = read_formats(package, part)
        if breaks:
            says = "The table of formats is damaged; dates may have been read as plain numbers."
            workbook.damage.append(Damage("", None, "", says))
    return strings, formats


def _custom_properties(package: Package) -> dict[str, str]:
    part = package.find("docProps/custom.xml")
    if part is None:
        return {}
    tree, _ = package.tree(part)
    found: dict[str, str] = {}
    for node in tree.walk("property"):
        value = next((child.text for child in node.children), "")
        found[node.attributes.get("name", "").strip()] = value.strip()
    return found
