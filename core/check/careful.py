"""All that a careful maker checks after an alteration, in one list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, Finding, Severity
from core.check.binding import cost, cost_finding
from core.check.flow import flow_finding
from core.check.girth import HemGirth, Wearer, girth_findings, hem_girths
from core.check.hang import hang_findings
from core.check.leading import led_findings
from core.check.promises import broken_between, broken_promises
from core.check.seams import Joined, joined, mates_of
from core.check.sewn import not_where_sewn, where_sewn
from core.check.walk import walk, walk_findings
from core.measure import Sentence
from core.piece.mates import Mates, find_mates
from core.piece.model import Piece
from core.piece.sizes import by_size

ORDER = (Severity.STOP, Severity.LOOK, Severity.WELL, Severity.NOTE)


class _Told(NamedTuple):
    """A finding and the number of the piece to which it belongs."""

    piece: int
    finding: Finding


def check_all(
    altered: Sequence[Altered],
    *,
    mates: Sequence[Mates] | None = None,
    wearer: Wearer | None = None,
) -> tuple[Finding, ...]:
    """Everything checked of changes at the hem or at a level.

    What must stop the maker comes first, then what to look at, what is well, and figures;
    within each of these in the order of the pieces, what belongs to two with the first of
    them. `mates` are recognised when not given. What the alteration itself found
    (`Altered.findings`) is not repeated. Seams and hems are measured where they are sewn.
    """
    if not altered:
        return ()
    sewn = [where_sewn(a) for a in altered]
    pairs, unclear = joined(sewn, mates_of(altered) if mates is None else mates)
    girths = hem_girths(sewn, pairs)
    number = {a.piece.key: k for k, a in enumerate(altered)}
    told = [
        *(_Told(k, f) for k, a in enumerate(altered) for f in broken_promises(a)),
        *(_Told(0, f) for f in unclear),
        *(_Told(k, f) for k, a in enumerate(altered) for f in not_where_sewn(a)),
        *(_Told(k, f) for k, a in enumerate(sewn) for f in hang_findings(a)),
        *(_Told(k, f) for k, a in enumerate(altered) for f in led_findings(a)),
        *_of_pairs(pairs, number),
        *_of_girths(girths, number, wearer),
    ]
    told += [_Told(len(altered), f) for f in _of_costs(altered, girths)]
    return tuple(t.finding for t in sorted(told, key=_rank))


def with_partners(
    altered: Sequence[Altered], pieces: Sequence[Piece], *, mates: Sequence[Mates] | None = None
) -> tuple[Altered, ...]:
    """With those of the `pieces` that stay as they are and are sewn to one that does not, by
    their keys: what they matched is checked too. `mates` are recognised when not given."""
    keys = {a.before.key for a in altered}
    pairs = find_mates(pieces) if mates is None else mates
    sewn = [{m.first[0], m.second[0]} for m in pairs]
    partners = set().union(*(pair for pair in sewn if pair & keys)) - keys
    told = altered[0].change if altered else Change(0.0)
    nothing = replace(told, by_mm=0.0)
    still = (lengthen(p, nothing) for p in pieces if p.key in partners)
    return tuple(sorted((*altered, *still), key=lambda a: a.before.key))


def _of_costs(altered: Sequence[Altered], girths: Sequence[HemGirth]) -> Iterator[Finding]:
    """The cost of each garment; a pattern in several sizes holds several."""
    garments = by_size([a.before for a in altered])
    for size, pieces in garments.items():
        keys = {p.key for p in pieces}
        mine = [g for g in girths if keys.issuperset(g.keys)]
        if mine:
            told = cost_finding(cost([a for a in altered if a.before.key in keys], mine))
            one = Sentence("Size {size}: {told}", size=size, told=told.sentence)
            yield told if len(garments) == 1 else replace(told, sentence=one)


def _rank(told: _Told) -> tuple[int, int]:
    return ORDER.index(told.finding.severity), told.piece


def _of_pairs(pairs: Sequence[Joined], number: dict[int, int]) -> Iterator[_Told]:
    for pair in pairs:
        flows = flow_finding(pair)
        found = (*broken_between((pair,)), *walk_findings(walk(pair)), *((flows,) if flows else ()))
        k = min(number[s.after.piece.key] for s in (pair.first, pair.second))
        yield from (_Told(k, f) for f in found)


def _of_girths(
    girths: Sequence[HemGirth], number: dict[int, int], wearer: Wearer | None
) -> Iterator[_Told]:
    for girth in girths:
        k = min(number[key] for key in girth.keys)
        yield from (_Told(k, f) for f in girth_findings(girth, wearer))
