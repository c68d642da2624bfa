"""A watched folder: what is new is checked once, what is not is left, and nothing that happens to one stops the rest."""

from __future__ import annotations

import errno
import importlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.files.test_mishaps import LIMITED
from tests.sites.made_sites import survey_sheets, write_sheets
from workbook_tools import Unusable, check, watch
from workbook_tools.checking.report import counts_by_class
from workbook_tools.files.contents import hash_of
from workbook_tools.review import read_review
from workbook_tools.sites.reading import Look
from workbook_tools.watching import Looked, Watched, arriving, listening, owner, review_beside, rounds
from workbook_tools.watching.listening import tells_nothing
from workbook_tools.watching.memory import MEMORY, Memory
from workbook_tools.watching.outcomes import Outcome
from workbook_tools.watching.owner import LOCK
from workbook_tools.watching.page import PAGE, Line, page

posix = pytest.mark.skipif(os.name != "posix", reason="limits and signals the POSIX way")
LONG_AGO = 1_700_000_000


@pytest.fixture(autouse=True)
def a_short_moment(monkeypatch):
    monkeypatch.setattr(arriving, "A_MOMENT", 0.02)
    monkeypatch.setattr(owner, "_A_MOMENT", 0.0)


def site(path: Path, number: int = 0) -> Path:
    path.parent.mkdir(exist_ok=True)
    return write_sheets(path, survey_sheets(number))


def changed(path: Path, number: int = 0) -> None:
    """Write the survey again as it is after one finding more."""
    sheets = survey_sheets(number)
    sheets["Findings"].append([*sheets["Findings"][-1][:3], "right side"])
    write_sheets(path, sheets)


@pytest.fixture
def in_this_process(monkeypatch):
    """Check without a process for each round: that they work in processes, other tests hold."""

    def each(search, work, *, template, workers):
        for path, named in search.files:
            yield work(Look(path, named, template))

    monkeypatch.setattr(rounds, "each_survey", each)


def once(folder: Path) -> tuple[int, dict[str, Outcome], list[str]]:
    """Look once; return the status, what was checked by its name, and what was said."""
    checked: dict[str, Outcome] = {}
    said: list[str] = []
    status = watch(
        folder,
        once=True,
        workers=1,
        each=lambda path, outcome: checked.update({path.name: outcome}),
        say=said.append,
    )
    return status, checked, said


def page_of(folder: Path) -> str:
    return (folder / PAGE).read_text(encoding="utf-8")


def known_in(folder: Path) -> set[str]:
    return set(json.loads((folder / MEMORY).read_text())["files"])


# ---------------------------------------------------------------- one round after another


