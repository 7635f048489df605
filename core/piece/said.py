"""Further corrections by a person: taper points, edges split and joined, grain, darts, names."""

from __future__ import annotations

from dataclasses import replace

from core.curve import Chain, Place, Point, Ring, Vector
from core.errors import PieceError
from core.piece.corners import corners as find_corners
from core.piece.correct import SAID, known_edges
from core.piece.cutting import cutting_hem
from core.piece.direction import end_direction
from core.piece.model import Dart, Edge, Grain, HemRun, Kind, Mark, Piece, Role, Taper
from core.piece.recognise import doubts, understood
from core.piece.tapers_alike import way_to

# A place this near (mm) to the end of an edge is that end.
NEAR = 1.0
# A place this near (mm) to a joint is that joint.
AT_JOINT = 1e-6
# What is pointed at lies this near (mm) to the outline.
ON_LINE = 8.0
# The line of a dart ends this near (mm) to its mouth and its apex.
OF_DART = 2.0


def with_taper(piece: Piece, at: Point, *, last: bool) -> Piece:
    """The piece with the first or last taper point of its hem run slid to the place nearest
    `at`: up or down its seam, or into the style line below it.

    The seam goes on from there in its own direction at that place. PieceError for a piece
    without a hem, or a place at which no seam would be left, or no hem.
    """
    if piece.hem is None:
        raise PieceError(
            f"{piece.name} has no hem, so it has no taper points. Say which edge it is."
        )
    ring, hem, way = piece.ring, piece.hem, way_to(piece, last=last)
    length = way.length()
    down_to = way.length_to(way.nearest(at).place)
    if not NEAR < down_to < length - NEAR:
        raise PieceError(
            f"{piece.name}: a taper point lies between the top of its seam and the hem."
        )
    kept = way.part(Place(0, 0.0), way.at_length(down_to))
    taper = Taper(_settled_on(ring, kept.end), end_direction(kept.segments), SAID)
    moved = HemRun(hem.first, taper) if last else HemRun(taper, hem.last)
    changed = replace(piece, hem=moved, edges=_ending_at(piece, moved))
    return _settled(changed)


def _settled_on(ring: Ring, p: Point) -> Place:
    """The place of a point of the ring; the joint, where it as good as lies on one."""
    place = ring.nearest(p).place
    for k in (place.index, (place.index + 1) % len(ring)):
        if ring.segments[k].start.distance(p) <= AT_JOINT:
            return Place(k, 0.0)
    return place


def _ending_at(piece: Piece, hem: HemRun) -> tuple[Edge, ...]:
    """The edges with the hem's between these taper points, and its neighbours up to them."""
    run, *seams = piece.edges
    seams[0] = replace(seams[0], start=hem.last.place)
    seams[-1] = replace(seams[-1], end=hem.first.place)
    return (replace(run, start=hem.first.place, end=hem.last.place), *seams)


def _settled(piece: Piece) -> Piece:
    """With all that follows from what was said."""
    piece = replace(piece, cutting_hem=cutting_hem(piece))
    return replace(piece, problems=tuple(doubts(piece)))


def split_edge(piece: Piece, number: int, at: Point) -> Piece:
    """The piece with edge `number` parted at the place nearest `at`, both parts in its role.

    PieceError for an edge that is not there, for the hem (its ends are the taper points), or
    for a place at the end of the edge.
    """
    edge = _edge(piece, number)
    if edge.role is Role.HEM:
        raise PieceError(f"{piece.name}: the hem ends at its taper points. Slide those instead.")
    chain = piece.edge_chain(edge)
    along = chain.length_to(chain.nearest(at).place)
    if not NEAR < along < chain.length() - NEAR:
        raise PieceError(f"{piece.name}: the edge ends there already. Point at a place along it.")
    place = _settled_on(piece.ring, chain.at(chain.at_length(along)))
    parts = (replace(edge, end=place, because=SAID), replace(edge, start=place, because=SAID))
    return replace(piece, edges=(*piece.edges[:number], *parts, *piece.edges[number + 1 :]))


def join_edges(piece: Piece, number: int) -> Piece:
    """The piece with edge `number` and the one after it as one, in the role of the first.

    PieceError for an edge that is not there, or when one of both is the hem.
    """
    edge = _edge(piece, number)
    following = number + 1
    if following >= len(piece.edges) or Role.HEM in (edge.role, piece.edges[following].role):
        raise PieceError(
            f"{piece.name}: after that edge comes the hem, which stays for itself. Choose an edge"
            " that a seam follows."
        )
    joined = replace(edge, end=piece.edges[following].end, because=SAID)
    return replace(piece, edges=(*piece.edges[:number], joined, *piece.edges[following + 1 :]))


def _edge(piece: Piece, number: int) -> Edge:
    if not 0 <= number < len(piece.edges):
        raise PieceError(f"{piece.name} has no edge number {number + 1}.")
    return piece.edges[number]


def with_grain(piece: Piece, down: Vector) -> Piece:
    """The piece with its grain pointing so, towards the hem; the hem, its taper points and the
    edges are found afresh, but for roles that a person or the file said.

    PieceError for a direction of no length, or one in which no hem can be found.
    """
    if down.norm == 0.0:
        raise PieceError(f"{piece.name}: the grain needs two places, one above the other.")
    told = [m.geometry for m in piece.marks if m.kind is Kind.TURN_POINT]
    points = [p for p in told if isinstance(p, Point)]
    aimed = replace(piece, grain=Grain(down.unit(), SAID, piece.grain.shape))
    corners = find_corners(piece.ring, told=points)
    found = understood(aimed, corners, {}, (), known=known_edges(piece))
    if found.hem is None:
        raise PieceError(f"{piece.name}: no hem faces that way. Point the grain from top to hem.")
    return found


