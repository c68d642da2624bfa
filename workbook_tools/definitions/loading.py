"""From a template file to a checked Template.

    load_template(name_or_path)    follows `extends` and `include`, merges, checks
    check_rule_names(template, known)   the rules that a template changes exist

Unusable says file, table and key in one sentence, whatever the file holds.

How a template extends another: a table of the child is laid over the parent's, key by
key. Columns, choices and findings are lists of tables; an entry with the same `field`,
`name` or `code` is laid over the parent's entry, `remove = true` takes it away, and a new
one is appended; `after` puts an entry, new or old, behind the one that it names. Spellings
(`also_called`) are added to the parent's. A table or entry with `replace = true` takes
nothing from the parent's. `include` lists files beside the template whose tables are taken
in as if they stood in it. A vocabulary with `from = "code profiles"` has the code profiles of
the package as its choices; choices of its own are laid over them.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from workbook_tools.definitions.checks import Checker
from workbook_tools.definitions.model import Template
from workbook_tools.definitions.stock import stock_folder, stock_path, stock_templates
from workbook_tools.electrical import profile_spellings
from workbook_tools.errors import Unusable

__all__ = ["check_rule_names", "load_template"]

Table = dict[str, Any]
_IDENTITY = {"columns": "field", "choices": "name", "findings": "code"}
_MOST_PARENTS = 12


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
    files = tuple(_read_chain(path))
    return (_stock if path.parent == stock_folder() else _checked)(path, files)


def _checked(path: Path, files: tuple[_File, ...]) -> Template:
    merged: Table = {}
    for file in reversed(files):
        merged = _lay_over(merged, file.table)
    return Checker(path, [(file.path, file.table) for file in files]).template(merged)


# Many surveys have the same stock template, and a Template never changes. A firm's own names other files.
_stock = lru_cache(maxsize=8)(_checked)


def check_rule_names(template: Template, known: Iterable[str]) -> None:
    """Refuse a template that switches off or re-prioritises a rule that there is not.

    Raises
    ------
    Unusable
        Names the file, the table and the nearest rule.

    Examples
    --------
    >>> check_rule_names(load_template("office"), [])
    """
    rules = list(known)
    for slug in template.rules:
        if slug not in rules:
            near = _nearest(slug, rules)
            hint = f"; did you mean {near}" if near else ""
            raise Unusable(
                f"{Path(template.path).name}: [rules.{slug}] names no rule of the catalogue{hint}."
            )


def _nearest(text: str, known: Iterable[str]) -> str | None:
    from difflib import get_close_matches

    return next(iter(get_close_matches(text, list(known), n=1)), None)


def _locate(name_or_path: str | Path) -> Path:
    text = str(name_or_path)
    if text.endswith(".toml") or "/" in text or "\\" in text:
        path = Path(text)
        if not _is_file(path):
            raise Unusable(f"There is no template file {text}: check the path.")
        return path
    found = stock_path(text)
    if found is None:
        known = sorted(stock_templates())
        near = _nearest(text, known)
        hint = f" Did you mean {near}?" if near else ""
        raise Unusable(
            f"There is no stock template {text!r}.{hint} The stock templates are {', '.join(known)}; "
            "a template of your own is named by its .toml file."
        )
    return found


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name that no file can have
        return False


@dataclass(frozen=True)
class _File:
    path: Path
    text: str

    @property
    def table(self) -> Table:
        """What the file holds; it belongs to whoever read it before as well, and is not to be changed."""
        return _with_profiles(self.path, _parsed(self.path, self.text))


def _read_chain(path: Path) -> list[_File]:
    """Return the template, what it includes, its parent, what that includes, and so on."""
    files: list[_File] = []
    seen: set[Path] = set()
    following: Path | None = path
    while following is not None:
        if following.resolve() in seen or len(seen) > _MOST_PARENTS:
            raise Unusable(
                f"{files[-1].path.name}: [template] extends comes back to the same file; end the circle."
            )
        seen.add(following.resolve())
        file = _read(following)
        table = file.table
        files += [file, *map(_read, _includes(following, table))]
        following = _parent(following, table)
    return files


@lru_cache(maxsize=32)
def _parsed(path: Path, text: str) -> Table:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Unusable(f"{path.name} is no TOML file: {str(error).rstrip('.')}.") from None
    except RecursionError:
        raise Unusable(
            f"{path.name} is no template: its lists or tables stand too deep in each other."
        ) from None


def _read(path: Path) -> _File:
    try:
        return _File(path, path.read_text(encoding="utf-8-sig"))
    except UnicodeDecodeError:
        raise Unusable(f"{path.name} is not UTF-8 text; save it as UTF-8.") from None
    except (OSError, ValueError) as error:
        said = getattr(error, "strerror", None) or str(error)
        raise Unusable(f"{path.name} cannot be read ({said}).") from None


def _with_profiles(path: Path, table: Table) -> Table:
    """Fill in the choices of a vocabulary that takes them from the code profiles."""
    vocabularies = table.get("vocabulary")
    if not isinstance(vocabularies, dict):
        return table
    filled: Table = {}
    for name, entries in vocabularies.items():
        if isinstance(entries, dict) and "from" in entries:
            if entries["from"] != "code profiles":
                raise Unusable(
                    f"{path.name}: [vocabulary.{name}] from is {entries['from']!r}; 'code profiles' was expected."
                )
            filled[name] = {key: value for key, value in entries.items() if key != "from"}
            own = entries.get("choices", [])
            if isinstance(own, list):  # anything else is left for the check to refuse
                filled[name]["choices"] = _lay_list(_profile_choices(), own, "name")
    return {**table, "vocabulary": {**vocabularies, **filled}}


def _profile_choices() -> list[Table]:
    """Return the code profiles as choices, the newest edition first."""
    return [{"name": name, "also_called": list(also)} for name, also in profile_spellings().items()]


def _includes(path: Path, table: Table) -> list[Path]:
    names = table.get("include", [])
    if not isinstance(names, list) or not all(isinstance(name, str) for name in names):
        raise Unusable(f"{path.name}: [file] include is {names!r}; a list of file names was expected.")
    files = []
    for name in names:
        beside = path.parent / name
        if not name or Path(name).name != name or not _is_file(beside):
            raise Unusable(
                f"{path.name}: [file] include names {name!r}, and there is no such file beside it."
            )
        files.append(beside)
    return files


def _parent(path: Path, table: Table) -> Path | None:
    head = table.get("template", {})
    name = head.get("extends") if isinstance(head, dict) else None
    if name is None:
        return None
    if not isinstance(name, str):
        raise Unusable(f"{path.name}: [template] extends is {name!r}; the name of a template was expected.")
    beside = path.parent / f"{name}.toml"
    found = beside if name == Path(name).name and _is_file(beside) else stock_path(name)
    if found is None:
        near = _nearest(name, [*stock_templates(), "base"])
        hint = f"; did you mean {near}" if near else ""
        raise Unusable(
            f"{path.name}: [template] extends names {name!r}, which is neither a stock template "
            f"nor a file beside it{hint}."
        )
    return found


def _lay_over(parent: Table, child: Table) -> Table:
    out = {} if child.get("replace") is True else dict(parent)
    for key, value in child.items():
        old = out.get(key)
        if key == "replace" and value is True:
            continue
        if key in _IDENTITY and isinstance(value, list):
            out[key] = _lay_list(old if isinstance(old, list) else [], value, _IDENTITY[key])
        elif isinstance(value, dict):
            out[key] = _lay_over(old if isinstance(old, dict) else {}, value)
        else:
            out[key] = _added(old, value) if key in _SPELLINGS else value
    return out


_SPELLINGS = ("also_called", "also_called_beside")


def _added(old: Any, new: Any) -> Any:
    """Return spellings behind those that are there; anything else as it is, for the check to refuse."""
    if isinstance(old, list) and isinstance(new, list):
        return [*old, *(spelling for spelling in new if spelling not in old)]
    return new


def _lay_list(parent: list[Any], child: list[Any], identity: str) -> list[Any]:
    out = [_entry(entry, identity) for entry in parent]
    for entry in (_entry(entry, identity) for entry in child):
        if not isinstance(entry, dict):
            out.append(entry)  # the check says what is wrong with it
            continue
        # `remove` and `after` that name nothing stay in the entry: the check says so.
        place = _place(out, identity, entry.get(identity))
        if place is not None and entry.get("remove") is True:
            del out[place]
            continue
        if place is not None and "after" not in entry:
            out[place] = _lay_over(out[place], entry)
            continue
        entry = _lay_over({} if place is None else out.pop(place), entry)
        behind = _place(out, identity, entry.get("after"))
        if behind is not None:
            del entry["after"]
        out.insert(len(out) if behind is None else behind + 1, entry)
    return out


def _entry(entry: Any, identity: str) -> Any:
    if identity == "name" and isinstance(entry, str):
        return {"name": entry}
    return dict(entry) if isinstance(entry, dict) else entry


def _place(entries: list[Any], identity: str, wanted: Any) -> int | None:
    for i, entry in enumerate(entries):
        if isinstance(wanted, str) and isinstance(entry, dict) and entry.get(identity) == wanted:
            return i
    return None
