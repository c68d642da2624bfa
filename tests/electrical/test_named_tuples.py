"""Our fast base class beside the standard library's typing.NamedTuple, which it stands in for."""

import copy
import pickle
from typing import NamedTuple as Standard

import pytest

from workbook_tools.electrical.named_tuples import NamedTuple


class Ours(NamedTuple):
    volts: float
    phases: int = 3
    name: str = "480Y/277"

    @property
    def kilovolts(self) -> float:
        return self.volts / 1000


class Theirs(Standard):
    volts: float
    phases: int = 3
    name: str = "480Y/277"

    @property
    def kilovolts(self) -> float:
        return self.volts / 1000


CALLS = [
    ((480,), {}),
    ((480, 1), {}),
    ((480, 1, "x"), {}),
    ((), {"volts": 480}),
    ((480,), {"name": "x", "phases": 1}),
]


@pytest.mark.parametrize(("values", "named"), CALLS)
def test_both_make_the_same_values(values, named):
    ours, theirs = Ours(*values, **named), Theirs(*values, **named)
    assert ours == theirs == tuple(ours)
    assert (ours.volts, ours.phases, ours.name, ours.kilovolts) == (
        theirs.volts,
        theirs.phases,
        theirs.name,
        0.48,
    )
    assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
    assert ours._asdict() == theirs._asdict()
    assert ours._replace(phases=1) == theirs._replace(phases=1)
    assert hash(ours) == hash(theirs)
    assert (ours._fields, Ours.__match_args__, Ours._field_defaults) == (
        theirs._fields,
        Theirs.__match_args__,
        Theirs._field_defaults,
    )


@pytest.mark.parametrize(
    ("values", "named"), [((), {}), ((1, 2, "x", 4), {}), ((480,), {"watts": 5}), ((480,), {"volts": 5})]
)
def test_both_refuse_the_same_calls(values, named):
    for made in (Ours, Theirs):
        with pytest.raises(TypeError):
            made(*values, **named)


def test_a_field_cannot_be_set_and_nothing_can_be_added():
    for value in (Ours(480), Theirs(480)):
        with pytest.raises(AttributeError):
            value.volts = 208
        with pytest.raises(AttributeError):
            value.watts = 208


def test_copies_keep_class_and_value():
    for copied in (copy.deepcopy(Ours(480)), pickle.loads(pickle.dumps(Ours(480)))):
        assert (type(copied), copied) == (Ours, Ours(480))
