"""The cells of one sheet of an .xlsx file, in one pass.

    read_sheet     fills a Sheet from its part
    SheetReader    the parser's call-backs, which do it

Not here: what a cell's type and style make of its value (xlsx_cells), formulas that hold for
several cells (xlsx_formulas), pictures (xlsx_pictures), the cells that never get as far as the
parser (xlsx_unread).
"""

from __future__ import annotations

from array import array

from workbook_tools.spreadsheet.cells import (
    LAST_COLUMN,
    LAST_ROW,
    Cell,
    Picture,
    Sheet,
    cell_name,
    column_letters,
    position,
)
from workbook_tools.spreadsheet.number_formats import whole_number
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xlsx_cells import (
    MOST_CELLS,
    CellMaker,
    too_many_cells,
    too_many_rows,
    with_formula,
)
from workbook_tools.spreadsheet.xlsx_formulas import FormulasOfSheet, range_of
from workbook_tools.spreadsheet.xlsx_unread import Unread, without_unread
from workbook_tools.spreadsheet.xml_stream import DEEPEST, LocalNames, local_attributes, read_elements

__all__ = ["SheetReader", "read_sheet"]

HEADING_ROWS = 20  # in which the heading of a column is looked for
MOST_SHARED = 16_384  # different cells that are kept to be used again; more would cost more than they save
MOST_OTHERS = 3_000_000  # elements that are no cells, and blank cells in a row

COLUMNS = {column_letters(number): number for number in range(1, 703)}  # A to ZZ; position() knows the rest
OF_BLANK = -1  # instead of a column: that of the blank cell before, looked up only when asked for


def read_sheet(
    package: Package, part: str, sheet: Sheet, maker: CellMaker, *, quiet_formulas: bool, workings: str
) -> list[str]:
    """Fill `sheet` from its part; return the relation ids of its drawings.

    `quiet_formulas` and `workings` are those of `read_workbook`.
    """
    reader = SheetReader(sheet, maker, package.name, quiet_formulas=quiet_formulas, workings=workings)
    chunks = without_unread(package.chunks(part), reader.unread)
    read_elements(chunks, reader.start, reader.end, reader.text, reader.broke)
    reader.finish()
    return reader.drawings


