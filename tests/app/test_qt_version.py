"""A guard against a version of Qt for Python that loses references to None."""

from __future__ import annotations

import sys

from PySide6.QtCore import QPointF


def test_calls_without_an_answer_do_not_use_up_none() -> None:
    """PySide6 6.12.0 does so on Python 3.10 and 3.11, and aborts after some thousands."""
    point = QPointF()
    before = sys.getrefcount(None)
    for _ in range(1000):
        point.setX(1.0)
    lost = abs(sys.getrefcount(None) - before)
    assert lost < 200, f"wanted None as it was, got {lost} references fewer or more"
