"""Rules about what is marked and arranged at the service.

    mains-in-one-enclosure      two to six mains of a service in one enclosure
    source-sign-not-recorded    a generator or photovoltaics, and no word of a sign
    source-sign-absent          the same, and Remarks say that there is no sign

Not here: hand motions (service), ground-fault protection (ground_fault), posted fault currents (posted_fault_currents).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from workbook_tools.assessment import Assessment
from workbook_tools.definitions import plain
from workbook_tools.definitions.work import Danger, Effort, Power, Trade, Work
from workbook_tools.rules.client import Condition, Limit
from workbook_tools.rules.in_words import edition, section
from workbook_tools.rules.plain_english import in_words, listed
from workbook_tools.rules.problems import NotChecked, Problem
from workbook_tools.rules.rule import Rule, as_typed
from workbook_tools.rules.written import Answer, answer, answer_in, found_already
from workbook_tools.survey import Equipment

__all__ = ["RULES", "SUBJECT"]

SUBJECT = "Details of the service"

_APART = re.compile(
    r"\bseparate(?:ly)?\s+(?:\w+\s+)?(?:enclos|section|cubicle|compartment|cabinet|box|can\b|housing|structure|vertical)|"
    r"\bseparated\b|\bapart\b|\bbarriers?\b|\bcompartment|\bown (?:enclosure|section|cubicle|box|cabinet)|\beach in\b",
    re.IGNORECASE,
)
_TOGETHER = re.compile(
    r"\b(?:one|single|same|common|shared)\s+(?:\w+\s+)?(?:enclosure|section|cabinet|cubicle|box|panel|housing)\b",
    re.IGNORECASE,
)
_SIGN = re.compile(
    r"\bsigns?\b(?!\s+of\b)|\bsignage\b|\bplaque|(?:placard|directory|label)\w*\b.*(?:generator|standby|solar|photovoltaic|\bPV\b|source)"
    r"|(?:generator|standby|solar|photovoltaic|\bPV\b|source)\b.*(?:placard|directory|label)",
    re.IGNORECASE,
)


def mains_in_one_enclosure(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for service disconnects that take two to six motions, in an edition that wants them apart."""
    asked, most = assessment.profile.separate_service_mains, assessment.profile.hand_motions
    if asked is None or not asked.may_hold(assessment.year_built):
        return
    for name, rows in assessment.supply.services.items():
        if not plain(name).startswith("utility"):
            continue  # a building that another one feeds may have six in one enclosure: 225.33
        for row in rows:
            count = row.hand_motions.value
            if count is None or not 2 <= count <= most:
                continue
            said = answer(assessment, _APART, row)
            if said.settled or found_already(assessment, MAINS_IN_ONE_ENCLOSURE.slug, row):
                continue
            together = answer_in(_TOGETHER, row.remarks.typed)
            told = said.denied or together.there
            if said.denied:
                asked_or_told = f"They are recorded as not kept apart: {said.quoted}."
            elif together.there:
                asked_or_told = f"They are recorded as standing together: {together.quoted}."
            else:
                asked_or_told = f"Are these {in_words(count)} mains in one enclosure?"
            yield MAINS_IN_ONE_ENCLOSURE.problem(
                row,
                row.hand_motions,
                f"{row.called} takes {in_words(count)} motions of the hand. {asked_or_told} "
                f"Since the {asked.since} edition each service disconnect stands in an enclosure, section or compartment of "
                f"its own ({section(assessment, asked.section, asked.basis)}); what was there before may stay.",
                phrase=f"{in_words(count)} motions of the hand at one disconnect; "
                + (
                    "the mains do not stand apart, as recorded"
                    if told
                    else "whether the mains stand apart was not recorded"
                ),
                expected="1, or in Remarks how they are kept apart",
            )


def _sign_asked(assessment: Assessment) -> tuple[Equipment, str, str, Answer] | None:
    """Return the disconnect at which a sign names the on-site sources: which they are, by what, what was said; or None."""
    sources = [
        row
        for row in assessment.survey.equipment
        if row.stock_kind in ("Generator", "PV inverter", "PV disconnect")
    ]
    disconnects = [row for rows in assessment.supply.services.values() for row in rows]
    if not sources or not disconnects:
        return None
    cited = []
    if any(row.stock_kind == "Generator" for row in sources):
        cited.append("700.7, 701.7 or 702.7")
    if any(row.stock_kind != "Generator" for row in sources):
        cited.append("705.10")
    what = f"{listed([row.called for row in sources])} can feed the building beside the utility"
    by = f"{edition(assessment)} {listed(cited)}"
    return disconnects[0], what, by, answer(assessment, _SIGN, *disconnects, *sources)


