"""A disk that is full, a process that is killed or interrupted: what stood there stands there, or what was to stand."""

from __future__ import annotations

import errno
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.files.test_whole import fill, texts_in
from tests.sampling import drawn
from workbook_tools.commands import new
from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file, whole_folder
from workbook_tools.files.contents import LIST
from workbook_tools.files.exchange import aside_name

posix = pytest.mark.skipif(os.name != "posix", reason="limits and signals the POSIX way")

OLD = {"schedule": "old", "photos/a": "old", "pdf": "only then"}
SURVEY = Path(__file__).resolve().parents[2] / "demo_workbooks" / "2-survey-from-site.xlsx"
NEW = {"schedule": "new", "photos/a": "new"}
MINE = {"photos/mine": "mine"}


def put(target: Path, files: dict[str, str]) -> None:
    fill(target, **{name.replace("/", "__"): text for name, text in files.items()})


@pytest.fixture
def standing(tmp_path) -> Path:
    target = tmp_path / "delivery"
    put(target, OLD)
    (target / "photos" / "mine").write_text("mine")
    return target


def hidden(folder: Path) -> list[str]:
    return [name for name in os.listdir(folder) if name.startswith(".")]


# ---------------------------------------------------------------- killed

KILLED = """
import os, signal, sys
from pathlib import Path
from workbook_tools.files import exchange, whole
step, when, target = sys.argv[1:]
def die(*_, **__):
    os.kill(os.getpid(), signal.SIGKILL)
if when == "one by one":
    exchange._in_one_step = lambda *_: False
    renames = iter(range(100))
    rename = os.rename
    def counted(*names):
        if next(renames) == int(step):
            die()
        rename(*names)
    os.rename = counted
else:
    meant = getattr(whole, step)
    def dying(*given, **more):
        if when == "before":
            die()
        meant(*given, **more)
        die()
    setattr(whole, step, dying)
with whole.whole_folder(target, force=True) as filling:
    (filling.folder / "photos").mkdir()
    for name in ("schedule", "photos/a"):
        (filling.folder / name).write_text("new")
print("not killed")
"""
STEPS = [
    *(
        (step, when)
        for step in ("write_list", "_carry", "exchange", "_emptied")
        for when in ("before", "after")
    ),
    *((str(number), "one by one") for number in range(4)),
]


def killed_at(step: str, when: str, target: Path) -> None:
    ended = subprocess.run(
        [sys.executable, "-c", KILLED, step, when, str(target)], capture_output=True, text=True, check=False
    )
    assert ended.returncode in (-signal.SIGKILL, 0), ended.stderr
    assert (ended.stdout == "not killed\n") == (ended.returncode == 0)


@posix
@pytest.mark.parametrize(("step", "when"), STEPS)
def test_killed_at_any_step_the_old_folder_stands_or_the_new_one(standing, step, when):
    killed_at(step, when, standing)
    if when == "one by one" and not standing.exists():
        # Between two renames, on a system that cannot exchange: the old one is seen beside its place.
        assert texts_in(aside_name(standing)) == OLD | MINE
    else:
        assert texts_in(standing) in (OLD | MINE, NEW | MINE)


@posix
@pytest.mark.parametrize(("step", "when"), STEPS)
def test_after_that_the_next_run_does_its_work_and_clears_up(standing, step, when):
    killed_at(step, when, standing)
    for path in standing.parent.rglob("*"):
        if not path.is_symlink():
            os.utime(path, (0, time.time() - 7200))
    aside = aside_name(standing)
    if standing.exists() and aside.exists():
        shutil.rmtree(aside)  # as the sentence asks
    put(standing, NEW)
    assert texts_in(standing) == NEW | MINE
    assert os.listdir(standing.parent) == ["delivery"]


