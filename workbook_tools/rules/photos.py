"""Rules about photos: the names on the sheets beside the files in the photo folder.

    photo-missing           a named photo is not in the folder
    photo-unused            a photo in the folder is named nowhere
    photo-by-file-name      a photo was taken for one of a tag by its file name
    photo-subject-unclear   a file name with several tags in it

Without a photo folder nothing is checked, and that is said once. No picture is opened here.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.rules.client import Limit, Paperwork
from workbook_tools.rules.in_words import either
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import PhotoCaption

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Photos"


def photo_missing(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look each name up in the folder."""
    folder = assessment.photos
    for row, cell, name in assessment.survey.photos_named():
        if folder is None:
            yield NotChecked(PHOTO_MISSING.slug, "", row.sheet, cell.cell, "a photo folder")
            return
        found = folder.look_up(name)
        if found.file is None:
            hint = f"; the nearest is {found.nearest}" if found.nearest else ""
            yield PHOTO_MISSING.problem(
                row,
                cell,
                f"The photo {name} {found.why}{hint}.",
                read=name,
                action=f"Write {found.nearest} if that is meant, or add the photo to the folder."
                if found.nearest
                else None,
            )


def photo_unused(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for files that no name means."""
    if assessment.photos is None:
        return
    rows, sheet = assessment.survey.photos, assessment.survey.template.by_key.get(PhotoCaption.key)
    name = rows[0].sheet if rows else sheet.name if sheet is not None else "Photos"
    column = sheet.by_field.get(PhotoCaption.file.name) if sheet is not None else None
    own = {one.file for one in assessment.photos_by_name}
    for file in assessment.photos.unused(name for _row, _cell, name in assessment.survey.photos_named()):
        if file in own:
            continue
        yield Problem(
            rule=PHOTO_UNUSED.slug,
            class_=PHOTO_UNUSED.class_,
            priority="",
            sheet=name,
            cell="",
            subject=file,
            field=column.heading if column is not None else "File",
            read=file,
            expected="",
            message=f"The photo {file} is in the folder but named nowhere in the survey.",
            action=PHOTO_UNUSED.mend,
            source=PHOTO_UNUSED.source,
            order=(99, 0, 0),
        )


def photo_by_file_name(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Say which file was taken for a photo of which equipment."""
    for one in assessment.photos_by_name:
        if len(one.rows) == 1:
            (row,) = one.rows
            yield PHOTO_BY_FILE_NAME.problem(
                row,
                row.photos,
                f"The photo {one.file} was taken for one of {row.called}, since its name begins so.",
                read=one.file,
            )


def photo_subject_unclear(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for files in whose name several tags stand."""
    for one in assessment.photos_by_name:
        if len(one.rows) > 1:
            named = either([row.called for row in one.rows])
            yield PHOTO_SUBJECT_UNCLEAR.problem(
                one.rows[0],
                one.rows[0].photos,
                f"By its file name the photo {one.file} could be one of {named}; no row names it, so it is not delivered.",
                subject=one.file,
                read=one.file,
                expected="the one that it shows",
            )


_FINDING = {"subject": "EP-1", "finding": "Open knockout", "photos": "QS_0126.jpg"}

PHOTO_MISSING = Rule(
    slug="photo-missing",
    class_="correct",
    subject="Findings Equipment Photos",
    what="A named photo is not in the photo folder.",
    why="The client's schedule would point to a picture that is not there.",
    mend="Correct the name, or add the photo to the folder.",
    source="common practice",
    client=Limit(
        one="A photo that was named is not among those delivered.",
        many="Photos that were named are not among those delivered.",
    ),
    check=photo_missing,
    fires=as_typed(findings=[_FINDING], photo_folder=["QS_0125.jpg"]),
    passes=as_typed(findings=[_FINDING], photo_folder=["QS_0126.JPG"]),
)

PHOTO_UNUSED = Rule(
    slug="photo-unused",
    class_="note",
    subject="Photos",
    what="A photo in the folder is named nowhere.",
    why="It may show something that nobody wrote down; it is not delivered.",
    mend="Name it where it belongs, or leave it.",
    source="common practice",
    client=Paperwork(firms_own=True),
    check=photo_unused,
    fires=as_typed(findings=[_FINDING], photo_folder=["QS_0126.jpg", "QS_0127.jpg"]),
    passes=as_typed(findings=[_FINDING], photo_folder=["QS_0126.jpg"]),
)

_LP1 = {"tag": "LP-1", "kind": "Panelboard"}

PHOTO_BY_FILE_NAME = Rule(
    slug="photo-by-file-name",
    class_="note",
    subject="Equipment",
    what="A photo that no row names belongs to a piece of equipment, since its file name begins with the tag.",
    why="It is delivered with that piece; a name that was meant otherwise would show the client the wrong panel.",
    mend="Nothing to do, unless it shows something else: then rename the file.",
    source="common practice",
    client=Paperwork(firms_own=True),
    check=photo_by_file_name,
    fires=as_typed(equipment=[_LP1], photo_folder=["lp1_2.jpg"]),
    passes=as_typed(equipment=[{**_LP1, "photos": "lp1_2.jpg"}], photo_folder=["lp1_2.jpg"]),
)

PHOTO_SUBJECT_UNCLEAR = Rule(
    slug="photo-subject-unclear",
    class_="confirm",
    subject="Equipment",
    what="Several tags stand in the file name of a photo that no row names.",
    why="Nobody can tell which of them it shows; with the wrong one it would mislead the client.",
    mend="Write it into Photos of the one that it shows; or answer No issue, and it is not delivered.",
    source="common practice",
    client=Paperwork(firms_own=True),
    check=photo_subject_unclear,
    fires=as_typed(equipment=[_LP1, {**_LP1, "tag": "DP-1"}], photo_folder=["LP-1 fed from DP-1.jpg"]),
    passes=as_typed(equipment=[_LP1, {**_LP1, "tag": "DP-1"}], photo_folder=["LP-1 front.jpg"]),
)

RULES = (PHOTO_MISSING, PHOTO_UNUSED, PHOTO_BY_FILE_NAME, PHOTO_SUBJECT_UNCLEAR)
