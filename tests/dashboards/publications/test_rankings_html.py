"""The printed page: its tables, its words, and nothing of what others wrote acting in it."""

import re
from html.parser import HTMLParser

import pytest

from dashboards.publications.lists_html import books
from dashboards.publications.rankings_html import rankings
from tests.dashboards.publications.hand_edition import HEAD, HOSTILE_BOOK, RULES, hand_edition
from warehouse.book.editions import Edition

VOID = {"meta", "link", "br", "img", "hr", "input"}


class Page(HTMLParser):
    """Every tag with its attributes, and the text within each table cell, caption, paragraph, heading and list item."""

    def __init__(self, content: bytes) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[tuple[str, str]] = []
        self.open: list[str] = []
        self.feed(content.decode())
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.texts.append((tag, ""))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.texts and data.strip():
            tag, text = self.texts[-1]
            self.texts[-1] = (tag, text + data)

    def of(self, tag: str) -> list[str]:
        return [text for name, text in self.texts if name == tag]

    def cells(self) -> list[list[str]]:
        """The rows of every table body, as text."""
        found: list[list[str]] = []
        for (tag, attributes), (_, text) in zip(self.tags, self.texts, strict=True):
            if tag == "tr":
                found.append([])
            elif tag == "td" or attributes.get("scope") == "row":
                found[-1].append(text)
        return [row for row in found if row]


@pytest.fixture(scope="module")
def page() -> Page:
    return Page(rankings(hand_edition()))


def test_the_page_is_whole_and_fetches_nothing(page: Page) -> None:
    assert page.open == []
    assert page.tags[0] == ("html", {"lang": "en"})
    assert {tag for tag, _ in page.tags} <= {
        "html", "head", "meta", "title", "style", "body", "header", "main", "nav", "section", "div", "h1", "h2", "h3", "h4",
        "p", "dl", "dt", "dd", "ul", "ol", "li", "a", "table", "caption", "span", "thead", "tbody", "tr", "th", "td",
    }  # fmt: skip
    named = {name for _, attributes in page.tags for name in attributes}
    assert named == {"lang", "charset", "name", "content", "http-equiv", "class", "role", "tabindex", "aria-labelledby",
                     "id", "scope", "href"}  # fmt: skip
    assert not re.search(r"url\(|@import|https?:", page.of("style")[0])


def test_every_link_leads_to_a_place_on_the_page(page: Page) -> None:
    ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
    links = [attributes["href"] for tag, attributes in page.tags if tag == "a"]
    labels = [attributes["aria-labelledby"] for _, attributes in page.tags if "aria-labelledby" in attributes]
    assert len(ids) == len(set(ids))
    assert {f"#{name}" for name in ids} >= set(links)
    assert set(labels) <= set(ids)
    assert page.of("a") == [
        "Bow Register", "Rules and minimums", "White-tailed deer, typical", HOSTILE_BOOK, "Rules and minimums",
        "White-tailed deer, typical", "Changes since edition 2025", "Errata",
    ]  # fmt: skip


def test_tables_are_tables(page: Page) -> None:
    tags = [tag for tag, _ in page.tags]
    assert tags.count("table") == tags.count("caption") == tags.count("thead") == 6
    assert {attributes.get("scope") for tag, attributes in page.tags if tag == "th"} == {"col", "row"}
    assert [text for tag, text in page.texts if tag == "span"] == [
        "Minimums of Bow Register, in inches, with the seasons they are for",
        "Bow Register. White-tailed deer, typical: 1 head of season 2025-26",
        "Bow Register. White-tailed deer, typical: 1 head of all seasons",
        f"Minimums of {HOSTILE_BOOK}, in inches, with the seasons they are for",
        f"{HOSTILE_BOOK}. White-tailed deer, typical: 3 heads of all seasons",
        f"3 changes in {HOSTILE_BOOK}, White-tailed deer, typical",
    ]
    assert "No head of season 2025-26 qualified." in page.of("p")


