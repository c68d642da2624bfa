"""Texts of an .xlsx sheet that stand in no cell: comments, threads of comments, text boxes.

    read_comments(package, part, sheet)    comments of a sheet, as Remarks
    text_boxes(anchor, row, column, sheet) the texts of the shapes at one place of a drawing

A thread of comments lies in a part of its own; the older part then holds a copy of it for programs that know no
threads, under a sentence of the program's. The copy is left out. How the parts are named and linked was found by
taking such files apart.

Not here: pictures (xlsx_pictures).
"""

from __future__ import annotations

from workbook_tools.spreadsheet.cells import Sheet, position
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xlsx_pictures import relations_of
from workbook_tools.spreadsheet.xml_stream import Node, local, local_attributes, read_elements

__all__ = ["read_comments", "text_boxes"]

_COPY_OF_A_THREAD = "[Threaded comment]"
_DAMAGED = "The comments of this sheet are damaged; some may be missing."


def read_comments(package: Package, part: str, sheet: Sheet) -> None:
    """Add the comments that belong to the part of a sheet."""
    linked = relations_of(package, part)
    threaded: set[str] = set()
    for kind, tag in (("threadedComment", "threadedComment"), ("comments", "comment")):
        for relation in linked:
            where = package.find(relation.target) if relation.kind == kind and relation.target else None
            if where is None:
                if relation.kind == kind:
                    sheet.note_damage(
                        None, relation.target, "The comments of this sheet are missing from the file."
                    )
                continue
            reader = _Comments(sheet, tag, threaded if kind == "comments" else frozenset())
            if read_elements(package.chunks(where), reader.start, reader.end, reader.text):
                sheet.note_damage(None, "", _DAMAGED)
            threaded |= reader.places


class _Comments:
    """The parser's call-backs for one part."""

    def __init__(self, sheet: Sheet, tag: str, threaded: set[str] | frozenset[str]) -> None:
        self.places: set[str] = set()
        self._sheet, self._tag, self._threaded = sheet, tag, threaded
        self._place = ""
        self._text: list[str] = []
        self._words: list[str] = []
        self._aids = 0

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        name = local(tag)
        if name == self._tag:
            self._place = local_attributes(attributes).get("ref", "")
            self._text.clear()
        self._aids += name == "rPh"
        self._words.clear()

    def text(self, data: str) -> None:
        if len(self._words) < 10_000:
            self._words.append(data)

    def end(self, tag: str) -> None:
        name = local(tag)
        if name in ("t", "text") and not self._aids:
            self._text.append("".join(self._words))
        elif name == "rPh":
            self._aids -= 1
        elif name == self._tag:
            self._end_comment()
        self._words.clear()

    def _end_comment(self) -> None:
        text = "".join(self._text)
        self._text.clear()
        if self._place in self._threaded and text.startswith(_COPY_OF_A_THREAD):
            return
        self.places.add(self._place)
        self._sheet.note_remark(*(position(self._place) or (0, 0)), text.strip(), "comment")


def text_boxes(anchor: Node, row: int, column: int, sheet: Sheet) -> None:
    """Add the texts of the shapes at one place of a drawing, each once: some stand there in two forms."""
    seen: set[str] = set()
    for shape in anchor.walk("sp"):
        body = shape.first("txBody")
        if body is None:
            continue
        lines = ("".join(run.text for run in paragraph.walk("t")) for paragraph in body.walk("p"))
        text = "\n".join(lines).strip()
        if text not in seen:
            seen.add(text)
            sheet.note_remark(row, column, text, "text box")
