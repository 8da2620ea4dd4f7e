"""One slip made in a published sheet is named, in categories that the diagnosis has no line of code for.

Sources beside each sheet; the slip is ours.
"""

from tests.outside.published_diagnosis import Explained, explained
from tests.outside.worked_sheets import sides
from tests.plain_scoring import inches


def test_a_skull_added_a_sixteenth_short() -> None:
    """Outdoor Life, June 2011: 11 9/16 + 7 3/16 = 18 12/16."""
    skull = {"skull_length": inches("11 9/16"), "skull_width": inches("7 3/16")}
    found, is_certain = explained("skull", skull, {"gross": "18 11/16", "net": "18 11/16"})
    assert found[0] == Explained("carried", {"gross": "18 12/16"}, {"net": "18 12/16"}, "18 12/16")
    assert {(one.kind, *one.wrong.items()) for one in found[1:]} == {
        ("copied", ("skull_length", "11 8/16")),
        ("copied", ("skull_width", "7 2/16")),
    }
    assert not is_certain


def test_a_skull_whose_net_alone_differs() -> None:
    """Yellowstone County News: 13 9/16 + 8 = 21 9/16."""
    skull = {"skull_length": inches("13 9/16"), "skull_width": inches("8")}
    assert explained("skull", skull, {"gross": "21 9/16", "net": "21 7/16"}) == (
        [Explained("carried", {"net": "21 9/16"}, {}, "21 9/16")],
        True,
    )


def test_a_pronghorn_side_an_inch_short() -> None:
    """hunttalk.com thread 290814: 14 + 6 + 15 + 5 = 40 a side, 80 in all."""
    side = "15, 7, 7, 3, 3, 5"
    horns = sides(("horn", "d1", "d2", "d3", "d4", "prong"), side, side)
    stated = {"right_total": "39", "left_total": "40", "diff_total": "0", "gross": "79", "net": "79"}
    assert explained("pronghorn", horns, stated) == (
        [Explained("carried", {"right_total": "40 0/8"}, {"gross": "80 0/8", "net": "80 0/8"}, "80 0/8")],
        False,  # a measure written an inch too short, with its difference worked out from it, would look the same
    )


def test_a_spread_credited_beyond_the_longer_beam() -> None:
    """Western Hunting Journal 1(3), p. 77: beams 20 2/8 and 21 7/8, inside spread 27 0/8, of which 5 1/8 do not count."""
    measures = sides(("beam",), "20 2/8", "21 7/8") | {"inside_spread": inches("27 0/8")}
    stated = {
        "spread_credit": "27 0/8",
        "right_total": "20 2/8",
        "left_total": "21 7/8",
        "gross": "69 1/8",
        "net": "67 4/8",
    }
    found, is_certain = explained("whitetail-typical", measures, stated)
    assert found == [Explained("carried", {"spread_credit": "21 7/8"}, {"gross": "64 0/8", "net": "62 3/8"}, "62 3/8")]
    assert is_certain
