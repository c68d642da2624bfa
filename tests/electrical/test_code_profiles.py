"""Code profiles and a firm's local amendments.

What the numbers are is checked in published_values; here, how they are read, extended and amended.

profile_figures.json is what each profile came to before profiles extended one another: every number, section,
basis and status. It changes only when a figure is corrected.
"""

import json
from dataclasses import fields, is_dataclass
from datetime import date
from pathlib import Path

import pytest

from workbook_tools.definitions import load_template
from workbook_tools.electrical import PROFILE_NAMES, Length, load_profile, meets, needed_depth, needed_width
from workbook_tools.electrical.profile_files import PROFILE_FOLDER, read_profile_file, tables_of

FIGURES = json.loads(Path(__file__).with_name("profile_figures.json").read_text("utf-8"))
BASIS = 'basis = "Ordinance 7 of an invented city"\n'


@pytest.fixture
def amendments(tmp_path):
    def write(text):
        path = tmp_path / "local.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def plain(value):
    """Return a value of a profile as JSON holds it: records and tuples as lists, dates as text."""
    if is_dataclass(value):
        return [plain(getattr(value, field.name)) for field in fields(value)]
    if isinstance(value, tuple):
        return [plain(item) for item in value]
    return value.isoformat() if isinstance(value, date) else value


@pytest.mark.parametrize("name", FIGURES)
def test_a_profile_holds_the_figures_that_it_always_held(name):
    profile = load_profile(name)
    assert {field: plain(getattr(profile, field)) for field in FIGURES[name]} == FIGURES[name]


@pytest.mark.parametrize("name", PROFILE_NAMES)
def test_each_number_has_a_section_and_a_status(name):
    tables = tables_of(read_profile_file(PROFILE_FOLDER / f"{name}.toml")).values()
    assert len(tables) >= 15
    for table in tables:
        assert table["section"]
        assert table["status"].partition(";")[0] in ("seen", "from memory", "common practice")


@pytest.mark.parametrize("name", PROFILE_NAMES)
def test_the_rows_rise_and_have_no_end(name):
    rows = load_profile(name).depth_rows
    assert [volts for volts, _ in rows] == sorted({volts for volts, _ in rows})
    assert rows[-1][0] == float("inf")
    assert all(set(cells) == {"Clear", "Grounded", "Live parts"} for _, cells in rows)


@pytest.mark.parametrize("spelling", ["nec-2023", "NEC 2023", " Nec_2023 ", "NEC-2023"])
def test_a_profile_is_found_by_the_usual_spellings(spelling):
    assert load_profile(spelling) is load_profile("nec-2023")


def test_an_amended_number_replaces_the_printed_one_and_names_its_basis(amendments):
    path = amendments(f"[depth.up-to-600]\ngrounded_in = 48\n{BASIS}")
    profile = load_profile("nec-2023", path)
    limit = needed_depth(profile, 277, "Grounded")
    assert (limit.inches, limit.status, limit.basis) == (
        48,
        "local amendment",
        "Ordinance 7 of an invented city",
    )
    # The printed 1.0 m belonged to 42 in; beside 48 in it would let 39.4 in pass.
    assert limit.millimetres is None
    assert not meets(limit, Length(1000, "mm"), profile)
    assert meets(limit, Length(1220, "mm"), profile)
    assert profile.amended == ("[depth.up-to-600] grounded_in = 48: Ordinance 7 of an invented city",)
    assert needed_depth(profile, 277, "Live parts") == needed_depth("nec-2023", 277, "Live parts")
    assert load_profile("nec-2023").amended == ()


