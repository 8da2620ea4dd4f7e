import polars as pl

from dashboards.tables import csv_for_spreadsheets


def test_a_text_that_would_run_as_a_formula_is_disarmed() -> None:
    shown = pl.DataFrame(
        {"Hunter": ["=1+1", "+x", "-x", "@x", "\tx", "Tarn, of Kelder", None], "Place": [1, 2, 3, 4, 5, 6, 7]}
    )
    assert csv_for_spreadsheets(shown) == (
        "Hunter,Place\n'=1+1,1\n'+x,2\n'-x,3\n'@x,4\n'\tx,5\n\"Tarn, of Kelder\",6\n,7\n"
    )
