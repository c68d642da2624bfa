"""More lists, each with where its columns belong: short headings, registers, other languages, lists lying across.

`lists.py` has the form. Every building, maker and person is invented.
"""

from __future__ import annotations

from tests.filling.list_form import Listed

__all__ = ["MORE"]

MORE = [
    Listed(
        "lines that begin with the kind",
        "p0.txt",
        """
PANEL LP-1: 225A, 208Y/120V 3PH 4W, MLO, fed from T-1, Elec Closet 1
Distribution panel DP-1, 600A, 480Y/277V 3PH 4W, fed from MSB, Elec Closet 1
XFMR T-1: 75 kVA, 480-208Y/120, fed from DP-1, Elec Closet 1
""",
        {"Kind": "equipment.kind", "Tag": "equipment.tag"},
        3,
    ),
    Listed(
        "plain abbreviations",
        "p1.csv",
        """
Pnl | Loc | Fed By | Bus A | Sys V | Ph/W | Mfr | Mains | AIC kA | Notes
LP-2A | Elec Rm 201 | MDP | 225 | 208Y/120 | 3/4 | Halden | MCB | 10 | ok
RP-2B | Elec Rm 201 | LP-2A | 100 | 208Y/120 | 3/4 | Halden | MLO | 10 |
""",
        {
            "Pnl": "equipment.tag",
            "Loc": "equipment.room",
            "Fed By": "equipment.fed_from",
            "Bus A": "equipment.rating_a",
            "Sys V": "equipment.voltage",
            "Ph/W": "equipment.phase equipment.wires",
            "Mfr": "equipment.maker",
            "Mains": "equipment.main_device",
            "AIC kA": "equipment.short_circuit_rating_ka",
            "Notes": "equipment.remarks",
        },
        2,
    ),
    Listed(
        "asset register names",
        "p2.csv",
        """
Asset ID | Asset Name | Asset Class | Building | Floor | Space | Manufacturer | Model No | Serial Number | Install Date | kVA | Primary Voltage | Secondary Voltage
1001 | XF-1 | Transformer | North | 1 | E-101 | Peverel | DT75 | 8837 | 2004 | 75 | 480 | 208Y/120
1002 | HP1 | Panelboard | North | 1 | E-101 | Calderwen | PB | 7 | 2004 | | |
""",
        {
            "Asset ID": "/equipment.tag",
            "Asset Name": "equipment.tag",
            "Asset Class": "equipment.kind",
            "Building": "",
            "Floor": "rooms.level",
            "Space": "equipment.room",
            "Manufacturer": "equipment.maker",
            "Model No": "",
            "Serial Number": "",
            "Install Date": "/transformers.year_made",
            "kVA": "transformers.kva",
            "Primary Voltage": "transformers.primary_v",
            "Secondary Voltage": "transformers.secondary_v",
        },
        2,
    ),
    Listed(
        "spanish 2",
        "p3.md",
        """
| Tablero | Ubicación | Alimentado desde | Tensión | Amperios | Fases | Hilos | Marca | Notas |
|---|---|---|---|---|---|---|---|---|
| TG-1 | Cuarto eléctrico | Utility | 480Y/277 | 800 | 3 | 4 | Ostrevik | ok |
| TA-1 | Piso 2 | TG-1 | 480Y/277 | 225 | 3 | 4 | Ostrevik | |
""",
        {
            "Tablero": "equipment.tag",
            "Ubicación": "equipment.room",
            "Alimentado desde": "equipment.fed_from",
            "Tensión": "equipment.voltage",
            "Amperios": "equipment.rating_a",
            "Fases": "equipment.phase",
            "Hilos": "equipment.wires",
            "Marca": "equipment.maker",
            "Notas": "equipment.remarks",
        },
        2,
    ),
    Listed(
        "italiano",
        "p4.csv",
        """
Quadro | Locale | Piano | Tensione (V) | Corrente (A) | Fasi | Alimentato da | Costruttore | Note
QG | Cabina | PT | 480Y/277 | 800 | 3 | Utility | Peverel |
Q1 | Corridoio | 1 | 208Y/120 | 125 | 3 | QG | Peverel | sporco
""",
        {
            "Quadro": "equipment.tag",
            "Locale": "equipment.room",
            "Piano": "rooms.level",
            "Tensione (V)": "equipment.voltage",
            "Corrente (A)": "equipment.rating_a",
            "Fasi": "equipment.phase",
            "Alimentato da": "equipment.fed_from",
            "Costruttore": "equipment.maker",
            "Note": "equipment.remarks",
        },
        2,
    ),
    Listed(
        "snake case export",
        "p5.csv",
        """
panel_name | panel_type | room_number | supply_source | rated_current_amps | nominal_voltage | number_of_phases | number_of_wires | mfr_name | main_breaker_amps | sccr_kA | cond_rating
LP1 | Panelboard | 101 | DP1 | 225 | 208Y/120 | 3 | 4 | Marlowe | 200 | 10 | Good
DP1 | Switchboard | 001 | UTILITY | 1200 | 480Y/277 | 3 | 4 | Marlowe | 1200 | 65 | Fair
""",
        {
            "panel_name": "equipment.tag",
            "panel_type": "equipment.kind",
            "room_number": "equipment.room",
            "supply_source": "equipment.fed_from",
            "rated_current_amps": "equipment.rating_a",
            "nominal_voltage": "equipment.voltage",
            "number_of_phases": "equipment.phase",
            "number_of_wires": "equipment.wires",
            "mfr_name": "equipment.maker",
            "main_breaker_amps": "equipment.main_or_fuse_a",
            "sccr_kA": "equipment.short_circuit_rating_ka",
            "cond_rating": "",
        },
        2,
    ),
    Listed(
        "two line headings",
        "p6.xlsx",
        """
BUILDING 7 ELECTRICAL EQUIPMENT
Equipment | Location | Rating | | Supply | Manufacturer
 | | Amps | Volts | From |
MSB | Main elec | 2000 | 480Y/277 | Utility | Ostrevik
DP-1 | Main elec | 600 | 480Y/277 | MSB | Ostrevik
Total equipment: 2
""",
        {},
        2,
    ),
    Listed(
        "facility handover",
        "p7.csv",
        """
ComponentName | TypeName | SpaceName | SerialNumber | InstallationDate | TagNumber | AssetIdentifier | RatedVoltage | RatedAmps | SuppliedFrom
Panel LP-1 | Panelboard 225A | E101 | S1 | 2015-01-01 | LP-1 | 9001 | 208Y/120 | 225 | T-1
Panel LP-2 | Panelboard 100A | E201 | S2 | 2015-01-01 | LP-2 | 9002 | 208Y/120 | 100 | LP-1
""",
        {
            "ComponentName": "",
            "TypeName": "/equipment.kind",
            "SpaceName": "equipment.room",
            "SerialNumber": "",
            "InstallationDate": "",
            "TagNumber": "equipment.tag",
            "AssetIdentifier": "",
            "RatedVoltage": "equipment.voltage",
            "RatedAmps": "equipment.rating_a",
            "SuppliedFrom": "equipment.fed_from",
        },
        2,
    ),
    Listed(
        "compound size",
        "p8.csv",
        """
Designation | Area | Size | Source of supply | Type of gear | Short circuit (AIC)
MDP | Rm 100 | 800A 480Y/277V 3PH 4W MCB | Util | Switchboard | 42,000
LP-A | Rm 100 | 225A 208Y/120V 3PH 4W MLO | T-1 | Panel | 10,000
""",
        {
            "Designation": "equipment.tag",
            "Area": "equipment.room",
            "Size": "equipment.rating_a equipment.voltage "
            + "equipment.phase equipment.wires equipment.main_device",
            "Source of supply": "equipment.fed_from",
            "Type of gear": "equipment.kind",
            "Short circuit (AIC)": "equipment.short_circuit_rating_ka",
        },
        2,
    ),
    Listed(
        "clearances typed",
        "p9.csv",
        """
Panel | Clearance in front | Clear width | Clear height | Opposite | Panel width | Overhead items | Storage in front
LP-1 | 42" | 30" | 84" | concrete | 20" | none | none
LP-2 | 36" | 30" | 78" | clear | 20" | pipe | boxes
""",
        {
            "Panel": "clearances.tag",
            "Clearance in front": "clearances.depth",
            "Clear width": "clearances.width",
            "Clear height": "clearances.height",
            "Opposite": "clearances.opposite_side",
            "Panel width": "clearances.equipment_width",
            "Overhead items": "clearances.items_above",
            "Storage in front": "clearances.items_in_space",
        },
        0,
    ),
    Listed(
        "transposed",
        "p10.csv",
        """
 | DP-1 | DP-2 | LP-9
Type | Distribution panel | Distribution panel | Lighting panel
Room | Main | Main | Closet 3
Source | MSB | MSB | DP-1
Rating | 400 A | 600 A | 225 A
System | 480Y/277V 3PH 4W | 480Y/277V 3PH 4W | 480Y/277V 3PH 4W
Short circuit | 35 kAIC | 35 kAIC | 14 kAIC
Make | Ostrevik | Ostrevik | Ostrevik
""",
        {
            "Type": "equipment.kind",
            "Room": "equipment.room",
            "Source": "equipment.fed_from",
            "Rating": "equipment.rating_a",
            "System": "equipment.voltage equipment.phase equipment.wires",
            "Short circuit": "equipment.short_circuit_rating_ka",
            "Make": "equipment.maker",
        },
        3,
    ),
    Listed(
        "inspection findings list",
        "p11.csv",
        """
Item | Equipment | Deficiency | Severity | Recommendation | Photo ref
1 | LP-1 | Open knockout | High | Close it | IMG_1.jpg
2 | LP-2 | Missing cover | High | Replace | IMG_2.jpg
""",
        {
            "Item": "",
            "Equipment": "findings.subject",
            "Deficiency": "findings.finding",
            "Severity": "findings.priority",
            "Recommendation": "findings.action",
            "Photo ref": "findings.photos",
        },
        0,
    ),
    Listed(
        "german 2",
        "p12.csv",
        """
Bezeichnung | Standort | Etage | Nennspannung | Bemessungsstrom [A] | Speisung aus | Phasen | Fabrikat | Baujahr
HV | Keller | UG | 480Y/277 | 1200 | Utility | 3 | Peverel | 1990
UV1 | Flur | 1 | 208Y/120 | 225 | HV | 3 | Peverel | 1990
""",
        {
            "Bezeichnung": "equipment.tag",
            "Standort": "equipment.room",
            "Etage": "rooms.level",
            "Nennspannung": "equipment.voltage",
            "Bemessungsstrom [A]": "equipment.rating_a",
            "Speisung aus": "equipment.fed_from",
            "Phasen": "equipment.phase",
            "Fabrikat": "equipment.maker",
            "Baujahr": "",
        },
        2,
    ),
]
