"""What can go wrong, said as a sentence for the person at the table.

Every foreseen failure in the house is a ``HemwardError``. Its text says what is
wrong, where, and what to do; the command line and the window show it as it is.
"""

from __future__ import annotations


class HemwardError(Exception):
    """Base of all foreseen failures; ``str()`` is a whole sentence."""


class CurveError(HemwardError):
    """Geometry that cannot be: a gap in a chain, a split outside a curve."""


class PieceError(HemwardError):
    """A pattern piece that cannot be understood or is asked for and not there."""


class AlterationError(HemwardError):
    """A change that the piece does not allow.

    ``limit_mm`` is the largest amount that would work, where there is one.
    """

    def __init__(self, sentence: str, *, limit_mm: float | None = None) -> None:
        super().__init__(sentence)
        self.limit_mm = limit_mm


class FileError(HemwardError):
    """A file that cannot be read or written."""


class UnitUnknownError(FileError):
    """The file does not say how long one of its units is; the person must."""


class MeasureError(HemwardError):
    """A length written in a way that cannot be read."""


class PaperError(HemwardError):
    """Paper on which a pattern cannot be printed."""
