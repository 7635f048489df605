"""What is known of a piece, as plain values to be kept, and a piece understood by them again.

Places are kept as points of the outline, so that they are found again however it is listed;
they hold for as long as the outline does. Where the drawing itself is kept along, they can be
kept exactly, as the number of a segment and how far along it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from core.curve import Place, Point, Ring, Vector
from core.errors import PieceError
from core.piece.contour import upright
from core.piece.correct import SAID
from core.piece.cutting import cutting_hem
from core.piece.model import Because, Dart, Edge, Grain, HemRun, Kind, Piece, Role, Taper

# A kept point lies this near (mm) to the outline, or the outline is another one.
ON_LINE = 0.05
# A kept point this near (mm) to a joint is that joint: files keep two or three decimals.
AT_JOINT = 0.02
# A vector is as good as this near to the length of 1, which is what rounding leaves.
UNIT = 1e-15
# Digits (of a mm) that bring a point back so near that what is drawn from it is written the same,
# with the nine digits of a DXF.
DIGITS = 12

Plain = dict[str, Any]


def known_of(piece: Piece, *, exactly: bool = False) -> Plain:
    """All that is known of the piece and can be corrected, as values that JSON can say.

    `exactly` keeps every bit, and fits only the same outline listed in the same way.
    """

    def at(place: Place) -> list[float] | Plain:
        if exactly:
            return {"segment": place.index, "along": place.t}
        return _pair(piece.ring.at(place))

    known: Plain = {
        "name": piece.name,
        "grain": {
            "down": _pair(piece.grain.down, exactly=exactly),
            **_because(piece.grain.because),
        },
        "edges": [
            {
                "role": e.role.value,
                "from": at(e.start),
                "to": at(e.end),
                **_because(e.because),
            }
            for e in piece.edges
        ],
        "darts": [
            {
                "mouth": [_pair(p, exactly=exactly) for p in d.mouth],
                "apex": _pair(d.apex, exactly=exactly),
                "on": d.on.value,
                "notch": d.mouth_places is not None,
                "lines": list(d.shapes),
                **_because(d.because),
            }
            for d in piece.darts
        ],
    }
    if piece.hem is not None:
        tapers = (piece.hem.first, piece.hem.last)
        known["taper points"] = [
            {
                "at": at(t.place),
                "down": _pair(t.down, exactly=exactly),
                **_because(t.because),
            }
            for t in tapers
        ]
    return known


def understood_by(piece: Piece, known: Mapping[str, Any]) -> Piece:
    """The piece understood as `known_of` kept it.

    PieceError when what was kept does not fit its outline, or is not what `known_of` gives.
    """
    try:
        return _understood(piece, known)
    except (LookupError, TypeError, ValueError, ArithmeticError, AttributeError):
        raise _misfit(piece) from None


def _understood(piece: Piece, known: Mapping[str, Any]) -> Piece:
    ring = piece.ring
    grain = known["grain"]
    found = replace(
        piece,
        name=str(known["name"]),
        grain=Grain(_vector(grain["down"]), _as_because(grain), piece.grain.shape),
        edges=tuple(_edge(piece, e) for e in known["edges"]),
        darts=tuple(_dart(piece, d) for d in known["darts"]),
        contours=tuple(upright(d, _vector(grain["down"])) for d in piece.contours),
        hem=None,
    )
    if "taper points" in known:
        first, last = (
            Taper(_place(piece, t["at"]), _vector(t["down"]), _as_because(t))
            for t in known["taper points"]
        )
        found = replace(found, hem=HemRun(first, last))
        _refuse_loose(found, ring)
    legs = {k for d in found.darts for k in d.shapes}
    were = {k for d in piece.darts for k in d.shapes}
    marks = tuple(
        replace(m, kind=Kind.DART if m.shape in legs else Kind.INNER)
        if m.shape in legs ^ were
        else m
        for m in piece.marks
    )
    return replace(found, marks=marks, cutting_hem=cutting_hem(found))


def _refuse_loose(piece: Piece, ring: Ring) -> None:
    """PieceError unless the first edge is the hem, and runs from taper point to taper point."""
    assert piece.hem is not None
    run = piece.edges[0]
    ends = (piece.hem.first.place, piece.hem.last.place)
    if run.role is not Role.HEM or (run.start, run.end) != ends:
        raise _misfit(piece)


def _misfit(piece: Piece) -> PieceError:
    return PieceError(f"{piece.name}: what was kept of it does not fit its outline.")


def _edge(piece: Piece, kept: Mapping[str, Any]) -> Edge:
    ends = _place(piece, kept["from"]), _place(piece, kept["to"])
    return Edge(Role(kept["role"]), *ends, _as_because(kept))


def _dart(piece: Piece, kept: Mapping[str, Any]) -> Dart:
    a, b = (_point(p) for p in kept["mouth"])
    notch = (_place(piece, kept["mouth"][0]), _place(piece, kept["mouth"][1]))
    return Dart(
        (a, b),
        _point(kept["apex"]),
        _as_because(kept),
        on=Role(kept["on"]),
        mouth_places=notch if kept["notch"] else None,
        shapes=tuple(int(k) for k in kept["lines"]),
    )


def _place(piece: Piece, kept: Sequence[float] | Mapping[str, Any]) -> Place:
    """The place of a kept point: a joint of the ring where it is one, to the last bit."""
    if isinstance(kept, Mapping):
        return _exact_place(piece, kept)
    p, ring = _point(kept), piece.ring
    near = ring.nearest(p)
    if near.distance > ON_LINE:
        raise _misfit(piece)
    for k in (near.place.index, (near.place.index + 1) % len(ring)):
        if ring.segments[k].start.distance(p) <= AT_JOINT:
            return Place(k, 0.0)
    return near.place


def _exact_place(piece: Piece, kept: Mapping[str, Any]) -> Place:
    place = Place(int(kept["segment"]), float(kept["along"]))
    if not (0 <= place.index < len(piece.ring) and 0.0 <= place.t <= 1.0):
        raise _misfit(piece)
    return place


def _pair(v: Point | Vector, *, exactly: bool = False) -> list[float]:
    if exactly:
        return [v.x, v.y]
    digits = DIGITS if isinstance(v, Point) else 15
    return [round(v.x, digits), round(v.y, digits)]


def _point(kept: Sequence[float]) -> Point:
    return Point(*_finite(kept))


def _vector(kept: Sequence[float]) -> Vector:
    vector = Vector(*_finite(kept))
    # What is a unit vector already keeps its bits.
    return vector if abs(vector.norm - 1.0) <= UNIT else vector.unit()


def _finite(kept: Sequence[float]) -> tuple[float, float]:
    x, y = (float(v) for v in kept)
    if not (math.isfinite(x) and math.isfinite(y)):
        raise ValueError("not a number")
    return x, y


def _because(because: Because) -> Plain:
    return {"sure": because.sure, "why": because.why, "told": because.told}


def _as_because(kept: Mapping[str, Any]) -> Because:
    why = str(kept["why"])
    # Kept by an earlier version it has no word of that.
    return Because(bool(kept["sure"]), why, bool(kept.get("told", why == SAID.why)))
