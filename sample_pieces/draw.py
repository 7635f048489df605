"""Draw the sample pieces: python sample_pieces/draw.py [FOLDER].

Writes every file into FOLDER (made if need be), or beside this script. The bytes are the same
every time.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

if __package__ in (None, ""):
    # Run as a script, the folder that holds `core` and `sample_pieces` is not searched.
    sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from sample_pieces.drawing import (
    barrow_trousers,
    bodice,
    breeches_dxf,
    breeches_sheet,
    planting_skirt,
    pruning_sleeve,
    raking_skirt,
    shorts_dxf,
    shorts_sheet,
    skirt,
    sleeve,
    trousers_dxf,
)

FILES: dict[str, Callable[[], bytes]] = {
    "allotment_shorts.svg": shorts_sheet.draw,
    "allotment_shorts.dxf": shorts_dxf.draw,
    "barrow_trousers.dxf": barrow_trousers.draw,
    "digging_trousers.dxf": trousers_dxf.draw,
    "picking_bodice.svg": bodice.draw,
    "planting_skirt.svg": planting_skirt.draw,
    "potting_skirt.svg": skirt.draw,
    "pruning_sleeve.svg": pruning_sleeve.draw,
    "rain_breeches.dxf": breeches_dxf.draw,
    "rain_breeches.svg": breeches_sheet.draw,
    "raking_skirt.svg": raking_skirt.draw,
    "watering_sleeve.svg": sleeve.draw,
}


def draw_all(folder: Path) -> None:
    """Write all files into `folder`; OSError when that cannot be done."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, draw in FILES.items():
        (folder / name).write_bytes(draw())


def main(arguments: list[str]) -> int:
    if len(arguments) > 1:
        print("Usage: python sample_pieces/draw.py [FOLDER]", file=sys.stderr)
        return 2
    draw_all(Path(arguments[0]) if arguments else Path(__file__).resolve().parent)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
