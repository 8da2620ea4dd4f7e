"""Files are written whole, with the same bytes every time, and a refusal leaves what stood there."""

from pathlib import Path

import pytest

from dashboards.publications.edition_files import FORMATS, Written, write_edition
from tests.dashboards.publications.hand_edition import hand_edition
from warehouse.book.editions import Edition
from warehouse.errors import EditionRefused


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_every_format_is_written_and_nothing_else(tmp_path: Path) -> None:
    folder = tmp_path / "new" / "edition"
    written = write_edition(hand_edition(), folder)
    assert sorted(contents(folder)) == ["changes.csv", "errata.csv", "rankings.csv", "rankings.html"]
    assert written == [Written(folder / name, len(make(hand_edition()))) for name, make in FORMATS.items()]


def test_again_it_is_the_same_and_other_files_stay(tmp_path: Path) -> None:
    write_edition(hand_edition(), tmp_path)
    (tmp_path / "notes.txt").write_text("ours")
    (tmp_path / "rankings.csv").write_text("an older one, and longer" * 1000)
    first = contents(tmp_path)
    write_edition(hand_edition(), tmp_path)
    assert contents(tmp_path) == first | {name: make(hand_edition()) for name, make in FORMATS.items()}


def test_a_link_in_the_way_is_replaced_and_not_written_through(tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_text("ours")
    folder = tmp_path / "edition"
    folder.mkdir()
    (folder / "rankings.csv").symlink_to(outside)
    write_edition(hand_edition(), folder)
    assert outside.read_text() == "ours"
    assert not (folder / "rankings.csv").is_symlink()


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    taken = tmp_path / "edition"
    taken.write_text("ours")
    with pytest.raises(EditionRefused) as refusal:
        write_edition(hand_edition(), taken)
    assert str(refusal.value) == (
        f"{taken}: edition '2026' is kept in the book, but its files cannot be written there: File exists; choose a folder "
        "that can be written, and publish '2026' again: it comes out the same"
    )
    assert taken.read_text() == "ours"


def test_a_full_disk_leaves_the_older_file_whole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_edition(hand_edition(), tmp_path)
    before = contents(tmp_path)

    def full(number: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(EditionRefused, match="cannot be written there: No space left on device; choose a folder"):
        write_edition(hand_edition(None), tmp_path)
    assert contents(tmp_path) == before


def test_nothing_is_written_where_one_format_cannot_be_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(edition: Edition) -> bytes:
        raise ValueError(edition.name)

    monkeypatch.setitem(FORMATS, "last.txt", broken)
    with pytest.raises(ValueError, match="2026"):
        write_edition(hand_edition(), tmp_path / "edition")
    assert not (tmp_path / "edition").exists()
