"""What the row check says of one sheet alone: the supply, the label plates, the findings.

    sheet_steps(workings)      hidden columns, each with the words or a blank; the references in order
    is_visited(workings)       the condition that a piece of equipment is inspected, and its room not left out
    is_mended(workings), is_found(workings)    that a finding is no issue any more; that it was seen on this visit

Not here: what is asked of every sheet (row_check), the same in Python (live_cells.sheet_checks).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from workbook_tools.live_cells.sheet_checks import (
    ENTERED,
    NOT_MARKED,
    OF_A_SIDE,
    OF_A_TRANSFORMER,
    SEVERAL_SIGNS,
    measured,
    only_recorded,
)
from workbook_tools.live_cells.typed_forms import TAG, quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.live_cells.wording import (
    AGAINST_SOURCE,
    ITSELF,
    LOADS_DIFFER,
    MARKED_OTHERWISE,
    NOT_A_TRANSFORMER,
    ONE_SOURCE,
    PRIMARY_DIFFERS,
    RECORDED_TWICE,
    SIDES_SWAPPED,
    SYSTEM_WORDS,
    no_row,
    not_in,
)
from workbook_tools.survey import Clearance, Equipment, Finding, Room, Transformer
from workbook_tools.survey.rows import MENDED, SEEN_AGAIN
from workbook_tools.survey_workbook.hidden_columns import Workings, is_one_of
from workbook_tools.survey_workbook.lists import FEEDS

__all__ = ["is_found", "is_mended", "is_visited", "sheet_steps"]

Q = quoted(UNREADABLE)


def sheet_steps(w: Workings) -> Iterator[str]:
    """Add the hidden columns of this sheet's own checks; return the references in the order in which they are said."""
    steps: dict[str, Callable[[Workings], Iterator[str]]] = {
        Equipment.key: _of_equipment,
        Transformer.key: _of_plates,
        Finding.key: _of_findings,
    }
    if w.table.sheet.key in steps:
        yield from steps[w.table.sheet.key](w)


def _row_of(w: Workings, other: str) -> str:
    """Return the reference to the row that a row's key has in another table, its hidden column added; blank for none."""
    key, table = w.table.cell("key"), w.lists.layout.tables[other]
    return w.add(f"row in {other}", f'IF({key}="k","",IFERROR(MATCH({key},{table.range("key")},0),""))')


def _of_equipment(w: Workings) -> Iterator[str]:
    cell, tables = w.table.cell, w.lists.layout.tables
    key, fed, kind = cell("key"), cell("fed key"), cell("kind choice")
    itself = f'AND({key}<>"k",{fed}<>"",{fed}={key})'
    yield w.add("says itself", f'IF({itself},{quoted(ITSELF)},"")')
    if Equipment.fed_from.name in w.table.sheet.by_field:
        yield from _sources(w)
    transformer = w.is_kind(kind, "Transformer")
    of_any, of_one = (_system_words(cell("system"), words) for words in (SYSTEM_WORDS, OF_A_TRANSFORMER))
    yield w.add("says system", f"IF({transformer},{of_one},{of_any})")
    if Transformer.key in tables:
        said = quoted(no_row(tables[Transformer.key].sheet.name))
        missing = f'AND({transformer},{key}<>"k",{cell("plate row")}="")'
        yield w.add("says no plate", f'IF({missing},{said},"")')
    against = w.add("against source", _against(w, cell("feeder system"), cell("system taken")))
    w.add("voltage of source", f'IF(AND({against}="v",NOT({transformer})),"v"&{fed},"")')
    yield w.add("says against source", f'IF({transformer},"",{_reason(against)})')
    if Clearance.key in tables:
        said = quoted(no_row(tables[Clearance.key].sheet.name))
        to_measure = is_one_of(kind, measured(w.lists.template))
        entered = f"{_access(w)}={quoted(ENTERED)}"
        condition = f'AND({to_measure},{entered},{key}<>"k",{_row_of(w, Clearance.key)}="")'
        yield w.add("says no clearance", f'IF({condition},{said},"")')


def _system_words(system: str, outcomes: Iterable[str]) -> str:
    words = '""'
    for outcome in outcomes:
        words = f"IF({system}={quoted(outcome)},{quoted(SYSTEM_WORDS[outcome])},{words})"
    return words


def _sources(w: Workings) -> Iterator[str]:
    """Yield what is said of the names in Fed from: of the one that it holds, or of the first two."""
    column = w.table.sheet.by_field[Equipment.fed_from.name]
    one, key, none = w.table.cell("fed one"), w.table.cell("fed key"), w.answers_none(column.field)
    unknown = w.add("fed unknown", f'IF({key}="",0,{_is_unknown(w, key)})')
    parted = one
    for sign in SEVERAL_SIGNS:
        parted = f'SUBSTITUTE({parted},{quoted(sign)},";")'
    held = w.add("fed held", f"IF({unknown}=1,{parted},{one})")
    place = w.add("fed place", f'IF({none},0,IFERROR(FIND(";",{held}),0))')
    first = w.add("fed first", f'IF({place}=0,"k",{TAG.formula(f"LEFT({held},{place}-1)")})')
    rest = f'MID({held},{place}+1,FIND(";",{held}&";",{place}+1)-{place}-1)'
    second = w.add("fed second", f'IF({place}=0,"k",{TAG.formula(rest)})')
    either = f"{_is_unknown(w, first)}+{_is_unknown(w, second)}>0"
    said = quoted(not_in(column.heading, [w.table.sheet.name]))
    wrong = f"IF({place}>0,{either},{unknown}=1)"
    yield w.add("says no source", f'IF({none},"",IF({wrong},{said},""))')
    switch = w.is_kind(w.table.cell("kind choice"), "Transfer switch")
    alone = f"AND({switch},NOT({none}),{place}=0)"
    yield w.add("says one source", f'IF({alone},{quoted(ONE_SOURCE)},"")')


