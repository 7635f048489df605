"""Does the hem run smooth over a joined seam?

At the hem corner of each piece the hem and the seam hold an angle, measured inside the
piece. Once sewn, the two angles stand side by side at the seam: 180 degrees in sum is a hem
that runs straight on (common practice). More, and the hem rises to a peak at the seam;
less, and it hangs down in a dip.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from core.alter.frame import Frame
from core.alter.model import Finding, Severity, Whose
from core.alter.vents import side_vent
from core.check.seams import Joined, Seam
from core.curve import Point, Ring, Segment, Vector
from core.measure import Length, Sentence
from core.piece.corners import CORNER, corners, outward_sign
from core.piece.darts import off_caps
from core.piece.direction import end_direction
from core.piece.model import Dart, Kind, Piece

# The two angles add up to a straight angle within this (radians).
FLOWS = math.radians(2.0)
# A dip is measured against the points of the hem this far (mm) on either side of the seam.
BESIDE = 20.0
# A style line that has turned this far (radians) from the grain has become hem.
TURNED = math.radians(45.0)
# A sum of angles that moved by no more than this (radians) is the same as before.
SAME = math.radians(0.1)


@dataclass(frozen=True, slots=True)
class HemCorner:
    """Where the hem meets a seam: the point, and the angle inside the piece in radians.

    ``style_mm`` is the length of the style line from the taper point down to the corner.
    """

    at: Point
    angle: float
    style_mm: float = 0.0


@dataclass(frozen=True)
class Flow:
    """The hem corners of two joined seams; None where the hem is rounded into the seam."""

    called: str
    first: HemCorner | None
    second: HemCorner | None

    @property
    def sum(self) -> float | None:
        """Of both angles, in radians; None when there are not two corners."""
        if self.first is None or self.second is None:
            return None
        return self.first.angle + self.second.angle

    @property
    def dip_mm(self) -> float | None:
        """How far the joined hem hangs below the straight line from BESIDE mm to BESIDE mm.

        The two hems are legs of BESIDE mm of an isosceles triangle whose apex, the seam, has
        the angle `sum`; its height is BESIDE cos(sum / 2). Negative for a peak.
        """
        whole = self.sum
        return None if whole is None else BESIDE * math.cos(whole / 2)


def flow(first: Seam, second: Seam, called: str) -> Flow:
    """How the hem runs over the seam in which two seams that end in a hem are joined."""
    return Flow(called, hem_corner(first), hem_corner(second))


def hem_corner(seam: Seam) -> HemCorner | None:
    """The corner in which a seam that ends in a hem, or its style line, meets it.

    None where there is none: the hem is rounded into the seam, the seam ends above a vent, whose
    edges are not sewn together, or it ends elsewhere.
    """
    if not seam.at_hem or is_vented(seam):
        return None
    way = _from_taper(seam)
    joints = frozenset(corner_points(seam.piece))
    turned = seam.segments[0].reversed().tangent(1.0).angle_to(way[0].tangent(0.0))
    sharp = way[0].start in joints or abs(turned) > CORNER
    k = 0 if sharp else next((k for k, s in enumerate(way) if s.start in joints), None)
    if k is None or not _runs_down(seam.piece, way[:k]):
        return None
    stop = next((j for j in range(k + 1, len(way)) if way[j].start in joints), len(way))
    down = way[:k] if k else tuple(s.reversed() for s in reversed(seam.segments))
    angle = _inside(seam, end_direction(down), -_arriving(way[k:stop]))
    return HemCorner(way[k].start, angle, sum(s.length() for s in way[:k]))


def is_vented(seam: Seam) -> bool:
    """Does the seam end above a vent at its side?"""
    return seam.at_hem and side_vent(Frame(seam.piece.grain.down), _from_taper(seam)) > 0


def _from_taper(seam: Seam) -> tuple[Segment, ...]:
    """The hem run from the seam's taper point on."""
    hem = seam.piece.hem
    assert hem is not None
    run = seam.piece.ring.run(hem.first.place, hem.last.place)
    return (run.reversed() if seam.climbs else run).segments


