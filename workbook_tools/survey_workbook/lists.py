"""What stands on the sheet Lists: the choices, and the tables that live cells look up.

    Lists(layout)        every block with its place
    offered(template, vocabulary)   what a drop-down offers
    .choices(name)       the range of a vocabulary's choices, for a drop-down
    .range(block, column)   the range of one column of a block
    .cell(name)          one cell of the block "In use": the code profile chosen on the Job sheet

Blocks stand side by side from row 3, each under a title (row 1) and headings (row 2). A
block's title says where its content is from. All texts; numbers only where they are looked up.

Not here: formulas of other sheets, and how the sheet looks.
"""

from __future__ import annotations

from collections.abc import Sequence

from workbook_tools.definitions import Template, spelling
from workbook_tools.electrical import (
    CONDITIONS,
    PROFILE_NAMES,
    SYSTEMS,
    CodeProfile,
    load_profile,
    read_phases,
    read_wires,
)  # fmt: skip
from workbook_tools.live_cells.known_texts import ANSWERS, NO_AMOUNT, NONE, number_spellings
from workbook_tools.live_cells.row_checks import CLOSED
from workbook_tools.live_cells.typed_forms import AMOUNT_SHAPES, LENGTH_SHAPES, SPELLING, TAG, VOLTAGE
from workbook_tools.live_cells.voltage_table import (
    PHASES,
    WIRES,
    against,
    on_their_plates,
    plate_counts,
    source_dependent,
    voltage_rows,
)
from workbook_tools.survey import Clearance, Equipment, Job, Room, Transformer
from workbook_tools.survey.own_texts import CHOICE, LIBRARY, LIBRARY_HEADINGS, NO_VALUE, in_words
from workbook_tools.survey.typed_text import is_not_applicable, is_not_visible
from workbook_tools.survey_workbook.blocks import ABSENT, BEYOND, Block, Entry, PlacedBlocks, or_absent
from workbook_tools.survey_workbook.layout import FIRST_ROW, Layout
from workbook_tools.survey_workbook.profile_in_use import depth_block, figures_block

__all__ = ["FEEDS", "Lists", "offered", "profiles"]


def profiles(template: Template) -> dict[str, CodeProfile]:
    """Return every code profile that the template's list offers, local amendments applied.

    One to which the amendments do not apply is left out: it cannot be used with this template.
    """
    found = {}
    vocabulary = template.vocabularies.get(Job.code_profile.name)
    names = [*PROFILE_NAMES, *(vocabulary.names if vocabulary else ()), template.code_profile]
    for name in dict.fromkeys(names):
        try:
            found[name] = load_profile(name, template.amendments or None)
        except ValueError:
            continue
    return found


def offered(template: Template, vocabulary: str) -> list[str]:
    """Return what a drop-down offers: the choices, and N/V and N/A where a vocabulary says what was seen."""
    names = list(template.vocabularies[vocabulary].names)
    seen = (
        column.vocabulary
        for key in _OBSERVED
        if key in template.by_key
        for column in template.by_key[key]
        if not column.carried
    )
    return [*names, *(answer for answer in NO_VALUE if answer not in names)] if vocabulary in seen else names


_OBSERVED = (Equipment.key, Transformer.key, Clearance.key)
"""Tables of what is read off the equipment: there a thing may not be visible, or not be there."""

_NO_VALUES = [SPELLING.of(text) for text in ANSWERS if is_not_visible(text) or is_not_applicable(text)]
"""The answers that there is no value, as spellings are compared."""

FEEDS = 7
"""The column of the block of systems that says, a letter for each system, what stands against feeding it."""


