"""The COBie sheets as types: a class for each sheet, a field for each column, in the order of the standard.

    Contact, Facility, Floor, Space, Zone, Type, Component, System, Document, Attribute
    SHEETS            the classes, in the order of the sheets
    columns(sheet)    its headings: "created_by" is CreatedBy
    Handover          the rows of every sheet, and what is to be said
    NOT_KNOWN         what stands where the survey knows nothing

Every cell is a text. Contact and Facility spell ExternalSystem out, the other sheets write ExtSystem; so does the
standard. Not here: where the rows come from (building).
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields

from workbook_tools.definitions.model import Firm

__all__ = ["MOST_CHARACTERS", "NOT_KNOWN", "SHEETS", "Attribute", "Component", "Contact", "Document", "Facility", "Floor",
           "Handover", "Record", "Space", "System", "Type", "Zone", "columns"]  # fmt: skip

NOT_KNOWN = "n/a"
MOST_CHARACTERS = 255
"""Of one cell; longer texts are refused by programs that read the sheets."""

_PROGRAM = "workbook-tools"


@dataclass(frozen=True, kw_only=True, slots=True)
class Record:
    """A row of a sheet."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Contact(Record):
    """Who made the list, or made the equipment."""

    email: str
    created_by: str
    created_on: str
    category: str = NOT_KNOWN
    company: str = NOT_KNOWN
    phone: str = NOT_KNOWN
    external_system: str = _PROGRAM
    external_object: str = NOT_KNOWN
    external_identifier: str = NOT_KNOWN
    department: str = NOT_KNOWN
    organization_code: str = NOT_KNOWN
    given_name: str = NOT_KNOWN
    family_name: str = NOT_KNOWN
    street: str = NOT_KNOWN
    postal_box: str = NOT_KNOWN
    town: str = NOT_KNOWN
    state_region: str = NOT_KNOWN
    postal_code: str = NOT_KNOWN
    country: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Facility(Record):
    """The building."""

    name: str
    created_by: str
    created_on: str
    category: str = NOT_KNOWN
    project_name: str = NOT_KNOWN
    site_name: str = NOT_KNOWN
    linear_units: str = NOT_KNOWN
    area_units: str = NOT_KNOWN
    volume_units: str = NOT_KNOWN
    currency_unit: str = NOT_KNOWN
    area_measurement: str = NOT_KNOWN
    external_system: str = _PROGRAM
    external_project_object: str = NOT_KNOWN
    external_project_identifier: str = NOT_KNOWN
    external_site_object: str = NOT_KNOWN
    external_site_identifier: str = NOT_KNOWN
    external_facility_object: str = NOT_KNOWN
    external_facility_identifier: str = NOT_KNOWN
    description: str = NOT_KNOWN
    project_description: str = NOT_KNOWN
    site_description: str = NOT_KNOWN
    phase: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Floor(Record):
    """A level."""

    name: str
    created_by: str
    created_on: str
    category: str
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    description: str = NOT_KNOWN
    elevation: str = NOT_KNOWN
    height: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Space(Record):
    """A room; `floor_name` is a Floor."""

    name: str
    created_by: str
    created_on: str
    category: str = NOT_KNOWN
    floor_name: str
    description: str
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    room_tag: str = NOT_KNOWN
    usable_height: str = NOT_KNOWN
    gross_area: str = NOT_KNOWN
    net_area: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Zone(Record):
    """Spaces that belong together. A survey of electrical rooms tells none: the sheet has its headings alone."""

    name: str
    created_by: str
    created_on: str
    category: str
    space_names: str
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    description: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Type(Record):
    """What several pieces of equipment have in common; `manufacturer` is the Email of a Contact."""

    name: str
    created_by: str
    created_on: str
    category: str = NOT_KNOWN
    description: str
    asset_type: str
    manufacturer: str
    model_number: str = NOT_KNOWN
    warranty_guarantor_parts: str = NOT_KNOWN
    warranty_duration_parts: str = NOT_KNOWN
    warranty_guarantor_labor: str = NOT_KNOWN
    warranty_duration_labor: str = NOT_KNOWN
    warranty_duration_unit: str = NOT_KNOWN
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    replacement_cost: str = NOT_KNOWN
    expected_life: str = NOT_KNOWN
    duration_unit: str = NOT_KNOWN
    warranty_description: str = NOT_KNOWN
    nominal_length: str = NOT_KNOWN
    nominal_width: str = NOT_KNOWN
    nominal_height: str = NOT_KNOWN
    model_reference: str = NOT_KNOWN
    shape: str = NOT_KNOWN
    size: str = NOT_KNOWN
    color: str = NOT_KNOWN
    finish: str = NOT_KNOWN
    grade: str = NOT_KNOWN
    material: str = NOT_KNOWN
    constituents: str = NOT_KNOWN
    features: str = NOT_KNOWN
    accessibility_performance: str = NOT_KNOWN
    code_performance: str = NOT_KNOWN
    sustainability_performance: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Component(Record):
    """A piece of equipment; `type_name` is a Type, `space` a Space, `tag_number` the tag as typed."""

    name: str
    created_by: str
    created_on: str
    type_name: str
    space: str
    description: str
    ext_system: str = _PROGRAM
    ext_object: str
    ext_identifier: str
    serial_number: str = NOT_KNOWN
    installation_date: str = NOT_KNOWN
    warranty_start_date: str = NOT_KNOWN
    tag_number: str
    bar_code: str = NOT_KNOWN
    asset_identifier: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class System(Record):
    """One Component of a system; a system of twenty has twenty rows."""

    name: str
    created_by: str
    created_on: str
    category: str = NOT_KNOWN
    component_names: str
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    description: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Document(Record):
    """A file of the delivery, and the row of another sheet that it is about."""

    name: str
    created_by: str
    created_on: str
    category: str = NOT_KNOWN
    approval_by: str
    stage: str
    sheet_name: str
    row_name: str
    directory: str
    file: str
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    description: str = NOT_KNOWN
    reference: str = NOT_KNOWN


@dataclass(frozen=True, kw_only=True, slots=True)
class Attribute(Record):
    """One more thing that is known of a row of another sheet."""

    name: str
    created_by: str
    created_on: str
    category: str
    sheet_name: str
    row_name: str
    value: str
    unit: str = NOT_KNOWN
    ext_system: str = _PROGRAM
    ext_object: str = NOT_KNOWN
    ext_identifier: str = NOT_KNOWN
    description: str = NOT_KNOWN
    allowed_values: str = NOT_KNOWN


SHEETS: tuple[type[Record], ...] = (
    Contact, Facility, Floor, Space, Zone, Type, Component, System, Document, Attribute
)  # fmt: skip


def columns(sheet: type[Record]) -> tuple[str, ...]:
    """Return the headings of a sheet.

    Examples
    --------
    >>> columns(Floor)[:4]
    ('Name', 'CreatedBy', 'CreatedOn', 'Category')
    """
    return tuple("".join(word.capitalize() for word in field.name.split("_")) for field in fields(sheet))


@dataclass(frozen=True)
class Handover:
    """The rows of every sheet; `said` are sentences for whoever delivers them."""

    firm: Firm
    property: str
    day: datetime.date
    draft: bool
    sheets: Mapping[type[Record], Sequence[Record]]
    said: tuple[str, ...]
