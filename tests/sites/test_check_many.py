"""Many surveys checked at once say what each says alone, and nothing that is wrong with one stops another."""

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.sampling import drawn
from tests.sites.made_sites import SITES, is_broken, kind_of, make_folder, survey_sheets, write_sheets
from tests.sites.troubled import named, slow_square, troubled
from workbook_tools import Unusable, check, check_sites
from workbook_tools.checking import as_json
from workbook_tools.checking.report import counts_by_class
from workbook_tools.cli import main
from workbook_tools.sites import NotRead, SiteChecked, Tally, each_survey, look_for
from workbook_tools.sites.side_by_side import side_by_side
from workbook_tools.sites.tally import line_of

# One of each kind of broken file, and of every ten neighbours one that is whole.
NUMBERS = drawn(
    "sites checked together", SITES, lambda number: kind_of(number) if is_broken(number) else number // 10
)


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return make_folder(tmp_path_factory.mktemp("sites"), NUMBERS)


@pytest.fixture(scope="module")
def together(made):
    """Return what a check of the whole folder comes to: the tally, what was passed over, each one."""
    each = []
    tally, passed_over = check_sites([made.folder], each=each.append, whole=True, workers=2)
    return tally, passed_over, {one.path: one for one in each}


@pytest.fixture(scope="module")
def alone(made):
    """Return what a check of each survey by itself comes to."""
    return {path: check(path) for path in made.surveys.values()}


@pytest.mark.sampled
def test_each_survey_says_in_a_folder_what_it_says_alone(alone, together):
    _, _, each = together
    assert alone
    for path, checked in alone.items():
        said = json.loads(each[path].json)
        assert said.pop("file") == str(path)
        assert said == json.loads(json.dumps(as_json(checked)))


@pytest.mark.sampled
def test_each_broken_file_is_named_with_the_sentence_it_has_alone(made, together):
    tally, _, each = together
    assert made.broken
    for path in made.broken.values():
        with pytest.raises(Unusable) as refused:
            check(path)
        assert each[path] == NotRead(path, str(refused.value))
        assert line_of(each[path]) == f"{path}: NOT READ. {refused.value}"
    assert (tally.surveys, tally.not_read, tally.status) == (len(made.surveys), len(made.broken), 2)


@pytest.mark.sampled
def test_every_file_is_told_once_in_the_order_people_count(made, together):
    _, _, each = together
    assert list(each) == [(made.surveys | made.broken)[number] for number in sorted(NUMBERS)]


@pytest.mark.sampled
def test_the_tally_has_the_sums_and_the_most_urgent_site_first(alone, together):
    tally, passed_over, _ = together
    checked = {path: one.problems for path, one in alone.items()}
    for name in ("correct", "confirm", "report", "note"):
        assert tally.by_class[name] == sum(
            p.class_ == name for problems in checked.values() for p in problems
        )
    act_now = {path: sum(p.priority == "Act now" for p in problems) for path, problems in checked.items()}
    shown = [line.split("  ")[-1] for line in tally.lines(passed_over) if line.startswith("Site ")]
    assert shown
    assert act_now[Path(shown[0])] == max(act_now.values())


def test_a_line_has_property_file_counts_and_who_is_next(tmp_path):
    path = write_sheets(tmp_path / "one.xlsx", survey_sheets(0))
    each = []
    check_sites([path], each=each.append, workers=1)
    problems = check(path).problems
    assert line_of(each[0]) == (
        f"Site 0 (invented)  {path}  {counts_by_class(problems)}  "
        + (
            "back to the inspector"
            if any(p.class_ == "correct" for p in problems)
            else "questions for the reviewer"
        )
    )


def test_what_is_no_survey_in_a_folder_is_passed_over_and_counted(tmp_path):
    headings = {name: rows[:1] for name, rows in survey_sheets(0).items() if name != "Job"}
    survey = write_sheets(tmp_path / "a survey.xlsx", headings)
    check(survey, output=tmp_path / "review.xlsx")
    write_sheets(tmp_path / "budget.xlsx", {"Budget": [["Month", "Money"], ["May", "12"]]})
    for name in ("~$a survey.xlsx", ".hidden.xlsx", "last year.xls", "notes.txt", "photo.jpg"):
        (tmp_path / name).write_bytes(b"x")
    delivery = tmp_path / "delivery"
    delivery.mkdir()
    (delivery / "list-of-files.txt").write_text("")
    shutil.copy(survey, delivery / "schedule.xlsx")
    each = []
    tally, passed_over = check_sites([tmp_path], each=each.append, workers=1)
    assert [one.path for one in each] == [survey]
    assert each[0].state == "not filled in"
    assert tally.surveys == 1
    said = ("1 delivery's folder", "1 old .xls workbook", "1 lock file of an open workbook", "1 review workbook",
            "1 workbook of something else")  # fmt: skip
    assert passed_over.startswith("Passed over: ")
    assert set(passed_over.removeprefix("Passed over: ").rstrip(".").split(", ")) == set(said)


