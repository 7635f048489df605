"""Seams as they are sewn: an edge measured from its hem end up, and the edges joined to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from core.alter.figures import edge_length, paired
from core.alter.model import Altered, Finding, Severity
from core.curve import Point, Segment
from core.piece.mates import Mates, find_mates
from core.piece.model import Edge, Piece, Role

# Why a pair of mates cannot be walked.
UNCLEAR = "it is not certain which edges are meant. Give each edge its own role."
GONE = (
    "after the change one of these edges is gone. Measure what is sewn there on the altered pieces."
)


class OnSeam(NamedTuple):
    """A place on a seam: mm from its hem end, the point there, and mm away from it."""

    from_hem_mm: float
    point: Point
    away_mm: float


@dataclass(frozen=True)
class Seam:
    """One edge of a piece, walked from its hem end up, darts in it closed.

    An edge that does not touch the hem is walked from its lower end along the grain.
    """

    piece: Piece
    edge: Edge

    @cached_property
    def hem_ends(self) -> tuple[bool, bool]:
        """Does it start where the hem run ends; does it end where the hem run starts?"""
        if self.piece.hem is None or self.edge.role is Role.HEM:
            return False, False
        at = self.piece.ring.at
        return (
            at(self.edge.start) == at(self.piece.hem.last.place),
            at(self.edge.end) == at(self.piece.hem.first.place),
        )

    @property
    def at_hem(self) -> bool:
        """Does it run up from the hem?"""
        return any(self.hem_ends)

    @property
    def climbs(self) -> bool:
        """Does the outline run up along it from the hem end?"""
        if self.at_hem:
            return self.hem_ends[0]
        down = self.piece.grain.down
        run = self.piece.ring.at(self.edge.end) - self.piece.ring.at(self.edge.start)
        return run.dot(down) < 0.0

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """From the hem end up, without the legs of darts."""
        forward = self.piece.sewn_segments(self.edge)
        return forward if self.climbs else tuple(s.reversed() for s in reversed(forward))

    @property
    def length(self) -> float:
        """In mm, darts closed."""
        return edge_length(self.piece, self.edge)

    @property
    def hem_end(self) -> Point:
        return self.piece.ring.at(self.edge.start if self.climbs else self.edge.end)

    @property
    def top(self) -> Point:
        return self.piece.ring.at(self.edge.end if self.climbs else self.edge.start)

    def nearest(self, p: Point) -> OnSeam:
        """The place of the seam that is nearest to p."""
        best, gone = OnSeam(0.0, self.hem_end, self.hem_end.distance(p)), 0.0
        for s in self.segments:
            found = s.nearest(p)
            if found.distance < best.away_mm:
                best = OnSeam(gone + s.length_to(found.t), found.point, found.distance)
            gone += s.length()
        return best


@dataclass(frozen=True)
class SeamChange:
    """A seam before and after an alteration; ``level_mm`` is what was put in at a level."""

    before: Seam
    after: Seam
    level_mm: float | None = None


@dataclass(frozen=True)
class Joined:
    """Two seams that are sewn together, before and after."""

    first: SeamChange
    second: SeamChange

    @property
    def called(self) -> str:
        """Both seams, as the beginning of a sentence."""
        a, b = self.first.after, self.second.after
        roles = (a.edge.role.value, b.edge.role.value)
        if a.piece.key == b.piece.key:
            return f"{a.piece.name}, seam to seam ({roles[0]})"
        if roles[0] == roles[1]:
            return f"{a.piece.name} and {b.piece.name}, {roles[0]}"
        return f"{a.piece.name} ({roles[0]}) and {b.piece.name} ({roles[1]})"

    @property
    def at_hem(self) -> bool:
        """Do both run up from the hem?"""
        return self.first.after.at_hem and self.second.after.at_hem


def mates_of(altered: Sequence[Altered]) -> tuple[Mates, ...]:
    """The mates among the pieces as they were before.

    A piece with two underarm seams, or with two inseams, that are sewn to no other piece is
    a sleeve or a leg in one part: they are sewn to each other.
    """
    return with_own(find_mates([a.before for a in altered]), altered)


def with_own(found: Sequence[Mates], altered: Sequence[Altered]) -> tuple[Mates, ...]:
    """These mates, and the pairs of seams of one piece that are sewn to each other."""
    taken = {end for pair in found for end in (pair.first, pair.second)}
    return (*found, *(m for a in altered for m in _own(a.before) if m.first not in taken))


def _own(piece: Piece) -> Iterator[Mates]:
    for role in (Role.UNDERARM, Role.INSEAM):
        edges = [e for e in piece.edges if e.role is role]
        if len(edges) == 2:
            yield Mates((piece.key, role), (piece.key, role), edges[0].because)


def joined(
    altered: Sequence[Altered], mates: Sequence[Mates]
) -> tuple[tuple[Joined, ...], tuple[Finding, ...]]:
    """The mated seams, and a finding for each pair that cannot be told for certain.

    Mates with a piece that is not among the altered ones are left out.
    """
    by_key = {a.before.key: a for a in altered}
    pieces = {key: a.before for key, a in by_key.items()}
    pairs, findings = [], []
    for mate in mates:
        if mate.first[0] not in by_key or mate.second[0] not in by_key:
            continue
        found = mate.edges(pieces)
        if found is None:
            findings.append(_cannot_walk(by_key, mate, UNCLEAR))
        else:
            first, second = (_change(by_key[k.piece], k.number) for k in found)
            if first is None or second is None:
                findings.append(_cannot_walk(by_key, mate, GONE))
            else:
                pairs.append(Joined(first, second))
    return tuple(pairs), tuple(findings)


def _change(altered: Altered, number: int) -> SeamChange | None:
    """An edge before and after; None for one that is gone after the change."""
    level_mm = None if altered.level is None else altered.level.by_mm
    old, new = list(paired(altered.before, altered.piece))[number]
    if new is None:
        return None
    return SeamChange(Seam(altered.before, old), Seam(altered.piece, new), level_mm)


def _cannot_walk(by_key: dict[int, Altered], mate: Mates, why: str) -> Finding:
    names = [f"{by_key[key].piece.name} ({role.value})" for key, role in (mate.first, mate.second)]
    return Finding(Severity.LOOK, f"{names[0]} and {names[1]} cannot be walked: {why}")
