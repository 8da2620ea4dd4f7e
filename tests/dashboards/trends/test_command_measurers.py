"""`measurers` on a book whose panel has one who reads high: told with its size, by name, and without accusing."""

from pathlib import Path

import pytest

from tests.dashboards.run_command import run
from tests.measured_region import BOOK, HIGH, MEASURERS, READS_HIGH, SESSION

CAUTION = "What stands out here is a reason to have heads measured again, by others. It accuses nobody."
BLAME = ("cheat", "fraud", "dishonest", "suspicio", "guilt", "wrongdo", "liar", "crook", "blame", "suspect")


def report(book: Path, *more: str) -> str:
    ran = run("measurers", "--book", book, "--in", BOOK, *more)
    assert (ran.code, ran.err) == (0, "")
    return " ".join(ran.out.split())


def test_who_reads_high_is_told_with_the_size_and_nobody_else(measured: Path) -> None:
    told = report(measured)
    assert (
        "Panel of 2026, net score: 12 heads, each measured by all 5 measurers. Technical error 0.9 eighths (1.6 with "
        "the biases)"
    ) in told
    assert (
        "Apart from the panel’s middle measurer by more than chance (that 5 measurers were looked at is allowed for): "
        "Osk Harrow (M-003) "
        "+2.4 (+1.7 to +3.1) eighths, +3.0 from the middle. A reason to measure again, by others, nothing more."
    ) in told


def test_the_report_accuses_nobody_and_says_so_above_and_under_everything(measured: Path) -> None:
    told = report(measured)
    assert told.count(CAUTION) == 2
    assert told.index(CAUTION) < told.index("Panel sessions") < told.rindex("Zephrane") < told.rindex(CAUTION)
    assert "Honest causes are many" in told
    assert not [word for word in BLAME if word in told.lower()]


def test_measurers_stand_by_name_in_every_table(measured: Path) -> None:
    lines = run("measurers", "--book", measured, "--in", BOOK, "--json").lines()
    for kind in ("bias", "digits", "first-inch"):
        named = [line["name"] for line in lines if line["kind"] == kind and line.get("line") in (None, "net", "beams")]
        assert named == sorted(MEASURERS.values()), kind


def test_sheets_are_held_against_the_panel_with_the_note_on_drying(measured: Path) -> None:
    told = report(
        measured
    )  # sheet less panel: 4, 2, 0 eighths four times each: mean 2, SD sqrt(32/11), limits 2 -+ 1.96 SD (closed form)
    assert (
        "12 entries measured by a panel: the net recomputed from the sheet’s measures less the panel’s is +2.0 eighths on average"
        in told
    )
    assert "limits of agreement -1.3 to +5.3 eighths" in told
    assert "Antlers shrink while they dry" in told


def test_json_lines_have_kinds_and_biases_in_eighths(measured: Path) -> None:
    lines = run("measurers", "--book", measured, "--in", BOOK, "--json").lines()
    assert list(dict.fromkeys(line["kind"] for line in lines)) == [
        "summary",
        "panel",
        "bias",
        "against-panel",
        "digits",
        "first-inch",
    ]
    high = next(
        line for line in lines if line["kind"] == "bias" and line["measurer"] == READS_HIGH and line["line"] == "net"
    )
    assert (high["session"], high["name"], high["heads"], high["opens"]) == (SESSION, "Osk Harrow", 12, True)
    assert high["bias"] == pytest.approx(HIGH * 4 / 5)
    assert high["from_middle"] == pytest.approx(HIGH)


def test_the_step_at_a_higher_minimum_is_told_against_other_inches(higher: Path) -> None:
    told = report(higher)
    assert "High Book, 137 0/8: " in told
    (line,) = (
        one
        for one in run("measurers", "--book", higher, "--in", BOOK, "--json").lines()
        if one["kind"] == "higher-minimum"
    )
    assert (line["book"], line["minimum"], line["minimum_units"], line["refused"]) == (
        "High Book",
        "137 0/8",
        1096,
        None,
    )
    assert f"{line['below']} entries in the half inch under it, {line['above']} in the half inch from it up" in told
    assert line["share"] == pytest.approx(line["above"] / (line["above"] + line["below"]))


def test_seasons_narrow_the_entries_but_not_the_panels(measured: Path) -> None:
    told = report(measured, "--from", "2024-25", "--to", "2024-25")
    assert f"Measurers of {BOOK}, White-tailed deer, typical, 2024-25 to 2024-25" in told
    assert "Panel of 2026, net score: 12 heads" in told
    assert "No entry was measured by a panel in these seasons" in told
    assert "Not told, under 80 measures: " in told


@pytest.mark.parametrize(
    ("more", "message"),
    [
        (("--from", "2024"), "beamledger: '2024' is no season; expected one like 2024-25\n"),
        (("--category", "moose"), "beamledger: --category 'moose': not in the book; expected one of: "),
        (("--as-of", "2001-01-01"), "cannot tell what was known on 2001-01-01"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_sentence(measured: Path, more: tuple[str, ...], message: str) -> None:
    ran = run("measurers", "--book", measured, "--in", BOOK, *more)
    assert (ran.code, ran.out) == (2, "")
    assert message in ran.err


def test_an_unknown_record_book_is_refused_with_the_known_ones(measured: Path) -> None:
    ran = run("measurers", "--book", measured, "--in", "Nowhere")
    assert (ran.code, ran.err) == (2, f"beamledger: --in 'Nowhere': not in the book; expected one of: {BOOK}\n")
