"""What every command that alters does alike: read, choose, save everything or nothing."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from app.command.opened import opened
from app.command.report import Report
from core.alter.model import Altered, Finding
from core.check import Wearer, check_all, with_partners
from core.check.seams import with_own
from core.errors import FileError, PieceError
from core.files import Drawing, Format, render
from core.files.beside import keep_beside
from core.files.sewn import alone_in, in_a_row, mates_in, ties_now
from core.files.write import keeps_units, make_folder, save_bytes
from core.measure import Unit
from core.piece.mates import Mates
from core.piece.model import Piece
from core.piece.sizes import size_named, sizes_of


@dataclass(frozen=True)
class Job:
    """Which files and pieces, where the altered pattern goes, and whether to report."""

    files: tuple[Path, ...]
    out: Path
    names: tuple[str, ...] = ()
    sizes: tuple[str, ...] = ()
    report: Path | None = None
    mm_per_unit: float | None = None
    wearer: Wearer | None = None
    tell_in: Unit = Unit.CM
    polylines: float | None = None
    as_recognised: bool = False

    @classmethod
    def of(cls, arguments: argparse.Namespace) -> Job:
        """The job as it was typed."""
        return cls(
            files=tuple(arguments.files),
            out=arguments.out,
            names=tuple(arguments.piece or ()),
            sizes=tuple(arguments.size or ()),
            report=arguments.report,
            mm_per_unit=arguments.unit,
            wearer=_wearer(arguments.girth, arguments.ease),
            tell_in=arguments.tell_in,
            polylines=arguments.polylines,
            as_recognised=arguments.as_recognised,
        )


def _wearer(girth: float | None, ease: float) -> Wearer | None:
    """The girth is measured where the hem will be, whatever it goes around."""
    return None if girth is None else Wearer(girth, girth, girth, ease_mm=ease)


def perform(
    job: Job,
    alter: Callable[[Sequence[Piece], Sequence[Piece], Sequence[Mates]], Sequence[Altered]],
    asked: dict[str, Any],
) -> int:
    """Reads, alters with `alter`, and saves everything or nothing.

    `alter` gets the chosen pieces, those beside them that stay, and what is sewn together.
    `asked` is what the report says first of the change, lengths in mm; `by_mm` is in it, or
    `by_size_mm`.
    """
    drawings = [
        opened(f, mm_per_unit=job.mm_per_unit, as_recognised=job.as_recognised) for f in job.files
    ]
    targets = targets_of(job)
    # Nothing asked for changes nothing, not even where no hem is found.
    wanted = any(asked.get(by) for by in ("by_mm", "by_size_mm"))
    chosen, beside = chosen_pieces(drawings, job) if wanted else ((), ())
    mates = mates_in(drawings)
    altered = tuple(alter(chosen, beside, mates)) if wanted else ()
    checked = _checked(altered, (*chosen, *beside), mates, job.wearer)
    done = Report(tuple(drawings), targets, altered, checked, job.tell_in)
    changed = list(_put_back(drawings, altered))
    ready = [
        (target, render(drawing, _format(target), polylines=job.polylines))
        for target, drawing in zip(targets, changed, strict=True)
    ]
    report = json.dumps({**asked, **done.as_data()}, indent=2, ensure_ascii=False)
    for target, data in ready:
        make_folder(target.parent)
        save_bytes(target, data)
    _keep(drawings, changed, altered, job, targets)
    if job.report is not None:
        save_bytes(job.report, report.encode() + b"\n")
    print("\n".join(done.as_text()))
    for sentence in (s for d in drawings for s in d.problems):
        print(f"? {sentence}", file=sys.stderr)
    return 0


def _checked(
    altered: Sequence[Altered],
    pieces: Sequence[Piece],
    mates: Sequence[Mates],
    wearer: Wearer | None,
) -> tuple[Finding, ...]:
    """All that a careful maker checks, of what is sewn together as it was said."""
    sewn = with_partners(altered, pieces, mates=mates)
    return check_all(sewn, mates=with_own(mates, sewn), wearer=wearer)


def _keep(
    drawings: Sequence[Drawing],
    changed: Sequence[Drawing],
    altered: Sequence[Altered],
    job: Job,
    targets: Sequence[Path],
) -> None:
    """What was said of the patterns, kept beside the saved ones too."""
    now = {a.piece.key: a.piece for a in altered}
    names = {k: target.name for k, target in enumerate(targets)}
    for k, (drawing, target) in enumerate(zip(changed, targets, strict=True)):
        same = keeps_units(drawing, target, polylines=job.polylines)
        unit = drawing.told_unit if same else None
        kept = replace(drawing, ties=ties_now(drawings, k, now, names), told_unit=unit)
        keep_beside(kept, target)


def targets_of(job: Job) -> tuple[Path, ...]:
    """Where each file's altered pattern goes; FileError when that cannot be."""
    out = job.out
    named = out.suffix.lower() in {f.value for f in Format} and not out.is_dir()
    if named:
        if len(job.files) > 1:
            raise FileError(
                f"{len(job.files)} files cannot all be saved as {out.name}."
                " Name a folder after --out."
            )
        return (out,)
    if (out.exists() and not out.is_dir()) or (out.suffix and not out.is_dir()):
        raise FileError(f"{out.name}: end the name with .svg or .dxf, or name a folder.")
    targets = tuple(out / f.name for f in job.files)
    if len({t.name.lower() for t in targets}) < len(targets):
        raise FileError("Two of the files have the same name; save them into separate folders.")
    for source, target in zip(job.files, targets, strict=True):
        if target.resolve() == source.resolve():
            raise FileError(
                f"{out} is where {source.name} lies, and the original is not written over."
                " Name another folder, or a file, after --out."
            )
    return targets


