"""Lists as clients have them, with where each column belongs. Every building, maker and person is invented.

The matching was tuned on these; `held_back_lists` are the ones it was not.
"""

from __future__ import annotations

from tests.filling.list_form import Listed

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
]  # fmt: skip
