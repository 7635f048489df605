"""Opening, altering and saving a DXF: ``python tests/bench/bench_dxf.py``.

As a ratio to what ezdxf needs to read and save the same file, for 0.1, 1 and 10 MB, R12 and
R2010. Three kinds of file: a sheet with a pair of pieces among many other things, one full of
digitised pieces in blocks, and one piece of loose lines under thousands of tiny ones (up to
1 MB, for an outline has at most 20,000 points). Prints the processor's time, medians; asserts
nothing.
"""

from __future__ import annotations

import io
import math
import os
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
# ezdxf writes a font cache at its import.
os.environ["XDG_CACHE_HOME"] = tempfile.mkdtemp(prefix="hemward-bench-")

import ezdxf
from ezdxf.document import Drawing as Document
from ezdxf.layouts import BaseLayout
from stopwatch import seconds

from core.alter.model import Change
from core.alter.together import alter_together
from core.files.read import read_bytes
from core.files.write import render

SIZES = (100_000, 1_000_000, 10_000_000)
VERSIONS = ("R12", "R2010")
MM = 20.0
# A digitised piece: so many vertices along its hem and each of its seams.
EACH = 75


def piece(space: BaseLayout, x: float) -> None:
    """A leg with slightly bent seams and hem, and a grain line."""
    corners = [(x, 0.0), (x + 200, 0.0), (x + 220, 600.0), (x - 20, 600.0)]
    ring = []
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        for k in range(EACH):
            t = k / EACH
            out = 8.0 * math.sin(math.pi * t) / math.hypot(bx - ax, by - ay)
            px, py = ax + t * (bx - ax) + out * (by - ay), ay + t * (by - ay) - out * (bx - ax)
            ring.append((round(px, 4), round(py, 4)))
    if space.doc.dxfversion == "AC1009":
        space.add_polyline2d(ring, close=True, dxfattribs={"layer": "cut"})
    else:
        space.add_lwpolyline(ring, close=True, dxfattribs={"layer": "cut"})
    space.add_line((x + 100, 100), (x + 100, 500), dxfattribs={"layer": "grain"})


def sheet(version: str, size: int) -> Document:
    """A pair of pieces beside rulings, a legend and notes that fill the file."""
    document = ezdxf.new(version, units=4)
    space = document.modelspace()
    for x in (0.0, 400.0):
        piece(space, x)
    for k in range(max(0, size - 60_000) // 190):
        x, y = 1000.0 + 7.3 * (k % 400), 11.7 * (k // 400)
        space.add_line((x, y), (x + 5.25, y + 3.125), dxfattribs={"layer": "ruling"})
        if k % 10 == 0:
            space.add_text(f"note {k}", dxfattribs={"layer": "notes", "insert": (x, y)})
    return document


def pieces(version: str, size: int) -> Document:
    """Pieces in blocks, each inserted once."""
    document = ezdxf.new(version, units=4)
    each = 30_000 if version == "R12" else 9_000
    for k in range(max(1, (size - 20_000) // each)):
        block = document.blocks.new(f"LEG_{k}")
        piece(block, 0.0)
        place = (400.0 * (k % 20), 800.0 * (k // 20))
        document.modelspace().add_blockref(f"LEG_{k}", place)
    return document


def soup(version: str, size: int) -> Document:
    """One piece drawn line by line, and as many tiny loose lines on it."""
    document = ezdxf.new(version, units=4)
    space = document.modelspace()
    count = min(size, 1_000_000) // 400
    corners = [(0.0, 0.0), (600.0, 0.0), (660.0, 900.0), (-60.0, 900.0)]
    ring = [
        (ax + (bx - ax) * k / (count // 4), ay + (by - ay) * k / (count // 4) + math.sin(k / 40))
        for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True)
        for k in range(count // 4)
    ]
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        space.add_line(a, b)
    for k in range(count):
        x, y = 20.0 + 560.0 * (k * 0.618 % 1.0), 20.0 + 860.0 * k / count
        space.add_line((x, y), (x + 1.5, y + 0.75))
    return document


def as_bytes(document: Document) -> bytes:
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode(document.output_encoding)


def ours(data: bytes) -> None:
    """Opens, lengthens the first two pieces, and gives the bytes to be saved."""
    drawing = read_bytes(Path("bench.dxf"), data, mm_per_unit=1.0)
    done = alter_together(drawing.pieces[:2], Change(MM))
    render(drawing.with_pieces(a.piece for a in done))


def reading_only(data: bytes) -> None:
    from core.files.dxf import read_dxf

    read_dxf("bench.dxf", data, mm_per_unit=1.0)


def theirs(data: bytes) -> None:
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    document.write(io.StringIO())


def main() -> None:
    print("seconds: opened, altered and saved; only read; read and saved by ezdxf; ratio")
    for kind in (sheet, pieces, soup):
        for version in VERSIONS:
            for size in SIZES:
                data = as_bytes(kind(version, size))
                work = [seconds(w, data) for w in (ours, reading_only, theirs)]
                name = f"{kind.__name__:6} {version:5} {len(data) / 1e6:5.2f} MB"
                row = "  ".join(f"{s:7.3f}" for s in work)
                print(f"  {name}  {row}   {work[0] / work[2]:.2f}", flush=True)


if __name__ == "__main__":
    main()
