"""What the arguments name, as the book calls it: category, area, weapons, seasons. One way for every command."""

import re
from collections.abc import Sequence

from dashboards.asked import one_of
from dashboards.words import USUAL_CATEGORY, WEAPON_CLASSES
from loaders.names import Names
from loaders.value_words import UNCLEAR, category_code_of, weapon_of
from warehouse.book.reference.season_labels import label_of, year_of
from warehouse.categories import all_categories
from warehouse.errors import NotInBook
from warehouse.plain_text import shown


def check_window(first: str | None, last: str | None) -> None:
    """Raise NotInBook where one of the two is no season, or the first is after the last."""
    for text in filter(None, (first, last)):
        check_season(text)
    if first and last and first > last:
        raise NotInBook(f"--from {first} is after --to {last}")


def check_season(text: str) -> None:
    """Raise NotInBook where `text` is no season like 2024-25."""
    if not re.fullmatch(r"\d{4}-\d{2}", text) or label_of(year_of(text)) != text:
        raise NotInBook(f"'{shown(text)}' is no season; expected one like 2024-25")


def category_of(text: str | None) -> str | None:
    """The code of a category; None where none is named. Raises NotInBook for an unknown one."""
    code = category_code_of(text)
    if text is not None and code is None:
        one_of("--category", text, list(all_categories()))
    return code


def usual_category(there: Sequence[str]) -> str:
    """The category where none is named: white-tailed deer, typical, else the only one `there`. Raises NotInBook for several."""
    if USUAL_CATEGORY in there or not there:
        return USUAL_CATEGORY
    if len(there) == 1:
        return there[0]
    raise NotInBook(
        f"the book holds no {USUAL_CATEGORY}; name one of its categories with --category: {', '.join(there)}"
    )


def area_of(text: str | None, names: Names) -> str | None:
    """The code of an area named by name or code; None where none is named. Raises NotInBook for an unknown one."""
    if text is None:
        return None
    found = names.find_area(text, None)
    if found.area is None:
        hint = f"; did you mean {shown(found.hint)}?" if found.hint else ""
        raise NotInBook(f"--area '{shown(text)}': not in the book's table of areas{hint}")
    return found.area.code


def weapons_of(text: str | None) -> tuple[str, ...]:
    """The weapon or class of weapons; () for any. Raises NotInBook for an unknown one."""
    if text is None or text == "any":
        return ()
    if text in WEAPON_CLASSES:
        return (text,)
    weapon = weapon_of(text)
    if weapon is None or weapon == UNCLEAR:
        raise NotInBook(
            f"--weapon '{shown(text)}': expected rifle, shotgun, handgun, muzzleloader, bow, crossbow or found, or firearm "
            "for the first three"
        )
    return (weapon,)
