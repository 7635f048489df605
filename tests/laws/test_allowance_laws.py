"""The cutting line's new part lies everywhere as far outside the stitching line as the old one.

Measured against the cutting line that is drawn anew, by its derivative and without the code
under test, round the altered stitching line; and point by point with distances of shapely.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import event, given, reject
from hypothesis import strategies as st

from core.alter.figures import hem_width
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, HemWay, SeamWay
from core.alter.simple import is_simple
from core.curve import Cubic, Line, Place, Point, Ring
from core.errors import AlterationError
from core.piece.model import HemRun, Outline, Piece
from tests.laws.compare import apart, turns, wanted_line
from tests.laws.generate import Drawn, changes, drawn
from tests.laws.outer import KEEPS
from tests.laws.sketch import Sketch

# A stretch of stitching line is a sliver when it is shorter than this (mm).
SLIVER = 0.5
# A line drawn anew turns back on itself where two curves meet in a hollow kink: no measure.
BACK = 2.5
# Most cubics that one curve of the old cutting line, or of the seam carried on, becomes.
MOST = 8
# How far (radians) a seam turns to give the hem the width that is asked for.
TURNED = 0.25


@st.composite
def ways(draw: st.DrawFn) -> Change:
    """All ways of carrying the seams on and of bringing the hem; `to_width_mm` is here by how
    much (a share of TURNED) the seams turn."""
    longer = draw(st.booleans())
    by = draw(st.floats(1.0, 150.0)) if longer else draw(st.floats(-60.0, -1.0))
    width = st.one_of(st.none(), st.floats(-1.0, 1.0)) if longer else st.none()
    level = st.one_of(st.none(), st.floats(300.0, 800.0)) if longer else st.none()
    return Change(
        by,
        seams=draw(st.sampled_from(SeamWay)),
        hem=draw(st.sampled_from(HemWay)),
        to_width_mm=draw(width),
        plumb_below_mm=draw(level),
    )


def in_mm(change: Change, piece: Piece) -> Change:
    """The change with the hem width that it asks for, counted as that of a hem is: beside a
    rounding across the grain, or the seams would have to turn by far more."""
    if change.to_width_mm is None:
        return change
    now = hem_width(piece)
    return replace(change, to_width_mm=now + 2.0 * TURNED * change.by_mm * change.to_width_mm)


def otherwise_drawn(piece: Piece, *, backwards: bool, start: int) -> Piece:
    """The same piece; its cutting line runs the other way round and begins elsewhere."""
    assert piece.cutting_hem is not None
    ring, origins, hem = piece.outline.ring, piece.outline.origins, piece.cutting_hem
    size = len(ring)

    def at(place: Place) -> Place:
        k = (size - place.index) % size if backwards else place.index
        return Place((k - start) % size, 0.0)

    first, last = (replace(t, place=at(t.place)) for t in (hem.first, hem.last))
    if backwards:
        ring, origins, (first, last) = ring.reversed(), tuple(reversed(origins)), (last, first)
    k = start % size
    turned = Ring((*ring.segments[k:], *ring.segments[:k]))
    outline = Outline(turned, (*origins[k:], *origins[:k]))
    return replace(piece, outline=outline, cutting_hem=HemRun(first, last))


def built(piece: Piece, change: Change) -> Altered:
    """The altered piece; never one whose cutting line was altered by itself."""
    try:
        altered = lengthen(piece, change)
    except AlterationError:
        event("refused")
        reject()
    alone = [f.sentence for f in altered.findings if "by itself" in f.sentence]
    assert not alone, f"wanted a cutting line built from the stitching line, got {alone}"
    return altered


def told_distances(piece: Piece, sketch: Sketch) -> float:
    """How far the distances from the stitching to the cutting line leave what the edges'
    allowances allow, point by point, in mm: near a corner the other edge's line may be nearer."""
    cut = shapely.LineString(piece.outline.ring.flattened(tolerance=5e-4))
    worst = 0.0
    least = min(sketch.allowance_of(e.role) for e in piece.edges)
    for edge in piece.edges:
        chain = piece.ring.run(edge.start, edge.end)
        places = [chain.at_length(chain.length() * k / 100) for k in range(101)]
        points = shapely.points([(p.x, p.y) for p in map(chain.at, places)])
        found = np.asarray(shapely.distance(points, cut))
        wide = sketch.allowance_of(edge.role)
        worst = max(worst, float((found - wide).max()), float((least - found).max()))
        # Further from both ends than the widest allowance reaches round a corner.
        inner = [s for s in range(101) if 0.3 <= s / 100 <= 0.7]
        worst = max(worst, float(np.abs(found[inner] - wide).max()))
    return worst


