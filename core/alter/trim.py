"""The hem slid along unchanged, and cut off where it sticks out past the carried seams."""

from __future__ import annotations

from core.alter.frame import Frame
from core.alter.refit import Ends
from core.alter.seam import SLIVER, SeamEnd, carry_on, cut_back_by_length
from core.alter.strand import Strand, backwards, chain_of
from core.alter.vents import side_vent
from core.curve import Line, Place, Point, Vector
from core.curve.ends import with_ends
from core.errors import AlterationError

# A rounded run slid along its own seam lies on it up to the scatter of digitising (mm).
NEARLY_ON_SEAM = 0.5
# A run that leaves the seam within this angle (radians) flows out of it, rounded.
FLOWS = 0.5
# Only what lies within this share of the run from its end is cut off there.
END_SHARE = 0.5


def slid_ends(frame: Frame, run: Strand, old: Ends, new: Ends, name: str) -> Ends:
    """Where the ends of the run lie once it has been slid down unchanged.

    Straight down the grain; a run that leaves one seam in a rounded corner or in a vent slides
    along that seam, so that the corner stays whole. AlterationError when both ends do: then
    one of them would be cut into.
    """
    shaped = (
        _is_shaped(frame, run, old.first_down),
        _is_shaped(frame, backwards(run), old.last_down),
    )
    if all(shaped):
        raise AlterationError(
            f"{name}: the hem is rounded into its seams, or has a vent, at both ends, so a slid"
            " hem would be cut within one of them. Refit the hem instead."
        )
    aside = 0.0
    if shaped[0]:
        aside = frame.width(new.first) - frame.width(old.first)
    elif shaped[1]:
        aside = frame.width(new.last) - frame.width(old.last)

    def slid(before: Point, after: Point) -> Point:
        drop = frame.height(after) - frame.height(before)
        return before.moved(frame.down, drop).moved(frame.across, aside)

    # Where the seam takes another direction, what flowed out of it turns with it.
    return Ends(
        slid(old.first, new.first),
        slid(old.last, new.last),
        new.first_down if shaped[0] else old.first_down,
        new.last_down if shaped[1] else old.last_down,
    )


def _is_shaped(frame: Frame, run: Strand, down: Vector) -> bool:
    """Does the run leave the seam in a rounded corner or in a vent?"""
    if side_vent(frame, [t.segment for t in run]) > 0:
        return True
    return _flows(run[0].segment.tangent(0.0), down)


def _flows(tangent: Vector, down: Vector) -> bool:
    return abs(down.angle_to(tangent)) < FLOWS


def trimmed(
    frame: Frame, run: Strand, seams: tuple[SeamEnd, SeamEnd]
) -> tuple[Strand, tuple[SeamEnd, SeamEnd]]:
    """The slid run ended on both seams, and the seams ended where the run meets them.

    Where the run falls short of a seam (a flared piece), it is carried straight on to it.
    AlterationError when it cannot be.
    """
    run, first = _at_start(frame, run, seams[0])
    turned, last = _at_start(frame, backwards(run), seams[1])
    return backwards(turned), (first, last)


def _at_start(frame: Frame, run: Strand, seam: SeamEnd) -> tuple[Strand, SeamEnd]:
    chain = chain_of(run)
    off = seam.down.cross(chain.start - seam.end)
    inside = seam.down.cross(chain.at(chain.at_length(chain.length() / 2)) - seam.end)
    shaped = _is_shaped(frame, run, seam.down)
    # An end as near as a sliver neither sticks out nor falls short.
    if abs(off) > (NEARLY_ON_SEAM if shaped else SLIVER):
        run = _cut_off(run, seam) if off * inside < 0.0 else _carried_on(run, seam)
    ended = _ended(seam, run[0].segment.start)
    first = run[0].segment
    return (run[0].carrying(with_ends(first, ended.end, first.end)), *run[1:]), ended


def _cut_off(run: Strand, seam: SeamEnd) -> Strand:
    chain = chain_of(run)
    places = chain.meets(seam.end, seam.down)
    near = [p for p in places if chain.length_to(p) <= END_SHARE * chain.length()]
    if not near:
        raise AlterationError("The slid hem does not meet the carried seam. Refit it instead.")
    return _from(run, near[0])


def _from(run: Strand, place: Place) -> Strand:
    """The run from a place on."""
    if place.t >= 1.0:
        return run[place.index + 1 :]
    thread = run[place.index]
    return (thread.carrying(thread.segment.part(place.t, 1.0)), *run[place.index + 1 :])


def _carried_on(run: Strand, seam: SeamEnd) -> Strand:
    start = run[0].segment.start
    end = _crossing(start, -run[0].segment.tangent(0.0), seam)
    return (run[0].carrying(Line(end, start)), *run)


def _crossing(start: Point, way: Vector, seam: SeamEnd) -> Point:
    across = way.cross(seam.down)
    reach = (seam.end - start).cross(seam.down) / across if abs(across) > 1e-6 else -1.0
    if reach <= 0.0:
        raise AlterationError(
            "The slid hem runs along the seam instead of meeting it. Refit it instead."
        )
    return start.moved(way, reach)


def _ended(seam: SeamEnd, end: Point) -> SeamEnd:
    """The seam made longer or shorter along its last direction, to end exactly there."""
    more = seam.down.dot(end - seam.end)
    if abs(more) <= SLIVER:
        return seam
    if more > 0.0:
        longer = carry_on(seam.strand, seam.down, more)
    else:
        longer = cut_back_by_length(seam.strand, -more)
    # Cut back along a curve, the seam points elsewhere at its new end.
    return SeamEnd(longer.strand, longer.end, longer.down, seam.added_mm + more)
