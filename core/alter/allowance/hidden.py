"""A blunt corner at which the seam has the wider allowance: straight across lies the hem's line,
or the corner itself; or a hollow one, above a vent that stands out from the seam.

There the cutting line beside the seam ends short of the taper point, where it meets that of the
hem. It is laid on to straight across, so that what is done beside any other seam can be done
here too, and ended at the new corner afterwards.
"""

from __future__ import annotations

from typing import NamedTuple

from core.alter.allowance.joints import SMOOTH, Meeting, is_corner
from core.alter.seam import SLIVER
from core.alter.strand import Strand, chain_of
from core.curve import Chain, Line, Place, Segment
from core.curve.ends import with_ends
from core.piece.cutting import WIDEST_ALLOWANCE

# A corner this near (mm) to the line that leads there lies on it, but for the rounding of a file.
ON_LINE = 0.01


class Hidden(NamedTuple):
    """The place of the corner on the cutting line, and how far outside seam and hem it lies."""

    place: Place
    distances: tuple[float, float]


def hidden_corner(cut: Chain, old: Meeting, across: Place) -> Hidden | None:
    """The corner before `across`, the place straight across from the meeting; None where the
    line that lies there is the seam's own."""
    if old.turn < -SMOOTH:
        return _hollow_corner(cut, old)
    if old.turn < SMOOTH:
        return None
    k = across.index if across.t > 0.0 else across.index - 1
    start = k
    while k >= 0 and _is_of_the_hem(cut.segments[k], old):
        k -= 1
    if k == -1 or (k == start and not is_corner(cut, old, across)):
        return None
    at = cut.segments[k].end
    return Hidden(Place(k + 1, 0.0), old.distances(at))


def _hollow_corner(cut: Chain, old: Meeting) -> Hidden | None:
    """Where the seam's line meets that above the vent: higher up, by the vent's allowance."""
    found = [
        Hidden(Place(k, 0.0), old.distances(cut.segments[k].start))
        for k in range(1, len(cut))
        if not _is_of_the_hem(cut.segments[k - 1], old) and _is_of_the_hem(cut.segments[k], old)
    ]
    near = [h for h in found if all(0.0 < d <= WIDEST_ALLOWANCE for d in h.distances)]
    return min(near, key=lambda h: cut.at(h.place).distance(old.at), default=None)


def _is_of_the_hem(segment: Segment, old: Meeting) -> bool:
    way = segment.tangent(0.5)
    return abs(way.angle_to(old.leaving)) < abs(way.angle_to(old.coming))


def laid_on(cut: Strand, old: Meeting, hidden: Hidden) -> Strand:
    """The line beside the seam, from its corner on to straight across from the taper point."""
    own = cut[: hidden.place.index]
    normal, _ = old.normals
    end = old.at.moved(normal, hidden.distances[0])
    if own[-1].segment.end.distance(end) <= SLIVER:
        return own
    return (*own, own[-1].carrying(Line(own[-1].segment.end, end)))


def to_corner(line: Strand, new: Meeting, distances: tuple[float, float]) -> Strand:
    """The line to straight across from the new taper point, ended at the new corner, which lies
    so far outside seam and hem: cut back to it, or carried on where the hem's angle to the seam
    has become less blunt."""
    corner = new.at_distances(*distances)
    last = line[-1]
    beyond = (corner - last.segment.end).dot(new.coming)
    if abs(beyond) <= SLIVER:
        return line
    if beyond > 0.0:
        return (*line, last.carrying(Line(last.segment.end, corner)))
    chain = chain_of(line)
    # Where it meets the hem's line, so that a line that was there already stays what it is.
    met = min(
        chain.meets(corner, new.leaving), key=lambda p: chain.at(p).distance(corner), default=None
    )
    on_line = met is not None and chain.at(met).distance(corner) <= ON_LINE
    place = met if met is not None and on_line else chain.nearest(corner).place
    thread = line[place.index]
    end = thread.segment.part(0.0, place.t) if place.t > 0.0 else None
    kept = (*line[: place.index], *((thread.carrying(end),) if end else ()))
    if on_line:
        return kept
    segment = kept[-1].segment
    return (*kept[:-1], kept[-1].carrying(with_ends(segment, segment.start, corner)))
