"""How a hem run leaves the seams at its two ends: at a corner, in a vent, or rounded."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from itertools import islice

from core.alter.bend import leading_line
from core.alter.flows import FLOWS
from core.alter.frame import Frame
from core.alter.refit import Ends
from core.alter.strand import Strand, backwards
from core.alter.vents import STEEP, side_vent
from core.curve import Vector

# A rounding has turned into the hem where a straight stretch of this length (mm) begins; the
# steps of a digitised one are shorter.
STRAIGHT = 30.0
# It lies within this share of the run from its end; a rounding takes no more of it, ...
END_SHARE, MOST_ROUNDED = 0.5, 0.65
# ... and the run turns by no more than this (radians) at any joint before.
CORNER = 0.6
# A stretch of this length (mm) that turns by less than this (radians) is no part of a rounding,
# which would have a radius of over half a metre, but of a hem that bends.
LONG, SLOW = 60.0, 0.1


class Leaving(Enum):
    """The way in which a run leaves its seam."""

    CORNER = "at a corner"
    VENT = "in a vent"
    ROUNDED = "in a rounding that ends in a straight hem"
    FLOWING = "in a bend that goes on into a curved hem"


@dataclass(frozen=True)
class RunEnd:
    """How a run leaves one seam, how many threads of it are the vent or the rounding, and whether
    the hem next to that begins straight."""

    leaving: Leaving
    count: int = 0
    beside_straight: bool = False

    @property
    def is_shaped(self) -> bool:
        """Is there more than a corner?"""
        return self.leaving is not Leaving.CORNER


def run_ends(frame: Frame, run: Strand, ends: Ends) -> tuple[RunEnd, RunEnd]:
    """How the run between these ends leaves each of them."""
    return (
        _start(frame, run, ends.first_down),
        _start(frame, backwards(run), ends.last_down),
    )


def _start(frame: Frame, run: Strand, down: Vector) -> RunEnd:
    vent = side_vent(frame, [t.segment for t in run])
    if vent > 0:
        straight = vent < len(run) and _goes_straight(frame, run, vent)
        return RunEnd(Leaving.VENT, vent, straight)
    if abs(down.angle_to(run[0].segment.tangent(0.0))) >= FLOWS:
        return RunEnd(Leaving.CORNER)
    rounding = _rounding(frame, run)
    if rounding == 0:
        return RunEnd(Leaving.FLOWING)
    return RunEnd(Leaving.ROUNDED, rounding, beside_straight=True)


def _goes_straight(frame: Frame, run: Strand, k: int) -> bool:
    """Does the run go on from its thread `k` with a straight stretch of hem?"""
    line, _ = leading_line(t.segment for t in islice(run, k, None))
    if line is None or line.length() < STRAIGHT:
        return False
    return abs(line.tangent(0.0).dot(frame.down)) <= STEEP


def _rounding(frame: Frame, run: Strand) -> int:
    """How many threads the run bends through until it goes straight across; 0 if it never does."""
    left = MOST_ROUNDED * sum(t.segment.length() for t in run)
    for k in range(len(run)):
        if _goes_straight(frame, run, k):
            return 0 if _bends_slowly(run[:k]) else k
        left -= run[k].segment.length()
        if left < 0.0 or k + 1 == len(run) or _turn(run, k + 1) > CORNER:
            return 0
    return 0


def _bends_slowly(run: Strand) -> bool:
    """Is there a long stretch that hardly turns?"""
    for k, first in enumerate(run):
        length = 0.0
        for t in run[k:]:
            length += t.segment.length()
            if length >= LONG:
                turn = first.segment.tangent(0.0).angle_to(t.segment.tangent(1.0))
                if abs(turn) < SLOW:
                    return True
                break
    return False


def _turn(run: Strand, k: int) -> float:
    return abs(run[k - 1].segment.tangent(1.0).angle_to(run[k].segment.tangent(0.0)))
