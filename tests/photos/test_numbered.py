"""The photos of a delivery: found, numbered in order of first mention, tied to what they show."""

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from tests.delivery.made_surveys import SHEETS, picture, write_survey
from workbook_tools.commands import check
from workbook_tools.errors import Unusable
from workbook_tools.photos.numbered import PhotoSet, gather_photos
from workbook_tools.survey import Survey, read_survey

COLOURS = {"qs_0104.JPG": "red", "QS_0107.jpg": "green", "QS_0108.png": "blue", "QS_0109.jpg": "black"}


@pytest.fixture
def folder(tmp_path) -> Path:
    made = tmp_path / "photos"
    made.mkdir()
    for name, colour in COLOURS.items():
        (made / name).write_bytes(picture(colour, kind="PNG" if name.endswith("png") else "JPEG"))
    return made


@pytest.fixture
def survey(tmp_path) -> Survey:
    return read_survey(write_survey(tmp_path / "survey.xlsx"))


def colour_of(content: bytes) -> tuple[int, ...]:
    return Image.open(BytesIO(content)).convert("RGB").getpixel((5, 5))


def test_photos_are_numbered_in_the_order_of_first_mention(survey, folder):
    photos = gather_photos(survey, folder)
    assert [(photo.number, photo.named, photo.file) for photo in photos.photos] == [
        (1, "qs_0104.JPG", "photo-001.jpg"),
        (2, "QS_0107.jpg", "photo-002.jpg"),
        (3, "QS_0108.png", "photo-003.jpg"),
        (4, "QS_0109.jpg", "photo-004.jpg"),
    ]
    assert colour_of(photos.photos[2].picture.jpeg)[2] > 200


def test_a_row_knows_its_photos_and_a_photo_what_it_shows(survey, folder):
    photos = gather_photos(survey, folder)
    finding = survey.findings[0]
    assert [photo.number for photo in photos.of(finding)] == [2, 4]
    assert [photo.number for photo in photos.of(survey.equipment[2])] == [1]
    assert photos.of(survey.rooms[0]) == ()
    assert photos.photos[0].subjects == ("DP-1", "RP-1")
    assert photos.photos[3].subjects == ("T-1",)


def test_the_inspectors_caption_comes_before_our_own_words(survey, folder):
    captions = [photo.caption for photo in gather_photos(survey, folder).photos]
    assert captions == [
        "The panel in the boiler room",
        "Transformer",
        "Label plate",
        "Storage on transformer",
    ]


def test_a_photo_that_is_missing_or_not_named_is_said(survey, folder):
    (folder / "QS_0999.jpg").write_bytes(picture())
    photos = gather_photos(survey, folder)
    assert photos.not_found == [
        "Findings, row 3 (DP-1) names the photo QS_0110, which is not in the photo folder."
    ]
    assert photos.unused == ["The photo QS_0999.jpg in the folder is named nowhere."]


def test_without_a_folder_one_sentence_says_so(survey):
    photos = gather_photos(survey, None)
    assert photos.photos == []
    assert photos.said == [
        "5 different photo files are named and no photo folder was given (--photos), so none was delivered."
    ]


def test_a_folder_that_is_not_there_is_unusable(survey, tmp_path):
    with pytest.raises(Unusable, match="does not exist"):
        gather_photos(survey, tmp_path / "gone")


def test_a_name_or_a_link_that_leaves_the_folder_is_refused_and_said(tmp_path, folder):
    (tmp_path / "secret.jpg").write_bytes(picture("yellow"))
    (folder / "QS_0110.jpg").symlink_to(tmp_path / "secret.jpg")
    sheets = SHEETS | {
        "Photos": [
            SHEETS["Photos"][0],
            ["../secret.jpg", "DP-1", "x"],
            [str(tmp_path / "secret.jpg"), "", ""],
        ]
    }
    photos = gather_photos(read_survey(write_survey(tmp_path / "survey.xlsx", sheets)), folder)
    assert len(photos.refused) == 3
    assert all("outside the photo folder" in sentence for sentence in photos.refused)
    assert not any(min(colour_of(photo.picture.jpeg)[:2]) > 250 for photo in photos.photos)
    assert len(photos.photos) == 4


