"""Changes that a careful maker does not make, refused with what would work."""

from __future__ import annotations

from collections.abc import Callable

import shapely

from core.alter.contour import Lie, lie
from core.alter.model import Change, TooFarError
from core.alter.redo import Redone
from core.alter.relocate import Relocation
from core.alter.simple import TOLERANCE, is_simple
from core.alter.strand import chain_of
from core.alter.zones import Zones
from core.curve import Point, Ring, Vector
from core.errors import AlterationError
from core.measure import in_cm
from core.piece.model import ContourDart, Dart, Piece, Role

# Halvings that narrow a limit down: to 1e-7 of the amount that was asked for.
HALVINGS = 24
# How much of a dart (share of its depth, from the apex) must lie inside the outline.
TIP = 0.9


def refuse_no_hem(piece: Piece) -> None:
    """A piece without a hem, or whose two lines have no hem in common, cannot be made longer or
    shorter."""
    if piece.hem is None:
        raise AlterationError(
            f"{piece.name}: no hem was found, so it cannot be made longer or shorter."
            " Say which edge is the hem."
        )
    if piece.stitching is not None and piece.cutting_hem is None:
        raise AlterationError(
            f"{piece.name}: the stitching line does not run beside the cutting line down to the"
            " hem. Look both over in the program that made the file."
        )


def refuse_lost_darts(piece: Piece, done: Redone, zones: Zones) -> None:
    """TooFarError for a dart from above that the new hem would cut or leave outside."""
    above = [dart for dart in piece.darts if dart.on is not Role.HEM]
    if not above:
        return
    run = shapely.LineString(chain_of(done.redrawn.run).flattened(tolerance=TOLERANCE))
    for dart in above:
        outside = any(zones.beyond_new_hem(p) for p in _tip_points(dart))
        if outside or run.intersects(_triangle(dart)):
            raise TooFarError(f"the dart from the {dart.on.value} would reach below the new hem")


def refuse_hem_darts(piece: Piece, done: Redone, zones: Zones) -> None:
    """TooFarError for a hem dart that would not fit any more where it comes to lie.

    It must stay longer than wide, inside the outline, and clear of the darts from above.
    """
    if all(d.on is not Role.HEM for d in piece.darts):
        return
    to = Relocation(piece.ring, done)
    stays = [_triangle(d) for d in piece.darts if d.on is not Role.HEM]
    stays += [_figure(d) for d in piece.contours if lie(zones, d) is Lie.ABOVE]
    cloth = None
    for old in (d for d in piece.darts if d.on is Role.HEM):
        new = to.dart(old, done)
        turned = _depth(new, piece.grain.down) * _depth(old, piece.grain.down) <= 0.0
        if turned or (max(new.legs) < new.intake <= max(old.legs)):
            raise TooFarError("a hem dart would be wider than long")
        was, now = _triangle(old), _triangle(new)
        if any(now.intersects(s) and not was.intersects(s) for s in stays):
            raise TooFarError("a dart of the hem would run into another dart")
        if new.mouth_places is None:
            cloth = cloth or _cloth(done.outline.ring)
            if not cloth.contains(_tip(new)) and _cloth(piece.ring).contains(_tip(old)):
                raise TooFarError("a dart of the hem would reach beyond the outline")


def _tip(dart: Dart) -> shapely.Polygon:
    return shapely.Polygon([(p.x, p.y) for p in _tip_points(dart)])


def _tip_points(dart: Dart) -> tuple[Point, Point, Point]:
    """The dart without the ends of its mouth, which lie on the outline."""
    a, b = (dart.apex.towards(p, TIP) for p in dart.mouth)
    return a, dart.apex, b


def _cloth(ring: Ring) -> shapely.Polygon:
    return shapely.Polygon(ring.flattened(tolerance=TOLERANCE))


def _depth(dart: Dart, down: Vector) -> float:
    return (dart.mouth[0].towards(dart.mouth[1], 0.5) - dart.apex).dot(down)


def _figure(dart: ContourDart) -> shapely.Polygon:
    return shapely.Polygon([(p.x, p.y) for p in dart.corners])


def refuse_lost_contours(piece: Piece, zones: Zones) -> None:
    """TooFarError for a contour dart from above that the new hem would cut or leave outside."""
    for dart in piece.contours:
        if lie(zones, dart) is Lie.LOST:
            raise TooFarError("the contour dart would reach below the new hem")


def _triangle(dart: Dart) -> shapely.Polygon:
    return shapely.Polygon([(p.x, p.y) for p in (dart.mouth[0], dart.apex, dart.mouth[1])])


def refuse_crossing(old: Ring, new: Ring) -> None:
    """TooFarError for an altered outline that crosses itself where the old one did not.

    A hem that arches over the whole piece turns it inside out without crossing anything.
    """
    inside_out = old.signed_area() * new.signed_area() <= 0.0
    if (inside_out or not is_simple(new)) and is_simple(old):
        raise TooFarError("changed by this much its outline would cross itself")


def too_far(
    piece: Piece, change: Change, reason: TooFarError, works: Callable[[float], bool]
) -> AlterationError:
    """The refusal in a sentence, with the largest amount that would work.

    `works` tells whether the given share of the change would.
    """
    limit = _largest_share(works) * abs(change.by_mm)
    if limit == 0.0:
        return AlterationError(f"{piece.name}: {reason}. Check the taper points and the grain.")
    way = "Lengthen" if change.by_mm > 0.0 else "Shorten"
    return AlterationError(
        f"{piece.name}: {reason}. {way} by less than {in_cm(limit)}.", limit_mm=limit
    )


def _largest_share(works: Callable[[float], bool]) -> float:
    """The share below which the change works, found by halving; 0 when none was found."""
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if works(middle) else (low, middle)
    return low
