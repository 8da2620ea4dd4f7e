"""Every exception of Beamledger, sorted by whose fault it is.

The message is the whole story for the person at the terminal: what was found, where, what was expected and what
to do next. The command prints it as it stands and leaves with exit code 2.
"""


class BeamledgerError(Exception):
    """Base of all refusals: nothing was done, and the message says why."""


# The file's fault -------------------------------------------------------------------------------------------


class FileRefused(BeamledgerError):
    """A file that cannot be read as score sheets: unreadable, empty, too large, damaged or hostile."""


class MappingRefused(BeamledgerError):
    """A saved heading mapping that names unknown fields or is not there."""


class CorrectionRefused(BeamledgerError):
    """A correction that cannot be made: no name, no reason, an unknown field, or an entry that changed meanwhile."""


class EntryNotFound(BeamledgerError):
    """No entry, or several, have the number that was given."""


class DecisionRefused(BeamledgerError):
    """A decision that cannot be made: no name, no reason, not of this entry's state, or something changed meanwhile."""


class NotInBook(BeamledgerError):
    """A record book, category, area, district, season or weapon was asked for that the book does not have."""


# The book's fault, or its set-up's ---------------------------------------------------------------------------


class ReferenceRefused(BeamledgerError):
    """A reference table (areas, measurers, minimums ...) that breaks its own rules; rows are named."""


class CategoryRefused(BeamledgerError):
    """A category definition that cannot be scored with; the file and the key are named."""


class BookRefused(BeamledgerError):
    """A book that cannot be opened or written: not there, not a book, or already there."""


class BookLocked(BookRefused):
    """Another process holds the book; the message names it."""


class BookDamaged(BookRefused):
    """The book's file is damaged or smaller than its anchor says it was."""


class BookOlder(BookRefused):
    """The book was made by an earlier version of this program and must be upgraded first."""


class EditionRefused(BeamledgerError):
    """An edition that cannot be published: no accepted entry, a name that is no name, a folder that cannot be written."""


class BackupRefused(BeamledgerError):
    """A backup that cannot be written, or is no backup, is damaged or does not hold what it says."""


class BookNewer(BookRefused):
    """The book was made by a newer version of this program."""


# Ours --------------------------------------------------------------------------------------------------------


class InternalFault(BeamledgerError):
    """A promise of this program that did not hold; please report it."""
