"""Each construction step says what is done, and holds the lines that it speaks of."""

from __future__ import annotations

from pathlib import Path

import pytest

from core.alter.level.model import LevelChange
from core.alter.level.together import insert_together
from core.alter.model import Altered, Change, HemWay, SeamWay, Step, StepKind
from core.alter.together import alter_together
from core.files import read
from core.measure import Unit, told_in

SAMPLES = Path(__file__).parents[3] / "sample_pieces"
ON_LINE = 1e-6


def changed(name: str, change: Change) -> tuple[Altered, ...]:
    return alter_together([p for p in read(SAMPLES / name).pieces if p.hem], change)


def step(altered: Altered, kind: StepKind) -> Step:
    found = [s for s in altered.steps if s.kind is kind]
    assert len(found) == 1, f"wanted one step “{kind.value}”, got {len(found)}"
    return found[0]


@pytest.mark.parametrize("hem", list(HemWay))
@pytest.mark.parametrize("by", [50.0, -30.0])
@pytest.mark.parametrize(
    "name",
    ["allotment_shorts.svg", "barrow_trousers.dxf", "planting_skirt.svg", "pruning_sleeve.svg"],
)
def test_every_step_has_geometry_and_one_sentence(name: str, by: float, hem: HemWay) -> None:
    for altered in changed(name, Change(by, hem=hem)):
        assert altered.steps[0].kind is StepKind.TAPER_POINTS
        assert altered.steps[-1].kind is StepKind.CHECK
        for one in altered.steps:
            assert one.lines or one.points, f"“{one.sentence}” shows nothing"
            assert one.sentence[0].isupper(), one.sentence
            assert one.sentence.endswith("."), one.sentence


@pytest.mark.parametrize("at", [350.0, 400.0])
def test_every_step_at_a_level_has_geometry_and_one_sentence(at: float) -> None:
    pieces = [p for p in read(SAMPLES / "allotment_shorts.svg").pieces if p.hem]
    for altered in insert_together(pieces, LevelChange(at, 30.0)):
        assert [s for s in altered.steps if s.kind is StepKind.SPREAD]
        for one in altered.steps:
            assert one.lines or one.points, f"“{one.sentence}” shows nothing"
            assert one.sentence.endswith("."), one.sentence


@pytest.mark.parametrize("way", list(SeamWay))
def test_the_carried_seams_lie_on_the_altered_outline(way: SeamWay) -> None:
    for altered in changed("allotment_shorts.svg", Change(60.0, seams=way)):
        for chain in step(altered, StepKind.CARRY_SEAMS).lines:
            for s in chain:
                off = altered.piece.ring.nearest(s.at(0.5)).distance
                assert off <= ON_LINE, f"wanted on the outline, got {off} off, tolerance {ON_LINE}"


def test_what_is_cut_off_of_the_seams_lies_on_the_old_outline() -> None:
    for altered in changed("allotment_shorts.svg", Change(-30.0)):
        chains = step(altered, StepKind.CUT_SEAMS).lines
        figures = altered.figures
        for chain, added in zip(
            chains, (figures.added_first_mm, figures.added_last_mm), strict=True
        ):
            assert chain.length() == pytest.approx(-added, abs=1e-3)
            for s in chain:
                off = altered.before.ring.nearest(s.at(0.5)).distance
                assert off <= ON_LINE, f"wanted on the outline, got {off} off, tolerance {ON_LINE}"


def test_what_is_trimmed_lies_outside_and_ends_on_the_new_outline() -> None:
    for altered in changed("allotment_shorts.svg", Change(60.0, hem=HemWay.TRIM)):
        for chain in step(altered, StepKind.TRIM).lines:
            assert altered.piece.ring.nearest(chain.end).distance <= 0.3
            assert altered.piece.ring.nearest(chain.start).distance > 0.3


def test_a_cutting_line_is_a_step_of_its_own() -> None:
    for altered in changed("barrow_trousers.dxf", Change(50.0)):
        (chain,) = step(altered, StepKind.CUTTING_LINE).lines
        assert altered.piece.outline.ring.nearest(chain.end).distance <= ON_LINE


def test_steps_are_told_in_inches_with_their_fractions() -> None:
    altered = changed("allotment_shorts.svg", Change(2.5 * 25.4))[0]
    told = told_in(step(altered, StepKind.BRING_HEM).sentence, Unit.INCH)
    assert "2 1/2 in" in told, told
