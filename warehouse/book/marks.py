"""What a row of the ledger holds, in short: the first 64 bits of the SHA-256 of its text, kept beside it.

A mark that does not fit its row names the row that was altered; the log's contents (`contents.py`) rest on the marks.
A column that a later schema adds may count too, if it holds nothing in the rows of before: a null of it leaves no trace
in the text, so that their marks still hold.
"""

ROW_COLUMNS = ("row_id", "file_id", "row", "cells", "verdict", "entry_id")
REVISION_COLUMNS = (
    "revision_id", "entry_id", "revision_no", "row_id", "made_at", "author", "reason", "status", "category", "unit",
    "hunter", "tag_no", "area_written", "area_code", "taken_on", "season", "weapon", "measured_on", "measurer",
    "points_r", "points_l", "measure_key", "spread_credit", "right_total", "left_total", "diff_total", "abnormal_total",
    "deductions", "gross", "net", "stated_spread_credit", "stated_right_total", "stated_left_total", "stated_diff_total",
    "stated_abnormal_total", "stated_deductions", "stated_gross", "stated_net", "score_certain", "entry_no", "antler_state",
)  # fmt: skip
# added since the marks began: each under its name, and only where it is not null
LATER_REVISION_COLUMNS = ("age_half_years",)
# columns that hold anybody's text: its length goes before it, so that no sign in it can end it
TEXTS = frozenset({
    "cells", "author", "reason", "hunter", "tag_no", "area_written", "area_code", "season", "weapon", "measurer", "category",
    "entry_no", "status", "verdict", "antler_state",
})  # fmt: skip


def _mark(columns: tuple[str, ...], later: tuple[str, ...] = ()) -> str:
    # U+001E for "not known" keeps it apart from the empty text
    values = (f"strlen({name})::VARCHAR || ':' || {name}" if name in TEXTS else f"{name}::VARCHAR" for name in columns)
    texts = ", ".join((
        *(f"coalesce({value}, chr(30))" for value in values),
        *(f"'{name}=' || {name}::VARCHAR" for name in later),  # concat_ws passes over what is null
    ))  # fmt: skip
    return f"('0x' || left(sha256(concat_ws(chr(31), {texts})), 16))::UBIGINT"


MARKS = {
    "received_row": _mark(ROW_COLUMNS),
    "entry_revision": _mark(REVISION_COLUMNS, LATER_REVISION_COLUMNS),
}
"""Table -> the SQL expression of a row's mark."""
