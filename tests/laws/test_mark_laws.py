"""Notches, holes, inner lines, writing and the grain line go with the part they lie on."""

from __future__ import annotations

from dataclasses import replace

import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from core.alter.model import Altered
from core.curve import Chain, Point
from core.piece.model import Kind, Mark, Piece
from tests.laws.compare import altered, close, ends, height, result, run
from tests.laws.generate import Drawn, changes, drawn, longer
from tests.laws.marked import (
    CREASE_KEY,
    FOLD_KEY,
    GRAIN_KEY,
    HEM_NOTCH_KEY,
    HIGH_HOLE_KEY,
    HIGH_LINE_KEY,
    LOW_ABOVE,
    LOW_HOLE_KEY,
    LOW_LINE_KEY,
    SEAM_NOTCH_KEY,
    WORDS_KEY,
)
from tests.laws.sketch import Garment, SeamPlan, Sketch

MARKED = drawn(with_marks=True, digitised=False, darts=False)
# Amounts that take away all that lies LOW_ABOVE above the lower taper point, and more.
well_up = st.floats(-75.0, -LOW_ABOVE - 35.0)


def changed(case: Drawn, by_mm: float) -> Altered:
    """The alteration; the example is left aside where the change is refused."""
    result(case.piece, by_mm)
    return altered(case.piece, by_mm)


def mark(piece: Piece, key: int) -> Mark | None:
    return next((m for m in piece.marks if m.shape == key), None)


def chain(piece: Piece, key: int) -> Chain:
    found = mark(piece, key)
    assert found is not None, f"the mark {key} is gone"
    assert isinstance(found.geometry, Chain)
    return found.geometry


def off_run(piece: Piece, p: Point) -> float:
    """Distance in mm from the hem run."""
    return Chain(run(piece)).nearest(p).distance


@given(MARKED, changes)
def test_a_crease_that_ended_on_the_hem_still_does(case: Drawn, by: float) -> None:
    after = changed(case, by).piece
    before = chain(case.piece, CREASE_KEY)
    line = chain(after, CREASE_KEY)
    assert line.start == before.start, "the crease's upper end moved"
    off = off_run(after, line.end)
    assert off <= 0.01, f"the crease ends {off} mm off the hem"
    way = before.segments[0].tangent(0.0)
    aside = abs(way.cross(line.end - line.start))
    assert aside <= 0.01, f"the crease was straight and now ends {aside} mm aside"


@given(MARKED, changes)
def test_a_fold_line_along_the_hem_follows_it(case: Drawn, by: float) -> None:
    """As far above the taper points as before, and from seam to seam."""
    piece, after = case.piece, changed(case, by).piece
    line = chain(after, FOLD_KEY)
    for old_end, new_end, t, u in zip(
        (chain(piece, FOLD_KEY).start, chain(piece, FOLD_KEY).end),
        (line.start, line.end),
        *_in_order(chain(piece, FOLD_KEY), piece, after),
        strict=True,
    ):
        was = height(piece, t) - height(piece, old_end)
        now = height(after, u) - height(after, new_end)
        close(now, was, 0.01, "height of the fold above the taper point")
        off = after.ring.nearest(new_end).distance
        assert off <= 0.01, f"the fold ends {off} mm off the seam"


def _in_order(
    fold: Chain, piece: Piece, after: Piece
) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """Taper points before and after, in the order of the fold's ends."""
    old, new = ends(piece), ends(after)
    if fold.start.distance(old[0]) > fold.start.distance(old[1]):
        return (old[1], old[0]), (new[1], new[0])
    return old, new


@given(MARKED, changes)
def test_a_notch_on_the_hem_stays_on_it(case: Drawn, by: float) -> None:
    after = changed(case, by).piece
    line = chain(after, HEM_NOTCH_KEY)
    off = min(off_run(after, line.start), off_run(after, line.end))
    assert off <= 0.01, f"the notch stands {off} mm off the hem"
    step = line.start - chain(case.piece, HEM_NOTCH_KEY).start
    end = line.end - chain(case.piece, HEM_NOTCH_KEY).end
    assert (step - end).norm <= 1e-9, "the notch was bent"


def low_marks_clear_of_hem(piece: Piece) -> bool:
    """A hem that arches up as far as a low mark runs through it: then it is the hem's."""
    low = [m for m in piece.marks if m.shape in (LOW_HOLE_KEY, LOW_LINE_KEY)]
    line = shapely.LineString(Chain(run(piece)).flattened(tolerance=0.01))
    return all(line.distance(_drawn(m)) > 2.0 for m in low)


