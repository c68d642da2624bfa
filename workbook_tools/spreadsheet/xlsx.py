"""The parts of an .xlsx or .xlsm file, and how they hang together.

    find_workbook_part(package)     the part that lists the sheets, or None
    read_xlsx(package, part)        the Workbook

Not here: the cells of a sheet (xlsx_sheet), pictures (xlsx_pictures), comments (xlsx_remarks).
"""

from __future__ import annotations

import posixpath
from typing import Literal, NamedTuple

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.cells import Sheet, Workbook
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xlsx_cells import CellMaker
from workbook_tools.spreadsheet.xlsx_pictures import (
    InCellPictures,
    Relation,
    add_pictures,
    drawings_of,
    relations,
    relations_of,
)
from workbook_tools.spreadsheet.xlsx_remarks import read_comments, text_boxes
from workbook_tools.spreadsheet.xlsx_sheet import read_sheet
from workbook_tools.spreadsheet.xlsx_tables import read_formats, read_strings
from workbook_tools.spreadsheet.xml_stream import Node

__all__ = ["find_workbook_part", "read_xlsx"]

MOST_SHEETS = 10_000
LISTING_DAMAGED = (
    "The list of sheets is damaged; sheets it does not name are read under the names of their parts."
)
GUESSED = "The file does not say which data belongs to this sheet; it was told by number. Check that it is the right one."
MISSING = "The cells of this sheet are missing from the file; get a fresh copy of it."
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


def read_xlsx(package: Package, part: str, *, quiet_formulas: bool = True, workings: str = "") -> Workbook:
    """Read all sheets of the workbook whose list of sheets is `part`; the rest as `read_workbook` says it."""
    listing, breaks = package.tree(part)
    folder = posixpath.dirname(part)
    linked = {relation.id: relation for relation in relations_of(package, part)}
    macros = any(name.endswith("vbaproject.bin") for name in package.parts)
    form: Literal["xlsx", "xlsm"] = "xlsm" if macros or _says_macros(package) else "xlsx"
    workbook = Workbook(package.path, form, has_macros=macros)
    workbook.properties = _custom_properties(package, workbook)
    worksheets, sure = _worksheets(package, listing, linked, folder)
    if breaks or not sure:
        workbook.note_damage(LISTING_DAMAGED)
    maker = CellMaker(
        _strings(package, workbook, linked, folder),
        _formats(package, workbook, linked, folder),
        InCellPictures(package, folder),
        from_1904=_counts_from_1904(listing),
    )
    for listed in worksheets:
        sheet = Sheet(listed.name, listed.hidden)
        workbook.sheets.append(sheet)
        if listed.says:
            sheet.note_damage(None, "", listed.says)
        if listed.part is None:
            continue
        drawings = read_sheet(
            package, listed.part, sheet, maker, quiet_formulas=quiet_formulas, workings=workings
        )
        for anchor in drawings_of(package, listed.part, sheet, drawings) if drawings else ():
            add_pictures(anchor, sheet)
            text_boxes(anchor.node, anchor.row, anchor.column, sheet)
        read_comments(package, listed.part, sheet)
    return workbook


def _says_macros(package: Package) -> bool:
    types = package.find("[content_types].xml")
    if types is None:
        return False
    tree, _ = package.tree(types)
    return any(
        "macroenabled" in node.attributes.get("ContentType", "").lower() for node in tree.walk("Override")
    )


def _counts_from_1904(listing: Node) -> bool:
    """Tell whether the days of the workbook are counted from 1904 on."""
    properties = listing.first("workbookPr")
    return properties is not None and properties.attributes.get("date1904", "0") in ("1", "true", "on")


class Listed(NamedTuple):
    """A sheet as the workbook lists it; `says` when something about it is damaged."""

    name: str
    hidden: bool
    part: str | None
    says: str = ""


def _worksheets(
    package: Package, listing: Node, linked: dict[str, Relation], folder: str
) -> tuple[list[Listed], bool]:
    """Every sheet with cells; also whether the list names all of them."""
    found = _listed(package, listing, linked, folder)
    unlisted = _unlisted(package, linked, {sheet.part for sheet in found})
    if not found and not unlisted:
        unlisted = _named_as_sheets(package, folder)
    found += unlisted
    if not found:
        raise package.without_sheets()
    if len(found) > MOST_SHEETS:
        raise Unusable(f"{package.name} has {len(found)} sheets, too many for a survey: pick another file.")
    return found, not unlisted


