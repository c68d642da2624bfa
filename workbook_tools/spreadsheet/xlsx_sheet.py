"""The cells of one sheet of an .xlsx file, in one pass.

    read_sheet    fills a Sheet from its part

Not here: what a cell's type and style make of its value (xlsx_cells), pictures
(xlsx_pictures).
"""

from __future__ import annotations

from array import array

from workbook_tools.spreadsheet.cells import (
    LAST_COLUMN,
    LAST_ROW,
    Cell,
    Picture,
    Range,
    Sheet,
    cell_name,
    column_letters,
    position,
)
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xlsx_cells import (
    MOST_CELLS,
    CellMaker,
    too_many_cells,
    too_many_rows,
    with_formula,
)
from workbook_tools.spreadsheet.xlsx_unread import Unread, without_unread
from workbook_tools.spreadsheet.xml_stream import DEEPEST, local, local_attributes, read_elements

__all__ = ["read_sheet"]

ROW, CELL, VALUE, FORMULA, TEXT, AID, OTHER = range(7)
CODES = {"row": ROW, "c": CELL, "v": VALUE, "f": FORMULA, "t": TEXT, "rPh": AID}


HEADING_ROWS = 20  # in which the heading of a column is looked for
MOST_SHARED = 16_384  # different cells that are kept to be used again; more would cost more than they save
MOST_OTHERS = 3_000_000  # elements that are no cells, and blank cells in a row
MOST_LOOKED_AT = 20_000_000  # cells, when marking the results of array formulas


class Codes(dict[str, int]):
    """Code of an element by its name with whatever prefix."""

    def __missing__(self, tag: str) -> int:
        code = self[tag] = CODES.get(local(tag), OTHER)
        return code


COLUMNS = {column_letters(number): number for number in range(1, 703)}