def test_only_its_own_leftovers_are_cleared_and_only_old_ones(tmp_path):
    two_hours_ago = time.time() - 7200
    for name in (
        ".workbook-tools-abcdefgh-a.xlsx",
        ".workbook-tools-note",
        ".mine.xlsx",
        ".workbook-tools-ABC-a",
    ):
        (tmp_path / name).write_text("x")
        os.utime(tmp_path / name, (two_hours_ago, two_hours_ago))
    (tmp_path / ".workbook-tools-bcdefghi-a.xlsx").write_text("being written by another process")
    with whole_file(tmp_path / "a.xlsx") as path:
        path.write_text("whole")
    assert set(os.listdir(tmp_path)) == {
        "a.xlsx", ".workbook-tools-note", ".mine.xlsx", ".workbook-tools-ABC-a", ".workbook-tools-bcdefghi-a.xlsx",
    }  # fmt: skip


# ---------------------------------------------------------------- a call of the system that fails

CALLS = ["link", "rename", "replace", "chmod", "fsync", "mkdir", "unlink", "rmdir"]


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("number", range(3))
@pytest.mark.parametrize(
    "code", [errno.ENOSPC, errno.EACCES, errno.EIO], ids=["full", "forbidden", "broken disk"]
)
def test_whichever_call_fails_one_folder_stands_whole(standing, monkeypatch, call, number, code):
    meant, calls = getattr(os, call), iter(range(100))

    def failing(*given, **more):
        if next(calls) == number:
            raise OSError(code, os.strerror(code))
        return meant(*given, **more)

    monkeypatch.setattr(os, call, failing)
    said = ""
    try:
        put(standing, NEW)
    except Unusable as refusal:
        said = str(refusal)
    monkeypatch.undo()
    assert texts_in(standing) == (OLD | MINE if said else NEW | MINE)
    assert "\n" not in said
    assert not said or said.startswith(f"{standing} cannot be written ({os.strerror(code).lower()}): ")
    if not said or call not in ("unlink", "rmdir"):
        left = [name for name in os.listdir(standing.parent) if name != "delivery"]
        assert all((standing.parent / name).name.endswith("came in meanwhile") for name in left)


def test_an_error_names_the_file_that_failed(tmp_path):
    photo = tmp_path / "elsewhere" / "photo.jpg"
    says = r"photo\.jpg cannot be used \(no such file.*\), so .*a\.xlsx was not written"
    with pytest.raises(Unusable, match=says), whole_file(tmp_path / "a.xlsx"):
        photo.read_bytes()
    assert os.listdir(tmp_path) == []


def test_a_full_folder_for_temporary_files_is_named(tmp_path, monkeypatch):
    import tempfile

    scratch = tmp_path / "scratch"
    scratch.mkdir()
    usage = shutil.disk_usage
    monkeypatch.setattr(tempfile, "gettempdir", lambda: str(scratch))
    monkeypatch.setattr(
        shutil, "disk_usage", lambda path: usage(path)._replace(free=0 if Path(path) == scratch else 10**9)
    )
    says = r"scratch, the folder for temporary files, is full, so .*a\.xlsx was not"
    with pytest.raises(Unusable, match=says), whole_file(tmp_path / "a.xlsx"):
        raise OSError(errno.ENOSPC, "No space left on device")


def test_what_a_writing_library_wraps_is_said_as_well(tmp_path):
    from xlsxwriter.exceptions import FileCreateError

    says = r"delivery cannot be written \(no space left on device\): make room"
    with pytest.raises(Unusable, match=says), whole_folder(tmp_path / "delivery"):
        raise FileCreateError(OSError(errno.ENOSPC, "No space left on device"))
    assert os.listdir(tmp_path) == []


# ---------------------------------------------------------------- a disk that is full, as a user meets it

LIMITED = """
import resource, sys
limit = int(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
from workbook_tools.cli import main
raise SystemExit(main(sys.argv[2:]))
"""


