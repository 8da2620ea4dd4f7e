"""What a backup is: a ZIP file of exactly three members, the book, its anchor, and a manifest that says what they hold.

A backup may come from anybody, so nothing of it is unpacked before the names and sizes of its members are those that a
backup has, and never more than the size that the manifest states.
"""

import hashlib
import shutil
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import BinaryIO

from pydantic import AwareDatetime, BaseModel, ConfigDict, Field, ValidationError

from warehouse.errors import BackupRefused
from warehouse.plain_text import shown

BOOK, ANCHOR, MANIFEST = "book.duckdb", "book.duckdb.anchor", "manifest.json"
FORMAT_VERSION = 1
MOST_BYTES = {ANCHOR: 65_536, MANIFEST: 1_048_576}  # both are some hundred bytes; the book is held to the manifest
PIECE = 1_048_576
ENCRYPTED = 0x1  # of the general purpose bit flag (ZIP application note 4.4.4)
DAMAGE = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, ValueError, NotImplementedError)
ADVICE = "take another backup; nothing was kept"


class _Exact(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class Member(_Exact):
    """One packed file: its length and the SHA-256 of its bytes, in hexadecimal."""

    bytes: int = Field(ge=0)
    sha256: str = Field(pattern="^[0-9a-f]{64}$")


class Holds(_Exact):
    """What a book holds, told so that two books can be compared."""

    schema_name: str = Field(pattern=r"^\d{4}_\w+\.sql$")
    book_hash: str = Field(pattern="^[0-9a-f]{64}$")
    events: int = Field(ge=0)
    head: str = Field(pattern="^[0-9a-f]{64}$")
    counts: dict[str, int]

    @property
    def schema_number(self) -> int:
        """The number of the newest migration."""
        return int(self.schema_name[:4])


class Manifest(_Exact):
    """What the manifest of a backup says."""

    format_version: int
    program: str
    storage_version: str
    made_at: AwareDatetime
    holds: Holds
    files: dict[str, Member]


def write(out: Path, source: BinaryIO, anchored: bytes, told: Manifest) -> Manifest:
    """Write a backup to `out`, of the book's bytes in `source`; returns `told` with its `files` as they were packed.

    Raises OSError.
    """
    with out.open("xb") as file, zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as packed:
        book = _pack(packed, BOOK, told.made_at, source)
        anchor = Member(bytes=len(anchored), sha256=hashlib.sha256(anchored).hexdigest())
        _pack_text(packed, ANCHOR, told.made_at, anchored)
        manifest = told.model_copy(update={"files": {BOOK: book, ANCHOR: anchor}})
        _pack_text(packed, MANIFEST, told.made_at, manifest.model_dump_json(indent=1).encode())
    return manifest


def _pack(packed: zipfile.ZipFile, name: str, made_at: datetime, source: BinaryIO) -> Member:
    digest, length = hashlib.sha256(), 0
    with packed.open(_named(name, made_at), "w", force_zip64=True) as member:
        while piece := source.read(PIECE):
            digest.update(piece)
            length += len(piece)
            member.write(piece)
    return Member(bytes=length, sha256=digest.hexdigest())


def _pack_text(packed: zipfile.ZipFile, name: str, made_at: datetime, data: bytes) -> None:
    packed.writestr(_named(name, made_at), data, zipfile.ZIP_DEFLATED)


def _named(name: str, made_at: datetime) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, made_at.timetuple()[:6])
    info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, 0o600 << 16
    return info