def source_sign_not_recorded(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for on-site sources without a word of a sign at the service; said once."""
    asked = _sign_asked(assessment)
    if asked is not None:
        first, what, by, said = asked
        if not (said.settled or said.denied):
            yield SOURCE_SIGN_NOT_RECORDED.problem(
                first,
                first.remarks,
                f"{what}; whether a sign at the service names the source and where it stands was not recorded ({by}).",
                expected="Sign for the second source seen, or not seen",
            )


def source_sign_absent(assessment: Assessment) -> Iterator[Problem | NotChecked]:
    """Look for on-site sources, and remarks that say that there is no sign; said once."""
    asked = _sign_asked(assessment)
    if asked is not None:
        first, what, by, said = asked
        if said.denied:
            yield SOURCE_SIGN_ABSENT.problem(
                first,
                first.remarks,
                f"{what}; a sign at the service that names the source is recorded as absent: {said.quoted} ({by}).",
                phrase=f"no sign that names the second source, as recorded: {said.quoted}",
                expected="Sign for the second source seen",
            )


_SD1 = {"tag": "SD-1", "kind": "Service disconnect", "fed_from": "Utility"}

MAINS_IN_ONE_ENCLOSURE = Rule(
    slug="mains-in-one-enclosure",
    class_="confirm",
    subject="Equipment",
    what="Two to six mains of a service seem to stand in one enclosure, in an edition that keeps them apart.",
    why="Whoever works on one main stands before the live parts of the others.",
    mend="Say in Remarks how they are kept apart (separate sections, barriers), or give each a row of its own. Answer No issue "
    "where the equipment is older than the edition, Tell the client where they do share one enclosure.",
    source="NFPA 70 230.71(B)",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON_SITE, Effort.VISIT, Danger.SHOCK_OR_FIRE),
        do="Have a licensed electrician say when the service equipment was installed and how its mains are kept apart.",
        why="Whoever works on one main would stand before the live parts of the others.",
    ),
    compares="Service mains standing apart",
    check=mains_in_one_enclosure,
    fires=as_typed(equipment=[{**_SD1, "hand_motions": "4"}]),
    passes=as_typed(job={"code_profile": "nec-2017"}, equipment=[{**_SD1, "hand_motions": "4"}]),
)

SOURCE_SIGN_NOT_RECORDED = Rule(
    slug="source-sign-not-recorded",
    class_="note",
    subject="Service",
    what="A generator or photovoltaics are listed, and nothing is written about a sign at the service that names them.",
    why="With the service off, whoever works on the building must know what may still feed it.",
    mend="Write in Remarks of the service disconnect whether a sign names the second source; where there is none, record the "
    "finding.",
    source="NFPA 70 702.7; NFPA 70 705.10",
    client=Limit(
        one="Whether a sign at the service names the second source was not recorded.",
        many="Whether a sign at the service names the second source was not recorded.",
    ),
    check=source_sign_not_recorded,
    fires=as_typed(equipment=[_SD1, {"tag": "GEN-1", "kind": "Generator"}]),
    passes=as_typed(
        equipment=[{**_SD1, "remarks": "Sign for the generator seen"}, {"tag": "GEN-1", "kind": "Generator"}]
    ),
)

_SIGNLESS = {**_SD1, "remarks": "No sign for the generator"}

SOURCE_SIGN_ABSENT = Rule(
    slug="source-sign-absent",
    class_="report",
    priority="Correct soon",
    subject="Service",
    what="A generator or photovoltaics are listed, and Remarks say that no sign at the service names them.",
    why="With the service off, whoever works on the building must know what may still feed it.",
    mend="Look again. If it stands, leave it: it goes to the client.",
    source="NFPA 70 702.7; NFPA 70 705.10",
    client=Condition(
        work=Work(Trade.ELECTRICIAN, Power.ON, Effort.VISIT, Danger.LABEL),
        do="Have a sign put at the service that names every other source and where it is shut off.",
    ),
    check=source_sign_absent,
    fires=as_typed(equipment=[_SIGNLESS, {"tag": "GEN-1", "kind": "Generator"}]),
    passes=as_typed(
        equipment=[{**_SD1, "remarks": "Sign for the generator seen"}, {"tag": "GEN-1", "kind": "Generator"}]
    ),
)

RULES = (MAINS_IN_ONE_ENCLOSURE, SOURCE_SIGN_NOT_RECORDED, SOURCE_SIGN_ABSENT)
