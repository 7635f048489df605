"""Pieces changed at a level together: the lines meet in the seams, and what matched matches."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from hypothesis import assume, event, given, reject
from hypothesis import strategies as st

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange, Truing
from core.alter.level.together import INSIDE, insert_together
from core.alter.model import Altered, Severity
from core.alter.simple import is_simple
from core.check import check_all
from core.curve import Point
from core.errors import AlterationError
from core.piece.mates import Mates
from core.piece.model import Because, Edge, Piece, Role
from tests.laws.compare import close
from tests.laws.generate import changes, poses, sketches
from tests.laws.pose import Pose
from tests.laws.sketch import Garment, SeamStyle, Sketch

MATCHES = 0.05
SEWN = (Role.INSEAM, Role.SIDE)
MATES = tuple(Mates((0, role), (1, role), Because(True, "drawn so")) for role in SEWN)


def together(pieces: tuple[Piece, ...], share: float, by: float) -> tuple[Altered, ...]:
    """The line lies at a share of the height of the front; refused cases are left aside."""
    front = next(p for p in pieces if p.name == "leg front")
    low, high = lowest_and_highest(front.ring, Frame(front.grain.down))
    try:
        return insert_together(
            pieces, LevelChange(share * (high - low), by, Truing.SMOOTH), mates=MATES
        )
    except AlterationError:
        event("refused")
        reject()


@dataclass(frozen=True)
class Legs:
    """A front and a back leg in their poses, and what they were made from."""

    sketches: tuple[Sketch, Sketch]
    poses: tuple[Pose, Pose]

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        named = zip(self.sketches, self.poses, ("leg front", "leg back"), strict=True)
        return tuple(
            replace(pose.of(sketch.piece()), key=key, name=name)
            for key, (sketch, pose, name) in enumerate(named)
        )


@st.composite
def legs(draw: st.DrawFn, *, alike: bool = False, **choices: object) -> Legs:
    """`alike` ones are one sketch in two poses."""
    strategy = sketches(garments=(Garment.LEG,), **choices)  # type: ignore[arg-type]
    front = draw(strategy)
    found = Legs((front, front if alike else draw(strategy)), (draw(poses), draw(poses)))
    assume(all(is_simple(p.ring) for p in found.pieces))
    return found


shares = st.floats(0.1, 0.9)


@given(legs(), shares, changes)
def test_the_front_leads_as_if_it_were_alone(pair: Legs, at: float, by: float) -> None:
    done = together(pair.pieces, at, by)
    level = done[0].level
    assert level is not None
    assert done[0].piece == insert_at(pair.pieces[0], level).piece
    assert done[1].level is not None
    assert done[1].level.by_mm == by, "wanted the same amount"
    turned = together(pair.pieces[::-1], at, by)
    assert [a.piece for a in turned[::-1]] == [a.piece for a in done]


def length_to_line(altered: Altered, role: Role) -> float | None:
    """From the hem end of the seam up to the line, along it."""
    piece, level = altered.before, altered.level
    assert level is not None
    edge: Edge = piece.edge(role)
    chain = piece.edge_chain(edge)
    assert piece.hem is not None
    if edge.start != piece.hem.last.place:
        chain = chain.reversed()
    frame = Frame(piece.grain.down)
    height = lowest_and_highest(piece.ring, frame)[0] + level.at_mm
    met = chain.meets(Point(0.0, 0.0).moved(frame.down, height), frame.across)
    return chain.length_to(met[0]) if met else None


def at_an_end(altered: Altered) -> bool:
    """Does the line lie at an end of one of the sewn seams?"""
    piece, level = altered.before, altered.level
    assert level is not None
    frame = Frame(piece.grain.down)
    line = lowest_and_highest(piece.ring, frame)[0] + level.at_mm
    edges = [piece.edge(role) for role in SEWN]
    heights = [frame.height(piece.ring.at(p)) for e in edges for p in (e.start, e.end)]
    return any(abs(h - line) <= INSIDE + 1e-6 for h in heights)


@given(legs(darts=False), shares, changes)
def test_the_lines_meet_in_the_seams(pair: Legs, at: float, by: float) -> None:
    """In each led seam; where both are, and ask for two heights, off by as much on either."""
    front, back = together(pair.pieces, at, by)
    off = []
    for role in (led.role for led in back.led):
        lengths = [length_to_line(a, role) for a in (front, back)]
        if None in lengths:
            # The line in the middle may pass by a seam whose end lies near it.
            return
        off.append(lengths[1] - lengths[0])  # type: ignore[operator]
    if at_an_end(back):
        # There the line was perhaps moved, so that it crosses the same seams as on the front.
        return
    if len(off) == 1:
        close(off[0], 0.0, 1e-6, "length from the hem to the line on the back")
    elif off:
        assert off[0] * off[1] <= 1e-9, f"wanted the line in the middle, got {off}"


@given(legs(alike=True), shares, changes)
def test_mates_of_one_shape_keep_their_difference(pair: Legs, at: float, by: float) -> None:
    """Law 6, within 0.05 mm."""
    done = together(pair.pieces, at, by)
    for role in SEWN:
        was, now = _lengths(pair.pieces, role), _lengths([a.piece for a in done], role)
        close(now[0] - now[1], was[0] - was[1], MATCHES, f"difference of the {role.value}s")


@given(legs(styles=(SeamStyle.STRAIGHT,), rounded=False), shares, changes)
def test_truing_parts_straight_mates_by_no_more_than_their_leans(
    pair: Legs, at: float, by: float
) -> None:
    """A seam that leans by an angle gains between the amount times its cosine and the amount
    (closed form: the seam trued over its whole length, and over next to nothing)."""
    done = together(pair.pieces, at, by)
    crossed = [led.role for led in done[1].led]
    for role in crossed:
        was, now = _lengths(pair.pieces, role), _lengths([a.piece for a in done], role)
        most = max(_lean(p, role) for p in pair.pieces)
        bound = abs(by) * (1.0 - math.cos(most)) + bent(by, most) + MATCHES
        close(now[0] - now[1], was[0] - was[1], bound, f"difference of the {role.value}s")


def _lengths(pieces: Sequence[Piece], role: Role) -> list[float]:
    return [p.edge_length(p.edge(role)) for p in pieces]


def _lean(piece: Piece, role: Role) -> float:
    chain = piece.edge_chain(piece.edge(role))
    return math.acos(min(1.0, abs((chain.end - chain.start).unit().dot(piece.grain.down))))


def bent(by: float, lean: float) -> float:
    """What a smooth curve is longer than the chord over the jog; at most so much (mm)."""
    return 0.25 * abs(by) * math.sin(lean)


@given(legs(), shares, changes)
def test_nothing_stops_the_maker(pair: Legs, at: float, by: float) -> None:
    """No STOP after a sound change; a difference that truing makes is told with its place."""
    done = together(pair.pieces, at, by)
    found = check_all(done, mates=MATES)
    stops = [f.sentence for f in found if f.severity is Severity.STOP]
    assert not stops, f"wanted no stop, got {stops}"
