"""A folder that is watched: what is new there is checked, and a page tells the state of every survey.

    watch_rounds(folder, round_, ...)   a round at the start, and one whenever something in the folder changes
    Round, Reviewed                     one look at the folder: what is new is checked, the page written
    Outcome, SomethingElse              what is known of a survey; a workbook that is none
    Watched                             which process watches a folder, when several would
    review_beside(survey)               where the review of a survey lies

Not here: the check, and the review that it writes (commands); which files may be surveys (sites).
"""

from workbook_tools.watching.listening import watch_rounds
from workbook_tools.watching.outcomes import Outcome, SomethingElse, open_elsewhere, outcome_of, review_beside
from workbook_tools.watching.owner import Watched
from workbook_tools.watching.rounds import Looked, Reviewed, Round

__all__ = [
    "Looked",
    "Outcome",
    "Reviewed",
    "Round",
    "SomethingElse",
    "Watched",
    "open_elsewhere",
    "outcome_of",
    "review_beside",
    "watch_rounds",
]
