"""Rules about a condition that one answer of a list says: it needs no finding to reach the client.

    bad-circuit-directory    the circuit directory is answered Missing, Outdated or Unreadable
    no-working-light         Lighting of a room with equipment is answered No

Where a finding about the same board or room says it already, with words and a photo, the rule stays
silent: the client reads it once. What stands in the working space is clear_spaces'.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain, spelling
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition
from workbook_tools.rules.contradictions import recorded
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Equipment, Finding, Room, Row

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Conditions recorded"

# NFPA 70 408.4(A) asks for a circuit directory at switchboards, switchgear and panelboards (from memory).
_WITH_DIRECTORY = ("Panelboard", "Switchboard", "Switchgear")
_BAD = ("Missing", "Outdated", "Unreadable")


def bad_circuit_directory(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for directories that are recorded as anything but present."""
    rule = BAD_CIRCUIT_DIRECTORY
    for row in filter(assessment.is_in_scope, assessment.survey.equipment):
        state = row.circuit_directory.value
        if row.stock_kind in _WITH_DIRECTORY:
            yield from rule.unanswered(row, row.circuit_directory)
        if state in _BAD and not _is_found(assessment, row, lambda one: _has_cause(assessment, one, rule)):
            yield rule.problem(
                row,
                row.circuit_directory,
                f"The circuit directory of {row.called} is recorded as {state.lower()}.",
                phrase=f"{state.lower()} circuit directory",
                expected="Present",
            )


def no_working_light(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for rooms with equipment and without a light that works."""
    rule = NO_WORKING_LIGHT
    rooms = {
        plain(row.room.value or "") for row in filter(assessment.is_in_scope, assessment.survey.equipment)
    }
    for room in assessment.survey.rooms:
        if plain(room.room.value or "") not in rooms:
            continue
        if room.access.value in (None, "Entered"):
            yield from rule.unanswered(room, room.lighting)
        if room.lighting.value == "No" and not _is_found(
            assessment, room, lambda one: _is_about_light(assessment, one)
        ):
            yield rule.problem(
                room,
                room.lighting,
                f"The room {room.called} holds equipment and is recorded as having no working light.",
                phrase="no working light over the equipment",
                expected="Yes",
            )


def _is_found(assessment: Assessment, row: Row, is_about: Callable[[Finding], bool]) -> bool:
    """Whether a finding about a board or room is about the same thing; its name may lack a hyphen ("LP1")."""
    survey = assessment.survey
    mistyped = (
        finding
        for finding in survey.findings_of_this_visit
        if spelling(finding.subject.typed) == spelling(row.called)
        and not survey.tagged(finding.subject.value)
    )
    return any(map(is_about, (*survey.findings_about(row.called), *mistyped)))


def _has_cause(assessment: Assessment, row: Finding, rule: Rule) -> bool:
    entry = assessment.survey.template.find_finding(row.finding.value or "")
    causes = entry.disagrees_with if entry is not None else ()
    return rule.slug in causes or f"{Equipment.circuit_directory.name}=Present" in causes


def _is_about_light(assessment: Assessment, row: Finding) -> bool:
    entry = assessment.survey.template.find_finding(row.finding.value or "")
    said = f"{row.finding.typed} {entry.name if entry is not None else ''} {row.seen.typed}".casefold()
    return "light" in said or "lamp" in said


_DP1 = {"tag": "DP-1", "kind": "Panelboard", "circuit_directory": "Outdated", "room": "Store"}
_FOUND = {"photos": "QS_0104.jpg"}

BAD_CIRCUIT_DIRECTORY = Rule(
    slug="bad-circuit-directory",
    class_="report",
    priority="Upkeep",
    subject="Equipment",
    what="The circuit directory is recorded as missing, outdated or unreadable. Where a finding says so, that is what counts.",
    why="In an emergency the wrong circuit is switched off, and the right one stays on.",
    mend="Leave the cell: it goes to the client. A finding with a photo says more.",
    source="NFPA 70 408.4(A)",
    needs=(Equipment.circuit_directory,),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.LABEL),
        do="Have a licensed electrician find out what each circuit serves, and write the directory anew.",
    ),
    compares="Circuit directories",
    fine=recorded(Equipment.circuit_directory, "Present"),
    check=bad_circuit_directory,
    fires=as_typed(equipment=[_DP1]),
    passes=as_typed(
        equipment=[_DP1], findings=[{"subject": "DP-1", "finding": "Circuit directory outdated", **_FOUND}]
    ),
)

NO_WORKING_LIGHT = Rule(
    slug="no-working-light",
    class_="report",
    priority="Upkeep",
    subject="Rooms",
    what="A room with equipment is recorded as having no light that works. Where a finding speaks of the light, that is what counts.",
    why="Whoever must switch off or mend something there works in the dark beside live parts.",
    mend="Leave the cell: it goes to the client. A finding with a photo says more.",
    source="NFPA 70 110.26(D)",
    needs=(Room.lighting,),
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.ACCESS, ladder=True),
        do="Have the light over the equipment mended.",
    ),
    compares="Light over the equipment",
    check=no_working_light,
    fires=as_typed(
        rooms=[{"room": "Store", "access": "Entered", "lighting": "No"}],
        equipment=[{"tag": "DS-1", "kind": "Disconnect switch", "room": "Store"}],
    ),
    passes=as_typed(
        rooms=[{"room": "Store", "access": "Entered", "lighting": "No"}],
        equipment=[{"tag": "DS-1", "kind": "Disconnect switch", "room": "Store"}],
        findings=[{"subject": "Store", "finding": "Poor or failed lighting at the gear", **_FOUND}],
    ),
)

RULES = (BAD_CIRCUIT_DIRECTORY, NO_WORKING_LIGHT)
