"""What a drawing says, compared with what another says: pieces, lines, marks, writing, sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from core.curve import Affine, Chain, Point, Ring, Vector
from core.files import Drawing
from core.piece.model import Kind, Mark, Piece, Shape

Geometry = Ring | Chain | Point
# What DXF writes for itself: it is no loss when it is not there, and no gain when it is.
OF_THE_FORMAT = (Kind.TURN_POINT, Kind.CURVE_POINT)


@dataclass(frozen=True)
class Thing:
    """One mark or shape of the sheet, brought to where the other drawing has it."""

    what: str
    geometry: Geometry


def differences(before: Drawing, after: Drawing, *, within: float) -> list[str]:
    """What one says and the other does not, as sentences; places may differ by `within` mm,
    and all by one shift, for an SVG page begins where its pieces do."""
    shift = _shift(before, after)
    out: list[str] = []
    named = {p.name: p for p in after.pieces}
    if list(named) != [p.name for p in before.pieces]:
        return [f"pieces: {[p.name for p in before.pieces]}, then {list(named)}"]
    for piece in before.pieces:
        said, now = (_said(p) for p in (piece, named[piece.name]))
        out += [f"{piece.name}: {a}, then {b}" for a, b in zip(said, now, strict=True) if a != b]
        marks = _things(piece.marks), _things(named[piece.name].marks)
        out += [f"{piece.name}: {d}" for d in _unmatched(*marks, shift, within)]
        lines = [(piece.outline, named[piece.name].outline)]
        lines += [(piece.stitching, named[piece.name].stitching)]
        for was, is_now in lines:
            if was is not None and is_now is not None:
                off = distance(was.ring, _moved(is_now.ring, shift))
                if off > within:
                    out.append(f"{piece.name}: a line is {off:.3g} mm off")
    sheet = (_things(_on_the_sheet(d)) for d in (before, after))
    return out + [f"sheet: {d}" for d in _unmatched(*sheet, shift, within)]


def _shift(before: Drawing, after: Drawing) -> Vector:
    first, second = (d.pieces[0].outline.ring.bounds() for d in (before, after))
    return Vector(round(first.x0 - second.x0), round(first.y0 - second.y0))


def _said(piece: Piece) -> Iterator[object]:
    yield piece.size
    yield piece.stitching is None
    yield (*(round(x, 6) for x in (piece.grain.down.x, piece.grain.down.y)), piece.grain.because)
    yield sorted((e.role.value, round(piece.edge_length(e), 4), e.because) for e in piece.edges)
    yield sorted((round(d.intake, 4), round(max(d.legs), 4), d.because) for d in piece.darts)
    yield sorted(round(d.intake, 4) for d in piece.contours)


def _on_the_sheet(drawing: Drawing) -> list[Shape]:
    used = {m.shape for p in drawing.pieces for m in p.marks}
    for piece in drawing.pieces:
        for outline in filter(None, (piece.outline, piece.stitching)):
            used |= {o.shape for o in outline.origins}
    return [s for s in drawing.shapes if s.key not in used]


def _things(some: Sequence[Mark] | Sequence[Shape]) -> list[Thing]:
    """But for what a format writes for itself, and how it calls the piece's name."""
    out: list[Thing] = []
    for one in some:
        text = one.text.removeprefix("Piece Name: ")
        if one.kind in OF_THE_FORMAT or text == "Units: METRIC":
            continue
        kind = one.kind.value if isinstance(one, Mark) else "shape"
        called = one.called if isinstance(one, Mark) else one.hidden
        out.append(Thing(f"{kind} {text!r} {called!r}", one.geometry))
    return out


def _unmatched(
    before: list[Thing], after: list[Thing], shift: Vector, within: float
) -> Iterator[str]:
    left = [Thing(t.what, _moved(t.geometry, shift)) for t in after]
    for thing in before:
        fitting = (
            t
            for t in left
            if t.what == thing.what and distance(thing.geometry, t.geometry) <= within
        )
        found = next(fitting, None)
        if found is None:
            yield f"lost {thing.what} {_where(thing)}"
        else:
            left.remove(found)
    for thing in left:
        yield f"gained {thing.what} {_where(thing)}"


def _where(thing: Thing) -> str:
    g = thing.geometry
    p = g if isinstance(g, Point) else g.start
    return f"at {p.x:.2f}, {p.y:.2f}"


def _moved(g: Geometry, by: Vector) -> Geometry:
    return g + by if isinstance(g, Point) else g.mapped(Affine.move(by.x, by.y))


def distance(a: Geometry, b: Geometry) -> float:
    """The farthest that two control points of the same segments lie apart, drawn either way
    and, for rings, from wherever they begin; infinite for other segments."""
    if isinstance(a, Point) or isinstance(b, Point):
        both = isinstance(a, Point) and isinstance(b, Point)
        return a.distance(b) if both else float("inf")
    if isinstance(a, Ring) is not isinstance(b, Ring) or len(a) != len(b):
        return float("inf")
    starts = range(len(b)) if isinstance(b, Ring) else (0,)
    ways = (b.segments, b.reversed().segments)
    return min(_apart(a.segments, (*w[k:], *w[:k])) for w in ways for k in starts)


def _apart(first, second) -> float:
    if [type(s) for s in first] != [type(s) for s in second]:
        return float("inf")
    return float(np.abs(_controls(first) - _controls(second)).max())


def _controls(segments) -> NDArray[np.float64]:
    return np.array([(p.x, p.y) for s in segments for p in s.controls])
