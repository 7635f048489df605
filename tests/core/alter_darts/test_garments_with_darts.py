"""Legs, skirts, sleeves and bodices with darts in the hem and above it, in every way."""

from __future__ import annotations

import pytest
from hypothesis import event, given, reject
from hypothesis import strategies as st

from core.alter.lengthen import lengthen
from core.alter.model import Change, DartCaps, HemDarts, HemWay
from core.alter.simple import is_simple
from core.curve import Chain, Point, Ring
from core.errors import AlterationError
from core.piece.model import Dart, Kind, Piece, Role
from tests.core.alter_darts.garments import GARMENTS, bodice, sleeve

ALL = [(name, cut) for name in GARMENTS for cut in (True, False)]
EXACT = 1e-9
CORNER = 0.35
drawn = pytest.mark.parametrize(("name", "cut"), ALL)


def made(name: str, cut: bool) -> Piece:
    return GARMENTS[name](cut=cut)


def close(got: float, wanted: float, what: str, tolerance: float = EXACT) -> None:
    assert abs(got - wanted) <= tolerance, f"{what}: wanted {wanted}, got {got} (+-{tolerance})"


def corners(ring: Ring) -> int:
    around = (ring.segments[-1], *ring.segments)
    pairs = zip(around, ring.segments, strict=False)
    return sum(abs(a.tangent(1.0).angle_to(b.tangent(0.0))) > CORNER for a, b in pairs)


def lines_of(piece: Piece, dart: Dart) -> set[tuple[float, float]]:
    """All points of the dart's drawn lines."""
    chains = [m.geometry for m in piece.marks if m.kind is Kind.DART and m.shape in dart.shapes]
    points = [p for c in chains if isinstance(c, Chain) for p in (c.start, *(s.end for s in c))]
    return {(round(p.x, 6), round(p.y, 6)) for p in points}


def assert_sound(piece: Piece, after: Piece, change: Change) -> None:
    """Intake, legs, place: all that must hold for the darts of an altered piece."""
    assert len(after.darts) == len(piece.darts)
    for old, new in zip(piece.darts, after.darts, strict=True):
        if old.on is not Role.HEM:
            assert (old.mouth, old.apex) == (new.mouth, new.apex), "a dart from above moved"
            assert lines_of(piece, old) == lines_of(after, new)
            continue
        close(new.intake, old.intake, "intake")
        close(new.legs[0], new.legs[1], "legs")
        if change.hem_darts is HemDarts.APEX:
            assert new.apex == old.apex, "the apex stays"
        else:
            close(new.legs[0], old.legs[0], "length of the legs")
        if new.mouth_places is None:
            drawn_at = {(round(p.x, 6), round(p.y, 6)) for p in (*new.mouth, new.apex)}
            assert lines_of(after, new) == drawn_at, "the drawn lines are those of the dart"
    assert is_simple(after.ring)
    # A hem that is drawn anew, square or over its darts, is hollowed by some mm in any case.
    drawn_anew = change.hem is HemWay.SQUARE or change.dart_caps is DartCaps.CLOSED
    if not drawn_anew or abs(change.by_mm) > 10.0:
        assert (after.ring.area() - piece.ring.area()) * change.by_mm > 0.0


@pytest.mark.parametrize("hem", list(HemWay))
@pytest.mark.parametrize("way", list(HemDarts))
@pytest.mark.parametrize("by", [60.0, 12.5, -10.0, -30.0])
@drawn
def test_every_garment_in_every_way(
    name: str, cut: bool, by: float, way: HemDarts, hem: HemWay
) -> None:
    piece = made(name, cut)
    change = Change(by, hem=hem, hem_darts=way)
    after = lengthen(piece, change).piece
    assert_sound(piece, after, change)
    assert corners(after.ring) == corners(piece.ring), "as many corners as before"


@pytest.mark.parametrize("hem", list(HemWay))
@pytest.mark.parametrize("by", [60.0, -30.0])
@drawn
def test_every_garment_with_caps(name: str, cut: bool, by: float, hem: HemWay) -> None:
    piece = made(name, cut)
    change = Change(by, hem=hem, dart_caps=DartCaps.CLOSED)
    done = lengthen(piece, change)
    assert_sound(piece, done.piece, change)
    darts = [d for d in done.piece.darts if d.on is Role.HEM]
    told = [f.sentence for f in done.findings if "cap" in f.sentence]
    assert len(told) == len(darts), told
    assert all(("no cloth for a cap" in t) is cut for t in told), told


