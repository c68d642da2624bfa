"""Values out of a template file, or one sentence about what is wrong with them.

    CheckedTables(path, files)    takes values of a wanted type out of tables; base of the template check
    shown(value)                  a value as a sentence can quote it

A sentence names the file of the chain in which the table and the key stand, so that a firm
is never sent to a file that is right.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from workbook_tools.definitions.model import spelling
from workbook_tools.errors import Unusable

__all__ = ["CheckedTables", "Table", "shown"]

Table = dict[str, Any]
_LIST_KEYS = {"columns": "field", "choices": "name", "findings": "code"}
_WANTED = {str: "text", bool: "true or false", float: "a number", list: "a list", dict: "a table"}
_LONGEST_NAME = 80
_CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f]")


class CheckedTables:
    """Takes values out of tables and says which file, table and key is wrong.

    Parameters
    ----------
    path : Path
        The template that was asked for.
    files : sequence of (Path, dict)
        The chain it was merged from, itself first: what a sentence names.
    """

    def __init__(self, path: Path, files: Sequence[tuple[Path, Table]]) -> None:
        self.path = path
        self.files = files

    def wrong(self, where: str, key: str, says: str) -> Unusable:
        """Return the sentence: file, [table], key and what is wrong with it."""
        return Unusable(f"{self.home(where, key).name}: [{where}] {key} {says}.")

    def home(self, where: str, key: str) -> Path:
        """Return the file in which the key stands, else the one with the table, else the template."""
        with_table = None
        for path, table in self.files:
            found = _walk(table, where)
            if isinstance(found, dict) and key in found:
                return path
            with_table = with_table or (path if found is not None else None)
        return with_table or self.path

    def take(self, table: Table, where: str, key: str, kind: type, default: Any = None) -> Any:
        """Take a value of that type; a missing one without a default is wrong."""
        value = table.get(key, default)
        if value is None:
            raise self.wrong(where, key, "is missing")
        if kind is float and isinstance(value, int) and not isinstance(value, bool):
            value = float(value)
        if not isinstance(value, kind) or (kind is not bool and isinstance(value, bool)):
            raise self.wrong(where, key, f"is {shown(value)}; {_WANTED[kind]} was expected")
        if isinstance(value, float) and not math.isfinite(value):
            raise self.wrong(where, key, f"is {value}; a number was expected")
        return value

    def text(self, table: Table, where: str, key: str, default: str | None = None, most: int = 2000) -> str:
        """Take a text without control characters and not longer than `most`."""
        value: str = self.take(table, where, key, str, default)
        if key in table and (len(value) > most or _CONTROL.search(value)):
            raise self.wrong(
                where, key, f"is {shown(value)}; at most {most} characters of plain text were expected"
            )
        return value

    def name(self, table: Table, where: str, key: str, most: int = _LONGEST_NAME) -> str:
        """Take a text that has at least one letter or digit."""
        value = self.text(table, where, key, most=most)
        if not spelling(value):
            raise self.wrong(where, key, f"is {value!r}; it needs at least one letter or digit")
        return value

    def texts(self, table: Table, where: str, key: str) -> tuple[str, ...]:
        """Take a list of texts; none where the key is missing."""
        values = self.take(table, where, key, list, [])
        for value in values:
            if not isinstance(value, str) or "\n" in value or _CONTROL.search(value):
                raise self.wrong(where, key, f"holds {shown(value)}; a list of texts was expected")
        return tuple(values)

    def spellings(self, table: Table, where: str, key: str = "also_called") -> tuple[str, ...]:
        """Take the spellings of a name."""
        values = self.texts(table, where, key)
        for value in values:
            if not spelling(value):
                raise self.wrong(where, key, f"holds {value!r}; each needs at least one letter or digit")
        return values

    def tables(self, table: Table, where: str, key: str, identity: str) -> list[Table]:
        """Take a list of tables; a `remove` or `after` still in one has found nothing."""
        entries: list[Any] = self.take(table, where, key, list, [])
        for entry in entries:
            if not isinstance(entry, dict):
                raise self.wrong(where, key, f"holds {shown(entry)}; a list of tables was expected")
            said = shown(entry.get(identity))
            if "remove" in entry:
                raise self.wrong(where, key, f"removes {identity} {said}, and there is none to remove")
            if "after" in entry:
                after = shown(entry["after"])
                raise self.wrong(
                    where, key, f"puts {identity} {said} after {after}, and there is none of that {identity}"
                )
        return entries

    def known(self, table: Table, where: str, allowed: Iterable[str]) -> None:
        """Refuse a key that the table does not have, with the nearest that it has."""
        from difflib import get_close_matches

        allowed = list(allowed)
        for key in table:
            if key not in allowed:
                near = get_close_matches(key, allowed, n=1)
                hint = f"; did you mean {near[0]}" if near else f"; it has {', '.join(allowed)}"
                raise self.wrong(where, key, f"is no key of this table{hint}")

    def one_of(self, value: str, allowed: Iterable[str], where: str, key: str) -> str:
        """Refuse a value that is none of those allowed."""
        allowed = list(allowed)
        if value not in allowed:
            raise self.wrong(where, key, f"is {shown(value)}; one of {', '.join(allowed)} was expected")
        return value

    def claimed_once(self, claims: Iterable[tuple[str, str]], where: str, key: str) -> None:
        """Refuse a spelling that two owners claim; `claims` are (owner, spelling) pairs."""
        owners: dict[str, tuple[str, str]] = {}
        for owner, said in claims:
            first, as_said = owners.setdefault(spelling(said), (owner, said))
            if first != owner:
                raise self.wrong(where, key, f"{said!r} of {owner} already means {first} ({as_said!r})")

    def written_once(self) -> None:
        """Refuse a file that lists the same column, choice or finding twice."""
        for path, table in self.files:
            for where, key, entries in _lists_of(table):
                seen = set()
                for entry in entries:
                    said = entry.get(_LIST_KEYS[key]) if isinstance(entry, dict) else entry
                    if isinstance(said, str) and said in seen:
                        raise Unusable(f"{path.name}: [{where}] {key} has {_LIST_KEYS[key]} {said!r} twice.")
                    seen.add(said if isinstance(said, str) else None)


def shown(value: Any) -> str:
    """Return the value as a sentence can quote it, cut where it is long."""
    text = repr(value)
    return text if len(text) <= 60 else text[:57] + "..."


def _walk(table: Any, where: str) -> Any:
    """Return what stands in a file at "sheets.rooms.columns.room"; None where nothing does."""
    found: Any = table
    parts = [] if where == "file" else where.split(".")
    for part in parts:
        if isinstance(found, dict):
            found = found.get(part)
        elif isinstance(found, list):
            named = [e for e in found if isinstance(e, dict) and part in map(e.get, _LIST_KEYS.values())]
            found = named[0] if named else None
        else:
            return None
    return found


def _lists_of(table: Any, where: str = "file") -> Iterable[tuple[str, str, list[Any]]]:
    if not isinstance(table, dict):
        return
    for key, value in table.items():
        if key in _LIST_KEYS and isinstance(value, list):
            yield where, key, value
        elif isinstance(value, dict):
            yield from _lists_of(value, key if where == "file" else f"{where}.{key}")
