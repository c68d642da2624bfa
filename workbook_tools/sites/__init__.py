"""Many surveys at once: found in folders, read side by side, told in lines.

    look_for(places)                    which files may be surveys, and what was passed over
    each_survey(search, work, ...)      every survey read and looked at, on every core; in order
    Candidate, Search, NotRead          a file that may be one; what was found; one that cannot be read
    SiteChecked, check_one              what a check of one among many comes to
    Tally                               what all of them come to, as far as a terminal shows it

Not here: what is found in one survey (checking), the workbook about all of them (portfolio).
"""

from workbook_tools.sites.checked import SiteChecked, check_one
from workbook_tools.sites.looking import Candidate, Search, look_for
from workbook_tools.sites.reading import NotRead, each_survey
from workbook_tools.sites.tally import Tally

__all__ = ["Candidate", "NotRead", "Search", "SiteChecked", "Tally", "check_one", "each_survey", "look_for"]
