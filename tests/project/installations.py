"""What the fixtures of this folder hand to its tests."""

from dataclasses import dataclass
from pathlib import Path

from tests.project.empty_environment import EmptyEnvironment


@dataclass(frozen=True, slots=True)
class Built:
    """The source archive, and the wheel made from that archive."""

    sdist: Path
    wheel: Path


@dataclass(frozen=True, slots=True)
class Installed:
    """The project installed in an empty environment, and where its package and the example site then lie."""

    environment: EmptyEnvironment
    package: Path
    example: Path
