"""The index that a reading leaves for the writer."""

from __future__ import annotations

from dataclasses import dataclass

from core.files.dxf.binary import Binary
from core.files.dxf.records import Layout
from core.files.dxf.walk import Drawn


@dataclass(frozen=True, eq=False)
class DxfSource:
    """What stands where: ``drawn[key]`` is the entity of the shape with that key.

    ``cleaned`` when it is the index of a cleaned text copy (the file is damaged): alterations
    go into that copy. ``binary`` is the way back from the text form of a binary file.
    """

    name: str
    file: Layout
    drawn: tuple[Drawn, ...]
    mm_per_unit: float
    cleaned: bool = False
    binary: Binary | None = None
