"""Rows and cells of an .ods file, in one pass over content.xml.

    ContentReader    the parser's call-backs; fills the sheets of a Workbook

Repeated rows and columns are stated as a number in the file; only filled ones are
unrolled. Comments and the texts of shapes are no cell content, but remarks; tracked changes are neither.

Not here: what a cell states (ods_cells).
"""

from __future__ import annotations

from typing import Literal

from workbook_tools.spreadsheet.cells import (
    LAST_COLUMN,
    LAST_ROW,
    Cell,
    Picture,
    Range,
    Sheet,
    Workbook,
    cell_name,
)
from workbook_tools.spreadsheet.number_formats import whole_number
from workbook_tools.spreadsheet.ods_cells import make_cell
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xlsx_cells import MOST_CELLS, too_many_cells, too_many_rows
from workbook_tools.spreadsheet.xml_stream import DEEPEST, LocalNames, local_attributes

__all__ = ["ContentReader"]

# Elements whose text belongs to no cell: the first kinds say something over the cells.
SHAPES = frozenset(
    [
        *("custom-shape", "rect", "line", "ellipse", "circle", "polyline", "polygon", "path", "caption"),
        *("measure", "connector"),
    ]
)
NOT_CELL_TEXT = SHAPES | {"annotation", "tracked-changes", "ruby-text", "table-template", "control"}


