"""Photos that belong to a piece of equipment by their file name, and those of which nobody can tell."""

from pathlib import Path

import pytest

from tests.delivery.made_surveys import picture
from tests.rules.asking import messages_of, problems_of
from workbook_tools.photos.by_name import by_name
from workbook_tools.photos.folder import PhotoFolder, list_photos
from workbook_tools.photos.looked_at import look_at
from workbook_tools.photos.numbered import gather_photos
from workbook_tools.rules.rule import Typed, as_typed
from workbook_tools.rules.typed import survey_of

TAGS = ("LP-1", "LP-12", "MSB", "T-1", "DP-1", "DP-1-2", "2", "A")


def of(file: str, *tags: str) -> list[str]:
    """Return the tags that a file is taken for; several where it is asked about."""
    survey = survey_of(as_typed(equipment=[{"tag": tag} for tag in tags or TAGS]))
    found = by_name(survey, PhotoFolder(Path("photos"), (file,), {}))
    return [row.called for one in found for row in one.rows]


@pytest.mark.parametrize(
    ("file", "tag"),
    [
        ("LP-1 nameplate.jpg", "LP-1"),
        ("lp1_2.jpg", "LP-1"),
        ("LP 1 (3).HEIC", "LP-1"),
        ("Lp-1.png", "LP-1"),
        ("LP12.jpg", "LP-12"),
        ("lp-12-2.jpg", "LP-12"),
        ("msb front.jpg", "MSB"),
        ("MSB_20260916.jpg", "MSB"),
        ("IMG_0012 T-1.jpg", "T-1"),
        ("20260916_101500_t1 plate.jpg", "T-1"),
        ("photo of LP-1.jpg", "LP-1"),
        ("LP-1/IMG_0001.jpg", "LP-1"),
        ("level 1/LP-12/0003.jpg", "LP-12"),
        ("LP‑1 open.jpg", "LP-1"),
    ],
)
def test_a_file_that_begins_with_a_tag_belongs_to_it(file: str, tag: str):
    assert of(file) == [tag]


@pytest.mark.parametrize(
    "file",
    [
        "LP1nameplate.jpg",
        "LP-1A.jpg",
        "LP-13.jpg",
        "LP-01.jpg",
        "XLP-1.jpg",
        "beside MSB.jpg",
        "corridor T-1.jpg",
        "2.jpg",
        "IMG_0002.jpg",
        "A broken cover.jpg",
        "a.jpg",
        "front.jpg",
        "MSBs.jpg",
    ],
)
def test_what_only_looks_like_a_tag_is_no_tag(file: str):
    assert of(file) == []


@pytest.mark.parametrize(
    ("file", "tags"),
    [
        ("LP-1 fed from MSB.jpg", ["LP-1", "MSB"]),
        ("MSB and T-1.jpg", ["MSB", "T-1"]),
        ("DP-1-2.jpg", ["DP-1", "DP-1-2"]),
        ("DP-1 2.jpg", ["DP-1", "DP-1-2"]),
    ],
)
def test_where_two_tags_can_be_meant_nobody_guesses(file: str, tags: list[str]):
    assert of(file) == tags
    typed = as_typed(equipment=[{"tag": tag} for tag in TAGS], photo_folder=[file])
    assert messages_of("photo-by-file-name", typed) == []
    (asked,) = messages_of("photo-subject-unclear", typed)
    assert asked.startswith(f"By its file name the photo {file} could be one of {tags[0]} or {tags[1]};")


def test_a_tag_on_two_rows_is_asked_about_too():
    assert of("LP-1.jpg", "LP-1", "lp 1") == ["LP-1", "lp 1"]


def folder_of(tmp_path: Path, *names: str) -> Path:
    folder = tmp_path / "photos"
    folder.mkdir()
    for number, name in enumerate(names):
        (folder / name).write_bytes(picture(("red", "green", "blue", "yellow")[number % 4]))
    return folder


SURVEY: Typed = as_typed(
    equipment=[
        {"tag": "LP-1", "kind": "Panelboard", "photos": "a.jpg"},
        {"tag": "T-1", "kind": "Transformer"},
    ],
    transformers=[{"tag": "T-1"}],
)


def test_they_are_delivered_with_the_piece_and_said(tmp_path: Path):
    folder = folder_of(tmp_path, "a.jpg", "lp1_2.jpg", "LP-1 and T-1.jpg", "other.jpg")
    survey = survey_of(SURVEY)
    photos = gather_photos(survey, folder)
    assert [(photo.named, photo.subjects) for photo in photos.photos] == [
        ("a.jpg", ("LP-1",)),
        ("lp1_2.jpg", ("LP-1",)),
    ]
    assert [photo.number for photo in photos.of(survey.equipment[0])] == [1, 2]
    assert photos.unused == [
        "The photo LP-1 and T-1.jpg in the folder is named nowhere, and by its own name it could be of LP-1 or T-1.",
        "The photo other.jpg in the folder is named nowhere.",
    ]


def test_the_seal_and_the_review_know_them(tmp_path: Path):
    survey = survey_of(SURVEY)
    seen = look_at(survey, list_photos(folder_of(tmp_path, "a.jpg", "t1 plate.jpg", "other.jpg")))
    assert [name for name, _ in seen.contents] == ["a.jpg", "t1 plate.jpg"]
    assert seen.named(survey.equipment[1]) == "t1 plate.jpg"


def in_folder(*files: str) -> Typed:
    return as_typed(**SURVEY.tables, photo_folder=["a.jpg", *files])


def test_the_check_says_which_was_taken_for_which():
    typed = in_folder("lp1_2.jpg", "z.jpg")
    assert messages_of("photo-by-file-name", typed) == [
        "The photo lp1_2.jpg was taken for one of LP-1, since its name begins so."
    ]
    assert [problem.read for problem in problems_of("photo-unused", typed)] == ["z.jpg"]


@pytest.mark.parametrize(
    ("file", "asked"), [("T-1 nameplate.jpg", False), ("t1 label.jpg", False), ("T-1 front.jpg", True)]
)
def test_a_photo_that_says_it_shows_the_label_plate_is_one(file: str, asked: bool):
    assert bool(messages_of("nameplate-photo-missing", in_folder(file))) == asked
