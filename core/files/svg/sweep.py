"""The plain path data of many shapes, read in one sweep.

The same points, to the last bit, as ``pathdata.parse`` and ``trace`` give step by step, in a
twentieth of the time; but it does not know where in the text a step stands, and leaves to them
arcs, quadratics, steps without length, and whatever is not plainly sound.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from core.curve import Affine
from core.files.svg.decimals import decimals, kinds
from core.files.svg.trace import FARTHEST, SNAP

Bools = NDArray[np.bool_]
Counts = NDArray[np.intp]
Floats = NDArray[np.float64]

_LINE, _CURVE, _SMOOTH, _CLOSE = range(4)
# By letter: how many numbers a step takes, and what it draws.
_ARITY = np.full(128, -1, np.intp)
_DRAWS = np.full(128, -1, np.int8)
for _letters, _count, _kind in (
    ("MmLl", 2, _LINE), ("HhVv", 1, _LINE), ("Cc", 6, _CURVE), ("Ss", 4, _SMOOTH), ("Zz", 0, _CLOSE)
):  # fmt: skip
    _ARITY[list(map(ord, _letters))], _DRAWS[list(map(ord, _letters))] = _count, _kind
_OTHER, _LETTER, _BLANK, _COMMA, _NUMBER = range(5)
_KINDS = kinds(
    {
        b"MmLlHhVvCcSsZz": _LETTER,
        b" \t\r\n\f": _BLANK,
        b",": _COMMA,
        b"0123456789+-.eE": _NUMBER,
    }
)
# Text of one path that is read at once: of 32 MB nothing but numbers, these alone take 256 MB.
MOST_TEXT = 1 << 25
# So many blanks are looked over behind a comma.
_BLANKS = 64
# So few steps in a row that lean on the one before are followed in all rows at once.
_SHORT = 32


class Sweep(NamedTuple):
    """All subpaths that were read, one after the other, in mm.

    ``first`` gives for each path its first subpath, and one more at the end; what is left to
    others is not ``plain``, nor is what is too ``long``. Of subpath k the points are those from
    ``starts[k]`` to ``ends[k]``, the sizes of its segments (see ``Drawn``) those from
    ``sizes_at[k]`` to ``sizes_to[k]``, and all are lines where it is not ``bent``. ``written``
    are the points and ``steps`` the steps that stand in the text; ``near`` tells that nothing is
    beyond FARTHEST; a box is x0, y0, x1, y1.
    """

    plain: Bools
    long: Bools
    first: Counts
    points: Floats
    starts: Counts
    ends: Counts
    sizes: NDArray[np.uint8]
    sizes_at: Counts
    sizes_to: Counts
    bent: Bools
    closed: Bools
    written: Counts
    steps: Counts
    near: Bools
    boxes: Floats


class _Letters(NamedTuple):
    """The commands: which, in which path, from which number on and with how many."""

    code: NDArray[np.uint8]
    path: Counts
    at: Counts
    many: Counts


class _Steps(NamedTuple):
    """Steps in order, of ``values`` those from ``at`` on; ``moves`` are those that begin a subpath.

    ``x`` and ``y`` are where each ends, in the units of its ``path``.
    """

    values: Floats
    at: Counts
    draws: NDArray[np.int8]
    relative: Bools
    moves: Bools
    path: Counts
    x: Floats
    y: Floats


def sweep(texts: Sequence[str], maps: Sequence[Affine], *, most: int) -> Sweep:
    """The subpaths of each text, mapped to mm by the map in the same place; texts of more than
    `most` lines and curves are left out. No text may be longer than MOST_TEXT."""
    letters, values, plain = _read(texts)
    long = plain & (np.bincount(letters.path, _lines_of(letters), len(texts)) > most)
    plain &= ~long
    if not plain.any():
        return _nothing(long)
    return _drawn(_followed(_only(letters, plain[letters.path]), values), maps, plain, long)


def _only(letters: _Letters, kept: Bools) -> _Letters:
    code, path, at, count = letters
    return _Letters(code[kept], path[kept], at[kept], count[kept])


def _read(texts: Sequence[str]) -> tuple[_Letters, Floats, Bools]:
    """Commands and numbers, and which texts are sound as far as these go."""
    whole = "\n".join(texts)
    data = whole.encode("ascii", "replace")
    kind = np.frombuffer(data.translate(_KINDS), np.uint8)
    lengths = np.fromiter(map(len, texts), np.intp, len(texts)) + 1
    offsets = np.cumsum(lengths) - lengths
    at = np.flatnonzero(kind == _LETTER)
    numbers = decimals(data)
    first = np.searchsorted(at, offsets)
    path = np.repeat(np.arange(len(texts)), np.diff(np.append(first, len(at))))
    # From which number on each letter has its own, and each text.
    before = np.append(np.searchsorted(numbers.begins, at), len(numbers.begins))
    own = np.append(np.searchsorted(numbers.begins, offsets), len(numbers.begins))
    many = np.minimum(before[1:], own[1:][path]) - before[:-1]
    letters = _Letters(np.frombuffer(data, np.uint8)[at], path, before[:-1], many)
    plain = _sound(letters, first) & (own[:-1] == before[first])
    plain[_path_of(offsets, np.flatnonzero(kind == _OTHER))] = False
    plain[_path_of(offsets, numbers.begins[np.isnan(numbers.values)])] = False
    plain[_path_of(offsets, _astray(kind, at))] = False
    return letters, numbers.values, plain


def _nothing(long: Bools) -> Sweep:
    paths = len(long)
    none, no = np.zeros(0, np.intp), np.zeros(0, np.bool_)
    return Sweep(
        np.zeros(paths, np.bool_), long, np.zeros(paths + 1, np.intp), np.zeros((0, 2)), none, none,
        np.zeros(0, np.uint8), none, none, no, no, none, none, no, np.zeros((0, 4)),
    )  # fmt: skip


def _astray(kind: NDArray[np.uint8], letters: Counts) -> Counts:
    """Where a comma does not stand between two numbers, or so many blanks follow that nobody
    looks further."""
    commas = np.flatnonzero(kind == _COMMA)
    if not len(commas):
        return commas
    kind = np.append(kind, np.uint8(_LETTER))
    behind = kind[_next(kind, letters)]
    stray = letters[(behind == _COMMA) | (behind == _BLANK)]
    return np.append(stray, commas[kind[_next(kind, commas)] != _NUMBER])


def _next(kind: NDArray[np.uint8], places: Counts) -> Counts:
    """The place after each of these, beyond a few blanks."""
    at = places + 1
    for _ in range(_BLANKS):
        blank = np.flatnonzero(kind[at] == _BLANK)
        if not len(blank):
            break
        at[blank] += 1
    return at


def _path_of(offsets: Counts, places: Counts) -> Counts:
    return np.searchsorted(offsets, places, side="right") - 1


def _sound(letters: _Letters, first: Counts) -> Bools:
    """Which paths begin with a move, have whole sets of numbers, and draw in each subpath."""
    paths = len(first)
    plain = np.append(first[1:], len(letters.at)) > first
    arity = _ARITY[letters.code]
    closes = arity == 0
    wrong = np.where(closes, letters.many > 0, letters.many < 1)
    wrong |= letters.many % np.maximum(arity, 1) != 0
    moves = (letters.code | 32) == ord("m")
    starts = np.zeros(len(moves), np.bool_)
    starts[first[plain]] = True
    wrong |= starts & ~moves
    # After a closing there is a move, before it something that is drawn.
    wrong[1:] |= closes[:-1] & ~moves[1:] & ~starts[1:]
    wrong[1:] |= closes[1:] & moves[:-1] & (letters.many[:-1] == 2)
    plain &= np.bincount(letters.path[wrong], minlength=paths)[:paths] == 0
    return plain


def _steps_of(letters: _Letters) -> Counts:
    """How many steps each letter makes with all its numbers."""
    arity = _ARITY[letters.code]
    return np.where(arity == 0, 1, letters.many // np.maximum(arity, 1))


def _lines_of(letters: _Letters) -> Counts:
    """How many lines and curves these are: movetos and closings are none."""
    moves = (letters.code | 32) == ord("m")
    return np.where(letters.many == 0, 0, _steps_of(letters) - moves)


def _followed(letters: _Letters, values: Floats) -> _Steps:
    """The steps of the letters, and where each ends."""
    many = _steps_of(letters)
    of = np.repeat(np.arange(len(many)), many)
    rank = np.arange(len(of)) - np.repeat(np.cumsum(many) - many, many)
    code = letters.code[of]
    arity = _ARITY[code]
    at = letters.at[of] + rank * arity
    moves = (rank == 0) & ((code | 32) == ord("m"))
    path = letters.path[of]
    begins = np.ones(len(of), np.bool_)
    begins[1:] = path[1:] != path[:-1]
    relative = (code >= ord("a")) & ~begins
    draws = _DRAWS[code]
    run = np.cumsum(moves) - 1
    across, down = (code | 32) == ord("h"), (code | 32) == ord("v")
    # The last numbers of a step say where it ends; a closing has none, and goes to its start.
    padded = np.append(values, (0.0, 0.0))
    tail = at + arity
    x = np.where(down, 0.0, padded[np.where(across, at, tail - 2)])
    y = np.where(across, 0.0, padded[tail - 1])
    closes = draws == _CLOSE
    start = np.flatnonzero(moves)[run]
    by_hand = _ranges(path, np.unique(path[moves & relative]))
    for ends, leans in ((x, relative | down), (y, relative | across)):
        _go(ends, leans & ~closes, closes, start, by_hand)
    return _Steps(values, at, draws, relative, moves, path, x, y)


def _ranges(path: Counts, some: Counts) -> list[tuple[int, int]]:
    """From which to which step each of these paths reaches."""
    first, last = np.searchsorted(path, some), np.searchsorted(path, some, side="right")
    return list(zip(first.tolist(), last.tolist(), strict=True))


def _go(
    ends: Floats, leans: Bools, closes: Bools, start: Counts, by_hand: list[tuple[int, int]]
) -> None:
    """Makes of one coordinate as it is written, relative to the step before or not, the place
    at which each step ends. Added in the order of the file, so that it rounds as there.

    `by_hand` are the paths of which a subpath begins relative to another.
    """
    written = [ends[a:b].tolist() for a, b in by_hand]
    ends[closes] = ends[start[closes]]
    at = np.flatnonzero(leans)
    new = np.flatnonzero(np.diff(at, prepend=-2) != 1)
    first, many = at[new], np.diff(np.append(new, len(at)))
    for a, count in zip(first[many > _SHORT].tolist(), many[many > _SHORT].tolist(), strict=True):
        np.add.accumulate(ends[a - 1 : a + count], out=ends[a - 1 : a + count])
    first, many = first[many <= _SHORT], many[many <= _SHORT]
    for rank in range(int(many.max(initial=0))):
        here = first[many > rank] + rank
        ends[here] += ends[here - 1]
    for (a, b), values in zip(by_hand, written, strict=True):
        froms = (start[a:b] - a).tolist()
        for k, (closed, leaning) in enumerate(
            zip(closes[a:b].tolist(), leans[a:b].tolist(), strict=True)
        ):
            if closed:
                values[k] = values[froms[k]]
            elif leaning:
                values[k] += values[k - 1]
        ends[a:b] = values


def _drawn(steps: _Steps, maps: Sequence[Affine], plain: Bools, long: Bools) -> Sweep:
    """The points of all steps in mm, each subpath joined up and told to be sound."""
    sizes = np.where((steps.draws == _CURVE) | (steps.draws == _SMOOTH), 3, 1)
    last = np.cumsum(sizes) - 1
    starts = np.flatnonzero(steps.moves)
    ends = np.append(starts[1:], len(sizes)) - 1
    closes = steps.draws == _CLOSE
    body = ends - closes[ends]
    with np.errstate(all="ignore"):
        points = _mapped(_points(steps, last), np.repeat(steps.path, sizes), maps)
        at = points[last]
        moved = np.hypot(*(at[1:] - at[:-1]).T) > SNAP
        gaps = np.hypot(*(at[body] - at[starts]).T)
    plain[steps.path[1:][~(moved | steps.moves[1:] | closes[1:])]] = False
    # The last step ends on the start to the last bit; or else the closing draws one more line.
    meets = (gaps <= SNAP) & (body > starts)
    points[last[body[meets]]] = at[starts[meets]]
    rows = last[starts]
    written = last[body] + 1 - rows
    body += closes[ends] & ~meets
    near = (np.abs(points) < FARTHEST).all(axis=1)
    points.setflags(write=False)
    return Sweep(
        plain,
        long,
        np.searchsorted(steps.path[starts], np.arange(len(plain) + 1)),
        points,
        rows,
        last[body] + 1,
        sizes.astype(np.uint8),
        starts + 1,
        body + 1,
        np.maximum.reduceat(sizes, starts) > 1,
        closes[ends] | meets,
        written,
        ends - starts + 1,
        np.logical_and.reduceat(near, rows),
        np.hstack((np.minimum.reduceat(points, rows), np.maximum.reduceat(points, rows))),
    )


def _points(steps: _Steps, last: Counts) -> Floats:
    """x and y of where each step ends, and before it of its handles; in the paths' own units."""
    out = np.empty((int(last[-1]) + 1, 2))
    for column, ends in enumerate((steps.x, steps.y)):
        out[last, column] = ends
        curved = np.flatnonzero((steps.draws == _CURVE) | (steps.draws == _SMOOTH))
        smooth = steps.draws[curved] == _SMOOTH
        at = steps.at[curved] + column
        from_ = ends[curved - 1]
        origin = np.where(steps.relative[curved], from_, 0.0)
        second = steps.values[np.where(smooth, at, at + 2)] + origin
        out[last[curved] - 1, column] = second
        # A shorthand mirrors the last handle of the curve before, if there is one.
        turned = np.append(False, np.diff(curved) == 1)
        mirrored = np.where(turned, 2 * from_ - np.roll(second, 1), from_)
        out[last[curved] - 2, column] = np.where(smooth, mirrored, steps.values[at] + origin)
    return out


def _mapped(points: Floats, path: Counts, maps: Sequence[Affine]) -> Floats:
    x, y = points.T
    first = maps[0]
    if all(by is first for by in maps):
        a, b, c, d, e, f = first.a, first.b, first.c, first.d, first.e, first.f
    else:
        each = np.array([(by.a, by.b, by.c, by.d, by.e, by.f) for by in maps])
        a, b, c, d, e, f = each.T[:, path]
    return np.stack((a * x + c * y + e, b * x + d * y + f), axis=1)
