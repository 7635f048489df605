"""``hemward inspect``: what was recognised in a file."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator, Sequence
from typing import Any

from app.command.opened import opened, what_is_used
from core.curve import Chain, Point
from core.files import Drawing
from core.files.sewn import in_a_row, mates_in
from core.measure import in_cm
from core.piece.mates import Mates
from core.piece.model import Because, ContourDart, Dart, Edge, Kind, Mark, Piece
from core.piece.sizes import by_size


def run(arguments: argparse.Namespace) -> int:
    """Prints what was recognised, or said by a person, as text or as JSON."""
    asked = arguments.as_recognised
    drawing = opened(arguments.file, mm_per_unit=arguments.unit, as_recognised=asked)
    if arguments.json:
        print(json.dumps(as_data(drawing), indent=2, ensure_ascii=False))
    else:
        print("\n".join(as_text(drawing)))
    return 0


def as_data(drawing: Drawing) -> dict[str, Any]:
    """Everything recognised, in the shape that ``inspect --json`` promises."""
    pieces, mates = in_a_row([drawing]), mates_in([drawing])
    return {
        "file": str(drawing.path),
        "unit": {"mm_per_unit": drawing.unit.mm_per_unit, **_because(drawing.unit.because)},
        "pieces": [_piece(p, mates, pieces) for p in pieces],
        "said": [*what_is_used([drawing])],
        "problems": list(drawing.problems),
    }


def _because(because: Because) -> dict[str, Any]:
    return {"sure": because.sure, "why": because.why}


def _piece(piece: Piece, mates: Sequence[Mates], pieces: Sequence[Piece]) -> dict[str, Any]:
    box = piece.outline.ring.bounds()
    return {
        "name": piece.name,
        "size": piece.size,
        **({"size_told": _because(piece.sized)} if piece.sized else {}),
        "grain": {
            "down": [piece.grain.down.x, piece.grain.down.y],
            **_because(piece.grain.because),
        },
        "edges": [_edge(piece, e) for e in piece.edges],
        "taper_points_mm": [list(_xy(p)) for p in _tapers(piece)],
        "darts": [_dart(d) for d in piece.darts],
        "contour_darts": [_contour(d) for d in piece.contours],
        "notches": [_notch(m) for m in piece.marks if m.kind is Kind.NOTCH],
        "mates": list(_mates(piece, mates, pieces)),
        "bounds_mm": [box.x0, box.y0, box.x1, box.y1],
    }


def _edge(piece: Piece, edge: Edge) -> dict[str, Any]:
    return {
        "role": edge.role.value,
        "length_mm": piece.edge_length(edge),
        **_because(edge.because),
    }


def _tapers(piece: Piece) -> tuple[Point, ...]:
    if piece.hem is None:
        return ()
    return tuple(piece.ring.at(t.place) for t in (piece.hem.first, piece.hem.last))


def _dart(dart: Dart) -> dict[str, Any]:
    return {
        "on": dart.on.value,
        "intake_mm": dart.intake,
        "legs_mm": list(dart.legs),
        "mouth_mm": [list(_xy(p)) for p in dart.mouth],
        "apex_mm": list(_xy(dart.apex)),
        **_because(dart.because),
    }


def _contour(dart: ContourDart) -> dict[str, Any]:
    return {
        "intake_mm": dart.intake,
        "tips_mm": [list(_xy(p)) for p in dart.tips],
        "sides_mm": [list(_xy(p)) for p in dart.sides],
        **_because(dart.because),
    }


def _notch(mark: Mark) -> list[float]:
    at = mark.geometry.start if isinstance(mark.geometry, Chain) else mark.geometry
    return list(_xy(at))


def _xy(p: Point) -> tuple[float, float]:
    return (p.x, p.y)


def _mates(
    piece: Piece, mates: Sequence[Mates], pieces: Sequence[Piece]
) -> Iterator[dict[str, Any]]:
    names = {p.key: p.name for p in pieces}
    for pair in mates:
        for mine, other in ((pair.first, pair.second), (pair.second, pair.first)):
            if mine[0] == piece.key:
                yield {
                    "edge": mine[1].value,
                    "piece": names[other[0]],
                    "role": other[1].value,
                    **_because(pair.because),
                }


def as_text(drawing: Drawing) -> Iterator[str]:
    """The same for a person, line by line."""
    unit = drawing.unit
    yield f"{drawing.path.name}: one unit is {unit.mm_per_unit:g} mm ({unit.because.why})"
    yield from what_is_used([drawing])
    row, mates = in_a_row([drawing]), mates_in([drawing])
    for size, pieces in by_size(row).items():
        if size:
            yield ""
            yield f"Size {size}: {_because_size(pieces)}"
        for piece in pieces:
            yield ""
            yield from _piece_text(piece)
            for told in _mates(piece, mates, row):
                yield f"  {told['edge']} is sewn to {told['role']} of {told['piece']}{_doubt(told)}"
    if drawing.problems:
        yield ""
    for sentence in drawing.problems:
        yield f"? {sentence}"


def _piece_text(piece: Piece) -> Iterator[str]:
    box = piece.outline.ring.bounds()
    yield f"{piece.name}: {in_cm(box.width)} wide, {in_cm(box.height)} high"
    yield f"  grain: {piece.grain.because.why}{_mark(piece.grain.because)}"
    for edge in piece.edges:
        length = in_cm(piece.edge_length(edge), decimals=2)
        yield f"  {edge.role.value:<14}{length:>11}   {edge.because.why}{_mark(edge.because)}"
    for dart in piece.darts:
        intake = in_cm(dart.intake, decimals=2)
        yield f"  dart{'':<10}{intake:>11}   from the {dart.on.value}{_mark(dart.because)}"
    for contour in piece.contours:
        intake = in_cm(contour.intake, decimals=2)
        yield f"  contour dart  {intake:>11}   inside the piece{_mark(contour.because)}"
    count = sum(m.kind is Kind.NOTCH for m in piece.marks)
    if count:
        yield f"  notches: {count}"


def _because_size(pieces: Sequence[Piece]) -> str:
    told = [p.sized for p in pieces if p.sized]
    return f"{told[0].why}{_mark(told[0])}" if told else ""


def _mark(because: Because) -> str:
    return "" if because.sure else "  (unsure)"


def _doubt(told: dict[str, Any]) -> str:
    return "" if told["sure"] else f"  (unsure: {told['why']})"
