"""Walking the mates: two seams laid along each other from the hem, notch by notch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from core.alter.model import Finding, Severity, Whose
from core.check.notches import Notch, notches_on, paired
from core.check.seams import Joined, SeamChange
from core.curve import Point
from core.measure import TRUED, Length, Sentence, differences

# A difference of 1/8 in is workable (Threads no. 200, Dec 2018).
WORKABLE = 2 * TRUED
# A difference that moved by no more than this (mm), the least that is told, is the same as before.
SAME = 0.1


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
    def of_two(self) -> bool:
        """Have the two pieces names of their own?"""
        return self.names[0] != self.names[1]

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
    a, b, off = found.first, found.second, abs(found.difference_mm)
    lengths = Sentence("{a} and {b}", a=Length(a.after_mm), b=Length(b.after_mm))
    # As they are told: 1.6 mm longer is true to within 1.6 mm.
    if round(off, 1) <= round(TRUED, 1):
        was = Sentence("{a} and {b}", a=Length(a.before_mm), b=Length(b.before_mm))
        form = "{called}: they match, {lengths} ({was} before)."
        told = Sentence(form, called=found.called, lengths=lengths, was=was)
        return Finding(Severity.WELL, told, found.place, found.longer)
    form = "{longer} is {off} longer" if found.of_two else "they differ by {off}"
    off_told, was_told = differences(off, found.difference_before_mm)
    what = Sentence(form, longer=found.longer.name, off=off_told)
    told = Sentence(
        "{called}: {what} ({lengths}). {past} {advice}",
        called=found.called,
        what=what,
        lengths=lengths,
        past=_past(found, was_told),
        advice=_advice(off),
    )
    return Finding(Severity.LOOK, told, found.place, found.longer)


def _advice(off: float) -> Sentence:
    if off > WORKABLE:
        return Sentence("Is ease meant there? If not, true them.")
    trued = Length(TRUED, little=True)
    return Sentence("That can be worked in; better true them to within {trued}.", trued=trued)


def _past(found: Walk, was_told: Length) -> Sentence:
    was = found.difference_before_mm
    if abs(found.difference_mm - was) <= SAME:
        return Sentence("The difference was there before the change.")
    if abs(was) < SAME:
        return Sentence("Before the change they were equal.")
    form = "{longer} was {off} longer" if found.of_two else "they differed by {off}"
    longer = found.names[was > 0.0]
    return Sentence(f"Before the change {form}.", longer=longer, off=was_told)


def _of_notches(found: Walk) -> Iterator[Finding]:
    for n in found.notches:
        if not n.matches:
            yield Finding(Severity.LOOK, _missed(found, n), n.place, found.pieces[0])
    for lone in found.lone:
        told = Sentence(
            "{called}: the notch of {piece} at {away} from the hem has no partner on the other"
            " seam. Draw one there, or take it away.",
            called=found.called,
            piece=lone.piece.name,
            away=Length(lone.from_hem_mm),
        )
        yield Finding(Severity.LOOK, told, lone.place, lone.piece)


def _missed(found: Walk, n: NotchPair) -> Sentence:
    past = Sentence("")
    if n.off_before_mm is not None:
        same = abs(n.off_mm - n.off_before_mm) <= SAME
        was = Length(abs(n.off_before_mm), little=True)
        past = Sentence(" It was so before." if same else " Before: {was}.", was=was)
    return Sentence(
        "{called}: the notches at {a} and {b} from the hem miss each other by {off}.{past} Move"
        " one to meet the other.",
        called=found.called,
        a=Length(n.first_mm),
        b=Length(n.second_mm),
        off=Length(abs(n.off_mm), little=True),
        past=past,
    )
