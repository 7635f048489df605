"""``hemward lesson``: the alteration as a handout, step by step."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Altered, Change
from core.alter.sizes import alter_sizes
from core.errors import FileError
from core.files import read
from core.measure import Unit
from core.piece.model import Piece

if TYPE_CHECKING:
    from app.lesson.script import Lesson


def run(arguments: argparse.Namespace) -> int:
    """Does what was typed. Qt is loaded here and not before, without any screen."""
    out: Path = arguments.out
    source: Path = arguments.file
    _refuse(source, out, practice=arguments.practice)
    drawing = read(source, mm_per_unit=arguments.unit)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from app.lesson.handout import Paper, pages_of, practice_pages, save_pdf, save_pictures
    from app.lesson.script import Captions
    from app.window.starting import application

    # Without an application there are no fonts; it has to live until the sheets are drawn.
    app = application()
    lesson = _lesson(drawing.pieces, arguments)
    unit: Unit = arguments.tell_in
    pages = practice_pages(lesson, unit) if arguments.practice else ()
    if out.suffix.lower() == ".pdf":
        save_pdf(pages or pages_of(lesson, Captions(), unit), out, paper=Paper(arguments.paper))
    else:
        save_pictures(lesson, Captions(), out, unit)
    app.processEvents()
    told = "the question and the answer" if pages else f"{len(lesson.frames)} steps"
    print(f"Saved {out}: {told}.")
    return 0


def _refuse(source: Path, out: Path, *, practice: bool) -> None:
    if out.suffix.lower() != ".pdf" and (practice or out.suffix or out.is_file()):
        instead = "" if practice else ", or name a folder for PNG and SVG"
        raise FileError(f"{out.name}: end the name with .pdf{instead}.")
    if out.resolve() == source.resolve():
        raise FileError(f"{out.name} is the pattern itself. Choose another name after --out.")


def _lesson(pieces: Sequence[Piece], arguments: argparse.Namespace) -> Lesson:
    """The lesson of the pieces with a hem; of a nest, of its last size, which is the largest."""
    from app.lesson.script import Laid, lesson_of
    from app.window.laying import Laid as Place
    from app.window.laying import lay_out

    hemmed = [p for p in pieces if p.hem]
    last = {p.title: p.key for p in hemmed}
    chosen = [p for p in hemmed if last[p.title] == p.key]
    altered = _altered(chosen, arguments)
    places = [Place(p.outline.ring.bounds()) for p in chosen]
    spots = lay_out([places])
    return lesson_of([Laid(a, spot) for a, spot in zip(altered, spots, strict=True)])


def _altered(pieces: Sequence[Piece], arguments: argparse.Namespace) -> Sequence[Altered]:
    if arguments.at is not None:
        return insert_together(pieces, LevelChange(arguments.at, arguments.by))
    return alter_sizes(pieces, Change(arguments.by))
