"""Finding the photo that a typed name means, without ever leaving the folder."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from workbook_tools.errors import Unusable
from workbook_tools.photos import folder as photo_folder
from workbook_tools.photos.folder import PhotoFolder, list_photos


def folder_of(tmp_path: Path, *names: str) -> PhotoFolder:
    for name in names:
        path = tmp_path / "photos" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"x")
    return list_photos(tmp_path / "photos")


@pytest.mark.parametrize(
    "typed", ["QS_0101", "qs_0101.jpg", " QS_0101.JPG ", "Qs_0101.heic", "./QS_0101", "east\\QS_0101"]
)
def test_case_and_ending_do_not_matter(tmp_path, typed):
    assert folder_of(tmp_path, "east/qs_0101.JPG").look_up(typed).file == "east/qs_0101.JPG"


def test_a_name_with_its_ending_is_meant_exactly(tmp_path):
    folder = folder_of(tmp_path, "a.jpg", "a.PNG")
    assert [folder.look_up(name).file for name in ("A.JPG", "a.png")] == ["a.jpg", "a.PNG"]
    assert folder.look_up("a").file is None
    assert "could be a.PNG or a.jpg" in folder.look_up("a").why


def test_the_same_name_in_two_folders_is_asked_about(tmp_path):
    folder = folder_of(tmp_path, "east/a.jpg", "west/a.jpg")
    assert folder.look_up("a.jpg").file is None
    assert folder.look_up("west/a").file == "west/a.jpg"


def test_a_name_with_a_dot_that_is_no_ending_is_whole(tmp_path):
    folder = folder_of(tmp_path, "rev.2.jpg")
    assert folder.look_up("rev.2").file == "rev.2.jpg"
    assert folder.look_up("rev").file is None


def test_two_ways_to_store_an_accent_are_one_name(tmp_path):
    assert folder_of(tmp_path, "cafe\u0301.jpg").look_up("caf\u00e9").file == "cafe\u0301.jpg"


def test_a_neighbour_by_number_is_no_likely_meaning(tmp_path):
    assert folder_of(tmp_path, "QS_0101.jpg", "QS_0103.jpg").look_up("QS_0102").nearest == ""


def test_a_missing_photo_names_the_nearest(tmp_path):
    missing = folder_of(tmp_path, "QS_0101.jpg").look_up("QS_O101")
    assert (missing.file, missing.why, missing.nearest) == (None, "is not in the photo folder", "QS_0101.jpg")


@pytest.mark.parametrize(
    "typed",
    ["../plan.jpg", "..\\plan.jpg", "east/../../plan.jpg", "/plan.jpg", "\\\\host\\share\\plan.jpg", "C:\\plan.jpg",
     "c:plan.jpg", "~/plan.jpg", "file:///plan.jpg", "https://example.org/plan.jpg", ".."],
)  # fmt: skip
def test_a_name_that_leaves_the_folder_is_refused(tmp_path, typed):
    (tmp_path / "plan.jpg").write_bytes(b"x")
    folder = folder_of(tmp_path, "plan.jpg", "east/plan.jpg")
    assert folder.look_up(typed).file is None
    assert "outside the photo folder" in folder.look_up(typed).why


def test_a_link_out_of_the_folder_is_not_followed(tmp_path):
    (tmp_path / "secret.jpg").write_bytes(b"x")
    folder_of(tmp_path, "a.jpg")
    (tmp_path / "photos" / "b.jpg").symlink_to(tmp_path / "secret.jpg")
    (tmp_path / "photos" / "c.jpg").symlink_to("a.jpg")
    (tmp_path / "photos" / "d.jpg").symlink_to("nowhere.jpg")
    (tmp_path / "photos" / "all").symlink_to(tmp_path, target_is_directory=True)
    folder = list_photos(tmp_path / "photos")
    assert folder.files == ("a.jpg", "c.jpg")
    assert "outside the photo folder" in folder.look_up("b").why
    assert "leads nowhere" in folder.look_up("d").why
    assert folder.look_up("secret").file is None


def test_hidden_files_and_other_files_are_passed_over(tmp_path):
    folder = folder_of(tmp_path, "._a.jpg", ".thumbs/a.jpg", "a.mov", "notes.txt", "a.jpg")
    assert folder.files == ("a.jpg",)
    assert folder.look_up("notes.txt").file is None


def test_unused_photos_are_listed(tmp_path):
    folder = folder_of(tmp_path, "a.jpg", "b.jpg", "c.heic")
    assert folder.unused(["A", "C.jpg", "gone"]) == ("b.jpg",)


def test_a_folder_that_cannot_be_listed_is_said(tmp_path, monkeypatch):
    with pytest.raises(Unusable, match="does not exist"):
        list_photos(tmp_path / "gone")
    folder_of(tmp_path, "a.jpg", "b.jpg")
    with pytest.raises(Unusable, match="is a file"):
        list_photos(tmp_path / "photos" / "a.jpg")
    monkeypatch.setattr(photo_folder, "MOST_FILES", 1)
    with pytest.raises(Unusable, match="more than 1 files"):
        list_photos(tmp_path / "photos")


@given(st.text(max_size=30))
@example("\0.jpg")
@example("a" * 5000)
@example("")
def test_no_typed_name_finds_anything_but_a_listed_file(name):
    folder = PhotoFolder(Path("."), ("a.jpg", "east/b.png"), {"c.jpg": "is a link that leads nowhere"})
    found = folder.look_up(name)
    assert found.file in {None, "a.jpg", "east/b.png"}
    assert (found.file is None) == bool(found.why)