class SheetReader:
    """The parser's call-backs for one sheet.

    An element's attributes come with its start, its text in between, and what it makes with its
    end: a cell is made when `<c>` ends. The call-backs run five to eight times for every cell; what
    only few cells need stands in methods of its own.
    """

    # With slots the reading of a large sheet takes 4 % fewer machine instructions than without.
    __slots__ = (
        "_blank_name", "_cells", "_column", "_depth", "_file", "_formula", "_formula_given",
        "_formulas", "_given", "_heading_rows", "_in_order", "_inline", "_last", "_made", "_maker",
        "_names", "_others", "_reading_aids", "_root", "_row", "_row_digits", "_row_text",
        "_rows_seen", "_sheet", "_value", "_words", "_workings", "drawings", "text", "unread",
    )  # fmt: skip

    def __init__(
        self, sheet: Sheet, maker: CellMaker, file: str, *, quiet_formulas: bool, workings: str
    ) -> None:
        self.drawings: list[str] = []
        self.unread = Unread(set(), None if quiet_formulas else sheet.quiet, HEADING_ROWS if workings else 0)
        self._sheet, self._cells = sheet, sheet.cells
        self._maker, self._made = maker, maker.made
        self._file = file
        self._workings, self._heading_rows = workings, self.unread.heading_rows
        self._formulas = FormulasOfSheet()
        self._names = LocalNames()
        self._root = ""  # tag of the element around all others
        self._depth = self._others = self._rows_seen = 0
        self._row, self._row_text, self._row_digits = 0, "", 0  # the row being read, as its cells' names end
        self._column, self._blank_name = 0, ""
        self._last = (1, 0)  # the last filled cell
        self._in_order = True
        # What the cell being read states.
        self._given: dict[str, str] = {}
        self._formula_given: dict[str, str] | None = None  # attributes of its formula; None without one
        self._formula = ""
        self._value: str | None = None
        self._inline: list[str] = []  # texts that stand in the cell itself
        self._reading_aids = 0  # depth inside <rPh>, whose text is no part of the cell's
        self._words: list[str] = []  # of the element being read
        self.text = self._words.append

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        """Take an opening tag."""
        name = self._names[tag]
        self._depth += 1
        if self._depth > DEEPEST:
            raise ValueError("elements too deep")
        if name == "c":
            self._given = attributes
            self._value = self._formula_given = None
            if self._inline:
                self._inline.clear()
        elif name == "v" or name == "t":
            self._words.clear()
        elif name == "f":
            self._words.clear()
            self._formula_given = attributes
            self._formula = ""
        elif name == "row":
            self._begin_row(attributes.get("r"))
        elif name == "rPh":
            self._reading_aids += 1
        else:
            self._begin_other(tag, name, attributes)

    def end(self, tag: str) -> None:
        """Take a closing tag."""
        name = self._names[tag]
        self._depth -= 1
        if name == "v":
            self._value = "".join(self._words)
        elif name == "c":
            self._end_cell()
        elif name == "f":
            self._formula = "".join(self._words)
        elif name == "t":
            if not self._reading_aids:
                self._inline.append("".join(self._words))
        elif name == "row":
            if self._maker.filled + len(self._cells) > MOST_CELLS:
                raise too_many_cells(self._file)
        elif name == "rPh":
            self._reading_aids -= 1

    def _begin_row(self, stated: str | None) -> None:
        """Give the row its number; one that states none follows the one before."""
        self._rows_seen += 1
        if self._rows_seen > LAST_ROW:
            raise too_many_rows(self._file)
        row = whole_number(stated)
        if row is None:
            row = self._row + 1
            if stated is not None:
                says = f"The file gives a row the number {stated[:20]}; it is read as row {row}, below the one before."
                self._sheet.note_damage(None, stated, says)
        inside = 1 <= row <= LAST_ROW
        self._row, self._row_text = (row, str(row)) if inside else (0, "outside the grid")
        self._row_digits = len(self._row_text)
        self._column = 0

    def _begin_other(self, tag: str, name: str, attributes: dict[str, str]) -> None:
        """Take what stands around the cells: the root, merged cells, drawings."""
        self._others += 1
        if self._others > MOST_OTHERS:
            raise ValueError("too many elements that are no cells")
        if not self._root:
            self._root = tag
            if name != "worksheet":
                says = "The part of the file that should hold this sheet holds something else; get a fresh copy of it."
                self._sheet.note_damage(None, name, says)
        elif name == "mergeCell":
            reference = attributes.get("ref", "")
            block = range_of(reference)
            if block is None:
                says = f"The file merges the cells {reference[:40]}, which is no range; the cells are read unmerged."
                self._sheet.note_damage(None, reference, says)
            else:
                self._sheet.merged.append(block)
        elif name == "drawing":
            self.drawings.append(local_attributes(attributes).get("id", ""))

    def _end_cell(self) -> None:
        """Make a cell of what was stated since it began, and put it in its place."""
        given, value, with_a_formula = self._given, self._value, self._formula_given is not None
        name = given.get("r")
        if value is None and not with_a_formula and not self._inline:
            self._pass_blank(name)
            return
        # The usual name, C5 in row 5, is taken apart here: a call for every cell costs a twentieth.
        column = None if name is None else COLUMNS.get(name[: -self._row_digits])
        if column is not None and name is not None and name.endswith(self._row_text):
            self._column = column
            place: tuple[int, int] | None = (self._row, column)
        else:
            place = self._unusual_place(name)
        if place is None or (with_a_formula and self._goes_unread(place)):
            return
        kind, style = given.get("t"), given.get("s")
        if value is None or (kind == "inlineStr" and self._inline):
            value = "".join(self._inline)
            if self._inline:
                kind = "inlineStr"
        cell = self._made.get((kind, style, value)) or self._make(place, kind, style, value)
        if with_a_formula:
            cell = self._with_formula(cell, style)
        if (kind == "e" and "vm" in given) or (with_a_formula and "DISPIMG(" in self._formula):
            cell = self._picture_cell(place, kind, cell)
        if cell is None:
            return
        if self._row <= self._heading_rows and cell.kind == "text" and cell.text.startswith(self._workings):
            self.unread.left_out.add(self._column)
            self._heading_rows = self._row  # the others stand in the same row
        if place > self._last:
            self._last = place
            self._cells[place] = cell
        else:
            self._add_out_of_order(place, cell)

    def _pass_blank(self, name: str | None) -> None:
        """Pass a cell that is formatted, but blank; the next may be counted from it."""
        if name is not None:
            self._column, self._blank_name = OF_BLANK, name
            return
        self._column += 1
        if self._column > MOST_OTHERS:
            raise ValueError("a row without end")

    def _unusual_place(self, name: str | None) -> tuple[int, int] | None:
        """Find a cell without a name by the one before, $A$1, AAA1, another row's; None, and reported, if outside."""
        if name is None:
            if self._column == OF_BLANK:
                self._column = (position(self._blank_name) or (0, 0))[1]
            self._column += 1
            return (self._row if self._column <= LAST_COLUMN else 0, self._column)
        place = position(name)
        if place is None:
            self._sheet.note_outside_grid(name[:20], self._value or "".join(self._inline))
        else:
            self._column = place[1]
        return place

    def _is_its_own_or_continued(self) -> bool:
        """Tell whether the formula is stated for this cell alone, or for another cell that it only refers to."""
        stated = self._formula_given
        return not stated or (not self._formula and stated.keys() == {"t", "si"} and stated["t"] == "shared")

    def _goes_unread(self, place: tuple[int, int]) -> bool:
        """Tell whether a formula's result is left out: it stands in such a column, or shows nothing."""
        if self._column in self.unread.left_out:
            if self._formula_given:  # other columns may share the formula
                self._formulas.note(self._formula, self._formula_given)
            return True
        if (
            self.unread.quiet is not None
            and self._value == ""
            and self._is_its_own_or_continued()
            and self._given.get("t") in (None, "str")
            and "DISPIMG(" not in self._formula
        ):
            # As a live cell that waits for an entry.
            self.unread.quiet.setdefault(place[1], array("I")).append(place[0])
            return True
        return False

    def _make(self, place: tuple[int, int], kind: str | None, style: str | None, value: str) -> Cell | None:
        """Make a cell that no other of the file is equal to yet; a damaged one is reported."""
        made = self._maker.make(kind, style, value)
        if isinstance(made, str):
            self._sheet.note_damage(cell_name(*place), value, made)
            return self._maker.rescue(kind, style, value)
        if made is not None and len(self._made) < MOST_SHARED:
            self._made[kind, style, value] = made
        return made

    def _with_formula(self, cell: Cell | None, style: str | None) -> Cell:
        formula = self._formula
        if self._formula_given:
            formula = self._formulas.note(formula, self._formula_given)
        return with_formula(cell, formula, None if cell else self._maker.format_of(style))

    def _picture_cell(self, place: tuple[int, int], kind: str | None, cell: Cell | None) -> Cell | None:
        """Make a cell of a picture that sits in the cell; what is none stays what it shows."""
        pictures = self._maker.pictures
        if kind == "e" and "vm" in self._given:
            part = pictures.by_number(self._given["vm"])
        else:
            part = pictures.by_formula(self._formula)
        if part is None:
            return cell
        self._sheet.pictures.append(Picture(self._sheet.name, *place, part, False))
        return Cell("picture", None, "a picture", None, cell.number_format if cell else None)

    def _add_out_of_order(self, place: tuple[int, int], cell: Cell) -> None:
        """Add a cell that stands before the last one, or at the same place."""
        cells = self._cells
        if place[0] < 1:
            self._sheet.note_outside_grid(cell_name(*place), cell.text)
        elif place not in cells:
            cells[place] = cell
            self._in_order = False
            if len(cells) + self._maker.filled > MOST_CELLS:
                raise too_many_cells(self._file)
        elif cells[place] != cell:
            says = f"The file states this cell twice; the first value, {cells[place].text[:80]}, is read."
            self._sheet.note_damage(cell_name(*place), cell.text, says)

    def broke(self, _: str) -> dict[bytes, bytes]:
        """Report a broken place; give the tag of a row, and those around it, as this part writes them."""
        self._reading_aids = self._depth = 0
        where = cell_name(*self._last) if self._cells else None
        after = f"after {where}" if where else "before its first filled cell"
        self._sheet.note_damage(
            where,
            "",
            f"The data of this sheet is broken {after}: cells there may be missing. "
            "Get a fresh copy of the file, or compare the sheet with the original.",
        )
        prefix = self._root[: self._root.rfind(":") + 1]
        opening = f"<{prefix}worksheet><{prefix}sheetData>"
        return {f"<{prefix}row".encode(): opening.encode()}

    def finish(self) -> None:
        """Put the cells in reading order, and mark those that an array formula fills."""
        if not self._in_order:
            self._sheet.cells = dict(sorted(self._cells.items()))
        self._formulas.mark_array_results(self._sheet)
        self._maker.filled += len(self._sheet.cells)
        if self._maker.filled > MOST_CELLS:
            raise too_many_cells(self._file)
