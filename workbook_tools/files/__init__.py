"""Writing files so that nothing is lost and nothing runs.

    whole_file(path), whole_folder(path)   they appear whole or not at all
    refuse_what_stands(path)               say at once that a file is in the way
    csv_text                               text in a CSV file that no spreadsheet program runs

Not here: what the files hold.
"""

from workbook_tools.files.whole import Filling, refuse_what_stands, whole_file, whole_folder

__all__ = ["Filling", "refuse_what_stands", "whole_file", "whole_folder"]