STITCHED = drawn(stitched=True, digitised=False, darts=False)
DIGITISED = drawn(stitched=True, digitised=True, darts=False)
# Beside steps of up to 20 mm that turn otherwise after the change: 99 of 100 pieces keep within
# 0.025 mm, and 0.13 mm was the most in 5,500. Where the seams turn by up to half a radian, within
# as little as 1 mm of seam, less (0.22 mm seen).
KEEPS_STEPS, KEEPS_TURNED = 0.15, 0.3


@given(STITCHED, ways(), st.booleans(), st.integers(0, 60))
def test_the_allowance_is_the_same_everywhere_along_the_new_part(
    case: Drawn, change: Change, backwards: bool, start: int
) -> None:
    piece = otherwise_drawn(case.piece, backwards=backwards, start=start)
    after = built(piece, in_mm(change, piece)).piece
    wanted = wanted_line(after, case.sketch)
    # Beside a sliver of the stitching line, as trimming can leave at a corner, the line drawn
    # anew runs out into a spike, because it mitres both ends of it: it cannot tell what is right.
    sliver = min(s.length() for s in after.ring) < SLIVER
    if sliver or not is_simple(wanted) or max(abs(t) for _, t in turns(wanted)) > BACK:
        event("no measure")
        reject()
    off = apart(after.outline.ring, wanted)
    assert off <= KEEPS, f"wanted the allowance within {KEEPS} mm everywhere, got {off} mm off"


@given(DIGITISED, ways())
def test_the_allowance_stays_beside_digitised_lines(case: Drawn, change: Change) -> None:
    """Point by point; or, where the seams turn and points are no measure, by the line drawn anew,
    whose corners lie elsewhere: they are mitred along the last steps."""
    piece, sketch = case.piece, case.sketch
    turns = (change.to_width_mm, change.plumb_below_mm) != (None, None)
    straight_on = not turns and change.seams is not SeamWay.PLUMB
    keeps = max(KEEPS_STEPS if straight_on else KEEPS_TURNED, told_distances(piece, sketch))
    after = built(piece, in_mm(change, piece)).piece
    assert is_simple(after.outline.ring)
    off = told_distances(after, sketch)
    if off > keeps:
        off = min(off, apart(after.outline.ring, wanted_line(after, sketch)))
    assert off <= keeps, f"wanted the edges' allowances within {keeps} mm, got {off} mm off"


@given(STITCHED, changes)
def test_the_distance_from_the_stitching_line_is_the_allowance(case: Drawn, by: float) -> None:
    after = built(case.piece, Change(by)).piece
    off = told_distances(after, case.sketch)
    assert off <= KEEPS, f"wanted the edges' allowances within {KEEPS} mm, got {off} mm off"


@given(STITCHED, changes)
def test_both_ways_of_measuring_can_fail(case: Drawn, by: float) -> None:
    """A hem's corner that is set off by a tenth of a millimetre is seen."""
    after = built(case.piece, Change(by)).piece
    ring = after.outline.ring
    moved = Ring(tuple(replace_all(s, 0.1) for s in ring))
    off = replace(after, outline=replace(after.outline, ring=moved))
    assert apart(off.outline.ring, wanted_line(after, case.sketch)) > KEEPS
    assert told_distances(off, case.sketch) > KEEPS


def replace_all(segment: Line | Cubic, by: float) -> Line | Cubic:
    """The segment moved aside."""
    return type(segment)(*(Point(c.x + by, c.y + by) for c in segment.controls))


@given(STITCHED, ways(), st.booleans())
def test_curves_stay_curves_and_lines_lines(case: Drawn, change: Change, backwards: bool) -> None:
    """No more pieces than a curve needs; a straight hem is a curve only once it was squared."""
    piece = otherwise_drawn(case.piece, backwards=backwards, start=0)
    after = built(piece, in_mm(change, piece)).piece
    was = sum(isinstance(s, Cubic) for s in piece.outline.ring)
    sewn = [sum(isinstance(s, Cubic) for s in p.ring) for p in (piece, after)]
    got = sum(isinstance(s, Cubic) for s in after.outline.ring)
    most = was * 4 + MOST * (max(0, sewn[1] - sewn[0]) + 2)
    assert got <= most, f"wanted at most {most} curves, got {got}; they were {was}"
    lines = len(after.outline.ring) - got
    assert lines <= len(piece.outline.ring) - was + 6, f"wanted no line in a curve's place: {lines}"


@pytest.mark.parametrize("radius", [15.0, 40.0, 120.0])
def test_a_rounded_corner_needs_few_curves(radius: float) -> None:
    from tests.laws.sketch import Garment, SeamPlan

    plan = SeamPlan(-0.05, radius=radius)
    sketch = Sketch(Garment.SKIRT, 600.0, 500.0, plan, plan, allowance=10.0)
    piece = sketch.piece()
    after = built(piece, Change(100.0)).piece
    was, got = (sum(isinstance(s, Cubic) for s in p.outline.ring) for p in (piece, after))
    assert got <= was + 4, f"wanted about as many curves as the {was} there were, got {got}"
