"""``hemward sheets``: the pattern on true-scale sheets, to print, trim and tape."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from app.command.opened import opened, what_is_used
from core.errors import FileError
from core.paper.formats import Paper


def run(arguments: argparse.Namespace) -> int:
    """Does what was typed. Qt is loaded here and not before, without any screen."""
    out: Path = arguments.out
    if out.suffix.lower() != ".pdf":
        raise FileError(f"{out.name}: end the name with .pdf.")
    asked = arguments.as_recognised
    drawing = opened(arguments.file, mm_per_unit=arguments.unit, as_recognised=asked)
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from app.paper.pattern import Laid
    from app.paper.sheets import save_sheets
    from app.window.laying import Laid as Place
    from app.window.laying import lay_out
    from app.window.starting import application

    # Without an application there are no fonts; it has to live until the sheets are drawn.
    app = application()
    places = [Place(p.outline.ring.bounds(), p.title if p.size else "") for p in drawing.pieces]
    laid = [Laid(p, spot) for p, spot in zip(drawing.pieces, lay_out([places]), strict=True)]
    tiling = save_sheets(
        laid,
        out,
        paper=Paper(arguments.paper),
        margin=arguments.margin,
        overlap=arguments.overlap,
    )
    app.processEvents()
    for told in (*what_is_used([drawing]), *(f"? {p}" for p in drawing.problems)):
        print(told)
    print(
        f"Saved {out}: the test square and {len(tiling.sheets)} sheets of {arguments.paper},"
        f" {tiling.rows} high and {tiling.columns} wide. Print at 100 %, with no fitting to the"
        " page, and measure the test square first."
    )
    return 0
