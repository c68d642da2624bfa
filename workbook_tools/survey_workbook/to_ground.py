"""The volts to ground of equipment, as formulas that walk up the feeders.

    to_ground_steps(workings, system)    hidden columns of Equipment, the last of them "volts"

Equipment without a neutral takes the grounding of what feeds it, and that may have to take it
from further up. Each step is a column that reads the column of the step before in the feeder's
row. None reads itself, so a Fed from that runs in a circle is no circular reference.

Not here: the same in Python (Assessment.taken_to_ground).
"""

from __future__ import annotations

from workbook_tools.assessment import STEPS_UP
from workbook_tools.electrical import SHOW_THEIR_RATING
from workbook_tools.live_cells.readable import transformer_stems
from workbook_tools.live_cells.typed_forms import quoted
from workbook_tools.live_cells.units import UNREADABLE
from workbook_tools.survey import Transformer
from workbook_tools.survey_workbook.hidden_columns import Workings

__all__ = ["to_ground_steps"]

Q = quoted(UNREADABLE)
OTHER = "other"
_TRANSFORMER = "Transformer"


def to_ground_steps(w: Workings, system: str) -> None:
    """Add the hidden columns, the last of them "volts": a number, what the system cell says instead, or blank."""
    lists, cell = w.lists, w.table.cell
    kind = w.add("kind taken", _kind_taken(w))
    transformer = w.is_kind(kind, _TRANSFORMER)
    plate, plates = w.add("plate row", _plate_row(w)), lists.layout.tables.get(Transformer.key)

    def of_plate(name: str) -> str:
        if plates is None or name not in plates.workings:
            return '""'
        return f'IF({plate}="","",INDEX({plates.range(name)},{plate}))'

    feeder = w.add("feeder row", f'IF(OR({cell("fed key")}="",{cell("fed key")}="k"),"",{_only_row(w)})')
    system = _connected(w, system, f"IF({transformer},{of_plate('secondary system')},{system})")
    sides = {}
    for name, side in (("system taken", "primary"), ("system given", "secondary")):
        of_transformer = f"IF({transformer},{of_plate(f'{side} system')},{system})"
        sides[side] = w.add(name, f"IF({kind}={Q},{Q},{of_transformer})")
    taken = sides["primary"]
    above = w.add("feeder system", f'IF({feeder}="","",INDEX({w.table.own_range("system given")},{feeder}))')
    pair = w.add(
        "feeder pair",
        f'IF(AND(ISNUMBER({taken}),ISNUMBER({above})),IFERROR(MATCH("k"&{above}&">"&{taken},{lists.range("pairs")},0),""),"")',
    )
    own = f"INDEX({lists.range('systems', 2)},{taken})"
    changed = f"INDEX({lists.range('systems', 3)},{taken})=1"
    with_source = f"IF(ISNUMBER({pair}),INDEX({lists.range('pairs', 1)},{pair}),{own})"
    alone = f"IF({above}={Q},IF({changed},{Q},{own}),{with_source})"
    first = w.add("to ground 1", f'IF(ISNUMBER({taken}),{alone},"")')
    follows = f"INDEX({lists.range('pairs', 2)},{pair})=1"
    of_feeder = f"INDEX({w.table.own_range('kind taken')},{feeder})"
    board = f"NOT({w.is_kind(of_feeder, _TRANSFORMER)})"
    follows = w.add("follows row", f'IF(ISNUMBER({pair}),IF(AND({follows},{board}),{feeder},""),"")')
    last = first
    for step in range(2, STEPS_UP + 1):
        last = w.add(
            f"to ground {step}",
            f'IF({follows}="",{first},INDEX({w.table.own_range(f"to ground {step - 1}")},{follows}))',
        )
    ground, second = w.add("plate volts", of_plate("ground")), of_plate("secondary ground")
    highest = f"IF({last}={Q},{Q},MAX({last},{second}))"
    of_transformer = f"IF(AND(ISNUMBER({taken}),ISNUMBER({ground})),{highest},{ground})"
    volts = f"IF(ISNUMBER({system}),{last},{system})"
    w.add("volts", f"IF({kind}={Q},{Q},IF({transformer},{of_transformer},{volts}))")


def _connected(w: Workings, placard: str, given: str) -> str:
    """Add the system that a row is connected to: its placard's, or its source's where the placard shows a rating."""
    lists, cell = w.lists, w.table.cell
    kind, feeder = cell("kind taken"), cell("feeder row")
    w.add("placard given", f"IF({kind}={Q},{Q},{given})")
    above = w.add(
        "feeder placard", f'IF({feeder}="","",INDEX({w.table.own_range("placard given")},{feeder}))'
    )
    counts = w.add(
        "placard counts", f"IF(ISNUMBER({placard}),INDEX({lists.range('systems', 6)},{placard}),0)"
    )
    rating = f"OR({counts}=2,AND({counts}=1,{w.is_kind(kind, *SHOW_THEIR_RATING)}))"
    pair = f'MATCH("k"&{above}&">"&{placard},{lists.range("plates")},0)'
    found = w.add("placard at source", f"IFERROR(INDEX({lists.range('plates', 1)},{pair}),{placard})")
    at_source = f"IF({above}={Q},{Q},IF(ISNUMBER({above}),{found},{placard}))"
    unknown = f"AND({kind}={quoted(OTHER)},{counts}=1)"
    return w.add("connected", f"IF({unknown},{Q},IF({rating},{at_source},{placard}))")


def _kind_taken(w: Workings) -> str:
    """Return a kind as the steps take it: words that can be no transformer stand for equipment of another kind."""
    kind, key = w.table.cell("kind choice"), w.table.cell("kind choice key")
    if "kind choice key" not in w.table.workings:
        return kind
    stems = ",".join(f"ISNUMBER(FIND({quoted(stem)},{key}))" for stem in transformer_stems(w.lists.template))
    return f"IF({kind}={Q},IF(OR({stems}),{Q},{quoted(OTHER)}),{kind})"


def _only_row(w: Workings) -> str:
    """Return the row of the one piece of equipment that Fed from names; blank for none, several, or itself."""
    key, keys = w.table.cell("fed key"), w.table.own_range("key")
    place = f"MATCH({key},{keys},0)"
    return f'IF(COUNTIF({keys},{key})<>1,"",IF({place}=ROW()-2,"",{place}))'


def _plate_row(w: Workings) -> str:
    """Return the row of the label plate of a transformer; blank for any other kind, and where there is none."""
    plates = w.lists.layout.tables.get(Transformer.key)
    if plates is None or "key" not in plates.workings:
        return '""'
    key = w.table.cell("key")
    place = f'IF({key}="k","",IFERROR(MATCH({key},{plates.range("key")},0),""))'
    return f'IF({w.is_kind(w.table.cell("kind taken"), _TRANSFORMER)},{place},"")'