def test_a_file_that_is_named_is_never_passed_over_and_read_once(tmp_path):
    budget = write_sheets(tmp_path / "budget.xlsx", {"Budget": [["Month", "Money"], ["May", "12"]]})
    missing = tmp_path / "missing.xlsx"
    each = []
    tally, passed_over = check_sites([budget, missing, budget, tmp_path], each=each.append, workers=1)
    assert [one.path for one in each] == [budget, missing]
    assert "is no survey workbook" in each[0].sentence
    assert "missing.xlsx" in each[1].sentence
    assert (tally.status, passed_over) == (2, "")


def test_links_to_folders_are_not_followed(tmp_path):
    inside = tmp_path / "jobs"
    inside.mkdir()
    write_sheets(inside / "one.xlsx", survey_sheets(0))
    (inside / "round again").symlink_to(inside, target_is_directory=True)
    assert [candidate.path.name for candidate in look_for([inside]).files] == ["one.xlsx"]


def test_one_that_hangs_and_one_that_crashes_are_named_and_stop_no_other(tmp_path):
    names = ["1.xlsx", "2 hangs.xlsx", "3.xlsx", "4 ends.xlsx", "5.xlsx", "6 ends.xlsx", "7.xlsx"]
    for name in names:
        (tmp_path / name).write_bytes(b"")
    results = list(each_survey(look_for([tmp_path]), troubled, workers=2, longest=2.0))
    assert [one for one in results if isinstance(one, str)] == ["1.xlsx", "3.xlsx", "5.xlsx", "7.xlsx"]
    lost = {one.path.name: one.sentence for one in results if isinstance(one, NotRead)}
    assert list(lost) == ["2 hangs.xlsx", "4 ends.xlsx", "6 ends.xlsx"]
    assert "2 hangs.xlsx took more than 2 seconds and was given up" in lost["2 hangs.xlsx"]
    assert all("ended the process that read it" in lost[name] for name in ("4 ends.xlsx", "6 ends.xlsx"))


def test_results_come_in_the_order_of_the_items_whoever_ends_first():
    squares = side_by_side(slow_square, range(6), lost=lambda item, why: -1, workers=2)
    assert list(squares) == [0, 1, 4, 9, 16, 25]


def test_nothing_is_left_running_where_the_results_are_no_longer_wanted(tmp_path):
    import multiprocessing

    (tmp_path / "1.xlsx").write_bytes(b"")
    (tmp_path / "2 hangs.xlsx").write_bytes(b"")
    results = each_survey(look_for([tmp_path]), troubled, workers=2)
    assert next(results) == "1.xlsx"
    results.close()
    until = time.monotonic() + 30
    while multiprocessing.active_children() and time.monotonic() < until:
        time.sleep(0.05)
    assert multiprocessing.active_children() == []


_WAITS = """
import sys
from pathlib import Path
sys.path.append(sys.argv[1])
from tests.sites.troubled import troubled
from workbook_tools.sites import each_survey, look_for
if __name__ == "__main__":
    for one in each_survey(look_for([sys.argv[2]]), troubled, workers=2):
        print(one, flush=True)
"""


@pytest.mark.skipif(not Path("/proc").is_dir(), reason="asks the system of Linux which processes there are")
def test_a_process_that_is_killed_takes_its_workers_with_it(tmp_path):
    (tmp_path / "1.xlsx").write_bytes(b"")
    (tmp_path / "2 hangs.xlsx").write_bytes(b"")
    program = tmp_path / "waits.py"
    program.write_text(_WAITS)
    root = Path(__file__).resolve().parents[2]
    process = subprocess.Popen(
        [sys.executable, str(program), str(root), str(tmp_path)], stdout=subprocess.PIPE
    )
    assert process.stdout is not None
    assert process.stdout.readline() == b"1.xlsx\n"
    workers = _children(process.pid)
    assert workers
    process.kill()
    process.wait(30)
    process.stdout.close()
    until = time.monotonic() + 30
    while any(map(_alive, workers)) and time.monotonic() < until:
        time.sleep(0.05)
    assert not any(map(_alive, workers))


