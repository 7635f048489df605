"""The hem over a dart in it, drawn as it must be so that it runs smoothly once the dart is shut.

As a maker does it on paper: fold the dart shut, draw the hem over the fold, cut, unfold. Both
ends of the mouth keep their place, so that intake and legs stay what they are. Where the closed
hem has a bend there, the stretches of hem beside the mouth are turned, each by half of it; a
hem that is straight once closed stays straight. What lies between the ends of the mouth is
then cut to the hem on which it comes to lie: the cap, with its point on the dart's fold line.

- A dart drawn as lines on a plain edge gets its cap on that edge (a cutting line too).
- A dart that is cut out of the outline has no cloth there and so no cap; only the hem beside
  it is drawn anew.

The cap depends on which way the dart is pressed: towards the centre or the fold where the
piece has one beside its hem, else towards the first taper point.

Source: common practice. Closed form, half intake a, depth h: the point of the cap lies a^2/h
beyond the mouth when the hem is straight once closed, 2 a^2 h/(h^2 - a^2) when each layer is cut
along a hem that is straight lying flat.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from core.alter.closed import Cap, Mouth, Row, cap_of, parted, trued
from core.alter.model import Change, DartCaps, Finding, Severity, Whose
from core.alter.redo import Redone, joint_at
from core.alter.relocate import Relocation
from core.alter.strand import Strand, close, open_at_tapers
from core.curve import Chain, Point
from core.measure import Length, Sentence
from core.piece.model import Dart, Piece, Role

# The mouth of a drawn dart lies on the hem, when it does within this (mm).
ON_HEM = 0.3

CENTRE = {Role.CENTRE_FRONT, Role.CENTRE_BACK, Role.FOLD}


@dataclass(frozen=True)
class Lines:
    """The sewn line and the cutting line around it, both redone, the caps of the sewn line's
    darts, and what is to be told of them."""

    done: Redone
    outer: Redone | None
    caps: tuple[Chain, ...] = ()
    findings: tuple[Finding, ...] = ()


def with_caps(piece: Piece, change: Change, lines: Lines) -> Lines:
    """Both lines with the hem drawn over closed darts, if the change asks for it.

    A dart whose mouth is not on the hem any more, whose legs are not equal, or over which the
    hem has a corner even when it is shut, is left as drawn and named.
    """
    hem_darts = [d for d in piece.darts if d.on is Role.HEM]
    if change.dart_caps is DartCaps.AS_DRAWN or not hem_darts:
        return lines
    to = Relocation(piece.ring, lines.done)
    darts = [to.dart(d, lines.done) for d in hem_darts]
    # The hem goes exactly through the mouths that lie on it. Legs that were drawn too short
    # or too long are carried on to it, as they are to the cutting line.
    fixed = [max(piece.ring.nearest(p).distance for p in d.mouth) <= ON_HEM for d in hem_darts]
    towards = _pressed(piece, lines.done)
    sewn = _capped(lines.done, list(zip(darts, fixed, strict=True)), towards.end)
    outer = lines.outer
    if outer is not None:
        outer = _capped(outer, [(d, False) for d in darts], towards.end).done
    caps = tuple(c.line for _, c in sewn.over if c is not None)
    gone = [d for d in darts if all(set(m.ends) != set(d.mouth) for m, _ in sewn.over)]
    findings = [_told(piece, mouth, cap, towards) for mouth, cap in sewn.over]
    findings += [_not_there(piece, d) for d, f in zip(darts, fixed, strict=True) if f and d in gone]
    return Lines(sewn.done, outer, caps, (*lines.findings, *findings))


@dataclass(frozen=True)
class _Pressed:
    """The seam end towards which darts are pressed, and what lies there, in words."""

    end: Point
    words: str


def _pressed(piece: Piece, done: Redone) -> _Pressed:
    """Towards the centre or the fold when the seam at an end of the hem is one; else first."""
    assert piece.hem is not None
    first, last = piece.hem_seam_roles
    if last in CENTRE and first not in CENTRE:
        return _Pressed(done.new.last, last.value)
    if first in (last, Role.OTHER):
        return _Pressed(done.new.first, "seam where the hem begins")
    return _Pressed(done.new.first, first.value)


@dataclass(frozen=True)
class _Capped:
    """The line with its caps, and each mouth that was found on it with its cap."""

    done: Redone
    over: tuple[tuple[Mouth, Cap | None], ...]


def _capped(done: Redone, darts: Sequence[tuple[Dart, bool]], towards: Point) -> _Capped:
    """The redone line with the hem drawn over each dart, pressed `towards` a seam end; True
    for the darts through whose mouth the line has to go."""
    upper, run = open_at_tapers(done.outline, done.hem)
    row = parted(run, darts)
    true = trued(row)
    parts: list[Strand] = [true.stretches[0]]
    over: list[tuple[Mouth, Cap | None]] = []
    for mouth, before, after in zip(true.mouths, true.stretches, true.stretches[1:], strict=False):
        cap = cap_of(mouth, before, after, towards)
        over.append((mouth, cap))
        parts += [mouth.run if cap is None else _capping(mouth.run, cap), after]
    new_run = tuple(t for part in parts for t in part)
    return _Capped(_with_run(done, upper, new_run, _moves(row, true)), tuple(over))


def _capping(mouth: Strand, cap: Cap) -> Strand:
    """The cap in the place of the mouth; its halves belong to what stood at that end."""
    half = len(cap.line) // 2
    owners = [mouth[0]] * half + [mouth[-1]] * (len(cap.line) - half)
    return tuple(t.carrying(s) for t, s in zip(owners, cap.line, strict=True))


def _moves(old: Row, new: Row) -> Iterator[tuple[Point, Point]]:
    """Joints of the run that the turning of the stretches moved."""
    for was, now in zip(old.stretches, new.stretches, strict=True):
        for a, b in zip(was, now, strict=True):
            yield a.segment.start, b.segment.start


def _with_run(
    done: Redone, upper: Strand, run: Strand, moves: Iterator[tuple[Point, Point]]
) -> Redone:
    """The redone line with another run in it, and its taper points and joints found again."""
    outline, moved = close(upper, run), dict(moves)
    first, last = done.hem.first, done.hem.last
    hem = replace(
        done.hem,
        first=replace(first, place=joint_at(outline.ring, run[0].segment.start)),
        last=replace(last, place=joint_at(outline.ring, run[-1].segment.end)),
    )
    joints = {old: moved.get(new, new) for old, new in done.redrawn.joints.items()}
    redrawn = replace(done.redrawn, run=run, joints=joints)
    return replace(done, outline=outline, hem=hem, redrawn=redrawn)


def _told(piece: Piece, mouth: Mouth, cap: Cap | None, towards: _Pressed) -> Finding:
    """What was drawn over a dart, or why nothing was."""
    at = mouth.ends[0].towards(mouth.ends[1], 0.5)
    if mouth.trouble:
        form = "{name}: the hem over a dart was left as it is drawn: {why}."
        return Finding(
            Severity.LOOK, Sentence(form, name=piece.name, why=mouth.trouble), at, Whose.of(piece)
        )
    if cap is None:
        form = (
            "{name}: the hem dart is cut out of the outline, so there is no cloth for a cap. The"
            " hem beside it was drawn to run on once the dart is closed."
        )
        return Finding(Severity.NOTE, Sentence(form, name=piece.name), at, Whose.of(piece))
    form = (
        "{name}: the hem dart has a cap that goes {beyond} beyond its mouth at the fold. Press the"
        " dart towards the {side}."
    )
    beyond = Length(cap.beyond_mm, little=True)
    told = Sentence(form, name=piece.name, beyond=beyond, side=towards.words)
    return Finding(Severity.NOTE, told, at, Whose.of(piece))


def _not_there(piece: Piece, dart: Dart) -> Finding:
    return Finding(
        Severity.LOOK,
        f"{piece.name}: the mouth of a hem dart is not on the new hem, so the hem was not drawn"
        " over it. Check the dart.",
        dart.mouth[0].towards(dart.mouth[1], 0.5),
    )
