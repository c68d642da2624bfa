"""One list of everything: whatever Fed from says, each piece stands in it once, after what feeds it."""

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from workbook_tools.assessment import Assessment
from workbook_tools.rules.rule import as_typed
from workbook_tools.rules.typed import survey_of
from workbook_tools.schedule.supply_shape import Shape
from workbook_tools.schedule.tree import tree_nodes
from workbook_tools.schedule.walking_order import sources_first, walk


def equipment(**fed_from):
    rows = [
        {
            "tag": tag,
            "kind": "Service disconnect" if tag.startswith("SD") else "Panelboard",
            "fed_from": source,
        }
        for tag, source in fed_from.items()
    ]
    return Assessment(survey_of(as_typed(equipment=rows)))


def lines(assessment):
    return [("  " * node.depth) + node.tag + (f" ({node.note})" if node.note else "") for node in
            tree_nodes(walk(assessment), assessment, {}, {})]  # fmt: skip


def test_service_then_what_it_feeds_depth_first():
    assessment = equipment(LP="DP", SD="Utility", EP="SD", DP="SD", GEN="N/A")
    assert lines(assessment) == ["Utility", "  SD", "    EP", "    DP", "      LP", "GEN"]


def test_two_services_stand_one_after_the_other():
    assessment = equipment(SD2="Utility 2", SD1="Utility", B="SD2", A="SD1")
    assert lines(assessment) == ["Utility 2", "  SD2", "    B", "Utility", "  SD1", "    A"]


def test_a_second_source_is_said():
    assessment = equipment(SD="Utility", GEN="N/A", ATS="SD; GEN")
    assert lines(assessment) == ["Utility", "  SD", "    ATS (also fed from GEN)", "GEN"]


def test_in_the_list_a_lone_source_stands_before_what_it_feeds():
    assessment = equipment(
        SD="Utility", GEN="N/A", ATS="SD; GEN", EP="ATS", I1="PV array", I2="PV array", P="I1, I2"
    )
    tags = [step.row.called for step in sources_first(walk(assessment), assessment)]
    assert tags == ["SD", "GEN", "ATS", "EP", "I1", "I2", "P"]


def test_a_loop_and_an_unknown_source_survive():
    assessment = equipment(A="B", B="A", C="RP-99", D="D")
    assert lines(assessment) == [
        "Source not known", "  C (RP-99 is not in the list)", "  D (fed from itself)", "  A (fed from itself through B)",
        "    B",
    ]  # fmt: skip


SOURCES = ("Utility", "PV array", "N/A", "", "A", "B", "C", "D", "E", "Z")


@given(st.lists(st.lists(st.sampled_from(SOURCES), min_size=1, max_size=3), min_size=5, max_size=5))
@settings(max_examples=60, deadline=None)
def test_no_row_of_the_list_is_lost_or_doubled(sources):
    assessment = equipment(**{tag: "; ".join(names) for tag, names in zip("ABCDE", sources, strict=True)})
    listed = [step.row.called for step in sources_first(walk(assessment), assessment)]
    assert sorted(listed) == list("ABCDE")


def test_a_chain_of_ten_thousand_is_followed():
    chain = {f"P{n}": f"P{n - 1}" if n else "Utility" for n in range(10_000)}
    steps = walk(equipment(**chain))
    assert [step.depth for step in steps] == list(range(10_000))


NAMES = ["A", "B", "C", "D", "E", "F", "G", "H"]
SOURCES = st.lists(
    st.sampled_from([*NAMES, "Utility", "Utility 2", "PV array", "ZZ"]), max_size=3, unique=True
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(st.sampled_from(NAMES), SOURCES, st.booleans()), min_size=1, max_size=12))
def test_every_row_stands_in_the_list_once_after_what_feeds_it(rows):
    typed = [
        {
            "tag": tag,
            "kind": "Service disconnect" if service else "Panelboard",
            "fed_from": "; ".join(sources) or "N/A",
        }
        for tag, sources, service in rows
    ]
    assessment = Assessment(survey_of(as_typed(equipment=typed)))
    steps = walk(assessment)
    assert Counter(step.row for step in steps) == Counter(assessment.survey.equipment)
    for place, step in enumerate(steps):
        if step.parent is not None:
            above = steps[step.parent]
            assert step.parent < place
            assert above.depth == step.depth - 1
            assert any(above.row in source.rows for source in assessment.supply.sources(step.row))
    nodes = tree_nodes(steps, assessment, {}, {})
    assert sum(not node.source for node in nodes) == len(rows)


def test_a_second_source_is_joined_to_what_it_feeds():
    assessment = equipment(
        SD="Utility", ATS="SD; GEN", EP="ATS", GEN="N/A", I1="PV array", I2="PV array", P="I1, I2"
    )
    nodes = tree_nodes(walk(assessment), assessment, {}, {})
    tags = [node.tag for node in nodes]
    assert {node.tag: [tags[other] for other in node.also] for node in nodes if node.also} == {
        "ATS": ["GEN"],
        "P": ["I2"],
    }
    shape = Shape(nodes)
    place = {tag: at for at, tag in enumerate(tags)}
    assert shape.beside == {place["ATS"]: [place["GEN"]]}
    assert shape.joined == {place["P"]: [place["I2"]]}
