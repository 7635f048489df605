"""What an alteration has done: as text for a person, as data for other programs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from app.command.opened import what_is_used
from core.alter.model import Altered, Finding, Whose
from core.errors import PieceError
from core.files import Drawing
from core.measure import Unit, in_cm, in_inches, told_in

# An edge that changed by less than this (mm) stayed as it was.
TOLD = 0.005


@dataclass(frozen=True)
class Report:
    """What changed, what the checks found, and where it is saved.

    `checked` is what `core.check` found; what the alteration found by itself is with each of
    the `altered`. Sentences tell lengths in the unit in which the amount was typed; figures
    of the data are in mm.
    """

    drawings: tuple[Drawing, ...]
    targets: tuple[Path, ...]
    altered: tuple[Altered, ...]
    checked: tuple[Finding, ...]
    tell_in: Unit = Unit.CM

    def as_data(self) -> dict[str, Any]:
        """In the shape that ``--report`` promises; lengths in mm, places as in the file read.

        Of each piece what was found while it was altered; under `checks` what was found of
        all of them together, the pressing first.
        """
        return {
            "pieces": [self._piece(a) for a in self.altered],
            "checks": [self._finding(f) for f in self.checked],
            "sentences_in": self.tell_in.value,
            "said": [*what_is_used(self.drawings)],
            "problems": [p for d in self.drawings for p in d.problems],
        }

    def _piece(self, a: Altered) -> dict[str, Any]:
        k, f = self._home(a.before.key), a.figures
        return {
            "file": str(self.drawings[k].path),
            "saved_as": str(self.targets[k]),
            "key": a.piece.key,
            "name": a.piece.name,
            "size": a.piece.size,
            "edges": [
                {"role": e.role.value, "before_mm": e.before_mm, "after_mm": e.after_mm}
                for e in f.edges
            ],
            "hem_width_before_mm": f.hem_width_before_mm,
            "hem_width_after_mm": f.hem_width_after_mm,
            "level_mm": None if a.level is None else a.level.at_mm,
            "led_by": [{"edge": led.role.value, "piece": led.leader.name} for led in a.led],
            "steps": [told_in(s.sentence, self.tell_in) for s in a.steps],
            "findings": [self._finding(self._own(a, x)) for x in a.findings],
        }

    def _home(self, key: int) -> int:
        """The number of the drawing in which the piece with a running key lies."""
        for k, drawing in enumerate(self.drawings):
            if key < len(drawing.pieces):
                return k
            key -= len(drawing.pieces)
        raise PieceError("a piece lies in none of the files")

    def _own(self, a: Altered, found: Finding) -> Finding:
        return replace(found, piece=found.piece or Whose.of(a.piece))

    def _finding(self, found: Finding) -> dict[str, Any]:
        piece, place = found.piece, found.place
        return {
            "severity": found.severity.value,
            "sentence": told_in(found.sentence, self.tell_in),
            "piece": None if piece is None else {"key": piece.key, "name": piece.name},
            "place_mm": None if place is None else [place.x, place.y],
        }

    def as_text(self) -> Iterator[str]:
        """For a person, line by line."""
        yield from what_is_used(self.drawings)
        for a in self.altered:
            yield f"{a.piece.name}:"
            for e in a.figures.edges:
                if abs(e.after_mm - e.before_mm) > TOLD:
                    before, after = self._length(e.before_mm), self._length(e.after_mm)
                    yield f"  {e.role.value:<14}{before:>11}  -> {after:>11}"
            yield from (f"  {line}" for line in self._lines(a.findings))
        if self.checked:
            yield "Checked:"
            yield from (f"  {line}" for line in self._lines(self.checked))
        for drawing, target in zip(self.drawings, self.targets, strict=True):
            yield f"{drawing.path.name} -> {target}"

    def _lines(self, findings: tuple[Finding, ...]) -> Iterator[str]:
        for found in findings:
            yield f"{found.severity.value}: {told_in(found.sentence, self.tell_in)}"

    def _length(self, mm: float) -> str:
        return in_cm(mm, decimals=2) if self.tell_in is Unit.CM else in_inches(mm)
