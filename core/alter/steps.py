"""The construction steps of a change, each with its own lines: one source for all pictures."""

from __future__ import annotations

from collections.abc import Iterator

from core.alter.frame import Frame
from core.alter.model import Finding, Severity, Step, StepKind
from core.alter.redo import Redone
from core.alter.strand import chain_of
from core.curve import Affine, Chain, Line, Ring
from core.measure import in_cm
from core.piece.model import ContourDart, Dart, Piece, Role


def construction(
    piece: Piece,
    altered: Piece,
    done: Redone,
    findings: tuple[Finding, ...],
    caps: tuple[Chain, ...] = (),
) -> tuple[Step, ...]:
    """The steps in the order in which a maker does them; steps with nothing to do are left out."""
    return (
        _tapers(done),
        _seams(done),
        _bring(piece, done),
        _redraw(done),
        *_darts(piece, altered),
        *_caps(caps),
        *_marks(piece, altered),
        _check(altered, findings),
    )


def _tapers(done: Redone) -> Step:
    return Step(
        StepKind.TAPER_POINTS,
        "Mark on both seams where the fit line stops and the shape of the hem begins.",
        points=(done.old.first, done.old.last),
    )


def _seams(done: Redone) -> Step:
    first, last = done.seams
    ends = ((done.old.first, done.new.first), (done.old.last, done.new.last))
    lines = tuple(Chain((Line(a, b),)) for a, b in ends if a != b)
    if first.added_mm >= 0.0:
        sentence = (
            "Lay the ruler along each seam and carry it on:"
            f" {in_cm(first.added_mm)} and {in_cm(last.added_mm)} along the seams."
        )
        return Step(StepKind.CARRY_SEAMS, sentence, lines, (done.new.first, done.new.last))
    sentence = (
        "Measure up both seams and mark the new seam ends:"
        f" {in_cm(-first.added_mm)} and {in_cm(-last.added_mm)} along the seams."
    )
    return Step(StepKind.CUT_SEAMS, sentence, lines, (done.new.first, done.new.last))


def _bring(piece: Piece, done: Redone) -> Step:
    frame = Frame(piece.grain.down)
    drop = frame.height(done.new.first) - frame.height(done.old.first)
    step = frame.down * drop
    moved = chain_of(done.old_run).mapped(Affine.move(step.x, step.y))
    way = "down" if drop > 0.0 else "up"
    sentence = f"Slide the hem with its shaped corners {way} by {in_cm(abs(drop))} along the grain."
    return Step(StepKind.BRING_HEM, sentence, (moved,))


def _redraw(done: Redone) -> Step:
    return Step(
        StepKind.REDRAW_HEM,
        "Redraw the hem so that it ends on the new seam ends and keeps its angle to the seams.",
        (chain_of(done.redrawn.run),),
    )


def _darts(piece: Piece, altered: Piece) -> Iterator[Step]:
    contours = [
        (now, now != was) for was, now in zip(piece.contours, altered.contours, strict=True)
    ]
    lines = tuple(dart_lines(d) for d in altered.darts if d.on is Role.HEM)
    lines += tuple(contour_lines(d) for d, moved in contours if moved)
    if lines:
        yield Step(
            StepKind.CARRY_DARTS,
            "Carry the darts of the hem along whole; their intake stays.",
            lines,
        )
    others = tuple(dart_lines(d) for d in altered.darts if d.on is not Role.HEM)
    others += tuple(contour_lines(d) for d, moved in contours if not moved)
    if others:
        yield Step(StepKind.CARRY_DARTS, "Copy the darts above; they stay as they are.", others)


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


def _check(altered: Piece, findings: tuple[Finding, ...]) -> Step:
    count = sum(f.severity is not Severity.NOTE for f in findings)
    told = "nothing was lost" if not count else f"{count} thing{'s' * (count > 1)} to look at"
    return Step(StepKind.CHECK, f"Check the whole outline: {told}.", (altered.ring,))
