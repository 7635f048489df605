"""``hemward alter``: pieces made longer or shorter, and saved."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from core.alter.model import Altered, Change
from core.alter.together import alter_together
from core.errors import FileError, PieceError
from core.files import Drawing, Format, read, render
from core.files.write import save_bytes
from core.measure import in_cm
from core.piece.model import Piece


@dataclass(frozen=True)
class Order:
    """What was asked for on the command line."""

    files: tuple[Path, ...]
    change: Change
    out: Path
    names: tuple[str, ...] = ()
    report: Path | None = None
    mm_per_unit: float | None = None


def run(order: Order) -> int:
    """Reads, alters, and saves everything or nothing."""
    drawings = [read(f, mm_per_unit=order.mm_per_unit) for f in order.files]
    targets = targets_of(order)
    chosen = chosen_pieces(drawings, order.names) if order.change.by_mm else ()
    altered = alter_together(chosen, order.change)
    changed = _put_back(drawings, altered)
    ready = [
        (target, render(drawing, _format(target)))
        for target, drawing in zip(targets, changed, strict=True)
    ]
    report = json.dumps(as_data(order, drawings, targets, altered), indent=2, ensure_ascii=False)
    for target, data in ready:
        target.parent.mkdir(parents=True, exist_ok=True)
        save_bytes(target, data)
    if order.report is not None:
        save_bytes(order.report, report.encode() + b"\n")
    print("\n".join(as_text(drawings, targets, altered)))
    for drawing in drawings:
        for sentence in drawing.problems:
            print(f"? {sentence}", file=sys.stderr)
    return 0


def targets_of(order: Order) -> tuple[Path, ...]:
    """Where each file's altered pattern goes; FileError when that cannot be."""
    out = order.out
    named = out.suffix.lower() in {f.value for f in Format} and not out.is_dir()
    if named:
        if len(order.files) > 1:
            raise FileError(
                f"{len(order.files)} files cannot all be saved as {out.name}."
                " Name a folder after --out."
            )
        return (out,)
    if (out.exists() and not out.is_dir()) or (out.suffix and not out.is_dir()):
        raise FileError(f"{out.name}: end the name with .svg or .dxf, or name a folder.")
    targets = tuple(out / f.name for f in order.files)
    if len({t.name.lower() for t in targets}) < len(targets):
        raise FileError("Two of the files have the same name; save them into separate folders.")
    for source, target in zip(order.files, targets, strict=True):
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
        raise PieceError(f"{files}: no piece with a hem was found, so there is nothing to change.")
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


def _home(drawings: Sequence[Drawing], key: int) -> int:
    """The number of the drawing in which the piece with a running key lies."""
    for k, drawing in enumerate(drawings):
        if key < len(drawing.pieces):
            return k
        key -= len(drawing.pieces)
    raise PieceError("a piece lies in none of the files")


def as_data(
    order: Order,
    drawings: Sequence[Drawing],
    targets: Sequence[Path],
    altered: Sequence[Altered],
) -> dict[str, Any]:
    """What changed, in the shape that ``--report`` promises; lengths in mm."""
    pieces = []
    for a in altered:
        k = _home(drawings, a.before.key)
        pieces.append(
            {"file": str(drawings[k].path), "saved_as": str(targets[k]), **_piece_data(a)}
        )
    return {
        "by_mm": order.change.by_mm,
        "pieces": pieces,
        "problems": [p for d in drawings for p in d.problems],
    }


def _piece_data(a: Altered) -> dict[str, Any]:
    f = a.figures
    return {
        "name": a.piece.name,
        "edges": [
            {"role": e.role.value, "before_mm": e.before_mm, "after_mm": e.after_mm}
            for e in f.edges
        ],
        "hem_width_before_mm": f.hem_width_before_mm,
        "hem_width_after_mm": f.hem_width_after_mm,
        "steps": [s.sentence for s in a.steps],
        "findings": [{"severity": x.severity.value, "sentence": x.sentence} for x in a.findings],
    }


def as_text(
    drawings: Sequence[Drawing], targets: Sequence[Path], altered: Sequence[Altered]
) -> Iterator[str]:
    """What changed, for a person."""
    for a in altered:
        f = a.figures
        yield f"{a.piece.name}:"
        for e in f.edges:
            if e.before_mm != e.after_mm:
                yield (
                    f"  {e.role.value:<14}{in_cm(e.before_mm, decimals=2):>11}"
                    f"  ->{in_cm(e.after_mm, decimals=2):>11}"
                )
        for finding in a.findings:
            yield f"  ? {finding.sentence}"
    for drawing, target in zip(drawings, targets, strict=True):
        yield f"{drawing.path.name} -> {target}"
