"""What the terminal and the firm's record say about a delivery: the truth about template, answers, photos and sign-off."""

from pathlib import Path

import pytest

from tests.delivery.made_surveys import deliver, edit_review, picture, review_and_sign, write_survey
from tests.delivery.test_deliver import READY, rows_of, texts_of
from workbook_tools.commands import check
from workbook_tools.errors import Unusable
from workbook_tools.review import read_review
from workbook_tools.survey import fingerprint, read_survey

FIRM = '[template]\nname = "firm"\nextends = "office"\n\n' + (
    '[[sheets.equipment.columns]]\nfield = "lease"\nheading = "Lease area"\nholds = "text"\nask = "As on the lease plan."\n'
)


@pytest.fixture
def firm(tmp_path) -> Path:
    path = tmp_path / "firm.toml"
    path.write_text(FIRM, encoding="utf-8")
    return path


@pytest.fixture
def survey(tmp_path) -> Path:
    first, *rows = READY["Equipment"]
    equipment = [[*first, "Lease area"], *([*row, "B"] for row in rows)]
    return write_survey(tmp_path / "survey.xlsx", READY | {"Equipment": equipment})


def test_a_template_that_was_forgotten_is_named(tmp_path, survey, firm):
    review = review_and_sign(survey, tmp_path / "review.xlsx", template=firm)
    assert read_review(review).template == "firm (firm.toml)"
    assert fingerprint(read_survey(survey)) != fingerprint(read_survey(survey, firm))
    with pytest.raises(Unusable) as refused:
        deliver(survey, output=tmp_path / "delivery", review=review)
    assert "was made with the template firm (firm.toml)" in str(refused.value)
    assert "--template firm.toml" in str(refused.value)
    assert "has changed" not in str(refused.value)
    assert deliver(survey, output=tmp_path / "delivery", review=review, template=firm).folder.is_dir()


def test_a_survey_that_did_change_is_still_said_to_have_changed(tmp_path, survey, firm):
    review = review_and_sign(survey, tmp_path / "review.xlsx", template=firm)
    write_survey(survey, READY)
    with pytest.raises(Unusable, match="has changed since the sign-off"):
        deliver(survey, output=tmp_path / "delivery", review=review, template=firm)


def test_a_delivery_says_the_note_on_the_template_that_check_says(tmp_path, survey):
    notes = check(survey).survey.notes
    assert any("--template" in note for note in notes)
    made = deliver(survey, output=tmp_path / "draft", draft=True)
    # Under a heading of their own, not as one more open thing.
    begins = made.lines.index("To know:") + 1
    assert [line.removeprefix("  - ") for line in made.lines[begins : begins + len(notes)]] == notes


def test_unanswered_questions_are_told_once_and_recorded_as_such(tmp_path, survey):
    review = review_and_sign(survey, tmp_path / "review.xlsx")
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    limits = [row for row in rows_of(made.folder / "data" / "limits.csv") if row["group"] == "Open questions"]
    asked = [row for row in rows_of(made.record) if row["What"] == "Question left open"]
    assert len(limits) > 1
    (told,) = [line for line in made.lines if "not answered" in line]
    assert told.startswith(f"{len(asked)} questions were not answered: they stand in the schedule")
    signed = rows_of(made.record)[0]["Message"]
    assert f"Not answered when this was delivered: {len(asked)} problems to confirm" in signed


def test_a_draft_counts_every_question_that_its_limits_list(tmp_path, survey):
    made = deliver(survey, output=tmp_path / "draft", draft=True)
    limits = [row for row in rows_of(made.folder / "data" / "limits.csv") if row["group"] == "Open questions"]
    (told,) = [line for line in made.lines if "not answered" in line]
    assert f"{len(limits)} questions were not answered: they stand in the schedule" in told


def test_a_bad_directory_is_an_issue_of_its_own_unless_the_reviewer_leaves_it_out(tmp_path):
    equipment = [
        [*READY["Equipment"][0], "Circuit directory"],
        *([*r, "Missing"] for r in READY["Equipment"][1:]),
    ]
    survey = write_survey(tmp_path / "survey.xlsx", READY | {"Equipment": equipment})
    found = [p for p in check(survey).problems if p.rule == "bad-circuit-directory"]
    assert {p.class_ for p in found} == {"report"}
    out = {"bad-circuit-directory": ("Leave out", "the owner has had them written already")}
    left = review_and_sign(survey, tmp_path / "left.xlsx", out)
    before = deliver(survey, output=tmp_path / "before", review=left)
    told = review_and_sign(survey, tmp_path / "told.xlsx")
    made = deliver(survey, output=tmp_path / "made", review=told)
    old, new = (rows_of(one.folder / "data" / "issues.csv") for one in (before, made))
    added = [row for row in new if row["seen"] not in {r["seen"] for r in old}]
    assert [row["subject"] for row in added] == [p.subject for p in found]
    assert {row["priority"] for row in added} == {"Upkeep"}
    assert "Missing circuit directory." in texts_of(made.folder / "schedule.xlsx")
    assert "Missing circuit directory." not in texts_of(before.folder / "schedule.xlsx")