def corner_points(piece: Piece) -> tuple[Point, ...]:
    """The corners of the sewn line in order, those the file tells included, those of dart caps
    not: they come with the dart."""
    told = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    return _found_corners(piece.ring, tuple(p for p in told if isinstance(p, Point)), piece.darts)


# Each piece is asked for its corners several times over, and a dense outline takes long.
@lru_cache(maxsize=64)
def _found_corners(
    ring: Ring, told: tuple[Point, ...], darts: tuple[Dart, ...]
) -> tuple[Point, ...]:
    found = off_caps(ring, corners(ring, told=told), darts)
    return tuple(ring.segments[k].start for k in found)


def _runs_down(piece: Piece, style: Sequence[Segment]) -> bool:
    """Does the line still run down like a seam, all the way?"""
    least = math.cos(TURNED)
    return all(s.tangent(t).dot(piece.grain.down) > least for s in style for t in (0.0, 1.0))


def _arriving(hem: Sequence[Segment]) -> Vector:
    """Direction in which the hem, given from its corner on, comes to that corner."""
    return end_direction([s.reversed() for s in reversed(hem)])


def _inside(seam: Seam, down: Vector, along: Vector) -> float:
    """Angle inside the piece between a seam that comes down and the hem that leaves along."""
    sign = outward_sign(seam.piece.ring) * (-1.0 if seam.climbs else 1.0)
    return math.pi - sign * down.angle_to(along)


def flow_finding(pair: Joined) -> Finding | None:
    """What a maker is told of the hem over a joined seam; None for seams not at the hem."""
    if not pair.at_hem:
        return None
    sides = pair.first.after, pair.second.after
    vented = [s for s in sides if is_vented(s)]
    if vented:
        return _over_vents(pair, vented)
    found = flow(*sides, pair.called)
    if found.first is None and found.second is None:
        return Finding(
            Severity.WELL,
            f"{found.called}: both hems are rounded into the seam, so no corner needs to flow.",
            pair.first.after.hem_end,
            Whose.of(pair.first.after.piece),
        )
    if found.first is None or found.second is None:
        return _one_rounded(pair, found)
    return _of_sum(pair, found)


def _over_vents(pair: Joined, vented: Sequence[Seam]) -> Finding:
    one = vented[0]
    severity, told = Severity.WELL, "both seams end above a vent, so no corner needs to flow."
    if len(vented) == 1:
        severity = Severity.LOOK
        told = f"only {one.piece.name} has a vent there. Check that this is meant."
    return Finding(severity, f"{pair.called}: {told}", one.hem_end, Whose.of(one.piece))


def _one_rounded(pair: Joined, found: Flow) -> Finding:
    rounded, other = pair.first.after, pair.second.after
    if found.first is not None:
        rounded, other = other, rounded
    corner = found.first or found.second
    return Finding(
        Severity.LOOK,
        f"{found.called}: only {rounded.piece.name} is rounded into the hem there, the"
        " other has a corner. Check that this is meant.",
        corner.at if corner else None,
        Whose.of(other.piece),
    )


def _of_sum(pair: Joined, found: Flow) -> Finding:
    whole, dip = found.sum, found.dip_mm
    assert whole is not None
    assert dip is not None
    assert found.first is not None
    told = f"the hem's angles add up to {math.degrees(whole):.1f} degrees"
    if abs(whole - math.pi) <= FLOWS:
        sentence = f"{found.called}: {told}; it runs smooth."
        return Finding(Severity.WELL, sentence, found.first.at, Whose.of(pair.first.after.piece))
    way = "hangs down in a dip" if dip > 0.0 else "rises to a peak"
    before = flow(pair.first.before, pair.second.before, pair.called).sum
    past = " It was so before." if before and abs(before - whole) <= SAME else ""
    sentence = Sentence(
        "{called}: {told}, so the joined hem {way} of {dip} at the seam.{past} Redraw the hem"
        " square to the seam.",
        called=found.called,
        told=told,
        way=way,
        dip=Length(abs(dip), little=True),
        past=past,
    )
    return Finding(Severity.LOOK, sentence, found.first.at, Whose.of(pair.first.after.piece))
