"""Whether parts belong to one survey, and what each is called.

refuse_another_survey(parts)   raises where a part is another building's, or another survey of it
part_names(parts)              what each part is called: its inspector, or its file where that tells more
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from workbook_tools.definitions import plain
from workbook_tools.errors import Unusable
from workbook_tools.survey import Survey

__all__ = ["part_names", "refuse_another_survey"]


def refuse_another_survey(parts: Sequence[Survey]) -> None:
    """Refuse parts that are not of one survey.

    The number that `new` gives a survey tells it from every other. A workbook that was copied for another building has
    the same number: then property and report number tell. A number can be lost on the way through another program;
    then the property has to say that they are of one building.

    Raises
    ------
    Unusable
        Two parts differ in their number, property, report number or template, or nothing says that they belong together.
    """
    first = parts[0]
    for part in parts[1:]:
        names = f"{first.path.name} and {part.path.name}"
        for what, one, other in (
            ("survey number", first.number, part.number),
            ("property", first.job.property.said, part.job.property.said),
            ("report number", first.job.report_no.said, part.job.report_no.said),
            ("template", first.template.name, part.template.name),
        ):
            if one and other and plain(one) != plain(other):
                raise Unusable(
                    f"{names} are not parts of one survey: the {what} is {one} in the first and {other} in the second. Parts are "
                    "copies of one workbook; correct the one that is wrong, or leave it out."
                )
        same = first.number and first.number == part.number
        named = first.job.property.said and part.job.property.said
        if not (same or named):
            raise Unusable(
                f"Nothing says that {names} are parts of one survey: neither has the other's number, and one names no property. "
                "Write the same property into both."
            )


def part_names(parts: Sequence[Survey]) -> list[str]:
    """Return what each part is called, each name once."""
    said = [" ".join(part.job.inspector.said.split()) for part in parts]
    counts = Counter(map(plain, said))
    names = [
        name if name and counts[plain(name)] == 1 else part.path.name
        for name, part in zip(said, parts, strict=True)
    ]
    repeated = Counter(names)
    return [f"{name} ({number})" if repeated[name] > 1 else name for number, name in enumerate(names, 1)]
