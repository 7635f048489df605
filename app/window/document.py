"""What is open in the window, as values that never change. Knows nothing of Qt.

A change makes the next state and leaves the old one as it was, so undo is going back to it.
States and sheets are compared by identity: they hold whole files, and the same one is the
same one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from app.window.laying import ON_TOP, Laid, lay_out, shared
from core.alter.level.model import LevelChange, Truing
from core.alter.model import Change
from core.curve import Vector
from core.errors import PieceError
from core.kept import kept
from core.piece.mates import Mates
from core.piece.model import Kind, Piece

if TYPE_CHECKING:
    # The readers and their libraries are loaded when a file is opened, not before.
    from core.files.drawing import Drawing


# Marks that tell a reader of the file something, and are not drawn.
UNSEEN = (Kind.TURN_POINT, Kind.CURVE_POINT, Kind.ASIDE)


class PieceId(NamedTuple):
    """A piece: the number of its sheet, and its key in that sheet's drawing."""

    sheet: int
    key: int


class EdgeId(NamedTuple):
    """An edge: its piece and its place in the piece's row of edges."""

    piece: PieceId
    number: int


@dataclass(frozen=True, eq=False)
class Sheet:
    """One open file; ``number`` stays its own as long as the window is open.

    The drawing's pieces have their roles as corrected, and their length as read.
    """

    number: int
    drawing: Drawing


@dataclass(frozen=True, eq=False)
class Sheets:
    """All that lies on the table, with what can be worked out of it once and for all."""

    all: tuple[Sheet, ...] = ()

    def with_sheet(self, sheet: Sheet) -> Sheets:
        """With that sheet in the place of the one of its number."""
        return Sheets(tuple(sheet if s.number == sheet.number else s for s in self.all))

    @cached_property
    def pieces(self) -> Mapping[PieceId, Piece]:
        """Every piece, under a key that is its own across the files."""
        found = [(PieceId(s.number, p.key), p) for s in self.all for p in s.drawing.pieces]
        # A piece that has its key already stays the very same, by which all that is known of it
        # is found again when another one is corrected.
        return {
            name: piece if piece.key == n else replace(piece, key=n)
            for n, (name, piece) in enumerate(found)
        }

    @cached_property
    def drafts(self) -> Mapping[PieceId, Piece]:
        """The pieces without the marks that are never drawn; a dense outline has hundreds."""
        return {which: _draft(piece) for which, piece in self.pieces.items()}

    @property
    def drawings(self) -> tuple[Drawing, ...]:
        """What lies on the table, without the numbers of the sheets."""
        return tuple(s.drawing for s in self.all)

    @cached_property
    def mates(self) -> tuple[Mates, ...]:
        """Edges that are sewn together, across files too, as recognised and as a person said."""
        from core.files.sewn import mates_in

        return mates_in(self.drawings, tuple(self.pieces.values()))

    @cached_property
    def over(self) -> Mapping[PieceId, frozenset[PieceId]]:
        """The larger sizes of the same piece of which each piece lies on top."""
        found = sorted(self.pieces.items(), key=lambda kv: abs(kv[1].outline.ring.signed_area()))
        boxes = {which: piece.outline.ring.bounds() for which, piece in found}
        return {
            which: frozenset(
                other
                for other, larger in found[n + 1 :]
                if (other.sheet, larger.title) == (which.sheet, piece.title)
                and piece.size
                and shared(boxes[which], boxes[other]) > ON_TOP
            )
            for n, (which, piece) in enumerate(found)
        }

    @cached_property
    def spots(self) -> Mapping[PieceId, Vector]:
        """By how much each piece is moved to its place on the table, in mm."""
        ids = [PieceId(s.number, p.key) for s in self.all for p in s.drawing.as_read]
        return dict(zip(ids, _lain(*(s.drawing.as_read for s in self.all)), strict=True))


# What is said of a piece moves none.
@kept(most=8)
def _lain(*read: Sequence[Piece]) -> tuple[Vector, ...]:
    """The moves of `spots`, in order, for the pieces of each sheet as they were read."""
    sheets = [[Laid(p.outline.ring.bounds(), p.title if p.size else "") for p in s] for s in read]
    return tuple(lay_out(sheets))


# As long as a taper point is slid each frame has sheets of its own, and the same other pieces.
@kept(most=1024)
def _draft(piece: Piece) -> Piece:
    drawn = tuple(m for m in piece.marks if m.kind not in UNSEEN)
    return piece if len(drawn) == len(piece.marks) else replace(piece, marks=drawn)


@dataclass(frozen=True, slots=True)
class AtLevel:
    """Where up the pieces the change is made: mm below the highest point of the leading piece."""

    at_mm: float
    true: Truing = Truing.SMOOTH
    blend_mm: float | None = None


