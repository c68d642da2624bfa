"""Pictures of an .xlsx file: where they sit and which part holds them.

    relations_of         the links of a part to other parts
    relations            those listed in a given .rels part
    drawings_of          each place of the sheet's drawings, with its cell and the parts it links to
    add_pictures         the pictures at one of them, which lie over the cells
    InCellPictures       pictures placed in a cell, which other programs take for an error

The way of a picture in a cell (found by taking such files apart): cell `vm` n ->
metadata valueMetadata[n-1] -> futureMetadata -> rdrichvalue[i] -> its first value k
-> richValueRel[k] -> relation -> media part. Other programs write a DISPIMG formula
with an id and keep the pictures in cellimages.xml.

Not here: the bytes; they stay in the file until asked for.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple, TypeVar

from workbook_tools.spreadsheet.cells import LAST_COLUMN, LAST_ROW, Picture, Sheet
from workbook_tools.spreadsheet.number_formats import whole_number
from workbook_tools.spreadsheet.package import Package
from workbook_tools.spreadsheet.xml_stream import Node

__all__ = ["Anchor", "InCellPictures", "Relation", "add_pictures", "drawings_of", "relations", "relations_of"]

Item = TypeVar("Item")

PICTURE_NAME = re.compile(r'DISPIMG\(\s*"([^"]+)"')


class Relation(NamedTuple):
    """A link: id, the last word of its type, the part it leads to; "" for outside targets."""

    id: str
    kind: str
    target: str


def relations(package: Package, part: str, folder: str) -> list[Relation]:
    """Links listed in a .rels part, for the part that lives in `folder`."""
    tree, _ = package.tree(part)
    found = []
    for node in tree.walk("Relationship"):
        target = node.attributes.get("Target", "").replace("\\", "/")
        if node.attributes.get("TargetMode", "").lower() == "external":
            target = ""
        elif not target.startswith("/"):
            target = posixpath.join(folder, target) if target else ""
        kind = node.attributes.get("Type", "").rpartition("/")[2]
        found.append(Relation(node.attributes.get("Id", ""), kind, target))
    return found


def relations_of(package: Package, part: str) -> list[Relation]:
    """Links of a part, listed in the .rels part beside it."""
    folder, name = posixpath.split(part)
    beside = package.find(posixpath.join(folder, "_rels", name + ".rels"))
    return [] if beside is None else relations(package, beside, folder)


def _targets(package: Package, part: str) -> dict[str, str]:
    """Parts that a part's relation ids lead to."""
    linked = {}
    for relation in relations_of(package, part):
        if relation.target and (found := package.find(relation.target)) is not None:
            linked[relation.id] = found
    return linked


class Anchor(NamedTuple):
    """One place of a drawing: what lies there, the cell under its corner, the parts its links lead to."""

    node: Node
    row: int
    column: int
    media: dict[str, str]


def drawings_of(package: Package, part: str, sheet: Sheet, drawings: list[str]) -> Iterator[Anchor]:
    """Yield every place of the sheet's drawings, in the order of the file."""
    targets = _targets(package, part)
    for drawing in drawings:
        where = targets.get(drawing)
        if where is None:
            says = "The pictures of this sheet are missing from the file; look for them beside the workbook."
            sheet.note_damage(None, drawing, says)
            continue
        tree, breaks = package.tree(where)
        if breaks:
            sheet.note_damage(None, "", "The list of pictures of this sheet is damaged; some may be missing.")
        media = _targets(package, where)
        for anchor in tree.walk("twoCellAnchor", "oneCellAnchor", "absoluteAnchor"):
            yield Anchor(anchor, *_anchor_cell(anchor), media)


def add_pictures(anchor: Anchor, sheet: Sheet) -> None:
    """Add the pictures that lie over the cells at one place."""
    around, row, column, media = anchor
    for node in around.walk("pic"):
        blip = node.first("blip")
        link = blip.attributes.get("embed") if blip is not None else None
        if link is None:
            continue
        if link not in media:
            sheet.note_lost_picture(row, column, link)
            continue
        named = node.first("cNvPr")
        description = named.attributes.get("descr", "") if named is not None else ""
        sheet.pictures.append(Picture(sheet.name, row, column, media[link], True, description))


def _anchor_cell(anchor: Node) -> tuple[int, int]:
    """Cell under the upper left corner; files count from 0."""
    corner = anchor.first("from")
    if corner is None:
        return 0, 0
    numbers = []
    for tag, most in (("row", LAST_ROW), ("col", LAST_COLUMN)):
        node = corner.first(tag)
        number = whole_number(node.text.strip()) if node is not None else None
        if number is None or number >= most:
            return 0, 0
        numbers.append(number + 1)
    return numbers[0], numbers[1]


class InCellPictures:
    """Pictures in cells, looked up when the first such cell turns up."""

    def __init__(self, package: Package, folder: str) -> None:
        self._package = package
        self._folder = folder
        self._numbered: list[str | None] | None = None
        self._named: dict[str, str] | None = None

    def by_number(self, number: str) -> str | None:
        """Part of the picture for a cell's `vm`; None when it is another rich value."""
        if self._numbered is None:
            self._numbered = self._read_numbered()
        index = _index(number)
        return self._numbered[index - 1] if index is not None and 0 < index <= len(self._numbered) else None

    def by_formula(self, formula: str) -> str | None:
        """Part of the picture that a DISPIMG formula names."""
        found = PICTURE_NAME.search(formula)
        if found is None:
            return None
        if self._named is None:
            self._named = self._read_named()
        return self._named.get(found.group(1))

    def _read_named(self) -> dict[str, str]:
        part = self._package.find(posixpath.join(self._folder, "cellimages.xml"))
        if part is None:
            return {}
        tree, _ = self._package.tree(part)
        media = _targets(self._package, part)
        named = {}
        for node in tree.walk("pic"):
            properties, blip = node.first("cNvPr"), node.first("blip")
            if properties is not None and blip is not None:
                target = media.get(blip.attributes.get("embed", ""))
                if target is not None:
                    named[properties.attributes.get("name", "")] = target
        return named

    def _read_numbered(self) -> list[str | None]:
        metadata = self._part("metadata.xml")
        values = self._part("richData/rdrichvalue.xml")
        links = self._part("richData/richValueRel.xml")
        if metadata is None or values is None or links is None:
            return []
        tree, _ = self._package.tree(metadata)
        rich = [node.children for node in self._package.tree(values)[0].walk("rv")]
        rels = [node.attributes.get("id", "") for node in self._package.tree(links)[0].walk("rel")]
        media = _targets(self._package, links)
        futures = []
        for node in tree.walk("futureMetadata"):
            if node.attributes.get("name") == "XLRICHVALUE":
                futures = [bk.first("rvb") for bk in node.children if bk.tag == "bk"]
        listing = tree.first("valueMetadata")
        found: list[str | None] = []
        for bk in listing.children if listing is not None else ():
            record = bk.first("rc")
            future = _at(futures, record.attributes.get("v") if record is not None else None)
            value = _at(rich, future.attributes.get("i") if future is not None else None)
            link = _at(rels, value[0].text if value else None)
            found.append(media.get(link) if link is not None else None)
        return found

    def _part(self, name: str) -> str | None:
        return self._package.find(posixpath.join(self._folder, name))


def _index(text: str | None) -> int | None:
    return whole_number(text.strip()) if text else None


def _at(items: Sequence[Item], text: str | None) -> Item | None:
    index = _index(text)
    return items[index] if index is not None and index < len(items) else None