def test_what_is_new_or_changed_is_checked_and_nothing_else(in_this_process, tmp_path):
    one, two, bad = (
        site(tmp_path / "one.xlsx"),
        site(tmp_path / "north" / "two.xlsx", 1),
        tmp_path / "bad.xlsx",
    )
    bad.write_text("Tag,Kind")
    os.utime(bad, (LONG_AGO, LONG_AGO))
    half = tmp_path / "half.xlsx"
    half.write_bytes(one.read_bytes()[:2_000])
    for name in ("~$one.xlsx", "~scratch.xlsx", ".hidden.xlsx", "two.xlsx.part"):
        (tmp_path / name).write_bytes(b"x")
    before = {path: hash_of(path) for path in (one, two, bad, half)}

    status, checked, said = once(tmp_path)
    assert (status, set(checked)) == (2, {"one.xlsx", "two.xlsx", "bad.xlsx"})
    assert said == ["half.xlsx is not whole yet, so it was not checked: the next look does."]
    assert "plain text" in checked["bad.xlsx"].not_read
    problems = check(one).problems
    assert checked["one.xlsx"].counts == counts_by_class(problems)
    review = read_review(review_beside(one))
    assert {entry.problem.message for entry in review.entries} >= {
        p.message for p in problems if p.class_ != "note"
    }
    shown = page_of(tmp_path)
    for text in ("north/two.xlsx", "plain text", "still arriving", "2 review workbooks", "1 lock file"):
        assert text in shown
    assert {path: hash_of(path) for path in before} == before

    assert once(tmp_path)[1] == {}
    written = {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*") if path.is_file()}
    assert once(tmp_path)[1] == {}
    assert {path: path.stat().st_mtime_ns for path in tmp_path.rglob("*") if path.is_file()} == written

    changed(two, 1)
    shutil.copy(one, half)  # the rest of it has arrived
    bad.unlink()
    status, checked, _ = once(tmp_path)
    assert (set(checked), status) == (
        {"two.xlsx", "half.xlsx"},
        int(any(c.needs_attention for c in checked.values())),
    )
    assert "bad.xlsx" not in page_of(tmp_path)
    assert "still arriving" not in page_of(tmp_path)
    assert "bad.xlsx" not in known_in(tmp_path)


def test_a_file_that_is_written_to_while_it_is_looked_at_waits_for_the_next_round(tmp_path, monkeypatch):
    survey = site(tmp_path / "one.xlsx")

    def writing(_):
        with survey.open("ab") as file:
            file.write(b"more")

    monkeypatch.setattr(arriving.time, "sleep", writing)
    assert once(tmp_path)[1] == {}
    assert "still arriving" in page_of(tmp_path)
    assert not review_beside(survey).exists()


def test_answers_are_carried_over_and_a_review_that_is_gone_is_written_again(in_this_process, tmp_path):
    from openpyxl import load_workbook

    survey = site(tmp_path / "one.xlsx")
    once(tmp_path)
    book = load_workbook(review_beside(survey))
    sheet = book["Problems"]
    row, answer = next(
        (cells[0].row, cell.column)
        for cells in sheet.iter_rows()
        for cell in cells
        if cell.value == "Disposition"
    )
    sheet.cell(row + 2, answer).value = "Ask the inspector"
    book.save(review_beside(survey))
    assert once(tmp_path)[1] == {}, "an answer is no change of the survey"
    answered = [e.problem.message for e in read_review(review_beside(survey)).entries if e.disposition]
    assert answered
    changed(survey)
    assert set(once(tmp_path)[1]) == {"one.xlsx"}
    assert [
        e.problem.message for e in read_review(review_beside(survey)).entries if e.disposition
    ] == answered
    review_beside(survey).unlink()
    assert set(once(tmp_path)[1]) == {"one.xlsx"}
    assert review_beside(survey).exists()


@pytest.mark.parametrize("trouble", ["open", "not a review"])
def test_a_review_that_is_open_or_none_is_not_written_over_and_said(in_this_process, tmp_path, trouble):
    survey = site(tmp_path / "one.xlsx")
    review = review_beside(survey)
    lock = tmp_path / f".~lock.{review.name}#"
    if trouble == "open":
        lock.write_text("")
    else:
        write_sheets(review, {"Budget": [["Month", "Money"], ["May", "12"]]})
    before = hash_of(review) if review.exists() else None
    status, checked, _ = once(tmp_path)
    assert status == 2
    assert checked["one.xlsx"].counts == counts_by_class(check(survey).problems)
    says = "is open in a spreadsheet program" if trouble == "open" else "is no review workbook"
    assert says in checked["one.xlsx"].no_review
    assert says in page_of(tmp_path)
    assert (hash_of(review) if review.exists() else None) == before
    lock.unlink(missing_ok=True) if trouble == "open" else review.unlink()
    status, checked, _ = once(tmp_path)
    assert (status, checked["one.xlsx"].no_review) == (int(checked["one.xlsx"].needs_attention), "")
    assert says not in page_of(tmp_path)


def test_a_memory_that_is_damaged_or_of_another_version_counts_for_nothing(in_this_process, tmp_path):
    site(tmp_path / "one.xlsx")
    once(tmp_path)
    whole = (tmp_path / MEMORY).read_text()
    made_with = json.loads(whole)["made_with"]
    assert set(Memory.read(tmp_path, made_with).files) == {"one.xlsx", "one - review.xlsx"}
    assert Memory.read(tmp_path, "other rules").files == {}
    for damaged in ("", "[]", "{", "[" * 100_000, whole.replace('"said": [', '"said": [3,')):
        assert damaged != whole
        (tmp_path / MEMORY).write_text(damaged)
        assert Memory.read(tmp_path, made_with).files == {}
    assert set(once(tmp_path)[1]) == {"one.xlsx"}


def test_a_page_that_somebody_else_wrote_stays(tmp_path):
    (tmp_path / PAGE).write_text("mine")
    status, _, said = once(tmp_path)
    assert (status, page_of(tmp_path)) == (2, "mine")
    assert len(said) == 1
    assert "was not written by this command" in said[0]


@posix
def test_a_link_that_leads_nowhere_is_said(tmp_path):
    (tmp_path / "gone.xlsx").symlink_to(tmp_path / "nowhere.xlsx")
    status, checked, _ = once(tmp_path)
    assert (status, checked) == (2, {})
    assert "gone.xlsx" in page_of(tmp_path)
    assert "a link that leads nowhere" in page_of(tmp_path)


def test_no_folder_is_one_sentence(tmp_path):
    with pytest.raises(Unusable, match="is no folder: name the folder"):
        once(tmp_path / "nowhere")


# ---------------------------------------------------------------- the page


class _Tags(HTMLParser):
    def __init__(self):
        super().__init__()
        self.tags, self.texts, self.links = [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.links += [value for name, value in attrs if name == "href"]
        assert not [name for name, _ in attrs if name.startswith("on")]

    def handle_data(self, data):
        self.texts.append(data)


def test_typed_texts_are_shown_as_typed_and_nothing_of_them_is_markup(tmp_path):
    nasty = "<script>alert('1')</script>&amp;\"\u202e\x00"
    shown = page(
        [
            Line(
                "javascript:a'\"<b>.xlsx",
                Outcome(nasty, nasty, nasty, True, "", nasty, (nasty,)),
                nasty,
                nasty,
            ),
            Line(f"{nasty}.xlsx", Outcome(not_read=nasty)),
            Line("on its way.xlsx", None),
        ],
        nasty,
    )
    parsed = _Tags()
    parsed.feed(shown)
    assert set(parsed.tags) <= {
        "html", "head", "meta", "title", "style", "body", "h1", "p", "div", "table", "thead", "tbody", "tr", "th",
        "td", "a", "bdi",
    }  # fmt: skip
    assert "<script>alert('1')</script>&amp;\"\ufffd\ufffd" in parsed.texts
    assert not [link for link in parsed.links if ":" in link or "<" in link]
    assert "color-scheme: light dark" in shown
    assert "\u202e" not in shown


# ---------------------------------------------------------------- when to look


def test_it_looks_at_once_then_where_something_changed_or_arrives_and_each_minute(tmp_path, monkeypatch):
    clock, looks = [0.0], []

    def ticks(_):
        for second, changed_ in (
            (0, True),
            (1, False),
            (2, False),
            (3, False),
            (10, True),
            (60, False),
            (71, False),
        ):
            clock[0] = float(second)
            yield changed_

    def look():
        looks.append(clock[0])
        return Looked(0, ("arriving.xlsx",) if clock[0] == 0 else ())

    monkeypatch.setattr(listening, "_ticks", ticks)
    monkeypatch.setattr(listening.time, "monotonic", lambda: clock[0])
    listening.watch_rounds(tmp_path, look)
    assert looks == [0, 2, 10, 71]


def test_where_no_more_folders_can_be_listened_to_it_asks_and_our_own_files_are_no_change(
    tmp_path, monkeypatch
):
    import watchfiles

    asked = []

    def listen(folder, *, force_polling, **_):
        asked.append(force_polling)
        if not force_polling:
            raise OSError("no more can be listened to")
        yield set()
        yield {(1, str(tmp_path / LOCK)), (1, str(tmp_path / MEMORY))}
        yield {(1, str(tmp_path / "one.xlsx"))}
        yield set()

    monkeypatch.setattr(watchfiles, "watch", listen)
    monkeypatch.setattr(listening.time, "sleep", lambda _: None)
    ticks = listening._ticks(tmp_path)
    assert [next(ticks) for _ in range(6)] == [True, False, True, False, True, False]
    assert asked == [None, True]


# ---------------------------------------------------------------- shares of the network


def test_a_share_of_the_network_is_asked_again_and_again(tmp_path):
    mounts = tmp_path / "mounts"
    share = tmp_path / "a share"
    share.mkdir()
    place = str(share).replace(" ", "\\040")
    mounts.write_text(f"/dev/a / ext4 rw 0 0\n//server/x {place} cifs rw 0 0\n")
    assert tells_nothing(share, mounts)
    assert not tells_nothing(tmp_path, mounts)
    assert not tells_nothing(tmp_path, tmp_path / "no such list")


# ---------------------------------------------------------------- two at once


def says_so(folder: Path, **other: object) -> None:
    ours = {"machine": "elsewhere", "hardware": 1, "process": 1, "mark": "other", "said": time.time()}
    (folder / LOCK).write_text(json.dumps(ours | other))


def test_a_folder_that_another_machine_watches_is_left_alone(tmp_path):
    survey = site(tmp_path / "one.xlsx")
    says_so(tmp_path)
    with pytest.raises(Unusable, match=r"is watched by elsewhere \(process 1\) already"):
        once(tmp_path)
    assert not review_beside(survey).exists()
    assert json.loads((tmp_path / LOCK).read_text())["mark"] == "other"


@pytest.mark.parametrize("ago", [owner.STALE + 60, -owner.STALE - 60])
def test_one_that_has_not_said_so_for_long_has_left(tmp_path, ago):
    says_so(tmp_path, said=time.time() - ago)
    assert once(tmp_path)[0] == 0
    assert not (tmp_path / LOCK).exists()


def test_who_takes_it_later_has_it_and_the_other_writes_no_more(tmp_path):
    first, second = Watched(tmp_path), Watched(tmp_path)
    assert first.taken() == ""
    assert first.is_ours()
    assert "process" in second.taken()
    says_so(tmp_path)  # as a sync program brings it
    assert not first.is_ours()
    first.given_back()
    assert json.loads((tmp_path / LOCK).read_text())["mark"] == "other"


def test_a_second_one_waits_until_the_first_has_left(tmp_path, monkeypatch):
    says_so(tmp_path)
    waited, said = [], []
    commands_watch = importlib.import_module("workbook_tools.commands.watch")

    def leave(seconds):
        waited.append(seconds)
        if len(waited) == 3:
            (tmp_path / LOCK).unlink()

    monkeypatch.setattr(commands_watch.time, "sleep", leave)
    second = Watched(tmp_path)
    commands_watch._take(second, tmp_path, False, said.append)
    assert second.is_ours()
    assert len(said) == 1
    assert said[0].endswith("this one waits, and takes its place when it has left.")
    second.given_back()
    assert not (tmp_path / LOCK).exists()


# ---------------------------------------------------------------- processes


def started(folder: Path) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, "-m", "workbook_tools", "watch", str(folder)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip


def line(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    return process.stdout.readline()


def until(condition) -> None:
    end = time.monotonic() + 60
    while not condition():
        assert time.monotonic() < end
        time.sleep(0.05)


@posix
def test_killed_and_started_again_it_goes_on_and_ends_by_one_interruption(tmp_path):
    site(tmp_path / "one.xlsx")
    killed = started(tmp_path)
    assert line(killed).startswith("Watching")
    assert "one.xlsx" in line(killed)
    until(lambda: (tmp_path / PAGE).exists() and (tmp_path / MEMORY).exists())
    killed.kill()
    killed.communicate(timeout=30)
    assert (tmp_path / LOCK).exists()

    again = started(tmp_path)
    assert line(again).startswith("Watching")
    until(lambda: json.loads((tmp_path / LOCK).read_text())["process"] == again.pid)
    time.sleep(0.5)
    site(tmp_path / "two.xlsx", 1)
    assert "two.xlsx" in line(again), "what was known before is not checked again"
    until(lambda: "two.xlsx" in page_of(tmp_path) and "two.xlsx" in known_in(tmp_path))
    with pytest.raises(Unusable, match=rf"is watched by .* \(process {again.pid}\) already"):
        once(tmp_path)
    again.send_signal(signal.SIGTERM)
    out, err = again.communicate(timeout=30)
    assert (again.returncode, out) == (130, "")
    assert err == "\nworkbook-tools: stopped. Every file is whole: as it was, or as it was to be.\n"
    assert not (tmp_path / LOCK).exists()
    assert [name for name in os.listdir(tmp_path) if name.startswith(".")] == [MEMORY]


@posix
@pytest.mark.parametrize("limit", [0, 8_000])
def test_on_a_full_disk_it_says_so_in_one_sentence_and_loses_nothing(tmp_path, limit):
    folder = tmp_path / "jobs"
    folder.mkdir()
    survey = site(folder / "one.xlsx")
    before = hash_of(survey)
    ended = subprocess.run(
        [sys.executable, "-c", LIMITED, str(limit), "watch", str(folder), "--once"],
        capture_output=True, text=True, check=False, env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip
    told, other = (ended.stdout, ended.stderr) if limit else (ended.stderr, ended.stdout)
    assert (ended.returncode, told.count("\n"), other) == (2, 1, ""), ended.stderr
    assert "make room" in told
    left = {"one.xlsx", PAGE, MEMORY} if limit else {"one.xlsx"}
    assert (set(os.listdir(folder)), hash_of(survey)) == (left, before)
    assert not limit or "review.xlsx cannot be written" in page_of(folder)


@pytest.mark.parametrize("name", [PAGE, MEMORY, "one - review.xlsx"])
def test_whatever_a_full_disk_keeps_from_being_written_is_said_once_and_tried_again(
    in_this_process, tmp_path, monkeypatch, name
):
    survey = site(tmp_path / "one.xlsx")
    once(tmp_path)
    standing = (tmp_path / name).read_bytes()
    changed(survey)
    before = hash_of(survey)
    meant = os.replace

    def full(source, target):
        if Path(target).name == name:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        meant(source, target)

    monkeypatch.setattr(os, "replace", full)
    status, checked, said = once(tmp_path)
    monkeypatch.setattr(os, "replace", meant)
    assert (status, set(checked)) == (2, {"one.xlsx"})
    sentences = [*said, *filter(None, [checked["one.xlsx"].no_review])]
    assert len(sentences) == 1
    assert f"{name} cannot be written (no space left on device): make room" in sentences[0]
    assert (tmp_path / name).read_bytes() == standing
    status, checked, said = once(tmp_path)
    assert (status, said) == (1, [])
    assert set(checked) == (set() if name == PAGE else {"one.xlsx"})
    assert (tmp_path / name).read_bytes() != standing
    assert hash_of(survey) == before
