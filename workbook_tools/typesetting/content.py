"""A client schedule as the document to be printed: every text, number and link, nothing of its look.

    document_of(schedule)    a Document
    lines_of(document)       how long it is

Not here: which characters can be shown (characters), setting it (typesetter).
"""

from __future__ import annotations

from workbook_tools.rules.plain_english import sentence
from workbook_tools.schedule.model import ClientSchedule
from workbook_tools.typesetting import lists
from workbook_tools.typesetting.colour import legible, letters_on
from workbook_tools.typesetting.first_page import first_page
from workbook_tools.typesetting.issue_cards import cards_of, shown
from workbook_tools.typesetting.model import Chapter, Colours, Document, Run
from workbook_tools.typesetting.places import Places, joined
from workbook_tools.typesetting.since_last import since_last
from workbook_tools.typesetting.supply import supply_picture
from workbook_tools.typesetting.work_list import work_list

__all__ = ["document_of", "lines_of"]

_REPORT_NO = "Report no."

_LETTERS = 500
"""So many letters of a long text count as one more line."""


def document_of(schedule: ClientSchedule) -> Document:
    """Return the document that a client schedule is printed as."""
    places = Places(schedule)
    colour = schedule.firm.colour
    chapters = (
        _issues(schedule, places),
        work_list(schedule, places),
        since_last(schedule, places),
        lists.equipment(schedule, places),
        lists.clearances(schedule, places),
        lists.transformers(schedule, places),
        supply_picture(schedule, places),
        lists.supply_tree(schedule, places),
        lists.limits(schedule),
        lists.words(schedule),
        _further_photos(schedule, places),
    )
    return Document(
        title=f"Electrical survey of {schedule.property}",
        author=schedule.firm.name,
        subject="Schedule of electrical equipment",
        paper=schedule.firm.paper,
        colours=Colours(legible(colour), colour, letters_on(colour)),
        draft="DRAFT" if schedule.draft else "",
        property=schedule.property,
        running=dict(schedule.facts).get(_REPORT_NO, ""),
        caution=schedule.cautions[0],
        page=("Page ", " of "),
        first=first_page(schedule, places, lists.LIMITS),
        chapters=tuple(chapter for chapter in chapters if chapter is not None),
    )


def _issues(schedule: ClientSchedule, places: Places) -> Chapter:
    said = (
        "Most urgent first. Basis names sections to look up; it is no ruling. Whether a section applies to this building is "
        "for the local authority."
    )
    return Chapter(
        "issues",
        "Issues",
        said if schedule.conditions else "No issues were seen.",
        cards=cards_of(schedule, places),
    )


def _further_photos(schedule: ClientSchedule, places: Places) -> Chapter | None:
    """Return the photos that stand beside no issue."""
    left = [photo for photo in schedule.photos if photo.number not in places.beside]
    if not left:
        return None
    made = []
    for photo in left:
        about = joined(places.row(at) for at, row in enumerate(schedule.rows) if photo.number in row.photos)
        if not about and photo.subject:
            about = (places.tagged(photo.subject),)
        said = sentence(photo.wrong) if photo.wrong else photo.caption
        colon = (Run(": "),) if about and said else ()
        made.append(shown(photo, *about, *colon, Run(said)))
    return Chapter(
        "photos",
        "Further photos",
        "These stand beside no issue; the others stand with the issues that they show.",
        photos=tuple(made),
    )


def lines_of(document: Document) -> int:
    """Return how long a document is: its cards and the rows of its tables, those with long texts counted more."""
    rows = (
        row
        for chapter in document.chapters
        for table in chapter.tables
        for band in table.bands
        for row in band.rows
    )
    cards = (card for chapter in document.chapters for group in chapter.cards for card in group.cards)
    texts = (
        *(sum(len(run.text) for cell in row.cells for run in cell) for row in rows),
        *(sum(len(run.text) for _, words in card.lines for run in words) for card in cards),
    )
    return len(texts) + sum(letters // _LETTERS for letters in texts)
