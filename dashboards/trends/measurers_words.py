"""What is said around every figure of a measurer, and the sentences of each section: for the page and the command."""

from dashboards.trends import bunching_words, digit_words, higher_minimum_words, panel_words
from dashboards.trends.measurers_frames import MeasurersFrames
from warehouse.book.trend_figures.measurers import Measurers

ACCUSES_NOBODY = "What stands out here is a reason to have heads measured again, by others. It accuses nobody."
CAUSES = (
    "Honest causes are many: the heads that somebody gets to measure, the habit of a club, a worn tape, the drying of "
    "antlers, a rule "
    "read in another way, and chance, which makes somebody stand out wherever many are looked at."
)
BY_NAME = "Measurers stand in order of their names, never of their figures."


def sections(measurers: Measurers, frames: MeasurersFrames) -> dict[str, list[str]]:
    """Every sentence under its heading, in the order of the page; the caution first and last."""
    return {
        "How to read this": [ACCUSES_NOBODY, CAUSES, BY_NAME],
        "Panel sessions": panel_words.sentences(frames),
        "Sheets against panels": panel_words.against(measurers, frames),
        "Last digits": digit_words.sentences(frames),
        "The first inch above a minimum": bunching_words.sentences(measurers, frames),
        higher_minimum_words.HEADING: higher_minimum_words.sentences(frames.higher_minimums),
        "What follows": [ACCUSES_NOBODY],
    }
