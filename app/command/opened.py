"""A pattern as every command opens it: with what a person said of it in the window."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from core.files import Drawing, read
from core.files.beside import read_as_said, what_was_said


def opened(path: Path, *, mm_per_unit: float | None, as_recognised: bool) -> Drawing:
    """As the window would open it, or as it is recognised where that was asked."""
    how = read if as_recognised else read_as_said
    return how(path, mm_per_unit=mm_per_unit)


def what_is_used(drawings: Iterable[Drawing]) -> Iterator[str]:
    """A sentence for each drawing of which a person said something, and how to leave it out."""
    for told in filter(None, map(what_was_said, drawings)):
        yield f"{told} --as-recognised leaves that out."