def read_sheet(package: Package, part: str, sheet: Sheet, maker: CellMaker) -> list[str]:
    """Fill `sheet` from its part; return the relation ids of its drawings.

    One function with the parser's call-backs inside: they run once or twice for every
    cell, and local variables are what makes that cheap.
    """
    cells, made, codes = sheet.cells, maker.made, Codes()
    rest = RestOfSheet(sheet, maker, package.name)
    drops_quiet, quiet = not maker.quiet_formulas, sheet.quiet
    workings, heading_rows = maker.workings, HEADING_ROWS if maker.workings else 0
    left_out: set[int] = set()
    words: list[str] = []
    inline: list[str] = []
    row, row_text, row_digits, rows_seen = 0, "", 0, 0
    column, blank_name = 0, ""  # column -1: that of blank_name
    last = (1, 0)
    given: dict[str, str] = {}  # attributes of the cell being read
    formula_given: dict[str, str] | None = None
    value: str | None = None
    formula = ""
    aids = depth = 0

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal \
            row, \
            row_text, \
            row_digits, \
            rows_seen, \
            column, \
            given, \
            formula_given, \
            value, \
            formula, \
            aids, \
            depth
        code = codes[tag]
        depth += 1
        if depth > DEEPEST:
            raise ValueError("elements too deep")
        if code == CELL:
            given = attributes
            value = formula_given = None
            if inline:
                inline.clear()
        elif code in (VALUE, TEXT):
            words.clear()
        elif code == FORMULA:
            words.clear()
            formula_given = attributes
            formula = ""
        elif code == ROW:
            rows_seen += 1
            if rows_seen > LAST_ROW:
                raise too_many_rows(package.name)
            row, row_text = rest.row_number(attributes.get("r"), row)
            row_digits, column = len(row_text), 0
        elif code == AID:
            aids += 1
        else:
            rest.start(tag, attributes)

    def end(tag: str) -> None:
        nonlocal column, blank_name, last, value, formula, aids, depth, heading_rows
        code = codes[tag]
        depth -= 1
        if code == VALUE:
            value = words[0] if len(words) == 1 else "".join(words)
        elif code == CELL:
            name = given.get("r")
            if value is None and formula_given is None and not inline:  # formatted, but blank
                if name is None:
                    column += 1
                    if column > MOST_OTHERS:
                        raise ValueError("a row without end")
                else:
                    column, blank_name = -1, name
                return
            if name is None:
                if column < 0:
                    column = (position(blank_name) or (0, 0))[1]
                column += 1
                place = (row, column) if column <= LAST_COLUMN else (0, column)
            elif (number := COLUMNS.get(name[:-row_digits])) is not None and name.endswith(row_text):
                column = number
                place = (row, column)
            else:
                found = position(name)
                if found is None:
                    rest.misplaced(name, value or "".join(inline))
                    return
                place = found
                column = place[1]
            if column in left_out and formula_given is not None:
                if formula_given:  # other columns may share the formula
                    rest.formula_cell(None, formula, formula_given, None)
                return
            kind = given.get("t")
            if (
                value == ""
                and drops_quiet
                and formula_given == {}
                and kind in (None, "str")
                and "DISPIMG(" not in formula
            ):
                # A formula that shows nothing, as a live cell that waits for an entry.
                quiet.setdefault(place[1], array("I")).append(place[0])
                return
            if value is None:
                value = "".join(inline)
                if inline:
                    kind = "inlineStr"
            elif kind == "inlineStr" and inline:
                value = "".join(inline)
            key = (kind, given.get("s"), value)
            cell = made.get(key)
            if cell is None:
                new = maker.make(*key)
                if isinstance(new, str):
                    sheet.note_damage(cell_name(*place), value, new)
                    cell = maker.rescue(*key)
                else:
                    cell = new
                    if new is not None and len(made) < MOST_SHARED:
                        made[key] = new
            if formula_given is not None:
                cell = rest.formula_cell(cell, formula, formula_given, given.get("s"))
            if kind == "e" and "vm" in given:
                cell = rest.picture_cell(place, given["vm"], cell)
            elif formula_given is not None and "DISPIMG(" in formula:
                cell = rest.named_picture_cell(place, formula, cell)
            if cell is None:
                return
            if row <= heading_rows and cell.kind == "text" and cell.text.startswith(workings):
                left_out.add(column)
                heading_rows = row  # the others stand in the same row
            if place > last:
                last = place
                cells[place] = cell
            else:
                rest.out_of_order(place, cell)
        elif code == FORMULA:
            formula = "".join(words)
        elif code == TEXT:
            if not aids:
                inline.append("".join(words))
        elif code == ROW:
            if maker.filled + len(cells) > MOST_CELLS:
                raise too_many_cells(package.name)
        elif code == AID:
            aids -= 1

    def broke(_: str) -> dict[bytes, bytes]:
        nonlocal aids, depth
        aids = depth = 0
        where = cell_name(*last) if cells else None
        after = f"after {where}" if where else "before its first filled cell"
        sheet.note_damage(
            where,
            "",
            f"The data of this sheet is broken {after}: cells there may be missing. "
            "Get a fresh copy of the file, or compare the sheet with the original.",
        )
        return rest.where_to_resume()

    unread = Unread(left_out, quiet if drops_quiet else None, heading_rows)
    read_elements(without_unread(package.chunks(part), unread), start, end, words.append, broke)
    rest.finish()
    maker.filled += len(cells)
    if maker.filled > MOST_CELLS:
        raise too_many_cells(package.name)
    return rest.drawings


