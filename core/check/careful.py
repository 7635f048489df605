"""All that a careful maker checks after an alteration, in one list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from core.alter.model import Altered, Finding, Severity
from core.check.binding import cost, cost_finding
from core.check.flow import flow_finding
from core.check.girth import HemGirth, Wearer, girth_findings, hem_girths
from core.check.leading import led_findings
from core.check.promises import broken_between, broken_promises
from core.check.seams import Joined, joined, mates_of
from core.check.walk import walk, walk_findings
from core.piece.mates import Mates

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
    (`Altered.findings`) is not repeated.
    """
    if not altered:
        return ()
    pairs, unclear = joined(altered, mates_of(altered) if mates is None else mates)
    girths = hem_girths(altered, pairs)
    number = {a.piece.key: k for k, a in enumerate(altered)}
    told = [
        *(_Told(k, f) for k, a in enumerate(altered) for f in broken_promises(a)),
        *(_Told(0, f) for f in unclear),
        *(_Told(k, f) for k, a in enumerate(altered) for f in led_findings(a)),
        *_of_pairs(pairs, number),
        *_of_girths(girths, number, wearer),
    ]
    if girths:
        told.append(_Told(len(altered), cost_finding(cost(altered, girths))))
    return tuple(t.finding for t in sorted(told, key=_rank))


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
