"""The arguments of the command, each command with a runnable example in its help."""

import argparse
from importlib.metadata import version
from pathlib import Path
from typing import NoReturn

from dashboards import book_arguments
from dashboards.book_arguments import as_json, book, wait
from warehouse.plain_text import shown

EXAMPLES = {
    "init": "beamledger init region.duckdb --reference sample_data/reference",
    "load": "beamledger load sample_data/sheets/sheets_2024-25.csv --book region.duckdb",
    "check": "beamledger check sample_data/messy/parish_list.csv",
    "findings": "beamledger findings --book region.duckdb --json",
    "entries": "beamledger entries --book region.duckdb",
    "demo": "beamledger demo --no-serve",
    "correct": 'beamledger correct --book region.duckdb --entry 217 --accept --by "Una Reed" --why "the paper sheet says so"',
    "upgrade": "beamledger upgrade region.duckdb",
    "serve": "beamledger serve --book region.duckdb --port 8600",
    "standing": "beamledger standing --book region.duckdb --entry 217",
    "rank": 'beamledger rank --book region.duckdb --in "Quillmark Record" --category whitetail-typical --top 10',
    "trend": 'beamledger trend --book region.duckdb --in "Quillmark Record" --from 2006-07',
    "measurers": 'beamledger measurers --book region.duckdb --in "Quillmark Record"',
    "decide": 'beamledger decide --book region.duckdb 217 hold --by "Una Reed" --why "which of the two tags is it?"',
    "duplicates": "beamledger duplicates --book region.duckdb",
    "verify": "beamledger verify --book region.duckdb",
    "publish": "beamledger publish --book region.duckdb --edition 2026 --to edition_2026",
    "reference": 'beamledger reference sample_data/reference/minimums.csv --book region.duckdb --why "minimums of 2026"',
    "backup": "beamledger backup region.duckdb region_backup.zip",
    "restore": "beamledger restore region_backup.zip restored.duckdb",
}
NOTICE = "A book's own rules and local law outrank this program."


class Parser(argparse.ArgumentParser):
    """A parser that repeats what it does not understand without letting it act on the terminal."""

    def error(self, message: str) -> NoReturn:
        """Print the usage and the message, leave with exit code 2."""
        super().error(shown(message))


def make_parser() -> Parser:
    """The parser of all commands."""
    parser = Parser(
        prog="beamledger",
        description="The records book of a region's scored deer: every sheet recomputed, audited and kept.",
        epilog=f"Exit codes: 0 done and clean, 1 done with findings that need a person, 2 not done. {NOTICE}",
    )
    parser.add_argument("--version", action="version", version=f"beamledger {version('beamledger')}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _init(_command(commands, "init", "make an empty book"))
    _load(_command(commands, "load", "audit files and keep them in a book"))
    _check(_command(commands, "check", "audit files without a book"))
    _book_report(_command(commands, "findings", "list the sheets of a book that have findings"))
    _book_report(_command(commands, "entries", "list the entries of a book"))
    _correct(_command(commands, "correct", "put cells of one entry right, as a new revision"))
    _upgrade(_command(commands, "upgrade", "bring a book of an earlier version up to date, keeping a copy"))
    _demo(_command(commands, "demo", "build a book from the sample data and show it"))
    _serve(_command(commands, "serve", "show a book in the browser"))
    for name, (summary, add_to) in book_arguments.COMMANDS.items():
        add_to(_command(commands, name, summary))
    return parser


def _command(commands: "argparse._SubParsersAction[Parser]", name: str, summary: str) -> Parser:
    return commands.add_parser(
        name,
        help=summary,
        description=summary[0].upper() + summary[1:] + ".",
        epilog=f"example: {EXAMPLES[name]}",
    )


def _mapping(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--map", action="append", default=[], metavar="HEADING=FIELD",
        help="the field a heading means; FIELD '-' sets the column aside; may be repeated",
    )  # fmt: skip


def _init(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("book", type=Path, metavar="BOOK", help="the file to make")
    parser.add_argument(
        "--areas", type=Path, metavar="CSV", help="counties and parishes: area_code, name, state, district, region"
    )
    parser.add_argument("--reference", type=Path, metavar="FOLDER",
                        help="areas.csv, measurers.csv, seasons.csv, books.csv, minimums.csv ..., as far as they are there")  # fmt: skip
    parser.add_argument("--demo", action="store_true", help="the reference tables of the invented demo region")


def _load(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    book(parser)
    parser.add_argument("--by", metavar="NAME", help="who loads (default: the login name)")
    parser.add_argument("--dry-run", action="store_true", help="report what a load would do and write nothing")
    _mapping(parser)
    parser.add_argument("--mapping", metavar="NAME", help="use the heading mapping saved under this name")
    parser.add_argument("--save-mapping", metavar="NAME", help="save the headings given with --map under this name")
    as_json(parser)


def _check(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", type=Path, metavar="FILE")
    _mapping(parser)
    as_json(parser)


def _book_report(parser: argparse.ArgumentParser) -> None:
    book(parser)
    as_json(parser)


def _correct(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("--entry", required=True, metavar="NO", help="the entry's number, or its ID as =ID")
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument(
        "--cell", action="append", default=[], metavar="FIELD=TEXT",
        help="the text a cell should have; nothing behind = empties it; may be repeated",
    )  # fmt: skip
    what.add_argument(
        "--accept",
        nargs="?",
        type=int,
        const=0,
        metavar="N",
        help="make the correction that explanation N proposes (the likeliest)",
    )
    parser.add_argument("--by", required=True, metavar="NAME", help="who corrects")
    parser.add_argument("--why", required=True, metavar="TEXT", help="the reason, kept with the revision")


def _upgrade(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("book", type=Path, metavar="BOOK", help="the book's file")
    wait(parser)


def _demo(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--book", type=Path, default=Path("demo.duckdb"), metavar="BOOK", help="where to build it (demo.duckdb)"
    )
    parser.add_argument("--no-serve", action="store_true", help="do not start the dashboard")
    parser.add_argument("--port", type=int, metavar="N", help="the dashboard's port (the first free one from 8600)")
    wait(parser)


def _serve(parser: argparse.ArgumentParser) -> None:
    book(parser)
    parser.add_argument("--port", type=int, metavar="N", help="the port (the first free one from 8600)")