@dataclass(frozen=True, eq=False)
class State:
    """The document at one moment: the sheets, the change, and what is left alone.

    With a ``level`` the change is made there and not at the hem: of ``change`` only its amount
    counts then, and the rest is kept for the way back. A ``draft`` is what a drag shows before
    it is finished. ``proved`` are the sheets of which a person said that their scale is right.
    ``more_by_size`` is, where sizes have an amount each, by how much (mm) each exceeds the amount.
    """

    sheets: Sheets = field(default_factory=Sheets)
    change: Change = field(default_factory=lambda: Change(0.0))
    level: AtLevel | None = None
    off: frozenset[PieceId] = frozenset()
    draft: bool = False
    proved: frozenset[int] = frozenset()
    more_by_size: Mapping[str, float] | None = None

    @property
    def empty(self) -> bool:
        return not self.sheets.all

    @property
    def by_mm(self) -> float:
        return self.change.by_mm

    @property
    def change_at_hem(self) -> Change:
        """The change without what does not matter: how seams go on, while making shorter."""
        change = replace(self.change, preview=True) if self.draft else self.change
        if self.by_mm >= 0.0:
            return change
        return replace(change, to_width_mm=None, plumb_below_mm=None)

    @property
    def changes(self) -> Change | dict[str, Change]:
        """The change at the hem, of every size where they have an amount each."""
        change = self.change_at_hem
        if not self.more_by_size:
            return change
        sizes = {self.piece(k).size for k in self.altering}
        return {s: replace(change, by_mm=self.amount_of(s)) for s in sizes}

    @cached_property
    def as_it_was(self) -> State:
        """With the pieces as they were before the change."""
        if self.nothing and self.level is None:
            return self
        was = replace(self.change, by_mm=0.0)
        return replace(self, change=was, level=None, more_by_size=None)

    @property
    def nothing(self) -> bool:
        """Is the change one by nothing?"""
        return self.by_mm == 0.0 and not any((self.more_by_size or {}).values())

    @property
    def each_size(self) -> bool:
        """Has each size an amount of its own?"""
        return self.more_by_size is not None

    def amount_of(self, size: str) -> float:
        """The amount in mm for the pieces of that size."""
        return self.by_mm + (self.more_by_size or {}).get(size, 0.0)

    def with_amount(self, size: str, mm: float) -> State:
        """With that amount for that size."""
        more = {**(self.more_by_size or {}), size: mm - self.by_mm}
        return replace(self, more_by_size=more)

    def for_each_size(self, *, on: bool) -> State:
        """With an amount for each size, or one for all of them."""
        return replace(self, more_by_size={} if on else None)

    @property
    def change_at_level(self) -> LevelChange | None:
        """The change where it is made at a level."""
        at = self.level
        if at is None:
            return None
        return LevelChange(
            at.at_mm, self.by_mm, true=at.true, blend_mm=at.blend_mm, preview=self.draft
        )

    @property
    def altering(self) -> tuple[PieceId, ...]:
        """The pieces that the change is for: those with a hem that are not switched off."""
        return tuple(k for k, p in self.sheets.pieces.items() if p.hem and k not in self.off)

    def piece(self, which: PieceId) -> Piece:
        """The piece as it was before the change."""
        return self.sheets.pieces[which]

    def changeable(self, which: PieceId) -> Piece:
        """The piece as the change takes it."""
        return (self.sheets.drafts if self.draft else self.sheets.pieces)[which]

    def by(self, mm: float) -> State:
        return self.changing(replace(self.change, by_mm=mm))

    def changing(self, change: Change) -> State:
        return replace(self, change=change)

    def at(self, level: AtLevel | None) -> State:
        """With the change made at that level; at the hem when None."""
        return replace(self, level=level)

    def switched(self, which: PieceId, *, on: bool) -> State:
        """With that piece taken into the change, or left as it is."""
        return self.all_switched((which,), on=on)

    def all_switched(self, which: Iterable[PieceId], *, on: bool) -> State:
        """As `switched`, for several pieces at once."""
        return replace(self, off=self.off - {*which} if on else self.off | {*which})

    def with_sheet(self, sheet: Sheet) -> State:
        """With one more sheet, or in the place of the one of that number."""
        if all(s.number != sheet.number for s in self.sheets.all):
            pieces = sheet.drawing.pieces
            alone = {PieceId(sheet.number, pieces[k].key) for k in sheet.drawing.alone}
            return replace(self, sheets=Sheets((*self.sheets.all, sheet)), off=self.off | alone)
        sheets = self.sheets.with_sheet(sheet)
        return replace(self, sheets=sheets, proved=self.proved - {sheet.number})

    def proving(self, number: int) -> State:
        """With the scale of that sheet known to be right."""
        return replace(self, proved=self.proved | {number})

    def read_piece(self, which: PieceId) -> Piece:
        """The piece as it stands in its own sheet's drawing."""
        pieces = {p.key: p for p in self.sheet(which.sheet).drawing.pieces}
        return pieces[which.key]

    def with_piece(self, which: PieceId, piece: Piece) -> State:
        """With the piece known to be as `piece`, which has the same outline, says."""
        sheet = self.sheet(which.sheet)
        return replace(
            self,
            sheets=self.sheets.with_sheet(replace(sheet, drawing=sheet.drawing.with_piece(piece))),
        )

    def sheet(self, number: int) -> Sheet:
        """The sheet of that number; PieceError when it is not on the table."""
        for sheet in self.sheets.all:
            if sheet.number == number:
                return sheet
        raise PieceError("That file is no longer on the table. Open it again.")
