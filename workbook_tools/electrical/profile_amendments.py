"""A firm's local amendments, laid over the numbers of a code profile.

    amend(document, changes, file)   changes the document; returns the basis of each changed number

The file has tables named as in the profile, holding only the numbers that differ, and a
``basis`` in each table or one at the top for all. Not here: profiles that extend one another,
which need no basis (profile_files).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from workbook_tools.electrical.profile_files import tables_of

__all__: list[str] = []

_ABOUT = ("basis", "section", "note")


def amend(document: dict[str, Any], changes: Mapping[str, Any], file: str) -> dict[tuple[str, str], str]:
    """Lay the changes over the document; return the basis of each changed number.

    Parameters
    ----------
    document : dict
        A whole profile, changed in place. An amended inch figure drops the printed metric
        one unless that is amended too.
    changes : mapping
        What the amendment file holds.
    file : str
        Its name, for the errors.

    Returns
    -------
    bases : dict
        By table and key.

    Raises
    ------
    ValueError
        A table or key that the profile does not have; an amended number without a basis.
    """
    bases: dict[tuple[str, str], str] = {}
    general = changes.get("basis")
    tables = tables_of(document)
    for table, entries in tables_of(changes).items():
        target = tables.get(table)
        if target is None:
            raise ValueError(f"{file}: [{table}] is no table of the profile {document.get('name')}")
        basis = entries.get("basis", general)
        for key, value in entries.items():
            if key not in _ABOUT:
                _check(f"{file}: [{table}] {key}", key, value, target, entries)
                if not isinstance(basis, str) or not basis.strip():
                    raise ValueError(f'{file}: [{table}] {key} has no basis; add basis = "…" to the table')
                bases[table, key] = basis.strip()
        for key, value in entries.items():
            if key in _ABOUT:
                continue
            target[key] = value
            if key.endswith("_in") and key[:-3] + "_mm" not in entries:
                target.pop(key[:-3] + "_mm", None)
    for key, value in changes.items():
        if key not in ("basis", "amends", "title", "note") and not isinstance(value, dict):
            raise ValueError(f"{file}: {key} stands outside every table")
    amends = changes.get("amends")
    if amends is not None and amends != document.get("name"):
        raise ValueError(f"{file}: amends {amends!r}, but the profile is {document.get('name')!r}")
    return bases


def _check(where: str, key: str, value: Any, target: Mapping[str, Any], entries: Mapping[str, Any]) -> None:
    if key not in target or key in ("status", "volts_max", "what"):
        raise ValueError(f"{where} is no number of the profile that can be amended")
    number = isinstance(target[key], (int, float))
    if (number and (isinstance(value, bool) or not isinstance(value, (int, float)) or value < 0)) or (
        not number and type(value) is not type(target[key])
    ):
        raise ValueError(f"{where} must be like {target[key]!r}, not {value!r}")
    if key.endswith("_mm") and key[:-3] + "_in" not in entries:
        raise ValueError(f"{where} is amended without {key[:-3]}_in; give both figures")
