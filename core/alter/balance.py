"""Balance notches: where the seams ended before, so that mates are sewn together without shifting.

Both mates get the same added length along the seam, so both carry the notch equally far from
the hem. A fold is not sewn to anything and gets none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import median

from core.alter.marks import anchor
from core.alter.model import Change, Finding, Severity
from core.alter.redo import Redone
from core.curve import Chain, Line, Point, Ring
from core.measure import in_cm
from core.piece.corners import outward, outward_sign
from core.piece.model import Kind, Mark, Piece, Role

# Length of a notch (mm) on a piece that has none to go by; common practice, no source.
TICK = 6.0
# A notch closer to the hem than this (mm) cannot be told from its corner.
LEAST = 3.0
# A notch on the piece this near (mm) to the place does already what a new one would.
SAME_PLACE = 1.0


@dataclass(frozen=True)
class Balanced:
    """The new notches, and what is to be told of them."""

    marks: tuple[Mark, ...] = ()
    findings: tuple[Finding, ...] = ()


def balance_notches(piece: Piece, altered: Piece, change: Change, done: Redone) -> Balanced:
    """A notch on each seam of the lengthened piece at the place of its old end.

    On the cutting line, straight across, where the piece has one. Each is a short line into
    the piece, as long as those it has, or a point where these are points. Nothing when the
    change does not ask for them; a finding when the piece was made shorter, for its seams
    then end above their old ends.
    """
    if not change.balance_notch:
        return Balanced()
    if change.by_mm < 0.0:
        return Balanced(findings=(_none(piece),))
    free = -1 + min([0, *(m.shape for m in altered.marks)])
    places = [p for p in _old_ends(piece, done) if not _has_one(altered, p)]
    marks = tuple(Mark(Kind.NOTCH, free - k, _tick(altered, p)) for k, p in enumerate(places))
    return Balanced(marks, (_told(piece, done, len(marks)),) if marks else ())


def _old_ends(piece: Piece, done: Redone) -> Iterator[Point]:
    """The old ends of the seams that are sewn and have grown by enough to be notched."""
    assert piece.hem is not None
    ends = (done.old.first, done.old.last)
    for role, end, seam in zip(piece.hem_seam_roles, ends, done.seams, strict=True):
        if role is not Role.FOLD and seam.added_mm >= LEAST:
            yield end


def _notches(piece: Piece) -> list[Mark]:
    return [m for m in piece.marks if m.kind is Kind.NOTCH]


def _has_one(piece: Piece, at: Point) -> bool:
    foot = piece.outline.ring.nearest(at).point
    ends = [p for m in _notches(piece) for p in _ends(m)]
    return any(p.distance(foot) <= SAME_PLACE for p in ends)


def _ends(mark: Mark) -> tuple[Point, ...]:
    if isinstance(mark.geometry, Point):
        return (mark.geometry,)
    return mark.geometry.start, mark.geometry.end, anchor(mark)


def _tick(piece: Piece, at: Point) -> Chain | Point:
    """The notch from the cut edge next to `at` into the piece."""
    ring = piece.outline.ring
    foot = ring.nearest(at)
    kinds = [m.geometry for m in _notches(piece)]
    if kinds and all(isinstance(g, Point) for g in kinds):
        return foot.point
    into = -outward(ring, ring.tangent(foot.place), outward_sign(ring))
    return Chain((Line(foot.point, foot.point.moved(into, _length(kinds))),))


def _length(notches: list[Ring | Chain | Point]) -> float:
    """As long as the notches that are single lines."""
    lines = [g.length() for g in notches if isinstance(g, Chain) and len(g) == 1]
    return median(lines) if lines else TICK


def _none(piece: Piece) -> Finding:
    return Finding(
        Severity.NOTE,
        f"{piece.name}: no balance notches. Made shorter, its seams end above their old ends.",
    )


def _told(piece: Piece, done: Redone, count: int) -> Finding:
    lengths = [in_cm(s.added_mm) for s in done.seams]
    above = lengths[0] if lengths[0] == lengths[1] else f"{lengths[0]} and {lengths[1]}"
    seams = "both seams" if count > 1 else "one seam"
    return Finding(
        Severity.NOTE,
        f"{piece.name}: a balance notch on {seams} at the old end, {above} above the new one.",
    )