def _listed(package: Package, listing: Node, linked: dict[str, Relation], folder: str) -> list[Listed]:
    """Sheets that the workbook lists, in the order of the tabs; chart sheets hold no cells."""
    nodes: list[tuple[Node, str | None]] = []
    for node in listing.walk("sheet"):
        relation = linked.get(node.attributes.get("id", ""))
        if relation is None or relation.kind not in WITHOUT_CELLS:
            nodes.append((node, package.find(relation.target) if relation is not None else None))
    taken = {part for _, part in nodes if part is not None}
    seen: set[str] = set()
    found: list[Listed] = []
    for number, (node, part) in enumerate(nodes, start=1):
        says = ""
        if part is None:
            guess = package.find(f"{folder}/worksheets/sheet{number}.xml")
            part = None if guess in taken else guess
            says = GUESSED if part is not None else MISSING
        elif part in seen:
            part, says = None, MISSING
        if part is not None:
            seen.add(part)
            taken.add(part)
        hidden = node.attributes.get("state", "visible") in ("hidden", "veryHidden")
        found.append(Listed(node.attributes.get("name") or f"Sheet{number}", hidden, part, says))
    return found


def _unlisted(package: Package, linked: dict[str, Relation], known: set[str | None]) -> list[Listed]:
    """Sheets that the workbook links to but does not list."""
    found = []
    for relation in linked.values():
        part = package.find(relation.target) if relation.kind == "worksheet" else None
        if part is not None and part not in known:
            found.append(_by_part(part))
    return found


def _named_as_sheets(package: Package, folder: str) -> list[Listed]:
    """Sheets found by the names of their parts alone."""
    inside = posixpath.join(folder, "worksheets/")
    parts = [part for part in package.parts if part.startswith(inside) and part.endswith(".xml")]
    return [_by_part(part) for part in sorted(parts, key=lambda part: (len(part), part))]


def _by_part(part: str) -> Listed:
    return Listed(posixpath.basename(part).removesuffix(".xml"), False, part)


def _strings(package: Package, workbook: Workbook, linked: dict[str, Relation], folder: str) -> list[str]:
    """Read the table of texts; note what of it is damaged."""
    part, damaged = _table(package, linked, "sharedStrings", f"{folder}/sharedStrings.xml")
    strings: list[str] = []
    if part is not None:
        strings, breaks = read_strings(package, part)
        damaged = bool(breaks)
    if damaged:
        workbook.note_damage(
            "The table of texts is damaged; cells whose text is lost are listed with their places."
        )
    return strings


def _formats(package: Package, workbook: Workbook, linked: dict[str, Relation], folder: str) -> list[str]:
    """Read the table of number formats; note what of it is damaged."""
    part, damaged = _table(package, linked, "styles", f"{folder}/styles.xml")
    formats: list[str] = []
    if part is not None:
        formats, breaks = read_formats(package, part)
        damaged = bool(breaks)
    if damaged:
        workbook.note_damage("The table of formats is damaged; dates may have been read as plain numbers.")
    return formats


def _table(package: Package, linked: dict[str, Relation], kind: str, usual: str) -> tuple[str | None, bool]:
    """Find a table by the workbook's link or its usual name; also whether a link to it leads nowhere."""
    links = [relation for relation in linked.values() if relation.kind == kind]
    for relation in links:
        if (part := package.find(relation.target)) is not None:
            return part, False
    return package.find(usual), bool(links)


def _custom_properties(package: Package, workbook: Workbook) -> dict[str, str]:
    part = package.find("docProps/custom.xml")
    if part is None:
        return {}
    tree, breaks = package.tree(part)
    if breaks:
        workbook.note_damage("The custom properties of the file are damaged; some may be missing.")
    found: dict[str, str] = {}
    for node in tree.walk("property"):
        value = next((child.text for child in node.children), "")
        found[node.attributes.get("name", "").strip()] = value.strip()
    return found