def test_both_figures_can_be_amended_under_one_basis_for_the_file(amendments):
    path = amendments(
        f"{BASIS}[width]\nminimum_in = 36\nminimum_mm = 910\n[large_equipment]\namperes = 800\n"
    )
    profile = load_profile("osha-1910", path)
    assert needed_width(profile, None)[:2] == (36, 910)
    assert profile.large_amperes == 800
    assert len(profile.amended) == 3


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[width]\nminimum_in = 36\n", r"local.toml: \[width\] minimum_in has no basis"),
        ('[width]\nminimum_in = 36\nbasis = " "\n', r"\[width\] minimum_in has no basis"),
        (
            BASIS + "[breadth]\nminimum_in = 36\n",
            r"local.toml: \[breadth\] is no table of the profile nec-2023",
        ),
        (BASIS + "[width]\nleast_in = 36\n", r"\[width\] least_in is no number of the profile"),
        (BASIS + '[width]\nminimum_in = "36"\n', r"\[width\] minimum_in must be like 30, not '36'"),
        (BASIS + "[width]\nminimum_in = -1\n", r"\[width\] minimum_in must be like 30, not -1"),
        (BASIS + "[width]\nminimum_in = true\n", r"\[width\] minimum_in must be like 30, not True"),
        (BASIS + "[width]\nminimum_mm = 900\n", r"\[width\] minimum_mm is amended without minimum_in"),
        (BASIS + '[width]\nstatus = "seen"\n', r"\[width\] status is no number"),
        (BASIS + "[depth.up-to-600]\nvolts_max = 700\n", r"\[depth.up-to-600\] volts_max is no number"),
        (BASIS + "minimum_in = 36\n", "minimum_in stands outside every table"),
        (
            BASIS + 'amends = "nec-2020"\n[width]\nminimum_in = 36\n',
            "amends 'nec-2020', but the profile is 'nec-2023'",
        ),
        ("[width\n", "local.toml: not a readable TOML file"),
    ],
)
def test_an_amendment_that_cannot_be_used_says_file_table_and_key(amendments, text, says):
    with pytest.raises(ValueError, match=says):
        load_profile("nec-2023", amendments(text))


def test_a_missing_file_is_one_plain_error(tmp_path):
    with pytest.raises(ValueError, match=r"absent.toml: the file cannot be read"):
        load_profile("nec-2023", tmp_path / "absent.toml")
    with pytest.raises(ValueError, match=r"is no code profile; known are .*nec-2023, nec-2020"):
        load_profile("nec-2011")


def test_a_firm_may_bring_a_whole_profile(tmp_path):
    own = tmp_path / "own.toml"
    text = (PROFILE_FOLDER / "nec-2023.toml").read_text("utf-8")
    own.write_text(text.replace('name = "nec-2023"', 'name = "own"'), encoding="utf-8")
    assert load_profile(own).depth == load_profile("nec-2023").depth
    own.write_text(text.replace("minimum_degrees = 90\n", ""), encoding="utf-8")
    with pytest.raises(ValueError, match=r"own.toml: \[door_opening\] minimum_degrees is missing"):
        load_profile(own)
    own.write_text(text.replace('title = "NFPA 70-2023"\n', ""), encoding="utf-8")
    with pytest.raises(ValueError, match=r"own.toml: title is missing at the top"):
        load_profile(own)


HEAD = 'name = "own"\ntitle = "Our code"\nsource = "OURS"\nyear = 2026\nhow_seen = "seen"\n'


@pytest.fixture
def extending(tmp_path):
    def write(text, parent="nec-2023", head=HEAD):
        path = tmp_path / "own.toml"
        path.write_text(f'extends = "{parent}"\n{head}{text}', encoding="utf-8")
        return path

    return write


def test_a_profile_holds_only_what_differs_from_the_one_it_extends(extending):
    profile = load_profile(
        extending("[depth.up-to-600]\ngrounded_in = 44\nsection = '9.1'\n[panic_hardware]\nremove = true\n")
    )
    parent = load_profile("nec-2023")
    # The parent's 1000 mm belonged to 42 in.
    assert profile.depth[1].grounded == (44, None, "9.1", "printed", "seen")
    assert profile.depth[1].live_parts == (48, 1200, "9.1", "printed", "seen")
    assert (profile.depth[0], profile.depth[2:], profile.width) == (
        parent.depth[0],
        parent.depth[2:],
        parent.width,
    )
    assert (profile.panic_amperes, profile.panic_nearer_than) == (None, None)
    assert (profile.name, profile.title, profile.scope) == ("own", "Our code", parent.scope)


def test_a_status_outside_the_tables_is_that_of_every_inherited_one(extending):
    text = 'status = "from memory"\n[width]\nstatus = "seen"\n[depth]\nstatus = "common practice"\n'
    profile = load_profile(extending(text))
    assert (profile.height.status, profile.width.status) == ("from memory", "seen")
    assert {row.clear.status for row in profile.depth} == {"common practice"}
    assert profile.ground_fault_amperes.status == "from memory"


def test_a_profile_may_extend_a_file_beside_it(extending, tmp_path):
    extending("[height]\nminimum_in = 80\n")
    other = tmp_path / "other.toml"
    other.write_text(f'extends = "own"\n{HEAD}[width]\nminimum_in = 31\n', encoding="utf-8")
    profile = load_profile(other)
    assert (profile.width.inches, profile.height.inches, profile.projection.inches) == (31, 80, 6)


