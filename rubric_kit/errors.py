"""What can go wrong, in words a parent can act on: what is wrong, where, and what to do."""


class RubricKitError(Exception):
    """The base of every error this package raises on purpose; its text is fit to show a parent."""


class UnreadableFileError(RubricKitError):
    """A handed-in file cannot be read as an essay."""


class RubricFileError(RubricKitError):
    """A rubric file cannot be used as it stands."""


class RecordsError(RubricKitError):
    """The family's records cannot be opened, read or written as asked."""