def contents(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture(scope="module")
def job(tmp_path_factory) -> Path:
    """Return a folder with a survey, its review, a draft delivered and a demonstration."""
    from workbook_tools.cli import main

    folder = tmp_path_factory.mktemp("job")
    (folder / "equipment.csv").write_text("Tag,Kind,Room,Voltage\nDP-1,Panelboard,Main,208Y/120\n")
    new(folder / "survey.xlsx", fill=folder / "equipment.csv", rows=5)
    for words in (
        ["check", "survey.xlsx", "-o", "review.xlsx"],
        ["deliver", "survey.xlsx", "--draft", "-o", "draft"],
    ):
        main([folder.joinpath(word).as_posix() if "." in word or word == "draft" else word for word in words])
    return folder


COMMANDS = {
    "new": (["new", "--rows", "5", "--force", "-o", "{}/survey.xlsx"], "survey.xlsx"),
    "check": (["check", "{}/survey.xlsx", "-o", "{}/review.xlsx"], "review.xlsx"),
    "deliver": (["deliver", "{}/survey.xlsx", "--draft", "--force", "-o", "{}/draft"], "draft"),
    "demo": (["demo", "{}/demo"], "demo"),
}


LIMITED_TO = [(command, limit) for command in COMMANDS for limit in (0, 3_000)]


@posix
@pytest.mark.sampled
@pytest.mark.parametrize(
    ("command", "limit"), drawn("commands on a full disk", LIMITED_TO, lambda case: case[0])
)
def test_where_no_more_can_be_written_everything_stays_as_it_was(job, tmp_path, command, limit):
    folder = tmp_path / "job"
    shutil.copytree(job, folder)
    before = contents(folder)
    words, named = COMMANDS[command]
    ended = subprocess.run(
        [sys.executable, "-c", LIMITED, str(limit), *(word.format(folder) for word in words)],
        capture_output=True, text=True, check=False, env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip
    assert (ended.returncode, ended.stderr.count("\n")) == (2, 1), ended.stderr
    assert named in ended.stderr
    assert "make room" in ended.stderr
    assert contents(folder) == before
    assert hidden(folder) == []


@pytest.fixture
def small_disk(tmp_path):
    """Yield a disk of 640 kB, where the machine lets us have one."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=640k", "tmpfs", str(place)], capture_output=True, check=False
    )
    if mounted.returncode:
        pytest.skip("no disk can be mounted here; the same is tried with a limit on the size of files")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@pytest.mark.skipif(shutil.which("mount") is None, reason="no disk can be mounted here")
@pytest.mark.parametrize("command", ["new", "deliver", "demo"])
def test_on_a_disk_that_fills_up_everything_stays_as_it_was(job, small_disk, command):
    for name in ("survey.xlsx", "draft", "draft - for the file.csv"):
        copy = shutil.copytree if (job / name).is_dir() else shutil.copy
        copy(job / name, small_disk / name)
    room = shutil.disk_usage(small_disk).free
    (small_disk / "filler").write_bytes(b"x" * (room - 16_384))
    before = contents(small_disk)
    words, named = COMMANDS[command]
    ended = subprocess.run(
        [sys.executable, "-m", "workbook_tools", *(word.format(small_disk) for word in words)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (ended.returncode, ended.stderr.count("\n")) == (2, 1), ended.stderr
    assert f"{small_disk / named}" in ended.stderr
    assert "cannot be written (no space left on device): make room" in ended.stderr
    assert contents(small_disk) == before
    assert hidden(small_disk) == []


@pytest.mark.skipif(shutil.which("mount") is None, reason="no disk can be mounted here")
def test_a_process_that_checks_for_another_says_nothing_but_its_sentence(small_disk):
    survey = small_disk / "survey.xlsx"
    shutil.copy(SURVEY, survey)
    (small_disk / "filler").write_bytes(b"x" * (shutil.disk_usage(small_disk).free - 24_576))
    before = contents(small_disk)
    ended = subprocess.run(
        [sys.executable, "-m", "workbook_tools", "watch", str(small_disk), "--once"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert (ended.returncode, ended.stdout.count("\n"), ended.stderr) == (2, 1, "")
    assert "review.xlsx cannot be written (no space left on device): make room" in ended.stdout
    assert {name: contents(small_disk)[name] for name in before} == before


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
@pytest.mark.parametrize("words", [["explain"], ["templates"], ["check", "{}/survey.xlsx", "--json"]])
def test_an_answer_that_cannot_be_printed_is_one_sentence(job, words):
    with open("/dev/full", "w") as full:
        ended = subprocess.run(
            [sys.executable, "-m", "workbook_tools", *(word.format(job) for word in words)],
            stdout=full, stderr=subprocess.PIPE, text=True, check=False,
        )  # fmt: skip
    assert ended.returncode == 2
    assert ended.stderr == (
        "workbook-tools: what this command prints cannot be written or read (no space left on device). "
        "Every file is whole: as it was, or as it was to be.\n"
    )


# ---------------------------------------------------------------- interrupted

SAID = "\nworkbook-tools: stopped. Every file is whole: as it was, or as it was to be.\n"
READY = "import sys; print('ready', flush=True); import runpy; runpy.run_module('workbook_tools', run_name='__main__')"


INTERRUPTED = [
    (number, after)
    for number in (signal.SIGINT, signal.SIGTERM)
    for after in (0.0, 0.01, 0.02, 0.04, 0.08, 0.15, 0.3, 0.6)
]


@posix
@pytest.mark.skipif(
    signal.getsignal(signal.SIGINT) is signal.SIG_IGN, reason="interruptions are ignored here"
)
@pytest.mark.sampled
@pytest.mark.parametrize(
    ("number", "after"), drawn("moments of an interruption", INTERRUPTED, lambda case: case[1])
)
def test_interrupted_at_any_moment_it_ends_without_a_trace(job, tmp_path, after, number):
    folder = tmp_path / "job"
    shutil.copytree(job, folder)
    words = ["deliver", "survey.xlsx", "--draft", "--force", "-o", "draft"]
    with subprocess.Popen(
        [sys.executable, "-m", "workbook_tools", *words],
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        _until_it_is_ours(process.pid)
        time.sleep(after)
        process.send_signal(number)
        time.sleep(0.005)
        process.send_signal(number)  # somebody in a hurry
        _, said = process.communicate()
    assert said in ("", SAID)
    # Python itself ends as by Ctrl-C where the interruption met text that was being run, as of a named tuple.
    assert process.returncode in (0, 130, -number, -signal.SIGINT)
    assert hidden(folder) == [] or process.returncode == -number
    assert (folder / "draft" / LIST).is_file()
    checked = subprocess.run(["sha256sum", "--check", "--quiet", LIST], cwd=folder / "draft", check=False)
    assert checked.returncode == 0


SWALLOWED = """
import os, sys, time
from workbook_tools.cli import calls, main
class Going:
    def __del__(self):
        os.kill(os.getpid(), int(sys.argv[1]))
def run(_):
    for _ in range(int(sys.argv[2])):
        Going()
    time.sleep(40)
calls.run = run
raise SystemExit(main(["templates"]))
"""


@posix
@pytest.mark.skipif(
    signal.getsignal(signal.SIGINT) is signal.SIG_IGN, reason="interruptions are ignored here"
)
@pytest.mark.parametrize("times", [1, 30])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "told to end"])
def test_an_interruption_where_python_swallows_it_ends_the_command_all_the_same(number, times):
    ended = subprocess.run(
        [sys.executable, "-c", SWALLOWED, str(int(number)), str(times)],
        capture_output=True, text=True, timeout=30, check=False,
    )  # fmt: skip
    assert (ended.returncode, ended.stderr) == (130, SAID)


def _until_it_is_ours(pid: int) -> None:
    """Wait until the process has loaded our package: what Python itself does before is not ours to catch."""
    begun = time.monotonic()
    while time.monotonic() - begun < 5:
        with open(f"/proc/{pid}/status") as status:
            caught = next(line for line in status if line.startswith("SigCgt")).split()[1]
        # Python catches SIGINT once it is up; our program hands it back to the system at once.
        if _seen.get(pid) and not int(caught, 16) & 2:
            return
        _seen[pid] = _seen.get(pid, False) or bool(int(caught, 16) & 2)
        time.sleep(0.0005)


_seen: dict[int, bool] = {}
