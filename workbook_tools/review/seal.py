"""What a signature covers, part by part, and what of it has changed since.

    seal_of(checked, photos, answers)    the Seal of what a review is made from
    Seal                                 the parts; .mark stands for all of them
    changes(before, now, survey)         a sentence for each thing that is not as it was
    differences(before, now)             the items of one part that differ
    rules_mark()                         what tells the rules of this version from those of another
    SURVEY, TEMPLATE, PROFILE, RULES, PHOTOS, ANSWERS    the parts

A part is a list of items, each with what it held: the rows of the survey with every answer, the
definitions of the template, the numbers of the code profile with its amendments, the cards and the
arithmetic of the rules, the digest of each photo, the answers of the reviewer. So a change is not
only noticed, it is named. The firm's name is part of it; where a delivery has none at all on it, that is
said there and is no change. Its colours are no part.

A seal finds mistakes. It is no secret, and who wants to forge one can.

Not here: where a seal is written (sheets), when a signature lapses (writing, delivery).
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from itertools import zip_longest
from typing import Any

from workbook_tools.checking import Checked
from workbook_tools.definitions import Template
from workbook_tools.photos.looked_at import NO_FOLDER, PASTED, LookedAt
from workbook_tools.review.changed_survey import changes_of_survey
from workbook_tools.rules import catalogue
from workbook_tools.survey import Survey
from workbook_tools.survey.fingerprint import in_groups, lines_of

__all__ = ["ANSWERS", "PHOTOS", "PROFILE", "RULES", "SURVEY", "TEMPLATE", "Item", "Seal", "changes", "differences",
           "rules_mark", "seal_of"]  # fmt: skip

SURVEY, TEMPLATE, PROFILE, RULES = "survey", "template", "code profile", "rules"
PHOTOS, ANSWERS = "photos", "answers"

Item = tuple[str, Any]
"""What an item is called, and what it held; both as JSON takes them."""

_DIGITS = 12
_A_DIGEST = "#"
_NAME = "name"
_FIRM = "firm"


@dataclass(frozen=True)
class Seal:
    """The parts of what was signed, by name. `mark` is made of all of them.

    A seal whose parts were lost has the mark alone: then it can be told that something changed,
    and not what.
    """

    parts: Mapping[str, tuple[Item, ...]] = field(default_factory=dict)
    said_mark: str = ""

    @property
    def mark(self) -> str:
        """The mark that stands for all parts; "" where there is no seal."""
        if not self.parts:
            return self.said_mark
        lines = (f"{name} {_digest(items)}" for name, items in sorted(self.parts.items()))
        return in_groups(hashlib.sha256("\n".join(lines).encode()).hexdigest())

    def with_answers(self, answers: Iterable[Item]) -> Seal:
        """Return the seal of the same, and of these answers."""
        return Seal({**self.parts, ANSWERS: _sorted(answers)})


def seal_of(checked: Checked, photos: LookedAt) -> Seal:
    """Return the seal of everything that a review is made from.

    Parameters
    ----------
    checked : Checked
        The survey, what it was read and judged with.
    photos : LookedAt
        Its photos.
    """
    survey = checked.survey
    return Seal(
        {
            SURVEY: _sorted((line.key, [line.called, dict(line.cells)]) for line in lines_of(survey)),
            TEMPLATE: _sorted(_of_template(survey.template)),
            PROFILE: _sorted(_numbers("", checked.assessment.profile)),
            RULES: _sorted(_of_rules()),
            PHOTOS: photos.contents,
        }
    )


def changes(before: Seal, now: Seal, survey: Survey, *, with_photos: bool = True) -> list[str]:
    """Return a sentence for each thing that is not as it was sealed; none where nothing changed.

    Parameters
    ----------
    before : Seal
        As it stands in the review.
    now : Seal
        Of what is there now; parts that `before` does not have are not looked at.
    survey : Survey
        The survey as it is now, for the places of its cells.
    with_photos : bool, optional
        False where the photo folder is left out: then the pasted pictures alone are compared.
    """
    if not before.mark:
        return ["The review carries no seal, or an earlier version made it."]
    if not before.parts:
        return ["The sheet Seal of the review is gone, so it cannot be told what was signed."]
    if before.said_mark and before.said_mark != before.mark:
        return ["The seal of the review was written over, so it cannot be told what was signed."]
    said: list[str] = []
    for name, items in before.parts.items():
        theirs = now.parts.get(name, ())
        if name == PHOTOS and not with_photos:
            items, theirs = (tuple(one for one in of if one[0].startswith(PASTED)) for of in (items, theirs))
        if name == TEMPLATE and (_FIRM, "") in theirs:
            items, theirs = (tuple(one for one in of if one[0] != _FIRM) for of in (items, theirs))
        if _digest(items) != _digest(theirs):
            of_survey = (
                changes_of_survey(items, survey) if name == SURVEY else _changes_of(name, items, theirs)
            )
            said += of_survey or [f"{name}: not as it was."]
    return [line[0].upper() + line[1:] for line in said]


def _sorted(items: Iterable[Item]) -> tuple[Item, ...]:
    return tuple(sorted(items, key=as_text))


def as_text(item: Item) -> str:
    """Return an item as it is written down: letters that every program keeps."""
    return json.dumps(item, ensure_ascii=True, sort_keys=True, separators=(",", ":"))


def _digest(items: Iterable[Item]) -> str:
    return _digest_of("\n".join(sorted(map(as_text, items))))


def _digest_of(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:_DIGITS]


# ---------------------------------------------------------------- the parts


def _of_template(template: Template) -> Iterator[Item]:
    yield _NAME, template.name
    yield _FIRM, " ".join((template.firm.name, *template.firm.lines)).strip()
    yield "outside sources", ", ".join(template.outside_sources)
    yield "dimension unit", template.dimension_unit
    yield "cautions", _short(template.cautions)
    for setting in template.rules.values():
        done = "switched off" if setting.off else f"given the priority {setting.priority}"
        yield f"rule {setting.slug}", f"{done} ({setting.reason})" if setting.reason else done
    for sheet in template.sheets:
        yield f"sheet {sheet.name}", _short((sheet.key, sheet.layout, sheet.also_called))
        for column in sheet.columns:
            yield f"column {column.heading} of {sheet.name}", _short(column._asdict())
    for vocabulary in template.vocabularies.values():
        yield f"choices of {vocabulary.name}", _short([choice._asdict() for choice in vocabulary.choices])
    for finding in template.findings:
        yield f"priority of the finding {finding.name}", finding.priority
        yield f"finding {finding.name}", _short({**finding._asdict(), "priority": ""})


def _short(value: Any) -> str:
    """Return what stands for something too long to be told."""
    return _A_DIGEST + _digest_of(json.dumps(value, ensure_ascii=True, sort_keys=True, default=str))


def _numbers(path: str, value: Any) -> Iterator[Item]:
    """Yield every number and text of a code profile by its name: "height inches", 78."""
    if is_dataclass(value) and not isinstance(value, type):
        parts = [(one.name, getattr(value, one.name)) for one in fields(value)]
    elif isinstance(value, tuple) and hasattr(value, "_fields"):
        parts = list(zip(value._fields, value, strict=True))
    elif isinstance(value, tuple):
        parts = [(str(number), one) for number, one in enumerate(value, 1)]
    else:
        yield path, "" if value is None else str(value)
        return
    for name, one in parts:
        yield from _numbers(f"{path} {name}".strip().replace("_", " "), one)


@cache
def _of_rules() -> tuple[Item, ...]:
    cards = (
        (slug, (rule.class_, rule.priority, rule.what, rule.why, rule.mend, rule.source, repr(rule.client)))
        for slug, rule in catalogue().items()
    )
    return (*((f"rule {slug}", _short(card)) for slug, card in cards), ("arithmetic", _short(_arithmetic())))


def _arithmetic() -> list[tuple[str, str]]:
    """Return a digest of each file that a rule computes with: another version of the tool has others."""
    found: dict[str, str] = {}

    def look_into(folder: Traversable, path: str) -> None:
        for one in folder.iterdir():
            if one.is_dir():
                look_into(one, f"{path}/{one.name}")
            elif one.name.endswith((".py", ".csv", ".toml")):
                found[f"{path}/{one.name}"] = _digest_of(one.read_text(encoding="utf-8"))

    for room in ("rules", "assessment", "electrical"):
        look_into(files(f"workbook_tools.{room}"), room)
    return sorted(found.items())


def rules_mark() -> str:
    """Return what tells the rules of this version from those of another."""
    return _digest(_of_rules())


# ---------------------------------------------------------------- what changed, in words


def _changes_of(name: str, before: tuple[Item, ...], now: tuple[Item, ...]) -> list[str]:
    if name == PROFILE and dict(before).get(_NAME) != dict(now).get(_NAME):
        return [f"{name}: was {dict(before).get(_NAME)}, is {dict(now).get(_NAME)}."]
    if name == TEMPLATE and dict(before).get(_NAME) != dict(now).get(_NAME):
        return [f"{name}: was {dict(before).get(_NAME)}, is {dict(now).get(_NAME)}."]
    if name == PHOTOS:
        looked_at = [any(content != NO_FOLDER for _, content in items) for items in (before, now) if items]
        if looked_at == [False, True]:
            return ["the review was made without the photo folder: run check with --photos."]
        if looked_at == [True, False]:
            return ["the review was made with the photo folder, and none is given now."]
    say = {PHOTOS: _of_photo, RULES: _of_rule}.get(name, _of_item)
    begins = "" if name == PHOTOS else f"{name}: "
    return [f"{begins}{say(item, was, is_)}." for item, was, is_ in differences(before, now)]


def differences(before: Iterable[Item], now: Iterable[Item]) -> Iterator[tuple[str, str | None, str | None]]:
    """Yield each item that differs, with what it held and what it holds; None where it was or is not there."""
    contents: dict[str, tuple[Counter[str], Counter[str]]] = {}
    for side, items in enumerate((before, now)):
        for item, content in items:
            contents.setdefault(item, (Counter(), Counter()))[side][str(content)] += 1
    for item, (were, are) in contents.items():
        for was, is_ in zip_longest((were - are).elements(), (are - were).elements()):
            yield item, was, is_


def _of_item(item: str, was: str | None, is_: str | None) -> str:
    told = [text for text in (was, is_) if text is not None and not text.startswith(_A_DIGEST)]
    if was is None:
        return f"{item} is {is_}" if told else f"{item} is new"
    if is_ is None:
        return f"{item} was {was}, and is no longer" if told else f"{item} is gone"
    return f"{item} was {was or 'blank'}, is {is_ or 'blank'}" if told else f"{item} is defined otherwise"


def _of_photo(item: str, was: str | None, is_: str | None) -> str:
    name = item if item.startswith(PASTED) else f"photo {item}"
    if was is None:
        return f"{name} was not there"
    if is_ is None:
        return f"{name} is named no longer"
    return f"{name} is {is_}" if " " in is_ else f"{name} is another picture"


def _of_rule(item: str, was: str | None, is_: str | None) -> str:
    if was is None:
        return f"another version of this tool, in which the {item} is new"
    if is_ is None:
        return f"another version of this tool, without the {item}"
    return f"another version of this tool, in which the {item} is another"
