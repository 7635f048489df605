"""``hemward insert``: length put into pieces at a level, or folded out there, and saved."""

from __future__ import annotations

import json
import sys
from dataclasses import dataclass
from pathlib import Path

from app.command import alter
from core.alter.level.insert import insert_at
from core.alter.level.model import LevelChange
from core.alter.model import Change
from core.files import read, render
from core.files.write import save_bytes


@dataclass(frozen=True)
class Order:
    """What was asked for on the command line."""

    file: Path
    change: LevelChange
    out: Path
    names: tuple[str, ...] = ()
    report: Path | None = None
    mm_per_unit: float | None = None

    @property
    def as_alter(self) -> alter.Order:
        """The same order as ``hemward alter`` would have it, for what both do alike."""
        return alter.Order(
            files=(self.file,),
            change=Change(self.change.by_mm),
            out=self.out,
            names=self.names,
            report=self.report,
            mm_per_unit=self.mm_per_unit,
        )


def run(order: Order) -> int:
    """Reads, inserts or folds out, and saves everything or nothing."""
    like = order.as_alter
    drawings = [read(order.file, mm_per_unit=order.mm_per_unit)]
    targets = alter.targets_of(like)
    chosen = alter.chosen_pieces(drawings, order.names) if order.change.by_mm else ()
    altered = [insert_at(piece, order.change) for piece in chosen]
    (changed,) = alter._put_back(drawings, altered)
    (target,) = targets
    data = render(changed, alter._format(target))
    report = _report(order, alter.as_data(like, drawings, targets, altered))
    target.parent.mkdir(parents=True, exist_ok=True)
    save_bytes(target, data)
    if order.report is not None:
        save_bytes(order.report, report.encode() + b"\n")
    print("\n".join(alter.as_text(drawings, targets, altered)))
    for sentence in drawings[0].problems:
        print(f"? {sentence}", file=sys.stderr)
    return 0


def _report(order: Order, data: dict[str, object]) -> str:
    """What ``hemward alter`` reports, and where and how it was done; lengths in mm."""
    change = order.change
    where = {"at_mm": change.at_mm, "true": change.true.value, "blend_mm": change.blend_mm}
    return json.dumps({**where, **data}, indent=2, ensure_ascii=False)
