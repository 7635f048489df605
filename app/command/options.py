"""What the commands share on the command line: their options, and how lengths are read."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from core.errors import FileError, MeasureError
from core.measure import MM_PER_UNIT, Unit, parse_length, unit_size

CAUTION = (
    "Before you cut: print the test square and measure it, and try the altered pattern in"
    " cheap cloth first."
)
_UNIT_HELP = (
    "how long one unit of the file is, when the file does not say: "
    + ", ".join(MM_PER_UNIT)
    + " or a length such as 1/90in"
)


def parser(name: str, description: str, epilog: str) -> argparse.ArgumentParser:
    """A parser that leaves the lines of both texts as they are."""
    return argparse.ArgumentParser(
        prog=name,
        description=description,
        epilog=epilog,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def add_unit(to: argparse.ArgumentParser) -> None:
    """``--unit``: for files that do not say how long a unit is."""
    to.add_argument("--unit", type=unit, metavar="UNIT", help=_UNIT_HELP)


def add_as_recognised(to: argparse.ArgumentParser) -> None:
    """``--as-recognised``: what a person said in the window is left out."""
    to.add_argument(
        "--as-recognised",
        action="store_true",
        help="leave out what was corrected in the window, which is kept beside the pattern in"
        " NAME.hemward.json and used when this is not given",
    )


def add_by(to: argparse.ArgumentParser, help_text: str, *, required: bool = True) -> None:
    """``--by``, without which there is nothing to do."""
    to.add_argument("--by", type=length, required=required, metavar="LENGTH", help=help_text)


def add_job(to: argparse.ArgumentParser) -> None:
    """Which files, which of their pieces, where to save, and whether to report."""
    to.add_argument("files", nargs="+", type=Path, metavar="FILE", help="the patterns, SVG or DXF")
    to.add_argument(
        "--out",
        type=Path,
        required=True,
        metavar="FILE_OR_FOLDER",
        help="where to save: a file ending in .svg or .dxf, or a folder (for several files)",
    )
    to.add_argument(
        "--piece",
        action="append",
        metavar="NAME",
        help="change only the piece of this name (may be given again); else all with a hem",
    )
    to.add_argument(
        "--size",
        action="append",
        metavar="SIZE",
        help="of a pattern in several sizes change only this one (may be given again)",
    )
    to.add_argument(
        "--polylines",
        type=tolerance,
        metavar="LENGTH",
        help="save a clean DXF in which curves are straight lines that stay within this length of"
        " them (0.1mm, say), for machines that know no curves; else a DXF keeps them as curves",
    )
    to.add_argument("--report", type=Path, metavar="R.json", help="also save what changed, as JSON")
    add_unit(to)
    add_as_recognised(to)
    body = to.add_argument_group("what it is checked against")
    body.add_argument(
        "--girth",
        type=length,
        metavar="LENGTH",
        help="the wearer's own girth where the new hem will be",
    )
    body.add_argument(
        "--ease",
        type=length,
        default=0.0,
        metavar="LENGTH",
        help="by how much the hem is to be wider than that (nothing when not given)",
    )


def unit_asked(words: Sequence[str]) -> Unit:
    """The unit of the amounts as they were typed, in which the answer is told."""
    texts = [w for k, w in enumerate(words) if w.startswith("--by") or words[k - 1] == "--by-size"]
    return next((Unit.INCH for w in texts if Unit.of(w) is Unit.INCH), Unit.CM)


def length(text: str) -> float:
    """A length with its unit, in mm."""
    try:
        return parse_length(text)
    except MeasureError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def tolerance(text: str) -> float:
    """How near straight lines keep to a curve, in mm."""
    from core.files.write import check_polylines

    mm = length(text)
    try:
        check_polylines(mm)
    except FileError as error:
        raise argparse.ArgumentTypeError(str(error)) from None
    return mm


def size_and_length(text: str) -> tuple[str, float]:
    """``38=5cm``: a size and a length in mm."""
    size, equals, amount = text.partition("=")
    if not (equals and size.strip()):
        raise argparse.ArgumentTypeError(f"“{text}”: write the size and its length, as in 38=5cm.")
    return size.strip(), length(amount)


def unit(text: str) -> float:
    """A unit by its name, or by its length, in mm."""
    try:
        size = unit_size(text)
    except MeasureError as unknown:
        try:
            size = parse_length(text)
        except MeasureError:
            raise argparse.ArgumentTypeError(str(unknown)) from None
    if size <= 0.0:
        raise argparse.ArgumentTypeError("A unit must be longer than nothing.")
    return size
