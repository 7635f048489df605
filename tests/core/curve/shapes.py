"""Points, curves, chains and rings drawn by hypothesis, the nasty ones among them."""

from __future__ import annotations

import itertools
import math

import numpy as np
from hypothesis import strategies as st

from core.curve import Affine, Chain, Cubic, Line, Place, Point, Ring, Segment, Vector

# As large as a marker for a long coat, in mm.
REACH = 2000.0

coordinates = st.floats(-REACH, REACH, allow_subnormal=False)
shares = st.one_of(st.sampled_from((0.0, 1.0, 0.5, 1e-9, 1.0 - 1e-9)), st.floats(0.0, 1.0))
angles = st.floats(-math.pi, math.pi)
points = st.builds(Point, coordinates, coordinates)
directions = st.builds(lambda a: Vector(math.cos(a), math.sin(a)), angles)
lines = st.builds(Line, points, points)
free_cubics = st.builds(Cubic, points, points, points, points)


def _straight(a: Point, b: Point, s: float, t: float) -> Cubic:
    return Cubic(a, a.towards(b, s), a.towards(b, t), b)


def _cusp(a: Point, b: Point, c: Point) -> Cubic:
    """Handles crossed so that the derivative vanishes at t = 1/2."""
    # B'(1/2) = 3/4 (end - start + c2 - c1).
    return Cubic(a, b, b + (a - c), c)


odd_cubics = st.one_of(
    st.builds(lambda a, b, c: Cubic(a, a, b, c), points, points, points),
    st.builds(lambda a, b, c: Cubic(a, b, c, c), points, points, points),
    st.builds(lambda a, b: Cubic(a, a, b, b), points, points),
    st.builds(lambda a, b: Cubic(a, a, a, b), points, points),
    st.builds(lambda a, b: Cubic(a, b, b, b), points, points),
    st.builds(lambda a, b, c: Cubic(a, b, c, a), points, points, points),
    st.builds(lambda a: Cubic(a, a, a, a), points),
    st.builds(_straight, points, points, st.floats(-1.0, 2.0), st.floats(-1.0, 2.0)),
    st.builds(_cusp, points, points, points),
)
cubics = st.one_of(free_cubics, odd_cubics)
segments: st.SearchStrategy[Segment] = st.one_of(lines, cubics)
affines = st.builds(Affine, *[st.floats(-3.0, 3.0)] * 4, coordinates, coordinates)


@st.composite
def chains(draw: st.DrawFn, *, most: int = 5) -> Chain:
    """Lines and cubics joined end to end."""
    return Chain(tuple(_joined(draw, draw(st.lists(points, min_size=2, max_size=most)))))


@st.composite
def rings(draw: st.DrawFn, *, most: int = 5) -> Ring:
    """Lines and cubics joined end to end and back; they may cross themselves."""
    stops = draw(st.lists(points, min_size=2, max_size=most))
    return Ring(tuple(_joined(draw, [*stops, stops[0]])))


def _joined(draw: st.DrawFn, stops: list[Point]) -> list[Segment]:
    out: list[Segment] = []
    for a, b in itertools.pairwise(stops):
        out.append(Cubic(a, draw(points), draw(points), b) if draw(st.booleans()) else Line(a, b))
    return out


@st.composite
def rings_with_places(draw: st.DrawFn, *, count: int) -> tuple[Ring, tuple[Place, ...]]:
    """A ring and some places on it, often on the same segment."""
    ring = draw(rings())
    places = st.builds(Place, st.integers(0, len(ring) - 1), shares)
    return ring, tuple(draw(places) for _ in range(count))


def away(a: Point, b: Point) -> float:
    """Distance; a name that reads well in a message."""
    return a.distance(b)


def sampled(s: Segment, count: int = 2001) -> np.ndarray:
    """Points at evenly spaced t."""
    return s.points(np.linspace(0.0, 1.0, count))


def close(got: float, wanted: float, tolerance: float, what: str) -> None:
    """Fail with wanted, got and tolerance unless |got - wanted| <= tolerance."""
    assert abs(got - wanted) <= tolerance, (
        f"{what}: wanted {wanted!r}, got {got!r}, tolerance {tolerance!r}"
    )


def same_point(got: Point, wanted: Point, tolerance: float, what: str) -> None:
    """Fail unless two points lie within the tolerance of each other (mm)."""
    assert away(got, wanted) <= tolerance, (
        f"{what}: wanted {wanted}, got {got}, {away(got, wanted):.3g} mm apart, "
        f"tolerance {tolerance!r}"
    )
