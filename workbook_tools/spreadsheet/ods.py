"""The parts of an .ods file.

    is_ods(package)      does the zip hold an OpenDocument spreadsheet?
    read_ods(package)    the Workbook

Not here: rows and cells (ods_content), what a cell states (ods_cells).
"""

from __future__ import annotations

from workbook_tools.errors import Unusable
from workbook_tools.spreadsheet.cells import Workbook
from workbook_tools.spreadsheet.not_a_workbook import say_protected
from workbook_tools.spreadsheet.ods_content import ContentReader
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xml_stream import read_elements

__all__ = ["is_ods", "read_ods"]

SPREADSHEET = "application/vnd.oasis.opendocument.spreadsheet"


def is_ods(package: Package) -> bool:
    """Tell an .ods file by its mimetype part, or by its content part when it lacks one."""
    if package.find("content.xml") is None:
        return False
    if "mimetype" not in package.parts:
        return True
    stated = package.bytes_of("mimetype", 10_000_000).decode("ascii", "replace").strip()
    return stated.startswith(SPREADSHEET) or not stated.startswith("application/vnd.oasis.opendocument")


def read_ods(package: Package) -> Workbook:
    """Read all sheets."""
    manifest = package.find("META-INF/manifest.xml")
    if manifest is not None and package.tree(manifest)[0].first("encryption-data") is not None:
        raise Unusable(say_protected(package.name))
    content = package.find("content.xml")
    if content is None:
        raise package.without_sheets()
    macros = any(
        part.startswith(("basic/", "scripts/")) and not part.endswith("-lc.xml") for part in package.parts
    )
    workbook = Workbook(package.path, "ods", has_macros=macros)
    workbook.properties = _user_properties(package)
    reader = ContentReader(package, workbook)
    read_elements(package.chunks(content), reader.start, reader.end, reader.text, reader.broke)
    if not workbook.sheets:
        raise package.without_sheets()
    return workbook


def _user_properties(package: Package) -> dict[str, str]:
    part = package.find("meta.xml")
    if part is None:
        return {}
    tree, _ = package.tree(part)
    return {node.attributes.get("name", "").strip(): node.text.strip() for node in tree.walk("user-defined")}
