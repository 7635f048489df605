"""The allotment shorts with allowances, on the layers of the sewn-products interchange."""

from __future__ import annotations

from sample_pieces.drawing import shorts
from sample_pieces.drawing.allowance import cutting_line
from sample_pieces.drawing.interchange import Sheet

SEAM = 10.0
TURN_UP = 25.0
ALLOWANCES = {
    "waist": SEAM,
    "side": SEAM,
    "corner": TURN_UP,
    "hem": TURN_UP,
    "inseam": SEAM,
    "rise": SEAM,
}


def draw() -> bytes:
    sheet = Sheet.of(shorts.SHEET, "ALLOTMENT SHORTS", 620.0, ALLOWANCES)
    return sheet.draw([(part, cutting_line(part, ALLOWANCES)) for part in shorts.pieces()])