def test_a_link_that_turns_outside_after_listing_is_not_read(tmp_path, folder, survey):
    from workbook_tools.photos.folder import list_photos

    listed = list_photos(folder)
    (tmp_path / "secret.jpg").write_bytes(picture("yellow"))
    (folder / "QS_0109.jpg").unlink()
    (folder / "QS_0109.jpg").symlink_to(tmp_path / "secret.jpg")
    photos = gather_photos(survey, listed)
    assert "outside the photo folder" in photos.refused[0]
    assert [photo.named for photo in photos.photos] == ["qs_0104.JPG", "QS_0107.jpg", "QS_0108.png"]


def test_a_damaged_photo_is_said_and_the_others_are_taken(survey, folder):
    (folder / "QS_0107.jpg").write_bytes(picture("green")[:200])
    (folder / "QS_0108.png").unlink()
    (folder / "QS_0108.heic").write_bytes(b"no picture")
    photos = gather_photos(survey, folder)
    assert [photo.number for photo in photos.photos] == [1, 2]
    assert len(photos.refused) == 2
    assert photos.refused[0].startswith("The photo QS_0107.jpg is ")


def test_two_files_of_one_picture_are_one_photo(survey, folder):
    (folder / "QS_0109.jpg").write_bytes((folder / "qs_0104.JPG").read_bytes())
    photos = gather_photos(survey, folder)
    assert len(photos.photos) == 3
    assert photos.photos[0].subjects == ("DP-1", "RP-1", "T-1")


@pytest.mark.parametrize("how", ["floating", "in the cell"])
def test_a_picture_pasted_into_the_survey_has_its_row_as_subject(tmp_path, folder, how):
    path = write_survey(tmp_path / "survey.xlsx", pictures=[("Findings", 2, 6, picture("yellow"), how)])
    survey = read_survey(path)
    photos = gather_photos(survey, folder)
    pasted = next(photo for photo in photos.photos if photo.named == "picture on Findings!G3")
    assert (pasted.number, pasted.subjects, pasted.caption) == (5, ("DP-1",), "Open knockout")
    assert photos.of(survey.findings[1]) == (pasted,)
    assert min(colour_of(pasted.picture.jpeg)[:2]) > 250


@pytest.mark.parametrize("how", ["floating", "in the cell"])
def test_a_finding_with_a_picture_pasted_on_its_row_asks_for_no_photo(tmp_path, how):
    sheets = {name: [list(row) for row in rows] for name, rows in SHEETS.items()}
    sheets["Findings"][2][4] = ""
    without = check(write_survey(tmp_path / "without.xlsx", sheets)).problems
    pictures = [("Findings", 2, 4, picture("yellow"), how)]
    pasted = check(write_survey(tmp_path / "pasted.xlsx", sheets, pictures)).problems
    assert [problem.cell for problem in without if problem.sheet == "Findings"] == ["E3"]
    assert [problem for problem in pasted if problem.sheet == "Findings"] == []


def test_pasted_pictures_need_no_photo_folder_and_are_numbered_with_their_rows(tmp_path):
    pictures = [
        ("Findings", 1, 6, picture("yellow"), "floating"),
        ("Equipment", 1, 12, picture("red"), "floating"),
    ]
    photos = gather_photos(read_survey(write_survey(tmp_path / "survey.xlsx", pictures=pictures)), None)
    assert [photo.named for photo in photos.photos] == ["picture on Equipment!M2", "picture on Findings!G2"]


def test_a_picture_beside_no_row_goes_without_a_subject_and_is_said(tmp_path):
    pictures = [("Findings", 30, 6, picture("yellow"), "floating"), ("Job", 1, 4, picture("red"), "floating")]
    photos = gather_photos(read_survey(write_survey(tmp_path / "survey.xlsx", pictures=pictures)), None)
    assert [(photo.named, photo.subjects) for photo in photos.photos] == [("picture on Findings!G31", ())]
    assert any("Findings!G31 stands beside no filled row" in sentence for sentence in photos.said)
    assert any("Job!E2 stands on a sheet without rows" in sentence for sentence in photos.said)


def test_no_position_of_any_photo_is_handed_over(tmp_path, folder, survey):
    exif = Image.Exif()
    exif.get_ifd(0x8825).update({1: "N", 2: (45.0, 30.0, 30.0)})
    file = BytesIO()
    Image.new("RGB", (80, 60), "red").save(file, "JPEG", exif=exif)
    assert b"Exif" in file.getvalue()
    (folder / "qs_0104.JPG").write_bytes(file.getvalue())
    photos: PhotoSet = gather_photos(survey, folder)
    for photo in photos.photos:
        for content in (photo.picture.jpeg, photo.picture.thumbnail):
            assert b"Exif" not in content
