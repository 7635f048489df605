"""What every command that alters does alike: read, choose, save everything or nothing."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from app.command.report import as_data, as_text
from core.alter.model import Altered
from core.errors import FileError, PieceError
from core.files import Drawing, Format, read, render
from core.files.write import save_bytes
from core.piece.model import Piece


@dataclass(frozen=True)
class Job:
    """Which files and pieces, where the altered pattern goes, and whether to report."""

    files: tuple[Path, ...]
    out: Path
    names: tuple[str, ...] = ()
    report: Path | None = None
    mm_per_unit: float | None = None

    @classmethod
    def of(cls, arguments: argparse.Namespace) -> Job:
        """The job as it was typed."""
        return cls(
            files=tuple(arguments.files),
            out=arguments.out,
            names=tuple(arguments.piece or ()),
            report=arguments.report,
            mm_per_unit=arguments.unit,
        )


def perform(
    job: Job,
    alter: Callable[[Sequence[Piece]], Sequence[Altered]],
    asked: dict[str, Any],
) -> int:
    """Reads, alters with `alter`, and saves everything or nothing.

    `asked` is what the report says first of the change, lengths in mm; `by_mm` is in it.
    """
    drawings = [read(f, mm_per_unit=job.mm_per_unit) for f in job.files]
    targets = targets_of(job)
    # Nothing asked for changes nothing, not even where no hem is found.
    altered = alter(chosen_pieces(drawings, job.names)) if asked["by_mm"] else ()
    changed = _put_back(drawings, altered)
    ready = [
        (target, render(drawing, _format(target)))
        for target, drawing in zip(targets, changed, strict=True)
    ]
    report = json.dumps(
        {**asked, **as_data(drawings, targets, altered)}, indent=2, ensure_ascii=False
    )
    for target, data in ready:
        target.parent.mkdir(parents=True, exist_ok=True)
        save_bytes(target, data)
    if job.report is not None:
        save_bytes(job.report, report.encode() + b"\n")
    print("\n".join(as_text(drawings, targets, altered)))
    for sentence in (s for d in drawings for s in d.problems):
        print(f"? {sentence}", file=sys.stderr)
    return 0


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


def chosen_pieces(drawings: Sequence[Drawing], names: Sequence[str]) -> tuple[Piece, ...]:
    """The pieces to change, each with a key of its own over all files.

    By name (any letter case), or all that have a hem. PieceError when a name is not there
    or nothing has a hem.
    """
    pieces = [p for d in drawings for p in d.pieces]
    numbered = [replace(p, key=k) for k, p in enumerate(pieces)]
    known = ", ".join(p.name for p in numbered) or "none"
    for name in names:
        if not any(p.name.lower() == name.strip().lower() for p in numbered):
            raise PieceError(f"There is no piece called “{name}”. The pieces are: {known}.")
    wanted = {n.strip().lower() for n in names}
    chosen = tuple(p for p in numbered if p.name.lower() in wanted or (not wanted and p.hem))
    if not chosen:
        files = ", ".join(d.path.name for d in drawings)
        why = " ".join(s for d in drawings for s in d.problems)
        raise PieceError(
            f"{files}: no piece with a hem was found, so there is nothing to change. {why}".rstrip()
        )
    return chosen


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
