"""The angle of a notch, which turns with the line on which it stands.

A POINT tells with its group code 50 which way the notch goes in. Where the alteration turns
the line, that angle turns along, or the notch would no longer stand square to its seam.
"""

from __future__ import annotations

import math

from core.curve import Affine, Vector
from core.files.dxf.bytes_out import number_text
from core.files.dxf.shapes import Numbers

ANGLE = 50


def angle_patch(of: Numbers, turn: float, to_mm: Affine) -> dict[int, bytes | None]:
    """The patch for the POINT's angle, turned by `turn` radians as seen in mm."""
    if not turn or ANGLE not in of.at:
        return {}
    old = math.radians(of.get(ANGLE))
    seen = to_mm.vector(Vector(math.cos(old), math.sin(old))).turned(turn)
    now = to_mm.inverse().vector(seen)
    degrees = math.degrees(math.atan2(now.y, now.x)) % 360.0
    text = number_text(round(degrees, 6), of.pairs.value(of.at[ANGLE]))
    return {of.at[ANGLE]: text}
