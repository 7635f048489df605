"""Outlines taken apart and put together: strands, seams, the refitted run."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.alter.frame import Frame
from core.alter.model import TooFarError
from core.alter.refit import Ends, HemDart, run_map
from core.alter.seam import (
    SLIVER,
    carry_on,
    cut_back_by_drop,
    cut_back_by_length,
    drop_available,
    length_available,
)
from core.alter.strand import Strand, Thread, backwards, chain_of, close, open_at_tapers
from core.curve import Cubic, Line, Place, Point, Ring, Vector
from core.piece.model import Because, HemRun, Origin, Outline, Taper

DOWN = Vector(0.0, 1.0)
FRAME = Frame(DOWN)
SURE = Because(True, "drawn so")


def strand(*points: tuple[float, float]) -> Strand:
    """Lines through the points, numbered from 0."""
    ps = [Point(*xy) for xy in points]
    return tuple(Thread(Line(a, b), k, Origin(0, k)) for k, (a, b) in enumerate(pairwise(ps)))


def hexagon(start: int) -> tuple[Outline, HemRun]:
    """Six corners listed from corner `start`; tapers in the middle of two of its sides."""
    points = [Point(100 * math.cos(k), 100 * math.sin(k)) for k in range(6)]
    turned = points[start:] + points[:start]
    ring = Ring.polygon(turned)
    outline = Outline(ring, tuple(Origin(0, k) for k in range(6)))
    first, last = Place((1 - start) % 6, 0.25), Place((3 - start) % 6, 0.5)
    return outline, HemRun(Taper(first, DOWN, SURE), Taper(last, DOWN, SURE))


@pytest.mark.parametrize("start", range(6))
def test_opening_and_closing_gives_the_outline_back(start: int) -> None:
    """From any start: the same shape, beginning where it began, parts in their order."""
    outline, hem = hexagon(start)
    upper, run = open_at_tapers(outline, hem)
    assert chain_of(run).start == outline.ring.at(hem.first.place)
    assert chain_of(run).end == outline.ring.at(hem.last.place)
    closed = close(upper, run)
    assert closed.ring.start == outline.ring.start
    assert [o.segment for o in closed.origins] == sorted(o.segment for o in closed.origins)
    assert abs(closed.ring.area() - outline.ring.area()) < 1e-9


@given(st.lists(st.floats(0.0, 1.0), min_size=2, max_size=5))
def test_a_strand_there_and_back_is_itself(widths: list[float]) -> None:
    some = strand(*((w, float(k)) for k, w in enumerate(widths)))
    assert backwards(backwards(some)) == some


def test_a_ruled_seam_grows_and_a_curve_gets_a_line() -> None:
    ruled = carry_on(strand((0, 0), (0, 100)), DOWN, 30.0)
    assert [t.segment for t in ruled.strand] == [Line(Point(0, 0), Point(0, 130))]
    curve = Cubic(Point(0, 0), Point(5, 30), Point(0, 70), Point(0, 100))
    bent = carry_on((Thread(curve, 0, Origin(0, 0)),), DOWN, 30.0)
    assert [t.segment for t in bent.strand] == [curve, Line(Point(0, 100), Point(0, 130))]
    assert {t.origin for t in bent.strand} == {Origin(0, 0)}


def test_nothing_carried_on_added_a_line_without_length() -> None:
    """A mate whose seam gains nothing keeps its seam as it was."""
    seam = strand((0, 0), (3, 100))
    end = carry_on(seam, DOWN, 0.0)
    assert end.strand == seam
    assert end.added_mm == 0.0


@pytest.mark.parametrize("drop", [5.0, 40.0, 60.0, 75.0, 140.0])
def test_a_seam_cut_back_by_drop(drop: float) -> None:
    """Two ruled stretches of slopes 3/4 and 0: closed form by similar triangles."""
    seam = strand((0, 0), (60, 80), (60, 150))
    end = cut_back_by_drop(seam, FRAME, drop)
    level = 150.0 - drop
    wanted = Point(60.0, level) if level >= 80 else Point(level * 0.75, level)
    assert end.end.distance(wanted) < 1e-12, f"wanted {wanted}, got {end.end}"
    along = drop if drop <= 70 else 70 + (drop - 70) * 1.25
    assert abs(end.added_mm + along) < 1e-9, f"wanted {-along}, got {end.added_mm}"


@pytest.mark.parametrize("length", [5.0, 69.0, 70.0, 71.0, 120.0])
def test_a_seam_cut_back_by_length(length: float) -> None:
    seam = strand((0, 0), (60, 80), (60, 150))
    end = cut_back_by_length(seam, length)
    assert abs(length_available(end.strand) - (170.0 - length)) < 1e-9
    assert abs(end.added_mm + length) < 1e-9
    assert abs(drop_available(seam, FRAME) - 150.0) < 1e-12


def test_a_cut_at_a_joint_leaves_no_sliver() -> None:
    seam = strand((0, 0), (60, 80), (60, 150))
    for off in (0.0, SLIVER / 4, -SLIVER / 4):
        for end in (
            cut_back_by_drop(seam, FRAME, 70.0 + off),
            cut_back_by_length(seam, 70.0 + off),
        ):
            assert [t.segment for t in end.strand] == [seam[0].segment]


def ends(width: float, first: tuple[float, float], last: tuple[float, float]) -> tuple[Ends, Ends]:
    """A level hem of that width, and where its ends go."""
    old = Ends(Point(0.0, 0.0), Point(width, 0.0), DOWN, DOWN)
    return old, replace(old, first=Point(*first), last=Point(*last))


def test_darts_are_taken_out_of_the_scaling() -> None:
    """100 wide with two darts of 10: 80 free, to be 60 free. Closed form: scale 3/4."""
    old, new = ends(100.0, (10.0, 50.0), (90.0, 50.0))
    mouths = ((20.0, 30.0), (60.0, 70.0))
    darts = [HemDart((Point(a, 0.0), Point(b, 0.0)), Point((a + b) / 2, -40.0)) for a, b in mouths]
    where = run_map(FRAME, old, new, darts)
    for x, wanted in (
        (0.0, 10.0),
        (20.0, 25.0),
        (30.0, 35.0),
        (60.0, 57.5),
        (70.0, 67.5),
        (100.0, 90.0),
    ):
        got = where.point(Point(x, 3.0))
        assert got.distance(Point(wanted, 53.0)) < 1e-12, f"wanted x {wanted}, got {got}"


def test_unequal_drops_lean_the_hem_and_not_its_darts() -> None:
    """First end down 30, last 50; the dart between drops by one amount all over."""
    old, new = ends(100.0, (0.0, 30.0), (100.0, 50.0))
    dart = HemDart((Point(40.0, 0.0), Point(60.0, 0.0)), Point(50.0, -60.0))
    where = run_map(FRAME, old, new, [dart])
    drops = [where.point(Point(x, 0.0)).y for x in (0.0, 40.0, 50.0, 59.9, 60.0, 100.0)]
    wanted = [30.0, 40.0, 40.0, 40.0, 40.0, 50.0]
    assert all(abs(a - b) < 1e-12 for a, b in zip(drops, wanted, strict=True)), drops


def test_no_width_left() -> None:
    old, new = ends(100.0, (30.0, 50.0), (20.0, 50.0))
    with pytest.raises(TooFarError):
        run_map(FRAME, old, new, ())
