"""The index that a reading leaves for the writer."""

from __future__ import annotations

from dataclasses import dataclass

from core.files.dxf.records import Layout
from core.files.dxf.walk import Drawn


@dataclass(frozen=True, eq=False)
class DxfSource:
    """What stands where: ``drawn[key]`` is the entity of the shape with that key.

    ``read_only`` says why the file cannot be written back into; empty when it can.
    """

    name: str
    file: Layout
    drawn: tuple[Drawn, ...]
    read_only: str = ""
