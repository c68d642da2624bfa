"""The issues as cards, most urgent first, each with its photo beside it.

    cards_of(schedule, places)     the issues of each priority
    shown(photo, caption, ...)     a photo with what stands under it

Not here: the order of the issues (schedule), how a card looks (schedule.typ).
"""

from __future__ import annotations

from itertools import groupby

from workbook_tools.rules.plain_english import sentence
from workbook_tools.schedule.headings import (
    ACCESS,
    BASIS,
    EFFORT,
    PHOTOS,
    POWER,
    WHAT_TO_DO,
    WHAT_WAS_SEEN,
    WHY_IT_MATTERS,
)
from workbook_tools.schedule.model import ClientSchedule, Condition, PhotoEntry
from workbook_tools.typesetting.marks import mark_of
from workbook_tools.typesetting.model import Card, Cards, Run, Shown, Words
from workbook_tools.typesetting.pictures import file_name
from workbook_tools.typesetting.places import Places, joined

__all__ = ["IN_THE_LIST", "NO_PHOTO", "cards_of", "shown"]

NO_PHOTO = "No photo was taken of this issue."
BY_WHOM, IN_THE_LIST = "By whom", "In the list of equipment"

_LONGEST_WHOLE = 1600
"""Letters of a card that is kept on one page; a longer one goes on over its end."""


def cards_of(schedule: ClientSchedule, places: Places) -> tuple[Cards, ...]:
    """Return the issues as cards, those of one priority together."""
    made = []
    numbered = enumerate(schedule.conditions)
    for priority, group in groupby(numbered, key=lambda pair: pair[1].priority):
        cards = tuple(_card(schedule, places, at, condition) for at, condition in group)
        made.append(Cards(f"{priority} ({len(cards)})", mark_of(priority), cards))
    return tuple(made)


def _card(schedule: ClientSchedule, places: Places, at: int, condition: Condition) -> Card:
    lines = _lines(places, condition)
    length = sum(len(run.text) for _, words in lines for run in words)
    return Card(
        id=f"issue-{at}",
        mark=mark_of(condition.priority),
        number=condition.id,
        place=condition.place,
        priority=condition.priority,
        lines=lines,
        photos=tuple(
            shown(
                places.photo_of[number],
                Run(sentence(condition.phrase)),
                # A photo that stands beside two issues has its place, where links lead, at the first.
                first=places.beside[number] == at,
            )
            for number in places.shown_beside(condition)
        ),
        no_photo="" if condition.photos else NO_PHOTO,
        whole=length <= _LONGEST_WHOLE,
    )


def _lines(places: Places, condition: Condition) -> tuple[tuple[str, Words], ...]:
    beside = places.shown_beside(condition)
    said: tuple[tuple[str, Words], ...] = (
        (WHAT_WAS_SEEN, (Run(condition.seen),)),
        (WHY_IT_MATTERS, (Run(condition.why),)),
        (WHAT_TO_DO, (Run(condition.action, strong=True),)),
        (BY_WHOM, (Run(_by_whom(condition)),)),
        (BASIS, (Run(condition.basis),)),
        (f"Further {PHOTOS.lower()}", places.photos(n for n in condition.photos if n not in beside)),
        (IN_THE_LIST, joined(places.row(at) for at in condition.rows)),
    )
    return tuple((label, words) for label, words in said if any(run.text for run in words))


def _by_whom(condition: Condition) -> str:
    """Return who mends it and what that takes: "Licensed electrician. Power: must be off. How ordered: one visit."."""
    said = [sentence(condition.trade)] if condition.trade else []
    for label, text in ((POWER, condition.power), (EFFORT, condition.effort), (ACCESS, condition.access)):
        said += [f"{label}: {text.rstrip('.')}."] if text else []
    return " ".join(said)


def shown(photo: PhotoEntry, *caption: Run, first: bool = True) -> Shown:
    """Return a photo with its number and what is said under it."""
    words = " ".join(filter(None, (photo.subject, photo.wrong or photo.caption)))
    return Shown(
        id=f"photo-{photo.number}" if first else "",
        file=file_name(photo),
        width=photo.width,
        height=photo.height,
        caption=(Run(f"Photo {photo.number}. ", strong=True), *caption),
        described=sentence(f"Photo {photo.number}: {words}"),
    )
