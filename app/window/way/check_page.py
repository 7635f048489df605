"""The check: what a careful maker looks at once the change is made."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from app.window.findings_list import FindingsList
from app.window.session import Session
from app.window.way.page_of import StagePage


class CheckPage(StagePage):
    """All findings at their full length."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(
            "Does everything still go together?",
            "Seams that are sewn together were walked along each other, hems laid end to end."
            " Click a finding to see its place.",
            parent=parent,
        )
        self.findings = FindingsList(session)
        self.add(self.findings, stretch=1)
