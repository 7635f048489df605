"""How far a notch turns with the line on which it stands.

A POINT tells with its group code 50 which way the notch goes in. Where the alteration turns
the line, that angle turns along, or the notch would no longer stand square to its seam.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from core.curve import Affine, Point, Segment, Vector
from core.files.dxf.bytes_out import number_text
from core.files.dxf.shapes import Numbers
from core.files.edits import PathEdit, PointEdit

ANGLE = 50
# A notch stands this near (mm) to its line.
ON_LINE = 2.0
# Less than this (radians) is no turn; written angles have few decimals.
STEADY = 1e-4


def turn_with(notch: PointEdit, lines: Iterable[PathEdit]) -> float:
    """The turn in radians (mm, y down) of the nearest altered line where the notch stood and
    where it stands; 0 when it stands on none."""
    best: tuple[float, PathEdit, Vector] | None = None
    for line in lines:
        found = _direction(line.old, notch.old)
        if found is not None and (best is None or found[0] < best[0]):
            best = found[0], line, found[1]
    if best is None or notch.new is None:
        return 0.0
    now = _direction((s for new in best[1].new for s in new), notch.new)
    angle = best[2].angle_to(now[1]) if now is not None else 0.0
    return angle if abs(angle) > STEADY else 0.0


def _direction(segments: Iterable[Segment], at: Point) -> tuple[float, Vector] | None:
    """How far away the line is, and its direction there; None when it is not near."""
    near = ((s.nearest(at), s) for s in segments)
    found, s = min(near, key=lambda f: f[0].distance, default=(None, None))
    if found is None or s is None or found.distance > ON_LINE:
        return None
    return found.distance, s.tangent(found.t)


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
