"""The altered pattern into files. What was opened is never overwritten unasked."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

from app.window.ask import Ask
from app.window.curves_question import Curves
from app.window.document import Sheet
from app.window.messages import Messages
from app.window.naming import suggested
from app.window.outcome import finished, outcome
from app.window.session import Session
from app.window.tied import to_keep

DXF = ".dxf"


class Saving:
    """Remembers, for each sheet, the file into which it was saved."""

    def __init__(self, session: Session, messages: Messages, ask: Ask) -> None:
        self._session, self._messages, self._ask = session, messages, ask
        self._targets: dict[int, Path] = {}
        self._curves: dict[int, Curves] = {}

    def save(self) -> bool:
        """Into the files saved to before; asks for names where there is none. Was it saved?"""
        with self._messages.guarding():
            self._session.commit_preview()
            wanted = self._wanted()
            targets = {s: self._targets[s.number] for s in wanted if s.number in self._targets}
            if wanted and len(targets) == len(wanted):
                return self._write(targets)
            return self.save_as()
        return False

    def save_as(self) -> bool:
        """Under names asked for now. Was it saved?"""
        with self._messages.guarding():
            self._session.commit_preview()
            targets = self._asked_targets(self._wanted())
            return bool(targets) and self._asked_curves(targets) and self._write(targets)
        return False

    def forget(self) -> None:
        """The table was cleared."""
        self._targets.clear()
        self._curves.clear()

    def _wanted(self) -> list[Sheet]:
        """The sheets that the change alters; all of them when it alters none."""
        sheets = list(self._session.settled.sheets.all)
        altered = [s for s in sheets if finished(self._session.settled, s) is not s.drawing]
        return altered or sheets

    def _asked_targets(self, sheets: list[Sheet]) -> dict[Sheet, Path]:
        if not sheets:
            self._messages.say("There is nothing on the table to save. Open a pattern first.")
            return {}
        names = {s: self._suggested(s) for s in sheets}
        if len(sheets) > 1:
            folder = self._ask.folder_to_save(names[sheets[0]].parent)
            targets = {s: folder / names[s].name for s in sheets} if folder else {}
            return targets if self._may_write(targets, asked=None) else {}
        (sheet,) = sheets
        asked = self._ask.file_to_save(names[sheet])
        targets = {sheet: _with_ending(asked, sheet)} if asked else {}
        return targets if self._may_write(targets, asked=asked) else {}

    def _asked_curves(self, targets: dict[Sheet, Path]) -> bool:
        """Asks how those that become a DXF draw their curves. May they be saved?"""
        for sheet, path in targets.items():
            self._curves.pop(sheet.number, None)
            if path.suffix.lower() == DXF != sheet.drawing.format.value:
                curves = self._ask.curves_in(path)
                if curves is None:
                    return False
                self._curves[sheet.number] = curves
        return True

    def _suggested(self, sheet: Sheet) -> Path:
        return suggested(sheet.drawing.path, self._session.settled.by_mm, self._session.shown)

    def _may_write(self, targets: dict[Sheet, Path], *, asked: Path | None) -> bool:
        """Asks before an opened file is overwritten, or another that no dialog asked about."""
        opened = {s.drawing.path.resolve() for s in self._session.settled.sheets.all}
        own = [p for p in targets.values() if p.resolve() in opened]
        if own and not self._ask.may_overwrite(own, original=True):
            return False
        others = [p for p in targets.values() if p not in own and p != asked and p.exists()]
        return not others or self._ask.may_overwrite(others, original=False)

    def _write(self, targets: dict[Sheet, Path]) -> bool:
        """All are made before the first is written: until then nothing has changed on disk."""
        from core.files.beside import keep_beside
        from core.files.write import keeps_units, rendered, save_bytes

        busy, state = self._session.busy, self._session.settled
        now = {a.piece.key: a.piece for a in outcome(state).altered.values()}
        called = {sheet.number: path.name for sheet, path in targets.items()}
        drawings = {sheet: finished(state, sheet) for sheet in targets}
        lines = {s: self._curves.get(s.number, Curves()).polylines for s in targets}
        made = busy.run(
            "Saving",
            lambda: {s: rendered(drawings[s], p, polylines=lines[s]) for s, p in targets.items()},
        )
        for sheet, path in targets.items():
            drawing, data = drawings[sheet], made[sheet]
            busy.run("Saving", partial(save_bytes, path, data), stoppable=False)
            kept = to_keep(state, sheet, drawing, now=now, names=called)
            if not keeps_units(drawing, path, polylines=lines[sheet]):
                kept = replace(kept, told_unit=None)
            keep_beside(kept, path)
            if path.resolve() != sheet.drawing.path.resolve():
                same = to_keep(state, sheet, sheet.drawing, now={}, names={})
                keep_beside(same, sheet.drawing.path)
            self._targets[sheet.number] = path
        self._session.stack.setClean()
        names = ", ".join(p.name for p in targets.values())
        folder = next(iter(targets.values())).resolve().parent
        self._messages.say(f"Saved {names} in {folder}.")
        return True


def _with_ending(path: Path, sheet: Sheet) -> Path:
    """A name without the ending of a known kind gets the sheet's own."""
    if path.suffix.lower() in (".svg", ".dxf"):
        return path
    return path.with_name(path.name + sheet.drawing.path.suffix)
