"""Rules about the rows of Findings.

finding-not-in-library       the inspector's own wording
finding-duplicated           the same finding twice for one subject
finding-without-photo        no photo is named
finding-disagrees            a recorded value says the opposite
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import FindingType, plain
from workbook_tools.rules import catalogue
from workbook_tools.rules.client import Paperwork
from workbook_tools.rules.contradictions import reads
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Finding, Outcome

__all__ = ["RULES", "SUBJECT", "shown_to_be_fine"]

SUBJECT = "Findings"


def finding_not_in_library(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for findings in the inspector's own words."""
    for row in assessment.survey.standing_findings:
        text = row.finding.value
        if text and assessment.survey.template.find_finding(text) is None:
            yield FINDING_NOT_IN_LIBRARY.problem(
                row,
                row.finding,
                f"{row.finding.heading} reads {text}, which is not in the finding library: it goes out as it is written.",
            )


def finding_duplicated(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for the same finding twice for one subject, whichever spelling of it was used."""
    first: dict[tuple[str, str], Finding] = {}
    for row in assessment.survey.standing_findings:
        subject, text = row.subject.value, row.finding.value
        if not subject or not text:
            continue
        entry = _entry(assessment, row)
        earlier = first.setdefault((plain(subject), entry.code if entry is not None else plain(text)), row)
        if earlier is not row:
            yield FINDING_DUPLICATED.problem(
                row, row.finding, f"{text} is already recorded for {subject} at {earlier.finding.place}."
            )


def finding_without_photo(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for findings that name no photo and have no picture pasted on their row; where this visit saw them."""
    for row in assessment.survey.findings_of_this_visit:
        none = row.photos.outcome is Outcome.BLANK and not assessment.survey.has_picture(row)
        if none and (row.subject.answered or row.finding.answered):
            yield FINDING_WITHOUT_PHOTO.problem(
                row,
                row.photos,
                f"No photo is named for {row.finding.said or 'the finding'}.",
            )


def finding_disagrees(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare each finding of the library with the recorded value that would contradict it."""
    for row in assessment.survey.standing_findings:
        entry, subject = _entry(assessment, row), row.subject.value
        if entry is None or not subject:
            continue
        says = shown_to_be_fine(assessment, entry, subject)
        if says:
            yield FINDING_DISAGREES.problem(
                row, row.finding, f"{row.finding.said} is recorded for {subject}, but {says}."
            )


def shown_to_be_fine(assessment: Assessment, entry: FindingType, subject: str) -> str:
    """Return the recorded value that contradicts a finding about a subject, in words; "" where there is none."""
    said = (_fine(assessment, contradiction, subject) for contradiction in entry.disagrees_with)
    return next(filter(None, said), "")


def _fine(assessment: Assessment, contradiction: str, subject: str) -> str:
    """Return the recorded value that contradicts, in words, or "" where there is none."""
    field, sign, choice = contradiction.partition("=")
    if not sign:
        rule = catalogue().get(contradiction)
        return rule.fine(assessment, subject) if rule is not None and rule.fine is not None else ""
    rows = assessment.survey.tagged(subject)
    column = rows[0].definition.by_field.get(field) if len(rows) == 1 else None
    return reads(rows[0][column]) if column is not None and rows[0][column].value == choice else ""


def _entry(assessment: Assessment, row: Finding) -> FindingType | None:
    return assessment.survey.template.find_finding(row.finding.value or "")


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
    client=Paperwork(firms_own=True),
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
    client=Paperwork(),
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
    mend="Name the photo; where none could be taken, write N/A and answer No issue.",
    source="common practice",
    client=Paperwork(firms_own=True),
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
    mend="Decide which of the two is right and correct the other; answer No issue where both are (another part of the space).",
    source="common practice",
    client=Paperwork(),
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

RULES = (
    FINDING_NOT_IN_LIBRARY,
    FINDING_DUPLICATED,
    FINDING_WITHOUT_PHOTO,
    FINDING_DISAGREES,
)
