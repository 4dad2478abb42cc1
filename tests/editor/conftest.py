"""What the tests of editors share: one server, and texts with a cursor in them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.editor.language_server import LanguageServer, NotInstalled
from tests.project.project_tree import ROOT

CURSOR = "‸"
NOWHERE = ROOT / "fixtures" / "nowhere"
"""A folder of the project that is not there: what is opened is only shown to the server."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A file that is open in the editor, with the cursor at a place."""

    server: LanguageServer
    address: str
    line: int
    column: int

    def completion(self) -> list[str]:
        return self.server.completion(self.address, self.line, self.column)

    def hover(self) -> str:
        return self.server.hover(self.address, self.line, self.column)

    def problems(self) -> list[dict[str, Any]]:
        return self.server.problems(self.address)


Open = Callable[..., Opened]


@pytest.fixture(scope="session")
def server() -> Iterator[LanguageServer]:
    try:
        running = LanguageServer()
    except NotInstalled as error:
        pytest.fail(str(error), pytrace=False)
    yield running
    running.close()


@pytest.fixture
def editor(server: LanguageServer, request: pytest.FixtureRequest) -> Open:
    """Opens a text of one schema as a file of a place that lies in the project, cursor where ‸ stands."""

    def opened(
        schema: str, text: str, folder: Path = ROOT / "fixtures" / "nowhere", first: str | None = None
    ) -> Opened:
        line = f"# yaml-language-server: $schema=../../schemas/{schema}.schema.json\n" if first is None else first
        before, _, after = (line + text).partition(CURSOR)
        name = "".join(each if each.isalnum() else "-" for each in request.node.name)
        address = server.open(folder / f"{name}.yaml", before + after)
        return Opened(server, address, before.count("\n"), len(before.rpartition("\n")[2]))

    return opened
