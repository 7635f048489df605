"""What the hem run keeps: straightness, its angle to each seam, flow, darts, seam ends."""

from __future__ import annotations

from hypothesis import given

from core.alter.frame import Frame
from core.curve import Chain, Line
from core.piece.model import Piece, Role
from tests.laws.compare import altered, close, ends, height, hem_angles, result, run, turns, upper
from tests.laws.generate import Drawn, changes, drawn, longer, shorter

ANGLE = 1e-9
SMOOTH = 1e-6


@given(drawn(curved_hem=False, rounded=False, darts=False), changes)
def test_a_straight_hem_stays_straight(case: Drawn, by: float) -> None:
    after = result(case.piece, by)
    start, end = ends(after)
    way = (end - start).unit()
    for s in run(after):
        assert isinstance(s, Line), f"wanted lines, got {s}"
        off = abs(way.cross(s.start - start))
        assert off <= 1e-9, f"wanted a straight hem, got {off} mm off it"


@given(drawn(curved_hem=True, digitised=False, may_drag=True), longer)
def test_a_curved_hem_keeps_its_angles_when_lengthened(case: Drawn, by: float) -> None:
    wanted, got = hem_angles(case.piece), hem_angles(result(case.piece, by))
    for w, g in zip(wanted, got, strict=True):
        close(g, w, ANGLE, "angle of the hem to the seam")


@given(drawn(curved_hem=True, digitised=False, may_drag=True), shorter)
def test_a_curved_hem_keeps_its_angles_when_shortened(case: Drawn, by: float) -> None:
    """Also where the seam has another direction further up."""
    wanted, got = hem_angles(case.piece), hem_angles(result(case.piece, by))
    for w, g in zip(wanted, got, strict=True):
        close(g, w, ANGLE, "angle of the hem to the seam")


@given(drawn(digitised=False), changes)
def test_a_rounded_corner_flows_out_of_the_seam(case: Drawn, by: float) -> None:
    after = result(case.piece, by)
    plans = (case.sketch.left, case.sketch.right)
    rounded = sum(p.radius > 0.0 for p in plans)
    found = dict(turns(after.ring))
    smooth = sum(abs(found[p]) < SMOOTH for p in ends(after))
    assert smooth >= rounded, f"wanted {rounded} smooth taper points, got {smooth}"


@given(drawn(may_drag=True), longer)
def test_seams_go_on_along_their_taper(case: Drawn, by: float) -> None:
    """Each new seam end lies L / cos further along the taper's own direction."""
    piece = case.piece
    assert piece.hem is not None
    after = result(piece, by)
    for old, new, taper in zip(
        ends(piece), ends(after), (piece.hem.first, piece.hem.last), strict=True
    ):
        length = by / taper.down.dot(piece.grain.down)
        wanted = old.moved(taper.down, length)
        assert new.distance(wanted) <= 1e-9, f"wanted {wanted}, got {new}"


@given(drawn(may_drag=True), shorter)
def test_shortened_seams_end_on_themselves(case: Drawn, by: float) -> None:
    """Each new seam end is the old seam's point |L| higher along the grain."""
    piece = case.piece
    after = result(piece, by)
    old = Chain(upper(piece))
    for was, now in zip(ends(piece), ends(after), strict=True):
        close(height(piece, now), height(piece, was) + by, 1e-9, "height of the seam end")
        off = old.nearest(now).distance
        assert off <= 1e-9, f"the new seam end lies {off} mm off the old seam"


@given(drawn(), changes)
def test_a_hem_dart_moves_whole(case: Drawn, by: float) -> None:
    """Mouth and apex take one and the same step; a dart from the waist takes none."""
    piece = case.piece
    for old, new in zip(piece.darts, result(piece, by).darts, strict=True):
        if old.on is not Role.HEM:
            assert new.mouth == old.mouth, "a dart from the waist moved"
            assert new.apex == old.apex, "a dart from the waist moved"
            continue
        step = new.apex - old.apex
        for p, q in zip(old.mouth, new.mouth, strict=True):
            off = (q - p - step).norm
            assert off <= 1e-9, f"wanted the step {step}, got {q - p}"
        close(step.dot(piece.grain.down), by, 1e-9, "the dart's way along the grain")


@given(drawn(rounded=False, curved_hem=False), changes)
def test_the_closed_hem_widens_or_narrows_not_the_dart(case: Drawn, by: float) -> None:
    """Across the grain, every stretch between darts scales by one factor: the closed hem's."""
    piece = case.piece
    after = result(piece, by)
    frame = Frame(piece.grain.down)
    scale = _closed_width(after, frame) / _closed_width(piece, frame)
    legs = {frozenset((foot, d.apex)) for d in piece.darts for foot in d.mouth}
    for s, t in zip(run(piece), run(after), strict=True):
        wanted = 1.0 if frozenset((s.start, s.end)) in legs else scale
        was = frame.width(s.end) - frame.width(s.start)
        got = frame.width(t.end) - frame.width(t.start)
        close(got, was * wanted, 1e-8, "width of a stretch of the hem")


def _closed_width(piece: Piece, frame: Frame) -> float:
    """Width of the hem across the grain once its darts are sewn, in mm."""
    a, b = ends(piece)
    mouths = [d.mouth for d in piece.darts if d.on is Role.HEM]
    intake = sum(abs(frame.width(q) - frame.width(p)) for p, q in mouths)
    return abs(frame.width(b) - frame.width(a)) - intake


@given(drawn(digitised=False), changes)
def test_seam_lengths_grow_by_what_was_told(case: Drawn, by: float) -> None:
    """Figures are what can be measured on the outline."""
    piece = case.piece
    after = result(piece, by)
    told = altered(piece, by).figures
    seams = [k for k, e in enumerate(piece.edges) if e.role is not Role.HEM]
    last, first = seams[0], seams[-1]
    for k, added in ((first, told.added_first_mm), (last, told.added_last_mm)):
        grown = after.edge_length(after.edges[k]) - piece.edge_length(piece.edges[k])
        close(grown, added, 1e-6, "what the seam gained")
    first_end, last_end = ends(after)
    width = first_end.distance(last_end)
    if any(side.radius or side.vent for side in (case.sketch.left, case.sketch.right)):
        # Straight across the grain: a rounding that begins higher up makes no hem wider.
        frame = Frame(after.grain.down)
        width = abs(frame.width(last_end) - frame.width(first_end))
    intake = sum(p.distance(q) for p, q in (d.mouth for d in after.darts if d.on is Role.HEM))
    close(told.hem_width_after_mm, width - intake, 1e-9, "hem width with its darts closed")
