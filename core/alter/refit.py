"""Where the hem run goes: heights move with the seam ends, widths scale to fit between.

Heights move evenly from one end's drop to the other's; widths scale about the run so that
it ends on the carried seams. Darts are taken out of the sum first: they keep their intake
and move whole, or slide along their own axis when they keep their apex. Each stretch
between darts is one affine map, so straight stays straight, what flowed inside it still
flows, and lengthening twice equals lengthening by the sum.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from core.alter.frame import Frame
from core.alter.model import TooFarError
from core.curve import Affine, Point, Vector
from core.kept import kept

# Below this (mm) a closed hem, or what lies between two of its darts, is no hem.
LEAST_WIDTH = 1.0


@dataclass(frozen=True)
class Ends:
    """Where a hem run begins and ends, and the seams' unit directions down to there."""

    first: Point
    last: Point
    first_down: Vector
    last_down: Vector

    @property
    def flipped(self) -> Ends:
        """The ends of the same run, run backwards."""
        return Ends(self.last, self.first, self.last_down, self.first_down)


@dataclass(frozen=True)
class HemDart:
    """A dart of the hem: its mouth in run order, its apex, and whether the apex stays."""

    mouth: tuple[Point, Point]
    apex: Point
    keeps_apex: bool = False

    @property
    def middle(self) -> Point:
        """The middle of the mouth."""
        return self.mouth[0].towards(self.mouth[1], 0.5)


@dataclass(frozen=True)
class RunMap:
    """Where each point near the hem run goes: affine by stretches, from seam to seam.

    `to_run` takes the page to the run's frame (x from the first end towards the last, y
    down); `stops` are the x at which one piece of the map hands over to the next.
    """

    to_run: Affine
    stops: tuple[float, ...]
    pieces: tuple[Affine, ...]

    @property
    def taken(self) -> float:
        """Width of all the darts in the run, which keep it, in mm."""
        return sum(self.stops[1::2]) - sum(self.stops[::2])

    def piece_at(self, p: Point) -> Affine:
        """The affine map, page to page, that holds where p lies."""
        if not self.stops:
            return self.pieces[0]
        x = self.to_run.point(p).x
        k = sum(1 for stop in self.stops if stop <= x)
        return self.pieces[k]

    def point(self, p: Point) -> Point:
        return self.piece_at(p).point(p)

    def scale_at(self, p: Point) -> float:
        """By how much widths scale where p lies."""
        across = Vector(self.to_run.a, self.to_run.c)
        return self.piece_at(p).vector(across).dot(across)


class _Slot(NamedTuple):
    """A dart in the run's frame: where its mouth starts and ends, and, when it keeps its
    apex, how far its axis goes across for each mm down."""

    start: float
    end: float
    lean: float | None


def run_map(frame: Frame, old: Ends, new: Ends, darts: Sequence[HemDart]) -> RunMap:
    """The map that takes the old ends to the new ones and moves each dart mouth whole.

    `darts` are in run order. TooFarError when the new hem has no width left.
    """
    to_run, back = _framed(frame.down, old)
    a, b, whole = (to_run.point(p) for p in (new.first, new.last, old.last))
    slots = [_slot(to_run, d) for d in darts]
    free = whole.x - sum(s.end - s.start for s in slots)
    if free <= 0.0:
        raise TooFarError("the darts take in the whole hem: no width is left there")
    layout = _Layout(slots, whole.x, a, b.x, (b.y - whole.y - a.y) / free)
    pieces = tuple(back @ piece @ to_run for piece in layout.pieces())
    stops = tuple(x for s in slots for x in (s.start, s.end))
    return RunMap(to_run, stops, pieces)


def _slot(to_run: Affine, dart: HemDart) -> _Slot:
    axis = to_run.vector(dart.middle - dart.apex)
    lean = axis.x / axis.y if dart.keeps_apex and axis.y > 0.0 else None
    return _Slot(to_run.point(dart.mouth[0]).x, to_run.point(dart.mouth[1]).x, lean)


def run_frame(frame: Frame, ends: Ends) -> Affine:
    """Page to: x across from the first end towards the last, y down from the first end."""
    return _framed(frame.down, ends)[0]


# The frame of a piece's own hem is that of every frame of a drag.
@kept(most=512)
def _framed(down: Vector, ends: Ends) -> tuple[Affine, Affine]:
    """From the page to the run's frame, and back."""
    frame = Frame(down)
    towards = 1.0 if frame.width(ends.last) >= frame.width(ends.first) else -1.0
    move = Affine.move(-frame.width(ends.first) * towards, -frame.height(ends.first))
    to_run = move @ Affine.scale(towards, 1.0) @ frame.from_page()
    return to_run, to_run.inverse()


@dataclass(frozen=True)
class _Layout:
    """The hem of old `width` laid out anew, in the run's frame.

    `start` is where its beginning goes, `end` the x of its new end; `slope` is how the
    drop grows for each mm of hem between the darts.
    """

    slots: Sequence[_Slot]
    width: float
    start: Point
    end: float
    slope: float

    def pieces(self) -> Iterator[Affine]:
        """Stretch, dart, stretch, ... each as a map of the run's frame."""
        x, at, passed = 0.0, self.start.x, 0.0
        for group, stop, new_stop in self._groups():
            free = stop - x - sum(s.end - s.start for s in group)
            room = new_stop - at - sum(s.end - s.start for s in group)
            if room < min(LEAST_WIDTH, free) or free <= 0.0:
                raise TooFarError("the seams would meet before the new hem: no width is left there")
            scale = room / free
            rest = _Slot(stop, stop, None)
            for slot in [*group, rest]:
                # x' = at + scale (x - x0); y' = y + drop + slope (x - x0)
                drop = self._drop(passed)
                yield Affine(a=scale, b=self.slope, e=at - scale * x, f=drop - self.slope * x)
                at += scale * (slot.start - x)
                passed += slot.start - x
                # A dart whose mouth stands upright is one too, though it takes no width.
                if slot is not rest:
                    yield Affine.move(at - slot.start, self._drop(passed))
                at, x = at + slot.end - slot.start, slot.end
            pinned = next((s for s in self.slots if s.lean is not None and s.start == stop), None)
            if pinned is not None:
                yield Affine.move(at - pinned.start, self._drop(passed))
                at, x = at + pinned.end - pinned.start, pinned.end

    def _drop(self, passed: float) -> float:
        return self.start.y + self.slope * passed

    def _groups(self) -> Iterator[tuple[list[_Slot], float, float]]:
        """The darts that move freely between two fixed places, and the later of the two:
        its old and its new x. Fixed are the ends and the darts that keep their apex."""
        group: list[_Slot] = []
        taken = 0.0
        for slot in self.slots:
            if slot.lean is None:
                group.append(slot)
            else:
                drop = self._drop(slot.start - taken)
                yield group, slot.start, slot.start + slot.lean * drop
                group = []
            taken += slot.end - slot.start
        yield group, self.width, self.end
