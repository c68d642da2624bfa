"""Full-load and fault currents beside an independent power-flow engine.

Source: OpenDSS, an open distribution power-flow engine (opendssdirect.py on PyPI), run here on
a stiff source with one two-winding transformer. Full load is the current of a constant-current
load of the transformer's rating; the fault is bolted, at the secondary terminals, with the whole
impedance reactive. The circuit knows nothing of our formulas.
"""

import itertools

import pytest

from workbook_tools.electrical import full_load_current, secondary_fault_current

dss = pytest.importorskip(
    "opendssdirect", reason="opendssdirect.py is not installed: no independent engine to ask"
)

GRID = [
    (phases, kva, primary, secondary, percent)
    for (phases, sizes, sides), percent in itertools.product(
        [
            (3, (15, 45, 112.5, 500, 1500, 2500), ((480, 208), (208, 480), (12470, 480))),
            (1, (15, 37.5, 100, 333), ((480, 240), (240, 480), (7200, 240))),
        ],
        (2.0, 5.75),
    )
    for kva in sizes
    for primary, secondary in sides
]


def run(*commands):
    for command in commands:
        dss.Text.Command(command)
        assert not dss.Error.Number(), f"{command}: {dss.Error.Description()}"


def circuit(phases, kva, primary, secondary, percent):
    run(
        "Clear",
        # Short-circuit level high enough to leave nothing of the source in the result.
        f"New Circuit.stiff phases={phases} basekv={primary / 1000} bus1=p pu=1.0 MVAsc3=1e8 MVAsc1=1e8",
        f"New Transformer.t phases={phases} windings=2 xhl={percent} %loadloss=0 %noloadloss=0 %imag=0 ppm_antifloat=0",
        f"~ wdg=1 bus=p kv={primary / 1000} kva={kva} conn=wye",
        f"~ wdg=2 bus=s kv={secondary / 1000} kva={kva} conn=wye",
    )


def amps_of(element):
    dss.Circuit.SetActiveElement(element)
    return dss.CktElement.CurrentsMagAng()[::2]


@pytest.mark.parametrize(("phases", "kva", "primary", "secondary", "percent"), GRID)
def test_the_bolted_fault_agrees_within_a_thousandth(phases, kva, primary, secondary, percent):
    circuit(phases, kva, primary, secondary, percent)
    run(
        f"New Fault.f phases={phases} bus1=s r=1e-9",
        f"Set VoltageBases=[{primary / 1000} {secondary / 1000}]",
        "Solve mode=snapshot",
    )
    engine = max(amps_of("Fault.f")[:phases])
    assert secondary_fault_current(kva, secondary, phases, percent) == pytest.approx(engine, rel=1e-3)


@pytest.mark.parametrize(("phases", "kva", "primary", "secondary", "percent"), GRID)
def test_full_load_on_both_sides_agrees_within_a_thousandth(phases, kva, primary, secondary, percent):
    # A vanishing impedance, so that the voltage at the load stays the rated one.
    circuit(phases, kva, primary, secondary, percent / 1e4)
    run(
        f"New Load.l phases={phases} bus1=s kv={secondary / 1000} kva={kva} pf=1 model=1 vminpu=0.5",
        "Solve mode=snapshot",
    )
    amps = amps_of("Transformer.t")
    each = len(amps) // 2
    assert full_load_current(kva, primary, phases) == pytest.approx(amps[0], rel=1e-3)
    assert full_load_current(kva, secondary, phases) == pytest.approx(amps[each], rel=1e-3)
