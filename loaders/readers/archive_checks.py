"""Open a ZIP container only after its directory has been looked over, and count while it is expanded."""

import io
import zipfile
import zlib
from collections.abc import Iterator

from loaders.readers import limits
from loaders.readers.source import Source
from warehouse.errors import FileRefused
from warehouse.plain_text import shown

_STEP = 256 * limits.KIB
_DAMAGE = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    NotImplementedError,
    RuntimeError,
    ValueError,
    OverflowError,
    MemoryError,
)
_ARCHIVES = (".zip", ".7z", ".rar", ".gz", ".bz2", ".xz", ".tar", ".zst")
_SAVE_AGAIN = "Open it in a spreadsheet program, save it as a new XLSX or as CSV, and load that file"


def damaged(source: Source, what: str) -> FileRefused:
    """The refusal of a workbook that is cut short or changed; `what` says where it shows."""
    return source.refused(
        f"the workbook is damaged or cut short ({shown(what)})",
        "a whole XLSX or ODS workbook",
        "Ask the sender for the file again, or save it anew",
    )


class Archive:
    """A checked ZIP container. Raises FileRefused when its directory breaks a limit or cannot be read."""

    def __init__(self, source: Source) -> None:
        self.source = source
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(source.data))
        except _DAMAGE as fault:
            raise damaged(source, str(fault) or type(fault).__name__) from fault
        members = self._zip.infolist()
        _check_directory(source, members)
        self._members = {member.filename: member for member in members}

    @property
    def names(self) -> frozenset[str]:
        """Names of all members."""
        return frozenset(self._members)

    def chunks(self, name: str) -> Iterator[bytes]:
        """The expanded bytes of member `name`, step by step, to its end. Raises FileRefused when damaged."""
        member = self._members.get(name)
        if member is None:
            raise damaged(self.source, f"part {name} is missing")
        total = 0
        try:
            with self._zip.open(member) as stream:
                while step := stream.read(_STEP):
                    total += len(step)
                    if total > limits.MAX_MEMBER_BYTES:
                        raise _too_large(self.source, f"part '{shown(name)}' expands past its stated size")
                    yield step
        except _DAMAGE as fault:
            raise damaged(self.source, f"part {name}: {fault or type(fault).__name__}") from fault
        if total != member.file_size:
            raise damaged(self.source, f"part {name} is shorter than the directory says")


def _check_directory(source: Source, members: list[zipfile.ZipInfo]) -> None:
    if len(members) > limits.MAX_MEMBERS:
        raise source.refused(
            f"the archive lists {len(members):,} parts", f"at most {limits.MAX_MEMBERS:,}", _SAVE_AGAIN
        )
    if len({member.filename for member in members}) < len(members):
        raise damaged(source, "a part is listed twice")
    for member in members:
        _check_member(source, member)
    total = sum(member.file_size for member in members)
    if total > limits.MAX_EXPANDED_BYTES:
        raise _too_large(source, f"the archive expands to {total:,} bytes")


def _check_member(source: Source, member: zipfile.ZipInfo) -> None:
    name, size = shown(member.filename, limits.SHOWN_CHARACTERS), member.file_size
    if member.flag_bits & 1:
        raise source.refused(
            f"part '{name}' is locked with a password",
            "an open workbook",
            "Save it without a password and load that file",
        )
    if member.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
        raise damaged(source, f"part {name} is packed by method {member.compress_type}")
    if member.filename.lower().endswith(_ARCHIVES):
        raise source.refused(f"the archive holds another archive, '{name}'", "a workbook", _SAVE_AGAIN)
    if size > limits.MAX_MEMBER_BYTES:
        raise _too_large(source, f"part '{name}' expands to {size:,} bytes")
    if size > limits.RATIO_FROM_BYTES and size > member.compress_size * limits.MAX_RATIO:
        raise source.refused(
            f"part '{name}' expands {size // max(member.compress_size, 1):,} times",
            f"at most {limits.MAX_RATIO} times",
            _SAVE_AGAIN,
        )


def _too_large(source: Source, found: str) -> FileRefused:
    return source.refused(
        found,
        f"at most {limits.MAX_MEMBER_BYTES:,} bytes a part and {limits.MAX_EXPANDED_BYTES:,} together",
        "Remove unused sheets and styled blank rows, or save as CSV",
    )
