"""The list of pages. Run it by `beamledger serve`, or `streamlit run dashboards/app.py -- --book FILE`."""

from pathlib import Path

import streamlit as st

from dashboards.frame_of_page import footer, refusal
from dashboards.open_book import book_path
from warehouse.errors import BeamledgerError

HERE = Path(__file__).parent
SIDE_BAR = 220  # pixels; folded away on a phone
PAGES = (
    st.Page("views/overview_page.py", title="Overview", url_path="overview", default=True),
    st.Page("views/audit_queue_page.py", title="Audit queue", url_path="audit-queue"),
    st.Page("views/duplicates_page.py", title="One head or two?", url_path="duplicates"),
    st.Page("views/standing_page.py", title="Standing", url_path="standing"),
    st.Page("views/rankings_page.py", title="Rankings", url_path="rankings"),
    st.Page("views/trend_page.py", title="Trends", url_path="trends"),
    st.Page("views/antlers_page.py", title="Antlers", url_path="antlers"),
    st.Page("views/measurers_page.py", title="Measurers", url_path="measurers"),
    st.Page("views/minimums_page.py", title="Minimums", url_path="minimums"),
)

st.set_page_config(page_title="Beamledger", page_icon=HERE / "icon.png", layout="wide", initial_sidebar_state=SIDE_BAR)
st.logo(HERE / "wordmark.svg", size="large", icon_image=HERE / "icon.png")
page = st.navigation(list(PAGES))
try:
    book_path()
    page.run()
except BeamledgerError as refused:
    refusal(refused)
footer()
