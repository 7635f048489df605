"""Lengthening and shortening one piece along the taper of its seams."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from core.alter.allowance.around import Around, cutting_line_around
from core.alter.allowance.implied import applies, refuse_negative, sewn_figures
from core.alter.allowance.told import with_told_line, without_told_line
from core.alter.apart import surely_apart
from core.alter.balance import balance_notches
from core.alter.caps import Lines, with_caps
from core.alter.carry import Reach
from core.alter.figures import figures
from core.alter.frame import Frame
from core.alter.marks import Carried, MarkSetting, carry_marks
from core.alter.model import Altered, Change, Figures, Finding, Measure, Severity, TooFarError
from core.alter.plan import plan_for
from core.alter.redo import Plan, redo, redo_cutting_line
from core.alter.refuse import (
    refuse_crossing,
    refuse_hem_darts,
    refuse_lost_contours,
    refuse_lost_darts,
    refuse_no_hem,
    too_far,
)
from core.alter.relocate import relocated
from core.alter.steps import construction
from core.alter.zones import Zones
from core.errors import AlterationError
from core.piece.model import Piece


def lengthen(
    piece: Piece, change: Change, *, first: Reach | None = None, last: Reach | None = None
) -> Altered:
    """The piece with its hem `change.by_mm` further down the grain (up, when negative).

    `first` and `last` say otherwise for the seam at the first or last taper point (mates).
    Raises AlterationError, with the largest amount that works where there is one, when the
    piece has no hem, a seam ends before the amount, a dart from above would reach below the
    new hem, the seams would meet, or the outline would cross itself.
    """
    refuse_negative(change)
    if change.by_mm == 0.0:
        return Altered(piece, piece, change, _figures(piece, piece, change, (0.0, 0.0)), (), ())
    refuse_no_hem(piece)
    lined = with_told_line(piece, change)
    if lined is not None:
        plain = replace(change, allowance_mm=None, hem_allowance_mm=None)
        made = lengthen(lined, plain, first=first, last=last)
        return without_told_line(made, piece, change)
    assert piece.hem is not None
    frame = Frame(piece.grain.down)
    asked = Reach(change.by_mm, along_seam=change.measure is Measure.SEAM)
    plan = plan_for(piece, change, frame, (first or asked, last or asked))
    try:
        lines = _sound_lines(piece, change, frame, plan)
    except TooFarError as reason:
        raise too_far(piece, change, reason, partial(_works, piece, change, frame, plan)) from None
    done, outer = lines.done, lines.outer
    altered = relocated(piece, done)
    if outer is not None:
        altered = replace(altered, outline=outer.outline, cutting_hem=outer.hem)
    carried = carry_marks(MarkSetting(piece, frame, done, outer))
    altered = replace(altered, marks=carried.marks)
    if change.balance_notch:
        added = balance_notches(piece, altered, change, done)
        altered = replace(altered, marks=(*carried.marks, *added.marks))
        carried = Carried(altered.marks, (*carried.findings, *added.findings))
    return _told(piece, altered, change, lines, carried)


def _sound_lines(piece: Piece, change: Change, frame: Frame, plan: Plan) -> Lines:
    """The sewn line and the cutting line around it, redone; TooFarError when not sound."""
    assert piece.hem is not None
    done = redo(piece.sewn, piece.hem, plan, name=piece.name, frame=frame)
    around = (
        Around(redo_cutting_line(piece, frame, done, plan))
        if change.preview
        else cutting_line_around(piece, frame, done, plan)
    )
    lines = with_caps(piece, change, Lines(done, around.redone, findings=around.findings))
    done, outer = lines.done, lines.outer
    zones = Zones(frame, done)
    # First: a dart of the hem is part of its run, and would be taken for the hem by the others.
    refuse_hem_darts(piece, done, zones)
    refuse_lost_darts(piece, done, zones)
    if lines.caps or not surely_apart(piece.ring, done):
        refuse_crossing(piece.ring, done.outline.ring)
    refuse_lost_contours(piece, zones)
    if outer is not None:
        refuse_crossing(piece.outline.ring, outer.outline.ring)
    return lines


def _works(piece: Piece, change: Change, frame: Frame, plan: Plan, share: float) -> bool:
    """Would that share of the change be sound?"""
    first, last = (replace(r, mm=r.mm * share) for r in plan.reaches)
    try:
        _sound_lines(piece, change, frame, replace(plan, reaches=(first, last)))
    except AlterationError:
        return False
    return True


def _told(piece: Piece, altered: Piece, change: Change, lines: Lines, carried: Carried) -> Altered:
    done = lines.done
    added = (done.seams[0].added_mm, done.seams[1].added_mm)
    findings = (*_unsure(piece), *lines.findings, *carried.findings)
    return Altered(
        before=piece,
        piece=altered,
        change=change,
        figures=_figures(piece, altered, change, added),
        steps=construction(
            piece, altered, done, change=change, findings=carried.findings, caps=lines.caps
        ),
        findings=findings,
    )


def _figures(before: Piece, after: Piece, change: Change, added: tuple[float, float]) -> Figures:
    """Lengths where the piece is sewn."""
    if applies(before, change):
        return sewn_figures(before, after, change)
    found = figures(before, after, added)
    if not change.preview:
        _ = found.lengths
    return found


def _unsure(piece: Piece) -> tuple[Finding, ...]:
    """What the change rests on and is not sure."""
    out = []
    if not piece.grain.because.sure:
        out.append(
            Finding(Severity.LOOK, f"{piece.name}: check the grain: {piece.grain.because.why}.")
        )
    for taper in (piece.hem.first, piece.hem.last) if piece.hem else ():
        if not taper.because.sure:
            where = piece.ring.at(taper.place)
            why = taper.because.why
            out.append(
                Finding(Severity.LOOK, f"{piece.name}: check this taper point: {why}.", where)
            )
    return tuple(out)
