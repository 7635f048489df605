"""From what was asked for to how each seam is carried on and each dart goes."""

from __future__ import annotations

from dataclasses import dataclass

from core.alter.carry import Course, Reach, insets_for_width
from core.alter.figures import is_shaped
from core.alter.frame import Frame
from core.alter.model import Change, HemDarts
from core.alter.redo import Plan
from core.alter.refit import HemDart
from core.curve import Point, Vector
from core.errors import AlterationError
from core.kept import kept
from core.measure import in_cm
from core.piece.model import HemRun, Piece, Role


def plan_for(piece: Piece, change: Change, frame: Frame, reaches: tuple[Reach, Reach]) -> Plan:
    """The plan for the piece's sewn line (and its cutting line); the piece has a hem.

    AlterationError when a width is asked for that no hem can have, or while shortening.
    """
    assert piece.hem is not None
    asking = _Asking(piece, piece.hem, change, frame)
    courses = asking.courses(reaches)
    return Plan(reaches, courses, asking.darts(), change.hem, change.turn_up)


def hem_darts(
    piece: Piece, hem: HemRun, frame: Frame, *, keep_apex: bool = False
) -> tuple[HemDart, ...]:
    """The darts in the hem, each mouth and all in order from the first taper point on."""
    first, last = piece.ring.at(hem.first.place), piece.ring.at(hem.last.place)
    towards = 1.0 if frame.width(last) >= frame.width(first) else -1.0

    def place(p: Point) -> float:
        return frame.width(p) * towards

    found = []
    for dart in piece.darts:
        if dart.on is Role.HEM:
            a, b = sorted(dart.mouth, key=place)
            found.append(HemDart((a, b), dart.apex, keep_apex))
    return tuple(sorted(found, key=lambda d: place(d.mouth[0])))


# A drag asks for the same in each of its frames.
@kept(most=256)
def _kept_darts(piece: Piece, hem: HemRun, down: Vector, keep: bool) -> tuple[HemDart, ...]:
    return hem_darts(piece, hem, Frame(down), keep_apex=keep)


def highest(piece: Piece, frame: Frame) -> float:
    """Height (in the frame) of the piece's highest point, from which levels are measured."""
    flat = piece.ring.flattened(tolerance=0.01)
    return float((flat[:, 0] * frame.down.x + flat[:, 1] * frame.down.y).min())


@dataclass(frozen=True)
class _Asking:
    """One piece and what is asked of it."""

    piece: Piece
    hem: HemRun
    change: Change
    frame: Frame

    def darts(self) -> tuple[HemDart, ...]:
        keep = self.change.hem_darts is HemDarts.APEX
        return _kept_darts(self.piece, self.hem, self.frame.down, keep)

    def courses(self, reaches: tuple[Reach, Reach]) -> tuple[Course, Course]:
        """How each seam is carried on. A fold goes straight on whatever is asked: cloth does
        not fold along a line that bends."""
        courses = self._asked(reaches)
        first, last = (
            Course() if fold else course for fold, course in zip(self._folds, courses, strict=True)
        )
        return first, last

    def _asked(self, reaches: tuple[Reach, Reach]) -> tuple[Course, Course]:
        if self.change.to_width_mm is not None:
            first, last = self._insets(self.change.to_width_mm, reaches)
            return Course(inset=first), Course(inset=last)
        level = None
        if self.change.plumb_below_mm is not None:
            level = highest(self.piece, self.frame) + self.change.plumb_below_mm
        course = Course(self.change.seams, plumb_from=level)
        return course, course

    @property
    def _folds(self) -> tuple[bool, bool]:
        first, last = self.piece.hem_seam_roles
        return first is Role.FOLD, last is Role.FOLD

    def _insets(self, width: float, reaches: tuple[Reach, Reach]) -> tuple[float, float]:
        if self.change.by_mm < 0.0:
            raise AlterationError(
                f"{self.piece.name}: a hem width can be asked for when making longer only."
                " Shortened, the hem has the width that the leg has there."
            )
        if all(self._folds):
            raise AlterationError(
                f"{self.piece.name}: the hem runs from fold to fold, and a fold goes straight on,"
                " so it cannot get another width."
            )
        first, last = (self.piece.ring.at(t.place) for t in (self.hem.first, self.hem.last))
        intake = sum(d.mouth[0].distance(d.mouth[1]) for d in self.darts())
        # Straight from end to end; the drops are equal, so the ends' unequal heights stay.
        shaped = is_shaped(self.piece)
        rise = 0.0 if shaped else self.frame.height(last) - self.frame.height(first)
        square = (width + intake) ** 2 - rise**2
        if square <= 1.0:
            raise AlterationError(
                f"{self.piece.name}: a hem of {in_cm(width)} is too narrow for this piece."
            )
        across = self.frame.width(last) - self.frame.width(first)
        return insets_for_width(
            (self.hem.first.down, self.hem.last.down),
            self.frame,
            (reaches[0].mm, reaches[1].mm),
            width=abs(across),
            wanted=square**0.5,
            towards=1.0 if across >= 0.0 else -1.0,
            stays=self._folds,
        )
