"""Rules about the rows of Findings.

finding-not-in-library       the inspector's own wording
finding-duplicated           the same finding twice for one subject
finding-without-photo        no photo is named
finding-disagrees            a recorded value says the opposite
condition-without-finding    a recorded value says something is wrong, and no finding does
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.assessment.supply_paths import services
from workbook_tools.definitions import FindingType, plain
from workbook_tools.rules.causes import findings_about, is_in_scope, suspect_unit
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed, heading_of
from workbook_tools.rules.service import hand_motions
from workbook_tools.survey.model import Outcome, Row

__all__ = ["RULES"]


def finding_not_in_library(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for findings in the inspector's own words."""
    for row in assessment.survey.findings:
        text = row.get("finding")
        if text and assessment.survey.template.find_finding(text) is None:
            yield FINDING_NOT_IN_LIBRARY.problem(
                assessment,
                row,
                "finding",
                f"{text} is not in the finding library: it goes out as it is written.",
            )


def finding_duplicated(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for the same finding twice for one subject, whichever spelling of it was used."""
    first: dict[tuple[str, str], Row] = {}
    for row in assessment.survey.findings:
        subject, text = row.get("subject"), row.get("finding")
        if not subject or not text:
            continue
        entry = assessment.survey.template.find_finding(text)
        earlier = first.setdefault((plain(subject), entry.code if entry is not None else plain(text)), row)
        if earlier is not row:
            place = f"{earlier.sheet}!{earlier['finding'].cell}"
            yield FINDING_DUPLICATED.problem(
                assessment, row, "finding", f"{text} is already recorded for {subject} at {place}."
            )


def finding_without_photo(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for findings that name no photo and have no picture pasted on their row."""
    for row in assessment.survey.findings:
        none = row["photos"].outcome is Outcome.BLANK and not assessment.survey.has_picture(row)
        if none and (row["subject"].answered or row["finding"].answered):
            yield FINDING_WITHOUT_PHOTO.problem(
                assessment,
                row,
                "photos",
                f"No photo is named for {row['finding'].typed.strip() or 'the finding'}.",
            )


def finding_disagrees(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare each finding of the library with the recorded value that would contradict it."""
    fine = _Fine(assessment)
    for row in assessment.survey.findings:
        entry = assessment.survey.template.find_finding(row.get("finding") or "")
        subject = row.get("subject")
        if entry is None or not subject:
            continue
        for contradiction in entry.disagrees_with:
            says = fine.says(contradiction, subject)
            if says:
                yield FINDING_DISAGREES.problem(
                    assessment,
                    row,
                    "finding",
                    f"{row['finding'].typed.strip()} is recorded for {subject}, but {says}.",
                )
                break


class _Fine:
    """Says where a recorded value shows that what a finding claims is fine."""

    def __init__(self, assessment: Assessment) -> None:
        self.assessment = assessment
        self.measured: dict[str, list[Row]] = {}
        for row in assessment.survey.clearances:
            if row.get("tag"):
                self.measured.setdefault(plain(row.get("tag")), []).append(row)

    def says(self, contradiction: str, subject: str) -> str:
        """Return the recorded value that contradicts, in words, or "" where there is none."""
        field, sign, choice = contradiction.partition("=")
        if sign:
            return self._recorded(field, choice, subject)
        look: Callable[[str], str] | None = {
            "working-depth-short": lambda s: self._enough(s, "depth"),
            "working-width-short": lambda s: self._enough(s, "width"),
            "working-height-short": lambda s: self._enough(s, "height"),
            "front-projection-over": lambda s: self._enough(s, "front_projection", "projection"),
            "door-swing-limited": lambda s: self._answers(s, "door_opens_90", "Yes"),
            "working-space-storage": lambda s: self._answers(s, "items_in_space", ("None",)),
            "dedicated-space-obstructed": lambda s: self._answers(s, "items_above", ("None",)),
            "touch-test-alerted": lambda s: self._recorded("touch_test", "No alert", s),
            "hand-motions-over-six": self._motions,
        }.get(contradiction)
        return look(subject) if look is not None else ""

    def _recorded(self, field: str, choice: str, subject: str) -> str:
        rows = self.assessment.survey.tagged(subject)
        if len(rows) != 1 or rows[0].get(field) != choice:
            return ""
        return self._reads(rows[0], field)

    def _answers(self, subject: str, field: str, answer: object) -> str:
        rows = self.measured.get(plain(subject), [])
        if not rows or any(row.get(field) != answer for row in rows):
            return ""
        return self._reads(rows[0], field)

    def _enough(self, subject: str, field: str, compared: str = "") -> str:
        rows = self.measured.get(plain(subject), [])
        for row in rows:
            comparison = getattr(self.assessment.clearance(row), compared or field)
            if comparison is None or not comparison.enough or suspect_unit(self.assessment, row, field):
                return ""
        return f"{self._reads(rows[0], field)}, which is enough" if rows else ""

    def _motions(self, subject: str) -> str:
        rows = {id(row) for row in self.assessment.survey.tagged(subject)}
        by_service = services(self.assessment)
        for name, total, counted in hand_motions(self.assessment):
            named = plain(name) == plain(subject) or any(id(row) in rows for row in by_service[name])
            if named and counted and total <= self.assessment.profile.hand_motions:
                return f"the hand motions of {name or 'its service'} sum to {total}"
        return ""

    def _reads(self, row: Row, field: str) -> str:
        value = row[field]
        return f"{heading_of(self.assessment, row.key, field)} reads {value.typed.strip()} at {value.sheet}!{value.cell}"


# NFPA 70 408.4(A) asks for a circuit directory at switchboards, switchgear and panelboards (from memory).
_WITH_DIRECTORY = ("Panelboard", "Switchboard", "Switchgear")
_BAD_DIRECTORIES = ("Missing", "Outdated", "Unreadable")


def condition_without_finding(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for a bad directory or a dark room that no finding speaks of."""
    rooms: dict[str, None] = {}
    for row in assessment.survey.equipment:
        if not is_in_scope(assessment, row):
            continue
        state = row.get("circuit_directory")
        if row.kind in _WITH_DIRECTORY:
            yield from CONDITION_WITHOUT_FINDING.unanswered(assessment, row, "circuit_directory")
        if state in _BAD_DIRECTORIES and not _has_finding(
            assessment, row.subject, "circuit_directory=Present"
        ):
            yield CONDITION_WITHOUT_FINDING.problem(
                assessment,
                row,
                "circuit_directory",
                f"The circuit directory of {row.subject} is recorded as {str(state).lower()}, and no finding says so.",
            )
        rooms.setdefault(plain(row.get("room") or ""))
    for room in assessment.survey.rooms:
        holds_equipment = plain(room.get("room") or "") in rooms
        if holds_equipment and room.get("access") in (None, "Entered"):
            yield from CONDITION_WITHOUT_FINDING.unanswered(assessment, room, "lighting")
        dark = room.get("lighting") == "No" and holds_equipment
        if dark and not any(
            _is_about_light(assessment, row) for row in findings_about(assessment, room.subject)
        ):
            yield CONDITION_WITHOUT_FINDING.problem(
                assessment,
                room,
                "lighting",
                f"{room.subject} holds equipment and has no working light, and no finding says so.",
            )


def _entry(assessment: Assessment, row: Row) -> FindingType | None:
    return assessment.survey.template.find_finding(row.get("finding") or "")


def _has_finding(assessment: Assessment, subject: str, contradiction: str) -> bool:
    entries = [_entry(assessment, row) for row in findings_about(assessment, subject)]
    return any(entry is not None and contradiction in entry.disagrees_with for entry in entries)


def _is_about_light(assessment: Assessment, row: Row) -> bool:
    entry = _entry(assessment, row)
    said = f"{row['finding'].typed} {entry.name if entry is not None else ''} {row['seen'].typed}".casefold()
    return "light" in said or "lamp" in said


_DP1 = {"tag": "DP-1", "kind": "Panelboard", "voltage": "480Y/277", "phase": "3", "wires": "4"}
_OPEN = {"subject": "DP-1", "finding": "Open knockout", "photos": "QS_0126.jpg"}

FINDING_NOT_IN_LIBRARY = Rule(
    slug="finding-not-in-library",
    class_="note",
    subject="Findings",
    what="The finding is the inspector's own wording.",
    why="It has no usual priority and action; the client reads exactly what is written.",
    mend="Nothing to do where it says what is wrong; give it a Priority and an Action.",
    source="common practice",
    check=finding_not_in_library,
    fires=as_typed(findings=[{**_OPEN, "finding": "Bird nest in the gutter"}]),
    passes=as_typed(findings=[_OPEN]),
)

FINDING_DUPLICATED = Rule(
    slug="finding-duplicated",
    class_="correct",
    subject="Findings",
    what="The same finding is written twice for one subject.",
    why="The client would read and pay for it twice.",
    mend="Keep one row: put the number into Count, and what both say into What was seen.",
    source="common practice",
    check=finding_duplicated,
    fires=as_typed(
        findings=[
            _OPEN,
            {**_OPEN, "subject": "dp-1", "finding": "Open knockout or conduit hole in a cabinet"},
        ]
    ),
    passes=as_typed(findings=[_OPEN, {**_OPEN, "subject": "DP-2"}]),
)

FINDING_WITHOUT_PHOTO = Rule(
    slug="finding-without-photo",
    class_="confirm",
    subject="Findings",
    what="No photo is named.",
    why="A finding that the client cannot see is argued about.",
    mend="Name the photo; N/A where none could be taken, and confirm.",
    source="common practice",
    check=finding_without_photo,
    fires=as_typed(findings=[{**_OPEN, "photos": ""}]),
    passes=as_typed(findings=[_OPEN]),
)

FINDING_DISAGREES = Rule(
    slug="finding-disagrees",
    class_="confirm",
    subject="Findings",
    what="The finding and a recorded value contradict each other: a clearance finding where the measurements pass, a missing "
    "directory where the row says present.",
    why="The client would read both.",
    mend="Decide which of the two is right and correct the other; confirm where both are (another part of the space).",
    source="common practice",
    check=finding_disagrees,
    fires=as_typed(
        equipment=[{**_DP1, "circuit_directory": "Present"}],
        findings=[{"subject": "DP-1", "finding": "Circuit directory missing", "photos": "QS_0104.jpg"}],
    ),
    passes=as_typed(
        equipment=[{**_DP1, "circuit_directory": "Missing"}],
        findings=[{"subject": "DP-1", "finding": "Circuit directory missing", "photos": "QS_0104.jpg"}],
    ),
)

CONDITION_WITHOUT_FINDING = Rule(
    slug="condition-without-finding",
    class_="note",
    subject="Equipment Rooms",
    needs=("circuit_directory", "lighting"),
    what="A circuit directory is recorded as missing, outdated or unreadable, or a room with equipment as unlit, and no "
    "finding says so.",
    why="What stands in a column of the list alone is easily overlooked; a finding carries it to the client.",
    mend="Record the finding, with a photo.",
    source="NFPA 70 408.4(A); NFPA 70 110.26(D)",
    check=condition_without_finding,
    fires=as_typed(equipment=[{**_DP1, "circuit_directory": "Outdated"}]),
    passes=as_typed(
        equipment=[{**_DP1, "circuit_directory": "Outdated"}],
        findings=[{"subject": "DP-1", "finding": "Circuit directory outdated", "photos": "QS_0104.jpg"}],
    ),
)

RULES = (
    FINDING_NOT_IN_LIBRARY,
    FINDING_DUPLICATED,
    FINDING_WITHOUT_PHOTO,
    FINDING_DISAGREES,
    CONDITION_WITHOUT_FINDING,
)
