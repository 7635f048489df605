"""What a pattern piece is: its outline, edges, darts, grain and marks.

All values are frozen; a change is ``dataclasses.replace``. Coordinates are mm, y down.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property
from typing import NamedTuple

import numpy as np

from core.curve import Chain, Place, Point, Ring, Segment, Vector
from core.errors import PieceError
from core.kept import when_asked

# A turn or curve point this near (mm) to a joint of the outline marks it.
AT_VERTEX = 0.1


class Kind(Enum):
    """What a drawn shape is on a pattern piece."""

    OUTLINE = "outline"
    STITCHING = "stitching line"
    GRAIN = "grain line"
    FOLD = "fold line"
    NOTCH = "notch"
    DRILL = "drill hole"
    DART = "dart"
    INNER = "inner line"
    CUTOUT = "inner cutout"
    TEXT = "writing"
    TURN_POINT = "turn point"
    CURVE_POINT = "curve point"
    ASIDE = "aside"
    """Belongs to the sheet, not to a piece: frames, test squares, guides, validation copies."""


class Role(Enum):
    """What an edge of a piece is when the garment is sewn."""

    HEM = "hem"
    INSEAM = "inseam"
    SIDE = "side seam"
    WAIST = "waist"
    RISE = "rise"
    CENTRE_FRONT = "centre front"
    CENTRE_BACK = "centre back"
    FOLD = "fold"
    UNDERARM = "underarm"
    CAP = "cap"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Because:
    """How sure an answer is, and why, as a short reason for a person.

    ``told`` when it was not recognised but said: by a person, or by the file's own words.
    """

    sure: bool
    why: str
    told: bool = False

    @property
    def word(self) -> str:
        """ "sure" or "unsure"."""
        return "sure" if self.sure else "unsure"


@dataclass(frozen=True, slots=True)
class Shape:
    """One drawn thing as a reader found it.

    ``key`` is its ordinal in the drawing, by which a writer finds it again. ``geometry``
    is in mm: a Ring when closed, a Chain when open, a Point for writing, point marks and
    the like. ``words`` is all that the file says of it (id, class, label, title, layer;
    its own and those of the groups around it, nearest first). ``group`` is the ordinal of
    the block or innermost group that it was drawn in. ``kind`` is set only where the file
    itself says it. ``hidden`` shapes are read, carried and never taken for an outline.
    """

    key: int
    geometry: Ring | Chain | Point
    words: tuple[str, ...] = ()
    group: int | None = None
    group_name: str = ""
    kind: Kind | None = None
    text: str = ""
    hidden: bool = False


class Origin(NamedTuple):
    """Where a segment of an outline was drawn.

    Segment number ``segment`` of the shape ``shape``, against its drawn direction if
    ``reversed``. Segments that an alteration adds bear the origin of the segment they go
    on from, so that a writer knows where in the file they belong.
    """

    shape: int
    segment: int
    reversed: bool = False


@dataclass(frozen=True, init=False)
class Outline:
    """A closed ring and, segment by segment, where each was drawn."""

    ring: Ring
    origins: tuple[Origin, ...] = when_asked(lambda outline: outline._of_shape())

    def __init__(self, ring: Ring, origins: tuple[Origin, ...]) -> None:
        if len(ring) != len(origins):
            raise PieceError("an outline needs an origin for each of its segments")
        self.__dict__.update(ring=ring, origins=origins)

    @staticmethod
    def of_shape(ring: Ring, shape: int) -> Outline:
        """The outline that is drawn as one shape, in its direction."""
        outline = Outline.__new__(Outline)
        outline.__dict__.update(ring=ring, _shape=shape)
        return outline

    def _of_shape(self) -> tuple[Origin, ...]:
        shape: int = self.__dict__["_shape"]
        return tuple(Origin(shape, k) for k in range(len(self.ring)))


@dataclass(frozen=True)
class Edge:
    """The outline from ``start`` forward round the ring to ``end``."""

    role: Role
    start: Place
    end: Place
    because: Because


@dataclass(frozen=True)
class Taper:
    """Where a seam's fit line stops; ``down`` is the unit direction in which it goes on."""

    place: Place
    down: Vector
    because: Because


