"""A summary line: gross 139 2/8, deductions 1 4/8, net 137 6/8. Source: woodsnwater.net, 2010 (stored excerpt).

The rows are not published; ours are invented so that they give that gross and those deductions.
"""

from tests.outside.worked_sheets import figures, sides
from tests.plain_scoring import inches


def test_the_net_follows() -> None:
    head = sides(("beam", "g1"), right="57 7/8, 4", left="56 7/8, 3 4/8") | {"inside_spread": inches("17")}
    found = figures("whitetail-typical", head)
    assert (found["gross"], found["deductions"], found["net"]) == ("139 2/8", "1 4/8", "137 6/8")
