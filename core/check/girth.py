"""The hem all round: every piece that meets in it, as wide as it is sewn, against the wearer.

Girths are always compared at the level that the caller names; nothing is assumed of how a
leg narrows or widens from knee to calf (measured people are even in that: Heinz et al. 2003).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from core.alter.figures import edge_length
from core.alter.frame import Frame
from core.alter.model import Altered, Finding, Severity, Whose
from core.alter.refit import HemDart
from core.alter.vents import slits
from core.check.counted import Counted, counted
from core.check.flow import hem_corner
from core.check.seams import Joined, Seam
from core.curve import Point
from core.errors import MeasureError
from core.measure import Length, Sentence
from core.piece.model import Edge, Piece, Role

# Seams whose other side is the same piece turned over.
MIRRORED = {Role.FOLD, Role.CENTRE_FRONT, Role.CENTRE_BACK}
# A girth that is short by less than this (mm) is not short.
SLACK = 0.05


class Around(Enum):
    """What a hem goes around."""

    LEG = "leg"
    ARM = "arm"
    BODY = "body"


@dataclass(frozen=True, slots=True)
class Wearer:
    """The wearer's own girths in mm at the level of the new hem; None where not measured.

    ``ease_mm`` is what the garment is to be wider than the body. ``heel_mm`` is the girth
    around heel and ankle, ``hand_mm`` around the hand: they must pass through the hem.
    MeasureError for a girth that is not above nothing, or an ease that is no number.
    """

    leg_mm: float | None = None
    arm_mm: float | None = None
    body_mm: float | None = None
    ease_mm: float = 0.0
    heel_mm: float | None = None
    hand_mm: float | None = None

    def __post_init__(self) -> None:
        girths = (self.leg_mm, self.arm_mm, self.body_mm, self.heel_mm, self.hand_mm)
        for girth in girths:
            if girth is not None and not 0.0 < girth < math.inf:
                raise MeasureError(
                    "A girth of the wearer must be a length above nothing. Measure it again."
                )
        if not math.isfinite(self.ease_mm):
            raise MeasureError("The ease must be a length. Give 0 for none.")

    def own(self, around: Around) -> float | None:
        """The wearer's girth there."""
        return {Around.LEG: self.leg_mm, Around.ARM: self.arm_mm, Around.BODY: self.body_mm}[around]

    def passing(self, around: Around) -> float | None:
        """What must pass through a hem there."""
        return {Around.LEG: self.heel_mm, Around.ARM: self.hand_mm, Around.BODY: None}[around]


@dataclass(frozen=True, slots=True)
class HemMeasure:
    """One piece's hem in mm with its darts closed.

    ``width_mm`` is its share of the girth: along the hem from corner to corner, straight over
    slits; straight across the grain where a corner is rounded or the seam ends above a vent,
    since neither the rounding nor what laps over is girth. ``edge_mm`` is all of the hem run,
    rounded corners, vents and slits too: what a binding must cover.
    """

    width_mm: float
    edge_mm: float


@dataclass(frozen=True)
class HemGirth:
    """A hem all round, before and after, in mm.

    ``times`` is how often the garment has it (two legs), ``counted`` how often each of the
    pieces stands in it; the figures are for one whole hem. ``whole`` is False when other
    pieces belong in it that are not among these.
    """

    pieces: tuple[Whose, ...]
    around: Around
    counted: tuple[Counted, ...]
    whole: bool
    before: HemMeasure
    after: HemMeasure
    place: Point

    @property
    def keys(self) -> tuple[int, ...]:
        return tuple(p.key for p in self.pieces)

    @property
    def times(self) -> int:
        return max(c.hems for c in self.counted)

    def copies(self) -> dict[int, int]:
        """By the keys of the pieces: how often each is cut for one garment, a piece on the fold
        opened as two halves."""
        return {key: c.in_hem * c.hems for key, c in zip(self.keys, self.counted, strict=True)}


def hem_measure(piece: Piece) -> HemMeasure | None:
    """The hem of one piece; None when it has none."""
    edge = next((e for e in piece.edges if e.role is Role.HEM), None)
    if edge is None or piece.hem is None:
        return None
    closed = edge_length(piece, edge) - _drawn_intakes(piece)
    corners = [hem_corner(Seam(piece, e)) for e in hem_seams(piece)]
    sharp = [c for c in corners if c is not None]
    if len(sharp) == 2:
        over = closed - _beside_slits(piece)
        return HemMeasure(over - sharp[0].style_mm - sharp[1].style_mm, closed)
    return HemMeasure(_across(piece, [c.at for c in sharp]), closed)


def hem_seams(piece: Piece) -> tuple[Edge, ...]:
    """The edges that run up from the two ends of the hem."""
    return tuple(e for e in piece.edges if Seam(piece, e).at_hem)


def _drawn_intakes(piece: Piece) -> float:
    """Intakes that the hem edge still holds: darts drawn as lines, not as notches."""
    return sum(d.intake for d in piece.darts if d.on is Role.HEM and d.mouth_places is None)


def _beside_slits(piece: Piece) -> float:
    """By how much the sides of the hem's slits are longer than the way straight over them, mm."""
    assert piece.hem is not None
    run = piece.ring.run(piece.hem.first.place, piece.hem.last.place).segments
    darts = [HemDart(m, d.apex) for d in piece.darts for m in (d.mouth, d.mouth[::-1])]
    more = 0.0
    for first, last in (s.mouth for s in slits(Frame(piece.grain.down), run, darts)):
        start = next(k for k, s in enumerate(run) if s.start == first)
        stop = next(k for k, s in enumerate(run) if k >= start and s.end == last)
        more += sum(s.length() for s in run[start : stop + 1]) - first.distance(last)
    return more


