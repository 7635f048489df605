"""From drawn shapes to pattern pieces with everything recognised on them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from core.curve import Chain, Place, Point, Ring
from core.kept import kept
from core.piece.contour import contour_darts, upright
from core.piece.corners import corners as find_corners
from core.piece.cutting import cutting_hem
from core.piece.darts import line_darts, notch_darts, off_caps
from core.piece.garments import Setting
from core.piece.gather import Gathered, gather
from core.piece.grain import find_grain
from core.piece.hem import find_hem, hem_around
from core.piece.model import (
    Because,
    ContourDart,
    Dart,
    Edge,
    HemRun,
    Kind,
    Mark,
    Outline,
    Piece,
    Role,
    Shape,
)
from core.piece.pieces import Pieces
from core.piece.roles import edges_of, overlay_words, told_roles, with_roles
from core.piece.unsound import where_crossing
from core.piece.words import called_in, role_in, says


def recognise(shapes: Sequence[Shape]) -> tuple[tuple[Piece, ...], tuple[str, ...]]:
    """All pieces among the shapes, and sentences about what is doubtful.

    Never refuses: what cannot be recognised is left open, with its reason.
    """
    found = recognised(shapes)
    return tuple(found.pieces), (*found.problems, *doubtful(found.pieces))


class Recognised(NamedTuple):
    """The pieces, each recognised when it is asked for; what was doubtful in telling them apart;
    and for each shape that is drawn once for several, the key of the piece with which it goes.
    """

    pieces: Pieces
    problems: tuple[str, ...]
    leading: Mapping[int, int]


def recognised(shapes: Sequence[Shape]) -> Recognised:
    """As `recognise`, but nothing is looked for on a piece before it is asked for."""
    gathered, problems = gather(shapes)

    def make(k: int) -> Piece:
        return _piece(k, gathered[k])

    return Recognised(Pieces([g.outline for g in gathered], make), problems, _leading(gathered))


# The window asks after every change.
@kept(most=32)
def doubtful(pieces: Sequence[Piece]) -> tuple[str, ...]:
    """Sentences about what is doubtful on the pieces; all of them are recognised for it."""
    told = [where_crossing(p.name, p.outline.ring) for p in pieces]
    told = [said for said in told if said]
    told += [f"{p.name}: {sentence}" for p in pieces for sentence in p.problems]
    return tuple(told)


def _leading(gathered: Sequence[Gathered]) -> dict[int, int]:
    """For each shape that lies on several pieces the one with the largest outline."""
    count = Counter(s.key for g in gathered for s in g.inner)
    if max(count.values(), default=0) < 2:
        return {}
    rising = sorted(range(len(gathered)), key=lambda k: abs(gathered[k].outline.ring.signed_area()))
    return {s.key: k for k in rising for s in gathered[k].inner if count[s.key] > 1}


def _piece(key: int, found: Gathered) -> Piece:
    ring = (found.stitching or found.outline).ring
    corners = find_corners(ring, told=turn_points(found.inner))
    notches = notch_darts(ring, corners)
    darts = (*notches, *line_darts(ring, found.inner))
    contours = contour_darts(ring, found.inner)
    keys = {key for d in contours for key in d.shapes}
    # The side of a contour dart is a long free straight line, but no grain line.
    telling = (*found.drawn, *(s for s in found.inner if s.key not in keys))
    bare = Piece(
        key=key,
        name=found.name,
        outline=found.outline,
        grain=find_grain(ring, telling, corners, darts, found.name),
        stitching=found.stitching,
        darts=darts,
        contours=contours,
        marks=tuple(_mark(s, (*darts, *contours)) for s in found.inner),
        size=found.size,
        sized=found.sized,
    )
    words = _edge_words(found.drawn)
    lines = [(s.geometry, role) for s in found.inner if (role := _line_role(s)) is not None]
    named = [(g, role) for g, role in lines if isinstance(g, Chain)]
    return understood(bare, corners, words, named)


def _edge_words(drawn: Sequence[Shape]) -> dict[int, Role]:
    """Roles that words give to the shapes of the outline.

    One word for the whole outline ("side panel", "waistband hem") names the piece, no edge.
    """
    words = {s.key: role for s in drawn if (role := role_in(s.words)) is not None}
    whole = len(words) == len(drawn) and len(set(words.values())) == 1
    return {} if whole else words


def turn_points(shapes: Iterable[Shape]) -> list[Point]:
    """Points that the file calls turn points."""
    return [
        s.geometry for s in shapes if s.kind is Kind.TURN_POINT and isinstance(s.geometry, Point)
    ]


def _line_role(shape: Shape) -> Role | None:
    if shape.kind is Kind.FOLD:
        return Role.FOLD
    return role_in(shape.words[:1]) if shape.kind is None else None


def _mark(shape: Shape, darts: Sequence[Dart | ContourDart]) -> Mark:
    of_dart = any(shape.key in d.shapes for d in darts)
    kind = Kind.DART if of_dart else shape.kind or Kind.INNER
    called = called_in(shape.words) if kind is Kind.INNER else ""
    return Mark(kind, shape.key, shape.geometry, shape.text, called=called)


def understood(
    piece: Piece,
    corners: Sequence[int],
    words: Mapping[int, Role],
    named: Sequence[tuple[Chain, Role]],
    *,
    hem_at: Place | None = None,
    known: Sequence[Edge] = (),
) -> Piece:
    """The piece with hem run, edges, roles and darts' edges found on its sewn line.

    `words` are roles by the shapes that the outline was drawn with, `named` lines that lie
    along it, `hem_at` a place of the hem if a person pointed at it, `known` edges that keep
    their roles where they are found again.
    """
    sewn, down = piece.sewn, piece.grain.down
    corners = off_caps(sewn.ring, corners, piece.darts)
    notches = [d for d in piece.darts if d.mouth_places is not None]
    middle = hem_at or _told_middle(sewn, words, named)
    if middle is not None:
        hem = hem_around(sewn.ring, down, corners, notches, middle)
    else:
        hem = find_hem(sewn.ring, down, corners, notches)
    edges = edges_of(sewn.ring, hem, corners, notches)
    told = {**overlay_words(sewn.ring, named, edges), **told_roles(edges, sewn, words)}
    told |= _found_again(edges, known)
    fold = any(m.kind is Kind.FOLD or says(m.text, ("fold",)) for m in piece.marks)
    setting = Setting(sewn.ring, down, piece.name, fold, notches=tuple(notches))
    edges = with_roles(edges, setting, told)
    darts = tuple(replace(d, on=_role_of(d, sewn.ring, edges)) for d in piece.darts)
    contours = tuple(upright(d, down) for d in piece.contours)
    found = replace(piece, hem=hem, edges=edges, darts=darts, contours=contours)
    problems = tuple(doubts(found))
    if not piece.grain.because.sure:
        found = _doubted(found, told.keys(), hem_known=middle is not None)
    return replace(found, cutting_hem=cutting_hem(found), problems=problems)


def _found_again(edges: Sequence[Edge], known: Sequence[Edge]) -> dict[int, tuple[Role, Because]]:
    """Roles by number of those edges that are among the known ones; the hem is the first edge."""
    roles = {(e.start, e.end): (e.role, e.because) for e in known}
    told = ((k, roles.get((e.start, e.end))) for k, e in enumerate(edges))
    return {k: was for k, was in told if was is not None and (was[0] is Role.HEM) is (k == 0)}


def _doubted(piece: Piece, told: Collection[int], *, hem_known: bool) -> Piece:
    """Nothing that was worked out from the grain is sure when the grain is not.

    The edges numbered in `told` are known from elsewhere, and so is the hem if `hem_known`.
    """
    edges = tuple(
        e if k in told or (k == 0 and hem_known) else replace(e, because=_if_grain(e.because))
        for k, e in enumerate(piece.edges)
    )
    if piece.hem is None or hem_known:
        return replace(piece, edges=edges)
    first, last = (
        replace(t, because=_if_grain(t.because)) for t in (piece.hem.first, piece.hem.last)
    )
    return replace(piece, edges=edges, hem=HemRun(first, last))


def _if_grain(because: Because) -> Because:
    return Because(False, f"{because.why}, if the grain is right") if because.sure else because


def _told_middle(
    sewn: Outline, words: Mapping[int, Role], named: Sequence[tuple[Chain, Role]]
) -> Place | None:
    """A place in the middle of what the file calls the hem."""
    hems = [chain for chain, role in named if role is Role.HEM]
    if hems:
        return sewn.ring.nearest(hems[0].at(hems[0].at_length(hems[0].length() / 2))).place
    drawn = [k for k, o in enumerate(sewn.origins) if words.get(o.shape) is Role.HEM]
    if not drawn:
        return None
    return Place(drawn[len(drawn) // 2], 0.5)


def _role_of(dart: Dart, ring: Ring, edges: Sequence[Edge]) -> Role:
    """The role of the edge in which the dart's mouth lies."""
    middle = dart.mouth[0].towards(dart.mouth[1], 0.5)
    runs = [(ring.run(e.start, e.end), e.role) for e in edges]
    return min(runs, key=lambda r: r[0].nearest(middle).distance, default=(None, Role.OTHER))[1]


def doubts(piece: Piece) -> Iterable[str]:
    """What a person should look at, as sentences without the piece's name."""
    if not piece.grain.because.sure:
        yield f"{piece.grain.because.why}. Check it."
    for dart in piece.contours:
        if not dart.because.sure:
            yield f"a contour dart is not certain: {dart.because.why}. Check it."
    if piece.hem is None:
        yield "no hem was found. Say which edge is the hem."
        return
    for taper in (piece.hem.first, piece.hem.last):
        if not taper.because.sure:
            yield f"a taper point is not certain: {taper.because.why}. Check it."
