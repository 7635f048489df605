"""What changed between the pieces as read and as they are now, shape by shape.

A writer needs no more than this: for each drawn shape, what now stands in the place of
each of its old segments. Everything that is not named here goes out byte for byte.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from core.curve import Chain, Point, Segment
from core.files.drawing import Drawing
from core.piece.model import Mark, Outline, Piece


@dataclass(frozen=True)
class PathEdit:
    """For each old segment of a shape, in the direction and order in which it was drawn,
    the segments that stand in its place: the very same one, others, or none.
    """

    key: int
    old: tuple[Segment, ...]
    new: tuple[tuple[Segment, ...], ...]


@dataclass(frozen=True)
class PointEdit:
    """A point mark or piece of writing that moved, or that is gone (``new`` is None)."""

    key: int
    old: Point
    new: Point | None


@dataclass(frozen=True)
class Added:
    """A mark that is new on a piece.

    ``outline`` is the shape next to which it goes, ``like`` a shape that draws such a mark on
    the same piece, if there is one.
    """

    mark: Mark
    outline: int
    like: int | None


def added(drawing: Drawing) -> tuple[Added, ...]:
    """All marks of the drawing that no shape of the file draws yet."""
    return tuple(
        Added(mark, piece.outline.origins[0].shape, _like(before, mark))
        for before, piece in drawing.changed()
        for mark in piece.marks
        if mark.is_added
    )


def _like(piece: Piece, mark: Mark) -> int | None:
    """A drawn mark of the same kind; one that is also drawn as a line or as a point, first."""
    same = [m for m in piece.marks if m.kind is mark.kind]
    point = isinstance(mark.geometry, Point)
    same.sort(key=lambda m: isinstance(m.geometry, Point) is not point)
    return same[0].shape if same else None


def edits(drawing: Drawing) -> dict[int, PathEdit | PointEdit]:
    """All shapes of the drawing that changed, by key.

    What is drawn once for several sizes goes with the largest of them, changed or not.
    """
    out: dict[int, PathEdit | PointEdit] = {}
    for before, piece in drawing.changed():
        for edit in _piece_edits(before, piece):
            if drawing.leading.get(edit.key, piece.key) == piece.key:
                out[edit.key] = edit
    return out


def _piece_edits(old: Piece, new: Piece) -> Iterator[PathEdit | PointEdit]:
    for a, b in ((old.outline, new.outline), (old.stitching, new.stitching)):
        if a is not None and b is not None and a is not b:
            yield from _outline_edits(a, b)
    marks = {m.shape: m for m in new.marks}
    for mark in old.marks:
        yield from _mark_edits(mark, marks.get(mark.shape))


def _outline_edits(old: Outline, new: Outline) -> Iterator[PathEdit]:
    was, now = _by_shape(old), _by_shape(new)
    for key, segments in was.items():
        replaced = tuple(now.get(key, {}).get(i, ()) for i in range(len(segments)))
        before = tuple(segments[i][0] for i in range(len(segments)))
        if any(n != (o,) for n, o in zip(replaced, before, strict=True)):
            yield PathEdit(key, before, replaced)


def _by_shape(outline: Outline) -> dict[int, dict[int, tuple[Segment, ...]]]:
    """Segments of each shape by their old number, in the direction they were drawn."""
    out: dict[int, dict[int, tuple[Segment, ...]]] = {}
    for segment, origin in zip(outline.ring, outline.origins, strict=True):
        drawn = segment.reversed() if origin.reversed else segment
        at = out.setdefault(origin.shape, {})
        had = at.get(origin.segment, ())
        at[origin.segment] = (drawn, *had) if origin.reversed else (*had, drawn)
    return out


def _mark_edits(old: Mark, new: Mark | None) -> Iterable[PathEdit | PointEdit]:
    if new is not None and new.geometry == old.geometry:
        return ()
    if isinstance(old.geometry, Point):
        moved = new.geometry if new is not None else None
        if isinstance(moved, Chain):
            raise TypeError("a point mark cannot become a line")
        return (PointEdit(old.shape, old.geometry, moved),)
    return (PathEdit(old.shape, old.geometry.segments, _mark_segments(old.geometry, new)),)


def _mark_segments(old: Chain, new: Mark | None) -> tuple[tuple[Segment, ...], ...]:
    """What stands in the place of each old segment of a mark; nothing where it was cut back."""
    if new is None or isinstance(new.geometry, Point):
        return ((),) * len(old)
    numbers = new.numbers or tuple(range(len(old)))
    stands: dict[int, tuple[Segment, ...]] = {}
    for number, segment in zip(numbers, new.geometry, strict=True):
        stands[number] = (*stands.get(number, ()), segment)
    return tuple(stands.get(k, ()) for k in range(len(old)))
