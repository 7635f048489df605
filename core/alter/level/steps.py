"""The construction steps of a change at a level, each with its own lines."""

from __future__ import annotations

from collections.abc import Iterator

from core.alter.frame import Frame
from core.alter.level.climb import lowest_and_highest
from core.alter.level.darts import CarriedDart
from core.alter.level.model import LevelChange, Truing
from core.alter.level.relay import Relaid
from core.alter.model import Finding, Step, StepKind
from core.alter.steps import check_sentence, contour_lines, dart_lines
from core.curve import Affine, Chain, Line, Point
from core.measure import Length, Sentence
from core.piece.model import Piece


def construction(
    before: Piece,
    altered: Piece,
    *,
    change: LevelChange,
    sewn: Relaid,
    darts: tuple[CarriedDart, ...],
    findings: tuple[Finding, ...],
) -> tuple[Step, ...]:
    """The steps in the order in which a maker does them; those with nothing to do are left out.

    Of a preview only what is done to the seams.
    """
    if change.preview:
        return tuple(_true(change, sewn))
    return (
        _line(change, sewn),
        _spread(sewn) if change.by_mm > 0.0 else _fold(sewn),
        *_true(change, sewn),
        *_darts(darts),
        *_contours(before, altered),
        *_marks(before, altered),
        _check(altered, findings),
    )


def _line(change: LevelChange, sewn: Relaid) -> Step:
    return Step(
        StepKind.LEVEL_LINE,
        Sentence(
            "Draw a line square to the grain, {at} below the highest point.",
            at=Length(change.at_mm),
        ),
        (across(sewn, sewn.level.height),),
    )


def across(relaid: Relaid, height: float) -> Chain:
    """A line square to the grain at a height, from one side of the old outline to the other."""
    frame: Frame = relaid.level.frame
    side = Frame(frame.across)
    first, last = lowest_and_highest(relaid.before, side)
    at = relaid.level.on(height)
    start = side.height(at)
    return Chain(
        (Line(at.moved(frame.across, first - start), at.moved(frame.across, last - start)),)
    )


def _spread(sewn: Relaid) -> Step:
    level = sewn.level
    lower = across(sewn, level.height).mapped(Affine.move(level.step.x, level.step.y))
    return Step(
        StepKind.SPREAD,
        Sentence(
            "Cut along the line and move the lower part down by {by} along the grain.",
            by=Length(level.by_mm),
        ),
        (across(sewn, level.height), lower),
    )


def _fold(sewn: Relaid) -> Step:
    level = sewn.level
    depth, amount = Length(-level.by_mm / 2, decimals=2), Length(-level.by_mm)
    return Step(
        StepKind.FOLD,
        Sentence(
            "Fold along the line, {depth} deep, so that {amount} are taken out.",
            depth=depth,
            amount=amount,
        ),
        (across(sewn, level.height), across(sewn, level.floor)),
    )


def _true(change: LevelChange, sewn: Relaid) -> Iterator[Step]:
    seams = [(s, n) for s, n in zip(sewn.spans, sewn.drawn, strict=True) if not s.leg]
    if not seams:
        return
    how = "straight" if change.true is Truing.STRAIGHT else "in a smooth curve"
    height = sewn.level.frame.height
    ways: dict[str, Sentence] = {}
    for span, _ in seams:
        way = Sentence(
            "{above} above and {below} below",
            above=Length(sewn.level.height - height(sewn.before.at(span.upper))),
            below=Length(height(sewn.before.at(span.lower)) - sewn.level.floor),
        )
        ways.setdefault(str(way), way)
    told = {f"way{k}": way for k, way in enumerate(ways.values())}
    form = ", ".join(f"{{{name}}}" for name in told)
    yield Step(
        StepKind.TRUE_SEAMS,
        Sentence(
            f"True the seams {{how}} between a point above and a point below the line: {form}.",
            how=how,
            **told,
        ),
        tuple(n for _, n in seams),
        tuple(p for s, _ in seams for p in (s.start, s.end)),
    )


def _darts(darts: tuple[CarriedDart, ...]) -> Iterator[Step]:
    lines = tuple(dart_lines(d.after) for d in darts if d.crosses)
    if lines:
        yield Step(
            StepKind.CARRY_DARTS,
            "Carry the darts across: the mouth and the apex go with their parts, both legs are"
            " redrawn straight; the intake stays.",
            lines,
        )
    others = tuple(dart_lines(d.after) for d in darts if not d.crosses and d.after != d.before)
    if others:
        yield Step(
            StepKind.CARRY_DARTS, "Darts below the line go along whole; their intake stays.", others
        )


def _contours(before: Piece, altered: Piece) -> Iterator[Step]:
    pairs = zip(before.contours, altered.contours, strict=True)
    lines = tuple(contour_lines(now) for was, now in pairs if now != was)
    if lines:
        yield Step(
            StepKind.CARRY_DARTS,
            "Carry the contour darts: each point goes with its part; the intake stays.",
            lines,
        )


def _marks(before: Piece, altered: Piece) -> Iterator[Step]:
    was = {m.shape: m.geometry for m in before.marks}
    changed = [m.geometry for m in altered.marks if m.geometry != was[m.shape]]
    if changed:
        yield Step(
            StepKind.CARRY_MARKS,
            "Carry the marks along with the part they lie on; open the lines that cross.",
            tuple(g for g in changed if isinstance(g, Chain)),
            tuple(g for g in changed if isinstance(g, Point)),
        )


def _check(altered: Piece, findings: tuple[Finding, ...]) -> Step:
    return Step(StepKind.CHECK, check_sentence(len(findings)), (altered.ring,))
