"""What became of the issues between two surveys.

    issues_of(checked)                        the issues of one survey as the client would read them
    issue_states(last, this, same, told)      IssueStates: this year's first, then what is no longer there

An issue of the earlier survey that is not found again counts as mended only where this year's survey shows it:
the rule that found it looked again and found nothing, or a recorded value says the contrary of the finding. Otherwise it was not seen again, and the reason is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from workbook_tools.checking import Checked
from workbook_tools.comparison.model import IssueState, State
from workbook_tools.definitions import plain
from workbook_tools.rules.findings import shown_to_be_fine
from workbook_tools.rules.plain_english import capital
from workbook_tools.schedule.conditions import Found, conditions_of
from workbook_tools.schedule.issue_order import in_order
from workbook_tools.schedule.model import Condition
from workbook_tools.schedule.walking_order import walk
from workbook_tools.survey import Outcome, Row

__all__ = ["issue_states", "issues_of"]


def issues_of(checked: Checked, same: Mapping[str, str] | None = None) -> list[Found]:
    """Return the issues of a survey as found: nothing ranked, worded or left out by a reviewer.

    `same` says what tags are called by now, so that their issues have the numbers of now.
    """
    reported = [problem for problem in checked.problems if problem.class_ == "report"]
    found = conditions_of(checked, reported, lambda _row: ())
    if same:
        found = [
            replace(
                one,
                condition=replace(
                    one.condition, subject=same.get(plain(one.condition.subject), one.condition.subject)
                ),
            )
            for one in found
        ]
    return in_order(found, checked.survey, [step.row for step in walk(checked.assessment)])


def issue_states(
    last: Checked, this: Checked, same: Mapping[str, str], told: Iterable[Condition] | None = None
) -> list[IssueState]:
    """Return what became of each issue.

    Parameters
    ----------
    last, this : Checked
        The earlier survey and the later one, checked.
    same : mapping of str to str
        Tags of the earlier survey to what they are called now; in plain form.
    told : iterable of Condition, optional
        This year's issues as the client reads them; what a reviewer left out is told of neither year.
    """
    before = {one.condition.id: one for one in issues_of(last, same)}
    now = {one.condition.id: one for one in issues_of(this)}
    looked = _Looked(this)
    shown = [one.condition for one in now.values()] if told is None else list(told)
    states = [looked.state_of(one, now.get(one.id), before.get(one.id)) for one in shown]
    still = now.keys() | {one.id for one in shown}
    for number, one in before.items():
        if number not in still:
            mended = looked.shows_mended(one)
            state: State = "mended" if mended else "not seen again"
            states.append(_state(state, one.condition, one, mended or looked.why_not(one)))
    return states


def _state(state: State, condition: Condition, found: Found | None, why: str = "") -> IssueState:
    return IssueState(
        state, condition.id, condition.subject, found.cause if found is not None else "", found.finding if found is not None else "",
        condition.priority, condition.place, capital(condition.phrase), why,
    )  # fmt: skip


class _Looked:
    """What this year's survey shows of an issue of the earlier one."""

    def __init__(self, this: Checked) -> None:
        self.this = this
        self._unchecked = {(one.rule, plain(one.subject)) for one in this.not_checked}
        self._idle = {setting.slug for setting in this.off if setting.off} | {
            crash.rule for crash in this.crashed
        }

    def state_of(self, condition: Condition, now: Found | None, before: Found | None) -> IssueState:
        """Return what became of an issue of this year: one that was carried over and not seen again is not still there."""
        if now is not None and now.as_of:
            return _state("not seen again", condition, now, f"Nobody has looked again since {now.as_of}.")
        return _state("still there" if before is not None else "new", condition, now or before)

    def shows_mended(self, one: Found) -> str:
        """Return by what an issue counts as mended; "" where nothing shows it."""
        survey, subject = self.this.survey, one.condition.subject
        if self._is_marked_mended(one):
            return "The inspector says so."
        if self._is_there(subject) and self._rule_looked_again(one):
            return "The same was looked at again and nothing was found."
        entry = survey.template.find_finding(one.finding) if one.finding else None
        shown = shown_to_be_fine(self.this.assessment, entry, subject) if entry is not None else ""
        return f"This year {shown}." if shown else ""

    def _is_marked_mended(self, one: Found) -> bool:
        """Whether the finding stands in this year's survey, carried over, as one that is mended."""
        wanted = self._same_finding(one.finding)
        return bool(one.finding) and any(
            row.is_mended
            and plain(row.called) == plain(one.condition.subject)
            and self._same_finding(row.finding.said) == wanted
            for row in self.this.survey.findings
        )

    def _same_finding(self, typed: str) -> str:
        entry = self.this.survey.template.find_finding(typed)
        return entry.code if entry is not None else plain(typed)

    def _rule_looked_again(self, one: Found) -> bool:
        """Whether the cell that the rule read holds a value again, and the rule ran on it without a word."""
        if one.read_from is None or one.finding or one.cause in self._idle:
            return False
        if (one.cause, plain(one.condition.subject)) in self._unchecked:
            return False
        return any(self._answers_again(row, one.field) for row in self._rows_again(one) if not row.is_as_of)

    def _rows_again(self, one: Found) -> list[Row]:
        before = one.read_from
        rows = self.this.survey.tables.get(before.definition.key, ()) if before is not None else ()
        return [row for row in rows if plain(row.called) == plain(one.condition.subject)]

    def _answers_again(self, row: Row, heading: str) -> bool:
        column = next((c for c in row.definition.columns if c.heading == heading), None)
        return column is not None and row[column].outcome is Outcome.VALUE

    def _is_there(self, subject: str) -> bool:
        return bool(self.this.survey.tagged(subject)) or self.this.survey.room(subject) is not None

    def why_not(self, one: Found) -> str:
        """Return why nothing can be said."""
        survey, subject = self.this.survey, one.condition.subject
        if not self._is_there(subject):
            return "It is not in the list this year."
        rooms = [row for row in survey.tagged(subject) if self.this.assessment.is_entered(row) is False]
        if rooms:
            return "Its room was not entered this year."
        return "Nothing in this year's survey says whether it was looked at again."
