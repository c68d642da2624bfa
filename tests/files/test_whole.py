"""Files appear whole or not at all."""

import os
import signal
import subprocess
import sys
import textwrap

import pytest

from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file, whole_folder


def write_and_fail(target):
    with whole_file(target, force=True) as path:
        path.write_text("half")
        raise RuntimeError("the writer broke")


def test_a_writer_that_breaks_leaves_the_old_file_and_nothing_else(tmp_path):
    target = tmp_path / "schedule.xlsx"
    target.write_text("old")
    with pytest.raises(RuntimeError):
        write_and_fail(target)
    assert target.read_text() == "old"
    assert os.listdir(tmp_path) == ["schedule.xlsx"]


def test_an_existing_file_is_refused_without_force(tmp_path):
    target = tmp_path / "schedule.xlsx"
    target.write_text("old")
    with pytest.raises(Unusable, match=r"exists already and was left as it is.*--force"), whole_file(target):
        pass
    assert target.read_text() == "old"


def test_a_missing_folder_is_named(tmp_path):
    with (
        pytest.raises(Unusable, match="does not exist: make it first"),
        whole_file(tmp_path / "no" / "a.xlsx"),
    ):
        pass


def test_a_folder_in_the_place_of_a_file_is_named(tmp_path):
    with pytest.raises(Unusable, match="is a folder"), whole_file(tmp_path, force=True):
        pass


def test_a_file_in_the_place_of_a_folder_is_named(tmp_path):
    (tmp_path / "delivery").write_text("x")
    with pytest.raises(Unusable, match="is a file"), whole_folder(tmp_path / "delivery"):
        pass


def test_a_new_file_has_the_rights_of_any_new_file(tmp_path):
    plain = tmp_path / "plain"
    plain.write_text("x")
    with whole_file(tmp_path / "ours") as path:
        path.write_text("x")
    assert (tmp_path / "ours").stat().st_mode == plain.stat().st_mode


def test_a_forced_folder_replaces_ours_and_keeps_what_is_not_ours(tmp_path):
    target = tmp_path / "delivery"
    target.mkdir()
    (target / "schedule.xlsx").write_text("old")
    (target / "my notes.txt").write_text("mine")
    with pytest.raises(Unusable, match="exists already"), whole_folder(target):
        pass
    with whole_folder(target, force=True) as staging:
        (staging / "schedule.xlsx").write_text("new")
    assert {p.name: p.read_text() for p in target.iterdir()} == {
        "schedule.xlsx": "new",
        "my notes.txt": "mine",
    }
    assert os.listdir(tmp_path) == ["delivery"]


def test_a_forced_folder_loses_what_an_earlier_run_made_and_this_one_did_not(tmp_path):
    target = tmp_path / "delivery"
    target.mkdir()
    (target / "schedule.pdf").write_text("of an earlier run")
    (target / "own notes.txt").write_text("not ours")
    with whole_folder(target, force=True, ours=("schedule.pdf", "schedule.xlsx")) as folder:
        (folder / "schedule.xlsx").write_text("new")
    assert sorted(path.name for path in target.iterdir()) == ["own notes.txt", "schedule.xlsx"]


def test_an_empty_folder_may_be_filled(tmp_path):
    target = tmp_path / "delivery"
    target.mkdir()
    with whole_folder(target) as staging:
        (staging / "a").write_text("a")
    assert (target / "a").read_text() == "a"


def test_a_killed_process_leaves_the_old_file(tmp_path):
    target = tmp_path / "schedule.xlsx"
    target.write_text("old")
    program = textwrap.dedent("""
        import sys, time
        from workbook_tools.files import whole_file
        with whole_file(sys.argv[1], force=True) as path:
            path.write_text("half")
            print("writing", flush=True)
            time.sleep(60)
    """)
    with subprocess.Popen(
        [sys.executable, "-c", program, target], stdout=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "writing\n"
        process.send_signal(signal.SIGKILL)
    assert target.read_text() == "old"
