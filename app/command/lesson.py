"""``hemward lesson``: the alteration as a handout, step by step."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from app.command.opened import opened, what_is_used
from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Altered, Change
from core.alter.sizes import alter_sizes
from core.errors import AlterationError, FileError
from core.files import Drawing
from core.files.sewn import alone_in, in_a_row, mates_in
from core.measure import Unit
from core.piece.mates import Mates
from core.piece.model import Piece

if TYPE_CHECKING:
    from app.lesson.compare import Comparison
    from app.lesson.script import Lesson


def run(arguments: argparse.Namespace) -> int:
    """Does what was typed. Qt is loaded here and not before, without any screen."""
    out: Path = arguments.out
    source: Path = arguments.file
    _refuse(source, out, practice=arguments.practice)
    asked = arguments.as_recognised
    drawing = opened(source, mm_per_unit=arguments.unit, as_recognised=asked)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from app.lesson.handout import Paper, pages_of, practice_pages, save_pdf, save_pictures
    from app.lesson.script import Captions
    from app.window.starting import application

    # Without an application there are no fonts; it has to live until the sheets are drawn.
    app = application()
    lesson = _lesson(drawing, arguments)
    unit: Unit = arguments.tell_in
    pages = practice_pages(lesson, unit) if arguments.practice else ()
    beside = _both_ways(lesson)
    if out.suffix.lower() == ".pdf":
        pages = pages or pages_of(lesson, Captions(), unit, beside=beside)
        save_pdf(pages, out, paper=Paper(arguments.paper))
    else:
        save_pictures(lesson, Captions(), out, unit, beside=beside)
    app.processEvents()
    told = f"{len(lesson.frames)} steps{'' if beside is None else ', and both ways'}"
    if arguments.practice:
        told = "the question and the answer"
    print("\n".join((*what_is_used([drawing]), f"Saved {out}: {told}.")))
    return 0


def _both_ways(lesson: Lesson) -> Comparison | None:
    """The first piece changed both ways, where it allows that."""
    from app.lesson.compare import compared

    try:
        return compared(lesson.laid[0].altered)
    except AlterationError:
        return None


def _refuse(source: Path, out: Path, *, practice: bool) -> None:
    if out.suffix.lower() != ".pdf" and (practice or out.suffix or out.is_file()):
        instead = "" if practice else ", or name a folder for PNG and SVG"
        raise FileError(f"{out.name}: end the name with .pdf{instead}.")
    if out.resolve() == source.resolve():
        raise FileError(f"{out.name} is the pattern itself. Choose another name after --out.")


def _lesson(drawing: Drawing, arguments: argparse.Namespace) -> Lesson:
    """The lesson of the pieces with a hem that take part; of a nest, of its last size, which is
    the largest."""
    from app.lesson.script import Laid, lesson_of
    from app.window.laying import Laid as Place
    from app.window.laying import lay_out

    alone = alone_in([drawing])
    hemmed = [p for p in in_a_row([drawing]) if p.hem and p.key not in alone]
    last = {p.title: p.key for p in hemmed}
    chosen = [p for p in hemmed if last[p.title] == p.key]
    altered = _altered(chosen, mates_in([drawing]), arguments)
    places = [Place(p.outline.ring.bounds()) for p in chosen]
    spots = lay_out([places])
    return lesson_of([Laid(a, spot) for a, spot in zip(altered, spots, strict=True)])


def _altered(
    pieces: Sequence[Piece], mates: Sequence[Mates], arguments: argparse.Namespace
) -> Sequence[Altered]:
    if arguments.at is not None:
        return insert_together(pieces, LevelChange(arguments.at, arguments.by), mates=mates)
    return alter_sizes(pieces, Change(arguments.by), mates=mates)
