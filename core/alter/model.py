"""A change to a piece, and what comes of it: piece, steps, figures, findings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property
from typing import NamedTuple

from core.alter.level.model import LevelChange
from core.curve import Chain, Point
from core.errors import AlterationError
from core.piece.model import Piece, Role


class SeamWay(Enum):
    """How a seam goes on below its taper point."""

    STRAIGHT = "straight"
    """Along its taper, as with a ruler."""
    CURVED = "curved"
    """Its bend carries on and fades evenly to nothing."""
    PLUMB = "plumb"
    """Along the grain; the width stays."""


class HemWay(Enum):
    """How the hem is drawn between the new seam ends."""

    REFIT = "refit"
    """Widths scale, heights go along, angles to the seams stay."""
    TRIM = "trim"
    """It slides unchanged; what sticks out past the seams is cut off."""
    SQUARE = "square"
    """As refit, and it meets each seam at a right angle."""


class HemDarts(Enum):
    """What becomes of darts in the hem; their intake stays in any case."""

    WHOLE = "whole"
    """They go down whole."""
    APEX = "apex"
    """The apex stays and the dart gets longer."""


class DartCaps(Enum):
    """What becomes of the hem over a dart in it."""

    AS_DRAWN = "as-drawn"
    """It goes along as it is drawn."""
    CLOSED = "closed"
    """It is drawn anew so that it runs smoothly once the dart is closed."""


class TurnUp(Enum):
    """How the sides of a turn-up are drawn; it folds up on the hem line."""

    AS_DRAWN = "as-drawn"
    """As they were: mirrored if they were, else the seams carried straight on."""
    MIRROR = "mirror"
    """The mirror image of the leg above the fold, so that it lies flat when folded up."""


class Measure(Enum):
    """Along what the amount is measured."""

    GRAIN = "grain"
    SEAM = "seam"


@dataclass(frozen=True, slots=True)
class Change:
    """Lengthen by ``by_mm``; shorten when it is negative.

    ``to_width_mm`` asks for a finished hem width (straight from seam end to seam end, across the
    grain where it is rounded or vented, darts closed; of the whole leg where front and back
    change together) and ``plumb_below_mm``
    lets the seams fall plumb from that far below the piece's highest point; each goes
    before ``seams``. All three say how to make longer and do not matter when shortening.
    ``allowance_mm`` and ``hem_allowance_mm`` (the same when left out) say how far inside its
    outline a piece is sewn that has no stitching line; lengths are then those of the line
    where it is sewn.
    ``balance_notch`` puts a notch on each seam where it ended before it was made longer.
    A ``preview`` lets the cutting line go by the stitching line's drops, within about a tenth
    of a millimetre, tells of the steps only that of the seams, without its sentence, and leaves
    the lengths to be measured: quick enough to follow a drag.
    """

    by_mm: float
    seams: SeamWay = SeamWay.STRAIGHT
    measure: Measure = Measure.GRAIN
    hem: HemWay = HemWay.REFIT
    hem_darts: HemDarts = HemDarts.WHOLE
    dart_caps: DartCaps = DartCaps.AS_DRAWN
    to_width_mm: float | None = None
    plumb_below_mm: float | None = None
    turn_up: TurnUp = TurnUp.AS_DRAWN
    allowance_mm: float | None = None
    hem_allowance_mm: float | None = None
    balance_notch: bool = False
    preview: bool = False


class TooFarError(AlterationError):
    """A change that reaches too far: less of it may work. Text: what is wrong, no full stop."""


class StepKind(Enum):
    """The construction steps, in the order in which a maker does them."""

    TAPER_POINTS = "mark the taper points"
    CARRY_SEAMS = "carry the seams on"
    CUT_SEAMS = "find the new length on the seams"
    BRING_HEM = "bring the hem along"
    TRIM = "trim the hem at the seams"
    REDRAW_HEM = "redraw the hem"
    LEVEL_LINE = "draw the line across"
    SPREAD = "cut and spread"
    FOLD = "fold out"
    TRUE_SEAMS = "true the seams"
    CARRY_DARTS = "carry the darts"
    CUTTING_LINE = "draw the cutting line"
    CARRY_MARKS = "carry the marks"
    CHECK = "check"


@dataclass(frozen=True)
class Step:
    """One construction step with a sentence and its own geometry, ready to be drawn."""

    kind: StepKind
    sentence: str
    lines: tuple[Chain, ...] = ()
    points: tuple[Point, ...] = ()


class Severity(Enum):
    """How much a finding matters."""

    WELL = "well"
    """It was checked, and it is as it should be."""
    NOTE = "note"
    LOOK = "look at this"
    STOP = "stop"


class Whose(NamedTuple):
    """The piece of which something is told: its key and its name."""

    key: int
    name: str

    @classmethod
    def of(cls, piece: Piece) -> Whose:
        return cls(piece.key, piece.name)


class Led(NamedTuple):
    """A seam of a changed piece that went by its mate on a piece that led."""

    role: Role
    leader: Whose


@dataclass(frozen=True)
class Finding:
    """A sentence for the maker, and the place it speaks of, where there is one.

    ``piece`` is the one on which the place lies, or of which alone the sentence speaks; None
    where that is the piece whose change was found so, or no single one.
    """

    severity: Severity
    sentence: str
    place: Point | None = None
    piece: Whose | None = None


@dataclass(frozen=True)
class EdgeFigure:
    """Length of one edge before and after, in mm, without dart intakes."""

    role: Role
    before_mm: float
    after_mm: float


class Lengths(NamedTuple):
    """Of the edges, and of the hem straight from seam end to seam end with darts closed (across
    the grain where it is rounded or vented), before and after, in mm."""

    edges: tuple[EdgeFigure, ...]
    hem_width_before_mm: float
    hem_width_after_mm: float


@dataclass(frozen=True)
class Figures:
    """What the change does: the length in mm that each seam gained along itself, and ``lengths``.

    These are measured when they are first asked for: a drag asks for those of few pieces.
    """

    added_first_mm: float
    added_last_mm: float
    measure: Callable[[], Lengths] = field(repr=False, compare=False)

    @cached_property
    def lengths(self) -> Lengths:
        return self.measure()

    @property
    def edges(self) -> tuple[EdgeFigure, ...]:
        return self.lengths.edges

    @property
    def hem_width_before_mm(self) -> float:
        return self.lengths.hem_width_before_mm

    @property
    def hem_width_after_mm(self) -> float:
        return self.lengths.hem_width_after_mm


@dataclass(frozen=True)
class Altered:
    """The altered piece and all that is told about it.

    ``level`` is set where the change was made at a level and not at the hem; of ``change``
    only the amount counts then. ``led`` are its seams that went by those of another piece.
    """

    before: Piece
    piece: Piece
    change: Change
    figures: Figures
    steps: tuple[Step, ...]
    findings: tuple[Finding, ...]
    level: LevelChange | None = None
    led: tuple[Led, ...] = ()
