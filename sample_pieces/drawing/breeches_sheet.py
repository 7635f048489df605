"""The sheet of the rain breeches, as SVG: a group for each size, what is common drawn once."""

from __future__ import annotations

from core.curve import Point
from sample_pieces.drawing import breeches, svg
from sample_pieces.drawing.part import Part

PEN = svg.Pen()
# Each size has a line of its own, as on a printed sheet.
DASHES = {36: "", 38: "12 3", 40: "6 3", 42: "12 3 2 3", 44: "2 3"}


def draw() -> bytes:
    width, height = breeches.SHEET
    body: list[str] = []
    # The largest lies lowest, or its cloth would cover the others.
    for size in reversed(breeches.SIZES):
        body += _size(size)
    body += svg.group("all-sizes", "All sizes", _common())
    body += svg.measuring_square(Point(430.0, 560.0), PEN)
    heading = ["Rain breeches", "sizes 36 to 44, seam allowance not included"]
    body += svg.writing(Point(width / 2, 34.0), heading, PEN)
    return svg.document(
        width=f"{width:g}mm",
        height=f"{height:g}mm",
        view=breeches.SHEET,
        title="Rain breeches",
        pen=PEN,
        body=svg.indented(body),
    )


def _size(size: int) -> list[str]:
    content = [line for part in breeches.pieces(size) for line in _lines(part, size)]
    opened, *rest = svg.group(f"size-{size}", f"Size {size}", content)
    dashes = f' stroke-dasharray="{DASHES[size]}"' if DASHES[size] else ""
    return [opened.replace(">", f"{dashes}>"), *rest]


def _lines(part: Part, size: int) -> list[str]:
    key = f"{part.name.lower()}-{size}"
    outline = svg.path_data(part.ring.segments, PEN, closed=True)
    notches = [svg.notch(f"{key}-notch-{n.name}", n, PEN) for n in part.notches]
    number = part.edge("hem").at(part.edge("hem").at_length(14.0 + 24.0 * (size - 36) / 2))
    x, y = PEN.number(number.x), PEN.number(number.y - 3.0)
    return [
        f'<path id="{key}" class="outline" d="{outline}"/>',
        *notches,
        f'<text class="small" x="{x}" y="{y}">{size}</text>',
    ]


def _common() -> list[str]:
    content = []
    for part in breeches.pieces(breeches.SIZES[0]):
        content += svg.grain(f"{part.name.lower()}-grain", part.grain, PEN)
        content += svg.writing(part.label, [part.name, "cut 2"], PEN)
    return [*content, svg.inner("front-pocket", breeches.pocket()[1], PEN)]
