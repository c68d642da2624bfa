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

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.electrical import KINDS, needs_working_space
from workbook_tools.rules.causes import either, is_entered
from workbook_tools.rules.nearest import room_names, tag_names
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey.model import Row
from workbook_tools.survey.typed_text import separate

__all__ = ["RULES"]


def _twice(rule: Rule, assessment: Assessment, rows: list[Row], field: str, what: str) -> Iterator[Problem]:
    first: dict[str, Row] = {}
    for row in rows:
        name = row.get(field)
        if not name:
            continue
        earlier = first.setdefault(plain(name), row)
        if earlier is not row:
            place = f"{earlier.sheet}!{earlier[field].cell}"
            yield rule.problem(assessment, row, field, f"{row.subject} {what} at {place}.")


def duplicate_tag(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for two rows of Equipment with the same tag."""
    yield from _twice(
        DUPLICATE_TAG, assessment, assessment.survey.equipment, "tag", "is also the tag of another row,"
    )


def duplicate_room(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for two rows of Rooms with the same name."""
    yield from _twice(DUPLICATE_ROOM, assessment, assessment.survey.rooms, "room", "is already listed,")


def transformer_details_twice(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for two rows of Transformers with the same tag."""
    yield from _twice(
        TRANSFORMER_DETAILS_TWICE,
        assessment,
        assessment.survey.transformers,
        "tag",
        "already has a row here,",
    )


def _unknown(assessment: Assessment, name: str, refers_to: tuple[str, ...]) -> bool:
    survey = assessment.survey
    if "equipment" in refers_to and survey.tagged(name):
        return False
    return not ("rooms" in refers_to and survey.room(name) is not None)


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
    near = tag_names(assessment).near(name) if "equipment" in refers_to else []
    return near or (room_names(assessment).near(name) if "rooms" in refers_to else [])


def unknown_tag(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for names that no row of the sheets they refer to carries."""
    for key, sheet in assessment.survey.template.by_key.items():
        referring = [column for column in sheet.typed if column.refers_to and key != "equipment"]
        for row in assessment.survey.tables.get(key, ()):
            for column in referring:
                for name in _names(assessment, row.get(column.field), column.refers_to):
                    if not _unknown(assessment, name, column.refers_to):
                        continue
                    near = _near(assessment, name, column.refers_to)
                    what = "tag or room" if "rooms" in column.refers_to else "tag"
                    hint = f" The nearest is {either(near)}." if near else ""
                    yield UNKNOWN_TAG.problem(
                        assessment,
                        row,
                        column.field,
                        f"{name} is no {what} of this survey.{hint}",
                        action=f"Write {either(near)} if that is meant, or add {name} to the sheet it belongs to."
                        if near
                        else None,
                    )


def unknown_room(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for rooms of Equipment that Rooms does not list."""
    if "rooms" not in assessment.survey.template.by_key:
        return
    for row in assessment.survey.equipment:
        name = row.get("room")
        if name and assessment.survey.room(name) is None:
            near = room_names(assessment).near(name)
            hint = f" The nearest is {either(near)}." if near else ""
            yield UNKNOWN_ROOM.problem(assessment, row, "room", f"{name} is not in Rooms.{hint}")


def _meant_by_mistyped(assessment: Assessment, rows: list[Row]) -> set[str]:
    """Tags that a mistyped tag of these rows most likely means."""
    unknown = (
        row.get("tag") for row in rows if row.get("tag") and not assessment.survey.tagged(row.get("tag"))
    )
    return {plain(near) for name in unknown for near in tag_names(assessment).near(name)}


def no_transformer_details(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for transformers without a row in Transformers."""
    if "transformers" not in assessment.survey.template.by_key:
        return
    mistyped = _meant_by_mistyped(assessment, assessment.survey.transformers)
    for row in assessment.survey.equipment:
        tag = row.get("tag")
        if row.kind == "Transformer" and tag and assessment.plate(row) is None and plain(tag) not in mistyped:
            yield NO_TRANSFORMER_DETAILS.problem(
                assessment, row, "tag", f"{tag} is a transformer and has no row in Transformers."
            )


def not_a_transformer(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for rows of Transformers whose tag is of another kind."""
    for row in assessment.survey.transformers:
        named = assessment.survey.tagged(row.get("tag") or "")
        kinds = [equipment.kind for equipment in named]
        if named and None not in kinds and "Transformer" not in kinds:
            place = f"{named[0].sheet}!{named[0]['kind'].cell}"
            yield NOT_A_TRANSFORMER.problem(
                assessment,
                row,
                "tag",
                f"{place} gives the kind of {row.subject} as {named[0].get('kind')}, not Transformer.",
            )


def no_clearance_record(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for equipment that needs working space, in a room that was entered, without a row in Clearances."""
    survey = assessment.survey
    if "clearances" not in survey.template.by_key:
        return
    measured = {plain(row.get("tag")) for row in survey.clearances if row.get("tag")}
    measured |= _meant_by_mistyped(assessment, survey.clearances)
    for row in survey.equipment:
        tag, kind = row.get("tag"), row.kind
        if not tag or kind not in KINDS or not needs_working_space(kind) or plain(tag) in measured:
            continue
        entered = is_entered(assessment, row)
        if entered is None:
            yield NO_CLEARANCE_RECORD.not_checked(assessment, row, "room")
        elif entered:
            measured.add(plain(tag))
            yield NO_CLEARANCE_RECORD.problem(
                assessment,
                row,
                "tag",
                f"{tag} is in {row.get('room')}, which was entered, but has no row in Clearances.",
            )


DUPLICATE_TAG = Rule(
    slug="duplicate-tag",
    class_="correct",
    subject="Equipment",
    what="Two rows carry the same tag, compared without case or spaces.",
    why="Nobody can say which of the two a finding, a clearance or a feeder belongs to.",
    mend="Give one of them another tag (HP-1A), say in Remarks what its placard reads, and follow it on the other sheets.",
    source="common practice",
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
    check=not_a_transformer,
    fires=as_typed(equipment=[{"tag": "T-1", "kind": "Panelboard"}], transformers=[{"tag": "T-1"}]),
    passes=as_typed(equipment=[{"tag": "T-1", "kind": "xfmr"}], transformers=[{"tag": "T-1"}]),
)

_ENTERED = [{"room": "Boiler room", "access": "Entered"}]
NO_CLEARANCE_RECORD = Rule(
    slug="no-clearance-record",
    class_="confirm",
    subject="Equipment",
    needs=("room", "access"),
    what="Equipment that needs working space has no row in Clearances, and its room was entered.",
    why="The working space was either not measured or not written down.",
    mend="Measure it, or say why it was not: write the row with N/V.",
    source="common practice",
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
