"""What a careful maker checks once a change is made; too slow for each frame of a drag.

Knows nothing of Qt.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from app.window.document import PieceId, State
from app.window.findings import SIGNS, Sign, Told
from app.window.outcome import outcome
from core.alter.lengthen import lengthen
from core.alter.model import Altered, Change, Finding, Severity
from core.check.binding import cost, cost_finding
from core.check.careful import check_all
from core.check.flow import flow_finding
from core.check.girth import girth_findings, hem_girths
from core.check.seams import Joined, joined, mates_of
from core.check.walk import walk, walk_findings
from core.piece.mates import Mates


# A state is its own key by identity, as for its outcome.
@lru_cache(maxsize=16)
def checked(state: State) -> tuple[Told, ...]:
    """All of it, of the pieces that changed and of those that they are sewn to."""
    result = outcome(state)
    if state.by_mm == 0.0 or not result.altered:
        return ()
    altered = _with_partners(state, list(result.altered.values()))
    mates = _mates(state, altered)
    pairs, _ = joined(altered, mates)
    ids = {piece.key: which for which, piece in state.sheets.pieces.items()}
    found = check_all(altered, mates=mates) if state.level is None else _at_level(altered, mates)
    return tuple(_told(f, altered, pairs, ids) for f in found)


def _with_partners(state: State, altered: list[Altered]) -> list[Altered]:
    """With the pieces that stay as they are and are sewn to one that does not."""
    keys = {a.before.key for a in altered}
    pairs = [{m.first[0], m.second[0]} for m in state.sheets.mates]
    partners = set().union(*(pair for pair in pairs if pair & keys)) - keys
    still = [p for p in state.sheets.pieces.values() if p.key in partners]
    return sorted((*altered, *(lengthen(p, Change(0.0)) for p in still)), key=_key)


def _key(altered: Altered) -> int:
    return altered.before.key


def _mates(state: State, altered: list[Altered]) -> tuple[Mates, ...]:
    """Those of the table, and a sleeve's two seams that are sewn to each other."""
    own = (m for m in mates_of(altered) if m.first == m.second)
    return (*state.sheets.mates, *own)


def _at_level(altered: list[Altered], mates: tuple[Mates, ...]) -> Iterator[Finding]:
    """As `check_all`, without the promises that only a change at the hem makes: that all above
    the taper points stays, and mates keep their lengths to a hair.
    """
    pairs, unclear = joined(altered, mates)
    girths = hem_girths(altered, pairs)
    yield from unclear
    for pair in pairs:
        yield from walk_findings(walk(pair))
        flows = flow_finding(pair)
        if flows is not None:
            yield flows
    for girth in girths:
        yield from girth_findings(girth)
    if girths:
        yield cost_finding(cost(altered, girths))


def _told(
    finding: Finding, altered: list[Altered], pairs: tuple[Joined, ...], ids: dict[int, PieceId]
) -> Told:
    """With its sign (a note about a joined seam says that it is well) and its piece."""
    sign = SIGNS[finding.severity]
    called = (f"{p.called}:" for p in pairs)
    if finding.severity is Severity.NOTE and finding.sentence.startswith(tuple(called)):
        sign = Sign.WELL
    key = _piece_at(finding, altered)
    which = None if key is None else ids[key]
    return Told(sign, finding.sentence, which, finding.place if which else None)


def _piece_at(finding: Finding, altered: list[Altered]) -> int | None:
    """The piece of which a finding speaks: of those named, the one on which its place lies."""
    place = finding.place
    if place is None:
        return None
    named = [a for a in altered if a.piece.name in finding.sentence] or altered
    nearest = min(named, key=lambda a: a.piece.ring.nearest(place).distance)
    return nearest.piece.key
