"""Puts other segments into path data and leaves the rest of the text as it stands.

Steps that still draw what they drew keep their text, relative and shorthand ones as well,
for every new segment ends exactly where the next old one begins. What changes is written
as absolute M, L and C; of an absolute step only the numbers that moved are written anew.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from core.curve import Affine, Cubic, Line, Point, Segment
from core.files.svg.numbers import NUMBER, pair, short
from core.files.svg.pathdata import Step, parse
from core.files.svg.trace import Trace, trace

# Segments whose points differ by less than this (mm) are the same.
SAME = 1e-9
_NUMBER = re.compile(NUMBER)

Replacement = Sequence[Sequence[Segment]] | Point


def splice_path(
    text: str,
    matrix: Affine,
    edits: Mapping[int, Replacement],
    *,
    arc_tolerance: float,
) -> str:
    """The path data with new segments in some of its subpaths.

    `edits` gives, by number of the subpath, for each of its segments (numbered as ``trace``
    numbers them) those that stand in its place, in mm; or a point to which a subpath that
    is only a dot moves. A subpath that has no segment left goes out altogether. `matrix`
    leads from the path's units to mm, and must not flatten.
    """
    parsed = parse(text, arc_tolerance=arc_tolerance)
    writer = _Writer(text, matrix)
    for number, steps in enumerate(parsed.subpaths):
        traced = trace(steps, matrix)
        new = edits.get(number)
        if isinstance(new, Point):
            writer.dot(steps, traced, new)
        elif new is None:
            writer.subpath(steps, traced, [(s,) for s in traced.segments])
        elif any(new):
            writer.subpath(steps, traced, new)
        else:
            writer.skip(steps, traced)
    return writer.finish()


def same_point(p: Point, q: Point) -> bool:
    return p is q or (abs(p.x - q.x) <= SAME and abs(p.y - q.y) <= SAME)


def same_segment(a: Segment, b: Segment) -> bool:
    """Do both draw the same, point by point?"""
    return a is b or (
        len(a.controls) == len(b.controls) and all(map(same_point, a.controls, b.controls))
    )


class _Writer:
    """The text that is written so far, and where pens stand in it and in the old text."""

    def __init__(self, text: str, matrix: Affine) -> None:
        self.text = text
        self.matrix = matrix
        self.inverse = matrix.inverse()
        self.out: list[str] = []
        self.done = 0
        # Pen and last moveto of what is written; pen of the old text; all in mm.
        self.pen = self.move = self.old_pen = matrix.point(Point(0.0, 0.0))
        # The command that numbers without a letter would continue.
        self.context = ""
        # Did the step just before keep its text, so that the next may lean on it?
        self.kept = False
        # What stands last: decides what a shorthand curve would mirror.
        self.last: Step | Segment | None = None
        # How the points of the subpath in hand are written in the old text, by their place.
        self.told: dict[tuple[float, float], str] = {}

    def finish(self) -> str:
        return "".join((*self.out, self.text[self.done :]))

    def skip(self, steps: Sequence[Step], traced: Trace) -> None:
        """Leaves a whole subpath out."""
        self.done = steps[-1].end
        self.kept = False
        self.last, self.context = None, ""
        self.old_pen = _end_of(steps, traced)

    def dot(self, steps: Sequence[Step], traced: Trace, place: Point) -> None:
        self._begin(place, self._gap(steps[0]))
        self.out.append("h0")
        self.done, self.context, self.last, self.kept = steps[-1].end, "h", None, False
        self.old_pen = traced.start

    def subpath(
        self, steps: Sequence[Step], traced: Trace, new: Sequence[Sequence[Segment]]
    ) -> None:
        """Writes a subpath; `new` stands segment by segment in place of those traced."""
        self.told = self._as_told(steps)
        first = next((s[0].start for s in new if s), traced.start)
        self._moveto(steps[0], traced.start, first)
        pen, at = traced.start, 0
        for number, step in enumerate(steps[1:], 1):
            until = at
            while until < len(traced.owners) and traced.owners[until] == number:
                until += 1
            old = traced.segments[at:until]
            wanted = [s for group in new[at:until] for s in group]
            if step.is_close:
                self._close(step, wanted)
            else:
                self._step(step, pen, old, wanted)
            pen, at = (old[-1].end if old else pen), until
        self.old_pen = _end_of(steps, traced)

    def _as_told(self, steps: Sequence[Step]) -> dict[tuple[float, float], str]:
        out: dict[tuple[float, float], str] = {}
        for step in steps:
            if step.letter not in ("M", "L", "C"):
                continue
            found = list(_NUMBER.finditer(self.text, step.begin, step.end))
            coords = step.coords[-len(found) :]
            for k in range(0, len(found) - 1, 2):
                p = self.matrix.point(Point(*coords[k : k + 2]))
                out[p.x, p.y] = self._text(found[k], found[k + 1])
        return out

    def _moveto(self, step: Step, old: Point, new: Point) -> None:
        stays = same_point(old, new)
        gap = self._gap(step)
        if not step.letter and stays and same_point(self.pen, old):
            # The old text goes on from the last moveto without saying so, and still may.
            return
        if stays and (
            step.letter == "M" or (step.letter == "m" and same_point(self.pen, self.old_pen))
        ):
            self.out += (gap, self.text[step.begin : step.end])
            self.pen = self.move = new
            self.context, self.kept = ("L" if step.letter == "M" else "l"), True
        else:
            found = list(_NUMBER.finditer(self.text, step.begin, step.end))
            self._begin(new, gap, (found[0], found[1]) if step.letter == "M" else None)
        self.last = None
        self.done = step.end

    def _begin(
        self, place: Point, gap: str, numbers: tuple[re.Match[str], re.Match[str]] | None = None
    ) -> None:
        text = self._pair(place, numbers) if numbers else self._place(place)
        self.out += (gap.replace(",", " "), "M", text)
        self.pen = self.move = place
        self.context, self.kept, self.last = "L", False, None

    def _gap(self, step: Step) -> str:
        return self.text[self.done : step.begin]

    def _step(
        self, step: Step, pen: Point, old: Sequence[Segment], wanted: Sequence[Segment]
    ) -> None:
        """One step: as it was, or with new numbers, or not at all."""
        unchanged = len(old) == len(wanted) and all(map(same_segment, old, wanted))
        if unchanged and same_point(self.pen, pen) and self._mirrors(step):
            self._keep(step, old)
        elif len(old) == len(wanted) == 1 and self._keeps_numbers(step, old[0], wanted[0]):
            self._renumber(step, old[0], wanted[0])
        else:
            gap = self._gap(step)
            for segment in wanted:
                self._draw(segment, gap)
                gap = " "
            self.done = step.end
            self.kept = False

    def _keep(self, step: Step, old: Sequence[Segment]) -> None:
        gap, body = self._gap(step), self.text[step.begin : step.end]
        if not step.written and self.context != step.letter:
            gap, body = gap.replace(",", " "), step.letter + body
        elif not step.written and not self.kept:
            gap = gap or " "
        self.out += (gap, body)
        self.pen = old[-1].end if old else self.pen
        self.done, self.context, self.kept, self.last = step.end, step.letter, True, step

    def _keeps_numbers(self, step: Step, old: Segment, new: Segment) -> bool:
        """Is it an absolute line or curve that stays one, and goes on from the pen?"""
        return (
            step.letter in ("L", "C") and type(old) is type(new) and same_point(self.pen, new.start)
        )

    def _renumber(self, step: Step, old: Segment, new: Segment) -> None:
        """Writes anew only the points that moved."""
        moved = [not same_point(p, q) for p, q in zip(old.controls, new.controls, strict=True)]
        if not any(moved[1:]):
            self._keep(step, [new])
            return
        found = list(_NUMBER.finditer(self.text, step.begin, step.end))
        letter = self.text[step.begin : found[0].start()] if step.written else step.letter
        self.out += (self._gap(step).replace(",", " "), letter)
        for k, point in enumerate(new.controls[1:]):
            x, y = found[2 * k : 2 * k + 2]
            if k:
                # Numbers of different origin must not run together.
                self.out.append(self.text[found[2 * k - 1].end() : x.start()] or " ")
            self.out.append(self._pair(point, (x, y)) if moved[k + 1] else self._text(x, y))
        self.pen, self.last = new.end, new
        self.done, self.context, self.kept = step.end, step.letter, False

    def _pair(self, p: Point, numbers: tuple[re.Match[str], re.Match[str]]) -> str:
        """The point in the place of these two numbers, either of which may be the same still."""
        own, (x, y) = self.inverse.point(p), numbers
        one, other = (
            found[0] if abs(float(found[0]) - value) <= SAME else short(value)
            for found, value in ((x, own.x), (y, own.y))
        )
        return f"{one},{other}"

    def _place(self, p: Point) -> str:
        """The point as the file has it, if it is one of the old ones, wherever it stood."""
        return self.told.get((p.x, p.y)) or pair(self.inverse.point(p))

    def _text(self, x: re.Match[str], y: re.Match[str]) -> str:
        return self.text[x.start() : y.end()]

    def _draw(self, segment: Segment, gap: str) -> None:
        if not same_point(self.pen, segment.start):
            self._begin(segment.start, gap)
            gap = " "
        points = [self._place(p) for p in segment.controls[1:]]
        letter = "L" if isinstance(segment, Line) else "C"
        self.out += (gap.replace(",", " "), letter, " ".join(points))
        self.pen, self.context, self.last = segment.end, letter, segment

    def _close(self, step: Step, wanted: Sequence[Segment]) -> None:
        """Closes where that draws what is wanted; a closepath draws its own last line."""
        gap = self._gap(step)
        last = wanted[-1] if wanted else None
        for segment in wanted[:-1]:
            self._draw(segment, gap)
            gap = " "
        by_itself = (
            isinstance(last, Line)
            and same_point(last.end, self.move)
            and same_point(last.start, self.pen)
        )
        if last is not None and not by_itself:
            self._draw(last, gap)
            gap = " "
        if by_itself or same_point(self.pen, self.move):
            self.out += (gap.replace(",", " "), self.text[step.begin : step.end])
            self.pen = self.move
        self.done, self.context, self.kept, self.last = step.end, "", True, None

    def _mirrors(self, step: Step) -> bool:
        """Does a shorthand curve still find the handle that it mirrors?"""
        kind = step.letter.lower()
        if kind not in ("s", "t"):
            return True
        x, y = step.coords[2:4]
        wanted = self.matrix.point(Point(x, y))
        found = self.pen
        handle = self._handle(kind)
        if handle is not None:
            found = Point(2 * self.pen.x - handle.x, 2 * self.pen.y - handle.y)
        if kind == "t":
            found = self.pen.towards(found, 2 / 3)
        return same_point(found, wanted)

    def _handle(self, kind: str) -> Point | None:
        """The handle that the next shorthand of this kind would mirror, in mm."""
        last = self.last
        if isinstance(last, Cubic):
            return last.c2 if kind == "s" else None
        if isinstance(last, Step):
            x0, y0 = last.coords[:2]
            if kind == "s" and last.letter in "CcSs":
                return self.matrix.point(Point(*last.coords[-4:-2]))
            if kind == "t" and last.letter in "QqTt":
                x1, y1 = last.coords[2:4]
                return self.matrix.point(Point(x0 + (x1 - x0) * 1.5, y0 + (y1 - y0) * 1.5))
        return None


def _end_of(steps: Sequence[Step], traced: Trace) -> Point:
    if steps[-1].is_close or not traced.segments:
        return traced.start
    return traced.segments[-1].end
