"""What a change at a level promises: above the line nothing moved, below it all by just so much.

Looked after on the outlines themselves and not on what the change says that it did. Only
within reach of the line, where the seams were trued, may the new outline run otherwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.alter.figures import hem_width
from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.model import Level, LevelChange
from core.alter.level.stops import cutting_darts
from core.alter.level.true_seams import BLEND, SHORT_REST
from core.alter.model import Altered, Finding, Severity, Whose
from core.check.flow import hem_corner
from core.check.seams import Seam
from core.curve import Affine, Point, Ring, Segment
from core.measure import Length, Sentence
from core.piece.cutting import WIDEST_ALLOWANCE
from core.piece.model import Dart, Piece

# What was kept lies on the old outline, moved or not, within this (mm).
ON_LINE = 1e-6
# A curve that trues a seam may swell beyond its ends by so much (mm).
SWELL = 2.0
# The hem's width stays within this (mm).
WIDTH = 1e-6
# The angle between the hem and a seam is the same within this (radians).
SAME_ANGLE = math.radians(0.1)
# Over this much (mm) of its end the direction of a digitised seam is fitted.
FITTED = 120.0


@dataclass(frozen=True, slots=True)
class Zone:
    """The heights of the old outline between which it may be redrawn, in mm, and the level."""

    level: Level
    top: float
    bottom: float

    def wider(self, by: float) -> Zone:
        return Zone(self.level, self.top - by, self.bottom + by)


def zone_of(piece: Piece, change: LevelChange) -> Zone:
    """How far the seams of a piece may be trued above and below the line."""
    frame = Frame(piece.grain.down)
    height = lowest_and_highest(piece.ring, frame)[0] + change.at_mm
    level = Level(frame, height, change.by_mm)
    far = BLEND + SHORT_REST if change.blend_mm is None else change.blend_mm
    return Zone(level, height - far - SWELL, level.floor + far + SWELL)


def misplaced(altered: Altered, change: LevelChange) -> Iterator[Point]:
    """The first point of each line that neither stayed, nor moved by the amount, nor is trued."""
    before, after, zone = altered.before, altered.piece, zone_of(altered.before, change)
    lines = [(before.ring, after.ring, zone, (before.darts, after.darts))]
    if before.stitching is not None:
        outer = (cutting_darts(before), cutting_darts(after))
        wide = zone.wider(WIDEST_ALLOWANCE)
        lines.append((before.outline.ring, after.outline.ring, wide, outer))
    for old, new, within, (were, are) in lines:
        crossing = [_crosses(within.level, d) for d in were]
        old_legs = _legs(old, [d for d, c in zip(were, crossing, strict=True) if c])
        paired = len(were) == len(are)
        new_legs = _legs(new, [d for k, d in enumerate(are) if not paired or crossing[k]])
        found = _missing(old, new, within, old_legs) or _astray(old, new, within, new_legs)
        if found is not None:
            yield found


def _crosses(level: Level, dart: Dart) -> bool:
    return level.part(dart.apex) is not level.part(dart.mouth[0])


def _legs(ring: Ring, darts: Sequence[Dart]) -> frozenset[Segment]:
    """The legs of those darts that are notches of the ring."""
    places = [d.mouth_places for d in darts if d.mouth_places is not None]
    return frozenset(s for a, b in places for s in ring.run(a, b))


def _missing(old: Ring, new: Ring, zone: Zone, legs: frozenset[Segment]) -> Point | None:
    """The start of the first whole segment that is not there bit for bit, or not in its order."""
    step = zone.level.step
    move = Affine.move(step.x, step.y)
    numbers = {s: k for k, s in enumerate(new)}
    seen: list[int] = []
    for s in old:
        heights = [zone.level.frame.height(p) for p in s.controls]
        if s in legs or not (max(heights) < zone.top or min(heights) > zone.bottom):
            continue
        wanted = s if max(heights) < zone.top else s.mapped(move)
        if wanted not in numbers:
            return wanted.start
        seen.append(numbers[wanted])
    falls = [k for k in range(len(seen)) if seen[k - 1] > seen[k]]
    return new.segments[seen[falls[1]]].start if len(falls) > 1 else None


def _astray(old: Ring, new: Ring, zone: Zone, legs: frozenset[Segment]) -> Point | None:
    """The first point beyond reach of the line that is not on the old outline, moved or not."""
    kept, level = frozenset(old), zone.level
    back = Affine.move(-level.step.x, -level.step.y)
    for s in new:
        if s in kept or s in legs or s.mapped(back) in kept:
            continue
        for p in (s.at(t) for t in (0.0, 0.25, 0.5, 0.75)):
            height = level.frame.height(p)
            above, below = height < zone.top, height - level.by_mm > zone.bottom
            was = p if above else p.moved(level.step, -1.0)
            if (above or below) and old.nearest(was).distance > ON_LINE:
                return p
    return None


def hem_findings(altered: Altered, change: LevelChange) -> Iterator[Finding]:
    """The hem lies below the line, so its width and its angles to the seams are the very same.

    Where a seam is trued down to the hem its angle may change: that is told, and no STOP. A
    line through the shape of the hem itself changes the hem, as the change says by itself.
    """
    before, after, zone = altered.before, altered.piece, zone_of(altered.before, change)
    if before.hem is None or after.hem is None or _cuts_hem(before, zone.level):
        return
    was, now = hem_width(before), hem_width(after)
    if abs(now - was) > WIDTH:
        sentence = Sentence(
            "{name}: the hem was {was} wide and is {now}. Undo the change.",
            name=after.name,
            was=Length(was, decimals=2),
            now=Length(now, decimals=2),
        )
        at = after.ring.at(after.hem.first.place)
        yield Finding(Severity.STOP, sentence, at, Whose.of(after))
    for old, new in zip(before.edges, after.edges, strict=True):
        yield from _corner(Seam(before, old), Seam(after, new), zone)


def _cuts_hem(piece: Piece, level: Level) -> bool:
    assert piece.hem is not None
    run = piece.ring.run(piece.hem.first.place, piece.hem.last.place)
    legs = _legs(piece.ring, piece.darts)
    heights = (level.frame.height(p) for s in run if s not in legs for p in s.controls)
    return min(heights, default=math.inf) <= level.floor


def _corner(old: Seam, new: Seam, zone: Zone) -> Iterator[Finding]:
    was, now = hem_corner(old), hem_corner(new)
    if was is None or now is None or abs(now.angle - was.angle) <= SAME_ANGLE:
        return
    trued = zone.level.frame.height(old.hem_end) < zone.bottom + FITTED
    angles = f"{math.degrees(was.angle):.1f} and is now {math.degrees(now.angle):.1f} degrees"
    what = f"{new.piece.name}: the angle between the hem and the {new.edge.role.value} was {angles}"
    advice = "the seam was trued down to the hem. Choose a line further up, or true over less."
    yield Finding(
        Severity.LOOK if trued else Severity.STOP,
        f"{what}: {advice}" if trued else f"{what}. Undo the change.",
        now.at,
        Whose.of(new.piece),
    )
