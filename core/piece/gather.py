"""Which drawn shapes make one piece: outline, stitching line, and what lies inside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from core.curve import Line, Ring
from core.piece.inside import with_kinds
from core.piece.join import join
from core.piece.model import Because, Kind, Outline, Shape
from core.piece.naming import name_piece, unique
from core.piece.sharing import Candidate, shared_out
from core.piece.sizes import Sizes, find_sizes
from core.piece.too_much import MOST_HEAPED, too_many_points, within
from core.piece.words import kind_in

# Smaller closed outlines (mm^2) are marks, not pieces: 5 x 5 cm.
SMALLEST = 2500.0
# A nameless line inside the outline is the stitching line when it is nowhere further (mm) off.
NAMELESS_ALLOWANCE = 65.0
# A closed line with less of the area is not the stitching line of the one around it.
STITCHING_SHARE = 0.5
# The gap between the two is measured this often (mm).
DENSE = 20.0
# Usual sides of printed test squares (mm); common practice, no source.
TEST_SQUARES = (25.4, 50.0, 50.8, 100.0, 101.6)
SQUARE_SLACK = 0.1
# What a large closed line may be called.
_CLOSED_KINDS = {Kind.OUTLINE, Kind.STITCHING, Kind.ASIDE, Kind.CUTOUT, Kind.INNER, None}
# Outlines that share more than this of the smaller one lie over each other.
HEAPED_SHARE = 0.3
_SHEET = "A rectangle around the pieces was taken for the edge of the sheet."
# The box of what lies inside an outline sticks out of that of the outline by no more (mm).
BOX_MARGIN = 1.0
# Flattening for asking what lies inside what, in mm.
FLATTENING = 0.2


@dataclass(frozen=True)
class Gathered:
    """One piece's shapes: outline, stitching line, the shapes they were drawn with (`drawn`),
    and all others that belong to it (`inner`), with the kinds that words give them.

    What is drawn once for all sizes is among the `inner` of each size on which it lies.
    """

    name: str
    outline: Outline
    stitching: Outline | None
    drawn: tuple[Shape, ...]
    inner: tuple[Shape, ...]
    size: str = ""
    sized: Because | None = None


def gather(shapes: Sequence[Shape]) -> tuple[tuple[Gathered, ...], tuple[str, ...]]:
    """The pieces among the shapes, left to right as drawn in the file, and problems."""
    problems: list[str] = []
    seen = [_with_kind(s) for s in shapes if not s.hidden]
    seen = [s for s in seen if not _set_aside(s, problems)]
    sizes = find_sizes(seen, {s.key for s in shapes if s.kind not in (None, Kind.TEXT)})
    problems += sizes.doubts
    tops = _all_tops(seen, sizes, problems)
    used = {s.key for top in tops for s in _drawn(top)}
    inner = shared_out(tops, [s for s in seen if s.key not in used], sizes)
    named = [name_piece(_drawn(t), i, t.size) for t, i in zip(tops, inner, strict=True)]
    names = unique(named, [t.size for t in tops])
    return (
        tuple(
            Gathered(
                name,
                t.outline,
                t.stitching,
                tuple(_drawn(t)),
                tuple(with_kinds(t.outline.ring, i)),
                t.size,
                sizes.because.get(t.size),
            )
            for name, t, i in zip(names, tops, inner, strict=True)
        ),
        tuple(problems),
    )


def _all_tops(shapes: Sequence[Shape], sizes: Sizes, problems: list[str]) -> list[Candidate]:
    """The outlines of all pieces in file order, each size gathered for itself.

    What lies inside an outline with a size and has none is drawn there for all sizes.
    """
    by_size: dict[str, list[Shape]] = {}
    for s in shapes:
        by_size.setdefault(sizes[s], []).append(s)
    common = _candidates(by_size.pop("", ()))
    sized: list[Candidate] = []
    for size, some in by_size.items():
        found = _tops(_candidates(some), problems)
        for top in found:
            top.size = size
        sized += found
    if sized:
        common = [c for c in common if not any(_inside(c, top) for top in sized)]
        common = [c for c in common if not _frames(c, sized, problems)]
    tops = [*sized, *_tops(common, problems)]
    tops = [t for t in tops if not too_many_points(t.outline, problems)]
    problems += _heaped(tops)
    return sorted(tops, key=lambda c: min(s.key for s in c.shapes))


def _frames(c: Candidate, sized: Sequence[Candidate], problems: list[str]) -> bool:
    """Is it a rectangle around pieces that have a size?"""
    frame = _is_rectangle(c.outline.ring) and any(_inside(top, c) for top in sized)
    if frame and _SHEET not in problems:
        problems.append(_SHEET)
    return frame


def _heaped(tops: Sequence[Candidate]) -> Iterable[str]:
    """A sentence where outlines lie over each other and no size tells them apart."""
    if any(_lies_over(a, b) and not _apart(a, b) for a, b in _touching(tops)) or any(
        len(_rivals(t)) > 1 for t in tops
    ):
        yield (
            "Several outlines lie over each other, and nothing tells whether they are sizes of"
            " one piece. Draw each size in a group or on a layer that is called by it, “size 38”"
            " say, and open the file again."
        )


def _touching(tops: Sequence[Candidate]) -> Iterator[tuple[Candidate, Candidate]]:
    """Pairs of the same size that have a point in common."""
    polygons = np.array([t.polygon for t in tops])
    tree = shapely.STRtree(polygons)
    for found in within(tree, polygons, most=MOST_HEAPED, predicate="intersects"):
        for i, j in zip(*found, strict=True):
            if i < j and tops[i].size == tops[j].size:
                yield tops[i], tops[j]


def _lies_over(a: Candidate, b: Candidate) -> bool:
    shared = a.polygon.intersection(b.polygon).area
    return bool(shared > HEAPED_SHARE * min(a.polygon.area, b.polygon.area))


def _rivals(top: Candidate) -> list[Candidate]:
    """Nameless outlines inside that may each be a stitching line, or a smaller size."""
    return [c for c in top.children if _is_nameless(c) and _parallel(c, top)]


def _is_nameless(c: Candidate) -> bool:
    return all(s.kind is None for s in c.shapes)


def _with_kind(shape: Shape) -> Shape:
    if shape.kind is not None:
        return shape
    kind = kind_in(shape.words)
    # A large closed line is no grain line or dart, whatever the group around it is called.
    if kind not in _CLOSED_KINDS and isinstance(shape.geometry, Ring):
        box = shape.geometry.bounds()
        if box.width * box.height >= 2 * SMALLEST:
            kind = None
    return shape if kind is None else replace(shape, kind=kind)


def _set_aside(shape: Shape, problems: list[str]) -> bool:
    if shape.kind is Kind.ASIDE:
        return True
    if shape.kind is None and isinstance(shape.geometry, Ring) and _is_test_square(shape.geometry):
        side = shape.geometry.bounds().width
        problems.append(f"A square of {side:.1f} mm was taken for the test square.")
        return True
    return False


def _is_test_square(ring: Ring) -> bool:
    # Askew it is wider than its sides, and never narrower.
    widest = max(ring.hull.width, ring.hull.height)
    if len(ring) > 5 or not TEST_SQUARES[0] - 1.0 < widest < 1.5 * TEST_SQUARES[-1]:
        return False
    sides = [s.length() for s in ring if isinstance(s, Line) and s.length() > 0.0]
    if len(sides) != 4:
        return False
    square = any(all(abs(s - side) < SQUARE_SLACK for s in sides) for side in TEST_SQUARES)
    corner = ring.segments[0].tangent(0.0).dot(ring.segments[1].tangent(0.0))
    return square and abs(corner) < 1e-3


def _candidates(shapes: Sequence[Shape]) -> list[Candidate]:
    found = [
        _candidate(Outline.of_shape(s.geometry, s.key), [s])
        for s in shapes
        if s.kind in (None, Kind.OUTLINE, Kind.STITCHING)
        and isinstance(s.geometry, Ring)
        and not surely_small(s.geometry)
    ]
    by_key = {s.key: s for s in shapes}
    for kinds in ((Kind.STITCHING,), (None, Kind.OUTLINE, Kind.FOLD)):
        for group in _groups([s for s in shapes if s.kind in kinds]):
            for outline in join(group):
                keys = dict.fromkeys(o.shape for o in outline.origins)
                found.append(_candidate(outline, [by_key[k] for k in keys]))
    big = [c for c in found if c.polygon.area >= SMALLEST]
    return sorted(big, key=lambda c: -c.polygon.area)


def surely_small(ring: Ring) -> bool:
    """Is it too small for a piece, however it fills the box around it?"""
    return ring.hull.width * ring.hull.height < 0.999 * SMALLEST


def _groups(shapes: Sequence[Shape]) -> Iterable[list[Shape]]:
    """Open shapes block by block: lines of different blocks never make one outline.

    Groups of a drawing program may each hold one line, so there all are tried together too.
    """
    groups: dict[int | None, list[Shape]] = {}
    for s in shapes:
        groups.setdefault(s.group, []).append(s)
    if all(len(g) < 3 for g in groups.values()):
        return [list(shapes)]
    return list(groups.values())


def _candidate(outline: Outline, shapes: list[Shape]) -> Candidate:
    polygon = shapely.Polygon(outline.ring.flattened(tolerance=FLATTENING))
    if not polygon.is_valid:
        polygon = shapely.make_valid(polygon).convex_hull
    return Candidate(outline, shapes, polygon)


def _drawn(c: Candidate) -> list[Shape]:
    stitched = {o.shape for o in c.stitching.origins} if c.stitching else set()
    inside = [s for child in c.children for s in child.shapes if s.key in stitched]
    return [*c.shapes, *inside]


def _tops(candidates: Sequence[Candidate], problems: list[str]) -> list[Candidate]:
    """Outermost outlines of pieces, in file order; frames around several are set aside."""
    tops: dict[int, Candidate] = {}
    for k, (c, near) in enumerate(zip(candidates, _near_before(candidates), strict=True)):
        home = next((tops[n] for n in near if n in tops and _inside(c, tops[n])), None)
        if home is None:
            tops[k] = c
        else:
            home.children.append(c)
    out: list[Candidate] = []
    for top in tops.values():
        out += _opened(top, problems)
    for top in out:
        top.stitching = _stitching(top)
    return sorted(out, key=lambda c: min(s.key for s in c.shapes))


def _near_before(candidates: Sequence[Candidate]) -> list[list[int]]:
    """For each candidate the numbers of those before it inside whose boxes it may lie."""
    found: list[list[int]] = [[] for _ in candidates]
    if len(candidates) > 1:
        boxes = [c.outline.ring.bounds() for c in candidates]
        sides = np.array([(b.x0, b.y0, b.x1, b.y1) for b in boxes]).T
        grown = sides + BOX_MARGIN * np.array([[-1.0], [-1.0], [1.0], [1.0]])
        tree = shapely.STRtree(shapely.box(*sides))
        for these, met in within(tree, shapely.box(*grown), most=MOST_HEAPED):
            for k, n in zip(these.tolist(), met.tolist(), strict=True):
                if n < k:
                    found[k].append(n)
    return [sorted(some) for some in found]


def _apart(a: Candidate, b: Candidate) -> bool:
    """Does the file itself say that they are the outlines of two pieces, wherever they lie?"""
    first, second = ({s.group for s in c.shapes if s.kind is Kind.OUTLINE} for c in (a, b))
    return bool(first and second) and None not in first | second and first.isdisjoint(second)


def _inside(c: Candidate, outer: Candidate) -> bool:
    if _apart(c, outer):
        return False
    around, inner = outer.outline.ring.bounds(), c.outline.ring.bounds()
    if not around.holds(inner, margin=BOX_MARGIN):
        return False
    return bool(outer.polygon.buffer(0.5).contains(c.polygon))


def _opened(top: Candidate, problems: list[str]) -> list[Candidate]:
    """The candidate itself, or what lies in it when it is only a frame around pieces."""
    told = any(s.kind is Kind.OUTLINE for s in top.shapes)
    if told or not top.children or not _is_rectangle(top.outline.ring):
        return [top]
    if any(_parallel(child, top) for child in top.children):
        return [top]
    inside = sum(c.polygon.area for c in top.children)
    if inside < 0.1 * top.polygon.area:
        return [top]
    problems.append(_SHEET)
    children, top.children = top.children, []
    return _tops(sorted(children, key=lambda c: -c.polygon.area), problems)


def _is_rectangle(ring: Ring) -> bool:
    lines = [s for s in ring if s.length() > 0.0]
    return len(lines) == 4 and all(
        isinstance(a, Line) and abs(a.tangent(0.0).dot(b.tangent(0.0))) < 1e-3
        for a, b in zip(lines, (*lines[1:], lines[0]), strict=True)
    )


def _stitching(top: Candidate) -> Outline | None:
    """The line inside that the file calls stitching, or that runs parallel to the outline."""
    called = [c for c in top.children if any(s.kind is Kind.STITCHING for s in c.shapes)]
    rivals = [] if called else _rivals(top)
    # Of two the inner may be the smaller size of the other: neither is sewn along then.
    fitting = called or (rivals if len(rivals) == 1 else [])
    return fitting[0].outline if fitting else None


def _parallel(c: Candidate, outer: Candidate) -> bool:
    if c.polygon.area < STITCHING_SHARE * outer.polygon.area:
        return False
    # Seen from outside only: a cutting line runs straight across a dart of the stitching line.
    around = shapely.segmentize(outer.polygon.exterior, DENSE)
    gaps = shapely.distance(shapely.points(around.coords), c.polygon.exterior)
    return bool(gaps.max() <= NAMELESS_ALLOWANCE)
