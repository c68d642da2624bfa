"""The files of the code profiles: which there are, and what each comes to.

    PROFILE_FOLDER             where the profiles of the package lie, one TOML file each
    PROFILE_NAMES              their names, the newest edition first
    profile_spellings()        each with the other spellings that mean it
    read_profile_file(path)    the whole document, what it extends laid under it
    read_toml(path)            one file as it stands
    tables_of(document)        its innermost tables under their dotted names

How a profile extends another (``extends = "nec-2023"``, a file beside it or one of the
package): its tables are laid over the parent's, key by key, so a file holds only what differs.

- An inch figure that differs takes the parent's metric figure away unless it brings its own.
- ``remove = true`` in a table takes the parent's table away.
- A ``status`` outside the tables of numbers, at the top of the file or of a group such as
  ``[depth]``, is that of every inherited table below it that states none of its own: the
  number may be known for one edition and be from memory for another.
- name, title, source, year, also_called and how_seen are never inherited.

``also_called`` holds the spellings of the profile in the drop-down of the Job sheet. Not here:
what the numbers mean (code_profiles).
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

__all__ = ["PROFILE_NAMES", "profile_spellings"]

PROFILE_FOLDER = Path(__file__).with_name("profiles")
_OWN = ("name", "title", "source", "year", "also_called", "how_seen", "extends")


def read_toml(path: Path) -> dict[str, Any]:
    """Read one file as it stands.

    Raises
    ------
    ValueError
        A file that cannot be read or is no TOML.
    """
    try:
        with open(path, "rb") as file:
            return tomllib.load(file)
    except OSError as error:
        raise ValueError(f"{path}: the file cannot be read: {error.strerror}") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise ValueError(f"{path}: not a readable TOML file: {error}") from error


# A file of the package does not change while we run; anybody else's may.
_read_own = lru_cache(maxsize=64)(read_toml)


def profile_spellings() -> dict[str, tuple[str, ...]]:
    """Return the profiles of the package in the order of PROFILE_NAMES, each with its other spellings.

    Examples
    --------
    >>> profile_spellings()["nec-2020"]
    ('nec 2020', 'nfpa 70-2020', '2020 nec', '2020')
    """
    return {
        name: tuple(_read_own(PROFILE_FOLDER / f"{name}.toml").get("also_called", ()))
        for name in PROFILE_NAMES
    }


def _names() -> tuple[str, ...]:
    years = {path.stem: _read_own(path).get("year", 0) for path in PROFILE_FOLDER.glob("*.toml")}
    return tuple(sorted(years, key=lambda name: (-years[name], name)))


PROFILE_NAMES = _names()


def read_profile_file(path: Path) -> dict[str, Any]:
    """Read a profile with everything that it extends.

    Parameters
    ----------
    path : Path
        A profile file.

    Returns
    -------
    document : dict
        Its own; whoever changes it changes nobody else's.

    Raises
    ------
    ValueError
        A file that cannot be read, an unknown parent, or a circle. The text names the file.
    """
    files: list[tuple[Path, dict[str, Any]]] = []
    following: Path | None = path
    while following is not None:
        if following.resolve() in [file.resolve() for file, _ in files]:
            raise ValueError(f"{files[-1][0]}: extends comes back to {following.name}; end the circle")
        table = _read_own(following) if following.parent == PROFILE_FOLDER else read_toml(following)
        files.append((following, table))
        following = _parent(following, table)
    document: dict[str, Any] = {}
    for file, table in reversed(files):
        inherited = {key: value for key, value in document.items() if key not in _OWN}
        document = _laid_over(inherited, table, None, file, "")
    return document


def _parent(path: Path, table: Mapping[str, Any]) -> Path | None:
    name = table.get("extends")
    if name is None:
        return None
    if isinstance(name, str) and name == Path(name).name:
        for folder in (path.parent, PROFILE_FOLDER):
            if (folder / f"{name}.toml").is_file():
                return folder / f"{name}.toml"
    raise ValueError(
        f"{path}: extends names {name!r}, which is neither a code profile ({', '.join(PROFILE_NAMES)}) "
        "nor a file beside it"
    )


def _laid_over(
    parent: Mapping[str, Any], child: Mapping[str, Any], status: str | None, file: Path, where: str
) -> dict[str, Any]:
    """Lay a table over the parent's; the status is that of inherited tables that state none."""
    status = child.get("status", status)
    if not any(isinstance(value, dict) for value in (*parent.values(), *child.values())):
        kept = {key: value for key, value in parent.items() if not _without_its_inches(key, parent, child)}
        return {**kept, **child} | ({} if status is None else {"status": status})
    out: dict[str, Any] = {}
    for key in dict.fromkeys((*parent, *child)):
        theirs, mine = parent.get(key), child.get(key)
        table = f"{where}{key}"
        if isinstance(mine, dict) and mine.get("remove") is True:
            if theirs is None:
                raise ValueError(f"{file}: [{table}] is removed, and what is extended has no such table")
        elif isinstance(theirs, dict) and not isinstance(mine, dict | None):
            raise ValueError(f"{file}: {table} is {mine!r}; a table was expected")
        elif isinstance(theirs, dict) or isinstance(mine, dict):
            out[key] = _laid_over(theirs or {}, mine or {}, status, file, f"{table}.")
        elif key != "status":
            out[key] = mine if key in child else theirs
    return out


def _without_its_inches(key: str, parent: Mapping[str, Any], child: Mapping[str, Any]) -> bool:
    """Whether a metric figure belonged to an inch figure that the child has changed."""
    inches = f"{key[:-3]}_in"
    return (
        key.endswith("_mm")
        and key not in child
        and child.get(inches, parent.get(inches)) != parent.get(inches)
    )


def tables_of(document: Mapping[str, Any], prefix: str = "") -> dict[str, dict[str, Any]]:
    """Return every innermost table of a document under its dotted name."""
    found: dict[str, dict[str, Any]] = {}
    for key, value in document.items():
        if isinstance(value, dict):
            found.update(tables_of(value, f"{prefix}{key}.") or {prefix + key: value})
    return found
