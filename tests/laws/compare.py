"""Comparing outlines: by shape, by points, by corners. Each says wanted, got and tolerance."""

from __future__ import annotations

from itertools import pairwise

import shapely
from hypothesis import event, reject

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change
from core.alter.redo import Reach
from core.alter.strand import Strand, open_at_tapers
from core.curve import Chain, Point, Ring, Segment, Vector
from core.errors import AlterationError
from core.piece.model import HemRun, Outline, Piece, Role
from tests.laws.outer import cutting_line
from tests.laws.sketch import Sketch

# Flattening for comparing shapes, in mm: well below the 0.01 mm that the laws allow.
FLATTENING = 5e-4
SHAPE = 0.01


def altered(piece: Piece, by_mm: float, **reaches: Reach) -> Altered:
    return lengthen(piece, Change(by_mm), **reaches)


def close(got: float, wanted: float, tolerance: float, what: str) -> None:
    """Fail with wanted, got and tolerance unless |got - wanted| <= tolerance."""
    assert abs(got - wanted) <= tolerance, (
        f"{what}: wanted {wanted!r}, got {got!r}, tolerance {tolerance!r}"
    )


def apart(a: Chain, b: Chain) -> float:
    """Largest distance in mm from one line to the other, whichever way round."""
    lines = [shapely.LineString(c.flattened(tolerance=FLATTENING)) for c in (a, b)]
    return float(shapely.hausdorff_distance(*lines))


def assert_same_shape(got: Chain, wanted: Chain, what: str, tolerance: float = SHAPE) -> None:
    """Fail unless both lines are the same to look at, however they are divided."""
    off = apart(got, wanted)
    assert off <= tolerance, f"{what}: wanted the same shape, got {off} mm, tolerance {tolerance}"


def assert_same_points(got: Chain, wanted: Chain, what: str, tolerance: float) -> None:
    """Fail unless both lines have the same segments, point by point within the tolerance."""
    assert len(got) == len(wanted), f"{what}: wanted {len(wanted)} segments, got {len(got)}"
    for k, (g, w) in enumerate(zip(got, wanted, strict=True)):
        assert type(g) is type(w), f"{what}, segment {k}: wanted {w}, got {g}"
        for p, q in zip(g.controls, w.controls, strict=True):
            assert p.distance(q) <= tolerance, (
                f"{what}, segment {k}: wanted {q}, got {p}, {p.distance(q)} mm apart,"
                f" tolerance {tolerance}"
            )


def strands(outline: Outline, hem: HemRun | None) -> tuple[Strand, Strand]:
    """(upper, run) of an outline that has a hem."""
    assert hem is not None
    return open_at_tapers(outline, hem)


def upper(piece: Piece) -> tuple[Segment, ...]:
    """Segments above the taper points, from the last over the top to the first."""
    return tuple(t.segment for t in strands(piece.sewn, piece.hem)[0])


def run(piece: Piece) -> tuple[Segment, ...]:
    """Segments of the hem run, from the first taper point to the last."""
    return tuple(t.segment for t in strands(piece.sewn, piece.hem)[1])


def ends(piece: Piece) -> tuple[Point, Point]:
    """The seam ends: the first and the last taper point."""
    assert piece.hem is not None
    return piece.ring.at(piece.hem.first.place), piece.ring.at(piece.hem.last.place)


def turns(ring: Ring) -> list[tuple[Point, float]]:
    """Each joint and the angle (radians) by which the outline turns there."""
    around = (ring.segments[-1], *ring.segments)
    return [(b.start, a.tangent(1.0).angle_to(b.tangent(0.0))) for a, b in pairwise(around)]


def hem_angles(piece: Piece) -> tuple[float, float]:
    """Angle between each seam's direction down and the hem run that leaves it."""
    assert piece.hem is not None
    segments = run(piece)
    return (
        piece.hem.first.down.angle_to(segments[0].tangent(0.0)),
        piece.hem.last.down.angle_to(-segments[-1].tangent(1.0)),
    )


def height(piece: Piece, p: Point) -> float:
    """How far down the grain a point lies, in mm."""
    return Vector(p.x, p.y).dot(piece.grain.down)


def result(piece: Piece, by_mm: float) -> Piece:
    """The altered piece; the example is left aside where the change is refused."""
    try:
        return altered(piece, by_mm).piece
    except AlterationError:
        event("refused")
        reject()


def holds_in_order(whole: tuple[object, ...], part: tuple[object, ...]) -> bool:
    """Does the row `part` stand somewhere in `whole` without a gap?"""
    return any(whole[k : k + len(part)] == part for k in range(len(whole) - len(part) + 1))


def wanted_line(piece: Piece, sketch: Sketch) -> Ring:
    """The cutting line drawn anew round the piece's stitching line."""
    assert piece.hem is not None
    k = next(n for n, e in enumerate(piece.edges) if e.role is Role.HEM)
    parts = [
        (sketch.allowance_of(e.role), list(piece.ring.run(e.start, e.end)))
        for e in (*piece.edges[k:], *piece.edges[:k])
    ]
    return cutting_line(parts, piece.hem, (piece.hem.first.down, piece.hem.last.down))[0]
