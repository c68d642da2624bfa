"""Rules about the label plate of a transformer, taken by itself.

    kva-not-standard           no listed size
    direction-disagrees        the marked direction is not the computed one
    isolation-transformer      primary and secondary are equal
    impedance-not-recorded     25 kVA and more carry it on the plate
    nameplate-photo-missing    no photo of the label plate is named

What feeds a transformer and what it feeds is in transformers.
"""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.electrical import is_listed_kva, kva_neighbours
from workbook_tools.photos.by_name import by_name
from workbook_tools.rules.client import Limit, Paperwork, Remark
from workbook_tools.rules.plain_english import listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.survey import Outcome, Transformer

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Label plates"


def kva_not_standard(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look the size up in the lists for its phases."""
    for plate in assessment.survey.transformers:
        facts = assessment.transformer(plate)
        yield from KVA_NOT_STANDARD.ask(plate)
        if facts.kva is None or facts.kva <= 0 or facts.phases not in (1, 3):
            continue
        if not is_listed_kva(facts.kva, facts.phases):
            below, above = kva_neighbours(facts.kva, facts.phases)
            sizes = [f"{size:g}" for size in (below, above) if size is not None]
            near = f"the nearest {'is' if len(sizes) == 1 else 'are'} {listed(sizes)} kVA"
            kind = "three-phase" if facts.phases == 3 else "single-phase"
            yield KVA_NOT_STANDARD.problem(
                plate,
                plate.kva,
                f"{facts.kva:g} kVA is not a listed {kind} size; {near}.",
            )


def direction_disagrees(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Compare the marked direction with the one that the two voltages give."""
    for plate in assessment.survey.transformers:
        marked, facts = plate.marked_direction.value, assessment.transformer(plate)
        if marked is None or marked == "Not marked" or facts.low_secondary:
            continue  # a buck-boost unit raises or lowers by its connection
        if facts.direction is None:
            yield from DIRECTION_DISAGREES.ask(plate)
        elif facts.direction.casefold() != marked.casefold():
            computed = {"isolation": "an isolation transformer"}.get(facts.direction, f"a {facts.direction}")
            yield DIRECTION_DISAGREES.problem(
                plate,
                plate.marked_direction,
                f"{plate.called} takes {facts.primary_volts:g} V in and gives {facts.secondary_volts:g} V out, line to "
                f"line, which is {computed}; {marked.lower()} is marked.",
                expected=facts.direction.capitalize(),
            )


def isolation_transformer(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for equal primary and secondary voltages."""
    for plate in assessment.survey.transformers:
        facts = assessment.transformer(plate)
        if facts.direction == "isolation":
            yield ISOLATION_TRANSFORMER.problem(
                plate,
                plate.secondary_v,
                f"{plate.called} has {facts.primary_volts:g} V on both sides, line to line: an isolation transformer.",
            )


def impedance_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for larger transformers without an impedance."""
    least = assessment.profile.impedance_marked_from_kva
    for plate in assessment.survey.transformers:
        kva = plate.kva.value
        blank = plate.impedance_percent.outcome is Outcome.BLANK
        if blank and least is not None and kva is not None and kva >= least.number:
            yield IMPEDANCE_NOT_RECORDED.problem(
                plate,
                plate.impedance_percent,
                f"No impedance is recorded for {plate.called}; the plate of a transformer of {least.number:g} kVA or more "
                "shows it.",
            )


_PLATE = frozenset(("nameplate", "nameplates", "plate", "label"))


def nameplate_photo_missing(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for label plates without a photo: none named, none pasted, none that says in its file name what it shows."""
    named = by_name(assessment.survey, assessment.photos) if assessment.photos is not None else ()
    shown = {
        row for one in named if len(one.rows) == 1 and not _PLATE.isdisjoint(one.words) for row in one.rows
    }
    for plate in assessment.survey.transformers:
        if plate.nameplate_photo.outcome is not Outcome.BLANK or assessment.survey.has_picture(plate):
            continue
        if shown.isdisjoint(assessment.survey.tagged(plate.tag.value)):
            yield NAMEPLATE_PHOTO_MISSING.problem(
                plate,
                plate.nameplate_photo,
                f"No photo of the label plate of {plate.called} is named.",
            )


KVA_NOT_STANDARD = Rule(
    slug="kva-not-standard",
    class_="confirm",
    subject="Transformers",
    what="The kVA is no listed size for its phases; the neighbours are shown.",
    why="A unit that is not standard is no defect; it is a reason to read the plate again.",
    mend="Read the label plate again; answer No issue where it reads so.",
    source="10 CFR 431.196",
    needs=(Transformer.kva, Transformer.phase),
    client=Paperwork(),
    check=kva_not_standard,
    fires=as_typed(transformers=[{"tag": "T-1", "kva": "70", "phase": "3"}]),
    passes=as_typed(transformers=[{"tag": "T-1", "kva": "75", "phase": "3"}]),
)

DIRECTION_DISAGREES = Rule(
    slug="direction-disagrees",
    class_="correct",
    subject="Transformers",
    what="The marked direction is not the one that primary and secondary volts give, line to line.",
    why="Either the two sides are swapped on the sheet or the marking is wrong; both mislead whoever works on it.",
    mend="Look which side the feeder is on. Swap the two voltages, or correct the direction; where the marking itself is "
    "wrong, write what the voltages give and record the marking as a finding.",
    source="nameplate",
    needs=(Transformer.primary_v, Transformer.secondary_v),
    client=Paperwork(),
    check=direction_disagrees,
    fires=as_typed(transformers=[{"tag": "T-3", "primary_v": "208", "secondary_v": "480", "phase": "3",
                                  "marked_direction": "Step-down"}]),
    passes=as_typed(transformers=[{"tag": "T-3", "primary_v": "208", "secondary_v": "480", "phase": "3",
                                   "marked_direction": "Step-up"}]),
)  # fmt: skip

ISOLATION_TRANSFORMER = Rule(
    slug="isolation-transformer",
    class_="note",
    subject="Transformers",
    what="Primary and secondary voltage are equal, line to line.",
    why="It steps nothing up or down; its secondary is a system of its own.",
    mend="Nothing to do, unless one of the voltages is wrong.",
    source="definition",
    client=Remark(),
    check=isolation_transformer,
    fires=as_typed(
        transformers=[{"tag": "T-1", "primary_v": "480", "secondary_v": "480Y/277", "phase": "3"}]
    ),
    passes=as_typed(
        transformers=[{"tag": "T-1", "primary_v": "480", "secondary_v": "208Y/120", "phase": "3"}]
    ),
)

IMPEDANCE_NOT_RECORDED = Rule(
    slug="impedance-not-recorded",
    class_="note",
    subject="Transformers",
    what="The impedance is blank on a transformer of 25 kVA or more.",
    why="Plates of that size carry it; without it the fault current at the secondary is not known.",
    mend="Read it from the label plate, or answer N/V.",
    source="NFPA 70 450.11(A)",
    client=Limit(
        one="The impedance was not recorded, so no fault current could be computed.",
        many="The impedance was not recorded, so no fault current could be computed.",
    ),
    check=impedance_not_recorded,
    fires=as_typed(transformers=[{"tag": "T-1", "kva": "25"}]),
    passes=as_typed(transformers=[{"tag": "T-1", "kva": "15"}]),
)

NAMEPLATE_PHOTO_MISSING = Rule(
    slug="nameplate-photo-missing",
    class_="confirm",
    subject="Transformers",
    what="No photo of the label plate is named.",
    why="Most questions about a transformer are answered by its label plate.",
    mend="Name the photo; N/A where there is no plate, N/V where it could not be reached.",
    source="common practice",
    client=Paperwork(firms_own=True),
    check=nameplate_photo_missing,
    fires=as_typed(transformers=[{"tag": "T-1"}]),
    passes=as_typed(transformers=[{"tag": "T-1", "nameplate_photo": "QS_0108.jpg"}]),
)

RULES = (
    KVA_NOT_STANDARD,
    DIRECTION_DISAGREES,
    ISOLATION_TRANSFORMER,
    IMPEDANCE_NOT_RECORDED,
    NAMEPLATE_PHOTO_MISSING,
)
