"""Which piece led, and which went by it."""

from __future__ import annotations

from collections.abc import Iterator

from core.alter.model import Altered, Finding, Severity, Whose
from core.measure import in_cm


def led_findings(altered: Altered) -> Iterator[Finding]:
    """For each piece that led this one: by which seams, and what these took from it."""
    if altered.change.by_mm == 0.0:
        return
    name, own = altered.piece.name, Whose.of(altered.piece)
    for leader in dict.fromkeys(led.leader for led in altered.led):
        roles = dict.fromkeys(led.role.value for led in altered.led if led.leader == leader)
        seams = " and ".join(roles)
        if altered.level is None:
            told = f"the {seams} of {name} got the added length of its mate"
            told += "s." if len(roles) > 1 else "."
        else:
            told = f"the line on {name} meets its own in the {seams} once they are sewn,"
            told += f" {in_cm(altered.level.at_mm)} below the highest point of {name}."
        yield Finding(Severity.NOTE, f"{leader.name} leads: {told}", None, own)
