"""Which piece led, and which went by it."""

from __future__ import annotations

from collections.abc import Iterator

from core.alter.model import Altered, Finding, Severity, Whose
from core.measure import Length, Sentence


def led_findings(altered: Altered) -> Iterator[Finding]:
    """For each piece that led this one: by which seams, and what these took from it."""
    if altered.change.by_mm == 0.0:
        return
    name, own = altered.piece.name, Whose.of(altered.piece)
    for leader in dict.fromkeys(led.leader for led in altered.led):
        roles = dict.fromkeys(led.role.value for led in altered.led if led.leader == leader)
        form = "{leader} leads: the {seams} of {name} got the added length of {mates}."
        below = Length(0.0)
        if altered.level is not None:
            below = Length(altered.level.at_mm)
            form = "{leader} leads: the line on {name} meets its own in the {seams} once they are"
            form += " sewn, {below} below the highest point of {name}."
        told = Sentence(
            form,
            leader=leader.name,
            name=name,
            seams=" and ".join(roles),
            mates="its mates" if len(roles) > 1 else "its mate",
            below=below,
        )
        yield Finding(Severity.NOTE, told, None, own)