class RestOfSheet:
    """What few cells need: odd places, formulas, pictures, and the parts around the cells."""

    def __init__(self, sheet: Sheet, maker: CellMaker, file: str) -> None:
        self.file = file
        self.sheet = sheet
        self.maker = maker
        self.drawings: list[str] = []
        self._root = ""
        self._others = 0
        self._shared: dict[str, str] = {}
        self._arrays: list[tuple[str, str]] = []
        self._sort = False

    def row_number(self, stated: str | None, before: int) -> tuple[int, str]:
        """Give row and its text, 0 for a row outside the grid; a row that states none follows the one before."""
        if stated is not None and stated.isascii() and stated.isdigit():
            row = int(stated[:8])
        else:
            row = before + 1
            if stated is not None:
                says = f"The file gives a row the number {stated[:20]}; it is read as row {row}, below the one before."
                self.sheet.note_damage(None, stated, says)
        return (row, str(row)) if 1 <= row <= LAST_ROW else (0, "outside the grid")

    def misplaced(self, name: str, value: str) -> None:
        """Report a filled cell that lies outside the grid."""
        says = f"The file holds a value at {name[:20]}, where no sheet has a cell; it was left out."
        self.sheet.note_damage(None, value, says)

    def out_of_order(self, place: tuple[int, int], cell: Cell) -> None:
        """Take a cell that stands before the last one, or at the same place."""
        cells = self.sheet.cells
        if place[0] < 1:
            return self.misplaced(cell_name(*place), cell.text)
        if place not in cells:
            cells[place] = cell
            self._sort = True
            if len(cells) + self.maker.filled > MOST_CELLS:
                raise too_many_cells(self.file)
        elif cells[place] != cell:
            says = f"The file states this cell twice; the first value, {cells[place].text[:80]}, is read."
            self.sheet.note_damage(cell_name(*place), cell.text, says)
        return None

    def formula_cell(self, cell: Cell | None, formula: str, given: dict[str, str], style: str | None) -> Cell:
        """Mark a cell as the result of a formula, also one that only continues a shared formula."""
        kind = given.get("t") if given else None
        if kind == "shared":
            if formula:
                self._shared[given.get("si", "")] = formula
            else:
                formula = self._shared.get(given.get("si", ""), "")
        elif kind in ("array", "dataTable") and ":" in given.get("ref", ""):
            self._arrays.append((given["ref"], formula))
        return with_formula(cell, formula, None if cell else self.maker.format_of(style))

    def picture_cell(self, place: tuple[int, int], number: str, cell: Cell | None) -> Cell | None:
        """Make a cell of a picture placed in the cell; other rich values stay what they show."""
        return self._picture(place, self.maker.pictures.by_number(number), cell)

    def named_picture_cell(self, place: tuple[int, int], formula: str, cell: Cell | None) -> Cell | None:
        """Make a cell of a picture that a DISPIMG formula names."""
        return self._picture(place, self.maker.pictures.by_formula(formula), cell)

    def _picture(self, place: tuple[int, int], part: str | None, cell: Cell | None) -> Cell | None:
        if part is None:
            return cell
        self.sheet.pictures.append(Picture(self.sheet.name, *place, part, False))
        code = cell.number_format if cell else None
        return Cell("picture", None, "a picture", None, code)

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take what stands around the cells."""
        name = local(tag)
        self._others += 1
        if self._others > MOST_OTHERS:
            raise ValueError("too many elements that are no cells")
        if not self._root:
            self._root = tag
            if name != "worksheet":
                says = "The part of the file that should hold this sheet holds something else; get a fresh copy of it."
                self.sheet.note_damage(None, name, says)
        elif name == "mergeCell":
            reference = attributes.get("ref", "")
            block = _block(reference)
            if block is None:
                says = f"The file merges the cells {reference[:40]}, which is no range; the cells are read unmerged."
                self.sheet.note_damage(None, reference, says)
            else:
                self.sheet.merged.append(block)
        elif name == "drawing":
            self.drawings.append(local_attributes(attributes).get("id", ""))

    def where_to_resume(self) -> dict[bytes, bytes]:
        """Give the tag of a row, and the tags around it, as this part writes them."""
        prefix = self._root[: self._root.rfind(":") + 1]
        opening = f"<{prefix}worksheet><{prefix}sheetData>"
        return {f"<{prefix}row".encode(): opening.encode()}

    def finish(self) -> None:
        """Put the cells in reading order, and mark those that an array formula fills."""
        sheet = self.sheet
        if self._sort:
            sheet.cells = dict(sorted(sheet.cells.items()))
        looked_at = 0
        for reference, formula in self._arrays:
            block = _block(reference)
            if block is None:
                continue
            looked_at += min(block.size, len(sheet.cells))
            if looked_at > MOST_LOOKED_AT:
                says = "There are too many array formulas to follow: some of their results may be read as typed values."
                sheet.note_damage(None, "", says)
                return
            for place in block.places() if block.size < len(sheet.cells) else list(sheet.cells):
                cell = sheet.cells.get(place)
                if cell is not None and cell.formula is None and block.holds(place):
                    sheet.cells[place] = with_formula(cell, formula)


def _block(reference: str) -> Range | None:
    first, _, second = reference.partition(":")
    one, other = position(first), position(second or first)
    if one is None or other is None:
        return None
    return Range(min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1]))