@drawn
def test_the_mouth_lies_on_the_hem(name: str, cut: bool) -> None:
    """Within a few hundredths of a mm for darts drawn as lines on one long line; those that
    are cut out are the hem."""
    piece = made(name, cut)
    for by in (80.0, -20.0):
        after = lengthen(piece, Change(by)).piece
        for dart in (d for d in after.darts if d.on is Role.HEM):
            off = max(after.ring.nearest(p).distance for p in dart.mouth)
            assert off <= 0.05, f"wanted the mouth on the hem, got {off} mm off it"


@given(
    st.sampled_from(ALL),
    st.floats(-300.0, 200.0).filter(lambda v: abs(v) > 0.5),
    st.sampled_from(list(HemDarts)),
    st.sampled_from([HemWay.REFIT, HemWay.SQUARE]),
    st.sampled_from(list(DartCaps)),
)
def test_any_amount_is_sound_or_refused_with_what_works(
    which: tuple[str, bool], by: float, way: HemDarts, hem: HemWay, caps: DartCaps
) -> None:
    piece = made(*which)
    change = Change(by, hem_darts=way, hem=hem, dart_caps=caps)
    try:
        after = lengthen(piece, change).piece
    except AlterationError as error:
        event("refused")
        if error.limit_mm is None:
            reject()
        less = error.limit_mm * 0.999 * (1.0 if by > 0.0 else -1.0)
        change = Change(less, hem_darts=way, hem=hem, dart_caps=caps)
        after = lengthen(piece, change).piece
    assert_sound(piece, after, change)


@pytest.mark.parametrize("cut", [True, False])
def test_an_elbow_dart_stays_bit_for_bit(cut: bool) -> None:
    piece = sleeve(cut=cut)
    for by in (120.0, -120.0):
        after = lengthen(piece, Change(by)).piece
        (old,) = (d for d in piece.darts if d.on is Role.UNDERARM)
        (new,) = (d for d in after.darts if d.on is Role.UNDERARM)
        assert (old.mouth, old.apex) == (new.mouth, new.apex)


@pytest.mark.parametrize("cut", [True, False])
def test_a_sleeve_is_not_cut_off_through_its_elbow_dart(cut: bool) -> None:
    piece = sleeve(cut=cut)
    with pytest.raises(AlterationError) as caught:
        lengthen(piece, Change(-300.0))
    assert caught.value.limit_mm is not None
    after = lengthen(piece, Change(-caught.value.limit_mm * 0.999)).piece
    assert is_simple(after.ring)


@pytest.mark.parametrize("cut", [True, False])
def test_a_waist_dart_of_a_bodice_does_not_run_into_its_bust_dart(cut: bool) -> None:
    """The first waist dart ends 280 mm down; the bust dart's apex lies above it, within its
    width: so far up it can go, and no further."""
    piece = bodice(cut=cut)
    with pytest.raises(AlterationError, match=r"dart|cross") as caught:
        lengthen(piece, Change(-70.0))
    assert caught.value.limit_mm is not None
    assert 30.0 < caught.value.limit_mm < 70.0
    after = lengthen(piece, Change(-caught.value.limit_mm * 0.999)).piece
    assert is_simple(after.ring)


@pytest.mark.parametrize("cut", [True, False])
def test_a_hem_dart_that_keeps_its_apex_stays_longer_than_wide(cut: bool) -> None:
    """20 wide and 80 deep (trousers): legs of 20 are left at a depth of 17.32."""
    piece = GARMENTS["trousers"](cut=cut)
    with pytest.raises(AlterationError, match="wider than long") as caught:
        lengthen(piece, Change(-75.0, hem_darts=HemDarts.APEX))
    assert caught.value.limit_mm is not None
    close(caught.value.limit_mm, 80.0 - (20.0**2 - 10.0**2) ** 0.5, "the limit", 1e-3)


def test_a_hole_at_the_apex_stays_with_it() -> None:
    piece = GARMENTS["trousers"](cut=False)
    (dart,) = (d for d in piece.darts if d.on is Role.HEM)
    hole = piece.marks[0].__class__(Kind.DRILL, 99, Point(dart.apex.x, dart.apex.y + 5.0))
    with_hole = piece.__class__(**{**vars(piece), "marks": (*piece.marks, hole)})
    kept = lengthen(with_hole, Change(50.0, hem_darts=HemDarts.APEX)).piece
    (again,) = (m for m in kept.marks if m.shape == 99)
    close(again.geometry.distance(dart.apex), 5.0 + 50.0 * 5.0 / 80.0, "it goes in proportion", 0.1)
    whole = lengthen(with_hole, Change(50.0)).piece
    (gone,) = (m for m in whole.marks if m.shape == 99)
    (new,) = (d for d in whole.darts if d.on is Role.HEM)
    close(gone.geometry.distance(new.apex), 5.0, "it goes along whole")
