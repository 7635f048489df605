"""Walking the mates: two seams laid along each other from the hem, notch by notch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.alter.model import Finding, Severity, Whose
from core.check.notches import Notch, notches_on, paired
from core.check.seams import Joined, SeamChange
from core.curve import Point
from core.measure import in_cm

# Threads no. 200 (Dec 2018) trues seams to 1/16 in; 1/8 in is workable.
TRUED = 25.4 / 16
WORKABLE = 25.4 / 8
# A difference that moved by no more than this (mm) is the same as before.
SAME = 0.05


@dataclass(frozen=True, slots=True)
class SeamLengths:
    """One seam's length in mm before and after, darts closed."""

    before_mm: float
    after_mm: float


@dataclass(frozen=True, slots=True)
class NotchPair:
    """Two notches that should meet: mm from the hem on each seam, the first one's point.

    ``off_before_mm`` is by how much they missed each other before the change; None when
    one of them was not on the seam then.
    """

    first_mm: float
    second_mm: float
    place: Point
    off_before_mm: float | None

    @property
    def off_mm(self) -> float:
        """Positive when the second notch lies further from the hem."""
        return self.second_mm - self.first_mm

    @property
    def matches(self) -> bool:
        return abs(self.off_mm) <= TRUED


@dataclass(frozen=True, slots=True)
class LoneNotch:
    """A notch without a partner: the piece it is on, mm from the hem, its point."""

    piece: Whose
    from_hem_mm: float
    place: Point


@dataclass(frozen=True)
class Walk:
    """Two mated seams walked from the hem. ``place`` is the top of the longer one."""

    called: str
    pieces: tuple[Whose, Whose]
    first: SeamLengths
    second: SeamLengths
    notches: tuple[NotchPair, ...]
    lone: tuple[LoneNotch, ...]
    place: Point

    @property
    def names(self) -> tuple[str, str]:
        return self.pieces[0].name, self.pieces[1].name

    @property
    def longer(self) -> Whose:
        """The piece on which `place` lies."""
        return self.pieces[self.difference_mm > 0.0]

    @property
    def difference_before_mm(self) -> float:
        return self.second.before_mm - self.first.before_mm

    @property
    def difference_mm(self) -> float:
        """Positive when the second seam is longer."""
        return self.second.after_mm - self.first.after_mm


def walk(pair: Joined) -> Walk:
    """Both seams from their hem ends up: lengths, notches that meet, notches that do not."""
    first, second = _lengths(pair.first), _lengths(pair.second)
    after = pair.first.after, pair.second.after
    notches = notches_on(after[0]), notches_on(after[1])
    met = paired(*notches)
    longer = after[1] if second.after_mm > first.after_mm else after[0]
    return Walk(
        called=pair.called,
        pieces=(Whose.of(after[0].piece), Whose.of(after[1].piece)),
        first=first,
        second=second,
        notches=tuple(_pairs(pair, met)),
        lone=tuple(_lone(pair, notches, met)),
        place=longer.top,
    )


def _lengths(seam: SeamChange) -> SeamLengths:
    return SeamLengths(seam.before.length, seam.after.length)


def _pairs(pair: Joined, met: Sequence[tuple[Notch, Notch]]) -> Iterator[NotchPair]:
    before = [
        {n.shape: n.from_hem_mm for n in notches_on(s.before)} for s in (pair.first, pair.second)
    ]
    for a, b in met:
        known = a.shape in before[0] and b.shape in before[1]
        off = before[1][b.shape] - before[0][a.shape] if known else None
        yield NotchPair(a.from_hem_mm, b.from_hem_mm, a.place, off)


def _lone(
    pair: Joined,
    notches: tuple[Sequence[Notch], Sequence[Notch]],
    met: Sequence[tuple[Notch, Notch]],
) -> Iterator[LoneNotch]:
    for side, seam in enumerate((pair.first.after, pair.second.after)):
        taken = [p[side] for p in met]
        for n in notches[side]:
            if n not in taken:
                yield LoneNotch(Whose.of(seam.piece), n.from_hem_mm, n.place)


def walk_findings(found: Walk) -> tuple[Finding, ...]:
    """What a maker is told of a walk: the lengths always, notches where they do not meet."""
    return (_of_lengths(found), *_of_notches(found))


def _of_lengths(found: Walk) -> Finding:
    off = abs(found.difference_mm)
    lengths = f"{in_cm(found.first.after_mm)} and {in_cm(found.second.after_mm)}"
    if off <= TRUED:
        was = f"{in_cm(found.first.before_mm)} and {in_cm(found.second.before_mm)}"
        return Finding(
            Severity.WELL,
            f"{found.called}: they match, {lengths} ({was} before).",
            found.place,
            found.longer,
        )
    longer = found.names[found.difference_mm > 0.0]
    one = found.names[0] != found.names[1]
    what = f"{longer} is {off:.1f} mm longer" if one else f"they differ by {off:.1f} mm"
    if off <= WORKABLE:
        advice = "That can be worked in; better true them to within 1.6 mm."
    else:
        advice = "Is ease meant there? If not, true them."
    return Finding(
        Severity.LOOK,
        f"{found.called}: {what} ({lengths}). {_past(found)} {advice}",
        found.place,
        found.longer,
    )


def _past(found: Walk) -> str:
    was = found.difference_before_mm
    if abs(found.difference_mm - was) <= SAME:
        return "The difference was there before the change."
    if abs(was) < SAME:
        return "Before the change they were equal."
    longer = found.names[was > 0.0]
    if found.names[0] == found.names[1]:
        return f"Before the change they differed by {abs(was):.1f} mm."
    return f"Before the change {longer} was {abs(was):.1f} mm longer."


def _of_notches(found: Walk) -> Iterator[Finding]:
    for n in found.notches:
        if not n.matches:
            yield Finding(Severity.LOOK, _missed(found, n), n.place, found.pieces[0])
    for lone in found.lone:
        yield Finding(
            Severity.LOOK,
            f"{found.called}: the notch of {lone.piece.name} at {in_cm(lone.from_hem_mm)} from"
            " the hem has no partner on the other seam.",
            lone.place,
            lone.piece,
        )


def _missed(found: Walk, n: NotchPair) -> str:
    past = ""
    if n.off_before_mm is not None:
        same = abs(n.off_mm - n.off_before_mm) <= SAME
        past = " It was so before." if same else f" Before: {abs(n.off_before_mm):.1f} mm."
    return (
        f"{found.called}: the notches at {in_cm(n.first_mm)} and {in_cm(n.second_mm)} from the hem"
        f" miss each other by {abs(n.off_mm):.1f} mm.{past}"
    )