class Opened:
    """A backup whose members have the names and sizes of one."""

    def __init__(self, path: Path, packed: zipfile.ZipFile) -> None:
        """Raises BackupRefused for what is no backup."""
        self.path, self._packed = path, packed
        _check_members(path, packed.infolist())
        self.manifest = self._manifest()
        for name, member in self.manifest.files.items():
            packed_size = packed.getinfo(name).file_size
            if packed_size != member.bytes:
                raise _refused(path, f"{name} has {packed_size} bytes, its manifest says {member.bytes}")

    def _manifest(self) -> Manifest:
        with _refusing(self.path):
            text = self._packed.read(MANIFEST)
        try:
            manifest = Manifest.model_validate_json(text)
        except ValidationError as wrong:
            where = ".".join(map(str, wrong.errors()[0]["loc"])) or "the text"
            raise _refused(self.path, f"its {MANIFEST} cannot be read: {where}: {wrong.errors()[0]['msg']}") from wrong
        if manifest.format_version != FORMAT_VERSION:
            raise BackupRefused(
                f"{shown(str(self.path))}: a backup of format {manifest.format_version}, this program knows format "
                f"{FORMAT_VERSION}; update the program, nothing was unpacked"
            )
        if set(manifest.files) != {BOOK, ANCHOR}:
            raise _refused(self.path, f"its {MANIFEST} must tell of {BOOK} and {ANCHOR}")
        return manifest

    def check(self) -> None:
        """Read every member and hold it against its checksums. Raises BackupRefused."""
        with _refusing(self.path):
            for name in (BOOK, ANCHOR):
                self._copy(name, None)

    def unpack(self, name: str, to: Path) -> None:
        """Write one member to `to`, checked. Raises BackupRefused, or OSError where it cannot be written."""
        with to.open("xb") as out, _refusing(self.path):
            self._copy(name, out)

    def _copy(self, name: str, out: BinaryIO | None) -> None:
        said, digest, length = self.manifest.files[name], hashlib.sha256(), 0
        with self._packed.open(name) as member:
            while piece := member.read(PIECE):
                length += len(piece)
                if length > said.bytes:
                    break
                digest.update(piece)
                if out is not None:
                    out.write(piece)
        if length != said.bytes or digest.hexdigest() != said.sha256:
            raise _refused(self.path, f"{name} is not as it was packed: its SHA-256 is another one")


@contextmanager
def opened(path: Path) -> Iterator[Opened]:
    """A backup, open for reading. Raises BackupRefused for what is none, or is damaged."""
    try:
        file = path.open("rb")
    except OSError as refusal:
        raise BackupRefused(
            f"{shown(str(path))}: cannot be opened: {refusal.strerror}; check the file name"
        ) from refusal
    with file:
        with _refusing(path):
            packed = zipfile.ZipFile(file)
        with packed:
            yield Opened(path, packed)


@contextmanager
def _refusing(path: Path) -> Iterator[None]:
    try:
        yield
    except DAMAGE as damage:
        raise _refused(path, shown(str(damage) or type(damage).__name__)) from damage


def _check_members(path: Path, members: list[zipfile.ZipInfo]) -> None:
    names = [member.filename for member in members]
    if sorted(names) != sorted((BOOK, ANCHOR, MANIFEST)):
        listed = shown(", ".join(names[:4]), 80) + (" ..." if len(names) > 4 else "")
        raise _refused(path, f"it holds {listed or 'nothing'}; a backup holds {BOOK}, {ANCHOR} and {MANIFEST}")
    for member in members:
        if member.flag_bits & ENCRYPTED or member.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise _refused(path, f"{member.filename} is packed in a way that no backup is")
        most = MOST_BYTES.get(member.filename)
        if most is not None and member.file_size > most:
            raise _refused(path, f"{member.filename} has {member.file_size} bytes, at most {most} were expected")


def check_room(opened_backup: Opened, folder: Path) -> None:
    """Raise BackupRefused where the disk of `folder` has no room for what the backup holds."""
    needed, free = sum(member.bytes for member in opened_backup.manifest.files.values()), shutil.disk_usage(folder).free
    if needed > free:
        raise BackupRefused(
            f"{shown(str(opened_backup.path))}: holds {needed} bytes, {shown(str(folder))} has room for {free}; make room, "
            "or restore elsewhere"
        )


def _refused(path: Path, why: str) -> BackupRefused:
    return BackupRefused(f"{shown(str(path))}: not a whole backup of a book: {why}; {ADVICE}")
