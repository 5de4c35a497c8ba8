"""Names of people: sessions hold random ids, this one deletable file says who they are."""

from __future__ import annotations

import json
import secrets
from pathlib import Path

from tui.desk.files import read_small, write_whole
from tui.quantity.refused import Refused

LONGEST = 100


class People:
    """``people.json``: id to name. Deleting it makes every session anonymous, and breaks none."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def all(self) -> dict[str, str]:
        """Every id with its name. Raises Refused for a file that is not what `add` writes."""
        text = read_small(self.path)
        if text is None:
            return {}
        try:
            names = json.loads(text)
        except (ValueError, RecursionError):
            raise self._damaged() from None
        if not isinstance(names, dict) or not all(isinstance(name, str) for name in names.values()):
            raise self._damaged()
        return names

    def name(self, person: str) -> str:
        """The name behind an id; the id itself where nobody knows it any more."""
        return self.all().get(person, person)

    def add(self, name: str) -> str:
        """Gives a person an id that says nothing about them. The same name gets its old id again."""
        name = " ".join(name.split())
        if not name or len(name) > LONGEST:
            raise Refused("bad-name", f"A name has 1 to {LONGEST} characters.", "Type the name once more.")
        names = self.all()
        known = next((person for person, other in names.items() if other == name), None)
        if known:
            return known
        person = f"p-{secrets.token_hex(4)}"
        self._write({**names, person: name})
        return person

    def forget(self, person: str) -> None:
        """Takes one name out; the sessions keep the id."""
        names = self.all()
        if names.pop(person, None) is not None:
            self._write(names)

    def _write(self, names: dict[str, str]) -> None:
        write_whole(self.path, json.dumps(names, ensure_ascii=False, indent=1, sort_keys=True) + "\n")

    def _damaged(self) -> Refused:
        return Refused(
            "damaged-people",
            f"{self.path}: cannot be read as ids and names.",
            "Mend it or delete it: sessions stay whole, only the names go.",
        )
