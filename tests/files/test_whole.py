"""Files appear whole or not at all."""

import os
import signal
import subprocess
import sys
import textwrap

import pytest

from workbook_tools.errors import Unusable
from workbook_tools.files import whole_file, whole_folder
from workbook_tools.files.contents import LIST


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


def fill(target, *, force=True, **files):
    """Put a folder in place that holds these files; "photos__a" is a in photos."""
    with whole_folder(target, force=force) as filling:
        for name, text in files.items():
            path = filling.folder / name.replace("__", "/")
            path.parent.mkdir(exist_ok=True)
            path.write_text(text)
    return filling


def texts_in(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_text()
        for path in folder.rglob("*")
        if path.is_file() and path.name != LIST
    }


def test_a_folder_that_stands_there_is_refused_without_force(tmp_path):
    fill(tmp_path / "delivery", schedule="old")
    with pytest.raises(Unusable, match="exists already"):
        fill(tmp_path / "delivery", force=False, schedule="new")
    assert texts_in(tmp_path / "delivery") == {"schedule": "old"}


def test_what_the_list_names_is_replaced_and_what_it_does_not_stays(tmp_path):
    target = tmp_path / "delivery"
    fill(target, schedule="old", pdf="of an earlier run", photos__a="old", photos__b="of an earlier run")
    (target / "photos" / "mine").write_text("mine")
    (target / "notes").write_text("mine")
    (target / "empty").mkdir()
    filling = fill(target, schedule="new", photos__a="new")
    assert texts_in(target) == {"schedule": "new", "photos/a": "new", "photos/mine": "mine", "notes": "mine"}
    assert (target / "empty").is_dir()
    assert set(filling.kept) == {"photos/mine", "notes", "empty"}
    assert os.listdir(tmp_path) == ["delivery"]


@pytest.mark.parametrize("changed", ["schedule", "photos/a", "only then"])
def test_a_file_that_was_changed_since_stops_it(tmp_path, changed):
    target = tmp_path / "delivery"
    fill(target, schedule="old", photos__a="old", **{"only then": "old"})
    (target / changed).write_text("with my notes")
    before = texts_in(target)
    with pytest.raises(
        Unusable, match=f"{changed} was changed since it was written, and nothing was replaced: move"
    ):
        fill(target, schedule="new", photos__a="new")
    assert texts_in(target) == before
    assert os.listdir(tmp_path) == ["delivery"]


def test_somebody_elses_file_in_the_place_of_a_new_one_stops_it(tmp_path):
    target = tmp_path / "delivery"
    fill(target, schedule="old")
    (target / "photos").mkdir()
    for name in "abcde":
        (target / "photos" / name).write_text("mine")
    before = texts_in(target)
    with pytest.raises(
        Unusable, match=r"photos/a, photos/b, photos/c and 2 more were not written by this tool"
    ):
        fill(target, schedule="new", **{f"photos__{name}": "new" for name in "abcde"})
    assert texts_in(target) == before


@pytest.mark.parametrize("theirs", ["photos", "photos/a/theirs"])
def test_a_file_in_the_place_of_a_folder_and_the_other_way_round_stops_it(tmp_path, theirs):
    target = tmp_path / "delivery"
    fill(target, schedule="old")
    (target / theirs).parent.mkdir(parents=True, exist_ok=True)
    (target / theirs).write_text("mine")
    with pytest.raises(Unusable, match=f"{theirs} was not written by this tool"):
        fill(target, schedule="new", photos__a="new")
    assert texts_in(target) == {"schedule": "old", theirs: "mine"}


def test_a_link_in_the_folder_is_never_followed(tmp_path):
    target, mine = tmp_path / "delivery", tmp_path / "mine"
    mine.mkdir()
    (mine / "a").write_text("mine")
    fill(target, schedule="old", photos__a="old")
    (target / "photos" / "a").unlink()
    (target / "photos").rmdir()
    (target / "photos").symlink_to(mine)
    with pytest.raises(Unusable, match="photos was not written by this tool"):
        fill(target, schedule="new", photos__a="new")
    filling = fill(target, schedule="new")
    assert filling.kept == ("photos",)
    assert (target / "photos").is_symlink()
    assert texts_in(mine) == {"a": "mine"}


def test_a_folder_without_a_list_is_left_as_it_is(tmp_path):
    target = tmp_path / "delivery"
    (target / "photos").mkdir(parents=True)
    (target / "photos" / "photo-001.jpg").write_text("of an older version, or mine")
    (target / LIST).write_text("my own shopping list")
    with pytest.raises(Unusable, match=r"has no list of its files .* is not known and nothing was replaced"):
        fill(target, schedule="new")
    assert texts_in(target) == {"photos/photo-001.jpg": "of an older version, or mine"}


def test_the_list_is_what_sha256sum_checks(tmp_path):
    target = tmp_path / "delivery"
    fill(target, schedule="new", photos__a="a photo")
    checked = subprocess.run(
        ["sha256sum", "--check", "--strict", LIST], cwd=target, capture_output=True, text=True, check=False
    )
    assert (checked.returncode, checked.stdout) == (0, "photos/a: OK\nschedule: OK\n")


def test_a_list_with_the_line_ends_of_another_system_is_read(tmp_path):
    target = tmp_path / "delivery"
    fill(target, schedule="old", pdf="old")
    (target / LIST).write_bytes((target / LIST).read_bytes().replace(b"\n", b"\r\n"))
    fill(target, schedule="new")
    assert texts_in(target) == {"schedule": "new"}


def test_what_comes_into_the_folder_at_the_last_moment_is_kept(tmp_path, monkeypatch):
    from workbook_tools.files import whole

    target = tmp_path / "delivery"
    fill(target, schedule="old")
    exchanged = whole.exchange

    def exchange(new, place):
        (place / "late").write_text("mine")
        exchanged(new, place)

    monkeypatch.setattr(whole, "exchange", exchange)
    filling = fill(target, schedule="new")
    assert texts_in(target) == {"schedule": "new"}
    assert texts_in(filling.left_over) == {"late": "mine"}


def test_a_link_to_a_folder_stays_a_link(tmp_path):
    fill(tmp_path / "there", schedule="old")
    (tmp_path / "delivery").symlink_to(tmp_path / "there")
    fill(tmp_path / "delivery", schedule="new")
    assert (tmp_path / "delivery").is_symlink()
    assert texts_in(tmp_path / "there") == {"schedule": "new"}


def test_an_empty_folder_may_be_filled(tmp_path):
    (tmp_path / "delivery").mkdir()
    fill(tmp_path / "delivery", force=False, a="a")
    assert texts_in(tmp_path / "delivery") == {"a": "a"}


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