def _across(piece: Piece, corners: Sequence[Point]) -> float:
    """Across the grain from end to end of the hem, darts closed.

    Each known corner stands for the nearer taper point, from which its style line came down.
    """
    assert piece.hem is not None
    frame = Frame(piece.grain.down)
    ends = [piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last)]
    for corner in corners:
        k = 0 if corner.distance(ends[0]) <= corner.distance(ends[1]) else 1
        ends[k] = corner
    intakes = sum(d.intake for d in piece.darts if d.on is Role.HEM)
    return abs(frame.width(ends[1]) - frame.width(ends[0])) - intakes


def hem_girths(altered: Sequence[Altered], pairs: Sequence[Joined]) -> tuple[HemGirth, ...]:
    """Every hem of the garment, as far as the pieces go, in piece order."""
    rest = [a for a in altered if hem_measure(a.before) and hem_measure(a.piece)]
    out = []
    while rest:
        group = _reached(rest[0], rest, pairs)
        rest = [a for a in rest if a not in group]
        out.append(_girth(group, pairs))
    return tuple(out)


def _reached(
    start: Altered, among: Sequence[Altered], pairs: Sequence[Joined]
) -> tuple[Altered, ...]:
    """The pieces that are joined to `start` at the hem, directly or through others."""
    keys: set[int] = set()
    found = {start.piece.key}
    while found != keys:
        keys = found
        found = keys.union(*(_keys(p) for p in pairs if p.at_hem and _keys(p) & keys))
    return tuple(a for a in among if a.piece.key in keys)


def _keys(pair: Joined) -> set[int]:
    return {pair.first.after.piece.key, pair.second.after.piece.key}


def _girth(group: Sequence[Altered], pairs: Sequence[Joined]) -> HemGirth:
    seams = [Seam(a.piece, e) for a in group for e in hem_seams(a.piece)]
    around = _around({s.edge.role for s in seams})
    counts = tuple(counted(a.before, around_body=around is Around.BODY) for a in group)
    hem = group[0].piece.hem
    assert hem is not None
    return HemGirth(
        pieces=tuple(Whose.of(a.piece) for a in group),
        around=around,
        counted=counts,
        whole=all(s.edge.role in MIRRORED or _is_joined(s, pairs) for s in seams),
        before=_summed([a.before for a in group], counts),
        after=_summed([a.piece for a in group], counts),
        place=group[0].piece.ring.at(hem.first.place),
    )


def _around(roles: set[Role]) -> Around:
    if Role.INSEAM in roles:
        return Around.LEG
    return Around.ARM if Role.UNDERARM in roles else Around.BODY


def _is_joined(seam: Seam, pairs: Sequence[Joined]) -> bool:
    both = [s.after for p in pairs for s in (p.first, p.second)]
    return any(s.piece is seam.piece and s.edge == seam.edge for s in both)


def _summed(pieces: Sequence[Piece], counts: Sequence[Counted]) -> HemMeasure:
    found = [(c.in_hem, hem_measure(p)) for p, c in zip(pieces, counts, strict=True)]
    return HemMeasure(
        sum(n * m.width_mm for n, m in found if m), sum(n * m.edge_mm for n, m in found if m)
    )


def girth_findings(found: HemGirth, wearer: Wearer | None = None) -> tuple[Finding, ...]:
    """The girth before and after and how the pieces were counted, and whether it is enough for
    the wearer. A hem of which pieces are missing is not held against the wearer.
    """
    return (_told(found), *(_against(found, wearer) if wearer and found.whole else ()))


def _called(found: HemGirth) -> str:
    return " and ".join(p.name for p in found.pieces)


def _told(found: HemGirth) -> Finding:
    told = Sentence(
        "{called}: the hem is {after} {what}{each} ({before} before). Counted: {counted}.",
        called=_called(found),
        after=Length(found.after.width_mm),
        what="around" if found.whole else "wide, as far as the pieces go",
        each=f" for each {found.around.value}" if found.times > 1 else "",
        before=Length(found.before.width_mm),
        counted=", ".join(c.sentence for c in found.counted),
    )
    return Finding(Severity.NOTE, told, found.place, found.pieces[0])


def _against(found: HemGirth, wearer: Wearer) -> Iterator[Finding]:
    girth, own = found.after.width_mm, wearer.own(found.around)
    if own is not None:
        yield _beside_the_body(found, own, wearer.ease_mm)
    passing = wearer.passing(found.around)
    if passing is not None and girth < passing - SLACK:
        told = Sentence(
            "{called}: the {what} ({passing} around) does not pass through a hem of {girth}. It"
            " wants a slit, an opening, or stretch.",
            called=_called(found),
            what="foot" if found.around is Around.LEG else "hand",
            passing=Length(passing),
            girth=Length(girth),
        )
        yield Finding(Severity.LOOK, told, found.place, found.pieces[0])


def _beside_the_body(found: HemGirth, own: float, ease: float) -> Finding:
    """Is the hem as wide as the wearer there with the ease that is wanted?"""
    girth = found.after.width_mm
    missing = own + ease - girth
    wide = Length(own + ease)
    told = Sentence(
        "{called}: the hem is {girth} around, and the {body} there {own}{ease}: {verdict}.",
        called=_called(found),
        girth=Length(girth),
        body=found.around.value,
        own=Length(own),
        ease=Sentence(", with ease {wide}", wide=wide) if ease else "",
        verdict=Sentence("{missing} are missing", missing=Length(missing))
        if missing > SLACK
        else Sentence("that leaves an ease of {left}", left=Length(girth - own)),
    )
    severity = Severity.LOOK if missing > SLACK else Severity.WELL
    return Finding(severity, told, found.place, found.pieces[0])
