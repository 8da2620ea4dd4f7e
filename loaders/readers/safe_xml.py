"""Read XML from strangers: in steps, without entities, without a document type."""

from collections.abc import Callable, Iterable
from xml.parsers import expat

from loaders.readers.archive_checks import damaged
from loaders.readers.source import Source

Attributes = dict[str, str]


class LocalNames(dict[str, str]):
    """Element and attribute names without their namespace prefix, worked out once for each spelling."""

    def __missing__(self, name: str) -> str:
        self[name] = local = name.rpartition(":")[2]
        return local


def parse(
    source: Source,
    part: str,
    chunks: Iterable[bytes],
    start: Callable[[str, Attributes], None],
    end: Callable[[str], None] | None = None,
    text: Callable[[str], None] | None = None,
) -> None:
    """Feed the XML of `part` to the handlers (names with prefix). Raises FileRefused: damaged, or with a DTD."""
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = start
    parser.EndElementHandler = end
    parser.CharacterDataHandler = text

    def refuse_doctype(*_: object) -> None:
        raise source.refused(
            f"part '{part}' declares a document type (DTD), by which entities can be smuggled in",
            "XML as spreadsheet programs write it",
            "Save it anew in a spreadsheet program",
        )

    parser.StartDoctypeDeclHandler = refuse_doctype
    try:
        for step in chunks:
            parser.Parse(step, False)
        parser.Parse(b"", True)
    except (expat.ExpatError, ValueError, KeyError, IndexError) as fault:
        raise damaged(source, f"part {part}: {fault}") from fault


def elements(source: Source, part: str, chunks: Iterable[bytes]) -> list[tuple[str, str, Attributes]]:
    """All elements of a small part as (name of the parent, name, attributes), prefixes taken off."""
    names, open_names, found = LocalNames(), [""], list[tuple[str, str, Attributes]]()

    def start(name: str, attributes: Attributes) -> None:
        found.append((open_names[-1], names[name], {names[key]: value for key, value in attributes.items()}))
        open_names.append(names[name])

    def end(_: str) -> None:
        open_names.pop()

    parse(source, part, chunks, start, end)
    return found
