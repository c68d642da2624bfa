"""Rules about tags and rooms: does every name mean one thing of this survey.

    duplicate-tag, duplicate-room     two rows carry the same name
    unknown-tag, unknown-room         a name that the survey does not have
    no-transformer-details            a transformer without a row in Transformers
    transformer-details-twice         a transformer with two
    not-a-transformer                 a row in Transformers for something else
    no-clearance-record               equipment that needs working space, without a row in Clearances

A mistyped tag is reported where it is typed; the piece of equipment that it most likely
means is not also reported as lacking what was typed under the wrong tag.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical import KINDS, needs_working_space
from workbook_tools.rules.client import Limit, Paperwork
from workbook_tools.rules.in_words import either
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Clearance, Equipment, Field, Room, Row, Transformer, Value
from workbook_tools.survey.typed_text import separate

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Tags and rooms"

_MOST_PLACES = 8


def _twice(rule: Rule, rows: Sequence[Row], field: Field[str], what: str) -> Iterator[Problem]:
    first: dict[str, Row] = {}
    for row in rows:
        name = row[field].value
        if not name:
            continue
        earlier = first.setdefault(plain(name), row)
        if earlier is not row:
            yield rule.problem(row, row[field], f"{row.called} {what} at {earlier[field].place}.")


def duplicate_tag(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for two rows of Equipment with the same tag."""
    rows = assessment.survey.equipment
    yield from _twice(DUPLICATE_TAG, rows, Equipment.tag, "is also the tag of another row,")