def with_dart(piece: Piece, mouth: tuple[Point, Point], apex: Point) -> Piece:
    """The piece with a dart between these three points; lines drawn between them are its legs,
    or the outline itself, where it is cut in at these points. It stands in the place of those
    whose mouths it overlaps.

    PieceError when the mouth does not lie on one edge, or has no width.
    """
    ring = piece.ring
    near = [ring.nearest(p) for p in mouth]
    if max(n.distance for n in near) > ON_LINE:
        raise PieceError(
            f"{piece.name}: the mouth of a dart lies on an edge. Point at its two ends."
        )
    first, second = sorted(near, key=lambda n: n.place)
    if ring.length_to(second.place) - ring.length_to(first.place) > ring.length() / 2.0:
        # The outline is listed from within the mouth on.
        first, second = second, first
    if first.point.distance(second.point) < NEAR:
        raise PieceError(f"{piece.name}: the mouth of that dart has no width.")
    ends = (first.point, second.point)
    piece = _without_overlapped(piece, ends)
    notch = _cut_in(ring, (first.place, second.place), apex)
    if notch is not None:
        mouth = (ring.at(notch[0]), ring.at(notch[2]))
        return _with_found(piece, Dart(mouth, ring.at(notch[1]), SAID, mouth_places=notch[::2]))
    shapes = tuple(m.shape for m in piece.marks if _is_leg(m, (*ends, apex)))
    return _with_found(piece, Dart(ends, apex, SAID, shapes=shapes))


def _without_overlapped(piece: Piece, mouth: tuple[Point, Point]) -> Piece:
    """The piece without the darts whose mouths share more than a point with that one: cloth is
    taken in once."""
    mine = _span(piece, mouth)
    for number in reversed(range(len(piece.darts))):
        other = _span(piece, piece.darts[number].mouth)
        if min(mine[1], other[1]) - max(mine[0], other[0]) > NEAR:
            piece = without_dart(piece, number)
    return piece


def _span(piece: Piece, mouth: tuple[Point, Point]) -> tuple[float, float]:
    """Both ends of a mouth as lengths along the outline, the whole of it more where it goes over
    the place at which that begins."""
    ring = piece.ring
    a, b = sorted(ring.length_to(ring.nearest(p).place) for p in mouth)
    return (a, b) if b - a <= ring.length() / 2.0 else (b, a + ring.length())


def _cut_in(
    ring: Ring, mouth: tuple[Place, Place], apex: Point
) -> tuple[Place, Place, Place] | None:
    """The joints of the outline at which a notch begins, has its tip and ends; None when the
    outline is not cut in there.
    """
    joints = [_joint(ring, p) for p in (ring.at(mouth[0]), apex, ring.at(mouth[1]))]
    a, tip, b = (0 if k is None else k for k in joints)
    between = (tip - a) % len(ring), (b - a) % len(ring)
    if None in joints or not 0 < between[0] < between[1]:
        return None
    return Place(a, 0.0), Place(tip, 0.0), Place(b, 0.0)


def _joint(ring: Ring, p: Point) -> int | None:
    """The number of the segment that begins at the point, or almost."""
    away = [s.start.distance(p) for s in ring]
    return away.index(min(away)) if min(away) <= NEAR else None


def _with_found(piece: Piece, dart: Dart) -> Piece:
    middle = dart.mouth[0].towards(dart.mouth[1], 0.5)
    on = min(piece.edges, key=lambda e: piece.edge_chain(e).nearest(middle).distance).role
    shapes = dart.shapes
    marks = tuple(replace(m, kind=Kind.DART) if m.shape in shapes else m for m in piece.marks)
    return _settled(replace(piece, darts=(*piece.darts, replace(dart, on=on)), marks=marks))


def _is_leg(mark: Mark, corners: tuple[Point, ...]) -> bool:
    """Does the line run from one of the dart's points to another?"""
    if not isinstance(mark.geometry, Chain) or mark.kind not in (Kind.INNER, Kind.DART):
        return False
    ends = (mark.geometry.start, mark.geometry.end)
    return all(min(e.distance(c) for c in corners) <= OF_DART for e in ends)


def without_dart(piece: Piece, number: int) -> Piece:
    """The piece without that dart; its lines are inner lines then. A notch of the outline stays
    drawn. PieceError for a dart that is not there."""
    if not 0 <= number < len(piece.darts):
        raise PieceError(f"{piece.name} has no dart number {number + 1}.")
    gone = piece.darts[number]
    darts = (*piece.darts[:number], *piece.darts[number + 1 :])
    marks = tuple(replace(m, kind=Kind.INNER) if m.shape in gone.shapes else m for m in piece.marks)
    return _settled(replace(piece, darts=darts, marks=marks))


def called(piece: Piece, name: str) -> Piece:
    """The piece with that name; PieceError for an empty one."""
    plain = " ".join(name.split())
    if not plain:
        raise PieceError(f"{piece.name}: a piece needs a name. Type one.")
    return replace(piece, name=f"{plain} {piece.size}".strip())
