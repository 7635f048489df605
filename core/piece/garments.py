"""What the edges of a garment's piece are, by its shape and by what its name speaks of."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.curve import Chain, Line, Point, Ring, Segment, Vector
from core.piece.corners import hollow, outward_sign
from core.piece.model import Because, Dart, Edge, Role
from core.piece.which_end import HOLLOW
from core.piece.words import (
    Side,
    is_from_the_shoulder,
    is_from_the_waist,
    is_leg,
    is_sleeve,
    says,
    side_of,
)

# A seam this near (radians) to the grain is straight down the middle of the garment.
PLUMB = math.radians(1.0)
# It is straight when it strays from its chord by less than this share of it.
STRAIGHT = 0.002
# One seam top this much lower (share of the height) than the other: below it lies a rise.
LOWER = 0.06
# A top edge that stands this high over its chord (share of the width) is a sleeve cap.
CAP_HEIGHT = 0.15
# One that stands so high may be a flat one, where no name tells of a waist.
LEAST_CAP = 0.05
# Armhole, shoulder, neck.
LEAST_BODICE_TOPS = 3
# Of a piece without a name: a leg's waist is so long against its rise. The shoulder of a panel is
# shorter than its armhole, the waist of a round skirt far longer than what goes up beside it.
LEAST_WAIST, MOST_WAIST = 0.55, 1.6
# An edge runs across when its chord is within this (radians) of square to the grain.
ACROSS = math.radians(40.0)


@dataclass(frozen=True)
class Setting:
    """What role finding looks at: the ring, the grain's down, the piece's name, the darts cut
    into the ring; ``middles`` are edges of which it is known that they run down the middle of the
    garment."""

    ring: Ring
    down: Vector
    name: str
    on_fold: bool = False
    middles: tuple[Edge, ...] = ()
    notches: tuple[Dart, ...] = ()

    def height(self, p: Point) -> float:
        return p.x * self.down.x + p.y * self.down.y

    def width(self, p: Point) -> float:
        return p.x * self.down.y - p.y * self.down.x

    def tall(self) -> float:
        flat = self.ring.flattened(tolerance=1.0)
        return float(np.ptp(flat @ np.array((self.down.x, self.down.y))))

    def hollow(self, edge: Edge) -> float:
        """How far the edge lies inside its chord, as a share of it; past its darts."""
        mouths = {d.mouth[0]: d.mouth[1] for d in self.notches}
        past: list[Segment] = []
        until: Point | None = None
        for s in self.ring.run(edge.start, edge.end):
            if until is None and s.start in mouths:
                until = mouths[s.start]
                past.append(Line(s.start, until))
            elif until is None:
                past.append(s)
            if s.end == until:
                until = None
        return hollow(Chain(tuple(past)), outward_sign(self.ring))


def guessed(edges: Sequence[Edge], setting: Setting) -> tuple[Edge, ...]:
    """The edges, in ring order from the hem on, with what each is by its shape; as they are where
    no two seams rise from a hem."""
    if not edges or edges[0].role is not Role.HEM or len(edges) < 4:
        return tuple(edges)
    rising, falling, top = edges[1], edges[-1], edges[2:-1]
    if _is_sleeve(setting, rising, falling, top):
        answers = _sleeve(setting, top)
    elif _is_bodice(setting, rising, falling, top):
        answers = _bodice(setting, rising, falling, top)
    elif _is_whole_leg(setting, rising, falling, top):
        answers = _whole_leg(setting, top)
    elif _one_top_lower(setting, rising, falling) and not _has_no_rise(setting.name):
        answers = _leg(setting, rising, falling, top)
    else:
        answers = _panel(setting, rising, falling, top)
    roles = [(edges[0].role, edges[0].because), *answers]
    return tuple(
        replace(e, role=role, because=because)
        for e, (role, because) in zip(edges, roles, strict=True)
    )


Answers = list[tuple[Role, Because]]


def _tops(setting: Setting, rising: Edge, falling: Edge) -> tuple[float, float]:
    at, height = setting.ring.at, setting.height
    return height(at(rising.end)), height(at(falling.start))


def _is_sleeve(setting: Setting, rising: Edge, falling: Edge, top: Sequence[Edge]) -> bool:
    if is_sleeve(setting.name):
        return True
    if is_from_the_waist(setting.name):
        return False
    a, b = _tops(setting, rising, falling)
    if abs(a - b) > LOWER * setting.tall():
        return False
    return len(top) <= 2 and _cap_height(setting, top) > CAP_HEIGHT


def _cap_height(setting: Setting, top: Sequence[Edge]) -> float:
    """How high the top stands over the line between its ends, as a share of that line."""
    start, end = setting.ring.at(top[0].start), setting.ring.at(top[-1].end)
    crest = min(
        setting.height(Point(float(x), float(y)))
        for e in top
        for x, y in setting.ring.run(e.start, e.end).flattened(tolerance=0.5)
    )
    span = start.distance(end)
    return (min(setting.height(start), setting.height(end)) - crest) / span if span else 0.0


def _sleeve(setting: Setting, top: Sequence[Edge]) -> Answers:
    named = is_sleeve(setting.name)
    why = "the piece is called a sleeve" if named else "the top is a high cap"
    seam = Because(True, f"a seam up to the cap: {why}")
    cap = Because(True, why)
    return [(Role.UNDERARM, seam), *[(Role.CAP, cap)] * len(top), (Role.UNDERARM, seam)]


def _one_top_lower(setting: Setting, rising: Edge, falling: Edge) -> bool:
    a, b = _tops(setting, rising, falling)
    return abs(a - b) > LOWER * setting.tall()


def _is_bodice(setting: Setting, rising: Edge, falling: Edge, top: Sequence[Edge]) -> bool:
    """Armhole, shoulder and neck lie between a lower side and a centre along the grain.

    A side along the grain as well might be an inseam: the name or a marked fold tells.
    """
    if is_from_the_waist(setting.name) or not _one_top_lower(setting, rising, falling):
        return False
    if is_from_the_shoulder(setting.name):
        return True
    centre, side = _centre_and_side(setting, rising, falling)
    known = centre in setting.middles or not _plumb(setting, side)
    return len(top) >= LEAST_BODICE_TOPS and _plumb(setting, centre) and known


def _centre_and_side(setting: Setting, rising: Edge, falling: Edge) -> tuple[Edge, Edge]:
    """Of a bodice: the side ends lower, under the armhole."""
    a, b = _tops(setting, rising, falling)
    return (falling, rising) if a > b else (rising, falling)


def _bodice(setting: Setting, rising: Edge, falling: Edge, top: Sequence[Edge]) -> Answers:
    told = Because(True, "between the side seam and the centre: armhole, shoulder or neck")
    centre, side = _centre_and_side(setting, rising, falling)
    lower = Because(True, "its top is the lower one, under the armhole")
    seams = {
        centre: _middle(setting)
        if _plumb(setting, centre)
        else (Role.SIDE, Because(False, "it slants")),
        side: (Role.SIDE, lower) if _plumb(setting, side) else _panel_seam(setting, side, centre),
    }
    return [seams[rising], *[(Role.OTHER, told)] * len(top), seams[falling]]


def _has_no_rise(name: str) -> bool:
    return is_from_the_shoulder(name) or (is_from_the_waist(name) and not is_leg(name))


def _leg(setting: Setting, rising: Edge, falling: Edge, top: Sequence[Edge]) -> Answers:
    """A leg: the seam with the lower top is the inseam; from there the rise climbs."""
    a, b = _tops(setting, rising, falling)
    inner_rises = a > b
    order = list(top) if inner_rises else list(reversed(top))
    climbs = [not _runs_across(setting, e) for e in order]
    count = climbs.index(False) if False in climbs else len(climbs)
    curved = any(setting.hollow(e) > HOLLOW for e in order[:count])
    sure = curved and 0 < count < len(order)
    if not is_leg(setting.name):
        sure = sure and _shaped_as_a_leg(setting, (rising, falling), order[:count], order[count:])
    told = "the hollow curve of the rise starts at its top" if sure else "its top is the lower one"
    answers: Answers = [(Role.INSEAM, Because(sure, f"a seam up from the hem; {told}"))]
    rise = Because(sure, "the hollow curve from the crotch point to the waist")
    waist = Because(sure, "the edge across at the top")
    answers += [(Role.RISE, rise)] * count + [(Role.WAIST, waist)] * (len(order) - count)
    answers.append((Role.SIDE, Because(sure, "the seam from the hem up to the waist")))
    return answers if inner_rises else list(reversed(answers))


def _shaped_as_a_leg(
    setting: Setting, seams: Sequence[Edge], rise: Sequence[Edge], waist: Sequence[Edge]
) -> bool:
    """Can what lies between the seams be nothing but rise and waist, whatever the name?

    An armhole is as hollow as a rise. But a neck is hollow and a waist is not, and a leg has
    seldom a fold.
    """
    if any(e in setting.middles for e in seams):
        return False
    if any(setting.hollow(e) > HOLLOW for e in waist):
        return False
    runs = [setting.ring.run(e.start, e.end) for e in waist]
    share = runs[0].start.distance(runs[-1].end) / sum(
        setting.ring.run(e.start, e.end).length() for e in rise
    )
    return LEAST_WAIST < share < MOST_WAIST


def _is_whole_leg(setting: Setting, rising: Edge, falling: Edge, top: Sequence[Edge]) -> bool:
    """A leg in one piece: a hollow rise climbs from both seams, and the waist runs across between.

    Only where the name speaks of a leg: armholes climb so from the sides of a top.
    """
    if not is_leg(setting.name) or _one_top_lower(setting, rising, falling):
        return False
    sign = outward_sign(setting.ring)
    climbs = [not _runs_across(setting, e) for e in top]
    ends = [hollow(setting.ring.run(e.start, e.end), sign) for e in (top[0], top[-1])]
    return climbs[0] and climbs[-1] and not all(climbs) and min(ends) > HOLLOW


def _whole_leg(setting: Setting, top: Sequence[Edge]) -> Answers:
    why = "a hollow rise starts at the top of both seams, so the leg is in one piece"
    seam = Role.INSEAM, Because(True, f"a seam up from the hem; {why}")
    across = [k for k, e in enumerate(top) if _runs_across(setting, e)]
    rise = Role.RISE, Because(True, "the hollow curve from the crotch point to the waist")
    waist = Role.WAIST, Because(True, "the edge across at the top")
    middle = range(across[0], across[-1] + 1)
    return [seam, *(waist if k in middle else rise for k in range(len(top))), seam]


def _runs_across(setting: Setting, edge: Edge) -> bool:
    run = setting.ring.at(edge.end) - setting.ring.at(edge.start)
    return run.norm > 0.0 and abs(run.unit().dot(setting.down)) < math.sin(ACROSS)


def _panel(setting: Setting, rising: Edge, falling: Edge, top: Sequence[Edge]) -> Answers:
    """A panel with both seams up to the top: plumb is the centre, slanting is the side."""
    across = [_runs_across(setting, e) for e in top]
    level = is_from_the_waist(setting.name) or _cap_height(setting, top) < LEAST_CAP
    answers: Answers = [_panel_seam(setting, rising, falling)]
    for is_across in across:
        if is_across:
            answers.append((Role.WAIST, Because(len(top) == 1, "the edge across at the top")))
        else:
            answers.append((Role.OTHER, Because(False, "an edge between the seam and the top")))
    answers.append(_panel_seam(setting, falling, rising))
    if level:
        return answers
    # A flat cap, maybe, of a sleeve. A fold is marked.
    return [
        (role, because if role is Role.FOLD else replace(because, sure=False))
        for role, because in answers
    ]


def _panel_seam(setting: Setting, seam: Edge, other: Edge) -> tuple[Role, Because]:
    if not _plumb(setting, seam):
        sure = _plumb(setting, other)
        why = "it slants, and the other seam is straight along the grain" if sure else "it slants"
        return Role.SIDE, Because(sure, why)
    if _plumb(setting, other):
        return Role.SIDE, Because(False, "both seams run straight along the grain")
    return _middle(setting)


def _middle(setting: Setting) -> tuple[Role, Because]:
    """What a seam along the grain is, beside one that is the side. A side panel has no middle."""
    if setting.on_fold:
        return Role.FOLD, Because(True, "straight along the grain, and the fold is marked")
    side = side_of(setting.name)
    centre = Role.CENTRE_BACK if side is Side.BACK else Role.CENTRE_FRONT
    known = side is not Side.UNKNOWN and not says(setting.name, ("side",))
    return centre, Because(known, "it runs straight along the grain")


def _plumb(setting: Setting, seam: Edge) -> bool:
    """Does it run down the middle? A grain that was drawn a little askew changes nothing of what
    is known of it."""
    if seam in setting.middles:
        return True
    chain = setting.ring.run(seam.start, seam.end)
    chord = chain.end - chain.start
    if chord.norm == 0.0:
        return False
    # By how far it strays, not by its length: the scatter of a digitised line lengthens it.
    strays = max(hollow(chain, 1.0), hollow(chain, -1.0))
    return strays < STRAIGHT and abs(chord.unit().cross(setting.down)) < math.sin(PLUMB)
