"""What is sewn to what, and what is changed together, in sentences. Knows nothing of Qt."""

from __future__ import annotations

from collections import Counter
from typing import NamedTuple

from app.window.document import EdgeId, PieceId, State


class Pair(NamedTuple):
    """Two edges that are sewn together: in words, how sure that is, and why; the words without
    the size, and the size.
    """

    first: EdgeId
    second: EdgeId
    words: str
    sure: bool
    why: str
    in_any_size: str = ""
    size: str = ""


def pairs_in_sizes(state: State) -> tuple[Pair, ...]:
    """As `pairs_of`, with one line for what is the same in several sizes: ``Front and Back:
    inseam, in 5 sizes``. The edges are those of the first of them.
    """
    rows: dict[tuple[str, int], list[Pair]] = {}
    seen: Counter[tuple[str, str]] = Counter()
    for pair in pairs_of(state):
        # A piece may have two such edges in each size.
        number = seen[pair.in_any_size, pair.size]
        seen[pair.in_any_size, pair.size] += 1
        rows.setdefault((pair.in_any_size, number), []).append(pair)
    return tuple(
        row[0]._replace(words=f"{words}, in {len(row)} sizes") if len(row) > 1 else row[0]
        for (words, _), row in rows.items()
    )


def pairs_of(state: State) -> tuple[Pair, ...]:
    """A line for each two edges: ``Front and Back: inseam``."""
    pieces = state.sheets.pieces
    ids = {p.key: which for which, p in pieces.items()}
    by_key = {p.key: p for p in pieces.values()}
    out = []
    for mates in state.sheets.mates:
        ends = mates.edges(by_key)
        if ends is None:
            continue
        a, b = (by_key[end.piece] for end in ends)
        both = zip((a, b), ends, strict=True)
        roles = dict.fromkeys(p.edges[end.number].role.value for p, end in both)
        doubt = "" if mates.because.sure else " ?"
        first, second = (EdgeId(ids[end.piece], end.number) for end in ends)
        named, titled = (
            f"{' and '.join(dict.fromkeys(names))}: {' to '.join(roles)}{doubt}"
            for names in ((a.name, b.name), (a.title, b.title))
        )
        because, size = mates.because, a.size or b.size
        out.append(Pair(first, second, named, because.sure, because.why, titled, size))
    return tuple(out)


def together_words(state: State) -> str:
    """Which pieces are changed together, and which are left as they are."""
    if state.sheets.all == ():
        return ""
    groups = [group for group in _groups(state) if len(group) > 1]
    told = [f"{_and(names)} change together." for names in _named(state, groups)]
    alone = [state.piece(which).name for which in sorted(state.off)]
    if alone:
        told.append(f"{_and(alone)} {'stays as it is' if len(alone) == 1 else 'stay as they are'}.")
    return " ".join(told)


def _named(state: State, groups: list[list[PieceId]]) -> list[list[str]]:
    """What the pieces of each group are called; once for all sizes that go alike."""
    titles = [[state.piece(which).title for which in group] for group in groups]
    if any(state.piece(which).size for group in groups for which in group):
        return [[*names[:-1], f"{names[-1]} of each size"] for names in _once(titles)]
    return [[state.piece(which).name for which in group] for group in groups]


def _once(rows: list[list[str]]) -> list[list[str]]:
    return list({frozenset(row): row for row in reversed(rows)}.values())[::-1]


def _groups(state: State) -> list[list[PieceId]]:
    """The pieces that take part, those that hang together by their seams in one row."""
    ids = {state.piece(which).key: which for which in state.altering}
    group = {which: [which] for which in state.altering}
    for mates in state.sheets.mates:
        a, b = ids.get(mates.first[0]), ids.get(mates.second[0])
        if a is not None and b is not None and group[a] is not group[b]:
            joined = group[a] + group[b]
            for which in joined:
                group[which] = joined
    return list({id(row): row for row in group.values()}.values())


def _and(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def partners_of(state: State) -> tuple[str, ...]:
    """A line for each two pieces: ``Front and Back: inseam, side seam``; one for all sizes in
    which it is the same."""
    by_key = {p.key: p for p in state.sheets.pieces.values()}
    seams: dict[tuple[int, int], list[str]] = {}
    for pair in state.sheets.mates:
        (a, role), (b, _) = pair.first, pair.second
        doubt = "" if pair.because.sure else " (?)"
        seams.setdefault((min(a, b), max(a, b)), []).append(f"{role.value}{doubt}")
    lines: dict[tuple[str, str], list[str]] = {}
    for (a, b), roles in seams.items():
        one, two, found = by_key[a], by_key[b], ", ".join(roles)
        named, titled = (
            f"{n}, to itself: {found}" if a == b else f"{n} and {m}: {found}"
            for n, m in ((one.name, two.name), (one.title, two.title))
        )
        # Pieces that are called alike in one size are not the same in two.
        lines.setdefault((titled, "" if one.size or two.size else named), []).append(named)
    return tuple(
        f"{titled}, in {len(row)} sizes" if len(row) > 1 else row[0]
        for (titled, _), row in lines.items()
    )
