"""Sources of a sheet: each once, numbered as they are first used, with a link from where they are used."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..catalog.sources import FROM_MEMORY
from .markup import element, joined

if TYPE_CHECKING:
    from .markup import Markup

_VERIFY = "verify before use"


class Sources:
    """Collects sources while a sheet is made."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def mark(self, *texts: str) -> Markup:
        """Numbers of sources, as links to them; "verify before use" beside what is from memory."""
        marks: list[Markup] = []
        for text in dict.fromkeys(text for text in texts if text):
            number = self._numbers.setdefault(text, len(self._numbers) + 1)
            marks.append(joined(" " if marks else "", element("a", f"[{number}]", href=f"#source-{number}"), f" {_VERIFY}" if _VERIFY in text else ""))
        return joined(*marks)

    def listed(self) -> Markup:
        """All of them, numbered."""
        if not self._numbers:
            return element("p", "No table was asked.")
        return element("ul", *(element("li", f"[{number}] {text}", id=f"source-{number}") for text, number in self._numbers.items()), class_="notes")

    @property
    def from_memory(self) -> bool:
        """Whether anything is from memory."""
        return any(FROM_MEMORY in text or _VERIFY in text for text in self._numbers)
