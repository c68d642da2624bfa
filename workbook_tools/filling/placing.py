"""Where each column of a table goes.

    plan_of(table, template, homes, ...)   a Plan: the sheet that its rows are of, and a place for every column

The heading proposes, the cells veto, and what a person wrote into a placement file decides. Columns are given out
from the surest on; where the best place of a column is taken, its next one is tried. One table of tags may fill
Equipment, Transformers, Clearances and the levels of Rooms at once. A table without anything electrical is of no
sheet: it is set aside whole.

Not here: what a heading can mean (homes), what the rows give (list_rows).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from workbook_tools.definitions import Column, Sheet, Template, plain, spelling
from workbook_tools.filling.column_values import (
    fitness,
    name_sources,
    plausible_lengths,
    said_in,
    says_transformer,
)
from workbook_tools.filling.evidence import is_of, may_fill_clearances, may_fill_transformers
from workbook_tools.filling.homes import NEAR, OWN, Home, Homes
from workbook_tools.filling.model import AS_SAID, Target
from workbook_tools.filling.plans import (
    FED_FROM,
    FEEDS_THEM,
    KVA,
    LEVEL,
    OF_TAGS,
    RATING,
    SERVES,
    VOLTAGE,
    VOLTAGE_RATING,
    ColumnPlan,
    Forced,
    Plan,
)
from workbook_tools.filling.tables import Table
from workbook_tools.survey import Clearance, Equipment, Transformer
from workbook_tools.survey.found_headings import identity_of, name_points

__all__ = ["plan_of"]

_FIRST = 0.03  # what a table's own sheet is preferred by
_AGREEING = 0.05  # what cells that fit are preferred by
_NUMBERED = 0.1  # what bare numbers stand behind names: the number of a record is on no placard
_IDENTITY = 1.5
_OF_TRANSFORMERS = 3.0


class _Claim(NamedTuple):
    points: float
    column: int
    home: Home


class _Veto(NamedTuple):
    heading: str
    column: Column


def plan_of(table: Table, template: Template, homes: Homes, forced: Forced | None = None) -> Plan:
    """Say where every column of a table goes."""
    return _Planning(table, template, homes, forced).plan()


class _Planning:
    def __init__(self, table: Table, template: Template, homes: Homes, forced: Forced | None) -> None:
        self.table, self.template, self.homes = table, template, homes
        self.named = {
            s.key: name_points(table.sheet.grid.name, s) for s in template.sheets if s.layout == "table"
        }
        self.columns = {
            c: ColumnPlan(c, table.heading(c).text, tuple(said_in(table.texts(c))[:3])) for c in table.columns
        }
        self.vetoes: dict[int, _Veto] = {}
        naming = homes.naming({c: table.heading(c).wordings for c in self.columns})
        self.tags = {plain(text) for text in table.texts(naming)} if naming else set()
        self.outside = [plain(source) for source in template.outside_sources]
        self.forced = {
            c: said for c in self.columns if forced is not None and (said := forced(table, c)) is not None
        }
        self.claims = [claim for c in self.columns if c not in self.forced for claim in self._claims(c)]

    def _claims(self, column: int) -> list[_Claim]:
        texts = self.table.texts(column)
        out: list[_Claim] = []
        for home in self.homes.of(self.table.heading(column).wordings):
            fits = fitness(home.column, texts, self.template, own_words=home.sure >= OWN)
            if fits < 0 or not (self._can_be_measured(home, texts) and self._can_be_sources(home, texts)):
                self.vetoes.setdefault(column, _Veto(self.table.heading(column).text, home.column))
            else:
                numbered = home.column.field == Equipment.tag.name and all(map(str.isdecimal, said_in(texts)))
                out.append(_Claim(home.sure + _AGREEING * fits - _NUMBERED * numbered, column, home))
        return out

    def _can_be_measured(self, home: Home, texts: Sequence[str]) -> bool:
        """Whether lengths can have been measured around a piece: 5.75 in deep is the enclosure, and no working space."""
        if home.column.holds != "length" or self.named.get(home.sheet.key):
            return True
        return plausible_lengths(home.column, texts, home.unit)

    def _can_be_sources(self, home: Home, texts: Sequence[str]) -> bool:
        if home.place != FED_FROM or not texts:
            return True
        return name_sources(texts, self.tags, self.outside)

    def plan(self) -> Plan:
        key = self._key()
        if not key:
            return self._set_aside()
        given = self._given(key)
        plan = Plan(self.table, key, self.columns, self.forced)
        for claim in given.values():
            self._take(claim, key)
        self._take_the_one_voltage(key)
        for column, targets in self.forced.items():
            self.columns[column].targets = targets
            self.columns[column].why = AS_SAID
        for column, one in self.columns.items():
            if not one.targets and column not in self.forced:
                self._say_why_kept(one)
        return plan

    def _key(self) -> str:
        """Return the sheet that the table's rows are of, "" for none."""
        for targets in self.forced.values():
            if targets and not any(self.claims):
                return targets[0].key
        if not (self.table.known or self.forced):
            return ""
        best, points = "", 0.0
        for sheet in self.template.sheets:
            if sheet.layout != "table":
                continue
            claims = self._greedy([c for c in self.claims if c.home.sheet.key == sheet.key], sheet.key)
            forced = {t.field for targets in self.forced.values() for t in targets if t.key == sheet.key}
            fields = {name for _, name in claims} | forced
            total = sum(c.points for c in claims.values()) + len(forced) + self.named[sheet.key]
            total += _IDENTITY * (identity_of(sheet) in fields)
            total += _OF_TRANSFORMERS * (
                sheet.key == Transformer.key and says_transformer(self._naming_heading())
            )
            if total > points and (forced or self._is_of(sheet, claims)):
                best, points = sheet.key, total
        return best

    def _is_of(self, sheet: Sheet, claims: Mapping[tuple[str, str], _Claim]) -> bool:
        homes = {name: claim.home for (_, name), claim in claims.items()}
        columns = {name: claim.column for (_, name), claim in claims.items()}
        naming = columns.get(identity_of(sheet))
        heading = self.columns[naming].heading if naming is not None else ""
        kinds = said_in(self._texts_of(Equipment.kind.name))
        if sheet.key == Transformer.key and kinds and not all(map(says_transformer, kinds)):
            return False  # some transformers among other equipment
        if sheet.key == Transformer.key and not (self.named[sheet.key] or says_transformer(heading)):
            homes = {
                name: home
                for name, home in homes.items()
                if home.names_rows or not self._may_be_equipments(columns[name])
            }

        def texts(name: str) -> Sequence[str]:
            return self.table.texts(columns[name]) if name in columns else []

        return is_of(sheet.key, homes, self.template, self.named[sheet.key], self.table, heading, texts)

    def _greedy(self, claims: Sequence[_Claim], key: str) -> dict[tuple[str, str], _Claim]:
        """Give each column to one place and each place to one column, the surest first."""
        own = self.template.by_key[key]
        taken: dict[tuple[str, str], _Claim] = {}
        used: set[int] = set()
        forced = {tuple(t) for targets in self.forced.values() for t in targets}
        ranked = sorted(claims, key=lambda c: (-(c.points + _FIRST * (c.home.sheet is own)), c.column))
        for claim in self._told_apart(ranked):
            place = claim.home.place
            if claim.column in used or place in taken or place in forced:
                continue
            taken[place] = claim
            used.add(claim.column)
        return taken

    def _told_apart(self, ranked: list[_Claim]) -> list[_Claim]:
        """Let a heading that means one column only beside another give way: "Main amps" beside "Bus amps"."""
        beside = {(c.column, c.home.sheet.key) for c in ranked if c.home.beside}
        firm = {
            c.home.place for c in ranked if (c.column, c.home.sheet.key) not in beside and c.home.sure > NEAR
        }
        return [c for c in ranked if (c.column, c.home.sheet.key) not in beside or c.home.place not in firm]

    def _given(self, key: str) -> dict[tuple[str, str], _Claim]:
        first = self.template.by_key[key]
        allowed = [c for c in self.claims if c.home.sheet.key == key]
        if key in OF_TAGS:
            own = self._greedy(allowed, key)
            fields = {name for _, name in own}
            free = [
                c
                for c in self.claims
                if c.home.sheet.key != key and c.home.column.field not in first.by_field
            ]
            allowed += [c for c in free if self._may_fill(key, c, free, fields)]
        return self._greedy(allowed, key)

    def _may_fill(self, key: str, claim: _Claim, free: Sequence[_Claim], fields: set[str]) -> bool:
        """Whether a table of tags may fill a column of another sheet too."""
        other, name = claim.home.sheet.key, claim.home.column.field
        theirs = {c.home.column.field for c in free if c.home.sheet.key == other and c.home.sure > NEAR}
        if other == Equipment.key:
            return True
        if other == Transformer.key:
            return claim.home.place == SERVES or self._has_transformers()
        if other == Clearance.key:
            return may_fill_clearances(name, theirs)
        return claim.home.place == LEVEL

    def _has_transformers(self) -> bool:
        plates = [c for c in self.claims if c.home.sheet.key == Transformer.key and c.home.sure > NEAR]
        theirs = {c.home.column.field for c in plates if not self._may_be_equipments(c.column)}
        return may_fill_transformers(
            theirs, [*self._texts_of(Equipment.kind.name), *self._texts_of(Equipment.tag.name)]
        )

    def _means_kva(self, column: int) -> bool:
        return any(home.place == KVA for home in self.homes.of(self.table.heading(column).wordings))

    def _naming_heading(self) -> str:
        """Return the heading of the column that names the rows."""
        naming = self.homes.naming({c: self.table.heading(c).wordings for c in self.columns})
        return self.table.heading(naming).text if naming else ""

    def _may_be_equipments(self, column: int) -> bool:
        """Whether a heading means a column of Equipment as well: "Size" is no sign of a transformer."""
        return any(
            home.sheet.key == Equipment.key for home in self.homes.of(self.table.heading(column).wordings)
        )

    def _texts_of(self, name: str) -> Sequence[str]:
        """Return the cells of the column that is most surely one of Equipment."""
        claims = [c for c in self.claims if c.home.place == (Equipment.key, name)]
        best = max(claims, key=lambda c: c.points, default=None)
        return self.table.texts(best.column) if best is not None else []

    def _take(self, claim: _Claim, key: str) -> None:
        one, home = self.columns[claim.column], claim.home
        target = Target(*home.place)
        one.targets = (target,)
        if key in (Equipment.key, Transformer.key) and target == SERVES:
            fed = (FEEDS_THEM,) if FED_FROM.field in self.template.by_key[Equipment.key].by_field else ()
            one.targets = (target, *fed) if key == Transformer.key or self._has_transformers() else fed
        elif target == RATING and self._means_kva(claim.column) and self._has_transformers():
            one.targets = (target, KVA)  # "Size" is kVA on the rows of transformers
        one.why, one.sure, one.unit = home.why, home.sure, home.unit
        one.doubt = home.sure <= NEAR

    def _take_the_one_voltage(self, key: str) -> None:
        """Let the one voltage of a list be the system's, whatever rating it is called."""
        targets = {target for one in self.columns.values() for target in one.targets}
        if key != Equipment.key or self.named[key] or VOLTAGE_RATING not in targets or VOLTAGE in targets:
            return
        for one in self.columns.values():
            of_a_class = "class" in spelling(one.heading)
            if (
                one.targets == (VOLTAGE_RATING,)
                and not of_a_class
                and VOLTAGE.field in self.template.by_key[key].by_field
            ):
                one.targets, one.why = (VOLTAGE,), "the one voltage of the list"

    def _say_why_kept(self, one: ColumnPlan) -> None:
        veto = self.vetoes.get(one.column)
        if veto is not None:
            shown = ", ".join(one.samples[:2])
            one.why = f"kept: it would be {veto.column.heading}, but its cells read {shown}"
            one.doubt = True
            return
        taken = {t: c.heading for c in self.columns.values() for t in c.targets}
        for home in self.homes.of(self.table.heading(one.column).wordings):
            other = taken.get(Target(*home.place))
            if other is not None:
                one.why = f"kept: {home.column.heading} is filled from {other}"
                return
        one.why = "kept: no column of the survey is called so"

    def _set_aside(self) -> Plan:
        for one in self.columns.values():
            one.why = "the table says nothing of electrical equipment: it is kept whole"
        return Plan(self.table, "", self.columns)
