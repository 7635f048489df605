"""What can be typed after ``hemward``."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from app.command.options import (
    CAUTION,
    add_as_recognised,
    add_by,
    add_job,
    add_unit,
    length,
    parser,
    size_and_length,
    unit_asked,
)
from core.paper.formats import MARGIN, OVERLAP, Paper


def parse(argv: Sequence[str]) -> argparse.Namespace:
    """The command with its options; prints help or usage and exits (0, 2) where due."""
    words = _joined_amount(argv)
    if words[:1] == ["inspect"]:
        return _inspect().parse_args(words[1:])
    if words[:1] == ["sheets"]:
        return _sheets().parse_args(words[1:])
    if words[:1] == ["lesson"]:
        typed = _lesson().parse_args(words[1:])
        typed.tell_in = unit_asked(words)
        return typed
    if words[:1] in (["alter"], ["insert"]):
        typed = _typed_alter(words[1:]) if words[0] == "alter" else _insert().parse_args(words[1:])
        typed.tell_in = unit_asked(words)
        return typed
    return _window().parse_args(words)


def _typed_alter(words: Sequence[str]) -> argparse.Namespace:
    to = _alter()
    typed = to.parse_args(words)
    if typed.by is None and not typed.by_size:
        to.error("the following arguments are required: --by (or --by-size)")
    return typed


def _joined_amount(argv: Sequence[str]) -> list[str]:
    """``--by -3cm`` as one word, or the amount would be taken for an option."""
    words: list[str] = []
    for word in argv:
        if words and words[-1] in ("--by", "--polylines"):
            words[-1] = f"{words[-1]}={word}"
        else:
            words.append(word)
    return words


def _window() -> argparse.ArgumentParser:
    to = parser(
        "hemward",
        "Makes sewing-pattern pieces longer or shorter along the taper of their seams.\n"
        "Opens the window; give pattern files (SVG or DXF) to open them in it.",
        "Without a screen:\n"
        "  hemward inspect FILE         say what was recognised on the pieces of a file\n"
        "  hemward alter FILE --by 6cm --out NEW_FILE\n"
        "                               make the pieces 6 cm longer and save them\n"
        "  hemward insert FILE --at 40cm --by 3cm --out NEW_FILE\n"
        "                               put 3 cm in at a line 40 cm below the highest point\n"
        "  hemward lesson FILE --by 6cm --out HANDOUT.pdf\n"
        "                               the alteration step by step, for a class\n"
        "  hemward sheets FILE --out SHEETS.pdf\n"
        "                               true-scale sheets to print, trim and tape\n"
        "  hemward inspect --help and so on tell more.\n\n" + CAUTION,
    )
    to.add_argument("files", nargs="*", type=Path, metavar="FILE", help="a pattern to open")
    add_unit(to)
    to.set_defaults(run=_run_window)
    return to


def _inspect() -> argparse.ArgumentParser:
    to = parser(
        "hemward inspect",
        "Says what was recognised in a pattern file: the scale, the pieces, their edges with\n"
        "lengths, grain, darts, notches and mates, how sure each answer is, and why.",
        "Example: hemward inspect shorts.svg",
    )
    to.add_argument("file", type=Path, metavar="FILE", help="the pattern, SVG or DXF")
    to.add_argument("--json", action="store_true", help="print it for other programs")
    add_unit(to)
    add_as_recognised(to)
    to.set_defaults(run=_run_inspect)
    return to


def _alter() -> argparse.ArgumentParser:
    to = parser(
        "hemward alter",
        "Makes pieces longer or shorter: the seams are carried on along their own taper, the\n"
        "hem is brought along and redrawn, darts and marks go with their part. All pieces that\n"
        "have a hem change together, so that front and back still sew together. The files that\n"
        "you name are only read; the altered pattern is saved where --out says.",
        "Examples:\n"
        "  hemward alter shorts.svg --by 6cm --out longer.svg\n"
        '  hemward alter front.dxf back.dxf --by "2 1/2 in" --out altered/\n'
        "  hemward alter trousers.dxf --by -3cm --out shorter.dxf --report changes.json\n"
        "  hemward alter breeches.svg --by-size 38=5cm --by-size 40=5.5cm --out longer.svg\n\n"
        + CAUTION,
    )
    how_much = 'how much longer, with its unit: 6cm, 60mm, 2.5in, "2 1/2 in"; -3cm is shorter'
    add_by(to, how_much, required=False)
    to.add_argument(
        "--by-size",
        type=size_and_length,
        action="append",
        metavar="SIZE=LENGTH",
        help="how much one size gets, in a pattern in several (may be given again); the others"
        " get what --by says, or stay as they are",
    )
    _add_ways(to)
    add_job(to)
    to.set_defaults(run=_run_alter)
    return to


def _add_ways(to: argparse.ArgumentParser) -> None:
    """The ways of the craft; left out, they are what a maker does most."""
    ways = to.add_argument_group("how it is done")
    ways.add_argument(
        "--seams",
        choices=("straight", "curved", "plumb"),
        default="straight",
        help="how the seams go on: along their taper as with a ruler (when not given), with"
        " their bend fading out, or along the grain",
    )
    ways.add_argument(
        "--to-width",
        type=length,
        metavar="WIDTH",
        help="let the seams run so that the hem gets this width, straight from seam to seam"
        " with darts closed (across the grain where it is rounded or vented); of the whole leg"
        " where front and back change together",
    )
    ways.add_argument(
        "--plumb-below",
        type=length,
        metavar="LEVEL",
        help="let the seams fall plumb from this far below the highest point of the piece"
        " (the knee, say)",
    )
    ways.add_argument(
        "--measure",
        choices=("grain", "seam"),
        default="grain",
        help="measure the amount along the grain (when not given) or along the seams",
    )
    ways.add_argument(
        "--hem",
        choices=("refit", "trim", "square"),
        default="refit",
        help="redraw the hem between the new seam ends (when not given), slide it and cut off"
        " what sticks out, or redraw it at right angles to the seams",
    )
    ways.add_argument(
        "--darts",
        choices=("whole", "apex"),
        default="whole",
        help="darts in the hem go along whole (when not given), or keep their apex",
    )
    ways.add_argument(
        "--dart-caps",
        choices=("as-drawn", "closed"),
        default="as-drawn",
        help="the hem over a dart in it goes along as it is drawn (when not given), or is drawn"
        " so that it runs smoothly once the dart is closed",
    )
    ways.add_argument(
        "--balance-notch",
        action="store_true",
        help="when made longer, put a notch on each seam where it ended before",
    )
    _add_allowances(ways)


def _add_allowances(ways: argparse._ArgumentGroup) -> None:
    """The space between where it is cut and where it is sewn."""
    ways.add_argument(
        "--turn-up",
        choices=("as-drawn", "mirror"),
        default="as-drawn",
        help="leave the sides of a turn-up as they are drawn (when not given), or redraw them"
        " as the mirror image of the leg above the fold",
    )
    ways.add_argument(
        "--allowance",
        type=length,
        metavar="WIDTH",
        help="the seam allowance of pieces that have a cutting line only: lengths are then told,"
        " and mates matched, where the seams are sewn",
    )
    ways.add_argument(
        "--hem-allowance",
        type=length,
        metavar="WIDTH",
        help="the same at the hem; as --allowance when not given",
    )


def _insert() -> argparse.ArgumentParser:
    to = parser(
        "hemward insert",
        "Puts length in at a line square to the grain, or folds it out there: everything below\n"
        "the line moves along the grain, the hem keeps its width and shape, the seams are trued\n"
        "between a point above and a point below the line, darts that cross are carried across.\n"
        "The files that you name are only read; the altered pattern is saved where --out says.",
        "Examples:\n"
        "  hemward insert trousers.dxf --at 60cm --by 3cm --out longer.dxf\n"
        "  hemward insert skirt.svg --at 25cm --by -3cm --true straight --out shorter.svg\n\n"
        + CAUTION,
    )
    to.add_argument(
        "--at",
        type=length,
        required=True,
        metavar="LEVEL",
        help="where the line lies: how far below the highest point of the front (or of the piece"
        " itself), along the grain; on a piece that is sewn to it the line meets it in the seam",
    )
    add_by(to, "how much to put in, with its unit; with a minus: to fold out")
    to.add_argument(
        "--true",
        choices=("straight", "smooth"),
        default="smooth",
        help="how the seams are redrawn over the line (smooth when not given)",
    )
    to.add_argument(
        "--blend",
        type=length,
        metavar="LENGTH",
        help="how far above and below the line they are redrawn (10 cm when not given);"
        " never beyond a corner, a taper point or a dart",
    )
    add_job(to)
    to.set_defaults(run=_run_insert)
    return to


def _lesson() -> argparse.ArgumentParser:
    to = parser(
        "hemward lesson",
        "Saves the alteration as its construction steps: a PDF with a page for each, or a folder\n"
        "with a PNG and an SVG of each. None of it is for cutting.",
        "Examples:\n"
        "  hemward lesson shorts.svg --by 6cm --out handout.pdf\n"
        "  hemward lesson shorts.svg --by 6cm --out practice.pdf --practice --paper letter\n"
        "  hemward lesson shorts.svg --by 3cm --at 35cm --out steps/\n\n" + CAUTION,
    )
    to.add_argument("file", type=Path, metavar="FILE", help="the pattern, SVG or DXF")
    add_by(to, "how much longer, with its unit; with a minus: shorter")
    to.add_argument(
        "--at",
        type=length,
        metavar="LEVEL",
        help="put it in at a line that far below the highest point, not along the taper",
    )
    to.add_argument(
        "--out", type=Path, required=True, metavar="FILE_OR_FOLDER", help="a .pdf, or a folder"
    )
    to.add_argument("--paper", choices=("a4", "letter"), default="a4", help="of the PDF")
    to.add_argument(
        "--practice",
        action="store_true",
        help="a practice sheet: the pieces as they are with the question, then the answer",
    )
    add_unit(to)
    add_as_recognised(to)
    to.set_defaults(run=_run_lesson)
    return to


def _sheets() -> argparse.ArgumentParser:
    to = parser(
        "hemward sheets",
        "Saves a pattern as true-scale sheets: a PDF with the test square and the plan of the\n"
        "sheets first, then the sheets with their labels. Sheets with nothing to cut are left out.",
        "Examples:\n"
        "  hemward sheets longer_shorts.svg --out sheets.pdf\n"
        "  hemward sheets longer_shorts.svg --out roll.pdf --paper 'Arch E' --overlap 0\n\n"
        + CAUTION,
    )
    to.add_argument("file", type=Path, metavar="FILE", help="the pattern, SVG or DXF")
    to.add_argument("--out", type=Path, required=True, metavar="FILE", help="a .pdf")
    to.add_argument("--paper", choices=[p.value for p in Paper], default=Paper.A4.value)
    to.add_argument(
        "--margin", type=length, default=MARGIN, metavar="LENGTH", help="left white (1 cm)"
    )
    to.add_argument(
        "--overlap", type=length, default=OVERLAP, metavar="LENGTH", help="of two sheets (1 cm)"
    )
    add_unit(to)
    add_as_recognised(to)
    to.set_defaults(run=_run_sheets)
    return to


# Each command brings its libraries along only when it is run, so that --help is quick.


def _run_window(arguments: argparse.Namespace) -> int:
    from app.window import run

    return run(arguments.files, mm_per_unit=arguments.unit)


def _run_sheets(arguments: argparse.Namespace) -> int:
    from app.command.sheets import run

    return run(arguments)


def _run_inspect(arguments: argparse.Namespace) -> int:
    from app.command.inspect import run

    return run(arguments)


def _run_alter(arguments: argparse.Namespace) -> int:
    from app.command.alter import run

    return run(arguments)


def _run_lesson(arguments: argparse.Namespace) -> int:
    from app.command.lesson import run

    return run(arguments)


def _run_insert(arguments: argparse.Namespace) -> int:
    from app.command.insert import run

    return run(arguments)
