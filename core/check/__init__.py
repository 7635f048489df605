"""What a careful maker checks after an alteration."""

from core.check.careful import check_all, with_partners
from core.check.girth import Wearer

__all__ = ["Wearer", "check_all", "with_partners"]
