"""Lists that the matching was not tuned on, with where each column belongs: see `lists.py` for the form.

Written before the matching was; a heading that is missed here stays missed, and the figures in
`test_any_list.py` say how many are. Every building, maker and person is invented.
"""

from __future__ import annotations

from tests.filling.list_form import Listed

__all__ = ["HELD_BACK"]

HELD_BACK = [
    Listed(
        "a facility manager's export", "export.csv", """
        AssetNumber | AssetDescription | BuildingName | FloorLevel | RoomNo | Mfr. | ModelNumber | RatedVoltage | RatedCurrent_A | NumPhases | InstallDate | PM Frequency
        PNL-0001 | Lighting Panel 1A | Annex | 1 | 1-104 | Marlowe | MQ-42 | 208Y/120 | 225 | 3 | 1998-05-01 | Annual
        PNL-0002 | Power Panel 1B | Annex | 1 | 1-104 | Marlowe | MQ-42 | 208Y/120 | 100 | 3 | 1998-05-01 | Annual
        SWB-0001 | Main Switchboard | Annex | B | B-002 | Peverel | PSB | 480Y/277 | 1600 | 3 | 1998-05-01 | Annual
        """,
        {"AssetNumber": "equipment.tag", "AssetDescription": "", "BuildingName": "", "FloorLevel": "rooms.level",
         "RoomNo": "equipment.room", "Mfr.": "equipment.maker", "ModelNumber": "", "RatedVoltage": "equipment.voltage",
         "RatedCurrent_A": "equipment.rating_a", "NumPhases": "equipment.phase", "InstallDate": "", "PM Frequency": ""},
        rows=3,
    ),
    Listed(
        "a drawing's table with the mains in one cell", "e-601.xlsx", """
        PANELBOARD SUMMARY
        PNL | MAINS | BUS (AMPS) | VOLTS/PH/W | A.I.C. | FEEDS FROM | LOCATION | MTG
        HA | 400A MCB | 400 | 480Y/277V 3PH 4W | 35K | MSB | ELEC 110 | SURFACE
        LA1 | MLO | 225 | 208Y/120V 3PH 4W | 10K | TA | ELEC 110 | SURFACE
        LA2 | 100A MCB | 125 | 208Y/120V 3PH 4W | 10K | LA1 | STORE 115 | FLUSH
        1. SEE ONE-LINE DIAGRAM FOR FEEDER SIZES.
        """,
        {"PNL": "equipment.tag", "MAINS": "equipment.main_device equipment.main_or_fuse_a", "BUS (AMPS)": "equipment.rating_a",
         "VOLTS/PH/W": "equipment.voltage equipment.phase equipment.wires", "A.I.C.": "equipment.short_circuit_rating_ka",
         "FEEDS FROM": "equipment.fed_from", "LOCATION": "equipment.room", "MTG": ""},
        rows=3,
    ),
    Listed(
        "transformers of a campus", "xfmrs.csv", """
        XFMR ID; Size kVA; Pri V; Sec V; % Impedance; Phase; Building Room; Fed By; Feeds; Mfg Yr; Mfr
        T1;112.5;480;208Y/120;4.2;3;Elec 101;MDP;DP1;1987;Peverel
        T2;45;480;208Y/120;3.8;3;Elec 201;DP2;LP2A;1991;Marlowe
        """.replace(";", " | "),
        {"XFMR ID": "transformers.tag equipment.tag", "Size kVA": "transformers.kva", "Pri V": "transformers.primary_v",
         "Sec V": "transformers.secondary_v", "% Impedance": "transformers.impedance_percent", "Phase": "transformers.phase",
         "Building Room": "equipment.room", "Fed By": "equipment.fed_from", "Feeds": "transformers.serves /equipment.fed_from_of_what_it_serves",
         "Mfg Yr": "transformers.year_made", "Mfr": "equipment.maker"},
        rows=2,
    ),
    Listed(
        "un cuadro en español", "tableros.csv", """
        Tablero | Ubicación | Tensión (V) | Corriente nominal (A) | Fases | Hilos | Alimentado desde | Fabricante | Observaciones
        TD-1 | Cuarto eléctrico 1 | 208Y/120 | 225 | 3 | 4 | TG | Marlowe | puerta dañada
        TD-2 | Pasillo | 208Y/120 | 100 | 3 | 4 | TD-1 | Marlowe |
        """,
        {"Tablero": "equipment.tag", "Ubicación": "equipment.room", "Tensión (V)": "equipment.voltage",
         "Corriente nominal (A)": "equipment.rating_a", "Fases": "equipment.phase", "Hilos": "equipment.wires",
         "Alimentado desde": "equipment.fed_from", "Fabricante": "equipment.maker", "Observaciones": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "eine Verteilerliste", "verteiler.csv", """
        Verteiler | Raum | Geschoss | Spannung | Nennstrom | Einspeisung | Hersteller | Baujahr | Bemerkung
        UV 1.1 | E-Raum 101 | EG | 480Y/277 | 400 | HV | Peverel | 1996 | -
        UV 1.2 | E-Raum 201 | 1. OG | 208Y/120 | 225 | UV 1.1 | Peverel | 1996 | Abdeckung fehlt
        """,
        {"Verteiler": "equipment.tag", "Raum": "equipment.room", "Geschoss": "rooms.level", "Spannung": "equipment.voltage",
         "Nennstrom": "equipment.rating_a", "Einspeisung": "equipment.fed_from", "Hersteller": "equipment.maker",
         "Baujahr": "", "Bemerkung": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "measured last week", "measured.csv", """
        Panel Ref | Working clearance depth (in) | Working clearance width (in) | Headroom (in) | Encl. width (in) | Encl. height (in) | Facing wall | Photo #
        LP-1 | 42 | 36 | 96 | 20 | 60 | concrete | 12.jpg
        LP-2 | 31 | 30 | 84 | 20 | 48 | clear | 13.jpg
        """,
        {"Panel Ref": "clearances.tag", "Working clearance depth (in)": "clearances.depth", "Working clearance width (in)": "clearances.width",
         "Headroom (in)": "clearances.height", "Encl. width (in)": "clearances.equipment_width",
         "Encl. height (in)": "clearances.equipment_height", "Facing wall": "clearances.opposite_side", "Photo #": "/equipment.photos"},
        rows=2,
    ),
    Listed(
        "a circuit breaker schedule beside the panels", "two.xlsx", """
        Board | Amperage | System Volts | Where located | | Cable | From | To | Length (ft)
        DB-1 | 400 | 480Y/277 | Plant room | | C-1 | MSB | DB-1 | 120
        DB-2 | 225 | 480Y/277 | Roof | | C-2 | MSB | DB-2 | 240
        """,
        {"Board": "equipment.tag", "Amperage": "equipment.rating_a", "System Volts": "equipment.voltage", "Where located": "equipment.room",
         "Cable": "", "From": "", "To": "", "Length (ft)": ""},
        rows=2,
    ),
    Listed(
        "a table in notes", "notes.md", """
        | Switchboard name | Amp rating | Supply | Voltage/phase | Interrupting capacity (kA) | Comments |
        |---|---|---|---|---|---|
        | MSB | 2000 A | Utility | 480Y/277V 3PH | 65 | new in 2011 |
        | DP-1 | 600 A | MSB | 480Y/277V 3PH | 42 | |
        """,
        {"Switchboard name": "equipment.tag", "Amp rating": "equipment.rating_a", "Supply": "equipment.fed_from",
         "Voltage/phase": "equipment.voltage equipment.phase", "Interrupting capacity (kA)": "equipment.short_circuit_rating_ka",
         "Comments": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "une liste de tableaux", "tableaux.csv", """
        Repère | Désignation | Local | Niveau | Intensité (A) | Tension (V) | Alimenté par | Marque | Remarques
        TGBT | Tableau général | Local technique | RDC | 1600 | 480Y/277 | Utility | Peverel | RAS
        TD1 | Tableau divisionnaire | Couloir | R+1 | 225 | 208Y/120 | TGBT | Marlowe |
        """,
        {"Repère": "equipment.tag", "Désignation": "/equipment.kind", "Local": "equipment.room", "Niveau": "rooms.level",
         "Intensité (A)": "equipment.rating_a", "Tension (V)": "equipment.voltage", "Alimenté par": "equipment.fed_from",
         "Marque": "equipment.maker", "Remarques": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "a register of many trades", "register.csv", """
        Equip ID | Equip Type | Status | Equip Location | Load (kVA) | Main Breaker Rating | Phase of Works | Bus Amps | Upstream Equip
        AHU-1 | Air handler | in use | Roof | | | 30% Design | |
        LP-9 | Panelboard | in use | Corridor 9 | 31 | 150 | 30% Design | 225 | DP-9
        DP-9 | Panelboard | in use | Corridor 9 | 88 | 400 | 60% Design | 400 | MSB
        """,
        {"Equip ID": "equipment.tag", "Equip Type": "equipment.kind", "Status": "", "Equip Location": "equipment.room", "Load (kVA)": "",
         "Main Breaker Rating": "equipment.main_or_fuse_a", "Phase of Works": "", "Bus Amps": "equipment.rating_a",
         "Upstream Equip": "equipment.fed_from"},
        rows=3,
    ),
]  # fmt: skip
