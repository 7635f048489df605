"""A row of the table: a true piece, drawn by some hand, as the shapes of a sheet."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import shapely

from core.curve import Affine, Chain, Point, Ring, Vector
from core.piece.model import Kind, Role, Shape
from tests.core.piece.hands import Hand, Sheet, as_drawn, drawn_by, evenly, ring_of
from tests.core.piece.truth import Truth, run_backwards


@dataclass(frozen=True)
class Case:
    """One row: the truth, the shapes drawn from it, and how strictly it is judged.

    `plain` cases must come out right in everything; `exact` ones are drawn with ruler and
    curve, the others digitised. `name` is what the piece must be called, where that counts.
    """

    id: str
    truth: Truth
    shapes: tuple[Shape, ...]
    plain: bool
    exact: bool

    # Where a corner fades slowly, its beginning is told less well; the direction is not.
    place: float | None = None
    # Nothing in the drawing tells the answers: they may be wrong, but not sure.
    open: bool = False


def turned(degrees: float) -> Affine:
    return Affine.move(700.0, 400.0) @ Affine.turn(math.radians(degrees))


MIRRORED = Affine(a=-1.0, e=900.0)
UPSIDE_DOWN = Affine(a=-1.0, d=-1.0, e=900.0, f=1100.0)


def case(
    label: str,
    truth: Truth,
    hand: Hand = as_drawn,
    *,
    by: Affine | None = None,
    name: str = "",
    grain: bool = True,
    start: int = 0,
    backwards: bool = False,
    plain: bool = True,
    exact: bool = True,
    v_dart: bool = False,
    dart_words: tuple[str, ...] = ("dart",),
    more: Callable[[Sheet, Truth], None] | None = None,
    loose: str = "",
) -> Case:
    """A row of the table; `loose` "edges" or "segments" draws the outline in open parts."""
    true = truth if by is None else truth.mapped(by)
    true = run_backwards(true) if backwards else true
    chains = drawn_by(true, hand)
    sheet = Sheet([])
    if loose:
        _loose(sheet, chains, loose)
    else:
        sheet.add(ring_of(chains, start=start), *([name] if name else []))
    if grain:
        # Every other grain line is drawn from the hem up.
        line = true.grain() if len(label) % 2 else true.grain().reversed()
        sheet.add(Chain((line,)), kind=Kind.GRAIN)
    sheet.darts(true, *dart_words, v=v_dart)
    if true.on_fold:
        sheet.add(chains[[e.role for e in true.edges].index(Role.FOLD)], "fold line")
    if more is not None:
        more(sheet, true)
    return Case(label, true, tuple(sheet.shapes), plain, exact)


def _loose(sheet: Sheet, chains: list[Chain], how: str) -> None:
    parts = chains if how == "edges" else [Chain((s,)) for c in chains for s in c]
    for k, part in enumerate(parts):
        # Some drawn the other way, and each pulled off its neighbour by 0.06 mm.
        pulled = part.mapped(Affine.move(0.03 * (-1) ** k, 0.02))
        sheet.add(pulled.reversed() if k % 3 == 1 else pulled)


def labelled(truth: Truth, words: tuple[str, ...], label: str, *, by: Affine | None = None) -> Case:
    """A row whose edges are drawn one by one, each with a word in its id."""
    true = truth if by is None else truth.mapped(by)
    sheet = Sheet([])
    for k, (edge, word) in enumerate(zip(true.edges, words, strict=True)):
        sheet.add(edge.chain.reversed() if k % 2 else edge.chain, word)
    sheet.add(Chain((true.grain().reversed(),)), kind=Kind.GRAIN)
    return Case(label, true, tuple(sheet.shapes), plain=True, exact=True)


def ticks(sheet: Sheet, true: Truth) -> None:
    """Notch ticks 6 mm into the piece on every edge but the hem."""
    sign = 1.0 if true.ring.signed_area() > 0.0 else -1.0
    for e in true.edges[1:]:
        place = e.chain.at_length(e.chain.length() * 0.4)
        inward = e.chain.tangent(place).square() * sign
        p = e.chain.at(place)
        sheet.line(p, p.moved(inward, 6.0))


def inner_lines(sheet: Sheet, true: Truth) -> None:
    """A pocket of three lines, and a hip line across the piece."""
    box = true.ring.bounds()
    c = box.centre
    sides = (Vector(-50, -70), Vector(-50, 0), Vector(10, 0), Vector(10, -70))
    sheet.add(Chain.through([c + v for v in sides]), "pocket")
    sheet.line(Point(box.x0 + 30, c.y - 20), Point(box.x1 - 30, c.y - 20), "hip line")


def cutting_line(sheet: Sheet, true: Truth) -> None:
    """Seam allowance of 10 mm all round, square corners."""
    polygon = shapely.Polygon(true.ring.flattened(tolerance=0.02)).buffer(10.0, join_style=2)
    points = [Point(float(x), float(y)) for x, y in polygon.exterior.coords[:-1]]
    sheet.add(Ring.polygon(points), "cutting line")


def sheet_around(sheet: Sheet, true: Truth) -> None:
    """A frame round the sheet and a test square beside the piece."""
    box = true.ring.bounds()
    sheet.rectangle(box.x0 - 120, box.y0 - 40, box.width + 160, box.height + 90)
    sheet.rectangle(box.x0 - 80, box.y0, 50.0, 50.0)


def writing(words: str) -> Callable[[Sheet, Truth], None]:
    def more(sheet: Sheet, true: Truth) -> None:
        sheet.add(true.ring.bounds().centre, kind=Kind.TEXT, text=words)

    return more


def past_corners(label: str, truth: Truth, step: float, noise: float, seed: int) -> Case:
    """A row of which only points round the piece are known, none of them at a corner."""
    sheet = Sheet([])
    sheet.add(evenly(truth, step, noise, seed))
    sheet.add(Chain((truth.grain(),)), kind=Kind.GRAIN)
    if truth.on_fold:
        sheet.add(truth.edges[1].chain, "fold line")
    shown = f"{label}, points every {step} mm past the corners, noise {noise}"
    return Case(shown, truth, tuple(sheet.shapes), plain=False, exact=False)