def _format(target: Path) -> Format:
    return next(f for f in Format if f.value == target.suffix.lower())


def chosen_pieces(
    drawings: Sequence[Drawing], job: Job
) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """The pieces to change, and those beside them; each with a key of its own over all files.

    By name (any letter case, with its size or without) and size, or all that have a hem and were
    not said to stay as they are. PieceError when a name or size is not there, nothing has a hem,
    or all of it is to stay.
    """
    numbered, alone = in_a_row(drawings), alone_in(drawings)
    named = _named(numbered, job.names, alone)
    sizes = {size_named(size, sizes_of(numbered)) for size in job.sizes}
    chosen = tuple(p for p in named if p.size in sizes or not sizes)
    if not chosen:
        files = ", ".join(d.path.name for d in drawings)
        if alone:
            raise PieceError(
                f"{files}: all pieces with a hem were said to stay as they are. Name those to"
                " change with --piece."
            )
        why = " ".join(s for d in drawings for s in d.problems)
        raise PieceError(
            f"{files}: no piece with a hem was found, so there is nothing to change. {why}".rstrip()
        )
    keys = {p.key for p in chosen}
    return chosen, tuple(p for p in numbered if p.key not in keys)


def _named(pieces: Sequence[Piece], names: Sequence[str], alone: Collection[int]) -> list[Piece]:
    """The pieces of these names; all that have a hem, but those left alone, when none is given."""
    if not names:
        return [p for p in pieces if p.hem and p.key not in alone]
    wanted = {n.strip().lower() for n in names}
    for name in names:
        if not any(name.strip().lower() in _called(p) for p in pieces):
            known = ", ".join(p.name for p in pieces) or "none"
            raise PieceError(f"There is no piece called “{name}”. The pieces are: {known}.")
    return [p for p in pieces if wanted & _called(p)]


def _called(piece: Piece) -> set[str]:
    return {piece.name.lower(), piece.title.lower()}


def _put_back(drawings: Sequence[Drawing], altered: Sequence[Altered]) -> Iterator[Drawing]:
    """Each drawing with its own altered pieces, under the keys that they had there."""
    offset = 0
    for drawing in drawings:
        keys = range(offset, offset + len(drawing.pieces))
        mine = [a for a in altered if a.before.key in keys and a.piece is not a.before]
        yield drawing.with_pieces(
            replace(a.piece, key=drawing.pieces[a.piece.key - offset].key) for a in mine
        )
        offset += len(drawing.pieces)