def test_without_photos_one_line_counts_the_files(tmp_path, survey):
    review = review_and_sign(survey, tmp_path / "review.xlsx")
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    told = [line for line in made.lines if "photo file" in line]
    assert told == [
        "5 different photo files are named and no photo folder was given (--photos), so none was delivered."
    ]


def test_a_missing_photo_is_listed_once(tmp_path, survey):
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "QS_0777.jpg").write_bytes(picture())
    (tmp_path / "photos" / "QS_0778.jpg").write_bytes(picture("blue"))
    made = deliver(survey, output=tmp_path / "draft", draft=True, photos=tmp_path / "photos")
    assert not [line for line in made.lines if "names the photo" in line or "name the photo" in line]
    record = [row["Message"] for row in rows_of(made.record)]
    assert not [m for m in record if "names the photo" in m or "name the photo" in m]
    assert [m for m in record if "QS_0110" in m]
    assert made.lines.index("About the photos:") < made.lines.index(
        "  - The photo QS_0777.jpg in the folder is named nowhere."
    )


URGENT = READY | {
    "Findings": [
        *READY["Findings"],
        ["DP-1", "Open unused breaker or switch position", "", "two positions", "QS_0110"],
    ]
}


def issues_of(made) -> list[dict[str, str]]:
    return rows_of(made.folder / "data" / "issues.csv")


def test_what_is_to_act_on_now_and_left_out_is_printed_by_name_in_terminal_and_record(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx", URGENT)
    review = review_and_sign(survey, tmp_path / "review.xlsx")
    urgent = [e for e in read_review(review).entries if e.problem.priority == "Act now"]
    assert [(e.problem.rule, e.problem.subject) for e in urgent] == [("inspector's finding", "DP-1")]
    edit_review(review, urgent[0].problem.rule, Disposition="Leave out", Reason="gone")
    with pytest.raises(
        Unusable, match=rf"answered at {urgent[0].place}, is to act on now and is left out: the reason"
    ):
        deliver(survey, output=tmp_path / "delivery", review=review)
    reason = "Filler plates were put in before the inspector left."
    edit_review(review, urgent[0].problem.rule, Reason=reason)
    with pytest.raises(Unusable, match="a second person, other than the reviewer, has to agree"):
        deliver(survey, output=tmp_path / "delivery", review=review)
    edit_review(review, urgent[0].problem.rule, Second_name="S. Second (invented)")
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    (told,) = [line for line in made.lines if line.startswith("TO ACT ON NOW AND LEFT OUT: DP-1:")]
    assert reason in told
    assert "S. Second (invented)" in told
    (row,) = [row for row in rows_of(made.record) if row["What"] == "Left out, to act on now"]
    assert row["Reason"] == f"{reason} (agreed by S. Second (invented))"
    assert not [issue for issue in issues_of(made) if "unused" in issue["seen"].casefold()]
    assert "unused breaker" not in " ".join(texts_of(made.folder / "schedule.xlsx")).casefold()


def test_a_finding_is_ranked_and_worded_by_the_reviewer_and_marked_so(tmp_path):
    survey = write_survey(tmp_path / "survey.xlsx", READY)
    review = review_and_sign(survey, tmp_path / "review.xlsx")
    first = next(e for e in read_review(review).entries if e.problem.rule == "inspector's finding")
    edit_review(
        review, "inspector's finding", Your_priority="upkeep", Your_words_for_the_client="Cans stand on the transformer."
    )  # fmt: skip
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    (issue,) = [issue for issue in issues_of(made) if issue["seen"] == "Cans stand on the transformer."]
    assert (issue["subject"], issue["priority"]) == (first.problem.subject, "Upkeep")
    assert issue["basis"].endswith("ranked by the reviewer; worded by the reviewer")
    assert not [one for one in issues_of(made) if "floor sealer" in one["seen"]]
    (changed,) = [row for row in rows_of(made.record) if row["What"] == "Changed by the reviewer"]
    assert "now Upkeep" in changed["Reason"]


def test_a_question_without_an_issue_is_told_where_words_are_given_and_nowhere_else(tmp_path, survey):
    answers = {"confirm": ("No issue", "the inspector was asked")}
    review = review_and_sign(survey, tmp_path / "review.xlsx", answers)
    edit_review(
        review,
        "no-service-disconnect",
        Your_words_for_the_client="The utility's own disconnect serves the site.",
    )
    made = deliver(survey, output=tmp_path / "delivery", review=review)
    limits = rows_of(made.folder / "data" / "limits.csv")
    answered = [row for row in limits if row["group"] == "Asked and answered"]
    assert [row["reason"] for row in answered] == ["The utility's own disconnect serves the site."]
    assert not [row for row in limits if row["group"] == "Open questions"]
    everything = " ".join(texts_of(made.folder / "schedule.xlsx"))
    assert "the inspector was asked" not in everything
    assert not [issue for issue in issues_of(made) if "service disconnect" in issue["seen"].casefold()]
    kept = [row for row in rows_of(made.record) if row["What"] == "No issue"]
    assert {row["Reason"] for row in kept} == {"the inspector was asked"}
