"""Lines are as thick on a screen of 200 or 300 % as on any other."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from app.window.table.drawing import set_pen

SIZE = QSize(60, 40)


def thickness(ratio: float, scale: float, width: float) -> float:
    """Of an upright line drawn on such a screen at that zoom: its ink across, in pixels."""
    image = QImage(SIZE * ratio, QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(QColor("white"))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(scale, scale)
    set_pen(painter, "#000000", width)
    painter.drawLine(round(30 / scale), 0, round(30 / scale), round(40 / scale))
    painter.end()
    row = image.height() // 2
    ink = (1.0 - image.pixelColor(x, row).lightnessF() for x in range(image.width()))
    return sum(ink) / ratio


@pytest.mark.parametrize("ratio", [1.0, 2.0, 3.0])
@pytest.mark.parametrize("scale", [0.5, 1.0, 5.0])
@pytest.mark.parametrize("width", [1.0, 2.5, 4.0])
def test_a_line_keeps_its_thickness(
    qapp: QApplication, ratio: float, scale: float, width: float
) -> None:
    got = thickness(ratio, scale, width)
    assert got == pytest.approx(width, abs=0.1), f"wanted {width} px, got {got}"
