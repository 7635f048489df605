"""The laws again on pieces that went through recognition, as a file's shapes do."""

from __future__ import annotations

from hypothesis import assume, event, given, reject
from hypothesis import strategies as st

from core.alter.simple import is_simple
from core.piece.model import Kind, Piece, Role, Shape
from core.piece.recognise import recognise
from tests.laws.compare import (
    altered,
    assert_same_shape,
    close,
    ends,
    hem_angles,
    holds_in_order,
    result,
    turns,
    upper,
)
from tests.laws.generate import STRAIGHT_ENDS, Drawn, changes, drawn, longer, poses
from tests.laws.pose import Pose, mapped, split


def shapes_of(piece: Piece) -> list[Shape]:
    """What a reader would find of the piece: its outline, its marks, and its name."""
    shapes = [Shape(0, piece.outline.ring, (piece.name,))]
    if piece.stitching is not None:
        shapes.append(Shape(1, piece.stitching.ring, kind=Kind.STITCHING))
    return shapes + [
        Shape(m.shape, m.geometry, kind=None if m.kind is Kind.INNER else m.kind, text=m.text)
        for m in piece.marks
    ]


def recognised(piece: Piece) -> Piece:
    """The piece as recognised.

    The example is left aside where no hem was found, or the waist was taken for it: which
    end of a plain panel is up is told by the page, and these lie any way round.
    """
    found, _ = recognise(shapes_of(piece))
    if len(found) != 1 or found[0].hem is None:
        event("no hem recognised")
        reject()
    if found[0].grain.down.dot(piece.grain.down) < 0.0:
        event("upside down")
        reject()
    return found[0]


def with_fit_line(case: Drawn) -> Piece:
    """The piece as recognised, its seams ending on their fit lines.

    A tight rounding in few lines may be taken for a corner, which is told as not certain: what
    is carried on from there is one line of the rounding, and no fit line of which law 1 and law
    2 speak. Where the taper point is said to be sure nothing is left aside.
    """
    piece = recognised(case.piece)
    assert piece.hem is not None
    for p, taper in zip(ends(piece), (piece.hem.first, piece.hem.last), strict=True):
        off = min(p.distance(q) for q in ends(case.piece))
        assume(taper.because.sure or off <= TAPER)
    return piece


# Digitised: a taper point is right within so much (mm), as in the table of recognition.
TAPER = 10.0
MARKED = drawn(with_marks=True)
CURVES = drawn(with_marks=True, digitised=False)


@given(CURVES)
def test_the_taper_points_are_where_they_were_drawn(case: Drawn) -> None:
    """On drawn curves, within 0.01 mm and 1e-6 radians."""
    piece = recognised(case.piece)
    assert piece.hem is not None
    assert case.piece.hem is not None
    wanted = dict(zip(ends(case.piece), (case.piece.hem.first, case.piece.hem.last), strict=True))
    for p, taper in zip(ends(piece), (piece.hem.first, piece.hem.last), strict=True):
        q = min(wanted, key=p.distance)
        assert p.distance(q) <= 0.01, f"wanted a taper point at {q}, got {p}"
        close(taper.down.angle_to(wanted[q].down), 0.0, 1e-6, "direction of the taper")


@given(MARKED, longer, longer)
def test_recognised_lengthening_twice(case: Drawn, a: float, b: float) -> None:
    """Law 1."""
    piece = with_fit_line(case)
    twice, once = result(result(piece, a), b), result(piece, a + b)
    assert_same_shape(twice.ring, once.ring, "twice")


@given(drawn(styles=STRAIGHT_ENDS, with_marks=True), longer)
def test_recognised_shortening_undoes_lengthening(case: Drawn, by: float) -> None:
    """Law 2."""
    piece = with_fit_line(case)
    assert_same_shape(result(result(piece, by), -by).ring, piece.ring, "there and back")


@given(MARKED, changes)
def test_recognised_upper_stays(case: Drawn, by: float) -> None:
    piece = recognised(case.piece)
    old, new = upper(piece), upper(result(piece, by))
    kept, whole = (old[1:-1], new) if by > 0.0 else (new[1:-1], old)
    assert holds_in_order(whole, kept)


@given(MARKED, changes, poses)
def test_recognised_page_does_not_matter(case: Drawn, by: float, pose: Pose) -> None:
    """Law 3: turned with its grain line before it is recognised, or after it is altered."""
    turned = result(recognised(mapped(case.piece, pose.affine)), by)
    wanted = mapped(result(recognised(case.piece), by), pose.affine)
    assert_same_shape(turned.ring, wanted.ring, "turned before and after", 1e-6)


@given(MARKED, changes)
def test_recognised_outline_stays_simple(case: Drawn, by: float) -> None:
    """Laws 4 and 5."""
    piece = recognised(case.piece)
    assert altered(piece, 0.0).piece is piece
    after = result(piece, by)
    assert is_simple(after.ring)
    assert (after.ring.area() - piece.ring.area()) * by > 0.0


@given(MARKED, changes)
def test_recognised_darts_keep_intake(case: Drawn, by: float) -> None:
    """Law 7; and every drawn dart is found."""
    piece = recognised(case.piece)
    assert len(piece.darts) == len(case.piece.darts), "a dart was not recognised"
    for old, new in zip(piece.darts, result(piece, by).darts, strict=True):
        close(new.intake, old.intake, 1e-9, "intake")
        close(new.legs[0] - new.legs[1], old.legs[0] - old.legs[1], 1e-9, "legs")


@given(CURVES, changes)
def test_recognised_corners_stay(case: Drawn, by: float) -> None:
    """Law 8."""
    piece = recognised(case.piece)
    after = result(piece, by)
    for low, high in ((1e-6, 0.3), (0.3, 4.0)):
        was, now = (sum(low < abs(a) <= high for _, a in turns(p.ring)) for p in (piece, after))
        assert now <= was, f"wanted {was} joints of {low} to {high} rad, got {now}"


@given(CURVES, longer)
def test_recognised_hem_keeps_its_angles(case: Drawn, by: float) -> None:
    assume(case.sketch.hem_angles is not None)
    piece = recognised(case.piece)
    for was, now in zip(hem_angles(piece), hem_angles(result(piece, by)), strict=True):
        close(now, was, 1e-9, "angle of the hem to the seam")


@given(drawn(with_marks=True, digitised=False, darts=False), changes, st.data())
def test_recognised_with_more_points(case: Drawn, by: float, data: st.DataObject) -> None:
    """Law 9 on drawn curves: split anywhere before it is recognised."""
    k = data.draw(st.integers(0, len(case.piece.ring) - 1))
    finer = split(case.piece, k, data.draw(st.floats(0.05, 0.95)))
    got, wanted = result(recognised(finer), by), result(recognised(case.piece), by)
    assert_same_shape(got.ring, wanted.ring, "with one more point")


@given(CURVES)
def test_recognised_roles(case: Drawn) -> None:
    """The hem's role, always; the others are held to account by the tests of recognition."""
    piece = recognised(case.piece)
    assert piece.edges[0].role is Role.HEM
