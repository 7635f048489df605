"""The same piece as different hands would draw it, as the shapes that a reader hands over."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from core.curve import Chain, Cubic, Line, Point, Ring, Segment
from core.piece.model import Kind, Shape
from tests.core.piece.truth import Truth

Hand = Callable[[Chain], Chain]


def as_drawn(chain: Chain) -> Chain:
    return chain


def as_cubics(chain: Chain) -> Chain:
    """Every line as a cubic too, as some programs write them."""
    return Chain(tuple(_cubic(s) for s in chain))


def _cubic(s: Segment) -> Cubic:
    if isinstance(s, Cubic):
        return s
    return Cubic(s.start, s.at(1 / 3), s.at(2 / 3), s.end)


def split_at(*shares: float) -> Hand:
    """Every segment split again at these shares."""

    def hand(chain: Chain) -> Chain:
        stops = (0.0, *shares, 1.0)
        parts: list[Segment] = []
        for s in chain:
            parts += [s.part(a, b) for a, b in itertools.pairwise(stops)]
        return Chain(tuple(parts))

    return hand


def dense(tolerance: float) -> Hand:
    """A polyline this near (mm) to the line."""

    def hand(chain: Chain) -> Chain:
        flat = chain.flattened(tolerance=tolerance)
        return Chain.through(Point(float(x), float(y)) for x, y in flat)

    return hand


def digitised(step: float, noise: float, seed: int = 1) -> Hand:
    """Points every `step` mm, each up to `noise` mm off; corners are points too."""
    rng = np.random.default_rng(seed)

    def hand(chain: Chain) -> Chain:
        stops = [0.0]
        for s in chain:
            # A stylus is set down on dart tips and corners inside the edge as well.
            if stops[-1] > 0.0 and _turns(chain, s):
                stops.append(stops[-1])
            whole = s.length()
            count = max(1, round(whole / step))
            stops += [stops[-1] + whole * (k + 1) / count for k in range(count)]
        points = [chain.at(chain.at_length(d)) for d in dict.fromkeys(stops)]
        reach = noise * np.sqrt(rng.random(len(points)))
        angle = rng.random(len(points)) * 2.0 * np.pi
        moved = [
            Point(p.x + float(r * np.cos(a)), p.y + float(r * np.sin(a)))
            for p, r, a in zip(points, reach, angle, strict=True)
        ]
        return Chain.through(moved)

    return hand


def _turns(chain: Chain, s: Segment) -> bool:
    k = chain.segments.index(s)
    return abs(chain.segments[k - 1].tangent(1.0).angle_to(s.tangent(0.0))) > 0.3


def drawn_by(true: Truth, hand: Hand) -> list[Chain]:
    """The edges as the hand draws them, joined exactly again."""
    chains = [hand(e.chain) for e in true.edges]
    joined = []
    for k, chain in enumerate(chains):
        start = chains[k - 1].end
        first = chain.segments[0]
        # Each edge starts where the one before ended, noise and all.
        parts = (_from(first, start), *chain.segments[1:])
        joined.append(Chain(parts))
    return joined


def _from(s: Segment, start: Point) -> Segment:
    return replace(s, start=start)


def ring_of(chains: Sequence[Chain], *, start: int = 0) -> Ring:
    """One closed ring, beginning at the segment of that number."""
    segments = [s for c in chains for s in c]
    start %= len(segments)
    return Ring((*segments[start:], *segments[:start]))


@dataclass
class Sheet:
    """Shapes in the making, keys in order."""

    shapes: list[Shape]

    def add(
        self,
        geometry: Ring | Chain | Point,
        *words: str,
        kind: Kind | None = None,
        text: str = "",
        group: int | None = None,
        group_name: str = "",
    ) -> None:
        self.shapes.append(
            Shape(
                len(self.shapes),
                geometry,
                words,
                kind=kind,
                text=text,
                group=group,
                group_name=group_name,
            )
        )

    def line(self, a: Point, b: Point, *words: str, kind: Kind | None = None) -> None:
        self.add(Chain((Line(a, b),)), *words, kind=kind)

    def rectangle(self, x: float, y: float, w: float, h: float, *words: str) -> None:
        corners = [Point(x, y), Point(x + w, y), Point(x + w, y + h), Point(x, y + h)]
        self.add(Ring.polygon(corners), *words)

    def darts(self, true: Truth, *words: str, v: bool) -> None:
        """Darts that are drawn inside: a V in one go, or two lines."""
        for d in true.darts:
            if d.notched:
                continue
            if v:
                self.add(Chain.through([d.mouth[0], d.apex, d.mouth[1]]), *words)
            else:
                self.line(d.mouth[0], d.apex, *words)
                self.line(d.mouth[1], d.apex, *words)


def evenly(true: Truth, step: float, noise: float, seed: int = 1) -> Ring:
    """Points every `step` mm round the whole piece, which miss the corners; noise as above."""
    rng = np.random.default_rng(seed)
    ring = true.ring
    count = int(ring.length() / step)
    away = rng.uniform(-noise, noise, (count, 2)) / np.sqrt(2.0)
    points = [ring.at(ring.at_length((k + 0.37) * ring.length() / count)) for k in range(count)]
    return Ring.polygon(
        Point(p.x + float(dx), p.y + float(dy)) for p, (dx, dy) in zip(points, away, strict=True)
    )
