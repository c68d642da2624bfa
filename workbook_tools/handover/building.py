"""What the client reads becomes the rows of the COBie sheets.

    build_handover(checked, schedule, files, photo_folder)   a Handover

Level -> Floor, room -> Space, kind with maker, rating and voltage -> Type, tag -> Component, what feeds it -> System,
photos and the client's files -> Document, ratings, answers about rooms and issues -> Attribute.

Pure: nothing is written. Not here: which answers there are (known), how names are told apart (names).
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from typing import TypedDict

from workbook_tools.checking import Checked
from workbook_tools.definitions import PRIORITIES, plain
from workbook_tools.handover.known import Known, of_equipment, of_room, written
from workbook_tools.handover.model import (
    MOST_CHARACTERS,
    NOT_KNOWN,
    SHEETS,
    Attribute,
    Component,
    Contact,
    Document,
    Facility,
    Floor,
    Handover,
    Record,
    Space,
    System,
    Type,
)
from workbook_tools.handover.names import Names, address, address_in, fitting, one_line
from workbook_tools.schedule import ClientSchedule, Condition
from workbook_tools.schedule.conditions import urgency
from workbook_tools.schedule.equipment_texts import room_of
from workbook_tools.schedule.model import ROOM, ScheduleRow
from workbook_tools.schedule.walking_order import NO_SOURCE, UNKNOWN, Step, sources_first, walk
from workbook_tools.survey import Outcome, Room, Value

__all__ = ["build_handover"]

_AS_FOUND = "As Built"
_READ_ONLY = "Information Only"
_FIXED = "Fixed"
_INSPECTOR, _MAKER = "34-35 41: Inspector", "34-31 11: Manufacturer"
_FLOORS = {"roof": "Roof", "outside": "Site", "site": "Site"}
"""Levels that are no floor, as the standard's list of three calls them."""

_NO_LEVEL, _NO_ROOM, _NO_KIND = "Level not recorded", "Room not recorded", "Kind not recorded"
_SYSTEMS = {UNKNOWN: "Supply whose source is not known", NO_SOURCE: "Supply without a recorded source"}
_NO_DAY = datetime.date(1900, 12, 31)
_MOST_TOLD = 12


class _Made(TypedDict):
    """By whom and when a row was made."""

    created_by: str
    created_on: str


@dataclass(frozen=True)
class _About:
    """A row that others refer to: the sheet and its name there."""

    sheet: type[Record]
    name: str


def build_handover(
    checked: Checked, schedule: ClientSchedule, files: Mapping[str, str], photo_folder: str
) -> Handover:
    """Put together the rows of every sheet.

    Parameters
    ----------
    checked : Checked
        The survey and its assessment.
    schedule : ClientSchedule
        What the client reads of it: the issues as reviewed, the photos with their numbers.
    files : mapping of str to str
        The files of the delivery that are about the whole building, by their path in it: what each is.
    photo_folder : str
        The folder of the delivery that holds the photos.
    """
    building = _Building(checked, schedule)
    building.levels_and_rooms()
    building.equipment()
    building.issues()
    building.documents(files)
    building.photos(photo_folder)
    return building.finished()


