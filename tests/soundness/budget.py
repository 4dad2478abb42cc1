"""How many examples the properties try: few in the suite, always the same; many others when asked.

``SOUNDNESS=long pytest tests/soundness`` tries two hundred times as many, other ones each time. ``SOUNDNESS=quick``
tries those of the suite and does not make a failure smaller, which takes minutes.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, Phase, settings

IS_LONG = os.environ.get("SOUNDNESS") == "long"
_TIMES = 200 if IS_LONG else 1
IS_QUICK = os.environ.get("SOUNDNESS") == "quick"
_PHASES = [Phase.explicit, Phase.generate, *([] if IS_QUICK else [Phase.shrink])]
_UNHURRIED = [
    HealthCheck.too_slow,
    HealthCheck.data_too_large,
    HealthCheck.filter_too_much,
    HealthCheck.large_base_example,
]


def examples(how_many: int) -> Callable[[Any], Any]:
    """So many examples in the suite."""
    return settings(
        max_examples=how_many * _TIMES,
        derandomize=not IS_LONG,
        database=None,
        deadline=None,
        suppress_health_check=_UNHURRIED,
        phases=_PHASES,
    )


def seeds(how_many: int) -> range:
    """Numbers from which as many drawings are made in the suite."""
    return range(how_many * _TIMES)
