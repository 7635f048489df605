"""Opening, altering and saving an SVG: ``python tests/bench/bench_svg.py``.

As a ratio to what the XML library alone needs to parse and write the same file, for 0.1, 1 and
10 MB. Three kinds of file: a sheet with a pair of pieces among many other things, one full of
digitised pieces, and one whose lines are curves. Prints the processor's time, medians; asserts
nothing.
"""

from __future__ import annotations

import io
import math
import sys
from pathlib import Path
from xml.etree import ElementTree

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from stopwatch import seconds

from core.alter.model import Change
from core.alter.together import alter_together
from core.files.read import read_bytes
from core.files.write import render

SIZES = (100_000, 1_000_000, 10_000_000)
MM = 20.0
# A digitised piece: so many points along its hem and each of its seams.
EACH = 75
HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="9000mm" height="9000mm"'
    ' viewBox="0 0 9000 9000">'
)


def piece(x: float, y: float, name: str) -> str:
    """A leg with slightly bent seams and hem, and a grain line."""
    corners = [(x, y), (x + 200, y), (x + 220, y + 600), (x - 20, y + 600)]
    points = []
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        for k in range(EACH):
            t = k / EACH
            out = 8.0 * math.sin(math.pi * t) / math.hypot(bx - ax, by - ay)
            points.append(
                (ax + t * (bx - ax) + out * (by - ay), ay + t * (by - ay) - out * (bx - ax))
            )
    d = " ".join(f"{a:.4f},{b:.4f}" for a, b in points)
    grain = f'<path class="grain" d="M{x + 100:g} {y + 100:g}v400"/>'
    return f'<g id="{name}"><path class="cut" d="M{d}Z"/>\n{grain}</g>\n'


def pair() -> str:
    return piece(50.0, 50.0, "front") + piece(400.0, 50.0, "back")


def sheet(size: int) -> str:
    """A pair of pieces beside rulings and notes that fill the file."""
    out, left, k = [pair()], size - 30_000, 0
    while left > 0:
        x, y = 1000.0 + 7.3 * (k % 400), 11.7 * (k // 400)
        row = f'<path class="ruling" d="M{x:.3f} {y:.3f}L{x + 5.25:.3f} {y + 3.125:.3f}"/>\n'
        if k % 10 == 0:
            row += f'<text x="{x:.3f}" y="{y:.3f}" class="small">note {k}</text>\n'
        out.append(row)
        left, k = left - len(row), k + 1
    return "".join(out)


def pieces(size: int) -> str:
    """Digitised pieces, each in a group."""
    out, left, k = [pair()], size - 14_000, 0
    while left > 0:
        out.append(piece(1000.0 + 400.0 * (k % 20), 50.0 + 700.0 * (k // 20), f"leg {k}"))
        left, k = left - len(out[-1]), k + 1
    return "".join(out)


def curves(size: int) -> str:
    """A pair of pieces and a lace of curves in a few long paths."""
    out, left, k = [pair()], size - 14_000, 0
    while left > 0:
        x, y = 1000.0 + 100.0 * (k % 80), 50.0 + 9.0 * (k // 80)
        waves = " ".join("c1.25 -2.5 2.5 -2.5 3.75 0 s2.5 2.5 3.75 0" for _ in range(40))
        row = f'<path class="lace" d="M{x:.3f} {y:.3f} {waves}"/>\n'
        out.append(row)
        left, k = left - len(row), k + 1
    return "".join(out)


def ours(data: bytes) -> None:
    """Opens, lengthens the first two pieces, and gives the bytes to be saved."""
    drawing = read_bytes(Path("bench.svg"), data)
    done = alter_together(drawing.pieces[:2], Change(MM))
    render(drawing.with_pieces(a.piece for a in done))


def reading_only(data: bytes) -> None:
    from core.files.svg import read_svg

    read_svg("bench.svg", data)


def theirs(data: bytes) -> None:
    tree = ElementTree.parse(io.BytesIO(data))
    tree.write(io.BytesIO(), encoding="utf-8")


def main() -> None:
    print("seconds: opened, altered and saved; only read; parsed and written as XML; ratio")
    for kind in (sheet, pieces, curves):
        for size in SIZES:
            data = f"{HEAD}\n{kind(size)}</svg>\n".encode()
            work = [seconds(w, data) for w in (ours, reading_only, theirs)]
            row = "  ".join(f"{s:7.3f}" for s in work)
            name = f"{kind.__name__:6} {len(data) / 1e6:5.2f} MB"
            print(f"  {name}  {row}   {work[0] / work[2]:.1f}", flush=True)


if __name__ == "__main__":
    main()
