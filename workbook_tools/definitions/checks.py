"""The check of a merged template: types, names, spellings, and what hangs together.

    Checker(path, files).template(table)    the Template, or Unusable with file, table and key

Each method builds one kind of object. A sentence names the file of the chain in which the
table and the key stand, so that a firm is never sent to a file that is right.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields, replace
from enum import Enum
from functools import partial
from typing import TypeVar

from workbook_tools.definitions.checked_tables import CheckedTables, Table, shown
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
    spelling,
)
from workbook_tools.definitions.relied_on import IDENTITY, LAYOUTS, LENGTH_UNITS, LIVE_NEEDS, NAMES, SHEETS
from workbook_tools.definitions.work import USUAL, Work
from workbook_tools.electrical import KINDS

__all__ = ["Checker"]

_Word = TypeVar("_Word", bound=Enum)
_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
_FIELD = re.compile(r"[a-z][a-z0-9_]*")
_TOP = (
    "template",
    "include",
    "firm",
    "sheets",
    "vocabulary",
    "findings",
    "outside_sources",
    "rules",
    "cautions",
)
_HEAD = (
    "name", "title", "line", "extends", "code_profile", "amendments", "dimension_unit", "sheet_order", "findings_first",
)  # fmt: skip


class Checker(CheckedTables):
    """Builds the objects and says which file, table and key is wrong.

    Parameters
    ----------
    path : Path
        The template that was asked for.
    files : sequence of (Path, dict)
        The chain it was merged from, itself first: what a sentence names.
    """

    def template(self, table: Table) -> Template:
        """Build the template."""
        self.written_once()
        self.known(table, "file", _TOP)
        head = self.take(table, "file", "template", dict)
        self.known(head, "template", _HEAD)
        vocabularies = {
            name: self._vocabulary(name, self.take(entries, "vocabulary", name, dict))
            for entries in [self.take(table, "file", "vocabulary", dict)]
            for name in entries
        }
        sheets = self._sheets(self.take(table, "file", "sheets", dict), head, vocabularies)
        rules = self.take(table, "file", "rules", dict, {})
        profiles = vocabularies["code_profile"].names if "code_profile" in vocabularies else ()
        return Template(
            name=self.name({"name": self.path.stem, **head}, "template", "name"),
            title=self.name(head, "template", "title"),
            line=self.text(head, "template", "line", ""),
            path=str(self.path),
            sheets=sheets,
            vocabularies=vocabularies,
            findings=self._findings(table, head, sheets, vocabularies),
            outside_sources=self._outside_sources(table),
            firm=self._firm(self.take(table, "file", "firm", dict)),
            rules={slug: self._rule(slug, self.take(rules, "rules", slug, dict)) for slug in rules},
            code_profile=self.one_of(
                self.text(head, "template", "code_profile"), profiles, "template", "code_profile"
            ),
            amendments=self._amendments(head),
            dimension_unit=self.one_of(
                self.text(head, "template", "dimension_unit", "in"),
                LENGTH_UNITS,
                "template",
                "dimension_unit",
            ),
            cautions=self.texts(table, "file", "cautions"),
        )

    def _amendments(self, head: Table) -> str:
        name = self.text(head, "template", "amendments", "")
        if not name:
            return ""
        path = self.home("template", "amendments").parent / name
        try:
            found = path.is_file()
        except (OSError, ValueError):
            found = False
        if not found:
            raise self.wrong(
                "template", "amendments", f"names {name!r}, and there is no such file beside the template"
            )
        return str(path)

    def _outside_sources(self, table: Table) -> tuple[str, ...]:
        names = self.texts(table, "file", "outside_sources")
        for name in names:
            if not spelling(name) or re.search(r"[;,]|\d\s*$", name):
                raise self.wrong(
                    "file",
                    "outside_sources",
                    f"holds {name!r}; a name without ; or , and without a number at its end was expected",
                )
        self.claimed_once(((repr(i), n) for i, n in enumerate(names)), "file", "outside_sources")
        return names

    def _sheets(
        self, entries: Table, head: Table, vocabularies: Mapping[str, Vocabulary]
    ) -> tuple[Sheet, ...]:
        order = self.texts(head, "template", "sheet_order") or tuple(entries)
        for i, key in enumerate(order):
            if key not in entries:
                raise self.wrong("template", "sheet_order", f"names {key!r}, which [sheets] does not have")
            if key in order[:i]:
                raise self.wrong("template", "sheet_order", f"names {key!r} twice")
        for key in entries:
            if key not in order and key not in IDENTITY:
                raise self.wrong(
                    "sheets", key, "is missing in [template] sheet_order; put it where it belongs"
                )
        sheets = tuple(
            replace(self._sheet(key, self.take(entries, "sheets", key, dict), vocabularies), position=place)
            for place, key in enumerate(order)
        )
        by_key = {sheet.key: sheet for sheet in sheets}
        for key, layout in SHEETS.items():
            if key not in by_key:
                raise self.wrong(
                    "template", "sheet_order", f"leaves out {key!r}, which no survey workbook can do without"
                )
            if by_key[key].layout != layout:
                raise self.wrong(
                    f"sheets.{key}", "layout", f"is {by_key[key].layout!r}; {layout} was expected"
                )
        self._distinct_names(sheets)
        kinds = vocabularies["kind"].names if "kind" in vocabularies else ()
        for sheet in sheets:
            for column in sheet:
                self._hangs_together(sheet, column, by_key, kinds)
        return sheets

    def _hangs_together(
        self, sheet: Sheet, column: Column, by_key: Mapping[str, Sheet], kinds: tuple[str, ...]
    ) -> None:
        where = f"sheets.{sheet.key}.columns.{column.field}"
        for key, named in (("required_for", column.required_for), ("optional_for", column.optional_for)):
            for kind in named:
                if kind not in kinds:
                    raise self.wrong(
                        where, key, f"names the kind {kind!r}, which [vocabulary.kind] does not have"
                    )
        for other in column.refers_to:
            if other not in by_key or by_key[other].layout != "table":
                raise self.wrong(
                    where, "refers_to", f"names {other!r}, which is no table sheet of this template"
                )
        for needed in LIVE_NEEDS.get(column.live, ()):
            if needed not in sheet.by_field:
                raise self.wrong(
                    where, "live", f"is {column.live!r}, which needs the column {needed!r} on this sheet"
                )

    def _distinct_names(self, sheets: tuple[Sheet, ...]) -> None:
        seen: dict[str, Sheet] = {}
        chain = [path for path, _ in self.files]
        for sheet in sheets:
            name = sheet.name.casefold()
            # "History" is a name that one spreadsheet program keeps for itself.
            if len(sheet.name) > 31 or re.search(r"[\[\]:*?/\\]|^'|'$|^history$", name):
                raise self.wrong(
                    f"sheets.{sheet.key}",
                    "name",
                    f"is {sheet.name!r}; at most 31 characters and none of [ ] : * ? / \\ were expected",
                )
            if name in seen:
                # Of the two, the sheet that the later file of the chain named is the one to change.
                tables = [f"sheets.{seen[name].key}", f"sheets.{sheet.key}"]
                where = min(tables, key=lambda table: chain.index(self.home(table, "name")))
                other = tables[1 - tables.index(where)]
                raise self.wrong(where, "name", f"is {sheet.name!r}, which is the name of [{other}] too")
            seen[name] = sheet

    def _vocabulary(self, name: str, table: Table) -> Vocabulary:
        where = f"vocabulary.{name}"
        self.known(table, where, ("choices", "open"))
        choices = tuple(
            self._choice(f"{where}.choices", entry) for entry in self.tables(table, where, "choices", "name")
        )
        if not choices:
            raise self.wrong(where, "choices", "is empty; at least one choice was expected")
        self.claimed_once(((c.name, s) for c in choices for s in (c.name, *c.also_called)), where, "choices")
        for choice in choices:
            if choice.like:
                self._likened(where, choice)
        for needed in NAMES.get(name, ()):
            if needed not in [choice.name for choice in choices]:
                raise self.wrong(
                    where,
                    "choices",
                    f"lacks {needed!r}, which the rules go by; keep it, with other spellings in also_called",
                )
        if name == "priority" and [choice.name for choice in choices] != list(PRIORITIES):
            raise self.wrong(where, "choices", f"must be {', '.join(PRIORITIES)}, most urgent first")
        if name == "dimension_unit":
            for choice in choices:
                self.one_of(choice.name, LENGTH_UNITS, where, "choices")
        return Vocabulary(name, choices, self.take(table, where, "open", bool, False))

    def _choice(self, where: str, entry: Table) -> Choice:
        self.known(entry, where, ("name", "also_called", "in_scope", "ask", "like"))
        return Choice(
            self.name(entry, where, "name"),
            self.spellings(entry, where),
            self.take(entry, where, "in_scope", bool, True),
            self.text(entry, where, "ask", "", most=255),
            self.text(entry, where, "like", ""),
        )

    def _likened(self, where: str, choice: Choice) -> None:
        """Check that a kind of the firm's own is like a stock kind, which the rules know."""
        from difflib import get_close_matches

        entry = f"{where}.choices.{choice.name}"
        if where != "vocabulary.kind":
            raise self.wrong(entry, "like", "is for a kind of equipment, in [vocabulary.kind] only")
        if choice.name in KINDS:
            raise self.wrong(entry, "like", f"is {choice.like!r}, and {choice.name} is a stock kind itself")
        if choice.like not in KINDS:
            near = get_close_matches(choice.like, KINDS, n=1)
            meant = f"; did you mean {near[0]}" if near else f"; one of {', '.join(KINDS)} was expected"
            raise self.wrong(entry, "like", f"is {choice.like!r}, which is no stock kind{meant}")

    def _sheet(self, key: str, table: Table, vocabularies: Mapping[str, Vocabulary]) -> Sheet:
        where = f"sheets.{key}"
        if not _FIELD.fullmatch(key):
            raise self.wrong(
                "sheets", key, "is no key for a sheet; small letters, digits and _ were expected"
            )
        self.known(table, where, ("name", "layout", "also_called", "ask", "columns"))
        layout = self.one_of(self.text(table, where, "layout", "table"), LAYOUTS, where, "layout")
        entries = self.tables(table, where, "columns", "field")
        columns = tuple(self._column(where, entry, vocabularies) for entry in entries)
        identity = IDENTITY.get(key)
        if identity is not None and identity not in [column.field for column in columns]:
            raise self.wrong(where, "columns", f"has no field {identity!r}, which tells one row from another")
        if layout in ("table", "labels") and not any(not column.live for column in columns):
            raise self.wrong(where, "columns", "has nothing to fill in")
        said = [(repr(c.field), s) for c in columns for s in (c.heading, *(() if c.live else c.also_called))]
        self.claimed_once(said, where, "columns")
        return Sheet(
            key,
            self.name(table, where, "name"),
            layout,
            self.spellings(table, where),
            self.text(table, where, "ask", ""),
            columns,
        )

    def _column(self, sheet: str, table: Table, vocabularies: Mapping[str, Vocabulary]) -> Column:
        field = table.get("field")
        where = f"{sheet}.columns.{field if isinstance(field, str) else '?'}"
        self.known(table, where, Column._fields)
        if not _FIELD.fullmatch(self.name(table, where, "field")):
            raise self.wrong(where, "field", f"is {shown(field)}; small letters, digits and _ were expected")
        live = self.text(table, where, "live", "")
        if live:
            self.one_of(live, LIVE_NEEDS, where, "live")
        ask = self.text(table, where, "ask", "")
        if not live and not 0 < len(ask) <= 255:
            raise self.wrong(where, "ask", "must say in 1 to 255 characters what to fill in")
        holds = self.one_of(self.text(table, where, "holds", "text"), HOLDS, where, "holds")
        vocabulary = self.text(table, where, "vocabulary", "")
        if vocabulary and vocabulary not in vocabularies:
            raise self.wrong(
                where, "vocabulary", f"is {vocabulary!r}; no [vocabulary.{vocabulary}] is defined"
            )
        if holds == "choice" and not vocabulary:
            raise self.wrong(where, "vocabulary", "is missing: a choice needs one")
        default = self.text(table, where, "default", "")
        choices = vocabularies.get(vocabulary)
        if default and choices is not None and not choices.open and choices.find(default) is None:
            raise self.wrong(
                where, "default", f"is {default!r}, which [vocabulary.{vocabulary}] does not have"
            )
        width = self.take(table, where, "width", float, 12.0)
        if not 1 <= width <= 250:
            raise self.wrong(where, "width", f"is {width:g}; 1 to 250 characters were expected")
        return Column(
            field=str(field),
            heading=self.name(table, where, "heading"),
            holds=holds,
            also_called=self.spellings(table, where),
            also_called_beside=self.spellings(table, where, "also_called_beside"),
            ask=ask,
            required=self.take(table, where, "required", bool, False),
            required_for=_with_those_like(self.texts(table, where, "required_for"), vocabularies),
            optional_for=_with_those_like(self.texts(table, where, "optional_for"), vocabularies),
            vocabulary=vocabulary,
            refers_to=self.texts(table, where, "refers_to"),
            unit=self.text(table, where, "unit", ""),
            plausible=self._plausible(table, where),
            default=default,
            width=width,
            live=live,
            each_visit=self.take(table, where, "each_visit", bool, False),
            carried=self.take(table, where, "carried", bool, False),
        )

    def _plausible(self, table: Table, where: str) -> tuple[float, float] | None:
        pair = self.take(table, where, "plausible", list, [])
        if not pair:
            return None
        numbers = [
            n for n in pair if isinstance(n, (int, float)) and not isinstance(n, bool) and abs(n) < 1e12
        ]
        if len(numbers) != 2 or len(pair) != 2 or not numbers[0] <= numbers[1]:
            raise self.wrong(where, "plausible", f"is {shown(pair)}; [lowest, highest] was expected")
        return float(numbers[0]), float(numbers[1])

    # ------------------------------------------------------------ library, firm, rules

    def _findings(
        self, table: Table, head: Table, sheets: tuple[Sheet, ...], vocabularies: Mapping[str, Vocabulary]
    ) -> tuple[FindingType, ...]:
        findings = [self._finding(entry) for entry in self.tables(table, "file", "findings", "code")]
        self.claimed_once(
            ((f.code, s) for f in findings for s in (f.name, *f.also_called)), "file", "findings"
        )
        for finding in findings:
            for named in finding.disagrees_with:
                self._contradicts_something(finding, named, sheets, vocabularies)
        codes = [finding.code for finding in findings]
        first = self.texts(head, "template", "findings_first")
        for code in first:
            if code not in codes:
                raise self.wrong(
                    "template", "findings_first", f"names {code!r}, which is no code of the finding library"
                )
        return tuple(sorted(findings, key=lambda f: first.index(f.code) if f.code in first else len(first)))

    def _finding(self, table: Table) -> FindingType:
        code = table.get("code")
        where = f"findings.{code if isinstance(code, str) else '?'}"
        self.known(table, where, FindingType._fields)
        name = self.name(table, where, "name")
        one = self.text(table, where, "one", "") or name[:1].lower() + name[1:]
        text = partial(self.text, table, where, default="")
        return FindingType(
            code=self.name(table, where, "code", most=20),
            name=name,
            category=text("category"),
            look_for=text("look_for"),
            why=text("why"),
            priority=self.one_of(self.text(table, where, "priority"), PRIORITIES, where, "priority"),
            action=text("action"),
            section=text("section"),
            also_called=self.spellings(table, where),
            one=one,
            many=text("many") or one,
            disagrees_with=self.texts(table, where, "disagrees_with"),
            source=text("source"),
            status=text("status"),
            work=self._work(self.take(table, where, "work", dict, {}), f"{where}.work"),
        )

    def _work(self, table: Table, where: str) -> Work:
        """Take who mends a finding and how; what is not said is what a `Work` without words says."""
        self.known(table, where, [field.name for field in fields(Work)])
        usual = USUAL

        def one(key: str, usual: _Word) -> _Word:
            kind = type(usual)
            said = self.text(table, where, key, usual.value)
            return kind(self.one_of(said, [word.value for word in kind], where, key))

        return Work(
            one("trade", usual.trade),
            one("power", usual.power),
            one("effort", usual.effort),
            one("danger", usual.danger),
            self.take(table, where, "ladder", bool, usual.ladder),
        )

    def _contradicts_something(
        self,
        finding: FindingType,
        named: str,
        sheets: tuple[Sheet, ...],
        vocabularies: Mapping[str, Vocabulary],
    ) -> None:
        field, sign, choice = named.partition("=")
        if not sign:  # a rule's name: check_rule_names knows the catalogue
            return
        columns = [c for sheet in sheets for c in sheet if c.field == field and c.vocabulary]
        if not any(vocabularies[c.vocabulary].find(choice) for c in columns):
            raise self.wrong(
                f"findings.{finding.code}",
                "disagrees_with",
                f"holds {named!r}, which is no field=choice of this template",
            )

    def _firm(self, table: Table) -> Firm:
        self.known(table, "firm", ("name", "lines", "colour", "accent", "paper"))
        colours = {
            key: self.text(table, "firm", key, getattr(Firm("x"), key)) for key in ("colour", "accent")
        }
        for key, value in colours.items():
            if not _COLOUR.fullmatch(value):
                raise self.wrong("firm", key, f"is {shown(value)}; a colour is written like #22505A")
        return Firm(
            name=self.text(table, "firm", "name", "", most=120),
            lines=self.texts(table, "firm", "lines"),
            paper=self.one_of(self.text(table, "firm", "paper", "letter"), ("letter", "a4"), "firm", "paper"),
            **colours,
        )

    def _rule(self, slug: str, table: Table) -> RuleSetting:
        where = f"rules.{slug}"
        self.known(table, where, ("off", "priority", "reason"))
        priority = self.text(table, where, "priority", "")
        if priority:
            self.one_of(priority, PRIORITIES, where, "priority")
        off = self.take(table, where, "off", bool, False)
        if not off and not priority:
            raise self.wrong(where, "off", "or priority is missing: the table changes nothing")
        if not spelling(self.text(table, where, "reason", "")):
            raise self.wrong(where, "reason", "is missing: the schedule says why a rule was changed")
        return RuleSetting(slug, off, priority, self.text(table, where, "reason"))


def _with_those_like(kinds: tuple[str, ...], vocabularies: Mapping[str, Vocabulary]) -> tuple[str, ...]:
    """Add to kinds of equipment those that the firm has likened to them."""
    if "kind" not in vocabularies:
        return kinds
    return tuple(dict.fromkeys(name for kind in kinds for name in vocabularies["kind"].treated_as(kind)))
