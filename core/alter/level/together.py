"""Several pieces changed at a level together: the line lies at the same place of their seams."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.insert import insert_at
from core.alter.level.model import AT_LEVEL, LevelChange
from core.alter.model import Altered, Finding, Led, Severity, Whose
from core.curve import Point, Segment
from core.errors import AlterationError
from core.measure import TRUED, in_cm
from core.piece.mates import Mates, find_mates
from core.piece.model import Edge, Piece
from core.piece.words import Side, side_of

# A line that crosses a seam, or passes below it, lies at least so far (mm) from its ends.
INSIDE = 1.0


def insert_together(
    pieces: Sequence[Piece], change: LevelChange, *, mates: Sequence[Mates] | None = None
) -> tuple[Altered, ...]:
    """Each piece changed by the same amount, at lines that meet when the seams are sewn.

    The front leads, else the piece that comes first: its line lies `change.at_mm` below its
    highest point. On a piece that is sewn to it the line crosses the mated seam at the same
    length from the hem; in the middle between the two when both its seams are led and ask
    for different heights. Where no led seam is crossed, the line lies as far above the hem,
    along the grain, as on the leading piece. A piece without a mate has its line as asked.
    `mates` are recognised when not given. The answers are in the order of the pieces. Raises
    AlterationError when one of the pieces does not allow the change, or no line on one can
    cross the same seams as on the leading one; none is changed then.
    """
    pairs = find_mates(pieces) if mates is None else tuple(mates)
    done: dict[int, Altered] = {}
    for piece in sorted(pieces, key=lambda p: side_of(p.name) is not Side.FRONT):
        line = _line(piece, change, pairs, done)
        altered = insert_at(piece, replace(change, at_mm=line.at_mm))
        findings = (*altered.findings, *_findings(piece, line))
        done[piece.key] = replace(altered, led=line.led, findings=findings)
    return tuple(done[p.key] for p in pieces)


class _Asked(NamedTuple):
    """The line that a led seam asks for: mm below the highest point, and the place on the seam."""

    at_mm: float
    place: Point


@dataclass(frozen=True)
class _Line:
    """Where the line of a piece lies, by which seams it went, and what each asked for.

    `leader` is the name of the leading piece; `moved_mm` by how much the line was moved so
    that it crosses the same seams as there.
    """

    at_mm: float
    leader: str = ""
    led: tuple[Led, ...] = ()
    asked: tuple[_Asked, ...] = ()
    moved_mm: float = 0.0


def _line(
    piece: Piece, change: LevelChange, pairs: Sequence[Mates], done: Mapping[int, Altered]
) -> _Line:
    seams = list(_leading(piece, pairs, done))
    if not seams:
        return _Line(change.at_mm)
    met = [(Led(e.role, Whose.of(o.before)), _met(piece, e, o, t)) for e, o, t in seams]
    found = [(led, at) for led, at in met if at is not None]
    leader = seams[0][1]
    wished = _as_far_from_the_hem(piece, leader)
    if found:
        wished = sum(at.at_mm for _, at in found) / len(found)
    at_mm = _across_the_same(piece, seams, wished)
    led, asked = tuple(led for led, _ in found), tuple(at for _, at in found)
    return _Line(at_mm, leader.before.name, led, asked, at_mm - wished)


def _across_the_same(
    piece: Piece, seams: Sequence[tuple[Edge, Altered, Edge]], at_mm: float
) -> float:
    """The line moved, where need be, so that it crosses the seams whose mates are crossed, and
    passes the others on the side on which it passes those."""
    highest, lowest = -math.inf, math.inf
    for edge, leader, their in seams:
        (top, end), (their_top, their_end) = _reach(piece, edge), _reach(leader.before, their)
        assert leader.level is not None
        line = leader.level.at_mm
        if line <= their_top + AT_LEVEL:
            lowest = min(lowest, top)
        elif line >= their_end - AT_LEVEL:
            highest = max(highest, end + INSIDE)
        else:
            highest, lowest = max(highest, top + INSIDE), min(lowest, end - INSIDE)
    if highest > lowest:
        raise AlterationError(
            f"{piece.name}: no line on it crosses the same seams as the line on"
            f" {seams[0][1].before.name}. Choose another line, or change the pieces one by one."
        )
    return min(max(at_mm, highest), lowest)


def _reach(piece: Piece, edge: Edge) -> tuple[float, float]:
    """How far below the highest point of the piece an edge starts and ends, downwards."""
    height, top = Frame(piece.grain.down).height, _top(piece)
    a, b = (height(piece.ring.at(p)) - top for p in (edge.start, edge.end))
    return min(a, b), max(a, b)


def _leading(
    piece: Piece, pairs: Sequence[Mates], done: Mapping[int, Altered]
) -> Iterator[tuple[Edge, Altered, Edge]]:
    """Each seam of the piece that is sewn to one of a piece already changed, and that one."""
    known = {key: a.before for key, a in done.items()} | {piece.key: piece}
    for found in (pair.edges(known) for pair in pairs):
        for mine, other in (found, (found[1], found[0])) if found else ():
            if mine.piece == piece.key and other.piece in done:
                leader = done[other.piece]
                yield piece.edges[mine.number], leader, leader.before.edges[other.number]


def _met(piece: Piece, edge: Edge, leader: Altered, their: Edge) -> _Asked | None:
    """Where the seam is met at the length from its hem end at which the leader's line meets its
    mate; None when that line does not cross the mate, or the seam is too short."""
    length = _length_to_line(leader, their)
    if length is None:
        return None
    for s in _from_hem(piece, edge):
        if length <= s.length():
            p = s.at(s.at_length(length))
            return _Asked(Frame(piece.grain.down).height(p) - _top(piece), p)
        length -= s.length()
    return None


def _length_to_line(leader: Altered, edge: Edge) -> float | None:
    """Length of the seam, darts closed, from its hem end to where the line first crosses it."""
    piece = leader.before
    assert leader.level is not None
    frame = Frame(piece.grain.down)
    on_line = Point(0.0, 0.0).moved(frame.down, _top(piece) + leader.level.at_mm)
    gone = 0.0
    for s in _from_hem(piece, edge):
        met = s.meets(on_line, frame.across)
        if met:
            return gone + s.length_to(min(met))
        gone += s.length()
    return None


def _from_hem(piece: Piece, edge: Edge) -> tuple[Segment, ...]:
    """The seam's segments from its lower end up, without the legs of darts in it."""
    forward = piece.sewn_segments(edge)
    height = Frame(piece.grain.down).height
    climbs = height(piece.ring.at(edge.start)) > height(piece.ring.at(edge.end))
    return forward if climbs else tuple(s.reversed() for s in reversed(forward))