@pytest.mark.parametrize(
    ("text", "parent", "says"),
    [
        (
            "",
            "nec-2011",
            r"own.toml: extends names 'nec-2011', which is neither a code profile \(.*nec-2023, .*\) nor a",
        ),
        ("", "../nec-2023", "own.toml: extends names '../nec-2023'"),
        ("", "own", "own.toml: extends comes back to own.toml; end the circle"),
        (
            "[width]\nleast_in = 3\n",
            "nec-2023",
            r"own.toml: \[width\] least_in is no number of a code profile",
        ),
        (
            "[widht]\nminimum_in = 3\n",
            "nec-2023",
            r"own.toml: \[widht\] minimum_in is no number of a code profile",
        ),
        (
            "[breadth]\nremove = true\n",
            "nec-2023",
            r"own.toml: \[breadth\] is removed, and what is extended has no",
        ),
        ("width = 30\n", "nec-2023", "own.toml: width is 30; a table was expected"),
        ("[older.x]\nvalue_in = 3\n", "nec-2023", r"own.toml: \[older.x\] what is missing"),
    ],
)
def test_a_profile_that_cannot_extend_says_so_in_one_sentence(extending, text, parent, says):
    with pytest.raises(ValueError, match=says):
        load_profile(extending(text, parent))


def test_what_names_an_edition_is_not_inherited(extending):
    with pytest.raises(ValueError, match=r"own.toml: title is missing at the top"):
        load_profile(extending("", head='name = "own"\n'))


def test_a_circle_of_two_files_is_named(extending, tmp_path):
    (tmp_path / "other.toml").write_text('extends = "own"\n', encoding="utf-8")
    with pytest.raises(ValueError, match=r"other.toml: extends comes back to own.toml; end the circle"):
        load_profile(extending("", "other"))


@pytest.mark.parametrize(
    ("name", "sections", "status", "line_volts"),
    [
        ("nec-2023", ("230.95", "450.11(A)(5)", "230.71", "110.26(A)(2)", "110.26(B)"), "seen", 1000),
        ("nec-2020", ("230.95", "450.11(A)(5)", "230.71", "110.26(A)(2)", "110.26(B)"), "from memory", 1000),
        # From memory: what ends at 1000 V since 2017 ended at 600 V before.
        ("nec-2014", ("230.95", "450.11(A)(5)", "230.71", "110.26(A)(2)", "110.26(B)"), "from memory", 600),
        (
            "osha-1910",
            (
                "NFPA 70 230.95",
                "NFPA 70 450.11(A)(5)",
                "NFPA 70 230.71",
                "1910.303(g)(1)(i)(B)",
                "1910.303(g)(1)(ii)",
            ),
            "common practice",
            1000,
        ),
    ],
)
def test_limits_that_are_no_lengths_have_section_and_status(name, sections, status, line_volts):
    # Source: NFPA70-2023 230.95 and 450.11(A)(5), rows OCP-079 to 086 and ENC-027 to 029 of check_values.csv.
    profile = load_profile(name)
    amps, plate = profile.ground_fault_amperes, profile.impedance_marked_from_kva
    assert (amps.number, profile.ground_fault_above_volts_to_ground.number, plate.number) == (1000, 150, 25)
    assert profile.ground_fault_up_to_line_volts.number == line_volts
    protection = profile.transformer_protection_up_to_volts
    assert (protection.number, protection.section.removeprefix("NFPA 70 ")) == (1000, "Table 450.3(B)")
    assert (amps.status, plate.status, protection.status, amps.basis) == (status, status, status, "printed")
    assert sections == (
        amps.section,
        plate.section,
        profile.hand_motions_section,
        profile.door_opening_section,
        profile.clear_space_section,
    )


def test_such_a_limit_can_be_amended(amendments):
    profile = load_profile("nec-2023", amendments(f"{BASIS}[ground_fault_protection]\namperes = 800\n"))
    assert profile.ground_fault_amperes.number == 800
    assert profile.ground_fault_amperes.basis == "Ordinance 7 of an invented city"
    assert profile.ground_fault_up_to_line_volts.basis == "printed"


def test_the_drop_down_holds_the_profiles_in_their_order():
    ours = ["nec-2023", "nec-2020", "nec-2017", "nec-2014", "osha-1910"]
    assert [name for name in PROFILE_NAMES if name in ours] == ours  # the newest first
    assert load_template("office").vocabularies["code_profile"].names == PROFILE_NAMES
    assert {path.stem for path in PROFILE_FOLDER.glob("*.toml")} == set(PROFILE_NAMES)
    assert all(load_profile(name).name == name for name in PROFILE_NAMES)