def _is_unknown(w: Workings, key: str) -> str:
    """Return 1 for the key of a name that is no row of Equipment and no source from outside, else 0."""
    known = ",".join(
        f"ISNUMBER(MATCH({key},{keys},0))" for keys in (w.table.own_range("key"), w.lists.range("outside"))
    )
    return f'IF(OR({key}="k",{known}),0,1)'


def _against(w: Workings, source: str, load: str) -> str:
    """Return the expression of what stands against a source: "v", "p", "n", or "0" for nothing."""
    feeds = f"INDEX({w.lists.range('systems', FEEDS)},{source})"
    return f'IF(AND(ISNUMBER({source}),ISNUMBER({load})),MID({feeds},{load},1),"0")'


def _reason(letter: str) -> str:
    expression = '""'
    for reason, said in AGAINST_SOURCE.items():
        expression = f"IF({letter}={quoted(reason[0])},{quoted(said)},{expression})"
    return expression


def _access(w: Workings) -> str:
    """Return the reference to the access of a row's room, its hidden column added once: a choice, "" or "?"."""
    if "room access" in w.table.workings:
        return w.table.cell("room access")
    rooms = w.lists.layout.tables.get(Room.key)
    if (
        rooms is None
        or "room key" not in w.table.workings
        or f"{Room.access.name} choice" not in rooms.workings
    ):
        return w.add("room access", '""')
    key = w.table.cell("room key")
    found = f"INDEX({rooms.range(f'{Room.access.name} choice')},MATCH({key},{rooms.range('key')},0))"
    return w.add("room access", f'IF({key}="k","",IFERROR({found}&"",""))')


def is_visited(w: Workings) -> str:
    """Return the condition that a piece of equipment is inspected, and that its room is not said to be left out."""
    access, kind = _access(w), w.table.cell("kind choice")
    inside = is_one_of(access, ("", UNREADABLE, ENTERED))
    return f"AND({inside},NOT({is_one_of(kind, only_recorded(w.lists.template))}))"


def _of_plates(w: Workings) -> Iterator[str]:
    cell, equipment = w.table.cell, w.lists.layout.tables[Equipment.key]
    unit = _row_of(w, Equipment.key)
    for side in ("primary", "secondary"):
        yield w.add(f"says {side} system", _system_words(cell(f"{side} system"), OF_A_SIDE))

    def of_unit(name: str) -> str:
        return f'IF({unit}="","",INDEX({equipment.range(name)},{unit}))'

    kind = w.add("kind of unit", of_unit("kind choice"))
    transformer = w.is_kind(kind, "Transformer")
    other = f'AND({kind}<>"",{kind}<>{Q},NOT({transformer}))'
    yield w.add("says no transformer", f'IF({other},{quoted(NOT_A_TRANSFORMER)},"")')
    source = w.add("source system", of_unit("feeder system"))
    primary = w.add("primary against", _against(w, source, cell("primary system")))
    secondary = w.add("secondary against", _against(w, source, cell("secondary system")))
    turned = f'AND({secondary}="0",ISNUMBER({cell("secondary system")}))'
    differs = f"IF({turned},{quoted(SIDES_SWAPPED)},{quoted(PRIMARY_DIFFERS)})"
    phase = f'IF({primary}="p",{quoted(AGAINST_SOURCE["phase"])},"")'
    yield w.add("says primary", f'IF({primary}="v",{differs},{phase})')
    first, second = cell("primary line"), cell("secondary line")
    direction = f'IF({first}={second},"Isolation",IF({first}>{second},"Step-down","Step-up"))'
    marked = w.choice(Transformer.marked_direction)
    both = f'AND(ISNUMBER({first}),ISNUMBER({second}),{marked}<>"",{marked}<>{quoted(NOT_MARKED)})'
    yield w.add("says marked", f'IF({both},IF({marked}={direction},"",{quoted(MARKED_OTHERWISE)}),"")')
    loads = f'COUNTIF({equipment.range("voltage of source")},"v"&{cell("key")})'
    yield w.add("says loads", f'IF({cell("key")}="k","",IF({loads}>0,{quoted(LOADS_DIFFER)},""))')


def _of_findings(w: Workings) -> Iterator[str]:
    row, key = w.table.cell("library row"), w.table.cell("key")
    typed = f"{key}&{quoted('>')}&IF({row}={Q},{w.spelled(Finding.finding.name)},{row})"
    none = f"{w.table.cell('entries')}=0"
    mended = is_mended(w)
    found = w.add("subject and finding", f'IF({f"OR({none},{mended})" if mended else none},"",{typed})')
    several = f"COUNTIF({w.table.own_range('subject and finding')},{found})>1"
    yield w.add("says recorded twice", f'IF({found}="","",IF({several},{quoted(RECORDED_TWICE)},""))')


def is_mended(w: Workings) -> str:
    """Return the condition that a finding is said to be no issue any more; blank where nothing was carried over."""
    if Finding.this_year.name not in w.table.sheet.by_field:
        return ""
    return f"{w.choice(Finding.this_year)}={quoted(MENDED)}"


def is_found(w: Workings) -> str:
    """Return the condition that a finding was made on this visit or seen again; blank where nothing was carried over."""
    if Finding.this_year.name not in w.table.sheet.by_field:
        return ""
    seen = is_one_of(w.choice(Finding.this_year), [choice for choice in SEEN_AGAIN if choice != MENDED])
    return f'OR({seen},AND(TRIM({w.table.cell(Finding.last_seen)})="",NOT({is_mended(w)})))'