def test_the_lists_and_the_minimums(page: Page) -> None:
    rows = page.cells()
    assert rows[0] == ["White-tailed deer, typical", "Bow", "Hard or velvet", "125 0/8", "gross", "from 2020-21 on"]
    assert rows[1] == ["1", "125 0/8", "125 3/8", "Ilse Marrowby", "–", "–", "2025-26", "–", "Velvet", "–"]
    assert rows[3] == ["White-tailed deer, typical", "Any weapon", "Hard", "138 1/8", "net", "2018-19 to 2022-23"]
    assert rows[5:8] == [
        ["1 =", "150 0/8", "152 0/8", r"\u202eevil", "Abberlow", "North", "2024-25", "Rifle", "Hard", "4"],
        ["1 =", "150 0/8", "151 7/8", "<img src=x onerror=alert(1)>&\"'", "Abberlow", "North", "2024-25", "Rifle", "Hard", "-5"],
        ["3", "5/16", "10 0/16", '=HYPERLINK("http://x.invalid","y")', "Abberlow", "North", "2023-24", "Bow", "Hard", "6"],
    ]  # fmt: skip
    assert rows[9] == ["4", "corrected", "2", "1", r"\u202eevil",
                           "Net 140\xa00/8 is now 150\xa00/8. Reason: =1+1\\x0a<b>read</b> wrong."]  # fmt: skip


def test_rules_notice_and_chain_are_said_in_words(page: Page) -> None:
    told = page.of("p")
    shared = (
        "share a place, and as many places behind it stay empty (1, 2 =, 2 =, 4). What is asked for: " + RULES + "."
    )
    assert told[0] == "Edition 2026"
    assert told[1].startswith("A book’s own rules and local law outrank this program.")
    assert told[2] == f"This edition rests on 1,500 events of the log; the hash of the last one is {HEAD}."
    assert (
        "Ranked by gross. Of heads with equal scores, the one that was taken first goes first; heads equal in both "
        + shared
        in told
    )
    assert f"Seasons 2018-19 to 2022-23: Ranked by net. Heads with equal scores {shared}" in told
    assert page.of("dd") == ["2026-03-01", "2025-26", "1,234", "2025"]


def test_changes_and_errata_are_told(page: Page) -> None:
    assert "Held against the lists of all time: 1 new, 1 corrected, 1 withdrawn, 0 moved." in page.of("p")
    assert "Of edition 2025, 2 lines of the lists of all time no longer hold." in page.of("p")
    assert page.of("li")[-2:] == [
        rf"{HOSTILE_BOOK}, White-tailed deer, typical, place 2, entry 4, \u202eevil: "
        "Net 140\xa00/8 is now 150\xa00/8. Reason: =1+1\\x0a<b>read</b> wrong.",
        f"{HOSTILE_BOOK}, White-tailed deer, typical, place 3, entry –, <img src=x onerror=alert(1)>&\"': "
        "Withdrawn: the owner asked for it.",
    ]


def test_the_first_edition_says_so() -> None:
    page = Page(rankings(hand_edition(None)))
    assert page.of("dd")[-1] == "none: this is the first"
    assert "This is the first edition; there is none to hold it against." in page.of("p")
    assert "No line of an edition before is known to be wrong." in page.of("p")


def test_an_edition_without_changes_says_so() -> None:
    edition = hand_edition()
    page = Page(rankings(Edition(**{**vars(edition), "changes": edition.changes.clear()})))
    assert "No list of all time differs from the edition before." in page.of("p")


def test_a_name_cannot_end_the_style_sheet() -> None:
    named = Edition(**{**vars(hand_edition()), "name": '2026"}</style><script>'})
    assert Page(rankings(named)).open == []
    assert b'content: "Edition 2026\\22 \\7d \\3c \\2f style\\3e \\3c script\\3e "' in rankings(named)


def test_books_by_name() -> None:
    assert books(hand_edition()) == ["Bow Register", HOSTILE_BOOK]
