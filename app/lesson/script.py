"""What the lesson plays: the construction steps of all pieces, as frames. Knows nothing of Qt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from core.alter.model import Altered, Step, StepKind
from core.curve import Box, Chain, Vector
from core.errors import AlterationError
from core.measure import Length, Sentence, Unit, told_in

# More pieces than this, and the caption of a step speaks of the first ones only.
MOST_TOLD = 2
# Lengths that differ by no more than this (mm) are told as one.
SAME_MM = 0.5
# How a step's own lines are dashed, so that colour is not the only sign.
DASHED = {
    StepKind.BRING_HEM: (3.0, 2.0),
    StepKind.CUT_SEAMS: (1.5, 1.5),
    StepKind.TRIM: (1.0, 1.0),
    StepKind.LEVEL_LINE: (6.0, 2.0, 1.0, 2.0),
}
ORANGE = {
    StepKind.CARRY_SEAMS, StepKind.CUT_SEAMS, StepKind.LEVEL_LINE, StepKind.SPREAD,
    StepKind.FOLD, StepKind.TRUE_SEAMS,
}  # fmt: skip


@dataclass(frozen=True)
class Laid:
    """An altered piece in its place on the table."""

    altered: Altered
    spot: Vector

    @property
    def box(self) -> Box:
        """Around the piece before and after, and around all its steps."""
        rings = (self.altered.before.outline.ring, self.altered.piece.outline.ring)
        whole = rings[0].bounds() | rings[1].bounds()
        for step in self.altered.steps:
            for line in step.lines:
                whole = whole | line.bounds()
        v = self.spot
        return Box(whole.x0 + v.x, whole.y0 + v.y, whole.x1 + v.x, whole.y1 + v.y)


@dataclass(frozen=True)
class Frame:
    """One step of the lesson; ``steps`` has the step of each piece, None where it has none."""

    kind: StepKind
    caption: str
    steps: tuple[Step | None, ...]


@dataclass(frozen=True)
class Lesson:
    """The pieces and the frames in which their alteration is played."""

    laid: tuple[Laid, ...]
    frames: tuple[Frame, ...]

    @property
    def box(self) -> Box:
        whole = self.laid[0].box
        for one in self.laid[1:]:
            whole = whole | one.box
        return whole

    @property
    def by_mm(self) -> float:
        return self.laid[0].altered.change.by_mm

    def question(self, unit: Unit) -> str:
        """The task of the practice sheet."""
        way = "longer" if self.by_mm > 0.0 else "shorter"
        names = " and ".join(one.altered.before.name for one in self.laid[:MOST_TOLD])
        what = f"{names} {'are' if len(self.laid) > 1 else 'is'} to be"
        asked = Sentence("{what} {by} {way}.", what=what, by=Length(abs(self.by_mm)), way=way)
        return (
            f"{asked.told_in(unit)} Draw how the seams go on, where the hem comes to lie, and"
            " what has to match."
        )


def lines_of(laid: Laid) -> tuple[Chain, ...]:
    """All lines that are drawn of a piece in the course of its lesson."""
    before, steps = laid.altered.before, laid.altered.steps
    legs = [Chain.through((d.mouth[0], d.apex, d.mouth[1])) for d in before.darts]
    return (before.outline.ring, *legs, *(line for step in steps for line in step.lines))


@dataclass
class Captions:
    """What the teacher wrote in the place of a step's own sentence, kept for the session.

    It holds as long as the sentence does: a changed amount brings the new sentence back, for a
    caption with the old figure in it would be wrong.
    """

    written: dict[str, str] = field(default_factory=dict)

    def of(self, frame: Frame, unit: Unit) -> str:
        return self.instead_of(frame.caption, unit)

    def instead_of(self, sentence: str, unit: Unit) -> str:
        """What was written in the place of the sentence; else the sentence."""
        return self.written.get(sentence) or told_in(sentence, unit)

    def write(self, sentence: str, words: str) -> None:
        """Nothing written brings the sentence itself back."""
        words = " ".join(words.split())
        if words:
            self.written[sentence] = words
        else:
            self.written.pop(sentence, None)


def lesson_of(laid: Sequence[Laid]) -> Lesson:
    """The lesson of these pieces; AlterationError when nothing is changed on any of them."""
    changed = tuple(one for one in laid if one.altered.steps)
    if not changed:
        raise AlterationError(
            "There is nothing to teach yet: say first how much longer or shorter the pieces are"
            " to be."
        )
    return Lesson(changed, tuple(_frames(changed)))


def _frames(laid: Sequence[Laid]) -> Iterator[Frame]:
    """Steps of one kind go together, the second of a kind with the second."""
    numbered = [_numbered(one.altered.steps) for one in laid]
    order = list(StepKind)
    keys = sorted({key for row in numbered for key in row}, key=lambda k: (order.index(k[0]), k[1]))
    for key in keys:
        steps = tuple(row.get(key) for row in numbered)
        yield Frame(key[0], _caption(laid, steps), steps)


def _numbered(steps: Sequence[Step]) -> dict[tuple[StepKind, int], Step]:
    out: dict[tuple[StepKind, int], Step] = {}
    for step in steps:
        count = sum(kind is step.kind for kind, _ in out)
        out[step.kind, count] = step
    return out


def _alike(sentence: str, other: str) -> bool:
    """Do both say the same to a reader? Matched pieces differ by tenths of a mm."""
    if isinstance(sentence, Sentence):
        return sentence.like(other, within=SAME_MM)
    return sentence == other


def _caption(laid: Sequence[Laid], steps: Sequence[Step | None]) -> str:
    """The sentence, or where they differ, one for each of the first pieces with its name."""
    told = [(one.altered.piece.name, s.sentence) for one, s in zip(laid, steps, strict=True) if s]
    rows: list[tuple[str, str]] = []
    for name, sentence in told:
        if not any(_alike(sentence, other) for _, other in rows):
            rows.append((name, sentence))
    if len(rows) == 1:
        return told[0][1]
    rows = rows[:MOST_TOLD]
    form = " ".join(f"{{n{k}}}: {{s{k}}}" for k in range(len(rows)))
    values: dict[str, object] = {f"n{k}": name for k, (name, _) in enumerate(rows)}
    values |= {f"s{k}": sentence for k, (_, sentence) in enumerate(rows)}
    return Sentence(form, **values)
