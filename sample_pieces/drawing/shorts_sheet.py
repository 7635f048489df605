"""The sheet of the allotment shorts, as SVG at true size."""

from __future__ import annotations

from core.curve import Point
from sample_pieces.drawing import shorts, svg

PEN = svg.Pen()


def draw() -> bytes:
    width, height = shorts.SHEET
    body: list[str] = []
    for part in shorts.pieces():
        body += svg.piece(part, PEN, words=[part.name, "cut 2"])
    body += svg.measuring_square(Point(401.0, 76.0), PEN)
    body += svg.writing(
        Point(width / 2, 26.0), ["Allotment shorts", "seam allowance not included"], PEN
    )
    return svg.document(
        width=f"{width:g}mm",
        height=f"{height:g}mm",
        view=shorts.SHEET,
        title="Allotment shorts",
        pen=PEN,
        body=svg.indented(body),
    )