def _top(piece: Piece) -> float:
    return lowest_and_highest(piece.ring, Frame(piece.grain.down))[0]


def _as_far_from_the_hem(piece: Piece, leader: Altered) -> float:
    assert leader.level is not None
    above = _hem_height(leader.before) - _top(leader.before) - leader.level.at_mm
    return _hem_height(piece) - _top(piece) - above


def _hem_height(piece: Piece) -> float:
    """Height of the middle between both taper points; of the lowest point without a hem."""
    frame = Frame(piece.grain.down)
    if piece.hem is None:
        return lowest_and_highest(piece.ring, frame)[1]
    ends = (piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last))
    return sum(frame.height(p) for p in ends) / 2


def _findings(piece: Piece, line: _Line) -> Iterator[Finding]:
    """What is not plain to see of where the line lies."""
    name, below = piece.name, f"{in_cm(line.at_mm)} below the highest point"
    if line.leader and not line.led:
        yield Finding(
            Severity.NOTE,
            f"{name}: the line crosses no seam that is sewn to {line.leader}, so it lies as far"
            f" above the hem as there, {below}.",
        )
    ats = [a.at_mm for a in line.asked]
    off = (max(ats) - min(ats)) / 2 if ats else 0.0
    if abs(line.moved_mm) > TRUED:
        yield Finding(
            Severity.LOOK,
            f"{name}: the line was moved by {in_cm(abs(line.moved_mm), decimals=2)}, {below}, so"
            f" that it crosses the same seams as on {line.leader}. Choose a line further from the"
            " end of a seam.",
        )
    elif 2 * off > TRUED:
        yield Finding(
            Severity.NOTE,
            f"{name}: its seams cross the line of {line.leader} at two heights, so its own line"
            f" lies in the middle, {in_cm(off, decimals=2)} off on each. Only the place where the"
            " seams are trued differs by that.",
            line.asked[0].place,
        )
