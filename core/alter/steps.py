"""The construction steps of a change, each with its own lines: one source for all pictures."""

from __future__ import annotations

from collections.abc import Iterator

from core.alter.frame import Frame
from core.alter.model import Change, Finding, HemDarts, HemWay, SeamWay, Severity, Step, StepKind
from core.alter.redo import Redone
from core.alter.seam import SeamEnd
from core.alter.strand import Strand, backwards, chain_of
from core.curve import Affine, Chain, Line, Place, Point, Ring
from core.measure import Length, Sentence
from core.piece.model import ContourDart, Dart, Piece, Role

# Two lengths nearer than this (mm) are told as one; a trimmed part shorter than it is none.
TOLD_APART = 0.5
# The end of a seam lies on the slid hem within this (mm), as near as the picture shows it: the
# handles at the ends of a hem that leans are turned a little.
ON_RUN = 0.3

_ON = {
    SeamWay.STRAIGHT: "Lay the ruler along each seam and carry the seam on",
    SeamWay.CURVED: "Carry each seam on and let its bend fade evenly to straight",
    SeamWay.PLUMB: "Carry each seam on along the grain, so that the width stays",
}
_HEM = {
    HemWay.REFIT: "Redraw the hem so that it ends on the new seam ends and keeps its angle to"
    " the seams.",
    HemWay.TRIM: "Draw the hem from seam to seam; where it falls short of a seam, carry it on.",
    HemWay.SQUARE: "Redraw the hem so that it meets both seams at a right angle.",
}
_DARTS = {
    HemDarts.WHOLE: "Carry the darts of the hem along whole; their intake stays.",
    HemDarts.APEX: "Leave the apex of each dart of the hem where it is and draw its legs down to"
    " the new hem; the intake stays.",
}


def construction(
    piece: Piece,
    altered: Piece,
    done: Redone,
    *,
    change: Change,
    findings: tuple[Finding, ...],
    caps: tuple[Chain, ...] = (),
) -> tuple[Step, ...]:
    """The steps in the order in which a maker does them; steps with nothing to do are left out.

    Of a preview only what is done to the seams.
    """
    if change.preview:
        return (_seams(done, change),)
    slide = _slide(piece, done, change)
    return (
        _tapers(done),
        _seams(done, change),
        _bring(done, slide),
        *_trim(done, change, slide),
        Step(StepKind.REDRAW_HEM, _HEM[change.hem], (chain_of(done.redrawn.run),)),
        *_darts(piece, altered, change.hem_darts),
        *_caps(caps),
        *_cutting_line(altered),
        *_marks(piece, altered),
        _check(altered, findings),
    )


def _tapers(done: Redone) -> Step:
    return Step(
        StepKind.TAPER_POINTS,
        "Mark on both seams where the fit line stops and the shape of the hem begins.",
        points=(done.old.first, done.old.last),
    )


def _seams(done: Redone, change: Change) -> Step:
    first, last = done.seams
    ends = (done.new.first, done.new.last)
    sentence = "" if change.preview else _to_seams(first.added_mm, last.added_mm, change)
    if first.added_mm >= 0.0:
        olds = (done.old.first, done.old.last)
        lines = tuple(
            _carried(seam, old) for seam, old in zip(done.seams, olds, strict=True) if seam.added_mm
        )
        return Step(StepKind.CARRY_SEAMS, sentence, lines, ends)
    climbing = backwards(done.old_upper)
    lines = (_cut_off(done.old_upper, first), _cut_off(climbing, last))
    return Step(StepKind.CUT_SEAMS, sentence, lines, ends)


def _to_seams(first_mm: float, last_mm: float, change: Change) -> Sentence:
    told = _along(abs(first_mm), abs(last_mm))
    if first_mm >= 0.0:
        return Sentence("{how}: {told}.", how=_how(change), told=told)
    return Sentence("Measure up both seams and mark the new seam ends: {told}.", told=told)


def _how(change: Change) -> str:
    if change.to_width_mm is not None:
        return "Carry both seams on so that the hem gets the width asked for"
    if change.plumb_below_mm is not None:
        return "Carry each seam on along its taper down to the level, and plumb from there"
    return _ON[change.seams]


def _along(first: float, last: float) -> Sentence:
    if abs(first - last) < TOLD_APART:
        return Sentence("{each} on each", each=Length((first + last) / 2))
    return Sentence("{a} and {b} along the seams", a=Length(first), b=Length(last))


def _carried(seam: SeamEnd, old: Point) -> Chain:
    """What was added below the old taper point; straight where the seam has no joint there."""
    segments = [t.segment for t in seam.strand]
    for k in range(len(segments) - 1, -1, -1):
        if segments[k].start == old:
            return Chain(tuple(segments[k:]))
    return Chain((Line(old, seam.end),))


def _cut_off(old: Strand, seam: SeamEnd) -> Chain:
    """What was cut off an old strand that ends at the old taper point."""
    kept = seam.strand[-1].number
    whole = next(k for k in range(len(old) - 1, -1, -1) if old[k].number == kept)
    segment = old[whole].segment
    rest = segment.part(segment.nearest(seam.end).t, 1.0)
    lower = tuple(t.segment for t in old[whole + 1 :])
    return Chain(((rest,) if rest.length() > 0.0 or not lower else ()) + lower)


