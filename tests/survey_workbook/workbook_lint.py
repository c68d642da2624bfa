"""Limits of spreadsheet files that validators of the file format do not look at.

    lint(path)    sentences about what a spreadsheet program would refuse, cut or repair

Looks at: lengths of texts, titles, messages, lists, formulas and of the texts inside them;
sheet names; defined names; merged ranges; numbers that are none; balance and functions of formulas; indexes of styles and
conditional formats; ranges; items of inline lists; formulas whose stored result is 0 although the
row is blank. Limits: Microsoft's published specifications and limits (common practice), checked by
planting each fault.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

__all__ = ["WHITELIST", "lint"]

# Right in LibreOffice, gnumeric and IronCalc when recalculated there; none needs a prefix in the file.
WHITELIST = frozenset(
    [
        "IF",
        "IFERROR",
        "AND",
        "OR",
        "NOT",
        "ISNUMBER",
        "ISBLANK",
        "ISTEXT",
        "ISERROR",
        "ISNA",
        "LEN",
        "INDEX",
        "MATCH",
        "VLOOKUP",
        "LOOKUP",
        "CHOOSE",
        "SUM",
        "SUMIF",
        "SUMIFS",
        "COUNT",
        "COUNTA",
        "COUNTBLANK",
        "COUNTIF",
        "COUNTIFS",
        "AVERAGEIFS",
        "SUMPRODUCT",
        "MAX",
        "MIN",
        "SMALL",
        "LARGE",
        "RANK",
        "ROUND",
        "ROUNDUP",
        "INT",
        "TRUNC",
        "MOD",
        "ABS",
        "SQRT",
        "POWER",
        "VALUE",
        "SUBSTITUTE",
        "FIND",
        "SEARCH",
        "LEFT",
        "MID",
        "RIGHT",
        "TRIM",
        "CLEAN",
        "UPPER",
        "LOWER",
        "REPT",
        "EXACT",
        "TEXT",
        "CHAR",
        "CONCATENATE",
        "ROW",
        "COLUMN",
        "ROWS",
        "HYPERLINK",
        "DATE",
        "YEAR",
        "TODAY",
        "N",
        "T",
    ]
)
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_LAST_ROW, _LAST_COLUMN = 1_048_576, 16_384
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?(?:[eE][-+]?[0-9]+)?")
_CELL = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")


def lint(path: Path) -> list[str]:
    """Return what is wrong with a workbook, in sentences; an empty list is a clean one."""
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist() if name.endswith(".xml")}
    return list(_Lint(parts).faults())


class _Lint:
    def __init__(self, parts: dict[str, bytes]) -> None:
        self.parts = parts
        self.workbook = ElementTree.fromstring(parts["xl/workbook.xml"])
        styles = ElementTree.fromstring(parts["xl/styles.xml"])
        self.formats = len(styles.findall(f"{_MAIN}cellXfs/{_MAIN}xf"))
        self.tints = len(styles.findall(f"{_MAIN}dxfs/{_MAIN}dxf"))
        self.names = [sheet.get("name", "") for sheet in self.workbook.iter(f"{_MAIN}sheet")]

    def faults(self) -> Iterator[str]:
        yield from self.sheet_names()
        yield from self.defined_names()
        if "xl/sharedStrings.xml" in self.parts:
            for item in ElementTree.fromstring(self.parts["xl/sharedStrings.xml"]):
                text = "".join(t.text or "" for t in item.iter(f"{_MAIN}t"))
                if len(text) > 32_767:
                    yield f"text of {len(text)} characters: {text[:30]!r}"
        sheets = sorted(name for name in self.parts if re.fullmatch(r"xl/worksheets/sheet[0-9]+\.xml", name))
        for part in sheets:
            for fault in self.sheet(ElementTree.fromstring(self.parts[part])):
                yield f"{part}: {fault}"

    def sheet_names(self) -> Iterator[str]:
        folded = [name.casefold() for name in self.names]
        for name in self.names:
            if (
                not 0 < len(name) <= 31
                or re.search(r"[\[\]:*?/\\]", name)
                or name[0] == "'"
                or name[-1] == "'"
            ):
                yield f"sheet name {name!r}"
            if name.casefold() == "history" or folded.count(name.casefold()) > 1:
                yield f"sheet name {name!r} is reserved or used twice"

    def defined_names(self) -> Iterator[str]:
        for defined in self.workbook.iter(f"{_MAIN}definedName"):
            name, target = defined.get("name", ""), defined.text or ""
            if re.fullmatch(r"[A-Za-z]{1,3}[0-9]+|[RrCc]|[Rr][0-9]*[Cc][0-9]*", name):
                yield f"defined name {name!r} looks like a cell"
            if "#REF!" in target or not self.leads_somewhere(target):
                yield f"defined name {name!r} points nowhere: {target}"

    def leads_somewhere(self, formula: str) -> bool:
        named = re.findall(r"'((?:[^']|'')+)'!|(?<![\w'])([A-Za-z_][\w.]*)!", re.sub(r'"[^"]*"', "", formula))
        return all((quoted.replace("''", "'") or bare) in self.names for quoted, bare in named)

    def sheet(self, root: ElementTree.Element) -> Iterator[str]:
        yield from self.cells(root)
        yield from self.ranges(root)
        yield from self.validations(root)
        for rule in root.iter(f"{_MAIN}cfRule"):
            if rule.get("dxfId") is not None and int(rule.get("dxfId", "0")) >= self.tints:
                yield f"conditional format {rule.get('dxfId')} is not defined"
            for formula in rule.findall(f"{_MAIN}formula"):
                yield from self.formula(formula.text or "", "conditional format")
                if "!" in re.sub(r'"[^"]*"', "", formula.text or ""):
                    yield f"conditional format looks at another sheet: {formula.text}"

    def cells(self, root: ElementTree.Element) -> Iterator[str]:
        for row in root.iter(f"{_MAIN}row"):
            typed, zeros = False, []
            for cell in row.findall(f"{_MAIN}c"):
                place, formula, value = cell.get("r", ""), cell.find(f"{_MAIN}f"), cell.find(f"{_MAIN}v")
                if int(cell.get("s", "0")) >= self.formats:
                    yield f"{place}: format {cell.get('s')} is not defined"
                if not _inside(place):
                    yield f"{place} is outside the sheet"
                # A formula whose result is a blank text has an empty value.
                stored = (
                    None if value is None or (formula is not None and not value.text) else value.text or ""
                )
                if stored is not None and cell.get("t", "n") == "n" and not _NUMBER.fullmatch(stored):
                    yield f"{place}: {stored!r} is stored as a number"
                if formula is not None:
                    yield from self.formula(formula.text or "", place)
                    if value is not None and value.text == "0" and cell.get("t") != "str":
                        zeros.append(place)
                elif value is not None:
                    typed = True
            if zeros and not typed:
                yield f"{', '.join(zeros[:3])}: a result of 0 is stored in a blank row"

    def formula(self, formula: str, place: str) -> Iterator[str]:
        if len(formula) > 8_192:
            yield f"{place}: formula of {len(formula)} characters"
        literals = re.findall(r'"((?:[^"]|"")*)"', formula)
        if any(len(literal.replace('""', '"')) > 255 for literal in literals):
            yield f"{place}: a text of more than 255 characters inside a formula"
        bare = re.sub(r'"(?:[^"]|"")*"', "", formula)
        outside = re.sub(r"'(?:[^']|'')*'!", "", bare)
        if outside.count("(") != outside.count(")") or '"' in bare:
            yield f"{place}: unbalanced formula {formula[:60]}"
        depth = deepest = 0
        for sign in outside:
            depth += (sign == "(") - (sign == ")")
            deepest = max(deepest, depth)
        if deepest > 64:
            yield f"{place}: {deepest} levels of brackets; 64 are possible"
        for function in set(re.findall(r"([A-Za-z_.][\w.]*)\(", outside)):
            if function not in WHITELIST:
                yield f"{place}: function {function} is not one that every program computes"
        if not self.leads_somewhere(formula):
            yield f"{place}: the formula names a sheet that is not there"
        if "#REF!" in bare:
            yield f"{place}: a reference that leads nowhere"

    def ranges(self, root: ElementTree.Element) -> Iterator[str]:
        merged = [_corners(cell.get("ref", "")) for cell in root.iter(f"{_MAIN}mergeCell")]
        for number, one in enumerate(merged):
            for other in merged[number + 1 :]:
                if one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]:
                    yield f"merged ranges overlap at row {one[1]}"
        for element in root.iter():
            for area in (element.get("sqref") or "").split():
                if not all(map(_inside, area.split(":"))):
                    yield f"range {area} is outside the sheet"

    def validations(self, root: ElementTree.Element) -> Iterator[str]:
        for rule in root.iter(f"{_MAIN}dataValidation"):
            place = rule.get("sqref", "")
            for name, most in (("promptTitle", 32), ("errorTitle", 32), ("prompt", 255), ("error", 255)):
                if len(rule.get(name) or "") > most:
                    yield f"{place}: {name} of {len(rule.get(name) or '')} characters; {most} are possible"
            kind, source = rule.get("type", "none"), rule.findtext(f"{_MAIN}formula1") or ""
            if kind not in ("none", "list", "custom"):
                yield f"{place}: a {kind} validation refuses every number typed into a text cell"
            if kind == "list" and source.startswith('"'):
                if len(source) - 2 > 255:
                    yield f"{place}: inline list of {len(source) - 2} characters"
                if '"' in source[1:-1]:
                    yield f"{place}: inline list with a quotation mark in an item"
            elif kind == "list":
                yield from self.formula(source, place)


def _corners(area: str) -> tuple[int, int, int, int]:
    first, _, last = area.partition(":")
    places = []
    for cell in (first, last or first):
        found = _CELL.fullmatch(cell)
        column = 0
        for letter in found[1] if found else "":
            column = column * 26 + ord(letter) - 64
        places += [column, int(found[2]) if found else 0]
    return places[0], places[1], places[2], places[3]


def _inside(cell: str) -> bool:
    column, row, _, _ = _corners(cell)
    return 0 < column <= _LAST_COLUMN and 0 < row <= _LAST_ROW
