"""How the window looks, kept from one time to the next: ground, unit, size, recent files."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QByteArray, QSettings
from PySide6.QtWidgets import QApplication, QMainWindow

from app.window import theme

LOOK_KEY, SHAPE_KEY, RECENT_KEY = "look", "shape", "recent"
DARK_WORD, LIGHT_WORD = "dark", "light"
MOST_RECENT = 8


class Viewing:
    """What of the looks is remembered; a setting that cannot be read is as none."""

    def __init__(self, settings: QSettings) -> None:
        self._settings = settings

    @property
    def dark(self) -> bool:
        return self._settings.value(LOOK_KEY, LIGHT_WORD) == DARK_WORD

    def wear(self, *, dark: bool) -> None:
        """Puts the whole application on a dark or a light ground."""
        self._settings.setValue(LOOK_KEY, DARK_WORD if dark else LIGHT_WORD)
        self.put_on()

    def put_on(self) -> None:
        app = QApplication.instance()
        wanted = theme.DARK if self.dark else theme.LIGHT
        if isinstance(app, QApplication) and theme.look() is not wanted:
            theme.put_on(app, wanted)

    def keep_shape(self, window: QMainWindow) -> None:
        self._settings.setValue(SHAPE_KEY, window.saveGeometry())

    def give_shape(self, window: QMainWindow) -> None:
        """The size and place that the window had when it was last closed."""
        kept = self._settings.value(SHAPE_KEY)
        if isinstance(kept, QByteArray):
            window.restoreGeometry(kept)

    @property
    def recent(self) -> list[Path]:
        """Files that were opened, the last one first, as far as they are still there."""
        kept = self._settings.value(RECENT_KEY)
        names = [kept] if isinstance(kept, str) else kept if isinstance(kept, list) else []
        return [path for name in names if (path := Path(str(name))).is_file()]

    def opened(self, path: Path) -> None:
        """Puts a file at the head of the recent ones."""
        rest = [p for p in self.recent if p != path.resolve()]
        names = [str(p) for p in (path.resolve(), *rest)][:MOST_RECENT]
        self._settings.setValue(RECENT_KEY, names)
