"""The survey workbook: what the inspector fills in.

    write_survey_workbook(path, template, ...)     write one, blank or with rows filled in

Live cells are formulas made from the template, the code profiles and the electrical tables;
`live_cells` gives the same results in Python.
"""

from workbook_tools.survey_workbook.writing import write_survey_workbook

__all__ = ["write_survey_workbook"]
