"""Right, wrong, and wrong though sure: one piece's answers against its truth."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from core.curve import Point, Vector
from core.piece.model import Piece, Role, Taper
from core.piece.recognise import recognise
from tests.core.piece.rows import Case
from tests.core.piece.truth import TrueDart

# Drawn with ruler and curve: the taper point to this (mm), its direction to this (degrees).
PLACE, DIRECTION = 1.5, 0.2
# Digitised: along the seam and in direction.
PLACE_DIGITISED, DIRECTION_DIGITISED = 10.0, 0.7
GRAIN = 0.5
DART = 1.0


@dataclass(frozen=True)
class Answer:
    """One answer on one piece: what was asked, whether right, whether claimed sure."""

    case: str
    asked: str
    right: bool
    sure: bool
    said: str


def answers(case: Case) -> list[Answer]:
    """All answers about the only piece of the case."""
    pieces, _ = recognise(case.shapes)
    if len(pieces) != 1:
        return [Answer(case.id, "piece", False, True, f"{len(pieces)} pieces")]
    piece = pieces[0]
    found = [Answer(case.id, "piece", True, True, ""), _grain(case, piece)]
    found += [_hem(case, piece), *_tapers(case, piece), *_roles(case, piece), _darts(case, piece)]
    return found


def _angle(a: Vector, b: Vector) -> float:
    return abs(math.degrees(a.angle_to(b)))


def _grain(case: Case, piece: Piece) -> Answer:
    off = _angle(piece.grain.down, case.truth.down)
    because = piece.grain.because
    return Answer(case.id, "grain", off <= GRAIN, because.sure, f"{off:.2f} deg: {because.why}")


def _role_at(piece: Piece, p: Point) -> tuple[Role, bool]:
    runs = [(piece.edge_chain(e).nearest(p).distance, k) for k, e in enumerate(piece.edges)]
    edge = piece.edges[min(runs)[1]]
    sure = edge.because.sure
    if edge.role is Role.HEM and piece.hem is not None:
        # How far the hem reaches is as sure as its taper points.
        sure = sure and piece.hem.first.because.sure and piece.hem.last.because.sure
    return edge.role, sure


def _hem(case: Case, piece: Piece) -> Answer:
    chain = case.truth.edges[0].chain
    role, sure = _role_at(piece, chain.at(chain.at_length(chain.length() / 2)))
    right = role is Role.HEM and piece.hem is not None
    return Answer(case.id, "hem", right, sure and role is Role.HEM, role.value)


def _tapers(case: Case, piece: Piece) -> Iterator[Answer]:
    for point, down in case.truth.tapers:
        if piece.hem is None:
            yield Answer(case.id, "taper", False, False, "no hem")
            continue
        both = (piece.hem.first, piece.hem.last)
        taper = min(both, key=lambda t: piece.ring.at(t.place).distance(point))
        yield _taper(case, piece, taper, point, down)


def _taper(case: Case, piece: Piece, taper: Taper, point: Point, down: Vector) -> Answer:
    place, direction = (PLACE, DIRECTION) if case.exact else (PLACE_DIGITISED, DIRECTION_DIGITISED)
    place = case.place or place
    off, turn = piece.ring.at(taper.place).distance(point), _angle(taper.down, down)
    said = f"{off:.2f} mm, {turn:.3f} deg: {taper.because.why}"
    right = off <= place and turn <= direction
    return Answer(case.id, "taper", right, taper.because.sure, said)


def _roles(case: Case, piece: Piece) -> Iterator[Answer]:
    for edge in case.truth.edges[1:]:
        if edge.role is None:
            continue
        chain = edge.chain
        # Not the middle: a dart may hang there.
        role, sure = _role_at(piece, chain.at(chain.at_length(chain.length() * 0.21)))
        said = f"{edge.role.value} taken for {role.value}"
        yield Answer(case.id, "role", role is edge.role, sure, said)


def _darts(case: Case, piece: Piece) -> Answer:
    wanted = list(case.truth.darts)
    extra = [d for d in piece.darts if not any(_same(w, d.apex, d.mouth) for w in wanted)]
    missed = [w for w in wanted if not any(_same(w, d.apex, d.mouth) for d in piece.darts)]
    misplaced = [d for d in piece.darts if d.on is not Role.WAIST]
    right = not extra and not missed and not misplaced
    said = f"{len(missed)} missed, {len(extra)} too many, {len(misplaced)} not on the waist"
    return Answer(case.id, "darts", right, any(d.because.sure for d in extra), said)


def _same(wanted: TrueDart, apex: Point, mouth: tuple[Point, Point]) -> bool:
    feet = all(min(m.distance(w) for w in wanted.mouth) <= DART for m in mouth)
    return feet and wanted.apex.distance(apex) <= DART