@dataclass
class _Building:
    """The rows as they come about."""

    checked: Checked
    schedule: ClientSchedule
    _rows: dict[type[Record], list[Record]] = field(default_factory=lambda: {sheet: [] for sheet in SHEETS})
    _names: dict[type[Record], Names] = field(default_factory=lambda: {sheet: Names() for sheet in SHEETS})
    _floors: dict[str, str] = field(default_factory=dict)
    _spaces: dict[str, str] = field(default_factory=dict)
    _types: dict[str, str] = field(default_factory=dict)
    _makers: dict[str, str] = field(default_factory=dict)
    _placed: list[_About] = field(default_factory=list)
    _renamed: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Begin with who made it, and the building."""
        job, firm = self.checked.survey.job, self.schedule.firm
        self.day = job.inspection_date.value or _NO_DAY
        known = address_in(firm.lines)
        email = known or address(firm.name, "survey")
        self._emails = {email.casefold()}
        self._placeholders = not known
        self.made: _Made = {"created_by": email, "created_on": f"{self.day.isoformat()}T00:00:00"}
        self._add(Contact(email=email, category=_INSPECTOR, company=firm.name, **self.made))
        name = self._names[Facility].distinct(self.schedule.property)
        self.facility = _About(Facility, name)
        about = f"Electrical survey of {self.schedule.property}."
        inspector = _answered(job.inspector)
        by = f" By {inspector}." if inspector else ""
        signed = f" Reviewed by {self.schedule.signed.reviewer}." if self.schedule.signed is not None else ""
        self._add(
            Facility(
                name=name,
                project_name=_answered(job.report_no) or about,
                site_name=_answered(job.address) or name,
                description=_answered(job.building_use),
                project_description=f"{'DRAFT: ' if self.schedule.draft else ''}{about}{by}{signed}",
                site_description=_answered(job.address),
                **self.made,
            )
        )

    def levels_and_rooms(self) -> None:
        """Take every room of the survey; one that stands there twice is one room."""
        for room in self.checked.survey.rooms:
            if _key(room.called) not in self._spaces:
                self._space(room.called, room)

    def _space(self, called: str, room: Room | None) -> _About:
        """Return a room by its name, new where nothing has that name yet; "" is the room that nobody recorded."""
        known = self._spaces.get(_key(called))
        if known is not None:
            return _About(Space, known)
        name = self._spaces[_key(called)] = self._named(Space, called, _NO_ROOM)
        floor = self._floor(room.storey if room is not None else "")
        self._add(Space(name=name, floor_name=floor, description=called or _NO_ROOM, **self.made))
        about = _About(Space, name)
        if room is not None:
            self._know(about, of_room(room))
        return about

    def _floor(self, level: str) -> str:
        known = self._floors.get(_key(level))
        if known is None:
            known = self._floors[_key(level)] = self._named(Floor, level, _NO_LEVEL)
            category = _FLOORS.get(plain(level), "Floor")
            self._add(Floor(name=known, category=category, description=level or _NO_LEVEL, **self.made))
        return known

    def equipment(self) -> None:
        """Take every piece of equipment, in the order of the list that the client reads."""
        assessment = self.checked.assessment
        steps = sources_first(walk(assessment), assessment)
        for step, line in zip(steps, self.schedule.rows, strict=False):
            piece = self._component(step, line)
            self._placed.append(piece)
            self._know(piece, of_equipment(step.row, assessment))
        for line in self.schedule.rows[len(steps) :]:
            room = self._spaces.get(_key(line.tag)) if line.kind == ROOM else None
            self._placed.append(_About(Space, room) if room is not None else self.facility)

    def _component(self, step: Step, line: ScheduleRow) -> _About:
        row = step.row
        kind = line.kind or _NO_KIND
        name = self._named(
            Component, row.called, f"{kind} without a tag", f" of {row.sheet} row {row.number}"
        )
        told = (
            kind,
            line.rating,
            line.voltage,
            line.phase_wires,
            line.fed_from and f"fed from {line.fed_from}",
        )
        place = room_of(row)
        self._add(
            Component(
                name=name,
                type_name=self._type(step, line),
                space=self._space(place, self.checked.survey.room(place)).name,
                description=", ".join(filter(None, told)),
                ext_object=row.sheet,
                ext_identifier=f"{row.sheet} row {row.number}",
                tag_number=row.called,
                **self.made,
            )
        )
        self._systems(step, name)
        return _About(Component, name)

    def _type(self, step: Step, line: ScheduleRow) -> str:
        """Return the name of a type: kind, maker, rating and voltage, as far as they are known."""
        maker = _answered(step.row.maker)
        figures = [text for text in (line.rating, line.voltage) if text[:1].isdigit()]
        said = " - ".join(one_line(text) for text in (line.kind or _NO_KIND, maker, *figures) if text)
        known = self._types.get(said.casefold())
        if known is None:
            known = self._types[said.casefold()] = self._names[Type].distinct(said)
            self._add(
                Type(
                    name=known,
                    description=said,
                    asset_type=_FIXED,
                    manufacturer=self._maker(maker) if maker else NOT_KNOWN,
                    ext_object=line.kind,
                    **self.made,
                )
            )
        return known

    def _maker(self, maker: str) -> str:
        known = self._makers.get(_key(maker))
        if known is None:
            known, count = address(maker, "maker"), 1
            while known in self._emails:
                count += 1
                known = address(f"{maker[:40]} {count}", "maker")
            self._emails.add(known)
            self._makers[_key(maker)] = known
            self._placeholders = True
            self._add(Contact(email=known, category=_MAKER, company=maker, **self.made))
        return known

    def _named(self, sheet: type[Record], wanted: str, without: str, where: str = "") -> str:
        """Return a name that nothing else of the sheet has; where it is not the one wanted, that is told."""
        name = self._names[sheet].distinct(wanted or without)
        said = one_line(wanted)
        if name != said:
            self._renamed.append(f"{said or 'what has no name'}{where} is {name}")
        return name

    def _systems(self, step: Step, component: str) -> None:
        """Say from which sources outside a piece is supplied."""
        also = [name for name in step.also if self.checked.survey.is_outside_source(name)]
        for root in dict.fromkeys((step.root, *also)):
            said = _SYSTEMS.get(root, f"Supply from {root}")
            self._add(System(name=fitting(said), component_names=component, description=said, **self.made))

    def issues(self) -> None:
        """Add each issue to everything that it is about, and to each the most urgent of its priorities."""
        urgent: dict[_About, list[Condition]] = {}
        for condition in self.schedule.conditions:
            for about in dict.fromkeys(self._placed[at] for at in condition.rows) or {self.facility: None}:
                urgent.setdefault(about, []).append(condition)
                self._know(about, [_issue(condition)], condition.id)
        for about, conditions in urgent.items():
            first = min((one.priority for one in conditions), key=urgency)
            self._attribute(about, Known("Priority of its issues", first), allowed=", ".join(PRIORITIES))

    def documents(self, files: Mapping[str, str]) -> None:
        """Name the files that are about the whole building."""
        for path, what in files.items():
            self._document(self.facility, what, path, what)

    def photos(self, folder: str) -> None:
        """Name each photo beside everything that it shows: the equipment, the room, else the building."""
        shown: dict[int, dict[_About, None]] = {}
        of_tag: dict[str, _About] = {}
        for about, line in zip(self._placed, self.schedule.rows, strict=True):
            of_tag.setdefault(_key(line.tag), about)
            for number in line.photos:
                shown.setdefault(number, {})[about] = None
        for plate in self.schedule.transformers:
            for number in plate.photos:
                shown.setdefault(number, {})[of_tag.get(_key(plate.tag), self.facility)] = None
        for photo in self.schedule.photos:
            room = self._spaces.get(_key(photo.subject))
            else_about = _About(Space, room) if room is not None else self.facility
            for about in shown.get(photo.number, {else_about: None}):
                said = photo.caption or photo.subject
                self._document(about, f"Photo {photo.number}", f"{folder}/{photo.file}", said)

    def _document(self, about: _About, name: str, path: str, said: str) -> None:
        directory, _, file = path.rpartition("/")
        self._add(
            Document(
                name=name,
                approval_by=_READ_ONLY,
                stage=_AS_FOUND,
                sheet_name=about.sheet.__name__,
                row_name=about.name,
                directory=directory or ".",
                file=file,
                description=said,
                reference=name,
                **self.made,
            )
        )

    def _know(self, about: _About, known: Iterable[Known], identifier: str = "") -> None:
        for one in known:
            self._attribute(about, one, identifier)

    def _attribute(self, about: _About, known: Known, identifier: str = "", allowed: str = NOT_KNOWN) -> None:
        self._add(
            Attribute(
                name=known.name,
                category=_AS_FOUND,
                sheet_name=about.sheet.__name__,
                row_name=about.name,
                value=known.value,
                unit=known.unit,
                ext_identifier=identifier,
                description=known.remark,
                allowed_values=allowed,
                **self.made,
            )
        )

    def _add(self, row: Record) -> None:
        self._rows[type(row)].append(row)

    def finished(self) -> Handover:
        """Return the rows with every text as it fits into a cell, and what is to be said about them."""
        cut = 0
        fit: dict[type[Record], list[Record]] = {}
        for sheet, rows in self._rows.items():
            names = [column.name for column in fields(sheet)]
            fit[sheet] = []
            for row in rows:
                texts = {name: getattr(row, name) for name in names}
                cut += sum(len(one_line(text)) > MOST_CHARACTERS for text in texts.values())
                fit[sheet].append(replace(row, **{name: fitting(text) for name, text in texts.items()}))
        return Handover(
            firm=self.schedule.firm,
            property=self.schedule.property,
            day=self.day,
            draft=self.schedule.draft,
            sheets=fit,
            said=tuple(self._said(cut)),
        )

    def _said(self, cut: int) -> Iterator[str]:
        pieces, types, rooms = (len(self._rows[sheet]) for sheet in (Component, Type, Space))
        yield f"Rows of Component: {pieces}; of Type: {types}; of Space: {rooms}."
        if self._placeholders:
            yield "Where no e-mail address is known, one that ends in example.invalid stands in its place."
        if self.day == _NO_DAY:
            yield f"The inspection has no date: CreatedOn is {_NO_DAY.isoformat()}, which stands for a day that is not known."
        plates = [row for row in self.checked.survey.transformers if not self._has_its_piece(row.called)]
        if plates:
            yield f"Label plates of no transformer in the list, not in the sheets: {len(plates)}."
        if cut:
            yield f"Texts longer than {MOST_CHARACTERS} characters, cut there (the schedule has them whole): {cut}."
        if self._renamed:
            more = len(self._renamed) - _MOST_TOLD
            told = "; ".join(self._renamed[:_MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
            yield f"Names had to be given or changed, since no two may be alike and none may hold a comma: {told}."

    def _has_its_piece(self, tag: str) -> bool:
        return any(self.checked.assessment.plate(row) for row in self.checked.survey.tagged(tag))


def _answered(value: Value[str]) -> str:
    """Return an answer, "" where there is none."""
    return written(value) if value.outcome is Outcome.VALUE else ""


def _issue(condition: Condition) -> Known:
    return Known(
        f"Issue {condition.id}",
        condition.seen,
        NOT_KNOWN,
        f"{condition.priority}. {condition.action}".strip(),
    )


def _key(name: str) -> str:
    """Return a name as names are compared in the survey; what has no letter or digit, as it is written."""
    return plain(name) or name.strip().casefold()
