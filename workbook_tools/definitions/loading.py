"""From a template file to a checked Template.

    load_template(name_or_path)    follows `extends`, merges, checks; Unusable says file, table and key

How a template extends another: a table of the child is laid over the parent's, key by
key. Columns, choices and findings are lists of tables; an entry with the same `field`,
`name` or `code` is laid over the parent's entry, `remove = true` takes it away, and a new
one is appended (a column: behind the column named by `after`).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from workbook_tools.definitions.model import (
    HOLDS,
    PRIORITIES,
    Choice,
    Column,
    FindingType,
    Firm,
    RuleSetting,
    Sheet,
    Template,
    Vocabulary,
)
from workbook_tools.definitions.stock import stock_path, stock_templates
from workbook_tools.errors import Unusable

__all__ = ["load_template"]

Table = dict[str, Any]
_IDENTITY = {"columns": "field", "choices": "name", "findings": "code"}
_LAYOUTS = ("guide", "labels", "table", "lists")
_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")


def load_template(name_or_path: str | Path = "office") -> Template:
    """Load a stock template by name, or a firm's template by its path.

    Parameters
    ----------
    name_or_path : str or Path
        "office", "retail", "industrial", "school", or a .toml file.

    Raises
    ------
    Unusable
        No such template, or a file that does not hold together: file, table, key.

    Examples
    --------
    >>> load_template("office").by_key["equipment"].by_field["tag"].heading
    'Tag'
    """
    path = _locate(name_or_path)
    merged = _merged(path, seen=())
    return _Checker(path).template(merged)


def _locate(name_or_path: str | Path) -> Path:
    text = str(name_or_path)
    if text.endswith(".toml") or "/" in text or "\\" in text:
        path = Path(text)
        if not path.is_file():
            raise Unusable(f"There is no template file {text}: check the path.")
        return path
    found = stock_path(text)
    if found is None:
        from difflib import get_close_matches

        known = sorted(stock_templates())
        near = get_close_matches(text, known, n=1)
        hint = f" Did you mean {near[0]}?" if near else ""
        raise Unusable(
            f"There is no stock template {text!r}.{hint} The stock templates are {', '.join(known)}; "
            "a template of your own is named by its .toml file."
        )
    return found


def _merged(path: Path, seen: tuple[Path, ...]) -> Table:
    if path.resolve() in seen:
        raise Unusable(f"{path.name}: [template] extends comes back to the same file; end the circle.")
    try:
        table = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise Unusable(f"{path.name} is no TOML file: {error}.") from None
    except UnicodeDecodeError:
        raise Unusable(f"{path.name} is not UTF-8 text; save it as UTF-8.") from None
    except OSError as error:
        raise Unusable(f"{path.name} cannot be read: {error.strerror}.") from None
    parent = table.get("template", {}).get("extends")
    if parent is None:
        return table
    beside = path.parent / f"{parent}.toml"
    parent_path = beside if beside.is_file() else stock_path(str(parent))
    if parent_path is None:
        raise Unusable(
            f"{path.name}: [template] extends names {parent!r}, which is neither a stock template nor a file beside it."
        )
    return _lay_over(_merged(parent_path, (*seen, path.resolve())), table)


def _lay_over(parent: Table, child: Table) -> Table:
    out = dict(parent)
    for key, value in child.items():
        if key in _IDENTITY and isinstance(value, list):
            out[key] = _lay_list(parent.get(key, []), value, _IDENTITY[key])
        elif isinstance(value, dict) and isinstance(parent.get(key), dict):
            out[key] = _lay_over(parent[key], value)
        else:
            out[key] = value
    return out


def _lay_list(parent: list[Table], child: list[Table], identity: str) -> list[Table]:
    out = [dict(entry) for entry in parent]
    for entry in child:
        places = [i for i, old in enumerate(out) if old.get(identity) == entry.get(identity)]
        if entry.get("remove"):
            out = [old for i, old in enumerate(out) if i not in places]
        elif places:
            out[places[0]] = {**out[places[0]], **entry}
        else:
            behind = [i for i, old in enumerate(out) if old.get(identity) == entry.get("after")]
            out.insert(behind[0] + 1 if behind else len(out), entry)
    return out


class _Checker:
    """Builds the objects and says which file, table and key is wrong."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def wrong(self, table: str, key: str, says: str) -> Unusable:
        return Unusable(f"{self.path.name}: [{table}] {key} {says}.")

    def take(self, table: Table, where: str, key: str, kind: type, default: Any = None) -> Any:
        value = table.get(key, default)
        if value is None:
            raise self.wrong(where, key, "is missing")
        if kind is float and isinstance(value, int) and not isinstance(value, bool):
            value = float(value)
        if not isinstance(value, kind) or (kind is not bool and isinstance(value, bool)):
            wanted = {str: "text", bool: "true or false", float: "a number", list: "a list", dict: "a table"}[kind]
            raise self.wrong(where, key, f"is {value!r}; {wanted} was expected")
        return value

    def texts(self, table: Table, where: str, key: str) -> tuple[str, ...]:
        values = self.take(table, where, key, list, [])
        if not all(isinstance(v, str) for v in values):
            raise self.wrong(where, key, f"is {values!r}; a list of texts was expected")
        return tuple(values)

    def known(self, table: Table, where: str, allowed: set[str]) -> None:
        from difflib import get_close_matches

        for key in table.keys() - allowed:
            near = get_close_matches(key, allowed, n=1)
            hint = f"; did you mean {near[0]}" if near else ""
            raise self.wrong(where, key, f"is no key of this table{hint}")

    def one_of(self, value: str, allowed: tuple[str, ...], where: str, key: str) -> str:
        if value not in allowed:
            raise self.wrong(where, key, f"is {value!r}; one of {', '.join(allowed)} was expected")
        return value

    def template(self, table: Table) -> Template:
        self.known(
            table, "file", {"template", "firm", "sheets", "vocabulary", "findings", "outside_sources", "rules", "cautions"}
        )
        head = self.take(table, "file", "template", dict)
        self.known(
            head,
            "template",
            {"name", "title", "line", "extends", "code_profile", "amendments", "dimension_unit", "sheet_order"},
        )
        vocabularies = {
            name: self.vocabulary(name, entry)
            for name, entry in self.take(table, "file", "vocabulary", dict).items()
        }
        entries = self.take(table, "file", "sheets", dict)
        order = self.texts(head, "template", "sheet_order") or tuple(entries)
        for key in order:
            if key not in entries:
                raise self.wrong("template", "sheet_order", f"names {key!r}, which [sheets] does not have")
        sheets = tuple(self.sheet(key, entries[key], vocabularies) for key in order)
        self.distinct_names(sheets)
        kinds = vocabularies["kind"].names if "kind" in vocabularies else ()
        for sheet in sheets:
            for column in sheet:
                for kind in (*column.required_for, *column.optional_for):
                    if kind not in kinds:
                        raise self.wrong(
                            f"sheets.{sheet.key}", column.field, f"is required by kind {kind!r}, which is no kind"
                        )
        return Template(
            name=self.take(head, "template", "name", str, self.path.stem),
            title=self.take(head, "template", "title", str),
            line=self.take(head, "template", "line", str, ""),
            path=str(self.path),
            sheets=sheets,
            vocabularies=vocabularies,
            findings=tuple(map(self.finding, self.take(table, "file", "findings", list, []))),
            outside_sources=self.texts(table, "file", "outside_sources"),
            firm=self.firm(self.take(table, "file", "firm", dict)),
            rules={slug: self.rule(slug, entry) for slug, entry in self.take(table, "file", "rules", dict, {}).items()},
            code_profile=self.take(head, "template", "code_profile", str),
            amendments=self.amendments(head),
            dimension_unit=self.one_of(
                self.take(head, "template", "dimension_unit", str, "in"),
                ("in", "ft", "mm", "cm", "m"),
                "template",
                "dimension_unit",
            ),
            cautions=self.texts(table, "file", "cautions"),
        )

    def amendments(self, head: Table) -> str:
        name = self.take(head, "template", "amendments", str, "")
        if not name:
            return ""
        path = self.path.parent / name
        if not path.is_file():
            raise self.wrong("template", "amendments", f"names {name!r}, and there is no such file beside the template")
        return str(path)

    def distinct_names(self, sheets: tuple[Sheet, ...]) -> None:
        seen: set[str] = set()
        for sheet in sheets:
            name = sheet.name.casefold()
            if name in seen or len(sheet.name) > 31 or re.search(r"[\[\]:*?/\\]|^'|'$|^history$", name):
                raise self.wrong(
                    f"sheets.{sheet.key}",
                    "name",
                    f"is {sheet.name!r}; a sheet name is used once, has at most 31 characters and none of [ ] : * ? / \\",
                )
            seen.add(name)

    def vocabulary(self, name: str, table: Table) -> Vocabulary:
        where = f"vocabulary.{name}"
        self.known(table, where, {"choices", "open"})
        choices = []
        for entry in self.take(table, where, "choices", list):
            entry = {"name": entry} if isinstance(entry, str) else entry
            self.known(entry, f"{where}.choices", {"name", "also_called", "in_scope", "ask", "after", "remove"})
            choices.append(
                Choice(
                    self.take(entry, where, "name", str),
                    self.texts(entry, where, "also_called"),
                    self.take(entry, where, "in_scope", bool, True),
                    self.take(entry, where, "ask", str, ""),
                )
            )
        return Vocabulary(name, tuple(choices), self.take(table, where, "open", bool, False))

    def sheet(self, key: str, table: Table, vocabularies: Mapping[str, Vocabulary]) -> Sheet:
        where = f"sheets.{key}"
        self.known(table, where, {"name", "layout", "also_called", "ask", "columns"})
        columns = tuple(
            self.column(where, entry, vocabularies) for entry in self.take(table, where, "columns", list, [])
        )
        for attribute, kind in (("field", "field"), ("heading", "heading")):
            seen: set[str] = set()
            for column in columns:
                value = getattr(column, attribute).casefold()
                if value in seen:
                    raise self.wrong(where, kind, f"{value!r} is used twice")
                seen.add(value)
        return Sheet(
            key,
            self.take(table, where, "name", str),
            self.one_of(self.take(table, where, "layout", str, "table"), _LAYOUTS, where, "layout"),
            self.texts(table, where, "also_called"),
            self.take(table, where, "ask", str, ""),
            columns,
        )

    def column(self, sheet: str, table: Table, vocabularies: Mapping[str, Vocabulary]) -> Column:
        where = f"{sheet}.columns.{table.get('field', '?')}"
        known = set(Column.__dataclass_fields__) | {"after", "remove"}
        self.known(table, where, known)
        live = self.take(table, where, "live", str, "")
        vocabulary = self.take(table, where, "vocabulary", str, "")
        if vocabulary and vocabulary not in vocabularies:
            raise self.wrong(where, "vocabulary", f"is {vocabulary!r}; no [vocabulary.{vocabulary}] is defined")
        ask = self.take(table, where, "ask", str, "")
        if not live and not 0 < len(ask) <= 255:
            raise self.wrong(where, "ask", "must say in 1 to 255 characters what to fill in")
        holds = self.one_of(self.take(table, where, "holds", str, "text"), HOLDS, where, "holds")
        if holds == "choice" and not vocabulary:
            raise self.wrong(where, "vocabulary", "is missing: a choice needs one")
        return Column(
            field=self.take(table, where, "field", str),
            heading=self.take(table, where, "heading", str),
            holds=holds,
            also_called=self.texts(table, where, "also_called"),
            ask=ask,
            required=self.take(table, where, "required", bool, False),
            required_for=self.texts(table, where, "required_for"),
            optional_for=self.texts(table, where, "optional_for"),
            vocabulary=vocabulary,
            words=self.texts(table, where, "words"),
            refers_to=self.texts(table, where, "refers_to"),
            unit=self.take(table, where, "unit", str, ""),
            plausible=self.plausible(table, where),
            default=self.take(table, where, "default", str, ""),
            width=self.take(table, where, "width", float, 12.0),
            live=live,
        )

    def plausible(self, table: Table, where: str) -> tuple[float, float] | None:
        pair = self.take(table, where, "plausible", list, [])
        if not pair:
            return None
        numbers = [float(n) for n in pair if isinstance(n, (int, float)) and not isinstance(n, bool)]
        if len(numbers) != 2 or len(pair) != 2 or numbers[0] > numbers[1]:
            raise self.wrong(where, "plausible", f"is {pair!r}; [lowest, highest] was expected")
        return numbers[0], numbers[1]

    def finding(self, table: Table) -> FindingType:
        where = f"findings.{table.get('code', '?')}"
        fields = FindingType.__dataclass_fields__
        self.known(table, where, {*fields, "after", "remove"})
        text: Callable[[str], str] = lambda key: self.take(  # noqa: E731
            table, where, key, str, None if key in ("code", "name", "priority") else ""
        )
        values = {
            key: self.texts(table, where, key) if key in ("also_called", "disagrees_with") else text(key)
            for key in fields
        }
        self.one_of(str(values["priority"]), PRIORITIES, where, "priority")
        return FindingType(**values)  # type: ignore[arg-type]  # checked key by key above

    def firm(self, table: Table) -> Firm:
        self.known(table, "firm", {"name", "lines", "colour", "accent", "paper"})
        colours = {key: self.take(table, "firm", key, str, getattr(Firm("x"), key)) for key in ("colour", "accent")}
        for key, value in colours.items():
            if not _COLOUR.fullmatch(value):
                raise self.wrong("firm", key, f"is {value!r}; a colour is written like #22505A")
        return Firm(
            name=self.take(table, "firm", "name", str),
            lines=self.texts(table, "firm", "lines"),
            paper=self.one_of(self.take(table, "firm", "paper", str, "letter"), ("letter", "a4"), "firm", "paper"),
            **colours,
        )

    def rule(self, slug: str, table: Table) -> RuleSetting:
        where = f"rules.{slug}"
        self.known(table, where, {"off", "priority", "reason"})
        priority = self.take(table, where, "priority", str, "")
        if priority:
            self.one_of(priority, PRIORITIES, where, "priority")
        reason = self.take(table, where, "reason", str, "")
        if not reason:
            raise self.wrong(where, "reason", "is missing: the schedule says why a rule was changed")
        return RuleSetting(slug, self.take(table, where, "off", bool, False), priority, reason)
