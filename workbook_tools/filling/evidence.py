"""Whether a table is what its headings make it look like.

    is_of(key, homes, template, named, ...)   whether its rows can be rows of a sheet of the survey
    telling_column(table)                     the column whose cells name electrical equipment
    other_trades(table, ...)                  the rows that say they are of another trade
    may_fill_transformers, may_fill_clearances   whether a list of equipment says these too

An asset register has sheets of documents, floors and furniture whose headings ("Name", "Height") are words of
a survey too. Rows are taken only from a table that says something electrical, or bears the sheet's name.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping, Sequence

from workbook_tools.definitions import Template, plain
from workbook_tools.filling.column_values import (
    agrees,
    looks_electrical,
    named_by_the_trade,
    said_in,
    says_transformer,
)
from workbook_tools.filling.heading_forms import words_of
from workbook_tools.filling.homes import LISTED, NEAR, OWN, SAME_WORDS, WEAK_WORD, Home
from workbook_tools.filling.tables import Table
from workbook_tools.survey import Clearance, Equipment, Finding, PhotoCaption, Room, Transformer
from workbook_tools.survey.found_headings import OWN_NAME

__all__ = ["is_of", "may_fill_clearances", "may_fill_transformers", "other_trades", "telling_column"]

_ELECTRICAL = frozenset(
    column.name
    for column in (
        Equipment.rating_a, Equipment.voltage, Equipment.phase, Equipment.wires, Equipment.main_device,
        Equipment.main_or_fuse_a, Equipment.short_circuit_rating_ka, Equipment.voltage_rating, Equipment.available_fault_ka,
        Equipment.hand_motions, Equipment.circuit_directory,
    )
)  # fmt: skip
_DESCRIBING = frozenset((Equipment.room.name, Equipment.kind.name, Equipment.maker.name))
_PLATE = frozenset(
    column.name for column in (Transformer.kva, Transformer.primary_v, Transformer.secondary_v)
)
_MEASURED = frozenset(column.name for column in (Clearance.depth, Clearance.opposite_side))
_SIZES = frozenset(column.name for column in (Clearance.width, Clearance.height))
_OF_A_ROOM = frozenset(
    column.name
    for column in (Room.access, Room.lighting, Room.entrances, Room.door_opens_out, Room.door_hardware)
)
_TRADE = frozenset(("discipline", "trade"))
_ELECTRICIAN = re.compile(r"elec|elek|élec|power", re.IGNORECASE)
_ENOUGH, _ENOUGH_SAID = 6, 2
_VAGUE = frozenset(("name", "id", "item", "no", "designation", "type"))

Texts = Callable[[str], Sequence[str]]


def is_of(
    key: str,
    homes: Mapping[str, Home],
    template: Template,
    named: float,
    table: Table,
    heading: str,
    texts: Texts,
) -> bool:
    """Say whether the rows of a table can be rows of a sheet.

    Parameters
    ----------
    key : str
        The sheet.
    homes : mapping of str to Home
        Its fields that headings of the table mean, with how they mean them.
    template : Template
        For the choices of its columns.
    named : float
        How much the name of the table's sheet or file says for it.
    table : Table
        For the words of its cells.
    heading : str
        The heading of the column that names the rows.
    texts : callable
        The cells below the heading of a field.
    """
    sure = {name for name, home in homes.items() if home.sure > NEAR}
    identity = next((name for name, home in homes.items() if home.names_rows), "")
    if named and (identity in sure or named >= OWN_NAME) and len(sure) >= (1 if named >= OWN_NAME else 2):
        return True
    if not identity:
        return key == Equipment.key and _describes_pieces(homes, sure, texts, template)
    if _repeats(texts(identity)):
        return False
    if key == Equipment.key and identity in sure and named_by_the_trade(heading):
        return True
    if len(homes) < 2:
        return False
    if key == Equipment.key and Equipment.room.name in sure and telling_column(table):
        return True
    test = _TESTS.get(key)
    return (
        test(homes, sure, texts, template)
        if test is not None
        else sum(h.sure >= LISTED for h in homes.values()) >= 2
    )


def _repeats(texts: Sequence[str]) -> bool:
    """Whether the same names come again and again: the rows are circuits, readings or visits, and no pieces."""
    return len(texts) >= _ENOUGH and len({plain(text) for text in texts}) * 2 <= len(texts)


def _equipment(homes: Mapping[str, Home], sure: Collection[str], texts: Texts, template: Template) -> bool:
    if any(_says_so(homes[name], texts(name), template) for name in _ELECTRICAL & set(sure)):
        return True
    kind, fed = Equipment.kind.name, Equipment.fed_from.name
    if kind in homes and agrees(homes[kind].column, texts(kind), template):
        return True
    return fed in sure and homes[fed].sure >= SAME_WORDS and bool(_DESCRIBING & set(sure))


def _describes_pieces(
    homes: Mapping[str, Home], sure: Collection[str], texts: Texts, template: Template
) -> bool:
    """Whether a list that names no tags still says where pieces stand and what is written on them."""
    said = [
        name
        for name in _ELECTRICAL & set(sure)
        if texts(name) and _says_so(homes[name], texts(name), template)
    ]
    return len(said) >= _ENOUGH_SAID and Equipment.room.name in sure


def _says_so(home: Home, texts: Sequence[str], template: Template) -> bool:
    return home.sure >= WEAK_WORD and (not said_in(texts) or agrees(home.column, texts, template))


def _transformers(homes: Mapping[str, Home], sure: Collection[str], _: Texts, ___: Template) -> bool:
    plate = _PLATE & set(sure)
    return bool(plate) and (len(plate) > 1 or homes[next(iter(plate))].sure >= SAME_WORDS)


def _clearances(homes: Mapping[str, Home], sure: Collection[str], _: Texts, ___: Template) -> bool:
    identity = next(home for home in homes.values() if home.names_rows)
    if identity.said in _VAGUE:
        return False
    return bool(_MEASURED & set(sure)) and len(set(sure)) >= 2


def _rooms(homes: Mapping[str, Home], sure: Collection[str], _: Texts, ___: Template) -> bool:
    return any(homes[name].sure >= LISTED for name in _OF_A_ROOM & set(sure))


def _findings(homes: Mapping[str, Home], sure: Collection[str], _: Texts, ___: Template) -> bool:
    name = Finding.finding.name
    return name in sure and homes[name].said not in _VAGUE


def _photos(homes: Mapping[str, Home], _: Collection[str], texts: Texts, template: Template) -> bool:
    name = PhotoCaption.file.name
    return name in homes and agrees(homes[name].column, texts(name), template)


def _not_inspected(homes: Mapping[str, Home], _: Collection[str], __: Texts, ___: Template) -> bool:
    return len(homes) >= 2 and all(home.sure >= OWN for home in homes.values())


_TESTS: dict[str, Callable[[Mapping[str, Home], Collection[str], Texts, Template], bool]] = {
    "equipment": _equipment, "transformers": _transformers, "clearances": _clearances, "rooms": _rooms,
    "findings": _findings, "photos": _photos, "not_inspected": _not_inspected,
}  # fmt: skip


def telling_column(table: Table) -> int:
    """Return the column whose cells name electrical equipment, 0 for none: a description, a type."""
    return next((column for column in table.columns if looks_electrical(table.texts(column))), 0)


def other_trades(table: Table, fields: Collection[str]) -> list[int]:
    """Return the rows of a register that say of themselves that they are of another trade than the electrical one.

    Where `fields`, what the table fills, are none that only electrical equipment has, a row without its words is of another trade.
    """
    for column, heading in table.headings.items():
        if _TRADE & set(words_of(heading.text)):
            said = {row: cells.get(column, "") for row, cells in table.rows.items()}
            theirs = [row for row, text in said.items() if text.strip() and not _ELECTRICIAN.search(text)]
            if 0 < len(theirs) < len(said) and any(_ELECTRICIAN.search(text) for text in said.values()):
                return theirs
    telling = telling_column(table)
    if not telling or (_ELECTRICAL | _PLATE | {Equipment.fed_from.name}) & set(fields):
        return []
    return [row for row, cells in table.rows.items() if not looks_electrical([cells.get(telling, "-")])]


def may_fill_transformers(fields: Collection[str], kinds: Sequence[str]) -> bool:
    """Whether a list of equipment names columns of a label plate, or pieces that are transformers."""
    return bool(_PLATE & set(fields)) or any(says_transformer(text) for text in kinds)


def may_fill_clearances(name: str, fields: Collection[str]) -> bool:
    """Whether a column of a list of equipment was measured around it: a bare width and height are the enclosure's.

    "Condition" is the working space's only beside what was measured there; else it is that of the equipment.
    """
    if name == Clearance.opposite_side.name:
        return bool((_MEASURED | _SIZES) & (set(fields) - {name}))
    return name not in _SIZES or bool(_MEASURED & set(fields))