def _children(parent):
    """Return the processes that a process has begun, read from the system."""
    found = []
    for status in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = status.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[1]) == parent:
            found.append(int(status.parent.name))
    return found


def _alive(pid):
    try:
        state = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


def test_told_to_end_the_command_ends_with_one_sentence(tmp_path):
    survey = write_sheets(tmp_path / "0.xlsx", survey_sheets(0))
    for number in range(1, 60):
        shutil.copy(survey, tmp_path / f"{number}.xlsx")
    process = subprocess.Popen(
        [sys.executable, "-m", "workbook_tools", "check", str(tmp_path)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert process.stdout is not None
    assert process.stdout.readline().startswith("Site 0")
    process.send_signal(signal.SIGTERM)
    _, err = process.communicate(timeout=120)
    assert process.returncode == 130
    assert err == "\nworkbook-tools: stopped. Every file is whole: as it was, or as it was to be.\n"


def says(capsys, *words):
    status = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return status, out, err


@pytest.mark.parametrize("option", [("-o", "review.xlsx"), ("--photos", "photos")])
def test_what_is_for_one_survey_is_refused_for_several(option, tmp_path, capsys):
    status, out, err = says(capsys, "check", tmp_path, *option)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert f"{option[0]} is for one survey" in err


def test_a_folder_without_a_survey_is_one_sentence(tmp_path, capsys):
    (tmp_path / "old.xls").write_bytes(b"x")
    status, out, err = says(capsys, "check", tmp_path)
    assert (status, out) == (2, "")
    assert err == (
        f"workbook-tools: There is no survey workbook in {tmp_path}: name the folder where they are. "
        "Passed over: 1 old .xls workbook.\n"
    )


def test_a_template_that_does_not_exist_is_said_once(tmp_path, capsys):
    make_folder(tmp_path, range(24, 27))
    status, out, err = says(capsys, "check", tmp_path, "--template", "offise")
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert "office" in err


def test_the_list_of_json_and_the_exit_status_of_the_worst(tmp_path, capsys):
    good, bad = tmp_path / "1.xlsx", tmp_path / "2.xlsx"
    sheets = survey_sheets(0)
    for key in ("Equipment", "Transformers", "Clearances", "Findings"):
        sheets[key] = sheets[key][:1]
    sheets["Rooms"] = [["Room", "Level", "Access"], ["Main electrical room", "Ground", "Entered"]]
    write_sheets(good, sheets)
    bad.write_text("Tag,Kind")
    status, out, err = says(capsys, "check", tmp_path, "--json")
    listed = json.loads(out)
    assert (status, err) == (2, "")
    assert [sorted(one) for one in listed] == [["file", "problems", "survey"], ["error", "file"]]
    assert [one["file"] for one in listed] == [str(good), str(bad)]


def test_one_file_alone_is_checked_as_ever(tmp_path, capsys):
    path = write_sheets(tmp_path / "one.xlsx", survey_sheets(0))
    _, out, _ = says(capsys, "check", path, "--json")
    assert sorted(json.loads(out)) == ["problems", "survey"]
    _, out, _ = says(capsys, "check", path)
    assert out.startswith("one.xlsx: Site 0 (invented)\n")


def test_little_is_kept_however_many_there_are():
    tally = Tally()
    for number in range(500):
        tally.add(
            SiteChecked(Path(f"{number}.xlsx"), "", "", "", (0, 0, 1, 0), (), 1, (), (-number, 0, 0, 0), True)
        )
    assert (tally.surveys, tally.to_attend, tally.by_class["report"], tally.status) == (500, 500, 500, 1)
    assert len(tally._urgent) <= 20


def test_a_folder_that_cannot_be_looked_into_is_named(tmp_path, monkeypatch):
    (tmp_path / "shut").mkdir()
    (tmp_path / "one.xlsx").write_bytes(b"")
    look = os.scandir

    def refuse(path):
        if Path(path).name == "shut":
            raise PermissionError(13, "Permission denied", str(path))
        return look(path)

    monkeypatch.setattr(os, "scandir", refuse)
    search = look_for([tmp_path])
    monkeypatch.undo()
    assert [candidate.path.name for candidate in search.files] == ["one.xlsx"]
    first, second = each_survey(search, named, workers=1)
    assert first == NotRead(
        tmp_path / "shut", "The folder cannot be looked into (permission denied): see that you may read it."
    )
    assert second == "one.xlsx"
