"""A corner that trimming cut into a hem that ran smoothly out of its seam.

The cutting line had no corner there. It gets a mitre: both edges carried straight on, at their
allowances, to where they meet.
"""

from __future__ import annotations

from typing import NamedTuple

from core.alter.allowance.across import across
from core.alter.allowance.joints import SMOOTH, Meeting
from core.alter.flows import FLOWS
from core.curve import Chain, Point

# A run that turned less than this (radians) at its seam ran on smoothly, and where it turns by
# more than so much further a corner was cut: in between nothing is to be seen of a mitre.
CUT = 0.02
# A mitre reaches no further than so many times the wider allowance: where the two differ much
# and the corner is blunt, it would be a spike.
REACH = 2.0


class Mitre(NamedTuple):
    """How far outside seam and hem the corner lies, and where the hem's own line begins."""

    distances: tuple[float, float]
    hem: Point


def mitre(cut: Chain, old: Meeting, new: Meeting, allowance: float) -> Mitre | None:
    """Of a seam with that allowance at its new end; None where no corner was cut."""
    least = CUT if abs(old.turn) < CUT else SMOOTH
    if abs(old.turn) >= FLOWS or new.turn <= least or new.turn - old.turn <= CUT:
        return None
    _, normal = old.normals
    wide = (cut.at(across(cut, old.at, normal, latest=True)) - old.at).dot(normal)
    if new.at_distances(allowance, wide).distance(new.at) > REACH * max(allowance, wide):
        return None
    return Mitre((allowance, wide), new.at.moved(new.normals[1], wide))
