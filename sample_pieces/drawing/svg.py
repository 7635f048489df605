"""Writing pieces as SVG: one path per outline, groups with titles, classes in trade words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape

from core.curve import Chain, Line, Point, Segment, Vector
from sample_pieces.drawing.part import Notch, Part

NOTCH_MM = 6.0
HOLE_MM = 3.0
ARROW_MM = 9.0
LETTER_MM = 14.0
FOLD_END_MM, FOLD_DEPTH_MM, FOLD_WORDS_MM = 139.7, 22.86, 17.78


@dataclass(frozen=True, slots=True)
class Pen:
    """How numbers are written: millimetres per user unit, and decimals of a user unit."""

    unit_mm: float = 1.0
    decimals: int = 3

    def number(self, value: float) -> str:
        """Rounded, without idle zeros; never "-0"."""
        text = f"{value:.{self.decimals}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text

    def point(self, p: Point) -> str:
        return f"{self.number(p.x)},{self.number(p.y)}"

    def units(self, mm: float) -> float:
        """A length on the cloth in user units."""
        return mm / self.unit_mm

    def size(self, mm: float) -> str:
        return self.number(self.units(mm))


def document(
    *, width: str, height: str, view: tuple[float, float], title: str, pen: Pen, body: list[str]
) -> bytes:
    """A whole file; `view` is the width and height of the sheet in user units."""
    box = f"0 0 {pen.number(view[0])} {pen.number(view[1])}"
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="{box}">',
        f"  <title>{escape(title)}</title>",
        *_style(pen, edges=any('class="edge"' in line for line in body)),
        *body,
        "</svg>",
        "",
    ]
    return "\n".join(lines).encode("utf-8")


def _style(pen: Pen, *, edges: bool) -> list[str]:
    fine, bold, dash = pen.size(0.4), pen.size(0.8), pen.size(5.0)
    edge = f"    .edge {{ stroke-width: {bold}; stroke-linecap: round }}"
    return [
        "  <style>",
        f"    path, circle, rect {{ fill: none; stroke: #2b2a27; stroke-width: {fine} }}",
        f"    .outline {{ fill: #f7f5ee; stroke-width: {bold}; stroke-linejoin: round }}",
        *([edge] if edges else []),
        f"    .inner {{ stroke-dasharray: {dash} {pen.size(3.0)} }}",
        f"    text {{ font-family: sans-serif; font-size: {pen.size(LETTER_MM)}px; "
        "fill: #2b2a27; text-anchor: middle }",
        f"    .small {{ font-size: {pen.size(LETTER_MM * 0.6)}px }}",
        "  </style>",
    ]


def indented(lines: Iterable[str]) -> list[str]:
    return ["  " + line for line in lines]


def path_data(segments: Sequence[Segment], pen: Pen, *, closed: bool = False) -> str:
    """M, then C and L, then Z when closed; a straight last step home is left to Z."""
    steps = list(segments)
    if closed and isinstance(steps[-1], Line):
        steps.pop()
    words = [f"M {pen.point(segments[0].start)}"]
    for s in steps:
        letter = "L" if isinstance(s, Line) else "C"
        words.append(" ".join((letter, *(pen.point(p) for p in s.controls[1:]))))
    return " ".join([*words, "Z"] if closed else words)


def group(key: str, title: str, content: list[str]) -> list[str]:
    return [f'<g id="{key}">', f"  <title>{escape(title)}</title>", *indented(content), "</g>"]


def piece(
    part: Part,
    pen: Pen,
    *,
    words: Sequence[str],
    more: Sequence[str] = (),
    edges: Sequence[tuple[str, int]] = (),
) -> list[str]:
    """The piece's group: outline, inner lines, grain, notches, holes, writing, and `more`.

    `edges` draws the outline edge by edge instead: words for each, and how many of the part's
    edges it takes, in their order.
    """
    key = part.name.lower().replace(" ", "-")
    content = _edge_by_edge(key, part, pen, edges) if edges else _outline(key, part, pen)
    content += [inner(f"{key}-{name}", chain, pen) for name, chain in part.inner]
    content += grain(f"{key}-grain", part.grain, pen)
    content += [notch(f"{key}-notch-{n.name}", n, pen) for n in part.notches]
    content += [_hole(f"{key}-drill", p, pen) for p in part.drills]
    content += [*more, *writing(part.label, words, pen)]
    return group(key, part.name, content)


def _outline(key: str, part: Part, pen: Pen) -> list[str]:
    data = path_data(part.ring.segments, pen, closed=True)
    return [f'<path id="{key}-outline" class="outline" d="{data}"/>']


def _edge_by_edge(key: str, part: Part, pen: Pen, edges: Sequence[tuple[str, int]]) -> list[str]:
    out, at = [], 0
    for words, count in edges:
        segments = [s for e in part.edges[at : at + count] for s in e.chain]
        out.append(f'<path id="{key}-{words}" class="edge" d="{path_data(segments, pen)}"/>')
        at += count
    return out


def inner(key: str, chain: Chain, pen: Pen) -> str:
    return f'<path id="{key}" class="inner" d="{path_data(chain.segments, pen)}"/>'


def grain(key: str, line: Line, pen: Pen) -> list[str]:
    """A group of the line itself and of its two arrowheads."""
    along = line.tangent(0.0)
    heads = arrowhead(line.start, along, pen), arrowhead(line.end, -along, pen)
    return [
        f'<g id="{key}" class="grain">',
        f'  <path d="{path_data([line], pen)}"/>',
        f'  <path class="arrow" d="{" ".join(heads)}"/>',
        "</g>",
    ]


def arrowhead(tip: Point, inward: Vector, pen: Pen) -> str:
    """Two barbs at `tip`, opening along `inward`."""
    reach = pen.units(ARROW_MM)
    barbs = [tip.moved(inward.turned(a), reach) for a in (-0.35, 0.35)]
    return f"M {pen.point(barbs[0])} L {pen.point(tip)} L {pen.point(barbs[1])}"


def notch(key: str, notch: Notch, pen: Pen) -> str:
    tick = Line(notch.at, notch.at.moved(notch.inward, pen.units(NOTCH_MM)))
    return f'<path id="{key}" class="notch" d="{path_data([tick], pen)}"/>'


def _hole(key: str, at: Point, pen: Pen) -> str:
    x, y, r = pen.number(at.x), pen.number(at.y), pen.size(HOLE_MM)
    return f'<circle id="{key}" class="drill" cx="{x}" cy="{y}" r="{r}"/>'


def writing(at: Point, words: Sequence[str], pen: Pen) -> list[str]:
    """The first line large, the others small below it."""
    first, *rest = words
    x = pen.number(at.x)
    out = [f'<text x="{x}" y="{pen.number(at.y)}">{escape(first)}</text>']
    for k, line in enumerate(rest, 1):
        y = pen.number(at.y + pen.units(LETTER_MM * k))
        out.append(f'<text class="small" x="{x}" y="{y}">{escape(line)}</text>')
    return out


def moved(content: list[str], transform: str) -> list[str]:
    """A group around `content` with a transform."""
    return [f'<g transform="{transform}">', *indented(content), "</g>"]


def measuring_square(corner: Point, pen: Pen, *, side_mm: float = 100.0) -> list[str]:
    """The square to measure on a print before anything is cut."""
    side = pen.size(side_mm)
    middle = pen.units(side_mm / 2)
    return [
        f'<rect id="test-square" class="test-square" x="{pen.number(corner.x)}" '
        f'y="{pen.number(corner.y)}" width="{side}" height="{side}"/>',
        *writing(
            Point(corner.x + middle, corner.y + middle),
            [f"{side_mm:g} mm", "test square"],
            pen,
        ),
    ]


def fold(part: Part, pen: Pen) -> list[str]:
    """The bracket whose arrows point at the fold up the edge "centre", and the words along it."""
    along = part.edge("centre")
    end, depth = pen.units(FOLD_END_MM), pen.units(FOLD_DEPTH_MM)
    top, low = along.end.y + end, along.start.y - end
    edge, inside = along.start.x, along.start.x + depth
    bracket = Chain.through(
        Point(x, y) for x, y in ((edge, top), (inside, top), (inside, low), (edge, low))
    )
    heads = [arrowhead(Point(edge, y), Vector(1.0, 0.0), pen) for y in (top, low)]
    x, y = pen.number(inside + pen.units(FOLD_WORDS_MM)), pen.number((top + low) / 2)
    return [
        '<g id="front-fold" class="fold">',
        f'  <path d="{path_data(bracket.segments, pen)}"/>',
        f'  <path class="arrow" d="{" ".join(heads)}"/>',
        f'  <text class="small" x="{x}" y="{y}" transform="rotate(-90 {x} {y})">'
        "Place on the fold</text>",
        "</g>",
    ]
