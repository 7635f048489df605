"""A dart and a taper point are found again on another size of a piece, where a maker would draw
them: at the same place of the edge, and as far above the hem."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.curve import Affine, Chain, Line, Point, Ring, Vector
from core.files import read
from core.piece.darts_alike import Three, dart_alike, points_alike
from core.piece.model import Piece, Shape
from core.piece.recognise import recognise
from core.piece.said import with_dart, with_grain, with_taper
from core.piece.tapers_alike import taper_alike, way_to

SAMPLES = Path(__file__).parents[3] / "sample_pieces"
TALL, VENT = 600.0, 120.0


def skirt(wide: float, *, mirrored: bool = False, darts: bool = False) -> Piece:
    """A flared panel, `wide` at the waist, that falls plumb for the last VENT mm; with the lines
    of a dart at a third of the waist, as wide and as long in every size."""
    hip = wide + 80.0
    ring = Ring.polygon(
        [
            Point(0.0, 0.0),
            Point(wide, 0.0),
            Point(hip, TALL - VENT),
            Point(hip, TALL),
            Point(-80.0, TALL),
            Point(-80.0, TALL - VENT),
        ]
    )
    grain = Line(Point(wide / 2, 100.0), Point(wide / 2, 400.0))
    shapes = [Shape(0, ring, ("front",)), Shape(1, Chain((grain,)), ("grain",))]
    if darts:
        for k, side in enumerate((-12.0, 12.0), 2):
            leg = Line(Point(wide / 3 + side, 0.0), Point(wide / 3, 110.0))
            shapes.append(Shape(k, Chain((leg,)), ("line",)))
    if mirrored:
        by = Affine.scale(-1.0, 1.0)
        lines = [s.geometry for s in shapes]
        mapped = [g.mapped(by) for g in lines if isinstance(g, Chain)]
        shapes = [replace(s, geometry=g) for s, g in zip(shapes, mapped, strict=True)]
    return with_grain(recognise(shapes)[0][0], Vector(0.0, 1.0))


@cache
def breeches() -> tuple[Piece, ...]:
    return tuple(read(SAMPLES / "rain_breeches.svg").pieces)


@pytest.mark.parametrize("last", [False, True])
def test_the_top_of_a_vent_is_the_top_of_the_vent_in_every_size(last: bool) -> None:
    small, large = skirt(300.0), skirt(420.0)
    right = way_to(small, last=last).start.x > 150.0
    at = Point(380.0 if right else -80.0, TALL - VENT)
    found = taper_alike(small, at, large, last=last)
    assert found is not None
    p, end = found
    assert end == last
    wanted = Point(500.0 if right else -80.0, TALL - VENT)
    assert p.distance(wanted) < 1e-9, f"wanted the joint {wanted}, got {p}"


@given(st.floats(40.0, 500.0), st.booleans())
def test_a_taper_point_keeps_its_height_above_the_hem(up: float, last: bool) -> None:
    for a, b in permutations((skirt(300.0), skirt(360.0), skirt(420.0)), 2):
        way = way_to(a, last=last)
        met = way.meets(Point(0.0, TALL - up), Vector(1.0, 0.0))
        found = taper_alike(a, way.at(met[0]), b, last=last)
        assert found is not None
        assert found[0].y == pytest.approx(TALL - up, abs=0.5)
        assert way_to(b, last=found[1]).nearest(found[0]).distance < 1e-6
        with_taper(b, found[0], last=found[1])


def test_an_outline_that_runs_the_other_way_round_has_its_ends_the_other_way_round() -> None:
    one, other = skirt(300.0), skirt(360.0, mirrored=True)
    way = way_to(one, last=True)
    at = way.at(way.at_length(400.0))
    found = taper_alike(one, at, other, last=True)
    assert found is not None
    p, _ = found
    assert (at.x > 150.0) == (p.x > -180.0), "wanted the same side as seen along the grain"


def test_every_size_of_the_breeches_gets_the_height_of_any_other() -> None:
    for a, b in permutations(breeches(), 2):
        if a.title != b.title:
            continue
        for last in (False, True):
            way = way_to(a, last=last)
            at = way.at(way.at_length(0.6 * way.length() / 2))
            found = taper_alike(a, at, b, last=last)
            assert found is not None
            back = taper_alike(b, found[0], a, last=found[1])
            assert back is not None
            assert back[1] == last
            assert back[0].distance(at) < 1e-6, f"{a.name} by {b.name}: wanted {at}, got {back[0]}"


def test_a_dart_that_is_drawn_in_each_size_is_its_own_lines_there() -> None:
    pieces = [skirt(w, darts=True) for w in (300.0, 340.0, 420.0)]
    for a, b in permutations(pieces, 2):
        wide = a.outline.ring.bounds().width - 160.0
        other = b.outline.ring.bounds().width - 160.0
        three = Three(
            Point(wide / 3 - 12.0, 0.0), Point(wide / 3 + 12.0, 0.0), Point(wide / 3, 110.0)
        )
        wanted = Three(
            Point(other / 3 - 12.0, 0.0), Point(other / 3 + 12.0, 0.0), Point(other / 3, 110.0)
        )
        got = points_alike(a, three, b)
        assert got is not None
        assert got.apart(wanted) < 1e-9, f"wanted {wanted}, got {got}"
        bare = b if not b.darts else None
        marked = with_dart(b, got.mouth, got.apex)
        assert marked.darts[-1].shapes or bare is None, "wanted the drawn lines as its legs"


@given(st.floats(0.2, 0.8), st.floats(10.0, 40.0), st.floats(60.0, 140.0), st.floats(-20.0, 20.0))
def test_a_dart_that_is_not_drawn_keeps_intake_depth_and_place(
    share: float, intake: float, deep: float, aside: float
) -> None:
    a, b = skirt(300.0), skirt(420.0)
    middle = share * 300.0
    three = Three(
        Point(middle - intake / 2, 0.0),
        Point(middle + intake / 2, 0.0),
        Point(middle + aside, deep),
    )
    got = points_alike(a, three, b)
    assert got is not None
    at = share * 420.0
    wanted = Three(
        Point(at - intake / 2, 0.0), Point(at + intake / 2, 0.0), Point(at + aside, deep)
    )
    assert got.apart(wanted) < 1e-6, f"wanted {wanted}, got {got}"


def test_the_same_dart_is_found_and_the_next_one_is_not() -> None:
    a, b = skirt(300.0), skirt(340.0)
    mine = with_dart(a, (Point(90.0, 0.0), Point(110.0, 0.0)), Point(100.0, 100.0))
    two = b
    for x in (113.0, 240.0):
        two = with_dart(two, (Point(x - 10.0, 0.0), Point(x + 10.0, 0.0)), Point(x, 100.0))
    three = Three(*mine.darts[0].mouth, mine.darts[0].apex)
    found = dart_alike(mine, three, two)
    assert found is not None
    assert two.darts[found].apex.x == pytest.approx(113.0)
    assert dart_alike(mine, three, b) is None


def test_a_mouth_on_an_edge_that_the_other_size_has_not_is_on_none() -> None:
    a, b = skirt(300.0), skirt(340.0)
    three = Three(Point(90.0, 0.0), Point(110.0, 0.0), Point(100.0, 100.0))
    assert points_alike(a, three, b) is not None
    bare = tuple(e for e in b.edges if b.edge_chain(e).nearest(Point(170.0, 0.0)).distance > 1.0)
    assert len(bare) == len(b.edges) - 1
    assert points_alike(a, three, replace(b, edges=bare)) is None