class ContentReader:
    """Call-backs for content.xml."""

    def __init__(self, package: Package, workbook: Workbook) -> None:
        self._package = package
        self._workbook = workbook
        self._sheet: Sheet | None = None
        self._filled = 0
        self._hidden_styles: set[str] = set()
        self._style = ""
        self._row = 0  # rows that ended before the one being read
        self._rows_seen = 0
        self._row_repeats = 0  # 0 outside a row
        self._row_cells: list[tuple[int, int, Cell]] = []  # first column, repeats, cell
        self._column = 0
        self._cell: dict[str, str] | None = None  # attributes of the cell being read
        self._paragraphs: list[str] = []
        self._words: list[str] | None = None  # of the paragraph being read
        self._deep = 0
        self._skipped = 0  # depth inside what is no cell content
        self._remark: list[str] | None = None  # paragraphs of a comment or shape being read
        self._remark_kind: Literal["comment", "text box"] = "comment"
        self._frames = 0
        self._picture = ""
        self._caption: list[str] = []
        self._box: list[str] = []  # paragraphs of the text box in a frame
        self._resuming = False
        self._names = LocalNames()
        self._made: dict[Cell, Cell] = {}
        self._prefixes = {"table": "table:", "root": "office:document-content"}

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take an opening tag."""
        name = self._names[tag]
        self._deep += 1
        if self._deep > DEEPEST:
            raise ValueError("elements too deep")
        if self._skipped:
            self._skipped += 1
            if self._remark is not None:
                self._inside_remark(name, attributes)
        elif name == "table-cell" or name == "covered-table-cell":
            self._cell = local_attributes(attributes) if attributes else attributes
            self._paragraphs.clear()
        elif name in NOT_CELL_TEXT or (name == "table" and self._cell is not None):
            self._skipped = 1
            if name == "annotation" or name in SHAPES:
                self._remark, self._remark_kind = [], "comment" if name == "annotation" else "text box"
        elif name == "p" or name == "h":
            self._words = []
        elif name == "table-row":
            self._resuming = False
            self._rows_seen += 1
            if self._rows_seen > LAST_ROW:
                raise too_many_rows(self._package.name)
            stated = local_attributes(attributes).get("number-rows-repeated") if attributes else None
            self._row_repeats = _count(stated, LAST_ROW)
            self._row_cells.clear()
            self._column = 0
        elif self._words is not None:
            self._inside_paragraph(name, attributes)
        else:
            self._outside_cells(name, local_attributes(attributes), tag)

    def _inside_remark(self, name: str, attributes: dict[str, str]) -> None:
        if name == "p" or name == "h":
            self._words = []
        elif self._words is not None:
            self._inside_paragraph(name, attributes)

    def _end_of_remark(self, name: str) -> None:
        """Take a closing tag inside a comment or shape; the last makes a remark of its paragraphs."""
        assert self._remark is not None
        if (name == "p" or name == "h") and self._words is not None:
            self._remark.append("".join(self._words))
            self._words = None
        if not self._skipped:
            self._add_remark(self._remark, self._remark_kind)
            self._remark = self._words = None

    def _add_remark(self, paragraphs: list[str], kind: Literal["comment", "text box"]) -> None:
        if self._sheet is not None:
            row, column = (self._row + 1, self._column + 1) if self._cell is not None else (0, 0)
            self._sheet.note_remark(row, column, "\n".join(paragraphs).strip(), kind)

    def _inside_paragraph(self, name: str, attributes: dict[str, str]) -> None:
        assert self._words is not None
        if name == "s":
            self._words.append(" " * _count(local_attributes(attributes).get("c"), 32_767))
        elif name == "tab":
            self._words.append("\t")
        elif name == "line-break":
            self._words.append("\n")

    def _outside_cells(self, name: str, attributes: dict[str, str], tag: str) -> None:
        if name == "table":
            self._prefixes["table"] = tag[: tag.rfind(":") + 1]
            if self._resuming and "name" not in attributes:
                return
            named = attributes.get("name") or f"Sheet{len(self._workbook.sheets) + 1}"
            self._sheet = Sheet(named, attributes.get("style-name") in self._hidden_styles)
            self._workbook.sheets.append(self._sheet)
            self._row = self._rows_seen = 0
        elif name == "style":
            self._style = attributes.get("name", "")
        elif name == "table-properties":
            if attributes.get("display") == "false":
                self._hidden_styles.add(self._style)
        elif name == "frame":
            self._frames += 1
            self._picture = ""
            self._caption.clear()
            self._box = []
        elif name == "image" and self._frames:
            self._picture = self._picture or attributes.get("href", "")
        elif name in ("title", "desc") and self._frames:
            self._words = []
        elif name in ("document-content", "document"):
            self._prefixes["root"] = tag

    def text(self, data: str) -> None:
        """Take characters; a line end in the XML is white space between words, as in any XML text."""
        if self._words is not None and (self._remark is not None or not self._skipped):
            self._words.append(_one_line(data) if "\n" in data else data)

    def end(self, tag: str) -> None:
        """Take a closing tag."""
        name = self._names[tag]
        self._deep -= 1
        if self._skipped:
            self._skipped -= 1
            if self._remark is not None:
                self._end_of_remark(name)
        elif name == "table-cell" or name == "covered-table-cell":
            self._end_cell()
        elif name == "p" or name == "h":
            if self._words is not None:
                (self._box if self._frames else self._paragraphs).append("".join(self._words))
            self._words = None
        elif name == "table-row":
            self._end_row()
        elif name in ("title", "desc") and self._frames and self._words is not None:
            self._caption.append("".join(self._words))
            self._words = None
        elif name == "frame" and self._frames:
            self._frames -= 1
            self._add_picture()
            self._add_remark(self._box, "text box")
            self._box = []

    def _end_cell(self) -> None:
        attributes = self._cell
        self._cell = None
        if not attributes:
            repeats = 1
            attributes = {}
        else:
            repeats = _count(attributes.get("number-columns-repeated"), 1 << 24)
        first = self._column + 1
        self._column += repeats
        if not attributes and not self._paragraphs:
            return
        cell = make_cell(attributes, "\n".join(self._paragraphs))
        if isinstance(cell, str):
            shown = "\n".join(self._paragraphs)
            if self._sheet is not None:
                self._sheet.note_damage(cell_name(self._row + 1, first), shown, cell)
            cell = Cell("text", shown, shown) if shown else Cell("error", None, "")
        if cell is not None:
            if first + repeats - 1 > LAST_COLUMN:
                self._outside_grid(first, cell)
                repeats = max(0, LAST_COLUMN - first + 1)
            self._row_cells.append((first, repeats, self._made.setdefault(cell, cell)))
        if "number-columns-spanned" in attributes or "number-rows-spanned" in attributes:
            self._merge(first, attributes)

    def _merge(self, first: int, attributes: dict[str, str]) -> None:
        wide = _count(attributes.get("number-columns-spanned"), LAST_COLUMN)
        high = _count(attributes.get("number-rows-spanned"), LAST_ROW)
        top = self._row + 1
        if self._sheet is not None and (wide > 1 or high > 1) and top <= LAST_ROW and first <= LAST_COLUMN:
            bottom, right = min(top + high - 1, LAST_ROW), min(first + wide - 1, LAST_COLUMN)
            self._sheet.merged.append(Range(top, first, bottom, right))

    def _outside_grid(self, column: int, cell: Cell) -> None:
        if self._sheet is not None:
            self._sheet.note_outside_grid(cell_name(self._row + 1, column), cell.text)

    def _end_row(self) -> None:
        repeats, self._row_repeats = self._row_repeats, 0
        top = self._row + 1
        self._row += repeats
        if not self._row_cells or self._sheet is None:
            return
        if top + repeats - 1 > LAST_ROW:
            self._outside_grid(self._row_cells[0][0], self._row_cells[0][2])
            repeats = max(0, LAST_ROW - top + 1)
        self._filled += repeats * sum(wide for _, wide, _ in self._row_cells)
        if self._filled > MOST_CELLS:
            raise too_many_cells(self._package.name)
        cells = self._sheet.cells
        for row in range(top, top + repeats):
            for first, wide, cell in self._row_cells:
                for column in range(first, first + wide):
                    cells[row, column] = cell

    def _add_picture(self) -> None:
        href = self._picture
        self._picture = ""
        if not href or self._sheet is None or "objectreplacements" in href.lower():
            return
        part = self._package.find(href)
        row, column = (self._row + 1, self._column + 1) if self._cell is not None else (0, 0)
        if part is None:
            self._sheet.note_lost_picture(row, column, href)
            return
        self._sheet.pictures.append(
            Picture(self._sheet.name, row, column, part, True, " ".join(self._caption))
        )

    def broke(self, _: str) -> dict[bytes, bytes]:
        """Report a broken place; give the tags at which reading can go on."""
        if self._sheet is None:
            self._workbook.note_damage("The list of sheets is damaged; get a fresh copy of the file.")
        else:
            place = cell_name(self._row + 1, self._column + 1)
            says = (
                f"The data of this sheet is broken near {place}: cells there may be missing. "
                "Get a fresh copy of the file, or compare the sheet with the original."
            )
            self._sheet.note_damage(place, "", says)
        if self._row_repeats:
            self._end_row()
        self._cell = self._words = self._remark = None
        self._skipped = self._frames = self._deep = 0
        self._resuming = True
        root, table = self._prefixes["root"], self._prefixes["table"]
        opening = f"<{root}><office:body><office:spreadsheet>"
        return {
            f"<{table}table-row".encode(): f"{opening}<{table}table>".encode(),
            f"<{table}table".encode(): opening.encode(),
        }


def _one_line(data: str) -> str:
    """Give text of an indented file without its line ends and the indents beside them."""
    first, *middle, last = data.split("\n")
    between = [line.strip(" \t") for line in middle]
    return " ".join([first.rstrip(" \t"), *filter(None, between), last.lstrip(" \t")])


def _count(stated: str | None, most: int) -> int:
    """Read a repeat: at least 1, at most what a sheet holds."""
    return min(whole_number(stated) or 1, most)
