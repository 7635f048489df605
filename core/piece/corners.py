"""Where an outline has corners, drawn with ruler and curve or digitised point by point."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from core.curve import Chain, Place, Point, Ring, Vector
from core.kept import kept
from core.piece.direction import before_joint, digitised, has_length
from core.piece.turns import CLOSE, line_turns

# A joint of ruled lines or curves that turns by more than this is a corner (radians).
CORNER = math.radians(18.0)
# A joint that the file itself calls a turn point needs no more than this.
TOLD_CORNER = math.radians(6.0)
# Digitised outlines are looked at through windows of these lengths (mm): a corner turns as
# much through the narrow one as through the wide one, a rounded corner does not.
WIDE, NARROW = 16.0, 8.0
DIGITISED_CORNER = math.radians(32.0)
SHARP_SHARE = 0.72
# At a digitised corner the joint itself turns by this much at least.
TURNS = DIGITISED_CORNER / 4
# A turn point belongs to the joint within this distance (mm).
AT_JOINT = 0.5


def corners(ring: Ring, *, told: Sequence[Point] = ()) -> tuple[int, ...]:
    """Numbers of the segments that begin at a corner, rising.

    `told` are points that the file calls turn points.
    """
    steps = digitised(ring.segments)
    # No joint of lines that turns by less is a corner, digitised or not.
    faint = (line_turns(ring.segments) < min(TURNS, CORNER) - CLOSE).tolist()
    found = [k for k in range(len(ring)) if not faint[k] and _is_corner(ring, k, steps)]
    found += [k for k in _told_joints(ring, told) if abs(joint_turn(ring, k)) > TOLD_CORNER]
    return tuple(sorted(set(found)))


def joint_turn(ring: Ring, k: int) -> float:
    """Signed angle by which the outline turns at the start of segment k.

    None at a segment without length: of a point written twice, the last joint turns.
    """
    if not has_length(ring.segments[k]):
        return 0.0
    return before_joint(ring.segments, k).tangent(1.0).angle_to(ring.segments[k].tangent(0.0))


def _told_joints(ring: Ring, told: Sequence[Point]) -> set[int]:
    joints = set()
    for p in told:
        k = min(range(len(ring)), key=lambda k: ring.segments[k].start.distance(p))
        if ring.segments[k].start.distance(p) <= AT_JOINT:
            joints.add(k)
    return joints


def _is_corner(ring: Ring, k: int, steps: Sequence[bool]) -> bool:
    turn = abs(joint_turn(ring, k))
    if not (steps[k - 1] or steps[k]):
        return turn > CORNER
    # Cheap refusal first: the wide window cannot turn where neither step does.
    if turn < TURNS:
        return False
    wide, narrow = window_turn(ring, k, WIDE), window_turn(ring, k, NARROW)
    if abs(wide) < DIGITISED_CORNER or narrow * wide <= 0.0:
        return False
    if abs(narrow) < SHARP_SHARE * abs(wide):
        return False
    return _sharpest_nearby(ring, k, abs(narrow))


def _sharpest_nearby(ring: Ring, k: int, turn: float) -> bool:
    """Of neighbouring joints that see the same corner, only the sharpest is it."""
    size = len(ring)
    for way in (-1, 1):
        j, gone = k, 0.0
        while True:
            step = ring.segments[j if way > 0 else j - 1].length()
            gone, j = gone + step, (j + way) % size
            if gone > NARROW or j == k:
                break
            # A joint beside the tip of a dart sees the whole turn too, but does not turn itself.
            if abs(joint_turn(ring, j)) < TURNS:
                continue
            other = abs(window_turn(ring, j, NARROW))
            if other > turn or (other == turn and way < 0):
                return False
    return True


def window_turn(ring: Ring, k: int, window: float) -> float:
    """Turn at joint k between the chords over `window` mm before and after it."""
    here = ring.segments[k].start
    before, after = _reach(ring, k, -window), _reach(ring, k, window)
    a, b = here - before, after - here
    return a.angle_to(b) if a.norm > 0.0 and b.norm > 0.0 else 0.0


def _reach(ring: Ring, k: int, distance: float) -> Point:
    """The point `distance` mm along the outline from joint k (backwards if negative)."""
    whole = ring.length()
    if abs(distance) >= whole:
        return ring.segments[k].start
    # By the sums of lengths: on a densely digitised outline a window spans many segments.
    return ring.at(ring.at_length((ring.lengths_before[k] + distance) % whole))


def place_of(k: int) -> Place:
    """The place of the joint at the start of segment k."""
    return Place(k, 0.0)


def outward_sign(ring: Ring) -> float:
    """+1 when the outward normal is the tangent turned from x towards y by -90 degrees."""
    return 1.0 if ring.signed_area() >= 0.0 else -1.0


def outward(ring: Ring, tangent: Vector, sign: float) -> Vector:
    """Outward unit normal where the ring runs along `tangent`."""
    return Vector(tangent.y * sign, -tangent.x * sign)


def hollow(edge: Chain, sign: float) -> float:
    """How far the edge lies inside its chord, as a share of the chord."""
    chord = edge.end - edge.start
    if chord.norm == 0.0:
        return 0.0
    flat = _flat(edge) - np.array((edge.start.x, edge.start.y))
    inward = sign * (chord.x * flat[:, 1] - chord.y * flat[:, 0]) / chord.norm
    return float(np.max(inward)) / chord.norm


# Several votes on the grain ask for the same few edges.
@kept(most=64)
def _flat(edge: Chain) -> NDArray[np.float64]:
    return edge.flattened(tolerance=1.0)
