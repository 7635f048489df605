"""Which edge is what: by the file's words first, then by the shape of the piece."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from core.curve import Chain, Place, Ring
from core.piece.darts import plain_corners
from core.piece.garments import Setting, guessed
from core.piece.model import Because, Dart, Edge, HemRun, Outline, Role

# Words name an edge when they cover this share of it.
NAMED_SHARE = 0.5
# A named line this near (mm) to an edge all along is that edge.
ON_EDGE = 0.3
MIDDLES = {Role.FOLD, Role.CENTRE_FRONT, Role.CENTRE_BACK}


def edges_of(
    ring: Ring, hem: HemRun | None, corners: Sequence[int], darts: Sequence[Dart]
) -> tuple[Edge, ...]:
    """The edges between corners, the hem run as one edge, in ring order from the hem on."""
    plain = plain_corners(corners, darts, len(ring))
    unknown = Because(False, "not recognised")
    if hem is None:
        stops = [Place(k, 0.0) for k in plain]
        return tuple(
            Edge(Role.OTHER, a, b, unknown)
            for a, b in zip(stops, (*stops[1:], *stops[:1]), strict=True)
        )
    first, last = hem.first.place, hem.last.place
    size = len(ring)
    after = sorted(
        (Place(k, 0.0) for k in plain if _between(Place(k, 0.0), last, first)),
        key=lambda p: (p.index - last.index) % size,
    )
    stops = [last, *after, first]
    seams = [Edge(Role.OTHER, a, b, unknown) for a, b in pairwise(stops)]
    run = Because(True, "the lowest edge across the grain")
    return (Edge(Role.HEM, first, last, run), *seams)


def _between(p: Place, start: Place, end: Place) -> bool:
    """Does p lie strictly on the way forward from start to end?"""
    if start < end:
        return start < p < end
    return p > start or p < end


def with_roles(
    edges: Sequence[Edge], setting: Setting, told: Mapping[int, tuple[Role, Because]]
) -> tuple[Edge, ...]:
    """The edges with their roles; `told` has those that the file's words name, by number."""
    middles = tuple(edges[k] for k, (role, _) in told.items() if role in MIDDLES)
    by_shape = guessed(edges, replace(setting, middles=middles))
    return tuple(
        replace(e, role=told[k][0], because=told[k][1]) if k in told else e
        for k, e in enumerate(by_shape)
    )


def told_roles(
    edges: Sequence[Edge], outline: Outline, words: Mapping[int, Role]
) -> dict[int, tuple[Role, Because]]:
    """Roles by number of the edges of which a good part was drawn by a shape so named."""
    out: dict[int, tuple[Role, Because]] = {}
    for k, edge in enumerate(edges):
        lengths: dict[Role, float] = {}
        chain = outline.ring.run(edge.start, edge.end)
        for n, segment in zip(_numbers(edge, len(outline.ring)), chain, strict=False):
            role = words.get(outline.origins[n].shape)
            if role is not None:
                lengths[role] = lengths.get(role, 0.0) + segment.length()
        if lengths:
            role = max(lengths, key=lambda r: lengths[r])
            if lengths[role] >= NAMED_SHARE * chain.length():
                out[k] = role, Because(True, f"the file calls it {role.value}", told=True)
    return out


def _numbers(edge: Edge, size: int) -> list[int]:
    """Ring numbers of the edge's segments, in order."""
    count = (edge.end.index - edge.start.index) % size + (edge.end.t > 0.0)
    if count <= 0:
        count += size
    return [(edge.start.index + k) % size for k in range(count)]


def overlay_words(
    ring: Ring, lines: Sequence[tuple[Chain, Role]], edges: Sequence[Edge]
) -> dict[int, tuple[Role, Because]]:
    """Roles of edges along which a separately drawn line of that name lies."""
    out: dict[int, tuple[Role, Because]] = {}
    for chain, role in lines:
        probes = [chain.at(chain.at_length(chain.length() * f)) for f in (0.1, 0.5, 0.9)]
        for k, edge in enumerate(edges):
            run = ring.run(edge.start, edge.end)
            if chain.length() < NAMED_SHARE * run.length():
                continue
            if all(run.nearest(p).distance < ON_EDGE for p in probes):
                why = f"a line called {role.value} lies along it"
                out[k] = role, Because(True, why, told=True)
    return out
