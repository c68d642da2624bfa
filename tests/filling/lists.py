"""Lists as clients have them, with where each column belongs. Every building, maker and person is invented.

The matching was tuned on these; `held_back_lists` are the ones it was not.
"""

from __future__ import annotations

from tests.filling.list_form import Listed
from tests.filling.more_lists import MORE

__all__ = ["LISTS"]

LISTS = [
    Listed(
        "a panel list with everything in one cell", "panels.csv", """
        Panel | Size | Location | Fed From | Notes
        LP-1 | 225A 208Y/120 3PH 4W | Elec 101 | T-1 | 42 circuits
        DP-1 | 800A MLO | Elec 101 | MSB |
        MSB | 480Y/277V, 1600A | Main elec | Utility |
        LP-2 | 100A/3P | Elec 201 | LP-1 |
        """,
        {"Panel": "equipment.tag", "Size": "equipment.rating_a equipment.voltage equipment.phase equipment.wires equipment.main_device",
         "Location": "equipment.room", "Fed From": "equipment.fed_from", "Notes": "equipment.remarks"},
        rows=4,
    ),
    Listed(
        "two tables on one sheet", "one-line.xlsx", """
        PANEL LIST
        Panel | Volts | Bus amps | Main amps | AIC | Serves
        DP-1 | 480Y/277 | 800 | 600 | 35 | LP-1; LP-2
        LP-1 | 480Y/277 | 225 | 225 | 14 | Level 1 lighting

        FEEDER LIST
        Feeder | From | To | Conductors | Conduit
        F-1 | MSB | DP-1 | 2 sets 500 kcmil | 3"
        F-2 | DP-1 | LP-1 | 4/0 | 2"
        """,
        {"Panel": "equipment.tag", "Volts": "equipment.voltage", "Bus amps": "equipment.rating_a", "Main amps": "equipment.main_or_fuse_a",
         "AIC": "equipment.short_circuit_rating_ka", "Serves": "equipment.fed_from_of_what_it_serves", "Feeder": "", "From": "", "To": "", "Conductors": "", "Conduit": ""},
        rows=2,
    ),
    Listed(
        "a register with a row of units", "register.xlsx", """
        Equipment register, Quarry Street
        Tag No. | Description | Type | Rated | | Location | Project phase
        | | | Voltage | Current | |
        | | | V | A | |
        MSB-1 | Main board | Switchboard | 480 | 2000 | Main elec | 30% Design
        DP-1 | Distribution | Panelboard | 480 | 600 | Level 1 | 30% Design
        Total | | | | 2600 | |
        """,
        {"Tag No.": "equipment.tag", "Description": "", "Type": "equipment.kind", "Location": "equipment.room", "Project phase": "",
         "Rated Voltage": "equipment.voltage", "Rated Current": "equipment.rating_a"},
        rows=2, merged=("D2:E2",),
    ),
    Listed(
        "transformers in a register", "assets.csv", """
        asset_id | asset_type | size | voltage | level | room | upstream_asset | manufacturer | serial_number
        T-1 | Transformer | 75 kVA | 480-208Y/120 | 1 | 101 | DP-1 | Peverel | 88123
        DP-1 | Panelboard | 400A | 480Y/277 | 1 | 101 | MSB | Marlowe | 88124
        LP-1 | Panelboard | 225A | 208Y/120 | 2 | 201 | T-1 | Marlowe | 88125
        """,
        {"asset_id": "equipment.tag transformers.tag", "asset_type": "equipment.kind", "size": "equipment.rating_a transformers.kva",
         "voltage": "equipment.voltage transformers.primary_v transformers.secondary_v", "level": "rooms.level", "room": "equipment.room",
         "upstream_asset": "equipment.fed_from", "manufacturer": "equipment.maker", "serial_number": ""},
        rows=3,
    ),
    Listed(
        "floors as rows between", "floors.csv", """
        Pnl. Name | Pnl. Location | Amps | Volts | Ph. | W. | Mfgr.
        FIRST FLOOR | | | | | |
        LP-1 | Corridor | 225 | 208Y/120 | 3 | 4 | Marlowe
        LP-2 | Kitchen | 100 | 208Y/120 | 3 | 4 | Marlowe
        2ND FLOOR | | | | | |
        LP-3 | Corridor 2 | 225 | 208Y/120 | 3 | 4 | Marlowe
        """,
        {"Pnl. Name": "equipment.tag", "Pnl. Location": "equipment.room", "Amps": "equipment.rating_a", "Volts": "equipment.voltage",
         "Ph.": "equipment.phase", "W.": "equipment.wires", "Mfgr.": "equipment.maker"},
        rows=3,
    ),
    Listed(
        "panels across, questions down", "across.csv", """
        Panel | LP-1 | LP-2 | DP-1
        Location | Corridor | Kitchen | Main elec
        Bus rating (A) | 225 | 100 | 400
        Voltage | 208Y/120 | 208Y/120 | 480Y/277
        Manufacturer | Marlowe | Marlowe | Peverel
        Key no. | 7 | 7 | 9
        """,
        {"Panel": "equipment.tag", "Location": "equipment.room", "Bus rating (A)": "equipment.rating_a", "Voltage": "equipment.voltage",
         "Manufacturer": "equipment.maker", "Key no.": ""},
        rows=3,
    ),
    Listed(
        "a sheet for each panel", "lp-1.txt", """
        Panel: LP-1
        Location: Corridor 1
        Volts: 208Y/120
        Bus amps: 225
        Mains type: MLO
        Fed from: T-1
        Enclosure: surface
        """,
        {"Panel": "equipment.tag", "Location": "equipment.room", "Volts": "equipment.voltage", "Bus amps": "equipment.rating_a",
         "Mains type": "equipment.main_device", "Fed from": "equipment.fed_from", "Enclosure": ""},
        rows=1,
    ),
    Listed(
        "a line a panel", "walk.txt", """
        MSB - 2000A, 480Y/277V 3PH 4W, Main electrical room, fed from Utility
        DP-1 - 600A, 480Y/277V 3PH 4W, Main electrical room, fed from MSB
        LP-1 - 225A MLO, 208Y/120V 3PH 4W, Room 101, fed from T-1
        """,
        {}, rows=3,
    ),
    Listed(
        "objects", "panels.json", """
        {"site": "Quarry Street", "panels": [
          {"panelName": "LP-1", "panelLocation": "Corridor", "busRatingAmps": 225, "mainBreakerAmps": 150, "voltage": "208Y/120", "fedFrom": "T-1", "panelMake": "Marlowe", "panelModel": "M-42"},
          {"panelName": "DP-1", "panelLocation": "Main elec", "busRatingAmps": 400, "mainBreakerAmps": 400, "voltage": "480Y/277", "fedFrom": "MSB", "panelMake": "Peverel", "panelModel": "P-2"}]}
        """,
        {"panelName": "equipment.tag", "panelLocation": "equipment.room", "busRatingAmps": "equipment.rating_a",
         "mainBreakerAmps": "equipment.main_or_fuse_a", "voltage": "equipment.voltage", "fedFrom": "equipment.fed_from",
         "panelMake": "equipment.maker", "panelModel": ""},
        rows=2,
    ),
    Listed(
        "pasted from a word processor", "pasted.xlsx", """
        Panel\\nname | Loca-\\ntion | Rating\\n(amperes) | Nominal\\nvoltage | Manufac-\\nturer | Short-\\ncircuit rating (kA)
        LP-1 | Corridor | 225 | 208Y/120 | Marlowe | 10
        LP-2 | Kitchen | 100 | 208Y/120 | Marlowe | 10
        """,
        {"Panel name": "equipment.tag", "Loca- tion": "equipment.room", "Rating (amperes)": "equipment.rating_a",
         "Nominal voltage": "equipment.voltage", "Manufac- turer": "equipment.maker", "Short- circuit rating (kA)": "equipment.short_circuit_rating_ka"},
        rows=2,
    ),
    Listed(
        "a list of documents", "documents.csv", """
        Name | Category | Created By | Created On | File | Description
        Panel schedule LP-1 | Submittal | A. Example | 2019-04-01 | lp-1.pdf | approved
        Room finishes | Drawing | A. Example | 2019-04-01 | a-601.pdf | approved
        """,
        {"Name": "", "Category": "", "Created By": "", "Created On": "", "File": "", "Description": ""},
        rows=0,
    ),
    Listed(
        "floors of a building", "floors of a handover.csv", """
        Name | Category | Elevation | Height
        Level 1 | Floor | 0 | 14
        Level 2 | Floor | 14 | 12
        """,
        {"Name": "/rooms.room rooms.level", "Category": "", "Elevation": "", "Height": ""},
        rows=0,
    ),
    Listed(
        "quadri in italiano", "quadri.csv", """
        Quadro | Locale | Piano | Tensione | Corrente | Alimentato da | Costruttore | Note
        QG | Cabina | Terra | 480Y/277 | 1600 | Utility | Peverel | nuovo
        Q1 | Corridoio | 1 | 208Y/120 | 225 | QG | Marlowe |
        """,
        {"Quadro": "equipment.tag", "Locale": "equipment.room", "Piano": "rooms.level", "Tensione": "equipment.voltage",
         "Corrente": "equipment.rating_a", "Alimentato da": "equipment.fed_from", "Costruttore": "equipment.maker", "Note": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "the words the other way round", "order.csv", """
        NAME OF PANEL | ROOM NO. | RATING, BUS | RATING, MAIN BREAKER | VOLTAGE, LINE TO LINE | SOURCE OF SUPPLY | NUMBER OF PHASES | MAKE | CONDITION RATING
        LP-1 | 101 | 225 | 150 | 208 | T-1 | 3 | Marlowe | 3
        LP-2 | 102 | 100 | 100 | 208 | LP-1 | 3 | Marlowe | 4
        """,
        {"NAME OF PANEL": "equipment.tag", "ROOM NO.": "equipment.room", "RATING, BUS": "equipment.rating_a",
         "RATING, MAIN BREAKER": "equipment.main_or_fuse_a", "VOLTAGE, LINE TO LINE": "equipment.voltage",
         "SOURCE OF SUPPLY": "equipment.fed_from", "NUMBER OF PHASES": "equipment.phase", "MAKE": "equipment.maker", "CONDITION RATING": ""},
        rows=2,
    ),
    Listed(
        "columns that only look right", "looks.csv", """
        Panel | Room | Phase | Amps | Size | Load kVA | Area served | Circuits | Last serviced
        LP-1 | 480 V | 30% Design | 75 kVA | 20 x 60 in | 31 | Level 1 | 42 | 2018-02-03
        LP-2 | 208 V | 60% Design | 45 kVA | 20 x 48 in | 12 | Level 2 | 30 | 2018-02-03
        """,
        {"Panel": "equipment.tag", "Room": "", "Phase": "", "Amps": "", "Size": "", "Load kVA": "", "Area served": "/transformers.serves equipment.fed_from_of_what_it_serves",
         "Circuits": "", "Last serviced": ""},
        rows=2,
    ),
    Listed(
        "a long list with clearances", "long.csv", """
        Equip. Tag | Equip. Type | Bldg. Floor | Elec. Rm. | Sys. Voltage | Bus Amp. | Mfr | Equip width | Clear depth (in) | Clear width (in) | Clear height (in) | SCCR kA
        LP-1 | Panel | 1 | 101 | 208Y/120 | 225 | Marlowe | 20 | 42 | 36 | 90 | 10
        DP-1 | Panel | 1 | 101 | 480Y/277 | 400 | Peverel | 24 | 48 | 36 | 90 | 35
        """,
        {"Equip. Tag": "equipment.tag clearances.tag", "Equip. Type": "equipment.kind", "Bldg. Floor": "rooms.level", "Elec. Rm.": "equipment.room",
         "Sys. Voltage": "equipment.voltage", "Bus Amp.": "equipment.rating_a", "Mfr": "equipment.maker", "Equip width": "clearances.equipment_width",
         "Clear depth (in)": "clearances.depth", "Clear width (in)": "clearances.width", "Clear height (in)": "clearances.height",
         "SCCR kA": "equipment.short_circuit_rating_ka"},
        rows=2,
    ),
    Listed(
        "characteristics in a second row of headings", "equipment schedule.csv", """
        Harbour House (invented) - Electrical distribution equipment
        Prepared by A. Example | | | | | 2019-04-01

        ITEM NO. | EQUIPMENT DESIGNATION | EQUIPMENT DESCRIPTION | ELECTRICAL CHARACTERISTICS | | | | SUPPLIED FROM | LOCATION | REMARKS
        | | | VOLTS | AMPS | PHASE | WIRE | | |
        1 | MDP | Main distribution panel | 480/277 | 1200 | 3 | 4 | Utility | Rm 001 | Existing
        2 | LP1 | Lighting panel | 480/277 | 225 | 3 | 4 | MDP | Rm 101 | New
        Notes:
        1. All equipment to be field verified.
        """,
        {"EQUIPMENT DESIGNATION": "equipment.tag", "EQUIPMENT DESCRIPTION": "", "ELECTRICAL CHARACTERISTICS VOLTS": "equipment.voltage",
         "ELECTRICAL CHARACTERISTICS AMPS": "equipment.rating_a", "ELECTRICAL CHARACTERISTICS PHASE": "equipment.phase",
         "ELECTRICAL CHARACTERISTICS WIRE": "equipment.wires", "SUPPLIED FROM": "equipment.fed_from", "LOCATION": "equipment.room",
         "REMARKS": "equipment.remarks", "ITEM NO.": ""},
        rows=2,
    ),
    Listed(
        "every heading says panel", "inventory.csv", """
        Panel ID | Panel Location | Panel Voltage (V) | Number of Phases | Number of Wires | Panel Rating (A) | Main Breaker Rating (A) | Short Circuit Rating (kA) | Number of Poles | Fed From Panel | Fed From Circuit Breaker Size (A) | Panel Manufacturer | Panel Model | Year Installed
        LP-1 | 101 | 208/120 | 3 | 4 | 225 | 225 | 10 | 42 | DP-1 | 225 | Marlowe | M1 | 1999
        LP-2 | 102 | 208/120 | 3 | 4 | 100 | MLO | 10 | 30 | DP-1 | 100 | Marlowe | M1 | 1999
        """,
        {"Panel ID": "equipment.tag", "Panel Location": "equipment.room", "Panel Voltage (V)": "equipment.voltage", "Number of Phases": "equipment.phase",
         "Number of Wires": "equipment.wires", "Panel Rating (A)": "equipment.rating_a", "Main Breaker Rating (A)": "equipment.main_or_fuse_a /equipment.main_device",
         "Short Circuit Rating (kA)": "equipment.short_circuit_rating_ka", "Number of Poles": "", "Fed From Panel": "equipment.fed_from",
         "Fed From Circuit Breaker Size (A)": "", "Panel Manufacturer": "equipment.maker", "Panel Model": "", "Year Installed": ""},
        rows=2,
    ),
    Listed(
        "pieces across under their names", "features.csv", """
        Feature | MSB | DP-1 | T-1
        Type | Switchboard | Panelboard | Transformer
        Room | Main elec | 101 | 101
        Rating | 2000A | 400A | 75 kVA
        Voltage | 480Y/277 | 480Y/277 | 480-208Y/120
        Fed from | Utility | MSB | DP-1
        """,
        {"Feature": "equipment.tag transformers.tag", "Type": "equipment.kind", "Room": "equipment.room", "Rating": "equipment.rating_a transformers.kva",
         "Voltage": "equipment.voltage transformers.primary_v transformers.secondary_v", "Fed from": "equipment.fed_from"},
        rows=3,
    ),
    Listed(
        "tableros con más palabras", "tableros 2.csv", """
        N° | Nombre del tablero | Ubicación / Local | Piso | Voltaje (V) | Amperaje (A) | N° de fases | N° de hilos | Tablero alimentador | Marca | Notas
        1 | TD-01 | Sala eléctrica | PB | 208/120 | 225 | 3 | 4 | TG | Marlowe | -
        2 | TD-02 | Cuarto técnico | P1 | 208/120 | 100 | 3 | 4 | TD-01 | Marlowe | -
        """,
        {"N°": "", "Nombre del tablero": "equipment.tag", "Ubicación / Local": "equipment.room", "Piso": "rooms.level", "Voltaje (V)": "equipment.voltage",
         "Amperaje (A)": "equipment.rating_a", "N° de fases": "equipment.phase", "N° de hilos": "equipment.wires", "Tablero alimentador": "equipment.fed_from",
         "Marca": "equipment.maker", "Notas": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "tableaux avec plus de mots", "tableaux 2.csv", """
        Nom du tableau | Bâtiment | Étage | Local | Tension | Calibre (A) | Nombre de phases | Source | Fabricant
        TP-1 | A | 1er | Local 1 | 347/600 | 400 | 3 | DP | Marlowe
        TP-2 | A | 2e | Local 2 | 347/600 | 225 | 3 | TP-1 | Marlowe
        """,
        {"Nom du tableau": "equipment.tag", "Bâtiment": "", "Étage": "rooms.level", "Local": "equipment.room", "Tension": "equipment.voltage",
         "Calibre (A)": "equipment.rating_a", "Nombre de phases": "equipment.phase", "Source": "equipment.fed_from", "Fabricant": "equipment.maker"},
        rows=2,
    ),
    Listed(
        "quadri con più parole", "quadri 2.csv", """
        Sigla quadro | Descrizione | Ubicazione | Tensione nominale (V) | Corrente nominale (A) | Numero fasi | Alimentato dal quadro | Marca
        QE-1 | Quadro piano terra | Corridoio PT | 400 | 160 | 3 | QG | Peverel
        QE-2 | Quadro primo piano | Corridoio P1 | 400 | 100 | 3 | QE-1 | Peverel
        """,
        {"Sigla quadro": "equipment.tag", "Descrizione": "", "Ubicazione": "equipment.room", "Tensione nominale (V)": "equipment.voltage",
         "Corrente nominale (A)": "equipment.rating_a", "Numero fasi": "equipment.phase", "Alimentato dal quadro": "equipment.fed_from",
         "Marca": "equipment.maker"},
        rows=2,
    ),
    Listed(
        "the schedule of one panel above its circuits", "schedule.xlsx", """
        PANEL: | LP-1 | | VOLTS: | 208Y/120 | | MAINS: | 225A MCB
        LOCATION: | Corridor 101 | | PHASE/WIRE: | 3PH 4W | | AIC: | 10K
        FED FROM: | DP-1 | | MOUNTING: | Surface | | |

        CKT | DESCRIPTION | BKR | POLES | LOAD VA | PHASE | |
        1 | Receptacles | 20 | 1 | 900 | A | |
        3 | Lighting | 20 | 1 | 1200 | B | |
        """,
        {"PANEL": "equipment.tag", "VOLTS": "equipment.voltage", "MAINS": "equipment.main_device equipment.main_or_fuse_a", "LOCATION": "equipment.room",
         "PHASE/WIRE": "equipment.phase equipment.wires", "AIC": "equipment.short_circuit_rating_ka", "FED FROM": "equipment.fed_from"},
        rows=1,
    ),
    Listed(
        "a panel list of a building model", "model.csv", """
        Panel Name | Location | Supply From | Mounting | Enclosure | Volts | Phases | Wires | Mains Type | Mains Rating | MCB Rating | A.I.C. Rating | Notes
        LP-1 | Corridor | DP-1 | Surface | NEMA 1 | 208 | 3 | 4 | MCB | 225 A | 200 A | 10 kA | x
        LP-2 | Kitchen | DP-1 | Surface | NEMA 1 | 208 | 3 | 4 | MLO | 225 A | | 10 kA | y
        """,
        {"Panel Name": "equipment.tag", "Location": "equipment.room", "Supply From": "equipment.fed_from", "Mounting": "", "Enclosure": "",
         "Volts": "equipment.voltage", "Phases": "equipment.phase", "Wires": "equipment.wires", "Mains Type": "equipment.main_device",
         "Mains Rating": "equipment.rating_a", "MCB Rating": "equipment.main_or_fuse_a", "A.I.C. Rating": "equipment.short_circuit_rating_ka",
         "Notes": "equipment.remarks"},
        rows=2,
    ),
    Listed(
        "a register with what is up and down stream", "streams.csv", """
        Equipment Name | Equipment Type | Building | Floor | Room | Voltage Rating | Current Rating | Power Rating (kVA) | Upstream Equipment | Downstream Equipment | Last Maintenance
        SWBD-1 | Switchboard | North | B1 | B101 | 480Y/277 | 2000 | | Utility | T-1; LP-4 | 2020-01-02
        T-1 | Transformer | North | B1 | B101 | 480-208Y/120 | | 150 | SWBD-1 | LP-1 | 2020-01-02
        GEN-1 | Generator | North | B1 | B101 | 480Y/277 | | 312 | | | 2020-01-02
        """,
        {"Equipment Name": "equipment.tag transformers.tag", "Equipment Type": "equipment.kind", "Building": "", "Floor": "rooms.level", "Room": "equipment.room",
         "Voltage Rating": "equipment.voltage transformers.primary_v transformers.secondary_v", "Current Rating": "equipment.rating_a",
         "Power Rating (kVA)": "transformers.kva", "Upstream Equipment": "equipment.fed_from",
         "Downstream Equipment": "transformers.serves equipment.fed_from_of_what_it_serves", "Last Maintenance": ""},
        rows=3,
    ),
    Listed(
        "tables below each other, a floor above each", "by floor.csv", """
        Level 1 | | | |
        Panel | Room | Amps | Volts | Fed from
        LP-1A | 101 | 225 | 208Y/120 | T-1
        LP-1B | 102 | 225 | 208Y/120 | T-1

        Level 2 | | | |
        Panel | Room | Amps | Volts | Fed from
        LP-2A | 201 | 225 | 208Y/120 | T-2

        Transformers | | | |
        Tag | kVA | Primary | Secondary | Room
        T-1 | 75 | 480 | 208Y/120 | 101
        T-2 | 45 | 480 | 208Y/120 | 201
        """,
        {"Panel": "equipment.tag", "Room": "equipment.room", "Amps": "equipment.rating_a", "Volts": "equipment.voltage", "Fed from": "equipment.fed_from",
         "Tag": "transformers.tag equipment.tag", "kVA": "transformers.kva", "Primary": "transformers.primary_v", "Secondary": "transformers.secondary_v"},
        rows=5,
    ),
    Listed(
        "sentences", "sentences.txt", """
        Panel LP-1 is located in Room 101. It is a 225 amp, 208Y/120 volt, 3 phase, 4 wire panel fed from transformer T-1.
        Panel LP-2 is located in Room 102. It is a 100 amp, 208Y/120 volt, 3 phase, 4 wire panel fed from LP-1.
        """,
        {}, rows=2,
    ),
    Listed(
        "columns below each other", "aligned.txt", """
        Panel   Amps   Volts       Location
        ------  -----  ----------  -----------
        LP-1    225    208Y/120    Corridor 1
        LP-2           480Y/277    Kitchen
        """,
        {"Panel": "equipment.tag", "Amps": "equipment.rating_a", "Volts": "equipment.voltage", "Location": "equipment.room"},
        rows=2,
    ),
    Listed(
        "objects within objects", "features.json", """
        {"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {"PANEL_ID": "LP-1", "VOLT": "208Y/120", "AMP": 225, "BLDG": "A"}},
          {"type": "Feature", "properties": {"PANEL_ID": "LP-2", "VOLT": "208Y/120", "AMP": 100, "BLDG": "A"}}]}
        """,
        {"PANEL_ID": "equipment.tag", "VOLT": "equipment.voltage", "AMP": "equipment.rating_a", "BLDG": "", "type": ""},
        rows=2,
    ),
    Listed(
        "measures of enclosures, and none of the space", "sizes.csv", """
        Panel | Volts | Amps | Width | Height | Depth | Weight
        LP-1 | 208Y/120 | 225 | 20 | 60 | 5.75 | 120
        LP-2 | 208Y/120 | 225 | 20 | 48 | 5.75 | 100
        """,
        {"Panel": "equipment.tag", "Volts": "equipment.voltage", "Amps": "equipment.rating_a", "Width": "", "Height": "", "Depth": "", "Weight": ""},
        rows=2,
    ),
    Listed(
        "loads of motors, no equipment", "cables.csv", """
        Device | Load Name | From Panel | Breaker (A) | Wire Size | Conduit | Length (ft) | Voltage Drop %
        C-1 | Pump 1 | MCC-1 | 30 | #10 | 3/4" | 120 | 1.2
        C-2 | Pump 2 | MCC-1 | 30 | #10 | 3/4" | 130 | 1.3
        """,
        {"Device": "", "Load Name": "", "From Panel": "", "Breaker (A)": "", "Wire Size": "", "Conduit": "", "Length (ft)": "", "Voltage Drop %": ""},
        rows=0,
    ),
    Listed(
        "a register of all trades", "trades.csv", """
        Asset ID | Discipline | System | Location | Manufacturer | Voltage | FLA
        A-1 | Mechanical | HVAC | Roof | Acme | 480 | 22
        A-2 | Electrical | Power distribution | Elec 101 | Marlowe | 208Y/120 |
        A-3 | Plumbing | Domestic water | Kitchen | Acme | |
        """,
        {"Asset ID": "equipment.tag", "Discipline": "", "System": "", "Location": "equipment.room", "Manufacturer": "equipment.maker",
         "Voltage": "equipment.voltage", "FLA": ""},
        rows=1,
    ),
]  # fmt: skip

LISTS += MORE