def _drawn(m: Mark) -> shapely.Geometry:
    if isinstance(m.geometry, Point):
        return shapely.Point(m.geometry.x, m.geometry.y)
    return shapely.LineString(m.geometry.flattened(tolerance=0.01))


@given(MARKED, longer)
def test_lengthening_loses_nothing_and_leaves_what_is_above(case: Drawn, by: float) -> None:
    done = changed(case, by)
    assume(low_marks_clear_of_hem(case.piece))
    assert len(done.piece.marks) == len(case.piece.marks), "a mark was lost"
    assert not [f for f in done.findings if "gone" in f.sentence]
    for key in (SEAM_NOTCH_KEY, HIGH_HOLE_KEY, LOW_HOLE_KEY, HIGH_LINE_KEY):
        assert mark(done.piece, key) == mark(case.piece, key), f"the mark {key} moved"


@given(MARKED, well_up)
def test_shortening_names_each_lost_mark(case: Drawn, by: float) -> None:
    done = changed(case, by)
    assume(low_marks_clear_of_hem(case.piece))
    old = {m.shape: m for m in case.piece.marks}
    lost = set(old) - {m.shape for m in done.piece.marks}
    assert {SEAM_NOTCH_KEY, LOW_HOLE_KEY, LOW_LINE_KEY} <= lost, f"lost only {lost}"
    named = [f.sentence for f in done.findings if "gone" in f.sentence]
    assert len(named) == len(lost), f"lost {lost}, told {named}"
    for key in lost:
        kind = old[key].kind.value
        assert any(kind in sentence for sentence in named), f"no word of the {kind}"
    assert WORDS_KEY not in lost, "writing was lost"
    assert mark(done.piece, HIGH_HOLE_KEY) == old[HIGH_HOLE_KEY]
    assert mark(done.piece, HIGH_LINE_KEY) == old[HIGH_LINE_KEY]


@given(MARKED, changes)
def test_the_grain_line_keeps_its_direction(case: Drawn, by: float) -> None:
    after = changed(case, by).piece
    old, new = chain(case.piece, GRAIN_KEY), chain(after, GRAIN_KEY)
    turn = abs((old.end - old.start).unit().cross((new.end - new.start).unit()))
    assert turn <= 1e-12, f"the grain line turned by {turn} rad"
    assert after.grain == case.piece.grain
    assert new.start == old.start, "the upper end of the grain line moved"


@given(MARKED, changes)
def test_no_mark_lies_off_the_piece(case: Drawn, by: float) -> None:
    """But for writing, and the ends of lines that stuck out before.

    A notch is where it stands on its seam. One that stands nearer to a hem that leans up from
    there than it is deep has its tip beyond the hem, as it would when snipped into the cloth.
    """
    after = changed(case, by).piece
    for m in after.marks:
        old = mark(case.piece, m.shape)
        assert old is not None
        if m.kind is Kind.TEXT or not _lies_on(case.piece, old):
            continue
        shown = _foot(after, m) if m.kind is Kind.NOTCH and _reaches_hem(after, m) else m
        assert _lies_on(after, shown), f"a {m.kind.value} lies off the piece: {m}"


def _foot(piece: Piece, notch: Mark) -> Mark:
    """The place at which a notch stands on the outline."""
    assert isinstance(notch.geometry, Chain)
    ends_of = (notch.geometry.start, notch.geometry.end)
    return replace(notch, geometry=min(ends_of, key=lambda p: piece.ring.nearest(p).distance))


def _reaches_hem(piece: Piece, notch: Mark) -> bool:
    """Does it stand nearer to an end of the hem than it is deep?"""
    foot = _foot(piece, notch).geometry
    assert isinstance(foot, Point)
    assert isinstance(notch.geometry, Chain)
    return min(foot.distance(p) for p in ends(piece)) < notch.geometry.length()


def test_a_mark_off_the_piece_is_seen() -> None:
    """The measure that the law rests on can fail."""
    plan = SeamPlan(0.0)
    piece = Sketch(Garment.LEG, 320.0, 230.0, plan, plan).piece()
    hole = next(m for m in piece.marks if m.shape == HIGH_HOLE_KEY)
    assert isinstance(hole.geometry, Point)
    assert _lies_on(piece, hole)
    off = hole.geometry.moved(piece.grain.down, 1000.0)
    assert not _lies_on(piece, replace(hole, geometry=off))
    notch = next(m for m in piece.marks if m.shape == SEAM_NOTCH_KEY)
    assert not _reaches_hem(piece, notch), "a notch well up its seam needs no such excuse"


def _lies_on(piece: Piece, m: Mark) -> bool:
    cloth = shapely.Polygon(piece.ring.flattened(tolerance=0.002)).buffer(0.02)
    return bool(cloth.contains(_drawn(m)))
