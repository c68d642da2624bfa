"""What the live cells of a survey workbook show and what they can read, in Python.

    results        every live cell of a survey: its number or its words
    row_checks     the row check among them
    readable       whether a formula can read what was typed at all
    typed_forms    the plain forms in which formulas compare texts, the same steps as formula and in Python
    known_texts    the texts that stand on Lists for formulas to look up
    voltage_table  voltages as people write them, and what a system takes over from its source
    wording, units the words and the units that live cells answer in

Rules and the writer of the workbook both ask here. Not here: the formulas (survey_workbook).
"""