def _slide(piece: Piece, done: Redone, change: Change) -> Affine:
    """How the hem slides: to its seam end, or, where it is slid and trimmed, as it was slid."""
    frame = Frame(piece.grain.down)
    if change.hem is HemWay.TRIM:
        # Where the seams go down by unequal amounts it leans by so much.
        return done.redrawn.where.piece_at(_middle(done))
    step = frame.down * (frame.height(done.new.first) - frame.height(done.old.first))
    return Affine.move(step.x, step.y)


def _middle(done: Redone) -> Point:
    return done.old_run[len(done.old_run) // 2].segment.at(0.5)


def _bring(done: Redone, slide: Affine) -> Step:
    way = "down" if done.seams[0].added_mm > 0.0 else "up"
    middle = _middle(done)
    sentence = Sentence(
        "Slide the whole hem with its shape {way} by {drop} along the grain.",
        way=way,
        drop=Length(middle.distance(slide.point(middle))),
    )
    return Step(StepKind.BRING_HEM, sentence, (chain_of(done.old_run).mapped(slide),))


def _trim(done: Redone, change: Change, slide: Affine) -> Iterator[Step]:
    """What of the slid hem sticks out past the seams, where it is not redrawn to fit."""
    if change.hem is not HemWay.TRIM:
        return
    slid = chain_of(done.old_run).mapped(slide)
    ends = (slid, done.new.first), (slid.reversed(), done.new.last)
    parts = tuple(p for p in (_past(run, end) for run, end in ends) if p is not None)
    if parts:
        yield Step(
            StepKind.TRIM, "Trim off what sticks out past the seams that were carried on.", parts
        )


def _past(run: Chain, end: Point) -> Chain | None:
    """The run up to where it meets the seam; None where it falls short of it."""
    near = run.nearest(end)
    if near.distance > ON_RUN or run.length_to(near.place) < TOLD_APART:
        return None
    return run.part(Place(0, 0.0), near.place)


def _darts(piece: Piece, altered: Piece, way: HemDarts) -> Iterator[Step]:
    contours = [
        (now, now != was) for was, now in zip(piece.contours, altered.contours, strict=True)
    ]
    lines = tuple(dart_lines(d) for d in altered.darts if d.on is Role.HEM)
    whole = tuple(contour_lines(d) for d, moved in contours if moved)
    if lines:
        yield Step(StepKind.CARRY_DARTS, _DARTS[way], lines)
    if whole:
        sentence = "Carry the contour darts along whole; their intake stays."
        yield Step(StepKind.CARRY_DARTS, sentence, whole)
    others = tuple(dart_lines(d) for d in altered.darts if d.on is not Role.HEM)
    others += tuple(contour_lines(d) for d, moved in contours if not moved)
    if others:
        sentence = "Copy the darts that lie higher up; they stay as they are."
        yield Step(StepKind.CARRY_DARTS, sentence, others)


def _caps(caps: tuple[Chain, ...]) -> Iterator[Step]:
    if caps:
        yield Step(
            StepKind.CARRY_DARTS,
            "Fold the darts of the hem shut, draw the hem over them, cut, and unfold.",
            caps,
        )


def dart_lines(dart: Dart) -> Chain:
    """Both legs, mouth to apex to mouth."""
    return Chain.through((dart.mouth[0], dart.apex, dart.mouth[1]))


def contour_lines(dart: ContourDart) -> Chain:
    """The four sides of a contour dart."""
    return Ring.polygon(dart.corners)


def _marks(piece: Piece, altered: Piece) -> Iterator[Step]:
    before = {m.shape: m.geometry for m in piece.marks}
    moved = [
        m.geometry for m in altered.marks if m.shape in before and m.geometry != before[m.shape]
    ]
    if moved:
        chains = tuple(g for g in moved if isinstance(g, Chain))
        points = tuple(g for g in moved if not isinstance(g, Chain))
        yield Step(
            StepKind.CARRY_MARKS, "Carry the marks along with the part they lie on.", chains, points
        )
    new = [m.geometry for m in altered.marks if m.shape not in before]
    if new:
        chains = tuple(g for g in new if isinstance(g, Chain))
        points = tuple(g for g in new if not isinstance(g, Chain))
        sentence = "Put a notch on the seams where they ended before."
        yield Step(StepKind.CARRY_MARKS, sentence, chains, points)


def _cutting_line(altered: Piece) -> Iterator[Step]:
    """The new part of a cutting line that runs around the sewn one."""
    hem = altered.cutting_hem
    if altered.stitching is not None and hem is not None:
        yield Step(
            StepKind.CUTTING_LINE,
            "Draw the cutting line around it with the allowances that it had; a turn-up keeps its"
            " depth and its sides.",
            (altered.outline.ring.run(hem.first.place, hem.last.place),),
        )


def _check(altered: Piece, findings: tuple[Finding, ...]) -> Step:
    count = sum(f.severity is not Severity.NOTE for f in findings)
    return Step(StepKind.CHECK, check_sentence(count), (altered.ring,))


def check_sentence(count: int) -> str:
    """What a careful maker does last; `count` is how much there is to look at."""
    told = "here all is well" if not count else f"{count} thing{'s' * (count > 1)} to look at"
    return (
        "Check: walk the seams that are sewn together, look that the hem runs smooth over them,"
        f" and measure it; {told}."
    )
