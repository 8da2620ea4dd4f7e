"""Category files: what ships, and what a file that cannot be scored with is told."""

from pathlib import Path

import pytest

from warehouse.categories import all_categories, category_of, read_category
from warehouse.errors import CategoryRefused

HEAD = 'code = "t"\nname = "T"\nspecies = "t"\nkind = "antlered"\nunit = 8\nabnormal = "none"\nbounds_source = "test"\n'
BEAM = '[[lines]]\nname = "beam"\nlabel = "Beam"\nkind = "beam"\nsides = "pair"\n'
SPREAD = '[[lines]]\nname = "s"\nlabel = "S"\nkind = "spread"\nsides = "single"\nuse = "credited"\n'
PROBLEMS = {
    "line names must differ; twice: beam": BEAM + BEAM,
    "line s: capped_by names 'horn', which is no line of this category": BEAM + SPREAD + 'capped_by = "horn"\n',
    "line s: at_least_line names 'x', which is no line of this category": BEAM + SPREAD + 'at_least_line = "x"\n',
    "line beam: only a spread can be credited; other lines are scored or recorded": BEAM + 'use = "credited"\n',
    "line s: a spread that is credited is a single measure, not a pair": SPREAD.replace("single", "pair"),
    "line g: points, and only points, carry an order (1, 2, 3 ...)": BEAM.replace('"beam"', '"g"', 1).replace(
        'kind = "beam"', 'kind = "point"'
    ),
}


def _read(folder: Path, lines: str) -> None:
    path = folder / "t.toml"
    path.write_text(HEAD + lines, encoding="utf-8")
    read_category(path)


def test_the_categories_that_ship() -> None:
    assert list(all_categories()) == ["elk-nontypical", "elk-typical", "whitetail-nontypical", "whitetail-typical"]
    typical, nontypical = category_of("whitetail-typical"), category_of("whitetail-nontypical")
    assert (typical.abnormal, nontypical.abnormal) == ("subtracted", "added")
    assert typical.lines == nontypical.lines
    assert [line.name for line in typical.pairs] == [
        "beam",
        *(f"g{n}" for n in range(1, 8)),
        *(f"h{n}" for n in range(1, 5)),
    ]


def test_an_unknown_code_names_the_known_ones() -> None:
    message = "category 'moose' is not known; expected one of: elk-nontypical, elk-typical, whitetail-nontypical, whitetail-typical"
    with pytest.raises(CategoryRefused) as refusal:
        category_of("moose")
    assert str(refusal.value) == message


@pytest.mark.parametrize("problem", PROBLEMS)
def test_a_category_that_does_not_hang_together(tmp_path: Path, problem: str) -> None:
    with pytest.raises(CategoryRefused) as refusal:
        _read(tmp_path, PROBLEMS[problem])
    assert str(refusal.value) == f"t.toml: {problem}"


@pytest.mark.parametrize("text", ["36", "36 8/8", "36 0/16", "x"])
def test_a_bound_that_is_no_length(tmp_path: Path, text: str) -> None:
    with pytest.raises(CategoryRefused, match=r"^t\.toml: "):
        _read(tmp_path, BEAM + f'most = "{text}"\n')


def test_a_key_that_nobody_knows(tmp_path: Path) -> None:
    with pytest.raises(CategoryRefused) as refusal:
        _read(tmp_path, BEAM + 'colour = "red"\n')
    assert str(refusal.value) == (
        "t.toml: lines.0: unknown key 'colour'; expected: name, label, kind, sides, use, capped_by, at_least_line, "
        "needed, order, least, most"
    )


@pytest.mark.parametrize(
    ("lines", "problem"),
    [
        (BEAM.replace('"pair"', '"both"'), "lines.0.sides: found 'both'; expected one of: pair, single"),
        (BEAM + "needed = 1\n", "lines.0.needed: found 1; expected bool"),
        (BEAM + 'order = "1"\n', "lines.0.order: found '1'; expected int"),
        (
            BEAM.replace('"beam"', '"Main Beam"', 1),
            "lines.0: a name is small letters, digits and _ (a code may have -)",
        ),
    ],
)
def test_a_value_of_the_wrong_kind_names_its_key(tmp_path: Path, lines: str, problem: str) -> None:
    with pytest.raises(CategoryRefused) as refusal:
        _read(tmp_path, lines)
    assert str(refusal.value) == f"t.toml: {problem}"


def test_a_file_that_is_no_toml(tmp_path: Path) -> None:
    path = tmp_path / "broken.toml"
    path.write_text("code = ", encoding="utf-8")
    with pytest.raises(CategoryRefused, match=r"^broken\.toml: cannot be read as a category: "):
        read_category(path)
