"""What a page says, as plain text for comparison."""

import re

from streamlit.testing.v1 import AppTest

from dashboards.words import WORD_JOINER


def said(app: AppTest) -> list[str]:
    """Every printed sentence of the page, Markdown's backslashes and our word joiners taken away."""
    kinds = (app.title, app.subheader, app.markdown, app.text, app.caption, app.warning, app.info, app.error)
    texts = [str(element.value) for kind in (*kinds, app.success, app.code) for element in kind]
    return [re.sub(r"\\(?=[!-/:-@\[-`{-~])", "", text).replace(WORD_JOINER, "") for text in texts]


def figures(app: AppTest) -> dict[str, str]:
    """Label -> figure of every metric."""
    return {metric.label: str(metric.value) for metric in app.metric}


def table(app: AppTest, place: int = 0) -> list[dict[str, object]]:
    """The rows of the n-th drawn table."""
    return [dict(row) for row in app.dataframe[place].value.to_dict("records")]


def laid_out(app: AppTest, place: int) -> list[list[str]]:
    """The cells of the n-th written table, escapes taken away."""
    rows = app.table[place].value.to_numpy().tolist()
    return [[re.sub(r"\\(?=[!-/:-@\[-`{-~])", "", str(cell)).replace("\u00a0", " ") for cell in row] for row in rows]