@dataclass(frozen=True)
class HemRun:
    """The outline from ``first`` forward round the ring, through the hem, to ``last``."""

    first: Taper
    last: Taper


@dataclass(frozen=True)
class Dart:
    """A dart: its mouth (in ring order), its apex, and how it is drawn.

    ``mouth_places`` are set for a notch of the outline; ``shapes`` are the keys of the
    drawn lines otherwise. ``on`` is the role of the edge in which the mouth lies.
    """

    mouth: tuple[Point, Point]
    apex: Point
    because: Because
    on: Role = Role.OTHER
    mouth_places: tuple[Place, Place] | None = None
    shapes: tuple[int, ...] = ()

    @property
    def intake(self) -> float:
        """Width of the mouth in mm."""
        return self.mouth[0].distance(self.mouth[1])

    @property
    def legs(self) -> tuple[float, float]:
        """Both leg lengths in mm, straight from mouth to apex."""
        return self.mouth[0].distance(self.apex), self.mouth[1].distance(self.apex)


@dataclass(frozen=True)
class ContourDart:
    """A dart with both ends inside the piece, as it shapes a dress or a jacket at the waist.

    ``tips`` are its two pointed ends, the upper one first; ``sides`` the two points between
    them where it is widest. ``shapes`` are the keys of the drawn lines.
    """

    tips: tuple[Point, Point]
    sides: tuple[Point, Point]
    because: Because
    shapes: tuple[int, ...]

    @property
    def intake(self) -> float:
        """What it takes in where it is widest, in mm."""
        return self.sides[0].distance(self.sides[1])

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Its four points in order round it, from the upper tip on."""
        return self.tips[0], self.sides[0], self.tips[1], self.sides[1]

    @property
    def centre(self) -> Point:
        """The middle between its tips."""
        return self.tips[0].towards(self.tips[1], 0.5)

    def moved(self, step: Vector) -> ContourDart:
        """The dart moved whole."""
        tips, sides = ((a + step, b + step) for a, b in (self.tips, self.sides))
        return replace(self, tips=tips, sides=sides)


@dataclass(frozen=True)
class Grain:
    """The grain: unit ``down`` from waist to hem; ``shape`` is the key of the drawn line."""

    down: Vector
    because: Because
    shape: int | None = None


@dataclass(frozen=True)
class Mark:
    """A notch, hole, inner line, grain line or writing, drawn as the shape ``shape``.

    A mark that an alteration added has a negative ``shape``, for nothing in the file draws it.
    ``numbers`` says, segment by segment, which drawn one it stands for, where some were cut
    off (numbers missing) or opened (numbers that repeat). ``called`` is what the file calls an
    inner line ("pocket"), if it says so.
    """

    kind: Kind
    shape: int
    geometry: Ring | Chain | Point
    text: str = ""
    numbers: tuple[int, ...] | None = None
    called: str = ""

    @property
    def is_added(self) -> bool:
        """Did an alteration add it?"""
        return self.shape < 0


class MateRef(NamedTuple):
    """The edge that is sewn to an edge: piece name and role, and how sure that is."""

    piece: str
    role: Role
    because: Because


@dataclass(frozen=True)
class Piece:
    """One pattern piece with all that was recognised on it.

    ``outline`` is the outermost line, by which the piece is cut. A piece may have a
    ``stitching`` line inside it; then the garment's shape is that line, and edges, hem run
    and darts are places on it. ``cutting_hem`` is the hem run of the outline of a piece
    that has both. ``darts`` open at an edge, ``contours`` lie inside the piece. Of a pattern
    in several sizes ``size`` says which this is, and stands at the end of the name too;
    ``sized`` is how that is known.
    """

    key: int
    name: str
    outline: Outline
    grain: Grain
    edges: tuple[Edge, ...] = ()
    hem: HemRun | None = None
    stitching: Outline | None = None
    cutting_hem: HemRun | None = None
    darts: tuple[Dart, ...] = ()
    contours: tuple[ContourDart, ...] = ()
    marks: tuple[Mark, ...] = ()
    problems: tuple[str, ...] = ()
    size: str = ""
    sized: Because | None = None

    @property
    def title(self) -> str:
        """What the piece is called in every size."""
        return self.name.removesuffix(self.size).rstrip() if self.size else self.name

    @property
    def sewn(self) -> Outline:
        """The line along which the piece is sewn: the stitching line, else the outline."""
        return self.stitching or self.outline

    @property
    def ring(self) -> Ring:
        """The ring on which edges, hem run and darts lie."""
        return self.sewn.ring

    def edge(self, role: Role) -> Edge:
        """The only edge with that role; PieceError when there is none, or more than one."""
        found = [e for e in self.edges if e.role is role]
        if len(found) != 1:
            raise PieceError(f"{self.name} has {len(found) or 'no'} edges known as {role.value}")
        return found[0]

    @cached_property
    def hem_seams(self) -> tuple[int | None, int | None]:
        """The numbers of the edges that end at the first and at the last taper point.

        None for both without a hem run, and for one that no edge ends at.
        """
        if self.hem is None:
            return None, None
        first, last = self.hem.first.place, self.hem.last.place
        return (
            next((k for k, e in enumerate(self.edges) if e.end == first), None),
            next((k for k, e in enumerate(self.edges) if e.start == last), None),
        )

    @property
    def hem_seam_roles(self) -> tuple[Role, Role]:
        """The roles of `hem_seams`; OTHER where there is none."""
        first, last = (Role.OTHER if k is None else self.edges[k].role for k in self.hem_seams)
        return first, last

    def edge_chain(self, edge: Edge) -> Chain:
        """The edge's outline from start to end, legs of outline darts included."""
        return self.ring.run(edge.start, edge.end)

    def edge_length(self, edge: Edge) -> float:
        """Length in mm along the edge, without the legs of darts that lie in it."""
        return sum(s.length() for s in self.sewn_segments(edge))

    @cached_property
    def edge_lengths(self) -> tuple[float, ...]:
        """`edge_length` of each edge, measured once."""
        return tuple(self.edge_length(e) for e in self.edges)

    def sewn_segments(self, edge: Edge) -> tuple[Segment, ...]:
        """The edge's segments in order, leaving out what lies inside a dart."""
        out: list[Segment] = []
        until: Point | None = None
        for s in self.edge_chain(edge):
            until = self._mouths.get(s.start) if until is None else until
            if until is None:
                out.append(s)
            elif s.end == until:
                until = None
        return tuple(out)

    @cached_property
    def _mouths(self) -> dict[Point, Point]:
        """First to second point of each mouth that is a notch of the sewn line."""
        return {d.mouth[0]: d.mouth[1] for d in self.darts if d.mouth_places}

    @cached_property
    def vertex_marks(self) -> dict[int, Point]:
        """The outline's joint that each turn or curve point marks, by the mark's shape."""
        marks = [m for m in self.marks if m.kind in (Kind.TURN_POINT, Kind.CURVE_POINT)]
        points = [(m.shape, m.geometry) for m in marks if isinstance(m.geometry, Point)]
        joints = [s.start for s in self.outline.ring]
        if not points:
            return {}
        at = np.array([(p.x, p.y) for p in joints])
        out: dict[int, Point] = {}
        for shape, p in points:
            away = np.hypot(at[:, 0] - p.x, at[:, 1] - p.y)
            k = int(np.argmin(away))
            if away[k] <= AT_VERTEX:
                out[shape] = joints[k]
        return out

    def renamed(self, name: str) -> Piece:
        return replace(self, name=name)