def duplicate_room(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for two rows of Rooms with the same name."""
    yield from _twice(DUPLICATE_ROOM, assessment.survey.rooms, Room.room, "is already listed,")


def transformer_details_twice(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for two rows of Transformers with the same tag."""
    rows = assessment.survey.transformers
    yield from _twice(TRANSFORMER_DETAILS_TWICE, rows, Transformer.tag, "already has a row here,")


def _unknown(assessment: Assessment, name: str, refers_to: tuple[str, ...]) -> bool:
    survey = assessment.survey
    if Equipment.key in refers_to and survey.tagged(name):
        return False
    return not (Room.key in refers_to and survey.room(name) is not None)


def _names(
    assessment: Assessment, value: str | tuple[str, ...] | None, refers_to: tuple[str, ...]
) -> tuple[str, ...]:
    """Return the names of a cell; one that is no name of the survey may be several, parted by ";" or ","."""
    if isinstance(value, tuple):
        return value
    if value and _unknown(assessment, value, refers_to):
        return separate(value)
    return (value,) if value else ()


def _near(assessment: Assessment, name: str, refers_to: tuple[str, ...]) -> list[str]:
    near = assessment.tag_names.near(name) if Equipment.key in refers_to else []
    return near or (assessment.room_names.near(name) if Room.key in refers_to else [])


def _reads(value: Value[Any], name: str) -> str:
    """Return that a cell reads a name, or names it beside others."""
    return f"{value.heading} {'reads' if value.said.strip() == name else 'names'} {name}"


def _so_do(others: Sequence[Value[Any]]) -> str:
    """Return where else the same name stands: a name that lacks its row is one slip, however often it is used."""
    places = [cell.place for cell in others[:_MOST_PLACES]]
    places += [f"{len(others) - len(places):,} more"] if len(others) > len(places) else []
    return f"; so do{'es' * (len(others) == 1)} {listed(places)}" if others else ""


def unknown_tag(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for names that no row of the sheets they refer to carries; each is reported once."""
    unknown: dict[str, list[tuple[str, Row, Value[Any]]]] = {}
    for key, sheet in assessment.survey.template.by_key.items():
        referring = [column for column in sheet.typed if column.refers_to and key != Equipment.key]
        for row in assessment.survey.tables.get(key, ()):
            for column in referring:
                for name in _names(assessment, row[column].value, column.refers_to):
                    if _unknown(assessment, name, column.refers_to):
                        unknown.setdefault(plain(name), []).append((name, row, row[column]))
    for (name, row, cell), *others in unknown.values():
        refers_to = cell.column.refers_to
        near = _near(assessment, name, refers_to)
        what = "tag or room" if Room.key in refers_to else "tag"
        hint = f" The nearest is {either(near)}." if near else ""
        also = _so_do([cell for _, _, cell in others])
        yield UNKNOWN_TAG.problem(
            row,
            cell,
            f"{_reads(cell, name)}, which is no {what} of this survey{also}.{hint}",
            action=f"Write {either(near)} if that is meant, or add {name} to the sheet it belongs to."
            if near
            else None,
        )


def unknown_room(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for rooms of Equipment that Rooms does not list; each is reported once."""
    if Room.key not in assessment.survey.template.by_key:
        return
    unknown: dict[str, list[Equipment]] = {}
    for row in assessment.survey.equipment:
        if row.room.value and assessment.survey.room(row.room.value) is None:
            unknown.setdefault(plain(row.room.value), []).append(row)
    for row, *others in unknown.values():
        near = assessment.room_names.near(row.room.value or "")
        hint = f" The nearest is {either(near)}." if near else ""
        also = _so_do([other.room for other in others])
        yield UNKNOWN_ROOM.problem(
            row, row.room, f"{row.room.heading} reads {row.room.value}, which is not in Rooms{also}.{hint}"
        )


def _meant_by_mistyped(assessment: Assessment, tags: Iterable[str | None]) -> set[str]:
    """Return the tags that the mistyped ones among these most likely mean."""
    unknown = (tag for tag in tags if tag and not assessment.survey.tagged(tag))
    return {plain(near) for name in unknown for near in assessment.tag_names.near(name)}


def no_transformer_details(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for transformers without a row in Transformers."""
    if Transformer.key not in assessment.survey.template.by_key:
        return
    mistyped = _meant_by_mistyped(assessment, (row.tag.value for row in assessment.survey.transformers))
    for row in assessment.survey.equipment:
        tag = row.tag.value
        if (
            row.stock_kind == "Transformer"
            and tag
            and assessment.plate(row) is None
            and plain(tag) not in mistyped
        ):
            yield NO_TRANSFORMER_DETAILS.problem(
                row, row.tag, f"{tag} is a transformer and has no row in Transformers."
            )


def not_a_transformer(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for rows of Transformers whose tag is of another kind."""
    for row in assessment.survey.transformers:
        named = assessment.survey.tagged(row.tag.value)
        kinds = [equipment.stock_kind for equipment in named]
        if named and None not in kinds and "Transformer" not in kinds:
            yield NOT_A_TRANSFORMER.problem(
                row,
                row.tag,
                f"{named[0].kind.place} gives the kind of {row.called} as {named[0].kind.value}, not Transformer.",
            )


def no_clearance_record(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for equipment that needs working space, in a room that was entered, without a row in Clearances."""
    survey = assessment.survey
    if Clearance.key not in survey.template.by_key:
        return
    measured = {plain(row.tag.value) for row in survey.clearances if row.tag.value}
    measured |= _meant_by_mistyped(assessment, (row.tag.value for row in survey.clearances))
    for row in survey.equipment:
        tag, kind = row.tag.value, row.stock_kind
        if not tag or kind not in KINDS or not needs_working_space(kind) or plain(tag) in measured:
            continue
        entered = assessment.is_entered(row)
        if entered is None:
            room = survey.room(row.room.value)
            missing = (row.room, row) if room is None else (room.access, room)
            yield NO_CLEARANCE_RECORD.not_checked(row, *missing)
        elif entered:
            measured.add(plain(tag))
            yield NO_CLEARANCE_RECORD.problem(
                row,
                row.tag,
                f"{tag} has no row in Clearances, and its room was entered ({row.room.value}).",
            )


DUPLICATE_TAG = Rule(
    slug="duplicate-tag",
    class_="correct",
    subject="Equipment",
    what="Two rows carry the same tag, compared without case or spaces.",
    why="Nobody can say which of the two a finding, a clearance or a feeder belongs to.",
    mend="Give one of them another tag (HP-1A), say in Remarks what its placard reads, and follow it on the other sheets.",
    source="common practice",
    client=Paperwork(),
    check=duplicate_tag,
    fires=as_typed(equipment=[{"tag": "HP-1"}, {"tag": "hp -1"}]),
    passes=as_typed(equipment=[{"tag": "HP-1"}, {"tag": "HP-10"}]),
)

DUPLICATE_ROOM = Rule(
    slug="duplicate-room",
    class_="correct",
    subject="Rooms",
    what="Two rows of Rooms carry the same name, compared without case or spaces.",
    why="Access, lighting and entrances then have two answers.",
    mend="Delete one of the rows, or give the rooms names that differ.",
    source="common practice",
    client=Paperwork(),
    check=duplicate_room,
    fires=as_typed(rooms=[{"room": "Boiler room"}, {"room": "Boiler Room"}]),
    passes=as_typed(rooms=[{"room": "Boiler room"}, {"room": "Boiler room 2"}]),
)

UNKNOWN_TAG = Rule(
    slug="unknown-tag",
    class_="correct",
    subject="Transformers Clearances Findings Photos",
    what="The row names a tag or room that the survey does not have.",
    why="What is written there belongs to nothing and would reach the client without its place.",
    mend="Correct the name, or add the equipment or room to its sheet.",
    source="common practice",
    client=Paperwork(),
    check=unknown_tag,
    fires=as_typed(equipment=[{"tag": "RP-1"}], findings=[{"subject": "RP-11", "finding": "Open knockout"}]),
    passes=as_typed(equipment=[{"tag": "RP-1"}], findings=[{"subject": "rp-1", "finding": "Open knockout"}]),
)

UNKNOWN_ROOM = Rule(
    slug="unknown-room",
    class_="correct",
    subject="Equipment",
    what="The room is not in Rooms.",
    why="Access, lighting and entrances of the room are then unknown.",
    mend="Correct the name, or add the room to Rooms.",
    source="common practice",
    client=Paperwork(),
    check=unknown_room,
    fires=as_typed(rooms=[{"room": "Boiler room"}], equipment=[{"tag": "DP-1", "room": "Boiler rm"}]),
    passes=as_typed(rooms=[{"room": "Boiler room"}], equipment=[{"tag": "DP-1", "room": "BOILER ROOM"}]),
)

NO_TRANSFORMER_DETAILS = Rule(
    slug="no-transformer-details",
    class_="correct",
    subject="Equipment",
    what="A transformer has no row in Transformers.",
    why="Direction, currents and fault current come from its label plate.",
    mend="Add its label plate to Transformers; N/V where it could not be seen.",
    source="common practice",
    client=Paperwork(),
    check=no_transformer_details,
    fires=as_typed(equipment=[{"tag": "T-1", "kind": "Transformer"}]),
    passes=as_typed(equipment=[{"tag": "T-1", "kind": "Transformer"}], transformers=[{"tag": "t-1"}]),
)

TRANSFORMER_DETAILS_TWICE = Rule(
    slug="transformer-details-twice",
    class_="correct",
    subject="Transformers",
    what="A transformer has two rows in Transformers.",
    why="One of the label plates belongs to something else; only the first is used.",
    mend="Delete the row that is wrong, or correct its tag.",
    source="common practice",
    client=Paperwork(),
    check=transformer_details_twice,
    fires=as_typed(transformers=[{"tag": "T-1"}, {"tag": "T-1"}]),
    passes=as_typed(transformers=[{"tag": "T-1"}, {"tag": "T-2"}]),
)

NOT_A_TRANSFORMER = Rule(
    slug="not-a-transformer",
    class_="correct",
    subject="Transformers",
    what="The tag in Transformers is of another kind of equipment.",
    why="A label plate stands under the wrong tag, or the kind is wrong.",
    mend="Correct the tag here, or the kind in Equipment.",
    source="common practice",
    client=Paperwork(),
    check=not_a_transformer,
    fires=as_typed(equipment=[{"tag": "T-1", "kind": "Panelboard"}], transformers=[{"tag": "T-1"}]),
    passes=as_typed(equipment=[{"tag": "T-1", "kind": "xfmr"}], transformers=[{"tag": "T-1"}]),
)

_ENTERED = [{"room": "Boiler room", "access": "Entered"}]
NO_CLEARANCE_RECORD = Rule(
    slug="no-clearance-record",
    class_="confirm",
    subject="Equipment",
    what="Equipment that needs working space has no row in Clearances, and its room was entered.",
    why="The working space was either not measured or not written down.",
    mend="Measure it, or say why it was not: write the row with N/V.",
    source="common practice",
    needs=(Equipment.room, Room.access),
    client=Limit(
        one="The clearances around it were not measured.",
        many="The clearances around them were not measured.",
    ),
    check=no_clearance_record,
    fires=as_typed(rooms=_ENTERED, equipment=[{"tag": "DP-1", "kind": "Panelboard", "room": "Boiler room"}]),
    passes=as_typed(
        rooms=_ENTERED,
        equipment=[{"tag": "DP-1", "kind": "Panelboard", "room": "Boiler room"}],
        clearances=[{"tag": "DP-1"}],
    ),
)

RULES = (
    DUPLICATE_TAG,
    DUPLICATE_ROOM,
    UNKNOWN_TAG,
    UNKNOWN_ROOM,
    NO_TRANSFORMER_DETAILS,
    TRANSFORMER_DETAILS_TWICE,
    NOT_A_TRANSFORMER,
    NO_CLEARANCE_RECORD,
)
