"""The firm's record: what the client does not get to see, and why."""

import csv
from dataclasses import replace
from io import StringIO
from pathlib import Path

from tests.files.injection_payloads import PAYLOADS
from workbook_tools.delivery.for_the_file import Record, record_path, write_record
from workbook_tools.delivery.gate import Answered, Judgment
from workbook_tools.files.csv_text import unguarded
from workbook_tools.rules.problems import Problem

FOUND = Problem("working-depth-short", "report", "Correct soon", "Clearances", "C5", "DP-1", "Depth", "41 in", "42 in",
                "Depth reads 41 in.", "Measure again.", "common practice")  # fmt: skip


def rows_of(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(path.read_bytes().decode("utf-8-sig"), newline="")))


def test_it_holds_the_sign_off_what_was_left_out_and_the_questions(tmp_path):
    judged = Judgment(questions=(FOUND,), left_out=(Answered(FOUND, "measured again: 42 in"),))
    path = tmp_path / "record.csv"
    write_record(path, Record(judged, "R. Reviewer, 2026-09-20", photos=["No photo x."]))
    rows = rows_of(path)
    assert [row["What"] for row in rows] == ["Sign-off", "Left out", "Question left open", "Photo"]
    assert rows[0]["Message"] == "R. Reviewer, 2026-09-20"
    assert (rows[1]["Cell"], rows[1]["Reason"]) == ("C5", "measured again: 42 in")


def test_what_is_to_act_on_now_and_stays_out_stands_by_itself_with_both_names(tmp_path):
    urgent = replace(FOUND, priority="Act now")
    judged = Judgment(left_out=(Answered(urgent, "locked out before we left", "S. Second"),))
    write_record(tmp_path / "r.csv", Record(judged, "R. Reviewer, 2026-09-20"))
    (row,) = rows_of(tmp_path / "r.csv")[1:]
    assert row["What"] == "Left out, to act on now"
    assert row["Reason"] == "locked out before we left (agreed by S. Second)"


def test_it_lies_beside_the_clients_folder(tmp_path):
    assert record_path(tmp_path / "delivery").parent == tmp_path


def test_a_reason_that_looks_like_a_formula_is_none(tmp_path):
    judged = Judgment(left_out=tuple(Answered(FOUND, payload) for payload in PAYLOADS))
    write_record(tmp_path / "r.csv", Record(judged, ""))
    reasons = [row["Reason"] for row in rows_of(tmp_path / "r.csv")][1:]
    assert not [reason for reason in reasons if reason.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))]
    assert [unguarded(reason) for reason in reasons] == list(PAYLOADS)