class Lists(PlacedBlocks):
    """The blocks of one workbook's Lists sheet, placed."""

    def __init__(self, layout: Layout, profile: CodeProfile, year_built: int | None, unit: str) -> None:
        super().__init__(layout)
        for name in self.template.vocabularies:
            rows: list[Sequence[Entry]] = [(name,) for name in offered(self.template, name)]
            self.add(Block(f"choices {name}", in_words(name), (CHOICE,), rows, visible=True))
        findings: list[Sequence[Entry]] = [
            (entry.name, entry.category, entry.priority, entry.action, entry.section)
            for entry in self.template.findings
        ]
        self.add(Block("findings", LIBRARY, LIBRARY_HEADINGS, findings, visible=True))
        self._add_names("fed", (*self.template.outside_sources, *NO_VALUE), (Equipment.key,))
        self._add_names("subjects", (), (Room.key, Equipment.key))
        self._add_spellings()
        self.profiles = profiles(self.template)
        self._add_profiles()
        self._add_in_use(profile, year_built, unit)
        self._add_voltages()

    # -- names typed on other sheets, for drop-downs

    def _add_names(self, name: str, fixed: Sequence[str], keys: Sequence[str]) -> None:
        """List fixed names and then what was typed as the first column of tables, without gaps between."""
        tables = [self.layout.tables[key] for key in keys if key in self.layout.tables]
        size = len(fixed) + sum(table.last_row - FIRST_ROW + 1 for table in tables)
        title = " and ".join(
            ["outside sources"] * bool(fixed) + [f"names typed in {t.sheet.name}" for t in tables]
        )
        block = self.add(Block(name, title[:1].upper() + title[1:], ("Name",), [(text,) for text in fixed]))
        block.rows += [("",)] * (size - len(fixed))
        for number in range(len(fixed), size):
            before = str(len(fixed))
            expression = '""'
            steps = []
            for table in tables:
                names = table.range(table.columns[0].field)
                steps.append((names, before))
                before += f'+COUNTIF({names},"?*")'
            for names, before in reversed(steps):
                at = f"{number + 1}-({before})" if "+" in before else str(number + 1 - int(before))
                count = f'COUNTIF({names},"?*")'
                expression = f'IF({at}<={count},INDEX({names},{at})&"",{expression})'
            block.formulas[number, 0] = f"={expression}"

    # -- code profiles

    def _add_profiles(self) -> None:
        sides = tuple(CONDITIONS)
        headings = (
            "Profile", "Above volts to ground", *(f"{side} (in)" for side in sides), *(f"{side} (mm)" for side in sides),
            "Built before", *(f"{side} (in), older" for side in sides), *(f"{side} (mm), older" for side in sides), "Section",
        )  # fmt: skip
        rows: list[Sequence[Entry]] = []
        self.depth_rows = max(len(profile.depth) for profile in self.profiles.values()) + 1
        for profile in self.profiles.values():
            above = -1.0
            for row in profile.depth:
                figures = (row.clear, row.grounded, row.live_parts)
                older = [
                    next(
                        (a for a in profile.older if a.what == "depth" and (side, row.volts_max) in a.cells),
                        None,
                    )
                    for side in sides
                ]
                year: Entry = next((float(a.before.year) for a in older if a is not None), ABSENT)
                earlier = [a.figure if a else f for a, f in zip(older, figures, strict=True)]
                rows.append((
                    profile.name, above, *(f.inches for f in figures), *(or_absent(f.millimetres) for f in figures), year,
                    *(f.inches for f in earlier), *(or_absent(f.millimetres) for f in earlier), row.clear.section,
                ))  # fmt: skip
                above = min(row.volts_max, BEYOND)
            for _ in range(self.depth_rows - len(profile.depth)):
                rows.append((profile.name, above, *(ABSENT,) * 14))
                above += BEYOND
        self.add(Block("depths", "Depth of the working space, all code profiles", headings, rows))
        headings = (
            "Profile", "Title", "Width (in)", "Width (mm)", "Height (in)", "Height (mm)", "Built before",
            "Height (in), older", "Height (mm), older", "Tolerance (in)", "Tolerance (mm)", "Has older allowances",
            "High voltage above", "Width (in), high voltage", "Width (mm), high voltage",
        )  # fmt: skip
        rows = []
        for profile in self.profiles.values():
            lower = next((a for a in profile.older if a.what == "height"), None)
            before = lower.figure if lower else profile.height
            high = profile.high_voltage
            wide = high.width if high else profile.width
            rows.append((
                profile.name, profile.title, profile.width.inches, or_absent(profile.width.millimetres),
                profile.height.inches, or_absent(profile.height.millimetres),
                float(lower.before.year) if lower else ABSENT, before.inches, or_absent(before.millimetres),
                profile.tolerance_in, profile.tolerance_mm, 1.0 if profile.older else 0.0,
                high.above.number if high else BEYOND, wide.inches, or_absent(wide.millimetres),
            ))  # fmt: skip
        self.add(
            Block("profiles", "Width, height and measuring tolerance, all code profiles", headings, rows)
        )

    def _add_in_use(self, profile: CodeProfile, year_built: int | None, unit: str) -> None:
        self.add(figures_block(self, list(self.profiles), profile, year_built, unit))
        self.add(depth_block(self, self.depth_rows, profile, year_built))

    # -- voltages

    def _add_voltages(self) -> None:
        combinations = [f"{p or '-'} phase {w or '-'} wire" for p in PHASES for w in WIRES]
        headings = (
            "Voltage as compared", *(f"System: {c}" for c in combinations), *(f"Line volts: {c}" for c in combinations),
            *(f"To ground: {c}" for c in combinations),
        )  # fmt: skip
        rows: list[Sequence[Entry]] = [
            (f"k{form}", *row.systems, *map(or_absent, row.lines), *map(or_absent, row.grounds))
            for form, row in voltage_rows().items()
        ]
        self.add(Block("voltages", "Voltages as people write them", headings, rows))
        none = dict.fromkeys(VOLTAGE.of(text) for text in NO_AMOUNT)
        self.add(
            Block("no voltage", "Answers in place of a voltage", ("As compared",), [(form,) for form in none])
        )
        systems: list[Sequence[Entry]] = [
            (
                float(number),
                system.description,
                system.volts_to_ground,
                float(_depends(number)),
                system.source,
                float(system.centre_tapped),
                float(plate_counts(system)),
                against(system),
            )
            for number, system in enumerate(SYSTEMS.values(), 1)
        ]
        headings = (
            "No.",
            "Nominal system",
            "Volts to ground",
            "Changed by the source",
            "Source",
            "Centre tap",
            "Can be a rating",
            "Against each load",
        )
        self.add(Block("systems", "Nominal voltage systems", headings, systems))
        pairs: list[Sequence[Entry]] = [
            (f"k{source}>{load}", volts, float(follows))
            for (source, load), (volts, follows) in source_dependent().items()
        ]
        headings = ("Source > load", "Volts to ground", "Follows the source's own")
        self.add(Block("pairs", "Where the system above changes the volts to ground", headings, pairs))
        plates: list[Sequence[Entry]] = [
            (f"k{source}>{plate}", float(taken)) for (source, plate), taken in on_their_plates().items()
        ]
        headings = ("Source > placard", "Connected to")
        self.add(Block("plates", "Where a placard shows a rating above the source", headings, plates))

    # -- spellings

    def _add_choices(self, name: str, heading: str, spelled: list[Sequence[Entry]]) -> None:
        """List what stands for each choice of a vocabulary, and what is an answer without one: an empty text."""
        none = [text for text in (SPELLING.prefix, *_NO_VALUES) if text not in {row[0] for row in spelled}]
        title = f"Spellings of {in_words(name).lower()}"
        rows: list[Sequence[Entry]] = [*spelled, *((text, "") for text in none)]
        block = self.add(Block(f"spellings {name}", title, ("Spelling", heading), rows))
        block.formulas |= {(number, 1): '=""' for number in range(len(spelled), len(rows))}

    def _add_spellings(self) -> None:
        closed = {
            c.vocabulary for s in self.template.sheets for c in s.typed if c.holds in (CLOSED[0], "length")
        }
        for name, vocabulary in self.template.vocabularies.items():
            if name in closed:
                known = {
                    spelling(text): choice.name
                    for choice in vocabulary.choices
                    for text in (*choice.also_called, choice.name)
                }
                rows: list[Sequence[Entry]] = [(f"k{text}", choice) for text, choice in known.items() if text]
                self._add_choices(name, "Choice", rows)
        for name, read in ((Equipment.phase.name, read_phases), (Equipment.wires.name, read_wires)):
            self._add_choices(name, "Number", list(number_spellings(self.template, name, read)))
        template = self.template
        findings = {spelling(t): e for e in template.findings for t in (*e.also_called, e.name)}
        numbers = {entry.code: float(number) for number, entry in enumerate(template.findings, 1)}
        rows = [(f"k{text}", numbers[entry.code]) for text, entry in findings.items() if text]
        self.add(
            Block("spellings findings", "Spellings of findings", ("Spelling", "Row of the library"), rows)
        )
        outside = [
            TAG.of(f"{source}{dash}{number}")
            for source in template.outside_sources
            for dash in ("", "-")
            for number in ("", *range(21))
        ]
        self.add(
            Block(
                "outside",
                "Outside sources, numbered ones too",
                ("Name as compared",),
                [(t,) for t in dict.fromkeys(outside)],
            )
        )
        self.add(
            Block("answers", "Answers that there is no value", ("Spelling",), [(t,) for t in _NO_VALUES])
        )
        none = [(f"k{text}", NONE) for text in NO_AMOUNT]
        lengths: list[Sequence[Entry]] = [(f"k{s}", u) for s, u in LENGTH_SHAPES.items()]
        self.add(Block("lengths", "Shapes of a length", ("Shape", "Unit"), [*lengths, *none]))
        for holds, shapes in AMOUNT_SHAPES.items():
            amounts: list[Sequence[Entry]] = [(f"k{shape}", "number") for shape in shapes]
            self.add(
                Block(f"amounts {holds}", f"Shapes of {holds}", ("Shape", "What it is"), [*amounts, *none])
            )


def _depends(number: int) -> bool:
    return any(load == number for _, load in source_dependent())
